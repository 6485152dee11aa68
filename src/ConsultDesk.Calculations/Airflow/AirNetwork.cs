using System.Globalization;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Airflow;

/// <summary>
/// Zones and the paths for air between them and outside, compiled to flat arrays: built once, solved many times for
/// the zone pressures at which every zone takes in as much air as it gives off. Immutable and safe to share between
/// threads; each thread needs its own <see cref="AirState"/> and <see cref="AirFlowSolution"/>.
/// </summary>
/// <remarks>
/// Every flow rises strictly with its pressure difference (<see cref="FlowLaw"/>), so the matrix of Newton's method is
/// symmetric and positive definite, LDL' without pivoting solves it, and there is one solution. A full Newton step
/// that overshoots is taken back to where the imbalance along the step vanishes on a straight line between its ends,
/// which keeps square-root flows from jumping between mirror points for ever.
/// </remarks>
public sealed class AirNetwork
{
    /// <summary>Largest mass imbalance accepted in any zone, kg/s.</summary>
    public const double ToleranceKgPerS = 1e-9;

    /// <summary>Newton steps after which solving is given up, unless the caller says otherwise.</summary>
    public const int MaximumIterations = 60;

    private readonly string[] _zoneIds;
    private readonly string[] _pathIds;
    private readonly double[] _volumeM3;
    private readonly int[] _pathFirstLink;
    private readonly int[] _pathFrom;
    private readonly int[] _pathTo;
    private readonly AirNetworkBuilder.Link[] _links;
    private readonly int[] _linkA;
    private readonly int[] _linkB;
    private readonly double?[] _mixingM3PerS;

    internal AirNetwork(AirNetworkBuilder builder)
    {
        if (builder.ZoneIds.Count == 0)
        {
            throw new ArgumentException("A network needs at least one zone.", nameof(builder));
        }

        _zoneIds = [.. builder.ZoneIds];
        _pathIds = [.. builder.PathIds];
        _volumeM3 = [.. builder.ZoneVolumesM3];
        TotalVolumeM3 = _volumeM3.Sum();
        _pathFirstLink = [.. builder.PathFirstLink, builder.Links.Count];
        _pathFrom = new int[PathCount];
        _pathTo = new int[PathCount];

        _links = [.. builder.Links];
        _linkA = [.. _links.Select(link => NodeIndex(link.A))];
        _linkB = [.. _links.Select(link => NodeIndex(link.B))];
        foreach (AirNetworkBuilder.Link link in builder.Links)
        {
            _pathFrom[link.Path] = NodeIndex(link.A);
            _pathTo[link.Path] = NodeIndex(link.B);
        }

        _mixingM3PerS = new double?[PathCount];
        foreach (AirNetworkBuilder.Mixing mixing in builder.Mixings)
        {
            _mixingM3PerS[mixing.Path] = mixing.VolumeFlowM3PerS;
            _pathFrom[mixing.Path] = NodeIndex(mixing.A);
            _pathTo[mixing.Path] = NodeIndex(mixing.B);
        }

        var open = new double[PathCount];
        Array.Fill(open, 1);
        RequireAllConnected(open, new bool[NodeCount], "has no path to outside");
        Lanes = new LaneNetwork<ScalarLane>([this]);
    }

    /// <summary>Number of zones.</summary>
    public int ZoneCount => _zoneIds.Length;

    /// <summary>Number of zones and outside.</summary>
    public int NodeCount => _zoneIds.Length + 1;

    /// <summary>Number of paths.</summary>
    public int PathCount => _pathIds.Length;

    /// <summary>Volume of all zones, m3.</summary>
    internal double TotalVolumeM3 { get; }

    /// <summary>The one network as the solver takes it, which solves one or several; its paths stand in the order they were added.</summary>
    internal LaneNetwork<ScalarLane> Lanes { get; }

    /// <summary>Flow exponents that occur.</summary>
    internal IEnumerable<double> Exponents() => _links.Select(link => link.Exponent).Distinct();

    /// <summary>Air volume of each zone, m3.</summary>
    public ReadOnlySpan<double> ZoneVolumeM3 => _volumeM3;

    /// <summary>Id a zone was added with.</summary>
    public string ZoneId(int zone) => _zoneIds[zone];

    /// <summary>Id a path was added with.</summary>
    public string PathId(int path) => _pathIds[path];

    /// <summary>True when the path is a fan.</summary>
    public bool IsFan(int path) => LinksOf(path) is [var link, ..] && link.ShutOffPressurePa > 0;

    /// <summary>A state of this network, to be set and solved again and again.</summary>
    public AirState CreateState() => new(this);

    /// <summary>Memory for the answers of this network.</summary>
    public AirFlowSolution CreateSolution() => new(this);

    /// <summary>Solves the network and throws when it does not balance.</summary>
    /// <param name="state">What drives it.</param>
    /// <param name="solution">Receives the answer; its present pressures are the start.</param>
    /// <param name="maximumIterations">Newton steps after which it is given up.</param>
    /// <exception cref="NonConvergenceException">Not balanced within <paramref name="maximumIterations"/>.</exception>
    /// <exception cref="ArgumentException">A value of the state is out of range, or with this state a zone has no open path to outside.</exception>
    public void Solve(AirState state, AirFlowSolution solution, int maximumIterations = MaximumIterations) =>
        Solve(state, solution, ToleranceKgPerS, maximumIterations);

    /// <summary>The same to another imbalance than <see cref="ToleranceKgPerS"/>, kg/s.</summary>
    internal void Solve(AirState state, AirFlowSolution solution, double toleranceKgPerS, int maximumIterations = MaximumIterations)
    {
        if (!TrySolve(state, solution, toleranceKgPerS, maximumIterations))
        {
            throw new NonConvergenceException(solution.Iterations, solution.LargestImbalanceKgPerS);
        }
    }

    /// <summary>Solves the network.</summary>
    /// <param name="state">What drives it.</param>
    /// <param name="solution">Receives the answer; its present pressures are the start.</param>
    /// <param name="maximumIterations">Newton steps after which it is given up.</param>
    /// <returns>False when it did not balance within <paramref name="maximumIterations"/>.</returns>
    /// <exception cref="ArgumentException">A value of the state is out of range, or with this state a zone has no open path to outside.</exception>
    public bool TrySolve(AirState state, AirFlowSolution solution, int maximumIterations = MaximumIterations) =>
        TrySolve(state, solution, ToleranceKgPerS, maximumIterations);

    private bool TrySolve(AirState state, AirFlowSolution solution, double toleranceKgPerS, int maximumIterations)
    {
        ArgumentNullException.ThrowIfNull(state);
        ArgumentNullException.ThrowIfNull(solution);
        if (state.Network != this || solution.Network != this)
        {
            throw new ArgumentException("The state and the solution must have been created by this network.");
        }

        solution.Converged = false;
        RequireInRange(state);
        state.Speed.CopyTo(solution.FanSpeed);
        bool balanced = ScalarLane.All(Lanes.Solve(state.Lanes, solution.Flow, toleranceKgPerS, maximumIterations, ScalarLane.AllBits));
        if (!ScalarLane.All(solution.Flow.Connected))
        {
            RequireAllConnected(state.Open, new bool[NodeCount], "has no open path to outside: everything that leads there is shut");
        }

        solution.Converged = balanced;
        return balanced;
    }

    internal int NodeIndex(AirNode node) => node.IsOutside ? ZoneCount : node.ZoneIndex;

    internal int PathFrom(int path) => _pathFrom[path];

    internal int PathTo(int path) => _pathTo[path];

    /// <summary>Links of a path; none of a mixing.</summary>
    internal ReadOnlySpan<AirNetworkBuilder.Link> LinksOf(int path) => _links.AsSpan(_pathFirstLink[path].._pathFirstLink[path + 1]);

    /// <summary>Flow each way of a mixing; null for all other paths.</summary>
    internal double? MixingM3PerS(int path) => _mixingM3PerS[path];

    internal double FreeAirFlowM3PerS(int path) => LinksOf(path)[0].FreeAirFlowM3PerS;

    /// <summary>Pressure a fan's source gives, Pa: by the fan laws with the square of speed and with density.</summary>
    internal double FanPressurePa(int path, double speed, double densityKgPerM3) =>
        speed * speed * LinksOf(path)[0].ShutOffPressurePa * densityKgPerM3 / FlowLaw.ReferenceDensityKgPerM3;

    /// <summary>Pressure that drives a path of one link in the direction it was added, Pa, a fan's own included.</summary>
    internal double PressureDifferencePa(int path, AirFlowSolution solution)
    {
        int a = Math.Min(_pathFrom[path], _pathTo[path]);
        int b = Math.Max(_pathFrom[path], _pathTo[path]);
        double pressurePa = solution.Flow.Work[solution.Flow.WorkOf(Lanes.FirstLink(path))].DrivePa.Value + solution.Flow.Pressure[a].Value;
        pressurePa -= b < ZoneCount ? solution.Flow.Pressure[b].Value : 0;
        return a == _pathFrom[path] ? pressurePa : -pressurePa;
    }

    /// <summary>True when no air can pass a path of one link.</summary>
    internal bool IsShut(int path, AirFlowSolution solution) => solution.Flow.WorkOf(Lanes.FirstLink(path)) < 0;

    private void RequireAllConnected(ReadOnlySpan<double> open, bool[] reached, string complaint)
    {
        Array.Clear(reached);
        reached[ZoneCount] = true;
        int count = 1;
        bool more = true;
        while (more && count < NodeCount)
        {
            more = false;
            for (int link = 0; link < _links.Length; link++)
            {
                if (open[_links[link].Path] > 0 && reached[_linkA[link]] != reached[_linkB[link]])
                {
                    reached[_linkA[link]] = true;
                    reached[_linkB[link]] = true;
                    count++;
                    more = true;
                }
            }
        }

        if (count < NodeCount)
        {
            throw new ArgumentException($"Zone '{_zoneIds[Array.IndexOf(reached, false)]}' {complaint}. Mixing alone is no path.");
        }
    }

    private void RequireInRange(AirState state)
    {
        for (int node = 0; node < NodeCount; node++)
        {
            if (!MoistAir.TemperatureRange.Contains(state.TemperatureC[node]))
            {
                throw OutOfRange(NodeName(node), Expected(MoistAir.TemperatureRange), state.TemperatureC[node]);
            }

            if (!(state.HumidityRatioKgPerKg[node] is >= 0 and <= 0.2))
            {
                throw OutOfRange(NodeName(node), "a humidity ratio from 0 to 0.2", state.HumidityRatioKgPerKg[node]);
            }
        }

        MoistAir.PressureRange.Check(state.BarometricPressurePa, nameof(state));
        if (!(state.WindSpeedMPerS is >= 0 and <= 100))
        {
            throw OutOfRange("The air outside", "a wind speed from 0 to 100 m/s", state.WindSpeedMPerS);
        }

        for (int path = 0; path < PathCount; path++)
        {
            if (!(state.Open[path] is >= 0 and <= 1))
            {
                throw OutOfRange(PathName(path), "an open share from 0 to 1", state.Open[path]);
            }

            if (!(state.Speed[path] is >= 0 and <= 1))
            {
                throw OutOfRange(PathName(path), "a fan speed from 0 to 1", state.Speed[path]);
            }

            if (!double.IsFinite(state.WindPa[path]))
            {
                throw OutOfRange(PathName(path), "a finite wind pressure", state.WindPa[path]);
            }
        }
    }

    private static string Expected(ValidRange range) => string.Create(
        CultureInfo.InvariantCulture, $"{range.Field.ToLowerInvariant()} from {range.Minimum} to {range.Maximum} {range.Unit}");

    private string NodeName(int node) => node == ZoneCount ? "The air outside" : $"Zone '{_zoneIds[node]}'";

    private string PathName(int path) => $"Path '{_pathIds[path]}'";

    private static ArgumentException OutOfRange(string where, string expected, double value) =>
        new(string.Create(CultureInfo.InvariantCulture, $"{where}: expected {expected}, not {value:g6}."));
}
