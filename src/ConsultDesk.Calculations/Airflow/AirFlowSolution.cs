using System.Runtime.InteropServices;
using ConsultDesk.Calculations.Lanes;
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
    private readonly AirNetwork _network;
    private readonly double[] _fanSpeed;
    private readonly double[] _net;
    private readonly double[] _forward;
    private readonly double[] _backward;
    private readonly double[] _inflow;
    private bool _told;

    internal AirFlowSolution(AirNetwork network)
    {
        _network = network;
        Flow = network.Lanes.CreateFlow();
        _fanSpeed = new double[network.PathCount];
        _net = new double[network.PathCount];
        _forward = new double[network.PathCount];
        _backward = new double[network.PathCount];
        _inflow = new double[network.ZoneCount];
    }

    /// <summary>What the solver, which takes one network or several, works in.</summary>
    internal LaneAirFlow<ScalarLane> Flow { get; }

    internal AirNetwork Network => _network;

    /// <summary>Pressures the next solve starts from.</summary>
    internal Span<double> Pressure => MemoryMarshal.Cast<ScalarLane, double>(Flow.Pressure.AsSpan());

    internal double[] FanSpeed => _fanSpeed;

    /// <summary>True when the latest solve balanced every zone.</summary>
    public bool Converged
    {
        get;
        internal set
        {
            field = value;
            _told = false;
        }
    }

    /// <summary>Newton steps of the latest solve.</summary>
    public int Iterations => (int)Flow.Iterations.Value;

    /// <summary>Times the latest solve computed all flows, steps taken back included.</summary>
    public int Evaluations => Flow.Evaluations;

    /// <summary>Largest mass imbalance the latest solve left in any zone, kg/s.</summary>
    public double LargestImbalanceKgPerS => Flow.Imbalance.Value;

    /// <summary>Pressure of each zone at the datum height over the outdoor pressure at that height without wind; suction is negative.</summary>
    public ReadOnlySpan<double> ZonePressurePa => Answer(Flow.Pressure);

    /// <summary>Density of the moist air in each zone.</summary>
    public ReadOnlySpan<double> ZoneDensityKgPerM3 => Answer(Flow.Density)[.._network.ZoneCount];

    /// <summary>Density of the outdoor air, kg/m3.</summary>
    public double OutdoorDensityKgPerM3 => Answer(Flow.Density)[_network.ZoneCount];

    /// <summary>Net mass flow of each path, by path index, positive in the direction the path was added.</summary>
    public ReadOnlySpan<double> NetMassFlowKgPerS => Told(_net);

    /// <summary>All air passing each path in the direction it was added, two-way exchange included; 0 or more.</summary>
    public ReadOnlySpan<double> ForwardMassFlowKgPerS => Told(_forward);

    /// <summary>All air passing each path against the direction it was added, two-way exchange included; 0 or more.</summary>
    public ReadOnlySpan<double> BackwardMassFlowKgPerS => Told(_backward);

    /// <summary>
    /// Air carried from node to node, kg/s: the flow from node j into node i stands at [i * NodeCount + j]. Zones
    /// come first in their order; outside is the last node. Two-way exchange and mixing are included, the diagonal is 0.
    /// </summary>
    /// <remarks>
    /// A zone's outflow differs from its inflow by at most the solver's tolerance. A balance that must close exactly
    /// takes the outflow of a zone to be the sum of its inflows, <see cref="ZoneInflowKgPerS"/>.
    /// </remarks>
    public ReadOnlySpan<double> TransportKgPerS => Answer(Flow.Transport);

    /// <summary>All air flowing into each zone, from zones and from outside, kg/s.</summary>
    public ReadOnlySpan<double> ZoneInflowKgPerS => Told(_inflow);

    /// <summary>
    /// Local mean age of air of each zone, s: the mean time since the air there entered from outside. Infinite where
    /// no outdoor air arrives, or less than the solver can tell from none (1e-9 kg/s).
    /// </summary>
    public ReadOnlySpan<double> ZoneAgeS => Answer(Converged ? Flow.AgeS() : Flow.Pressure);

    /// <summary>Flow from one node into another, two-way exchange included.</summary>
    public MassFlow Transfer(AirNode from, AirNode to) =>
        MassFlow.FromKilogramsPerSecond(
            TransportKgPerS[(_network.NodeIndex(to) * _network.NodeCount) + _network.NodeIndex(from)]);

    /// <summary>Pressure of a zone below outside at the datum height; negative when it is above.</summary>
    public Pressure Suction(AirNode zone) => UnitsNet.Pressure.FromPascals(-ZonePressurePa[zone.ZoneIndex]);

    /// <summary>Air passing a path in the direction it was added, at the density of the air that enters it.</summary>
    public VolumeFlow ForwardFlow(int path) =>
        VolumeFlow.FromCubicMetersPerSecond(ForwardMassFlowKgPerS[path] / Answer(Flow.Density)[_network.PathFrom(path)]);

    /// <summary>Air passing a path against the direction it was added, at the density of the air that enters it.</summary>
    public VolumeFlow BackwardFlow(int path) =>
        VolumeFlow.FromCubicMetersPerSecond(BackwardMassFlowKgPerS[path] / Answer(Flow.Density)[_network.PathTo(path)]);

    /// <summary>Outdoor air entering a zone directly, at outdoor density.</summary>
    public VolumeFlow OutdoorAir(AirNode zone) =>
        VolumeFlow.FromCubicMetersPerSecond(
            TransportKgPerS[(zone.ZoneIndex * _network.NodeCount) + _network.ZoneCount] / Answer(Flow.Density)[_network.ZoneCount]);

    /// <summary>Outdoor air entering all zones, at outdoor density.</summary>
    public VolumeFlow OutdoorAir() =>
        VolumeFlow.FromCubicMetersPerSecond(OutdoorAirKgPerS() / Answer(Flow.Density)[_network.ZoneCount]);

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
        if (speed == 0 || _network.IsShut(path, this))
        {
            return null;
        }

        ReadOnlySpan<double> densities = Answer(Flow.Density);
        double density = densities[_network.PathFrom(path)];
        double flowM3PerS = net / (net >= 0 ? density : densities[_network.PathTo(path)]);
        double freeM3PerS = speed * _network.FreeAirFlowM3PerS(path);
        double shutOffPa = _network.FanPressurePa(path, speed, density);
        double risePa = shutOffPa - _network.PressureDifferencePa(path, this);
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
        Flow.Reset();
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

    // By path in the direction each was added, which the solver does not need and a year never asks for.
    private ReadOnlySpan<double> Told(double[] values)
    {
        if (!Converged)
        {
            throw NoAnswer();
        }

        if (!_told)
        {
            _told = true;
            for (int path = 0; path < _net.Length; path++)
            {
                bool forward = _network.PathFrom(path) < _network.PathTo(path);
                double net = Flow.NetKgPerS(path).Value;
                double outwards = Flow.OutKgPerS(path).Value;
                double back = Flow.BackKgPerS(path).Value;
                _net[path] = forward ? net : -net;
                _forward[path] = forward ? outwards : back;
                _backward[path] = forward ? back : outwards;
            }

            ReadOnlySpan<double> transport = Numbers(Flow.Transport);
            for (int zone = 0; zone < _inflow.Length; zone++)
            {
                double inflow = 0;
                foreach (double kgPerS in transport.Slice(zone * _network.NodeCount, _network.NodeCount))
                {
                    inflow += kgPerS;
                }

                _inflow[zone] = inflow;
            }
        }

        return values;
    }

    private ReadOnlySpan<double> Answer(ScalarLane[] values) => Converged ? Numbers(values) : throw NoAnswer();

    private static ReadOnlySpan<double> Numbers(ScalarLane[] values) => MemoryMarshal.Cast<ScalarLane, double>(values.AsSpan());

    private static InvalidOperationException NoAnswer() => new("The network has not been solved, or did not balance: there is no answer to read.");
}
