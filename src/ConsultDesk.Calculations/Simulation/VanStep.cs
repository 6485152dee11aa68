using ConsultDesk.Calculations.Air;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// The state of a van's air, faces, skins, fabrics and mattress, and one step of it in time by backward Euler. Heat is
/// solved with the latent heat of the step before, then water with every film as a complementarity, then heat again with
/// the step's own latent heat, so that both balances close to rounding. Flat arrays; a step allocates nothing.
/// </summary>
/// <remarks>
/// Film: g = max(beta (pv - psat(Ts)), -film/dt), with the surface's own latent heat eliminated from psat.
/// Skin: water w is held by the lining up to S at 100 %, more is film: g = beta (pv - psat(Tk) min(1, w/S)), w of the
/// step's end. Both are the larger of two rising lines of pv, so that choosing lines, solving and choosing again ends
/// after few rounds (policy iteration on an M-matrix).
/// </remarks>
internal sealed class VanStep
{
    // A saturated zone sheds its surplus as mist: so steep that its vapour stays within a fraction of a pascal.
    private const double MistKgPerSPa = 1e-3;

    // Mist warms the air it leaves; heat and water are repeated until the air moves less than this.
    private const double MistRepeatK = 1e-4;
    private const int MostRepeats = 12;
    private const double NearlySaturated = 0.95;
    private const double SaturationSlack = 1e-4;
    private const int MostRounds = 60;

    private readonly VanModel _van;
    private readonly int _zones;
    private readonly int _faces;
    private readonly int _first;
    private readonly int _skins;

    // Films: faces, then one of furnishings per zone.
    private readonly int _films;
    private readonly int[] _filmZone;
    private readonly double[] _filmM2;

    private readonly double[] _flow;
    private readonly double[] _fromOutside;
    private readonly double[] _inflow;
    private readonly double[] _toOutside;
    private readonly double[] _heatFactors;
    private readonly double[] _heatInverse;
    private readonly double[] _heatRight;
    private readonly double[] _zoneInverse;
    private readonly double[] _heaterResponse;
    private readonly double[] _gasFactors;
    private readonly double[] _waterMatrix;
    private readonly double[] _water;
    private readonly double[] _rightHeat;
    private readonly double[] _latentW;
    private readonly double[] _guessC;
    private readonly double[] _gas;
    private readonly double[] _faceDrive;
    private readonly double[] _skinDrive;
    private readonly double[] _filmBeta;
    private readonly double[] _filmB;
    private readonly double[] _filmPsat;
    private readonly double[] _filmLatent;
    private readonly double[] _filmDry;
    private readonly double[] _filmFlux;
    private readonly double[] _skinFlux;
    private readonly bool[] _wet;
    private readonly bool[] _unprepared;
    private readonly double[] _filmDryC;
    private readonly double[] _surelyC;
    private readonly double[] _surelyPa;
    private readonly double[] _skinWetB;
    private readonly double[] _skinWarming;
    private readonly double[] _skinStoreB;
    private readonly double[] _skinPsat;
    private readonly double[] _skinStorePsat;
    private readonly double[] _skinLatent;
    private readonly bool[] _skinWet;
    private readonly RunningDryer[] _dryers;
    private readonly double[] _dryerKgPerSPa;
    private readonly double[] _dryerLowestPa;
    private readonly double[] _dryerKgPerS;
    private readonly bool[] _drying;
    private readonly double[] _mistB;
    private readonly double[] _mistPsat;
    private readonly double[] _mistGiven;
    private readonly double[] _shedLagKg;
    private readonly bool[] _misty;
    private readonly double[] _vapourA;
    private readonly double[] _vapourB;
    private readonly double[] _bufferB;
    private readonly double[] _pressure;
    private readonly double[] _coverBeta;
    private readonly double[] _mattressKgPerS;
    private StepCoefficients? _factored;
    private bool _airChanged = true;
    private bool _gasAirChanged = true;
    private double _gasSeconds;
    private double _betaPressurePa = double.NaN;
    private double _heaterWaterLagKg;

    public VanStep(VanModel van)
    {
        _van = van;
        _zones = van.ZoneCount;
        _faces = van.FaceCount;
        _first = van.FirstLining;
        _skins = van.SkinCount;
        _films = _faces + _zones;
        _filmZone = [.. van.FaceZone, .. Enumerable.Range(0, _zones)];
        _filmM2 = [.. van.FaceM2, .. van.FurnishingM2];
        ZoneC = new double[_zones];
        HumidityRatio = new double[_zones];
        CarbonDioxide = new double[_zones];
        OxygenUsed = new double[_zones];
        MassC = new double[_zones];
        BufferKg = new double[_zones];
        FaceC = new double[_faces];
        FilmKgPerM2 = new double[_films];
        CondensedKgPerM2 = new double[_films];
        RanOffKgPerM2 = new double[_films];
        SkinC = new double[_skins];
        SkinKgPerM2 = new double[_skins];
        SkinRanOffKgPerM2 = new double[_skins];
        AirKg = new double[_zones];
        SensibleW = new double[_zones];
        WaterKgPerS = new double[_zones];
        CarbonDioxideMolPerS = new double[_zones];
        OxygenMolPerS = new double[_zones];
        _flow = new double[_zones * _zones];
        _fromOutside = new double[_zones];
        _inflow = new double[_zones];
        _toOutside = new double[_zones];
        _heatFactors = new double[_zones * _zones];
        _heatInverse = new double[_zones * _zones];
        _heatRight = new double[_zones];
        _zoneInverse = new double[_zones];
        _heaterResponse = new double[_zones];
        _gasFactors = new double[_zones * _zones];
        _waterMatrix = new double[_zones * _zones];
        _water = new double[_zones];
        _rightHeat = new double[_zones];
        _latentW = new double[_zones];
        _guessC = new double[_zones];
        _gas = new double[_zones];
        _faceDrive = new double[_faces];
        _skinDrive = new double[_skins];
        _filmBeta = new double[_films];
        _filmB = new double[_films];
        _filmPsat = new double[_films];
        _filmLatent = new double[_films];
        _filmDry = new double[_films];
        _filmFlux = new double[_films];
        _skinFlux = new double[_skins];
        _wet = new bool[_films];
        _unprepared = new bool[_films];
        _filmDryC = new double[_films];
        _surelyC = new double[_films];
        Array.Fill(_surelyC, double.PositiveInfinity);
        _surelyPa = new double[_films];
        _skinWarming = new double[_skins];
        _skinWetB = new double[_skins];
        _skinStoreB = new double[_skins];
        _skinPsat = new double[_skins];
        _skinStorePsat = new double[_skins];
        _skinLatent = new double[_skins];
        _skinWet = new bool[_skins];
        _dryers = van.Night.Dryers;
        _dryerKgPerSPa = new double[_dryers.Length];
        _dryerLowestPa = new double[_dryers.Length];
        _dryerKgPerS = new double[_dryers.Length];
        _drying = new bool[_dryers.Length];
        _mistB = new double[_zones];
        _mistPsat = new double[_zones];
        _mistGiven = new double[_zones];
        _shedLagKg = new double[_zones];
        _misty = new bool[_zones];
        _vapourA = new double[_zones];
        _vapourB = new double[_zones];
        _bufferB = new double[_zones];
        _pressure = new double[_zones];
        _coverBeta = new double[_films];
        _mattressKgPerS = new double[_zones];
    }

    /// <summary>Temperature of each zone.</summary>
    public double[] ZoneC { get; }

    /// <summary>Humidity ratio of each zone.</summary>
    public double[] HumidityRatio { get; }

    /// <summary>Carbon dioxide in each zone, share by volume.</summary>
    public double[] CarbonDioxide { get; }

    /// <summary>Oxygen used by breath and flame in each zone, share by volume.</summary>
    public double[] OxygenUsed { get; }

    /// <summary>Temperature of furniture and stores.</summary>
    public double[] MassC { get; }

    /// <summary>Water in fabrics and wood.</summary>
    public double[] BufferKg { get; }

    /// <summary>Temperature of each face.</summary>
    public double[] FaceC { get; }

    /// <summary>Film on each face, then on the furnishings of each zone.</summary>
    public double[] FilmKgPerM2 { get; }

    /// <summary>Condensed on each film since it was last set to zero.</summary>
    public double[] CondensedKgPerM2 { get; }

    /// <summary>Run off or wiped off each film since it was last set to zero.</summary>
    public double[] RanOffKgPerM2 { get; }

    /// <summary>Temperature of each skin.</summary>
    public double[] SkinC { get; }

    /// <summary>Water before each skin: held by the lining, and film beyond what it holds.</summary>
    public double[] SkinKgPerM2 { get; }

    /// <summary>Run down each skin since it was last set to zero.</summary>
    public double[] SkinRanOffKgPerM2 { get; }

    /// <summary>Water in the mattress at its underside.</summary>
    public double MattressKgPerM2 { get; private set; }

    /// <summary>Temperature of the mattress's underside.</summary>
    public double MattressC { get; private set; }

    /// <summary>Dry air in each zone, by the barometric pressure.</summary>
    public double[] AirKg { get; }

    /// <summary>Sensible heat of people, cooker and so on.</summary>
    public double[] SensibleW { get; }

    /// <summary>Water of people, cooker and so on; the heater's apart.</summary>
    public double[] WaterKgPerS { get; }

    /// <summary>Carbon dioxide of people and cooker.</summary>
    public double[] CarbonDioxideMolPerS { get; }

    /// <summary>Oxygen used by people and cooker.</summary>
    public double[] OxygenMolPerS { get; }

    /// <summary>Outdoor temperature at the step's end.</summary>
    public double OutdoorC { get; set; }

    /// <summary>Outdoor humidity ratio at the step's end.</summary>
    public double OutdoorHumidityRatio { get; set; }

    /// <summary>Barometric pressure.</summary>
    public double PressurePa { get; private set; }

    /// <summary>Global sun on a level surface.</summary>
    public double SunWPerM2 { get; set; }

    /// <summary>What a black level surface loses to the sky the van sees, W/m2.</summary>
    public double SkyLossWPerM2 { get; set; }

    /// <summary>Temperature the heater holds.</summary>
    public double SetPointC { get; set; }

    /// <summary>Most the heater gives; 0 while it is off.</summary>
    public double HeaterLimitW { get; set; }

    /// <summary>Water an unflued heater adds per joule.</summary>
    public double HeaterWaterKgPerJ { get; set; }

    /// <summary>Carbon dioxide an unflued heater adds per joule.</summary>
    public double HeaterCarbonDioxideMolPerJ { get; set; }

    /// <summary>Oxygen an unflued heater uses per joule.</summary>
    public double HeaterOxygenMolPerJ { get; set; }

    /// <summary>Carbon dioxide of outdoor air, share by volume.</summary>
    public double OutdoorCarbonDioxide { get; set; }

    /// <summary>Dryers run.</summary>
    public bool DryersRun { get; set; }

    /// <summary>People lie on the mattress.</summary>
    public bool Asleep { get; set; }

    /// <summary>Heater output in the step.</summary>
    public double HeaterW { get; private set; }

    /// <summary>Sums of the two balances.</summary>
    public BalanceSums Sums { get; } = new();

    /// <summary>Most rounds any step needed to settle its films.</summary>
    public int MostFilmRounds { get; private set; }

    /// <summary>Takes over air flows.</summary>
    /// <param name="transportKgPerS">Air from node j into zone i at [i * (zones + 1) + j], outside last.</param>
    public void SetAir(ReadOnlySpan<double> transportKgPerS)
    {
        Array.Clear(_toOutside);
        for (int i = 0; i < _zones; i++)
        {
            ReadOnlySpan<double> into = transportKgPerS.Slice(i * (_zones + 1), _zones + 1);
            double sum = 0;
            for (int j = 0; j < _zones; j++)
            {
                _flow[(i * _zones) + j] = into[j];
                _toOutside[j] -= into[j];
                sum += into[j];
            }

            _fromOutside[i] = into[_zones];
            _inflow[i] = sum + into[_zones];
            _toOutside[i] += _inflow[i];
        }

        _airChanged = true;
        _gasAirChanged = true;
    }

    /// <summary>Puts everything at one temperature and at the humidity of air with this vapour pressure.</summary>
    public void Start(double temperatureC, double humidityRatio, double pressurePa, double outdoorCarbonDioxide)
    {
        PressurePa = pressurePa;
        OutdoorCarbonDioxide = outdoorCarbonDioxide;
        double share = Math.Min(1, MoistAir.VapourPressurePa(humidityRatio, pressurePa) / SaturationTable.Pa(temperatureC, out _));
        for (int i = 0; i < _zones; i++)
        {
            AirKg[i] = AirKgAt(i, pressurePa);
            ZoneC[i] = temperatureC;
            MassC[i] = temperatureC;
            HumidityRatio[i] = humidityRatio;
            CarbonDioxide[i] = outdoorCarbonDioxide;
            OxygenUsed[i] = 0;
            BufferKg[i] = share * _van.BufferKg[i];
        }

        Array.Fill(FaceC, temperatureC);
        Array.Fill(SkinC, temperatureC);
        Array.Clear(FilmKgPerM2);
        Array.Fill(SkinKgPerM2, share * _van.SkinStorageKgPerM2);
        MattressKgPerM2 = share * (_van.Mattress?.StorageKgPerM2 ?? 0);
        MattressC = temperatureC;
        Array.Clear(_latentW);
        Array.Clear(_mistGiven);
        Array.Clear(_shedLagKg);
        Array.Clear(_filmFlux);
        Array.Clear(_mattressKgPerS);
        Array.Clear(_drying);
        Array.Clear(_dryerKgPerS);
        _heaterWaterLagKg = 0;
        _factored = null;
    }

    /// <summary>
    /// Takes over another barometric pressure: dry air comes in or goes out with what it carries, so that humidity ratio
    /// and gases stay as they are and water closes.
    /// </summary>
    public void SetPressure(double pressurePa)
    {
        if (pressurePa == PressurePa)
        {
            return;
        }

        PressurePa = pressurePa;
        for (int i = 0; i < _zones; i++)
        {
            double before = AirKg[i];
            AirKg[i] = AirKgAt(i, pressurePa);
            double movedKg = (AirKg[i] - before) * HumidityRatio[i];
            Sums.BroughtKg += Math.Max(0, movedKg);
            Sums.CarriedKg += Math.Max(0, -movedKg);
        }

        _gasAirChanged = true;
    }

    // Of air of 15 degrees: how much lighter warm air is, is left to the air flows.
    private double AirKgAt(int zone, double pressurePa) =>
        MoistAir.DensityKgPerM3(temperatureC: 15, humidityRatio: 0, pressurePa) * _van.ZoneVolumeM3[zone];

    /// <summary>Wipes the glass and takes the cloth out of the van.</summary>
    public void WipeGlass()
    {
        for (int k = 0; k < _van.GlassCount; k++)
        {
            RanOffKgPerM2[k] += FilmKgPerM2[k];
            Sums.RanOffKg += FilmKgPerM2[k] * _filmM2[k];
            FilmKgPerM2[k] = 0;
        }
    }

    /// <summary>Film on a skin: what the lining before it does not hold.</summary>
    public double SkinFilmKgPerM2(int skin) => Math.Max(0, SkinKgPerM2[skin] - _van.SkinStorageKgPerM2);

    /// <summary>Relative humidity at a skin, over ice below freezing, 0 to 1.</summary>
    public double SkinHumidity(int skin) => Math.Min(1, SkinKgPerM2[skin] / _van.SkinStorageKgPerM2);

    /// <summary>Vapour pressure in a zone.</summary>
    public double VapourPressurePa(int zone) => MoistAir.VapourPressurePa(HumidityRatio[zone], PressurePa);

    /// <summary>One step.</summary>
    public void Step(StepCoefficients step)
    {
        if (_airChanged || _factored != step)
        {
            Factorise(step);
        }

        SetVapourCoefficients();
        DriveHeat(step);
        if (_van.Mattress is Mattress mattress)
        {
            StepMattress(mattress, step.StepS);
        }

        PrepareDryers();
        double heaterW = SolveHeat(_guessC);
        double heaterWater = (heaterW * HeaterWaterKgPerJ) + (_heaterWaterLagKg / step.StepS);
        for (int repeat = 0; ; repeat++)
        {
            PrepareFilms(step);
            PrepareSkins(step);
            PrepareAir(step);
            SettleWater(step, heaterWater);
            CollectLatent(step);
            HeaterW = SolveHeat(ZoneC);
            if (repeat >= MostRepeats || !MistMoved())
            {
                break;
            }

            // Half way: mist warms the air that sheds it, and a full step could overshoot.
            for (int i = 0; i < _zones; i++)
            {
                _guessC[i] = (_guessC[i] + ZoneC[i]) / 2;
            }
        }

        // The flame's water was that of the first guess; what the last changed follows in the next step.
        _heaterWaterLagKg = (HeaterW - heaterW) * HeaterWaterKgPerJ * step.StepS;
        Finish(step, heaterWater);
    }

    // The heat matrix for these air flows and this kind of step.
    private void Factorise(StepCoefficients step)
    {
        double cp = MoistAir.DryAirHeatCapacity;
        for (int i = 0; i < _zones; i++)
        {
            for (int j = 0; j < _zones; j++)
            {
                double flow = _flow[(i * _zones) + j];
                _heatFactors[(i * _zones) + j] = -cp * flow;
            }

            _heatFactors[(i * _zones) + i] += step.ZoneDiagonal[i] + (cp * _inflow[i]);
        }

        foreach (Partition partition in _van.Night.Partitions)
        {
            _heatFactors[(partition.ZoneA * _zones) + partition.ZoneA] += partition.ConductanceWPerK;
            _heatFactors[(partition.ZoneA * _zones) + partition.ZoneB] -= partition.ConductanceWPerK;
            _heatFactors[(partition.ZoneB * _zones) + partition.ZoneB] += partition.ConductanceWPerK;
            _heatFactors[(partition.ZoneB * _zones) + partition.ZoneA] -= partition.ConductanceWPerK;
        }

        for (int i = 0; i < _zones; i++)
        {
            _zoneInverse[i] = 1 / _heatFactors[(i * _zones) + i];
        }

        // Inverted once for the many steps with this air.
        SmallMatrix.Factorise(_heatFactors, _zones);
        SmallMatrix.Invert(_heatFactors, _heatInverse, _heatRight, _zones);
        for (int i = 0; i < _zones; i++)
        {
            _heaterResponse[i] = _heatInverse[(i * _zones) + _van.Night.HeaterZone];
        }

        _factored = step;
        _airChanged = false;
        for (int k = 0; k < _films; k++)
        {
            double cover = k < _faces ? step.CoverVapour[k] : double.PositiveInfinity;
            _coverBeta[k] = double.IsFinite(cover) ? cover : 0;
        }

        _betaPressurePa = double.NaN;
    }

    private void SetVapourCoefficients()
    {
        if (_betaPressurePa == PressurePa)
        {
            return;
        }

        _betaPressurePa = PressurePa;
        double film = _van.FilmVapour(PressurePa);
        for (int k = 0; k < _films; k++)
        {
            _filmBeta[k] = _coverBeta[k] > 0 ? film * _coverBeta[k] / (film + _coverBeta[k]) : film;
        }
    }

    // Everything on the right of the heat balance but latent heat and heater.
    private void DriveHeat(StepCoefficients step)
    {
        double cp = MoistAir.DryAirHeatCapacity;
        double[] sunM2 = step.Covered ? _van.CoveredSunM2 : _van.BareSunM2;
        for (int i = 0; i < _zones; i++)
        {
            double sunW = SunWPerM2 * sunM2[i];
            _rightHeat[i] = (_van.LightJPerK[i] / step.StepS * ZoneC[i])
                + (((cp * _fromOutside[i]) + _van.Night.OtherLossWPerK[i]) * OutdoorC)
                + (SunWPerM2 * _van.OtherSunM2[i])
                - (SkyLossWPerM2 * _van.OtherSkyM2[i])
                + SensibleW[i]
                + (step.MassShare[i] * ((step.MassStore[i] * MassC[i]) + sunW));
        }

        double[] right = _rightHeat;
        double[] drives = _faceDrive;
        double[] faceC = FaceC;
        double[] store = step.FaceStore;
        double[] toZone = step.FaceToZone;
        double[] outside = step.FaceOut;
        double[] sun = _van.FaceSun;
        double[] sky = step.FaceSky;
        int[] zone = _filmZone;
        double outdoorC = OutdoorC;
        double sunWPerM2 = SunWPerM2;
        double skyWPerM2 = SkyLossWPerM2;
        for (int k = 0; k < _first; k++)
        {
            double drive = (store[k] * faceC[k]) + (outside[k] * outdoorC) + (sun[k] * sunWPerM2) - (sky[k] * skyWPerM2);
            drives[k] = drive;
            right[zone[k]] += toZone[k] * drive;
        }

        double[] skinDrives = _skinDrive;
        double[] skinC = SkinC;
        double[] skinStore = step.SkinStore;
        double[] skinToFace = step.SkinToFace;
        double[] skinOut = _van.SkinOutWPerM2K;
        double[] skinSun = _van.SkinSun;
        double[] skinSky = _van.SkinSky;
        for (int j = 0; j < skinDrives.Length; j++)
        {
            int k = _first + j;
            double skin = (skinStore[j] * skinC[j]) + (skinOut[j] * outdoorC) + (skinSun[j] * sunWPerM2) - (skinSky[j] * skyWPerM2);
            double drive = (store[k] * faceC[k]) + (skinToFace[j] * skin);
            skinDrives[j] = skin;
            drives[k] = drive;
            right[zone[k]] += toZone[k] * drive;
        }
    }

    // Temperatures with the latent heat known so far; the heater gives what holds its zone, within what it can.
    private double SolveHeat(double[] answerC)
    {
        double[] right = _heatRight;
        for (int i = 0; i < right.Length; i++)
        {
            right[i] = _rightHeat[i] + _latentW[i];
        }

        SmallMatrix.Multiply(_heatInverse, right, answerC, _zones);
        int hot = _van.Night.HeaterZone;
        double watts = Math.Clamp((SetPointC - answerC[hot]) / _heaterResponse[hot], 0, HeaterLimitW);
        if (watts > 0)
        {
            for (int i = 0; i < _zones; i++)
            {
                answerC[i] += watts * _heaterResponse[i];
            }
        }

        return watts;
    }

    // The two lines of each film: condensing or evaporating freely, and used up within the step. A dry face needs none as long
    // as the air before it stays below a saturation that it is surely warmer than.
    private void PrepareFilms(StepCoefficients step)
    {
        double perStep = 1 / step.StepS;
        int faces = _faces;
        Span<double> inside = step.FaceIn.AsSpan(0, faces);
        Span<double> inverse = step.FaceInverse.AsSpan(0, faces);
        Span<double> drives = _faceDrive.AsSpan(0, faces);
        Span<double> films = FilmKgPerM2.AsSpan(0, faces);
        Span<double> dryAt = _filmDryC.AsSpan(0, faces);
        Span<bool> wet = _wet.AsSpan(0, faces);
        Span<bool> unprepared = _unprepared.AsSpan(0, faces);
        Span<int> zone = _filmZone.AsSpan(0, faces);
        double[] guess = _guessC;
        for (int k = 0; k < faces; k++)
        {
            double dryC = (drives[k] + (inside[k] * guess[zone[k]])) * inverse[k];
            dryAt[k] = dryC;
            bool dry = !wet[k] && films[k] == 0;
            unprepared[k] = dry;
            if (!dry)
            {
                PrepareFilm(k, dryC, inverse[k], perStep);
            }
            else if (!(dryC >= _surelyC[k]))
            {
                SetSurely(k, dryC);
            }
        }

        for (int i = 0; i < guess.Length; i++)
        {
            // At the zone's own temperature only mist wets: dry furnishings need no lines.
            int k = faces + i;
            if (_misty[i] || FilmKgPerM2[k] > 0)
            {
                double warming = _filmM2[k] * _zoneInverse[i];
                double given = _filmLatent[k] * _filmFlux[k] * warming;
                PrepareFilm(k, guess[i] - given, warming, perStep);
            }
            else
            {
                _filmB[k] = 0;
                _filmDry[k] = 0;
                _filmFlux[k] = 0;
            }
        }
    }

    // How much below a dry face the bound lies that is kept for it.
    private const double SurelyK = 0.25;

    private void SetSurely(int k, double dryC)
    {
        _surelyC[k] = dryC - SurelyK;
        _surelyPa[k] = SaturationTable.Pa(dryC - SurelyK, out _);
    }

    private void PrepareFilm(int k, double dryC, double warmingM2KPerW, double perStep)
    {
        double psat = SaturationTable.Pa(dryC, out double slope);
        double latent = NightBalance.LatentHeat(dryC);
        double beta = _filmBeta[k];
        _filmPsat[k] = psat;
        _filmLatent[k] = latent;
        _filmB[k] = beta / (1 + (beta * slope * latent * warmingM2KPerW));
        _filmDry[k] = -FilmKgPerM2[k] * perStep;
    }

    // The two lines of each skin: with what the lining holds, and at saturation; the second only where it can be reached.
    private void PrepareSkins(StepCoefficients step)
    {
        double perStorage = 1 / _van.SkinStorageKgPerM2;
        double stepPerStorage = step.StepS * perStorage;
        double[] inside = step.FaceIn;
        double[] inverse = step.FaceInverse;
        double[] vapour = _van.SkinVapour;
        for (int j = 0; j < vapour.Length; j++)
        {
            int k = _first + j;
            double faceC = (_faceDrive[k] + (inside[k] * _guessC[_filmZone[k]])) * inverse[k];
            double skinC = (_skinDrive[j] * step.SkinInverse[j]) + (step.SkinToFace[j] * faceC);
            double psat = SaturationTable.Pa(skinC, out double slope);
            double latent = NightBalance.LatentHeat(skinC);
            double beta = vapour[j];
            double warming = slope * latent * step.SkinResponse[j];
            double held = SkinKgPerM2[j] * perStorage;
            _skinPsat[j] = psat;
            _skinLatent[j] = latent;
            _skinWarming[j] = warming;
            _skinStoreB[j] = beta / (1 + (beta * ((psat * stepPerStorage) + (held * warming))));
            _skinStorePsat[j] = psat * held;
            if (_skinWet[j])
            {
                _skinWetB[j] = beta / (1 + (beta * warming));
            }
        }
    }

    // Vapour pressure as a tangent of the humidity ratio, mist and fabrics of each zone.
    private void PrepareAir(StepCoefficients step)
    {
        double inverseLag = 1 / (_van.BufferLagS + step.StepS);
        for (int i = 0; i < _zones; i++)
        {
            double sum = MoistAir.MolarMassRatio + HumidityRatio[i];
            double slope = PressurePa * MoistAir.MolarMassRatio / (sum * sum);
            _vapourB[i] = slope;
            _vapourA[i] = (PressurePa * HumidityRatio[i] / sum) - (slope * HumidityRatio[i]);
            double psat = SaturationTable.Pa(_guessC[i], out double psatSlope);
            double warming = psatSlope * MoistAir.EvaporationHeat * _zoneInverse[i];
            // The guess already holds the warmth of the mist it was made with.
            _mistPsat[i] = psat - (warming * _mistGiven[i]);
            _mistB[i] = MistKgPerSPa / (1 + (MistKgPerSPa * warming));
            _bufferB[i] = _van.BufferKg[i] * inverseLag / psat;
        }
    }

    private void SettleWater(StepCoefficients step, double heaterWater)
    {
        for (int round = 1; round <= MostRounds; round++)
        {
            AssembleWater(step, heaterWater);
            AddFilms();
            AddSkins();
            AddDryers();
            SmallMatrix.Factorise(_waterMatrix, _zones);
            SmallMatrix.Solve(_waterMatrix, _water, _zones);
            bool changed = ChooseMist();
            changed |= ChooseFilms(step);
            changed |= ChooseSkins(step);
            changed |= ChooseDryers();
            if (!changed)
            {
                MostFilmRounds = Math.Max(MostFilmRounds, round);
                return;
            }
        }

        throw new NightNotConvergedException($"The films of a step did not settle in {MostRounds} rounds.");
    }

    private void AssembleWater(StepCoefficients step, double heaterWater)
    {
        double perStep = 1 / step.StepS;
        double inverseLag = 1 / (_van.BufferLagS + step.StepS);
        double[] matrix = _waterMatrix;
        double[] flow = _flow;
        for (int at = 0; at < flow.Length; at++)
        {
            matrix[at] = -flow[at];
        }

        for (int i = 0; i < _inflow.Length; i++)
        {
            double capacity = AirKg[i] * perStep;
            double diagonal = capacity + _inflow[i] + (_bufferB[i] * _vapourB[i]);
            double right = (capacity * HumidityRatio[i]) + (_fromOutside[i] * OutdoorHumidityRatio) + WaterKgPerS[i] + _mattressKgPerS[i]
                - (_bufferB[i] * _vapourA[i]) + (BufferKg[i] * inverseLag);
            if (_misty[i])
            {
                diagonal += _mistB[i] * _vapourB[i];
                right -= _mistB[i] * (_vapourA[i] - _mistPsat[i]);
            }

            matrix[(i * _zones) + i] += diagonal;
            _water[i] = right;
        }

        _water[_van.Night.HeaterZone] += heaterWater;
    }

    private void AddFilms()
    {
        int films = _films;
        Span<double> areas = _filmM2.AsSpan(0, films);
        Span<double> lines = _filmB.AsSpan(0, films);
        Span<double> psat = _filmPsat.AsSpan(0, films);
        Span<double> dry = _filmDry.AsSpan(0, films);
        Span<bool> wet = _wet.AsSpan(0, films);
        Span<int> zone = _filmZone.AsSpan(0, films);
        Span<bool> unprepared = _unprepared.AsSpan(0, films);
        for (int k = 0; k < films; k++)
        {
            int i = zone[k];
            if (wet[k])
            {
                double conductance = areas[k] * lines[k];
                _waterMatrix[(i * _zones) + i] += conductance * _vapourB[i];
                _water[i] -= conductance * (_vapourA[i] - psat[k]);
            }
            else if (!unprepared[k] && dry[k] != 0)
            {
                _water[i] -= areas[k] * dry[k];
            }
        }
    }

    private void AddSkins()
    {
        int skins = _skins;
        Span<bool> wet = _skinWet.AsSpan(0, skins);
        Span<double> areas = _filmM2.AsSpan(_first, skins);
        Span<int> zone = _filmZone.AsSpan(_first, skins);
        Span<double> storeB = _skinStoreB.AsSpan(0, skins);
        Span<double> storePsat = _skinStorePsat.AsSpan(0, skins);
        for (int j = 0; j < skins; j++)
        {
            int i = zone[j];
            double conductance = areas[j] * (wet[j] ? _skinWetB[j] : storeB[j]);
            _waterMatrix[(i * _zones) + i] += conductance * _vapourB[i];
            _water[i] -= conductance * (_vapourA[i] - (wet[j] ? _skinPsat[j] : storePsat[j]));
        }
    }

    // Each of the four is true when something lies on its other line; fluxes are those of the lines chosen.
    private bool ChooseMist()
    {
        bool changed = false;
        for (int i = 0; i < _misty.Length; i++)
        {
            _pressure[i] = _vapourA[i] + (_vapourB[i] * _water[i]);
            bool misty = _pressure[i] > _mistPsat[i];
            changed |= misty != _misty[i];
            _misty[i] = misty;
        }

        return changed;
    }

    private bool ChooseFilms(StepCoefficients step)
    {
        bool changed = false;
        int films = _films;
        Span<double> flux = _filmFlux.AsSpan(0, films);
        Span<double> lines = _filmB.AsSpan(0, films);
        Span<double> psat = _filmPsat.AsSpan(0, films);
        Span<double> dry = _filmDry.AsSpan(0, films);
        Span<bool> isWet = _wet.AsSpan(0, films);
        Span<bool> unprepared = _unprepared.AsSpan(0, films);
        Span<double> surelyPa = _surelyPa.AsSpan(0, films);
        Span<int> zone = _filmZone.AsSpan(0, films);
        double[] pressure = _pressure;
        for (int k = 0; k < films; k++)
        {
            if (unprepared[k])
            {
                if (pressure[zone[k]] <= surelyPa[k] || StaysDry(k, pressure[zone[k]], step))
                {
                    flux[k] = 0;
                    continue;
                }
            }

            double free = lines[k] * (pressure[zone[k]] - psat[k]);
            bool wet = free > dry[k];
            changed |= wet != isWet[k];
            isWet[k] = wet;
            flux[k] = wet ? free : dry[k];
        }

        return changed;
    }

    // A dry face looked at closely; one that gets wet has its lines from here on.
    private bool StaysDry(int k, double pressurePa, StepCoefficients step)
    {
        double dryC = _filmDryC[k];
        SetSurely(k, dryC);
        if (pressurePa <= SaturationTable.Pa(dryC, out _))
        {
            return true;
        }

        _unprepared[k] = false;
        PrepareFilm(k, dryC, step.FaceInverse[k], 1 / step.StepS);
        return false;
    }

    private bool ChooseSkins(StepCoefficients step)
    {
        bool changed = false;
        double stepS = step.StepS;
        double storage = _van.SkinStorageKgPerM2;
        int skins = _skins;
        Span<double> fluxes = _skinFlux.AsSpan(0, skins);
        Span<double> storeB = _skinStoreB.AsSpan(0, skins);
        Span<double> storePsat = _skinStorePsat.AsSpan(0, skins);
        Span<double> water = SkinKgPerM2.AsSpan(0, skins);
        Span<double> warmings = _skinWarming.AsSpan(0, skins);
        Span<double> psats = _skinPsat.AsSpan(0, skins);
        Span<bool> isWet = _skinWet.AsSpan(0, skins);
        Span<int> zone = _filmZone.AsSpan(_first, skins);
        double[] pressures = _pressure;
        for (int j = 0; j < skins; j++)
        {
            double pressure = pressures[zone[j]];
            double held = storeB[j] * (pressure - storePsat[j]);
            // With room left in the lining at the start and the end of the step, and no cooling below all its pressure, the held line is the larger.
            if (!isWet[j] && water[j] <= storage && water[j] + (held * stepS) <= storage && (held >= 0 || -held * warmings[j] <= psats[j]))
            {
                fluxes[j] = held;
                continue;
            }

            double beta = _van.SkinVapour[j];
            _skinWetB[j] = beta / (1 + (beta * warmings[j]));
            double free = _skinWetB[j] * (pressure - psats[j]);
            bool wet = free > held;
            changed |= wet != isWet[j];
            isWet[j] = wet;
            fluxes[j] = wet ? free : held;
        }

        return changed;
    }

    // By the air's temperature at the step's start, so that a repeat for mist does not move them.
    private void PrepareDryers()
    {
        for (int d = 0; d < _dryers.Length; d++)
        {
            RunningDryer dryer = _dryers[d];
            double airC = ZoneC[dryer.Zone];
            double psat = SaturationTable.Pa(airC, out _);
            _dryerKgPerSPa[d] = DryersRun ? dryer.KgPerSPa(airC, psat) : 0;
            _dryerLowestPa[d] = dryer.LowestPa(psat);
        }
    }

    private void AddDryers()
    {
        for (int d = 0; d < _dryers.Length; d++)
        {
            if (_drying[d])
            {
                int i = _dryers[d].Zone;
                _waterMatrix[(i * _zones) + i] += _dryerKgPerSPa[d] * _vapourB[i];
                _water[i] -= _dryerKgPerSPa[d] * (_vapourA[i] - _dryerLowestPa[d]);
            }
        }
    }

    private bool ChooseDryers()
    {
        bool changed = false;
        for (int d = 0; d < _dryers.Length; d++)
        {
            double over = _pressure[_dryers[d].Zone] - _dryerLowestPa[d];
            bool drying = over > 0;
            changed |= drying != _drying[d];
            _drying[d] = drying;
            _dryerKgPerS[d] = drying ? _dryerKgPerSPa[d] * over : 0;
        }

        return changed;
    }

    private double MistKgPerS(int i) => _misty[i] ? _mistB[i] * (_pressure[i] - _mistPsat[i]) : 0;

    private double BufferKgPerS(int i, double stepS) => (_bufferB[i] * _pressure[i]) - (BufferKg[i] / (_van.BufferLagS + stepS));

    // Heat the step's condensation, evaporation and sorption give each zone.
    private void CollectLatent(StepCoefficients step)
    {
        for (int i = 0; i < _zones; i++)
        {
            int k = _faces + i;
            _mistGiven[i] = MistKgPerS(i);
            _latentW[i] = (MoistAir.EvaporationHeat * (BufferKgPerS(i, step.StepS) + _mistGiven[i] + (_shedLagKg[i] / step.StepS)))
                + (_filmLatent[k] * _filmM2[k] * _filmFlux[k]);
        }

        for (int d = 0; d < _dryers.Length; d++)
        {
            _latentW[_dryers[d].Zone] += MoistAir.EvaporationHeat * _dryerKgPerS[d];
        }

        double[] toZone = step.FaceToZone;
        double[] flux = _filmFlux;
        for (int k = 0; k < toZone.Length; k++)
        {
            if (flux[k] != 0)
            {
                _latentW[_filmZone[k]] += toZone[k] * _filmLatent[k] * flux[k];
            }
        }

        for (int j = 0; j < _skins; j++)
        {
            int k = _first + j;
            _latentW[_filmZone[k]] += step.SkinToZone[j] * _skinLatent[j] * _skinFlux[j];
        }
    }

    // True while mist warms air by more than is left to chance, or evaporation has cooled air below what it holds.
    private bool MistMoved()
    {
        bool moved = false;
        for (int i = 0; i < _misty.Length; i++)
        {
            if (_misty[i])
            {
                moved |= Math.Abs(ZoneC[i] - _guessC[i]) > MistRepeatK;
            }
            else if (_pressure[i] > NearlySaturated * _mistPsat[i])
            {
                moved |= _pressure[i] > (1 + SaturationSlack) * SaturationTable.Pa(ZoneC[i], out _);
            }
        }

        return moved;
    }

    // Takes over the step: temperatures, films, stores and the sums of both balances.
    private void Finish(StepCoefficients step, double heaterWater)
    {
        FinishFaces(step);
        FinishSkins(step);
        FinishZones(step, heaterWater);
    }

    private void FinishFaces(StepCoefficients step)
    {
        double lossW = 0;
        double latentW = 0;
        double sunM2 = 0;
        double outdoorC = OutdoorC;
        double skyWPerM2 = SkyLossWPerM2;
        double[] areas = _filmM2;
        double[] fluxes = _filmFlux;
        for (int k = 0; k < _first; k++)
        {
            double flux = fluxes[k];
            double latent = _filmLatent[k] * flux;
            double faceC = (_faceDrive[k] + (step.FaceIn[k] * ZoneC[_filmZone[k]]) + latent) * step.FaceInverse[k];
            FaceC[k] = faceC;
            lossW += areas[k] * ((step.FaceOut[k] * (faceC - outdoorC)) + (step.FaceSky[k] * skyWPerM2));
            latentW += areas[k] * latent;
            sunM2 += areas[k] * _van.FaceSun[k];
            TakeFilm(k, flux * step.StepS);
        }

        Sums.LossJ += lossW * step.StepS;
        Sums.LatentJ += latentW * step.StepS;
        Sums.SunJ += sunM2 * SunWPerM2 * step.StepS;
    }

    private void FinishSkins(StepCoefficients step)
    {
        double lossW = 0;
        double latentW = 0;
        double sunW = 0;
        for (int j = 0; j < _skins; j++)
        {
            int k = _first + j;
            double flux = _filmFlux[k];
            double skinFlux = _skinFlux[j];
            double latent = _filmLatent[k] * flux;
            double skinLatent = _skinLatent[j] * skinFlux;
            double faceC = (_faceDrive[k] + (step.SkinToFace[j] * skinLatent) + (step.FaceIn[k] * ZoneC[_filmZone[k]]) + latent) * step.FaceInverse[k];
            FaceC[k] = faceC;
            SkinC[j] = ((_skinDrive[j] + skinLatent) * step.SkinInverse[j]) + (step.SkinToFace[j] * faceC);
            SkinKgPerM2[j] += skinFlux * step.StepS;
            DrainSkin(j);
            lossW += _filmM2[k] * ((_van.SkinOutWPerM2K[j] * (SkinC[j] - OutdoorC)) + (_van.SkinSky[j] * SkyLossWPerM2));
            latentW += _filmM2[k] * (latent + skinLatent);
            sunW += _filmM2[k] * _van.SkinSun[j];
            TakeFilm(k, flux * step.StepS);
        }

        Sums.LossJ += lossW * step.StepS;
        Sums.LatentJ += latentW * step.StepS;
        Sums.SunJ += sunW * SunWPerM2 * step.StepS;
    }

    // Down walls and from under the roof to the sills; frost stays until it thaws.
    private void DrainSkin(int j)
    {
        double surplus = SkinKgPerM2[j] - _van.SkinStorageKgPerM2 - _van.SkinRunOffKgPerM2[j];
        if (surplus > 0 && SkinC[j] >= 0)
        {
            SkinRanOffKgPerM2[j] += surplus;
            Sums.RanOffKg += surplus * _filmM2[_first + j];
            SkinKgPerM2[j] -= surplus;
        }
    }

    private void FinishZones(StepCoefficients step, double heaterWater)
    {
        double[] sunM2 = step.Covered ? _van.CoveredSunM2 : _van.BareSunM2;
        double lossW = 0;
        double latentW = 0;
        double sunW = 0;
        double givenW = HeaterW;
        double waterKgPerS = heaterWater;
        double carriedKgPerS = 0;
        double broughtKgPerS = 0;
        for (int i = 0; i < _zones; i++)
        {
            int k = _faces + i;
            double flux = _filmFlux[k];
            double mist = MistKgPerS(i);
            double buffered = BufferKgPerS(i, step.StepS);
            double glassW = SunWPerM2 * sunM2[i];
            MassC[i] = (((step.MassStore[i] * MassC[i]) + glassW) * step.MassInverse[i]) + (step.MassShare[i] * ZoneC[i]);
            sunW += glassW + (SunWPerM2 * _van.OtherSunM2[i]);
            lossW += (_van.Night.OtherLossWPerK[i] * (ZoneC[i] - OutdoorC))
                + (SkyLossWPerM2 * _van.OtherSkyM2[i])
                + (MoistAir.DryAirHeatCapacity * ((_toOutside[i] * ZoneC[i]) - (_fromOutside[i] * OutdoorC)));
            latentW += (MoistAir.EvaporationHeat * (buffered + mist + (_shedLagKg[i] / step.StepS))) + (_filmLatent[k] * _filmM2[k] * flux);
            givenW += SensibleW[i];
            HumidityRatio[i] = _water[i];
            BufferKg[i] += buffered * step.StepS;
            TakeFilm(k, (flux + (mist / _filmM2[k])) * step.StepS);
            waterKgPerS += WaterKgPerS[i];
            carriedKgPerS += _toOutside[i] * _water[i];
            broughtKgPerS += _fromOutside[i] * OutdoorHumidityRatio;
            ShedSurplus(i);
        }

        double driedKgPerS = 0;
        foreach (double kgPerS in _dryerKgPerS)
        {
            driedKgPerS += kgPerS;
        }

        latentW += MoistAir.EvaporationHeat * driedKgPerS;
        Sums.DriedKg += driedKgPerS * step.StepS;

        Sums.LossJ += lossW * step.StepS;
        Sums.LatentJ += latentW * step.StepS;
        Sums.SunJ += sunW * step.StepS;
        Sums.GivenJ += givenW * step.StepS;
        Sums.HeaterJ += HeaterW * step.StepS;
        Sums.WaterKg += waterKgPerS * step.StepS;
        Sums.CarriedKg += carriedKgPerS * step.StepS;
        Sums.BroughtKg += broughtKgPerS * step.StepS;
    }

    // What the repeats of heat and water left above saturation goes to the furnishings too; its warmth follows in the next step.
    private void ShedSurplus(int i)
    {
        _shedLagKg[i] = 0;
        if (_pressure[i] < NearlySaturated * _mistPsat[i])
        {
            return;
        }

        double most = MoistAir.HumidityRatio(SaturationTable.Pa(ZoneC[i], out _), PressurePa);
        if (HumidityRatio[i] > most)
        {
            int k = _faces + i;
            _shedLagKg[i] = AirKg[i] * (HumidityRatio[i] - most);
            HumidityRatio[i] = most;
            TakeFilm(k, _shedLagKg[i] / _filmM2[k]);
        }
    }

    private void TakeFilm(int k, double addedKgPerM2)
    {
        if (addedKgPerM2 != 0)
        {
            ChangeFilm(k, addedKgPerM2);
        }
    }

    private void ChangeFilm(int k, double addedKgPerM2)
    {
        // A film used up within the step ends at zero but for rounding.
        double film = Math.Max(0, FilmKgPerM2[k] + addedKgPerM2);
        CondensedKgPerM2[k] += Math.Max(0, addedKgPerM2);
        double surplus = film - _van.RunOffKgPerM2;
        // Frost stays until it thaws.
        if (surplus > 0 && (k >= _faces ? ZoneC[k - _faces] : FaceC[k]) >= 0)
        {
            RanOffKgPerM2[k] += surplus;
            Sums.RanOffKg += surplus * _filmM2[k];
            film = _van.RunOffKgPerM2;
        }

        FilmKgPerM2[k] = film;
    }

    // The mattress takes the zones' air as it was at the step's start: it is slow.
    private void StepMattress(Mattress mattress, double stepS)
    {
        double aboveC = Asleep ? mattress.ContactC : ZoneC[mattress.BedZone];
        double abovePa = Asleep ? mattress.ContactPa : VapourPressurePa(mattress.BedZone);
        double belowPa = VapourPressurePa(mattress.BelowZone);
        double belowC = ZoneC[mattress.BelowZone];
        double undersideC = belowC + (mattress.WarmthShare * (aboveC - belowC));
        double psat = SaturationTable.Pa(undersideC, out _);
        double both = mattress.AboveKgPerM2SPa + mattress.BelowKgPerM2SPa;
        double arriving = (mattress.AboveKgPerM2SPa * abovePa) + (mattress.BelowKgPerM2SPa * belowPa);
        // Held water sets the humidity up to 100 %, more is film: the larger of the two gains, as for skins.
        double held = psat / mattress.StorageKgPerM2;
        double gain = Math.Max(
            arriving - (both * psat),
            (arriving - (both * held * MattressKgPerM2)) / (1 + (both * held * stepS)));
        double end = MattressKgPerM2 + (gain * stepS);
        double undersidePa = psat * Math.Min(1, end / mattress.StorageKgPerM2);
        double above = mattress.AboveKgPerM2SPa * (abovePa - undersidePa);
        Array.Clear(_mattressKgPerS);
        _mattressKgPerS[mattress.BedZone] -= mattress.AreaM2 * above;
        _mattressKgPerS[mattress.BelowZone] -= mattress.AreaM2 * (gain - above);
        MattressKgPerM2 = end;
        MattressC = undersideC;
    }

    /// <summary>Water in air, fabrics, films, skins and mattress.</summary>
    public double StoredKg()
    {
        double sum = (_van.Mattress?.AreaM2 ?? 0) * MattressKgPerM2;
        for (int i = 0; i < _zones; i++)
        {
            sum += (AirKg[i] * HumidityRatio[i]) + BufferKg[i];
        }

        for (int k = 0; k < _films; k++)
        {
            sum += _filmM2[k] * FilmKgPerM2[k];
        }

        for (int j = 0; j < _skins; j++)
        {
            sum += _filmM2[_first + j] * SkinKgPerM2[j];
        }

        return sum;
    }

    /// <summary>Heat in air, furniture, faces and skins above 0 degrees Celsius.</summary>
    public double StoredJ()
    {
        double sum = 0;
        for (int i = 0; i < _zones; i++)
        {
            sum += (_van.LightJPerK[i] * ZoneC[i]) + (_van.MassJPerK[i] * MassC[i]);
        }

        for (int k = 0; k < _faces; k++)
        {
            sum += _filmM2[k] * _van.FaceJPerM2K[k] * FaceC[k];
        }

        for (int j = 0; j < _skins; j++)
        {
            sum += _filmM2[_first + j] * _van.SkinJPerM2K[j] * SkinC[j];
        }

        return sum;
    }

    /// <summary>Carbon dioxide and oxygen through a stretch of steps with the same air flows and sources.</summary>
    /// <param name="seconds">Length of the stretch.</param>
    /// <param name="heaterW">Mean output of the heater in it.</param>
    public void StepGases(double seconds, double heaterW)
    {
        if (_gasAirChanged || _gasSeconds != seconds)
        {
            FactoriseGases(seconds);
        }

        int hot = _van.Night.HeaterZone;
        for (int i = 0; i < _zones; i++)
        {
            _gas[i] = (AirKg[i] / seconds * CarbonDioxide[i]) + (_fromOutside[i] * OutdoorCarbonDioxide) + (MoistAir.DryAirKgPerMol * CarbonDioxideMolPerS[i]);
        }

        _gas[hot] += MoistAir.DryAirKgPerMol * HeaterCarbonDioxideMolPerJ * heaterW;
        SmallMatrix.Solve(_gasFactors, _gas, _zones);
        _gas.CopyTo(CarbonDioxide, 0);
        for (int i = 0; i < _zones; i++)
        {
            _gas[i] = (AirKg[i] / seconds * OxygenUsed[i]) + (MoistAir.DryAirKgPerMol * OxygenMolPerS[i]);
        }

        _gas[hot] += MoistAir.DryAirKgPerMol * HeaterOxygenMolPerJ * heaterW;
        SmallMatrix.Solve(_gasFactors, _gas, _zones);
        _gas.CopyTo(OxygenUsed, 0);
    }

    private void FactoriseGases(double seconds)
    {
        for (int i = 0; i < _zones; i++)
        {
            for (int j = 0; j < _zones; j++)
            {
                _gasFactors[(i * _zones) + j] = -_flow[(i * _zones) + j];
            }

            _gasFactors[(i * _zones) + i] += (AirKg[i] / seconds) + _inflow[i];
        }

        SmallMatrix.Factorise(_gasFactors, _zones);
        _gasAirChanged = false;
        _gasSeconds = seconds;
    }
}
