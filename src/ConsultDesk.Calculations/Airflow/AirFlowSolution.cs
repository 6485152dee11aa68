using UnitsNet;

namespace ConsultDesk.Calculations.Airflow;

/// <summary>Where a running fan works on its curve.</summary>
/// <param name="Flow">Air it moves at the density of the air it draws; negative when it is driven backwards.</param>
/// <param name="FreeAirFlow">What it would move at this speed against no pressure.</param>
/// <param name="ShareOfFreeAirFlow">The first over the second.</param>
/// <param name="PressureRise">Pressure it works against; negative when it is helped.</param>
/// <param name="ShutOffPressure">Pressure at this speed and air density with no flow.</param>
public sealed record FanOperatingPoint(
    VolumeFlow Flow,
    VolumeFlow FreeAirFlow,
    Ratio ShareOfFreeAirFlow,
    Pressure PressureRise,
    Pressure ShutOffPressure);

/// <summary>
/// The answer of <see cref="AirNetwork.Solve(AirState, AirFlowSolution, int)"/> and the memory it works in. Made once by
/// <see cref="AirNetwork.CreateSolution"/>; each solve overwrites it and starts from the pressures it holds.
/// </summary>
/// <remarks>
/// Spans show the latest solve and change with the next. Before the first, and after one that did not converge, the
/// results are not an answer: reading them throws. Not safe for use by two threads at once.
/// </remarks>
public sealed class AirFlowSolution
{
    internal readonly double[] Pressure;
    internal readonly double[] Step;
    internal readonly double[] Residual;
    internal readonly double[] Matrix;
    internal readonly double[] Density;
    internal readonly double[] DensityRoot;
    internal readonly double[] DensityPower;
    internal readonly double[] DrivePa;
    internal readonly double[] Forward;
    internal readonly double[] Backward;
    internal readonly double[] LinkFlow;
    internal readonly double[] PathNet;
    internal readonly double[] PathForward;
    internal readonly double[] PathBackward;
    internal readonly double[] Transport;
    internal readonly double[] Inflow;
    internal readonly double[] Age;
    internal readonly double[] AgeMatrix;
    internal readonly bool[] Reached;
    internal readonly bool[] Open;
    private readonly AirNetwork _network;
    private readonly double[] _fanSpeed;

    internal AirFlowSolution(AirNetwork network)
    {
        _network = network;
        int zones = network.ZoneCount;
        Pressure = new double[zones];
        Step = new double[zones];
        // One place more takes what concerns outside, which nobody reads.
        Residual = new double[zones + 1];
        Matrix = new double[(zones * zones) + 1];
        Open = new bool[network.PathCount];
        Density = new double[zones + 1];
        DensityRoot = new double[zones + 1];
        DensityPower = new double[zones + 1];
        Transport = new double[(zones + 1) * (zones + 1)];
        Inflow = new double[zones];
        Age = new double[zones];
        AgeMatrix = new double[zones * zones];
        Reached = new bool[zones + 1];
        DrivePa = new double[network.LinkCount];
        Forward = new double[network.LinkCount];
        Backward = new double[network.LinkCount];
        LinkFlow = new double[network.LinkCount];
        PathNet = new double[network.PathCount];
        PathForward = new double[network.PathCount];
        PathBackward = new double[network.PathCount];
        _fanSpeed = new double[network.PathCount];
    }

    internal AirNetwork Network => _network;

    internal double[] FanSpeed => _fanSpeed;

    /// <summary>True when the latest solve balanced every zone.</summary>
    public bool Converged { get; internal set; }

    /// <summary>Newton steps of the latest solve.</summary>
    public int Iterations { get; internal set; }

    /// <summary>Times the latest solve computed all flows, steps taken back included.</summary>
    public int Evaluations { get; internal set; }

    /// <summary>Largest mass imbalance the latest solve left in any zone, kg/s.</summary>
    public double LargestImbalanceKgPerS { get; internal set; }

    internal bool HasStart { get; set; }

    /// <summary>Every zone has been found connected with the paths that are open in <see cref="Open"/>.</summary>
    internal bool Connected { get; set; }

    /// <summary>Pressure of each zone at the datum height over the outdoor pressure at that height without wind; suction is negative.</summary>
    public ReadOnlySpan<double> ZonePressurePa => Answer(Pressure);

    /// <summary>Density of the moist air in each zone.</summary>
    public ReadOnlySpan<double> ZoneDensityKgPerM3 => Answer(Density)[.._network.ZoneCount];

    /// <summary>Density of the outdoor air, kg/m3.</summary>
    public double OutdoorDensityKgPerM3 => Answer(Density)[_network.ZoneCount];

    /// <summary>Net mass flow of each path, by path index, positive in the direction the path was added.</summary>
    public ReadOnlySpan<double> NetMassFlowKgPerS => Answer(PathNet);

    /// <summary>All air passing each path in the direction it was added, two-way exchange included; 0 or more.</summary>
    public ReadOnlySpan<double> ForwardMassFlowKgPerS => Answer(PathForward);

    /// <summary>All air passing each path against the direction it was added, two-way exchange included; 0 or more.</summary>
    public ReadOnlySpan<double> BackwardMassFlowKgPerS => Answer(PathBackward);

    /// <summary>
    /// Air carried from node to node, kg/s: the flow from node j into node i stands at [i * NodeCount + j]. Zones
    /// come first in their order; outside is the last node. Two-way exchange and mixing are included, the diagonal is 0.
    /// </summary>
    /// <remarks>
    /// A zone's outflow differs from its inflow by at most the solver's tolerance. A balance that must close exactly
    /// takes the outflow of a zone to be the sum of its inflows, <see cref="ZoneInflowKgPerS"/>.
    /// </remarks>
    public ReadOnlySpan<double> TransportKgPerS => Answer(Transport);

    /// <summary>All air flowing into each zone, from zones and from outside, kg/s.</summary>
    public ReadOnlySpan<double> ZoneInflowKgPerS => Answer(Inflow);

    /// <summary>
    /// Local mean age of air of each zone, s: the mean time since the air there entered from outside. Infinite where
    /// no outdoor air arrives, or less than the solver can tell from none (1e-9 kg/s).
    /// </summary>
    public ReadOnlySpan<double> ZoneAgeS => Answer(Age);

    /// <summary>Flow from one node into another, two-way exchange included.</summary>
    public MassFlow Transfer(AirNode from, AirNode to) =>
        MassFlow.FromKilogramsPerSecond(
            Answer(Transport)[(_network.NodeIndex(to) * _network.NodeCount) + _network.NodeIndex(from)]);

    /// <summary>Pressure of a zone below outside at the datum height; negative when it is above.</summary>
    public Pressure Suction(AirNode zone) => UnitsNet.Pressure.FromPascals(-ZonePressurePa[zone.ZoneIndex]);

    /// <summary>Air passing a path in the direction it was added, at the density of the air that enters it.</summary>
    public VolumeFlow ForwardFlow(int path) =>
        VolumeFlow.FromCubicMetersPerSecond(ForwardMassFlowKgPerS[path] / Density[_network.PathFrom(path)]);

    /// <summary>Air passing a path against the direction it was added, at the density of the air that enters it.</summary>
    public VolumeFlow BackwardFlow(int path) =>
        VolumeFlow.FromCubicMetersPerSecond(BackwardMassFlowKgPerS[path] / Density[_network.PathTo(path)]);

    /// <summary>Outdoor air entering a zone directly, at outdoor density.</summary>
    public VolumeFlow OutdoorAir(AirNode zone) =>
        VolumeFlow.FromCubicMetersPerSecond(
            TransportKgPerS[(zone.ZoneIndex * _network.NodeCount) + _network.ZoneCount] / Density[_network.ZoneCount]);

    /// <summary>Outdoor air entering all zones, at outdoor density.</summary>
    public VolumeFlow OutdoorAir() =>
        VolumeFlow.FromCubicMetersPerSecond(OutdoorAirKgPerS() / Density[_network.ZoneCount]);

    /// <summary>Air changes of the whole network, 1/h: outdoor air per hour, at outdoor density, over the volume of all zones.</summary>
    public double AirChangesPerHour() => OutdoorAir().CubicMetersPerSecond * 3600 / _network.TotalVolumeM3;

    /// <summary>Local mean age of air of a zone; throws where no outdoor air arrives.</summary>
    public Duration AgeOfAir(AirNode zone) => Duration.FromSeconds(ZoneAgeS[zone.ZoneIndex]);

    /// <summary>Where a fan works on its curve, or null while it stands still or is shut off by its lid.</summary>
    /// <param name="path">Index of a path added as a fan.</param>
    public FanOperatingPoint? FanPoint(int path)
    {
        if (!_network.IsFan(path))
        {
            throw new ArgumentException($"Path '{_network.PathId(path)}' is not a fan.", nameof(path));
        }

        double net = NetMassFlowKgPerS[path];
        double speed = _fanSpeed[path];
        int link = _network.FirstLink(path);
        if (speed == 0 || Forward[link] == 0)
        {
            return null;
        }

        double density = Density[_network.PathFrom(path)];
        double flowM3PerS = net / (net >= 0 ? density : Density[_network.PathTo(path)]);
        double freeM3PerS = speed * _network.FreeAirFlowM3PerS(path);
        double shutOffPa = _network.FanPressurePa(link, speed, density);
        double risePa = shutOffPa - _network.PressureDifferencePa(link, this);
        return new FanOperatingPoint(
            VolumeFlow.FromCubicMetersPerSecond(flowM3PerS),
            VolumeFlow.FromCubicMetersPerSecond(freeM3PerS),
            Ratio.FromDecimalFractions(flowM3PerS / freeM3PerS),
            UnitsNet.Pressure.FromPascals(risePa),
            UnitsNet.Pressure.FromPascals(shutOffPa));
    }

    /// <summary>Forgets the pressures, so that the next solve starts cold.</summary>
    public void Reset()
    {
        HasStart = false;
        Converged = false;
    }

    private double OutdoorAirKgPerS()
    {
        double sum = 0;
        ReadOnlySpan<double> transport = TransportKgPerS;
        for (int zone = 0; zone < _network.ZoneCount; zone++)
        {
            sum += transport[(zone * _network.NodeCount) + _network.ZoneCount];
        }

        return sum;
    }

    private ReadOnlySpan<double> Answer(double[] values) =>
        Converged ? values : throw new InvalidOperationException("The network has not been solved, or did not balance: there is no answer to read.");
}
