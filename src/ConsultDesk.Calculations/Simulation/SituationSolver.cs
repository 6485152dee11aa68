using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Airflow;
using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>Warmth, water and carbon dioxide in the van when a situation begins.</summary>
internal sealed class SituationStart
{
    public SituationStart(int zones, int surfaces)
    {
        TemperatureC = new double[zones];
        HumidityRatio = new double[zones];
        CarbonDioxideShare = new double[zones];
        FilmKgPerM2 = new double[surfaces];
    }

    /// <summary>Temperature of each zone and of what stands in it.</summary>
    public double[] TemperatureC { get; }

    /// <summary>Humidity ratio of each zone.</summary>
    public double[] HumidityRatio { get; }

    /// <summary>Carbon dioxide of each zone by volume.</summary>
    public double[] CarbonDioxideShare { get; }

    /// <summary>Water or frost on each surface.</summary>
    public double[] FilmKgPerM2 { get; }
}

/// <summary>
/// One situation of one design, solved for any setting of the openings. Air flows, temperatures and heat are those at the
/// end of one implicit step over the whole situation, with the warmth stored in air and fit-out; water and carbon dioxide
/// then run through its time by backward Euler steps at those flows and temperatures.
/// </summary>
/// <remarks>
/// Every solve starts from the answer of the first, so that an answer depends on the first setting and its own, not on
/// those asked for between. Not safe for use by two threads at once.
/// </remarks>
internal sealed class SituationSolver
{
    private const int WaterSteps = 8;

    // Largest imbalance of a zone's air that any tolerance of temperature leaves.
    private const double CoarsestKgPerS = 1e-6;

    // Warming that makes air as much lighter as a kg/kg of vapour does: 0.61 T at 280 K.
    private const double LightnessK = 170;
    private const double Relaxation = 2.0 / 3;

    // Most vapour the air network takes, kg/kg.
    private const double DampestRatio = 0.2;
    private const int MaximumRounds = 1000;

    // Taken in turns until it settles. Of 445,122 situations of random vans one took more than the first turn.
    private const int AcceleratedRounds = 60;
    private const int PlainRounds = 20;

    private readonly SituationModel _model;
    private readonly NightModel _night;
    private readonly SituationSources _sources;
    private readonly AirState _state;
    private readonly FixedPoint _iteration;
    private readonly Fuel? _flame;
    private readonly double[] _guess;
    private readonly double[] _answer;
    private readonly double[] _firstGuess;
    private readonly double[] _firstPressurePa;
    private readonly double[] _matrix;
    private readonly double[] _right;
    private readonly double[] _saturationPa;
    private readonly double[] _beta;
    private readonly double[] _evaporable;
    private readonly double[] _saturatedRatio;
    private readonly double _toleranceK;
    private readonly double _toleranceKgPerS;
    private readonly bool[] _wet;
    private readonly double[] _dryerKgPerSPa;
    private readonly double[] _dryerLowestPa;
    private readonly bool[] _drying;
    private bool _solvedBefore;

    /// <summary>Prepares a situation.</summary>
    /// <param name="model">The compiled design.</param>
    /// <param name="situation">The situation.</param>
    /// <param name="flameAsleep">False to leave an unflued heater out while people sleep or are away.</param>
    /// <param name="toleranceK">Largest change of any zone between two rounds at the end; flows and balance are as exact.</param>
    public SituationSolver(SituationModel model, Situation situation, bool flameAsleep, double toleranceK = 1e-6)
    {
        _toleranceK = toleranceK;
        _toleranceKgPerS = Math.Min(CoarsestKgPerS, AirNetwork.ToleranceKgPerS * toleranceK / 1e-6);
        _model = model.While(situation.Activity);
        _night = _model.Night;
        Situation = situation;
        _sources = SituationSources.Of(_model, situation);
        int zones = _night.ZoneCount;
        int surfaces = _night.Surfaces.Length;
        _iteration = new FixedPoint(2 * zones);
        _state = _night.Network.CreateState();
        Air = _night.Network.CreateSolution();
        Design design = model.Design;
        double dewPointC = MoistAir.DewPointC(situation.OutdoorHumidity.Percent / 100 * Saturation(situation.Outdoor.DegreesCelsius));
        NightWeather weather = new()
        {
            Temperature = situation.Outdoor,
            DewPoint = UnitsNet.Temperature.FromDegreesCelsius(dewPointC),
            // The night model shelters the wind as the design's stop does.
            StationWind = situation.StationWind * (_night.ShelterFactor(situation.Shelter) / _night.ShelterFactor(design.Stop.Shelter)),
            Pressure = situation.Pressure,
            DesignTemperature = situation.Outdoor,
        };
        _night.Drive(_state, weather);
        bool away = situation.Activity == Activity.LockedAndLeft;
        bool unattended = away || situation.Activity == Activity.Asleep;
        bool heated = !situation.HeaterOff
            && (!away || design.Heater.RunsWhenAway)
            && (design.Heater.Kind != HeaterKind.UnfluedGas || !unattended || flameAsleep);
        _flame = design.Heater.Kind == HeaterKind.UnfluedGas ? Fuel.Propane : null;
        Balance = new NightBalance(_night)
        {
            OutdoorC = situation.Outdoor.DegreesCelsius,
            OutdoorHumidityRatio = NightModel.OutdoorHumidityRatio(weather),
            SkyLossWPerM2 = situation.SkyLoss.WattsPerSquareMeter * _night.SkySeen(situation.Shelter),
            PressurePa = situation.Pressure.Pascals,
            HeaterLimitW = heated ? HeaterLimit.OfW(design) : 0,
            SetPointC = (unattended ? design.Heater.NightSetPoint : design.Heater.DaySetPoint).DegreesCelsius,
            HeaterWaterKgPerJ = _flame is Fuel fuel ? fuel.WaterPerFuel / fuel.LowerHeatingValueJPerKg : 0,
            DryersRun = !away,
            Coarseness = toleranceK / 1e-6,
        };
        OutdoorCarbonDioxideShare = _night.Assumed["outdoor-carbon-dioxide"] / 1e6;
        SteamCaptured = _night.Assumed["steam-capture"] / 100;
        SteamCaptureFlowM3PerS = _night.Assumed["steam-capture-flow"] / 3600;
        _guess = new double[2 * zones];
        _answer = new double[2 * zones];
        _firstGuess = new double[2 * zones];
        _firstPressurePa = new double[zones];
        _matrix = new double[zones * zones];
        _right = new double[zones];
        _saturationPa = new double[surfaces];
        _beta = new double[surfaces];
        _evaporable = new double[surfaces];
        _saturatedRatio = new double[zones];
        _wet = new bool[surfaces];
        _dryerKgPerSPa = new double[_night.Dryers.Length];
        _dryerLowestPa = new double[_night.Dryers.Length];
        _drying = new bool[_night.Dryers.Length];
        HumidityRatio = new double[zones];
        CarbonDioxideShare = new double[zones];
        FilmKgPerM2 = new double[surfaces];
        CondensedKgPerM2 = new double[surfaces];
    }

    public Situation Situation { get; }

    /// <summary>Network and surfaces it is solved on.</summary>
    public NightModel Night => _night;

    /// <summary>Rounds of air network and balance so far, over all settings: the work done.</summary>
    public int Rounds { get; private set; }

    /// <summary>The air flows.</summary>
    public AirFlowSolution Air { get; }

    /// <summary>Steady temperatures and heat.</summary>
    public NightBalance Balance { get; }

    /// <summary>Humidity ratio of each zone at the end.</summary>
    public double[] HumidityRatio { get; }

    /// <summary>Carbon dioxide of each zone at the end, share by volume.</summary>
    public double[] CarbonDioxideShare { get; }

    /// <summary>Water or frost on each surface at the end.</summary>
    public double[] FilmKgPerM2 { get; }

    /// <summary>Condensed on each surface while it lasted.</summary>
    public double[] CondensedKgPerM2 { get; }

    /// <summary>Water that left saturated air as mist and settled anywhere.</summary>
    public double MistKg { get; private set; }

    private double OutdoorCarbonDioxideShare { get; }

    private double SteamCaptured { get; }

    private double SteamCaptureFlowM3PerS { get; }

    /// <summary>Solves a setting from a start.</summary>
    /// <param name="settings">Each opening's setting, in the design's order, as far as its facts allow.</param>
    /// <param name="start">What is in the van at the beginning; null for the steady state.</param>
    /// <param name="cancellation">Stops the work.</param>
    public void Solve(ReadOnlySpan<OpeningSetting> settings, SituationStart? start, CancellationToken cancellation)
    {
        SolveAir(settings, start, cancellation);
        if (start is null)
        {
            KeepSteady();
        }
        else
        {
            RunWater(start);
            RunCarbonDioxide(start);
        }
    }

    /// <summary>Solves air, temperatures and heat of a setting alone; water and carbon dioxide stay as they were.</summary>
    public void SolveAir(ReadOnlySpan<OpeningSetting> settings, SituationStart? start, CancellationToken cancellation)
    {
        Set(settings);
        Store(start);
        SolveSteady(cancellation);
    }

    /// <summary>What is in the van at the end, as the start of what follows.</summary>
    public SituationStart End()
    {
        SituationStart end = new(_night.ZoneCount, _night.Surfaces.Length);
        Balance.TemperatureC.CopyTo(end.TemperatureC, 0);
        HumidityRatio.CopyTo(end.HumidityRatio, 0);
        CarbonDioxideShare.CopyTo(end.CarbonDioxideShare, 0);
        FilmKgPerM2.CopyTo(end.FilmKgPerM2, 0);
        return end;
    }

    /// <summary>Vapour in the air above the outdoor air's and water on surfaces, at the end, kg.</summary>
    public double WaterLeftKg()
    {
        double kg = MistKg;
        for (int zone = 0; zone < HumidityRatio.Length; zone++)
        {
            kg += AirKg(zone) * (HumidityRatio[zone] - Balance.OutdoorHumidityRatio);
        }

        for (int k = 0; k < FilmKgPerM2.Length; k++)
        {
            kg += FilmKgPerM2[k] * _night.Surfaces[k].AreaM2;
        }

        return kg;
    }

    /// <summary>Condensed on glass and metal while it lasted, kg.</summary>
    public double CondensedOnGlassAndMetalKg()
    {
        double kg = 0;
        for (int k = 0; k < CondensedKgPerM2.Length; k++)
        {
            NightSurface surface = _night.Surfaces[k];
            kg += surface.Part is SurfacePart.Glazing or SurfacePart.Pane or SurfacePart.Metal ? CondensedKgPerM2[k] * surface.AreaM2 : 0;
        }

        return kg;
    }

    /// <summary>Glass and metal, m2.</summary>
    public double GlassAndMetalM2() => GlassAndMetalM2(_ => 1);

    /// <summary>
    /// Glass and metal that is wet at the end, m2: a surface counts in full from the film of a wet morning on, and below
    /// it in proportion.
    /// </summary>
    public double WetGlassAndMetalM2() => GlassAndMetalM2(k => Math.Min(1, FilmKgPerM2[k] / YearReport.WetMorningKgPerM2));

    private double GlassAndMetalM2(Func<int, double> share)
    {
        double m2 = 0;
        for (int k = 0; k < FilmKgPerM2.Length; k++)
        {
            NightSurface surface = _night.Surfaces[k];
            m2 += surface.Part is SurfacePart.Glazing or SurfacePart.Pane or SurfacePart.Metal ? share(k) * surface.AreaM2 : 0;
        }

        return m2;
    }

    /// <summary>
    /// Outdoor air that reaches the sleepers, m3/h: what a well-mixed van would need for as little of their breath where
    /// they lie.
    /// </summary>
    public double AirAtSleepersM3PerH()
    {
        int zones = _night.ZoneCount;
        ReadOnlySpan<double> transport = Air.TransportKgPerS;
        Array.Clear(_matrix);
        for (int i = 0; i < zones; i++)
        {
            _right[i] = _night.SleepingShares[i];
            for (int j = 0; j <= zones; j++)
            {
                double flow = transport[(i * (zones + 1)) + j];
                _matrix[(i * zones) + i] += flow;
                if (j < zones)
                {
                    _matrix[(i * zones) + j] -= flow;
                }
            }
        }

        LinearSystem.Solve(_matrix, _right, zones);
        double share = 0;
        for (int i = 0; i < zones; i++)
        {
            share += _night.SleepingShares[i] * _right[i];
        }

        return 3600 / share / Air.OutdoorDensityKgPerM3;
    }

    private static double Saturation(double temperatureC) => MoistAir.SaturationPressurePa(temperatureC);

    private void Set(ReadOnlySpan<OpeningSetting> settings)
    {
        for (int index = 0; index < settings.Length; index++)
        {
            Opening opening = _model.Design.Openings[index];
            OpeningSetting setting = settings[index];
            int path = _model.Path(index).Index;
            _state.PathOpenShare[path] = OpeningUse.Covered(opening, Situation) ? 0 : _model.OpenShare(index, setting.Position);
            if (opening.Fan is not null)
            {
                _state.FanSpeed[path] = setting.FanSpeed;
            }
        }
    }

    // What is stored as a conductance to the start: light mass at once, furniture behind its coupling.
    private void Store(SituationStart? start)
    {
        double seconds = Situation.Lasts.Seconds;
        for (int zone = 0; zone < _night.ZoneCount; zone++)
        {
            double volumeM3 = _night.Network.ZoneVolumeM3[zone];
            double coupling = 1 / ((1 / _night.Assumed["fit-out-coupling"]) + (seconds / (1000 * _night.Assumed["fit-out-mass"])));
            Balance.StorageWPerK[zone] = start is null ? 0 : volumeM3 * ((1000 * _night.Assumed["light-mass"] / seconds) + coupling);
            Balance.StoredC[zone] = start?.TemperatureC[zone] ?? 0;
            Balance.StorageKgPerS[zone] = start is null ? 0 : volumeM3 * FlowLaw.ReferenceDensityKgPerM3 / seconds;
            Balance.StoredHumidityRatio[zone] = start?.HumidityRatio[zone] ?? 0;
        }
    }

    private void SolveSteady(CancellationToken cancellation)
    {
        int zones = _night.ZoneCount;
        double outdoorC = Balance.OutdoorC;
        double coldestC = Balance.ColdestBehindC;
        for (int zone = 0; zone < zones; zone++)
        {
            Balance.SensibleW[zone] = _sources.SensibleW[zone];
            Balance.WaterKgPerS[zone] = _sources.WaterKgPerS[zone] + _sources.SteamKgPerS[zone];
        }

        Balance.Start(Balance.HeaterLimitW > 0 ? Math.Max(Balance.SetPointC, outdoorC) : outdoorC + 2);
        if (_solvedBefore)
        {
            _firstGuess.CopyTo(_guess, 0);
            Balance.StartFrom(_firstGuess.AsSpan(0, zones));
            _firstPressurePa.CopyTo(Air.Pressure);
        }
        else
        {
            Read(_guess);
        }

        _iteration.Restart();
        for (int round = 1; round <= MaximumRounds; round++)
        {
            cancellation.ThrowIfCancellationRequested();
            for (int zone = 0; zone < zones; zone++)
            {
                // Nothing cools a zone below outdoors and sky, and the accelerated guess must not try.
                _guess[zone] = Math.Max(_guess[zone], coldestC);
                // Air hotter or damper than the network is made for counts as light as its limit: a shut van with pans on
                // gets there in no life, and only the order of bad settings hangs on it.
                _state.ZoneTemperatureC[zone] = Math.Min(_guess[zone], MoistAir.TemperatureRange.Maximum);
                _state.ZoneHumidityRatioKgPerKg[zone] = Math.Clamp(_guess[zones + zone] / LightnessK, 0, DampestRatio);
            }

            Rounds++;
            _night.Network.Solve(_state, Air, _toleranceKgPerS);
            CaptureSteam();
            Balance.Solve(Air.TransportKgPerS);
            Read(_answer);
            if (LargestDifference(_guess, _answer) < _toleranceK)
            {
                if (!_solvedBefore)
                {
                    _answer.CopyTo(_firstGuess, 0);
                    Air.Pressure.CopyTo(_firstPressurePa);
                    _solvedBefore = true;
                }

                return;
            }

            _iteration.Advance(_guess, _answer, Relaxation, accelerate: (round - 1) % (AcceleratedRounds + PlainRounds) < AcceleratedRounds);
        }

        throw new NightNotConvergedException($"Air flows and temperatures of the situation '{Situation.Key}' did not settle in {MaximumRounds} rounds.");
    }

    // An opening above the cooker takes its share of the steam out while air leaves through it.
    private void CaptureSteam()
    {
        double aboveKgPerS = 0;
        foreach (int index in _model.SteamOutlets)
        {
            OutsidePath path = _model.Path(index);
            aboveKgPerS += Math.Max(0, Air.NetMassFlowKgPerS[path.Index] * (path.Outwards ? 1 : -1));
        }

        double kept = 1 - SteamCapture.Share(aboveKgPerS / FlowLaw.ReferenceDensityKgPerM3, SteamCaptured, SteamCaptureFlowM3PerS);

        for (int zone = 0; zone < _night.ZoneCount; zone++)
        {
            Balance.WaterKgPerS[zone] = _sources.WaterKgPerS[zone] + (kept * _sources.SteamKgPerS[zone]);
        }
    }

    private void KeepSteady()
    {
        double seconds = Situation.Lasts.Seconds;
        Balance.HumidityRatio.CopyTo(HumidityRatio, 0);
        MistKg = Balance.MistKgPerS.Sum() * seconds;
        for (int k = 0; k < FilmKgPerM2.Length; k++)
        {
            CondensedKgPerM2[k] = Balance.CondensingKgPerS[k] * seconds / _night.Surfaces[k].AreaM2;
            FilmKgPerM2[k] = CondensedKgPerM2[k];
        }

        double[] shares = TraceGas.Shares(Air.TransportKgPerS, GasSources(), OutdoorCarbonDioxideShare, _night.ZoneCount);
        shares.CopyTo(CarbonDioxideShare, 0);
    }

    private double AirKg(int zone) => Air.ZoneDensityKgPerM3[zone] * _night.Network.ZoneVolumeM3[zone];

    // Zone i: m (W' - W)/dt = sum F (Wj' - W') + source - sum A g; surface: g = beta (pv' - psat), at least -film/dt.
    private void RunWater(SituationStart start)
    {
        int zones = _night.ZoneCount;
        double dt = Situation.Lasts.Seconds / WaterSteps;
        start.HumidityRatio.CopyTo(HumidityRatio, 0);
        start.FilmKgPerM2.CopyTo(FilmKgPerM2, 0);
        Array.Clear(CondensedKgPerM2);
        MistKg = 0;
        for (int k = 0; k < _beta.Length; k++)
        {
            NightSurface surface = _night.Surfaces[k];
            double dryC = surface.Path.SurfaceTemperatureC(Balance.TemperatureC[surface.Zone], Balance.BehindC(k));
            double latent = NightBalance.LatentHeat(dryC);
            double beta = Balance.VapourCoefficientKgPerM2SPa[k];
            _saturationPa[k] = Saturation(dryC);
            _beta[k] = beta / (1 + (beta * MoistAir.SaturationPressureSlopePaPerK(dryC) * latent / surface.Path.SurfaceConductanceWPerM2K));
            _wet[k] = FilmKgPerM2[k] > 0;
        }

        for (int d = 0; d < _drying.Length; d++)
        {
            RunningDryer dryer = _night.Dryers[d];
            double airC = Balance.TemperatureC[dryer.Zone];
            double saturationPa = Saturation(airC);
            _dryerKgPerSPa[d] = Balance.DryersRun ? dryer.KgPerSPa(airC, saturationPa) : 0;
            _dryerLowestPa[d] = dryer.LowestPa(saturationPa);
            _drying[d] = true;
        }

        for (int zone = 0; zone < zones; zone++)
        {
            _saturatedRatio[zone] = MoistAir.HumidityRatio(Saturation(Balance.TemperatureC[zone]), Balance.PressurePa);
        }

        for (int step = 0; step < WaterSteps; step++)
        {
            StepWater(dt, zones);
        }
    }

    private void StepWater(double dt, int zones)
    {
        for (int k = 0; k < _evaporable.Length; k++)
        {
            _evaporable[k] = FilmKgPerM2[k] / dt;
        }

        // The set of surfaces that exchange at beta, the others giving off the rest of their film: at most a few turns.
        for (int turn = 0; ; turn++)
        {
            AssembleWater(dt, zones);
            AddDryers(zones);
            LinearSystem.Solve(_matrix, _right, zones);
            bool same = true;
            for (int k = 0; k < _beta.Length; k++)
            {
                double flux = _beta[k] * (VapourPressure(_night.Surfaces[k].Zone, _right) - _saturationPa[k]);
                bool wet = flux > -_evaporable[k];
                same &= wet == _wet[k];
                _wet[k] = wet;
            }

            for (int d = 0; d < _drying.Length; d++)
            {
                bool drying = VapourPressure(_night.Dryers[d].Zone, _right) > _dryerLowestPa[d];
                same &= drying == _drying[d];
                _drying[d] = drying;
            }

            if (same)
            {
                break;
            }

            if (turn == 4 * (_beta.Length + _drying.Length))
            {
                throw new NightNotConvergedException($"The water of the situation '{Situation.Key}' did not settle.");
            }
        }

        for (int k = 0; k < _beta.Length; k++)
        {
            double flux = _wet[k] ? _beta[k] * (VapourPressure(_night.Surfaces[k].Zone, _right) - _saturationPa[k]) : -_evaporable[k];
            FilmKgPerM2[k] = Math.Max(0, FilmKgPerM2[k] + (flux * dt));
            CondensedKgPerM2[k] += Math.Max(0, flux * dt);
        }

        for (int zone = 0; zone < zones; zone++)
        {
            // What the air cannot hold at the end of a step falls out of it.
            double held = Math.Min(_right[zone], _saturatedRatio[zone]);
            MistKg += AirKg(zone) * (_right[zone] - held);
            HumidityRatio[zone] = held;
        }
    }

    // Vapour pressure as a straight line of the humidity ratio through the step's start, the same in matrix and flux.
    private double VapourPressure(int zone, double[] ratio) =>
        MoistAir.VapourPressurePa(HumidityRatio[zone], Balance.PressurePa) + (Slope(zone) * (ratio[zone] - HumidityRatio[zone]));

    private double Slope(int zone)
    {
        double sum = MoistAir.MolarMassRatio + HumidityRatio[zone];
        return Balance.PressurePa * MoistAir.MolarMassRatio / (sum * sum);
    }

    private void AssembleWater(double dt, int zones)
    {
        ReadOnlySpan<double> transport = Air.TransportKgPerS;
        Array.Clear(_matrix);
        for (int i = 0; i < zones; i++)
        {
            double store = AirKg(i) / dt;
            double diagonal = store;
            double right = (store * HumidityRatio[i]) + Balance.WaterKgPerS[i]
                + (i == _night.HeaterZone ? Balance.HeaterW * Balance.HeaterWaterKgPerJ : 0);
            for (int j = 0; j <= zones; j++)
            {
                double flow = transport[(i * (zones + 1)) + j];
                diagonal += flow;
                if (j < zones)
                {
                    _matrix[(i * zones) + j] -= flow;
                }
                else
                {
                    right += flow * Balance.OutdoorHumidityRatio;
                }
            }

            _matrix[(i * zones) + i] += diagonal;
            _right[i] = right;
        }

        for (int k = 0; k < _beta.Length; k++)
        {
            NightSurface surface = _night.Surfaces[k];
            int zone = surface.Zone;
            if (_wet[k])
            {
                double conductance = surface.AreaM2 * _beta[k];
                double slope = Slope(zone);
                _matrix[(zone * zones) + zone] += conductance * slope;
                _right[zone] -= conductance
                    * (MoistAir.VapourPressurePa(HumidityRatio[zone], Balance.PressurePa) - (slope * HumidityRatio[zone]) - _saturationPa[k]);
            }
            else
            {
                _right[zone] += surface.AreaM2 * _evaporable[k];
            }
        }
    }

    private void AddDryers(int zones)
    {
        for (int d = 0; d < _drying.Length; d++)
        {
            if (_drying[d])
            {
                int zone = _night.Dryers[d].Zone;
                double slope = Slope(zone);
                _matrix[(zone * zones) + zone] += _dryerKgPerSPa[d] * slope;
                _right[zone] -= _dryerKgPerSPa[d]
                    * (MoistAir.VapourPressurePa(HumidityRatio[zone], Balance.PressurePa) - (slope * HumidityRatio[zone]) - _dryerLowestPa[d]);
            }
        }
    }

    private void RunCarbonDioxide(SituationStart start)
    {
        int zones = _night.ZoneCount;
        double dt = Situation.Lasts.Seconds / WaterSteps;
        start.CarbonDioxideShare.CopyTo(CarbonDioxideShare, 0);
        double[] sources = GasSources();
        ReadOnlySpan<double> transport = Air.TransportKgPerS;
        for (int step = 0; step < WaterSteps; step++)
        {
            Array.Clear(_matrix);
            for (int i = 0; i < zones; i++)
            {
                double store = AirKg(i) / dt;
                _right[i] = (store * CarbonDioxideShare[i]) + sources[i] + (transport[(i * (zones + 1)) + zones] * OutdoorCarbonDioxideShare);
                double diagonal = store + transport[(i * (zones + 1)) + zones];
                for (int j = 0; j < zones; j++)
                {
                    double flow = transport[(i * (zones + 1)) + j];
                    diagonal += flow;
                    _matrix[(i * zones) + j] -= flow;
                }

                _matrix[(i * zones) + i] += diagonal;
            }

            LinearSystem.Solve(_matrix, _right, zones);
            _right.CopyTo(CarbonDioxideShare, 0);
        }
    }

    // Moles as the mass of air they displace.
    private double[] GasSources()
    {
        double[] sources = [.. _sources.CarbonDioxideMolPerS.Select(molPerS => MoistAir.DryAirKgPerMol * molPerS)];
        if (_flame is Fuel fuel)
        {
            sources[_night.HeaterZone] += MoistAir.DryAirKgPerMol * 1000 * fuel.CarbonKmolPerKg * Balance.HeaterW / fuel.LowerHeatingValueJPerKg;
        }

        return sources;
    }

    private void Read(double[] state)
    {
        int zones = _night.ZoneCount;
        for (int zone = 0; zone < zones; zone++)
        {
            state[zone] = Balance.TemperatureC[zone];
            state[zones + zone] = LightnessK * Balance.HumidityRatio[zone];
        }
    }

    private static double LargestDifference(double[] a, double[] b)
    {
        double largest = 0;
        for (int i = 0; i < a.Length; i++)
        {
            largest = Math.Max(largest, Math.Abs(a[i] - b[i]));
        }

        return largest;
    }
}
