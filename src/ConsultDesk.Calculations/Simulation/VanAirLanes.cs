using System.Globalization;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Airflow;
using ConsultDesk.Calculations.Heating;
using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// The air flows through time of one van in each lane, all with the same zones, weather and household; <see cref="VanAir"/> is a single one. Openings of all
/// lanes share places, and a lane that lacks one keeps what is set there unread.
/// </summary>
internal sealed class VanAirLanes<TLane>
    where TLane : struct, ILane<TLane>
{
    private readonly LaneNetwork<TLane> _network;
    private readonly VanModel[] _vans;
    private readonly int[][] _openingPlace;
    private readonly int[] _openingPath;
    private readonly TLane[] _isOpening;
    private readonly TLane[] _isFan;
    private readonly TLane[] _fullFanW;
    private readonly TLane[] _coverLoss;
    private readonly bool[] _isCovered;
    private readonly TLane[] _isAboveCooker;
    private readonly int[] _aboveCooker;
    private readonly int[] _circulationPath;
    private readonly TLane[] _isCirculation;
    private readonly TLane _electronicsW;
    private readonly TLane _circulationW;
    private readonly TLane[] _wind;
    private readonly int[] _windPath;
    private readonly TLane[] _windCoefficient;

    /// <summary>Puts vans side by side.</summary>
    /// <param name="vans">One for each lane.</param>
    public VanAirLanes(VanModel[] vans)
        : this(vans, new LaneNetwork<TLane>([.. vans.Select(van => van.Night.Network)]))
    {
    }

    private VanAirLanes(VanModel[] vans, LaneNetwork<TLane> network)
        : this(vans, network, network.CreateFlow())
    {
    }

    /// <summary>The same with the network and the memory of its answers at hand.</summary>
    internal VanAirLanes(VanModel[] vans, LaneNetwork<TLane> network, LaneAirFlow<TLane> flow)
    {
        _vans = vans;
        _network = network;
        State = network.CreateState();
        Flow = flow;
        _openingPlace = new int[_vans.Length][];
        List<int> openings = [];
        List<int> circulations = [];
        List<int> winds = [];
        for (int lane = 0; lane < _vans.Length; lane++)
        {
            NightModel night = _vans[lane].Night;
            _openingPlace[lane] = [.. night.OpeningPaths.Select(path => Added(openings, _network.PlaceOf(lane, path!.Value.Index)))];
            foreach (int path in night.CirculationPaths)
            {
                Added(circulations, _network.PlaceOf(lane, path));
            }

            foreach ((int path, _) in night.WindCoefficients)
            {
                Added(winds, _network.PlaceOf(lane, path));
            }
        }

        _openingPath = [.. openings];
        _circulationPath = [.. circulations];
        _windPath = [.. winds];
        OpenShare = new TLane[openings.Count];
        FanSpeed = new TLane[openings.Count];
        _isOpening = new TLane[openings.Count];
        _isFan = new TLane[openings.Count];
        _fullFanW = new TLane[openings.Count];
        _coverLoss = new TLane[openings.Count];
        _isAboveCooker = new TLane[openings.Count];
        _isCirculation = new TLane[circulations.Count];
        _windCoefficient = new TLane[winds.Count];
        _wind = new TLane[Enum.GetValues<Shelter>().Length];
        for (int lane = 0; lane < _vans.Length; lane++)
        {
            NightModel night = _vans[lane].Night;
            PutOpenings(lane, night);
            foreach (int index in _vans[lane].CapturePaths)
            {
                Add(_isAboveCooker, _openingPlace[lane][index], lane);
            }

            foreach (int path in night.CirculationPaths)
            {
                Add(_isCirculation, circulations.IndexOf(_network.PlaceOf(lane, path)), lane);
            }

            foreach ((int path, double coefficient) in night.WindCoefficients)
            {
                Set(_windCoefficient, winds.IndexOf(_network.PlaceOf(lane, path)), lane, coefficient);
            }

            foreach (Shelter shelter in Enum.GetValues<Shelter>())
            {
                Set(_wind, (int)shelter, lane, night.ShelterFactor(shelter));
            }

            _electronicsW = TLane.With(_electronicsW, lane, night.Assumed["fan-electronics"]);
            _circulationW = TLane.With(_circulationW, lane, NightModel.RunningFans(night.Design).Sum(fan => (double)fan.ElectricDraw.Watts));
        }

        _isCovered = [.. _coverLoss.Select(loss => TLane.Any(TLane.Less(TLane.Zero, loss)))];
        _aboveCooker = [.. Enumerable.Range(0, openings.Count).Where(place => TLane.Any(_isAboveCooker[place]))];
    }

    /// <summary>Share of its full free area each opening stands open, by its <see cref="PlaceOf"/>.</summary>
    public TLane[] OpenShare { get; }

    /// <summary>Speed of each opening's fan, in the same way.</summary>
    public TLane[] FanSpeed { get; }

    /// <summary>The latest flows.</summary>
    public LaneAirFlow<TLane> Flow { get; }

    /// <summary>What drives the air at the latest solve.</summary>
    public LaneAirState<TLane> State { get; }

    /// <summary>Outdoor air entering at the latest flows.</summary>
    public TLane OutdoorAirM3PerS { get; private set; }

    /// <summary>Electric draw of all fans at the latest setting.</summary>
    public TLane FanW { get; private set; }

    /// <summary>Net air leaving by the openings above the cooker, m3/s.</summary>
    public TLane AboveCookerM3PerS { get; private set; }

    /// <summary>Network solves so far, each of all lanes.</summary>
    public int Solves { get; private set; }

    /// <summary>Newton steps each lane took in all solves.</summary>
    public TLane NewtonSteps { get; private set; }

    /// <summary>Where a lane's opening stands in <see cref="OpenShare"/> and <see cref="FanSpeed"/>.</summary>
    public int PlaceOf(int lane, int opening) => _openingPlace[lane][opening];

    /// <summary>Where a lane's opening stands among the paths of <see cref="Flow"/>; what leaves by it is that path's flow out.</summary>
    public int PathOf(int lane, int opening) => _openingPath[_openingPlace[lane][opening]];

    /// <summary>Forgets the pressures, so that the next solve starts cold.</summary>
    public void Reset() => Flow.Reset();

    /// <summary>Solves the networks for the openings as set and the zones as they are.</summary>
    /// <param name="zoneC">Temperature of each zone.</param>
    /// <param name="humidityRatio">Humidity ratio of each zone.</param>
    /// <param name="outdoor">Outdoor air, the same for all.</param>
    /// <param name="occupied">Somebody is in the van.</param>
    /// <param name="covered">Covers hang in the vans that have some.</param>
    /// <param name="asked">Lanes to solve.</param>
    /// <returns>Lanes that have been solved; <see cref="Failure"/> says why another has not.</returns>
    public TLane Solve(ReadOnlySpan<TLane> zoneC, ReadOnlySpan<TLane> humidityRatio, in Outdoor outdoor, bool occupied, bool covered, TLane asked)
    {
        SetPaths(occupied, covered);
        TLane known = asked;
        for (int zone = 0; zone < zoneC.Length; zone++)
        {
            State.TemperatureC[zone] = zoneC[zone];
            State.HumidityRatioKgPerKg[zone] = humidityRatio[zone];
            known = TLane.And(known, TLane.And(
                TLane.LessOrEqual(TLane.Of(MoistAir.TemperatureRange.Minimum), zoneC[zone]),
                TLane.LessOrEqual(zoneC[zone], TLane.Of(MoistAir.TemperatureRange.Maximum))));
        }

        SetOutdoor(outdoor);
        TLane solved = _network.Solve(State, Flow, VanAir.ToleranceKgPerS, AirNetwork.MaximumIterations, known);
        Solves++;
        NewtonSteps += Flow.Iterations;
        Gather();
        return solved;
    }

    /// <summary>Why a lane that was asked for is not among those the latest <see cref="Solve"/> gave.</summary>
    public CalculationFailedException Failure(int lane)
    {
        for (int zone = 0; zone < _network.ZoneCount; zone++)
        {
            double celsius = State.TemperatureC[zone][lane];
            if (!MoistAir.TemperatureRange.Contains(celsius))
            {
                return new AirOutOfRangeException(string.Create(
                    CultureInfo.InvariantCulture,
                    $"The air of '{_vans[lane].Night.Design.Zones[zone].Name}' came to {celsius:F0} °C; expected {MoistAir.TemperatureRange.Minimum} to {MoistAir.TemperatureRange.Maximum} °C. With so little air in and out its heat goes nowhere."));
            }
        }

        return new NonConvergenceException((int)Flow.Iterations[lane], Flow.Imbalance[lane]);
    }

    private void SetPaths(bool occupied, bool covered)
    {
        TLane watts = occupied ? _circulationW : TLane.Zero;
        TLane one = TLane.Of(1);
        for (int place = 0; place < _openingPath.Length; place++)
        {
            int path = _openingPath[place];
            TLane share = OpenShare[place];
            if (covered && _isCovered[place])
            {
                // A cover over an open window is a resistance in series with it.
                share /= TLane.Sqrt(one + (_coverLoss[place] * share * share));
            }

            State.Open[path] = TLane.Select(_isOpening[place], share, one);
            TLane speed = TLane.And(_isFan[place], FanSpeed[place]);
            State.Speed[path] = speed;
            watts += FanPower.DrawW(_fullFanW[place], _electronicsW, speed);
        }

        for (int i = 0; i < _circulationPath.Length; i++)
        {
            State.Open[_circulationPath[i]] = occupied ? one : TLane.AndNot(one, _isCirculation[i]);
        }

        FanW = watts;
    }

    private void SetOutdoor(in Outdoor outdoor)
    {
        double ratio = MoistAir.HumidityRatio(outdoor.VapourPressurePa, outdoor.PressurePa);
        TLane windMPerS = TLane.Of(outdoor.StationWindMPerS) * _wind[(int)outdoor.Shelter];
        State.TemperatureC[^1] = TLane.Of(outdoor.TemperatureC);
        State.HumidityRatioKgPerKg[^1] = TLane.Of(ratio);
        State.BarometricPressurePa = TLane.Of(outdoor.PressurePa);
        State.WindSpeedMPerS = windMPerS;
        TLane dynamicPa = TLane.Of(MoistAir.DensityKgPerM3(outdoor.TemperatureC, ratio, outdoor.PressurePa)) * windMPerS * windMPerS * TLane.Of(0.5);
        for (int i = 0; i < _windPath.Length; i++)
        {
            State.WindPa[_windPath[i]] = dynamicPa * _windCoefficient[i];
        }
    }

    private void Gather()
    {
        int zones = _network.ZoneCount;
        TLane kgPerS = TLane.Zero;
        for (int zone = 0; zone < zones; zone++)
        {
            kgPerS += Flow.Transport[(zone * (zones + 1)) + zones];
        }

        OutdoorAirM3PerS = kgPerS / Flow.Density[zones];
        TLane aboveKgPerS = TLane.Zero;
        foreach (int place in _aboveCooker)
        {
            TLane open = TLane.And(_isAboveCooker[place], TLane.Less(TLane.Zero, OpenShare[place]));
            aboveKgPerS += TLane.And(open, TLane.Max(Flow.NetKgPerS(_openingPath[place]), TLane.Zero));
        }

        AboveCookerM3PerS = aboveKgPerS * TLane.Of(1 / FlowLaw.ReferenceDensityKgPerM3);
    }

    private void PutOpenings(int lane, NightModel night)
    {
        for (int index = 0; index < night.Design.Openings.Length; index++)
        {
            Opening opening = night.Design.Openings[index];
            int place = _openingPlace[lane][index];
            Add(_isOpening, place, lane);
            if (opening.Fan is Fan fan)
            {
                Add(_isFan, place, lane);
                Set(_fullFanW, place, lane, FanPower.FullSpeedW(fan, night.Assumed));
            }
            else
            {
                (double clear, double coverAtFull) = night.Resistance(opening);
                Set(_coverLoss, place, lane, coverAtFull / clear);
            }
        }
    }

    private static int Added(List<int> list, int value)
    {
        int at = list.IndexOf(value);
        if (at < 0)
        {
            at = list.Count;
            list.Add(value);
        }

        return at;
    }

    private static void Set(TLane[] values, int at, int lane, double value) => values[at] = TLane.With(values[at], lane, value);

    private static void Add(TLane[] masks, int at, int lane) => masks[at] = TLane.Or(masks[at], TLane.Mask(1u << lane));
}
