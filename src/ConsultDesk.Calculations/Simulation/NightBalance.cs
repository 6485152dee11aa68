using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Moisture;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>What the heater does.</summary>
internal enum HeaterMode
{
    /// <summary>Gives nothing.</summary>
    Off,

    /// <summary>Holds the set point in its zone.</summary>
    Holding,

    /// <summary>Gives all it can and does not reach the set point.</summary>
    Limited,
}

/// <summary>
/// The steady heat and water balance of all zones at given air flows. Unknowns are the temperature and humidity ratio
/// of each zone and the heater's output; each Newton step solves them together, with every surface's temperature
/// eliminated. Which surfaces are wet, which zones are saturated and what the heater does is an active set: solved,
/// tested, corrected until nothing changes.
/// </summary>
/// <remarks>
/// For a wet surface: g = beta (pv - psat(Ts)), Ts = Tdry + L g / H, so with the tangent of psat
/// g = beta (pv - psat* - psat' (Tdry - Ts*)) / (1 + beta psat' L / H). The same g is used in the zone's water, the
/// zone's heat and the report, so that both balances close to rounding.
/// </remarks>
internal sealed class NightBalance
{
    // A saturated zone sheds its surplus as mist: so steep that its vapour stays within a few hundredths of a pascal of saturation.
    private const double MistKgPerSPa = 1e-3;

    // Droplets of mist stay liquid far below freezing.
    private const double MistHeat = MoistAir.EvaporationHeat;

    // Stands for the temperature of the air between cover and glass.
    private const double CoverGapC = 10;

    // Far inside what the rounds with the air flows ask; the balances close to rounding whatever is left here.
    private const double TemperatureToleranceK = 1e-8;
    private const double HumidityTolerance = 1e-11;
    // A ten-thousandth of a gram a day.
    private const double DriedToleranceKgPerS = 1e-12;
    private const int MaximumSteps = 200;

    private readonly NightModel _model;
    private readonly int _zones;
    private readonly int _size;
    private readonly double[] _matrix;
    private readonly double[] _right;
    private readonly double[] _beta;
    private readonly bool[] _wet;
    private readonly bool[] _saturated;
    private readonly bool[] _drying;

    public NightBalance(NightModel model)
    {
        _model = model;
        _zones = model.ZoneCount;
        _size = (2 * _zones) + 1;
        _matrix = new double[_size * _size];
        _right = new double[_size];
        TemperatureC = new double[_zones];
        HumidityRatio = new double[_zones];
        MistKgPerS = new double[_zones];
        MistHeatW = new double[_zones];
        _saturated = new bool[_zones];
        _drying = new bool[model.Dryers.Length];
        DriedKgPerS = new double[model.Dryers.Length];
        int surfaces = model.Surfaces.Length;
        _beta = new double[surfaces];
        _wet = new bool[surfaces];
        SurfaceC = new double[surfaces];
        CondensingKgPerS = new double[surfaces];
        SensibleW = new double[_zones];
        WaterKgPerS = new double[_zones];
        StorageWPerK = new double[_zones];
        StoredC = new double[_zones];
        StorageKgPerS = new double[_zones];
        StoredHumidityRatio = new double[_zones];
    }

    /// <summary>Outdoor temperature.</summary>
    public double OutdoorC { get; set; }

    /// <summary>What a black level surface loses to the sky the van sees, W/m2.</summary>
    public double SkyLossWPerM2 { get; set; }

    /// <summary>The coldest the sky can make anything outside: below it no zone gets.</summary>
    public double ColdestBehindC => _model.Surfaces.Select((_, k) => BehindC(k)).Append(_model.OtherBehindC(OutdoorC, SkyLossWPerM2)).Min();

    /// <summary>Air that would cool a surface as outdoor air and sky do.</summary>
    public double BehindC(int k) => _model.Surfaces[k].BehindC(OutdoorC, SkyLossWPerM2);

    /// <summary>Outdoor humidity ratio.</summary>
    public double OutdoorHumidityRatio { get; set; }

    /// <summary>Barometric pressure.</summary>
    public double PressurePa { get; set; }

    /// <summary>Sensible heat given off in each zone, heater apart.</summary>
    public double[] SensibleW { get; }

    /// <summary>Water given off in each zone, heater apart.</summary>
    public double[] WaterKgPerS { get; }

    /// <summary>Heat stored in each zone over the time step, for one implicit step; 0 for the steady state.</summary>
    public double[] StorageWPerK { get; }

    /// <summary>Temperature of each zone before the step.</summary>
    public double[] StoredC { get; }

    /// <summary>Dry air of each zone over the time step, for one implicit step; 0 for the steady state.</summary>
    public double[] StorageKgPerS { get; }

    /// <summary>Humidity ratio of each zone before the step.</summary>
    public double[] StoredHumidityRatio { get; }

    /// <summary>Dryers run.</summary>
    public bool DryersRun { get; set; }

    /// <summary>Water each running dryer takes out of the air.</summary>
    public double[] DriedKgPerS { get; }

    /// <summary>How many times further off than usual the balance may settle; both balances close all the same.</summary>
    public double Coarseness { get; init; } = 1;

    /// <summary>Most the heater can give; 0 without a heater.</summary>
    public double HeaterLimitW { get; set; }

    /// <summary>Temperature the heater holds in its zone.</summary>
    public double SetPointC { get; set; }

    /// <summary>Water the heater's flame adds per joule of heat.</summary>
    public double HeaterWaterKgPerJ { get; set; }

    /// <summary>Temperature of each zone.</summary>
    public double[] TemperatureC { get; }

    /// <summary>Humidity ratio of each zone, kg of water per kg of dry air.</summary>
    public double[] HumidityRatio { get; }

    /// <summary>Water leaving the saturated air of each zone as mist.</summary>
    public double[] MistKgPerS { get; }

    /// <summary>Heat the mist gives back in each zone.</summary>
    public double[] MistHeatW { get; }

    /// <summary>Temperature of each surface.</summary>
    public double[] SurfaceC { get; }

    /// <summary>Coefficient of vapour transfer to each surface, covers included.</summary>
    public ReadOnlySpan<double> VapourCoefficientKgPerM2SPa => _beta;

    /// <summary>Water condensing on each surface, 0 or more.</summary>
    public double[] CondensingKgPerS { get; }

    /// <summary>Output of the heater.</summary>
    public double HeaterW { get; private set; }

    /// <summary>What the heater does.</summary>
    public HeaterMode Heater { get; private set; }

    /// <summary>
    /// Heat released by water condensing on a surface, J/kg: of freezing below <see cref="AllFrozenC"/>, of liquid above
    /// 0, and a straight line between, so that a surface at the freezing point has one answer.
    /// </summary>
    internal static double LatentHeat(double surfaceC) => surfaceC switch
    {
        <= AllFrozenC => MoistAir.SublimationHeat,
        >= 0 => MoistAir.EvaporationHeat,
        _ => MoistAir.EvaporationHeat + (surfaceC / AllFrozenC * (MoistAir.SublimationHeat - MoistAir.EvaporationHeat)),
    };

    /// <summary>Where all that condenses freezes; above it part stays liquid. Our judgement: water films undercool by some kelvin.</summary>
    internal const double AllFrozenC = -4;

    /// <summary>Starts from one temperature and the outdoor air's humidity everywhere.</summary>
    public void Start(double temperatureC)
    {
        Array.Fill(TemperatureC, temperatureC);
        Array.Fill(HumidityRatio, OutdoorHumidityRatio);
        Array.Clear(_wet);
        Array.Clear(_saturated);
        Array.Fill(_drying, DryersRun);
        Array.Clear(DriedKgPerS);
        Heater = HeaterLimitW > 0 ? HeaterMode.Holding : HeaterMode.Off;
        // Density falls with temperature as fast as 1/T, so the coefficient does not depend on the temperature chosen.
        double bare = VapourTransfer.CoefficientKgPerM2SPa(
            _model.SurfaceConvectionWPerM2K, CoverGapC, MoistAir.DensityKgPerM3(CoverGapC, 0, PressurePa));
        for (int k = 0; k < _beta.Length; k++)
        {
            double exchange = _model.Surfaces[k].AirBehindCoverMPerS;
            _beta[k] = double.IsFinite(exchange)
                ? VapourTransfer.InSeries(bare, VapourTransfer.ByAirExchangeKgPerM2SPa(exchange, CoverGapC))
                : bare;
            SurfaceC[k] = _model.Surfaces[k].Path.SurfaceTemperatureC(temperatureC, BehindC(k));
        }
    }

    /// <summary>Puts the zones at temperatures nearer to the answer, after <see cref="Start"/>.</summary>
    public void StartFrom(ReadOnlySpan<double> temperatureC) => temperatureC.CopyTo(TemperatureC);

    /// <summary>Solves the balance for the air flows given.</summary>
    /// <param name="transportKgPerS">Air from node j into zone i at [i * (zones + 1) + j], outside last.</param>
    /// <exception cref="NightNotConvergedException">The balance did not settle.</exception>
    public void Solve(ReadOnlySpan<double> transportKgPerS)
    {
        for (int step = 0; step < MaximumSteps; step++)
        {
            Assemble(transportKgPerS);
            LinearSystem.Solve(_matrix, _right, _size);
            double change = TakeOver();
            bool sameSet = Retest();
            if (sameSet && change < Coarseness)
            {
                return;
            }
        }

        throw new NightNotConvergedException($"The heat and water balance of the zones did not settle in {MaximumSteps} steps.");
    }

    private void Assemble(ReadOnlySpan<double> transportKgPerS)
    {
        Array.Clear(_matrix);
        Array.Clear(_right);
        int heater = 2 * _zones;
        for (int i = 0; i < _zones; i++)
        {
            int heat = i;
            int water = _zones + i;
            double otherWPerK = _model.OtherLossWPerK[i];
            Add(heat, heat, -otherWPerK);
            _right[heat] -= SensibleW[i] + (otherWPerK * _model.OtherBehindC(OutdoorC, SkyLossWPerM2));
            _right[water] -= WaterKgPerS[i];
            Add(heat, heat, -StorageWPerK[i]);
            _right[heat] -= StorageWPerK[i] * StoredC[i];
            Add(water, water, -StorageKgPerS[i]);
            _right[water] -= StorageKgPerS[i] * StoredHumidityRatio[i];
            for (int j = 0; j <= _zones; j++)
            {
                double flow = transportKgPerS[(i * (_zones + 1)) + j];
                if (flow == 0)
                {
                    continue;
                }

                double flowWPerK = flow * MoistAir.DryAirHeatCapacity;
                Add(heat, heat, -flowWPerK);
                Add(water, water, -flow);
                if (j < _zones)
                {
                    Add(heat, j, flowWPerK);
                    Add(water, _zones + j, flow);
                }
                else
                {
                    _right[heat] -= flowWPerK * OutdoorC;
                    _right[water] -= flow * OutdoorHumidityRatio;
                }
            }
        }

        foreach (Partition partition in _model.Partitions)
        {
            Add(partition.ZoneA, partition.ZoneA, -partition.ConductanceWPerK);
            Add(partition.ZoneA, partition.ZoneB, partition.ConductanceWPerK);
            Add(partition.ZoneB, partition.ZoneB, -partition.ConductanceWPerK);
            Add(partition.ZoneB, partition.ZoneA, partition.ConductanceWPerK);
        }

        for (int k = 0; k < _wet.Length; k++)
        {
            AddSurface(k);
        }

        for (int i = 0; i < _zones; i++)
        {
            if (_saturated[i])
            {
                AddMist(i);
            }
        }

        for (int d = 0; d < _drying.Length; d++)
        {
            if (_drying[d])
            {
                AddDryer(d);
            }
        }

        int hot = _model.HeaterZone;
        Add(hot, heater, 1);
        Add(_zones + hot, heater, HeaterWaterKgPerJ);
        if (Heater == HeaterMode.Holding)
        {
            Add(heater, hot, 1);
            _right[heater] = SetPointC;
        }
        else
        {
            Add(heater, heater, 1);
            _right[heater] = Heater == HeaterMode.Limited ? HeaterLimitW : 0;
        }

        // Water rows in watts, so that rows of both kinds compare when a pivot is chosen.
        for (int row = _zones; row < 2 * _zones; row++)
        {
            for (int column = 0; column < _size; column++)
            {
                _matrix[(row * _size) + column] *= MoistAir.EvaporationHeat;
            }

            _right[row] *= MoistAir.EvaporationHeat;
        }
    }

    private void AddSurface(int k)
    {
        NightSurface surface = _model.Surfaces[k];
        int heat = surface.Zone;
        double lossWPerK = surface.AreaM2 * surface.Path.UValueWPerM2K;
        Add(heat, heat, -lossWPerK);
        _right[heat] -= lossWPerK * BehindC(k);
        if (!_wet[k])
        {
            return;
        }

        Flux flux = Linearise(k);
        int water = _zones + surface.Zone;
        Add(water, heat, -surface.AreaM2 * flux.PerKelvin);
        Add(water, water, -surface.AreaM2 * flux.PerHumidityRatio);
        _right[water] += surface.AreaM2 * flux.Constant;
        double backW = surface.AreaM2 * flux.LatentHeat * BackToRoom(surface);
        Add(heat, heat, backW * flux.PerKelvin);
        Add(heat, water, backW * flux.PerHumidityRatio);
        _right[heat] -= backW * flux.Constant;
    }

    private void AddMist(int zone)
    {
        double saturationPa = MoistAir.SaturationPressurePa(TemperatureC[zone]);
        double slope = MoistAir.SaturationPressureSlopePaPerK(TemperatureC[zone]);
        (double constantPa, double paPerRatio) = VapourPressure(zone);
        double perKelvin = -MistKgPerSPa * slope;
        double perRatio = MistKgPerSPa * paPerRatio;
        double constant = MistKgPerSPa * (constantPa - saturationPa + (slope * TemperatureC[zone]));
        int water = _zones + zone;
        Add(water, zone, -perKelvin);
        Add(water, water, -perRatio);
        _right[water] += constant;
        Add(zone, zone, MistHeat * perKelvin);
        Add(zone, water, MistHeat * perRatio);
        _right[zone] -= MistHeat * constant;
    }

    private void AddDryer(int d)
    {
        int zone = _model.Dryers[d].Zone;
        Flux dried = LineariseDryer(d);
        int water = _zones + zone;
        Add(water, zone, -dried.PerKelvin);
        Add(water, water, -dried.PerHumidityRatio);
        _right[water] += dried.Constant;
        Add(zone, zone, MoistAir.EvaporationHeat * dried.PerKelvin);
        Add(zone, water, MoistAir.EvaporationHeat * dried.PerHumidityRatio);
        _right[zone] -= MoistAir.EvaporationHeat * dried.Constant;
    }

    // r = C (pv/psat - RH0): the tangent in pv and psat. How C changes with temperature is left to the next step: where a
    // compressor thaws, warmth makes it dry and dry air makes warmth, and a tangent could jump between two answers.
    private Flux LineariseDryer(int d)
    {
        RunningDryer dryer = _model.Dryers[d];
        double temperatureC = TemperatureC[dryer.Zone];
        double saturationPa = MoistAir.SaturationPressurePa(temperatureC);
        double perPa = dryer.KgPerSPa(temperatureC, saturationPa);
        (double constantPa, double paPerRatio) = VapourPressure(dryer.Zone);
        double vapourPa = MoistAir.VapourPressurePa(HumidityRatio[dryer.Zone], PressurePa);
        double perKelvin = -perPa * vapourPa / saturationPa * MoistAir.SaturationPressureSlopePaPerK(temperatureC);
        return new Flux((perPa * (constantPa - dryer.LowestPa(saturationPa))) - (perKelvin * temperatureC), perKelvin, perPa * paPerRatio, 0);
    }

    // Flux per area = constant + PerKelvin T + PerHumidityRatio W.
    private readonly record struct Flux(double Constant, double PerKelvin, double PerHumidityRatio, double LatentHeat);

    private Flux Linearise(int k)
    {
        NightSurface surface = _model.Surfaces[k];
        double surfaceC = SurfaceC[k];
        double saturationPa = MoistAir.SaturationPressurePa(surfaceC);
        double slope = MoistAir.SaturationPressureSlopePaPerK(surfaceC);
        double latent = LatentHeat(surfaceC);
        double beta = _beta[k] / (1 + (_beta[k] * slope * latent / surface.Path.SurfaceConductanceWPerM2K));
        (double constantPa, double paPerRatio) = VapourPressure(surface.Zone);
        double room = BackToRoom(surface);
        return new Flux(
            beta * (constantPa - saturationPa - (slope * (((1 - room) * BehindC(k)) - surfaceC))),
            -beta * slope * room,
            beta * paPerRatio,
            latent);
    }

    /// <summary>
    /// Share of heat set free at a surface that goes to the room; also the room's weight in the dry surface's
    /// temperature: Router / (Rinner + Router).
    /// </summary>
    private static double BackToRoom(NightSurface surface) =>
        surface.Path.OutsideM2KPerW / (surface.Path.InsideM2KPerW + surface.Path.OutsideM2KPerW);

    // Tangent of the vapour pressure at the present humidity ratio: constant + slope W.
    private (double ConstantPa, double PaPerRatio) VapourPressure(int zone)
    {
        double ratio = HumidityRatio[zone];
        double sum = MoistAir.MolarMassRatio + ratio;
        double slope = PressurePa * MoistAir.MolarMassRatio / (sum * sum);
        return (MoistAir.VapourPressurePa(ratio, PressurePa) - (slope * ratio), slope);
    }

    // Takes over the solution and returns the largest change in multiples of the tolerance.
    private double TakeOver()
    {
        double change = 0;
        Span<Flux> flux = stackalloc Flux[_wet.Length];
        for (int k = 0; k < _wet.Length; k++)
        {
            flux[k] = _wet[k] ? Linearise(k) : default;
        }

        for (int d = 0; d < _drying.Length; d++)
        {
            Flux dried = _drying[d] ? LineariseDryer(d) : default;
            int zone = _model.Dryers[d].Zone;
            double kgPerS = dried.Constant + (dried.PerKelvin * _right[zone]) + (dried.PerHumidityRatio * _right[_zones + zone]);
            change = Math.Max(change, Math.Abs(kgPerS - DriedKgPerS[d]) / DriedToleranceKgPerS);
            DriedKgPerS[d] = kgPerS;
        }

        for (int i = 0; i < _zones; i++)
        {
            MistKgPerS[i] = 0;
            MistHeatW[i] = 0;
            if (_saturated[i])
            {
                double saturationPa = MoistAir.SaturationPressurePa(TemperatureC[i]);
                double slope = MoistAir.SaturationPressureSlopePaPerK(TemperatureC[i]);
                (double constantPa, double paPerRatio) = VapourPressure(i);
                MistKgPerS[i] = MistKgPerSPa
                    * (constantPa - saturationPa + (slope * (TemperatureC[i] - _right[i])) + (paPerRatio * _right[_zones + i]));
                MistHeatW[i] = MistHeat * MistKgPerS[i];
            }
        }

        for (int i = 0; i < _zones; i++)
        {
            change = Math.Max(change, Math.Abs(_right[i] - TemperatureC[i]) / TemperatureToleranceK);
            change = Math.Max(change, Math.Abs(_right[_zones + i] - HumidityRatio[i]) / HumidityTolerance);
            TemperatureC[i] = _right[i];
            // A far-off first step may overshoot into negative humidity, where the vapour pressure has no meaning.
            HumidityRatio[i] = Math.Max(_right[_zones + i], 0);
        }

        HeaterW = _right[2 * _zones];
        for (int k = 0; k < _wet.Length; k++)
        {
            NightSurface surface = _model.Surfaces[k];
            double perM2 = _wet[k]
                ? flux[k].Constant + (flux[k].PerKelvin * TemperatureC[surface.Zone]) + (flux[k].PerHumidityRatio * HumidityRatio[surface.Zone])
                : 0;
            CondensingKgPerS[k] = perM2 * surface.AreaM2;
            double dryC = surface.Path.SurfaceTemperatureC(TemperatureC[surface.Zone], BehindC(k));
            double surfaceC = dryC + (flux[k].LatentHeat * perM2 / surface.Path.SurfaceConductanceWPerM2K);
            change = Math.Max(change, Math.Abs(surfaceC - SurfaceC[k]) / TemperatureToleranceK);
            SurfaceC[k] = surfaceC;
        }

        return change;
    }

    private bool Retest()
    {
        bool same = true;
        for (int k = 0; k < _wet.Length; k++)
        {
            bool wet = _wet[k]
                ? CondensingKgPerS[k] > 0
                : MoistAir.VapourPressurePa(HumidityRatio[_model.Surfaces[k].Zone], PressurePa) > MoistAir.SaturationPressurePa(SurfaceC[k]);
            same &= wet == _wet[k];
            _wet[k] = wet;
        }

        for (int i = 0; i < _zones; i++)
        {
            bool saturated = _saturated[i]
                ? MistKgPerS[i] > 0
                : MoistAir.VapourPressurePa(HumidityRatio[i], PressurePa) > MoistAir.SaturationPressurePa(TemperatureC[i]);
            same &= saturated == _saturated[i];
            _saturated[i] = saturated;
        }

        for (int d = 0; d < _drying.Length; d++)
        {
            RunningDryer dryer = _model.Dryers[d];
            double saturationPa = MoistAir.SaturationPressurePa(TemperatureC[dryer.Zone]);
            // At its lowest humidity either answer removes nothing.
            bool drying = DryersRun && (_drying[d]
                ? DriedKgPerS[d] > -DriedToleranceKgPerS
                : MoistAir.VapourPressurePa(HumidityRatio[dryer.Zone], PressurePa) > dryer.LowestPa(saturationPa));
            same &= drying == _drying[d];
            _drying[d] = drying;
        }

        double heatedC = TemperatureC[_model.HeaterZone];
        HeaterMode mode = Heater switch
        {
            HeaterMode.Holding when HeaterW < 0 => HeaterMode.Off,
            HeaterMode.Holding when HeaterW > HeaterLimitW => HeaterMode.Limited,
            HeaterMode.Off when HeaterLimitW > 0 && heatedC < SetPointC - TemperatureToleranceK => HeaterMode.Holding,
            HeaterMode.Limited when heatedC > SetPointC + TemperatureToleranceK => HeaterMode.Holding,
            HeaterMode unchanged => unchanged,
        };
        same &= mode == Heater;
        Heater = mode;
        return same;
    }

    private void Add(int row, int column, double value) => _matrix[(row * _size) + column] += value;
}
