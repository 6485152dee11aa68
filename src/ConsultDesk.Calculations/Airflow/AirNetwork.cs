using System.Globalization;
using System.Runtime.CompilerServices;
using ConsultDesk.Calculations.Air;

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

    // A cold start takes each flow as a straight line through zero and its own value at its driving pressure, or at
    // this one, Pa, when hardly anything drives it.
    private const double ColdStartPressurePa = 1;

    private readonly string[] _zoneIds;
    private readonly string[] _pathIds;
    private readonly double[] _volumeM3;
    private readonly int[] _pathFirstLink;
    private readonly int[] _pathFrom;
    private readonly int[] _pathTo;
    private readonly int[] _linkPath;
    private readonly int[] _linkA;
    private readonly int[] _linkB;
    private readonly double[] _heightM;
    private readonly double[] _coefficient;
    private readonly double[] _exponent;
    private readonly FlowPower[] _power;
    private readonly int[] _inside;
    private readonly int[] _outside;
    private readonly int[] _outsideEnd;
    private readonly double[] _outsideSign;
    private readonly int[] _slotA;
    private readonly int[] _slotB;
    private readonly int[] _slotAB;
    private readonly double[] _shutOffPa;
    private readonly double[] _freeAirM3PerS;
    private readonly double[] _exchangeAreaM2;
    private readonly AirNetworkBuilder.Stacking[] _stacking;
    private readonly double[] _windExchange;
    private readonly int[] _mixingPath;
    private readonly double[] _mixingM3PerS;

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

        _linkPath = [.. builder.Links.Select(link => link.Path)];
        _linkA = [.. builder.Links.Select(link => NodeIndex(link.A))];
        _linkB = [.. builder.Links.Select(link => NodeIndex(link.B))];
        _heightM = [.. builder.Links.Select(link => link.HeightM)];
        _coefficient = [.. builder.Links.Select(link => link.Coefficient)];
        _exponent = [.. builder.Links.Select(link => link.Exponent)];
        Dictionary<double, FlowPower> powers = [];
        _power = [.. _exponent.Select(exponent => PowerOf(powers, exponent))];
        _inside = [.. Enumerable.Range(0, _linkA.Length).Where(link => _linkA[link] < ZoneCount && _linkB[link] < ZoneCount)];
        int[][] outside =
        [
            .. Enumerable.Range(0, ZoneCount).Select(zone => Enumerable.Range(0, _linkA.Length)
                .Where(link => (_linkA[link] == zone && _linkB[link] == ZoneCount) || (_linkB[link] == zone && _linkA[link] == ZoneCount)).ToArray()),
        ];
        _outside = [.. outside.SelectMany(links => links)];
        _outsideSign = [.. _outside.Select(link => _linkB[link] == ZoneCount ? 1.0 : -1.0)];
        _outsideEnd = new int[ZoneCount];
        for (int zone = 0, end = 0; zone < ZoneCount; zone++)
        {
            end += outside[zone].Length;
            _outsideEnd[zone] = end;
        }

        _slotA = [.. _linkA.Select(a => Slot(a, a))];
        _slotB = [.. _linkB.Select(b => Slot(b, b))];
        _slotAB = [.. _linkA.Zip(_linkB, (a, b) => Slot(Math.Max(a, b), Math.Min(a, b)))];
        _shutOffPa = [.. builder.Links.Select(link => link.ShutOffPressurePa)];
        _freeAirM3PerS = [.. builder.Links.Select(link => link.FreeAirFlowM3PerS)];
        _exchangeAreaM2 = [.. builder.Links.Select(link => link.ExchangeAreaM2)];
        _stacking = [.. builder.Links.Select(link => link.Stacking)];
        _windExchange = [.. builder.Links.Select(link => link.WindExchange)];
        foreach (AirNetworkBuilder.Link link in builder.Links)
        {
            _pathFrom[link.Path] = NodeIndex(link.A);
            _pathTo[link.Path] = NodeIndex(link.B);
        }

        _mixingPath = [.. builder.Mixings.Select(mixing => mixing.Path)];
        _mixingM3PerS = [.. builder.Mixings.Select(mixing => mixing.VolumeFlowM3PerS)];
        foreach (AirNetworkBuilder.Mixing mixing in builder.Mixings)
        {
            _pathFrom[mixing.Path] = NodeIndex(mixing.A);
            _pathTo[mixing.Path] = NodeIndex(mixing.B);
        }

        var open = new double[PathCount];
        Array.Fill(open, 1);
        RequireAllConnected(open, new bool[NodeCount], "has no path to outside");
    }

    private static FlowPower PowerOf(Dictionary<double, FlowPower> powers, double exponent)
    {
        if (!powers.TryGetValue(exponent, out FlowPower? power))
        {
            power = new FlowPower(exponent);
            powers.Add(exponent, power);
        }

        return power;
    }

    // Place in the matrix of a row and a column; one behind its end when either is outside. Only the lower triangle is read.
    private int Slot(int row, int column) => row < ZoneCount && column < ZoneCount ? (row * ZoneCount) + column : ZoneCount * ZoneCount;

    /// <summary>Number of zones.</summary>
    public int ZoneCount => _zoneIds.Length;

    /// <summary>Number of zones and outside.</summary>
    public int NodeCount => _zoneIds.Length + 1;

    /// <summary>Number of paths.</summary>
    public int PathCount => _pathIds.Length;

    /// <summary>Volume of all zones, m3.</summary>
    internal double TotalVolumeM3 { get; }

    internal int LinkCount => _linkA.Length;

    /// <summary>Air volume of each zone, m3.</summary>
    public ReadOnlySpan<double> ZoneVolumeM3 => _volumeM3;

    /// <summary>Id a zone was added with.</summary>
    public string ZoneId(int zone) => _zoneIds[zone];

    /// <summary>Id a path was added with.</summary>
    public string PathId(int path) => _pathIds[path];

    /// <summary>True when the path is a fan.</summary>
    public bool IsFan(int path) => FirstLink(path) is var link && link < _pathFirstLink[path + 1] && _shutOffPa[link] > 0;

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
        if (!SameOpen(state, solution))
        {
            solution.Connected = false;
            RequireAllConnected(state.Open, solution.Reached, "has no open path to outside: everything that leads there is shut");
            solution.Connected = true;
        }

        Prepare(state, solution);
        if (!solution.HasStart)
        {
            StartCold(solution);
        }

        bool balanced = Balance(solution, toleranceKgPerS, maximumIterations);
        // A failed solve leaves pressures that are worse than none.
        solution.HasStart = balanced;
        if (balanced)
        {
            Gather(state, solution);
        }

        solution.Converged = balanced;
        return balanced;
    }

    internal int NodeIndex(AirNode node) => node.IsOutside ? ZoneCount : node.ZoneIndex;

    internal int FirstLink(int path) => _pathFirstLink[path];

    internal int PathFrom(int path) => _pathFrom[path];

    internal int PathTo(int path) => _pathTo[path];

    internal double FreeAirFlowM3PerS(int path) => _freeAirM3PerS[FirstLink(path)];

    /// <summary>Pressure a fan's source gives, Pa: by the fan laws with the square of speed and with density.</summary>
    internal double FanPressurePa(int link, double speed, double densityKgPerM3) =>
        speed * speed * _shutOffPa[link] * densityKgPerM3 / FlowLaw.ReferenceDensityKgPerM3;

    /// <summary>Pressure that drives a link from A to B, Pa, a fan's own included.</summary>
    internal double PressureDifferencePa(int link, AirFlowSolution solution)
    {
        int a = _linkA[link];
        int b = _linkB[link];
        double pressurePa = solution.DrivePa[link];
        pressurePa += a < ZoneCount ? solution.Pressure[a] : 0;
        pressurePa -= b < ZoneCount ? solution.Pressure[b] : 0;
        return pressurePa;
    }

    private void Prepare(AirState state, AirFlowSolution solution)
    {
        for (int node = 0; node < NodeCount; node++)
        {
            solution.Density[node] = MoistAir.DensityKgPerM3(
                state.TemperatureC[node], state.HumidityRatioKgPerKg[node], state.BarometricPressurePa);
            solution.DensityRoot[node] = Math.Sqrt(solution.Density[node]);
        }

        FlowPower? powersOf = null;
        state.Speed.CopyTo(solution.FanSpeed, 0);
        for (int link = 0; link < LinkCount; link++)
        {
            int a = _linkA[link];
            int b = _linkB[link];
            int path = _linkPath[link];
            double drivePa = (solution.Density[b] - solution.Density[a]) * TwoWayExchange.GravityMPerS2 * _heightM[link];
            if (a == ZoneCount)
            {
                drivePa += state.WindPa[path];
            }
            else if (b == ZoneCount)
            {
                drivePa -= state.WindPa[path];
            }

            solution.DrivePa[link] = drivePa + FanPressurePa(link, state.Speed[path], solution.Density[a]);
            double capacity = _coefficient[link] * state.Open[path];
            if (_exponent[link] == FlowLaw.OrificeExponent)
            {
                solution.Forward[link] = capacity * solution.DensityRoot[a];
                solution.Backward[link] = capacity * solution.DensityRoot[b];
            }
            else
            {
                // Cracks share one exponent as a rule: its powers are kept by node.
                if (_power[link] != powersOf)
                {
                    powersOf = _power[link];
                    FillPowers(solution, powersOf);
                }

                solution.Forward[link] = capacity * solution.DensityPower[a];
                solution.Backward[link] = capacity * solution.DensityPower[b];
            }
        }
    }

    // rho^n = rho (rho^2)^((n-1)/2).
    private static void FillPowers(AirFlowSolution solution, FlowPower power)
    {
        for (int node = 0; node < solution.Density.Length; node++)
        {
            double density = solution.Density[node];
            solution.DensityPower[node] = density * power.Of(density * density);
        }
    }

    private void StartCold(AirFlowSolution solution)
    {
        Array.Clear(solution.Pressure);
        Array.Clear(solution.Residual);
        Array.Clear(solution.Matrix);
        for (int link = 0; link < LinkCount; link++)
        {
            double drivePa = solution.DrivePa[link];
            double secantPa = Math.Max(Math.Abs(drivePa), ColdStartPressurePa);
            double slope = solution.Forward[link] * FlowLaw.Unit(secantPa, _exponent[link], out _) / secantPa;
            Accumulate(solution, link, slope * drivePa, slope);
        }

        Factorise(solution.Matrix, ZoneCount);
        SolveFactorised(solution.Matrix, solution.Residual, solution.Pressure);
    }

    private bool Balance(AirFlowSolution solution, double toleranceKgPerS, int maximumIterations)
    {
        solution.Iterations = 0;
        solution.Evaluations = 1;
        double imbalance = Evaluate(solution);
        while (!(imbalance <= toleranceKgPerS))
        {
            if (solution.Iterations >= maximumIterations)
            {
                solution.LargestImbalanceKgPerS = imbalance;
                return false;
            }

            solution.Iterations++;
            Factorise(solution.Matrix, ZoneCount);
            SolveFactorised(solution.Matrix, solution.Residual, solution.Step);
            double before = Dot(solution.Step, solution.Residual);
            Move(solution, 1);
            imbalance = Evaluate(solution);
            solution.Evaluations++;
            double after = Dot(solution.Step, solution.Residual);
            if (after < -0.5 * before)
            {
                Move(solution, (before / (before - after)) - 1);
                imbalance = Evaluate(solution);
                solution.Evaluations++;
            }
        }

        solution.LargestImbalanceKgPerS = imbalance;
        return true;
    }

    /// <summary>Flows, imbalance of each zone and slope matrix at the present pressures.</summary>
    private double Evaluate(AirFlowSolution solution)
    {
        int zones = ZoneCount;
        double[] residual = solution.Residual;
        double[] matrix = solution.Matrix;
        double[] pressure = solution.Pressure;
        double[] drive = solution.DrivePa;
        double[] forward = solution.Forward;
        double[] backward = solution.Backward;
        double[] flows = solution.LinkFlow;
        double[] exponents = _exponent;
        FlowPower[] powers = _power;
        Array.Clear(matrix);
        // Links to outside zone by zone, so that sums stay out of memory; most links are of these.
        int next = 0;
        for (int zone = 0; zone < zones; zone++)
        {
            double zonePa = pressure[zone];
            double imbalance = 0;
            double slopes = 0;
            for (int end = _outsideEnd[zone]; next < end; next++)
            {
                int link = _outside[next];
                double sign = _outsideSign[next];
                double flow = Flow(drive[link] + (sign * zonePa), forward[link], backward[link], exponents[link], powers[link], out double slope);
                flows[link] = flow;
                imbalance -= sign * flow;
                slopes += slope;
            }

            residual[zone] = imbalance;
            matrix[(zone * zones) + zone] = slopes;
        }

        foreach (int link in _inside)
        {
            int a = _linkA[link];
            int b = _linkB[link];
            double flow = Flow(drive[link] + pressure[a] - pressure[b], forward[link], backward[link], exponents[link], powers[link], out double slope);
            flows[link] = flow;
            residual[a] -= flow;
            residual[b] += flow;
            matrix[_slotA[link]] += slope;
            matrix[_slotB[link]] += slope;
            matrix[_slotAB[link]] -= slope;
        }

        double largest = 0;
        for (int zone = 0; zone < zones; zone++)
        {
            // Keeps a not-a-number, which Math.Max hands on, from passing for a balance.
            largest = Math.Max(largest, Math.Abs(residual[zone]));
        }

        return largest;
    }

    // FlowLaw.Unit times the capacity of the side the air comes from, its slope (n p2 + e2)/(p2 + e2) written as n + (1 - n) e2/(p2 + e2).
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static double Flow(double pressurePa, double forward, double backward, double exponent, FlowPower power, out double slope)
    {
        const double Smoothing = FlowLaw.SmoothingPressurePa * FlowLaw.SmoothingPressurePa;
        double smooth = (pressurePa * pressurePa) + Smoothing;
        double perPa = (pressurePa >= 0 ? forward : backward) * power.Of(smooth);
        slope = perPa * (exponent + ((1 - exponent) * Smoothing / smooth));
        return perPa * pressurePa;
    }

    private void Accumulate(AirFlowSolution solution, int link, double flow, double slope)
    {
        solution.Residual[_linkA[link]] -= flow;
        solution.Residual[_linkB[link]] += flow;
        solution.Matrix[_slotA[link]] += slope;
        solution.Matrix[_slotB[link]] += slope;
        solution.Matrix[_slotAB[link]] -= slope;
    }

    private static void Move(AirFlowSolution solution, double share)
    {
        for (int zone = 0; zone < solution.Pressure.Length; zone++)
        {
            solution.Pressure[zone] += share * solution.Step[zone];
        }
    }

    private static double Dot(double[] left, double[] right)
    {
        double sum = 0;
        for (int i = 0; i < left.Length; i++)
        {
            sum += left[i] * right[i];
        }

        return sum;
    }

    /// <summary>L D L' of a symmetric positive definite matrix in its lower triangle, in place; D on the diagonal.</summary>
    internal static void Factorise(double[] matrix, int size)
    {
        for (int j = 0; j < size; j++)
        {
            double pivot = matrix[(j * size) + j];
            for (int i = j + 1; i < size; i++)
            {
                double entry = matrix[(i * size) + j];
                if (entry == 0)
                {
                    continue;
                }

                double factor = entry / pivot;
                for (int k = j + 1; k <= i; k++)
                {
                    // Rows above i already hold factors in column j; times the pivot they are the entries again.
                    double other = k == i ? entry : matrix[(k * size) + j] * pivot;
                    matrix[(i * size) + k] -= factor * other;
                }

                matrix[(i * size) + j] = factor;
            }
        }
    }

    /// <summary>Solves with the factors of <see cref="Factorise"/>.</summary>
    internal static void SolveFactorised(double[] factors, double[] rightSide, double[] answer)
    {
        int size = answer.Length;
        for (int i = 0; i < size; i++)
        {
            double sum = rightSide[i];
            for (int k = 0; k < i; k++)
            {
                sum -= factors[(i * size) + k] * answer[k];
            }

            answer[i] = sum;
        }

        for (int i = 0; i < size; i++)
        {
            answer[i] /= factors[(i * size) + i];
        }

        for (int i = size - 1; i >= 0; i--)
        {
            for (int k = i + 1; k < size; k++)
            {
                answer[i] -= factors[(k * size) + i] * answer[k];
            }
        }
    }

    /// <summary>Two-way exchange, transport between nodes and age of air at the solved pressures.</summary>
    private void Gather(AirState state, AirFlowSolution solution)
    {
        Array.Clear(solution.Transport);
        for (int path = 0; path < PathCount; path++)
        {
            double net = 0;
            double forward = 0;
            double backward = 0;
            for (int link = _pathFirstLink[path]; link < _pathFirstLink[path + 1]; link++)
            {
                double flow = solution.LinkFlow[link];
                double exchange = ExchangeKgPerS(link, flow, state, solution);
                net += flow;
                forward += Math.Max(0, flow) + exchange;
                backward += Math.Max(0, -flow) + exchange;
            }

            SetPath(solution, path, net, forward, backward);
        }

        for (int mixing = 0; mixing < _mixingPath.Length; mixing++)
        {
            int path = _mixingPath[mixing];
            double exchange = _mixingM3PerS[mixing] * state.Open[path]
                * (solution.Density[_pathFrom[path]] + solution.Density[_pathTo[path]]) / 2;
            SetPath(solution, path, 0, exchange, exchange);
        }

        for (int zone = 0; zone < ZoneCount; zone++)
        {
            double inflow = 0;
            for (int node = 0; node < NodeCount; node++)
            {
                inflow += solution.Transport[(zone * NodeCount) + node];
            }

            solution.Inflow[zone] = inflow;
            // The step is done with; it lends its room to the air masses.
            solution.Step[zone] = solution.Density[zone] * _volumeM3[zone];
        }

        AgeOfAir.Solve(solution.Transport, solution.Step, solution.Age, solution.AgeMatrix, solution.Reached);
    }

    private void SetPath(AirFlowSolution solution, int path, double net, double forward, double backward)
    {
        solution.PathNet[path] = net;
        solution.PathForward[path] = forward;
        solution.PathBackward[path] = backward;
        solution.Transport[(_pathTo[path] * NodeCount) + _pathFrom[path]] += forward;
        solution.Transport[(_pathFrom[path] * NodeCount) + _pathTo[path]] += backward;
    }

    private double ExchangeKgPerS(int link, double netKgPerS, AirState state, AirFlowSolution solution)
    {
        double areaM2 = _exchangeAreaM2[link] * state.Open[_linkPath[link]];
        if (areaM2 == 0)
        {
            return 0;
        }

        double a = solution.Density[_linkA[link]];
        double b = solution.Density[_linkB[link]];
        double mean = (a + b) / 2;
        double buoyantM3PerS = _stacking[link] switch
        {
            AirNetworkBuilder.Stacking.BAboveA => TwoWayExchange.HorizontalM3PerS(areaM2, a, b),
            AirNetworkBuilder.Stacking.AAboveB => TwoWayExchange.HorizontalM3PerS(areaM2, b, a),
            AirNetworkBuilder.Stacking.SideBySide => 0,
            var other => throw new InvalidOperationException($"Unknown stacking {other}."),
        };
        double gustM3PerS = _windExchange[link] * areaM2 * state.WindSpeedMPerS;
        return mean * TwoWayExchange.LeftOverM3PerS(buoyantM3PerS, gustM3PerS, netKgPerS / mean);
    }

    private void RequireAllConnected(double[] open, bool[] reached, string complaint)
    {
        Array.Clear(reached);
        reached[ZoneCount] = true;
        int count = 1;
        bool more = true;
        while (more && count < NodeCount)
        {
            more = false;
            for (int link = 0; link < LinkCount; link++)
            {
                if (open[_linkPath[link]] > 0 && reached[_linkA[link]] != reached[_linkB[link]])
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

    // The same paths are open as when all zones were last found connected.
    private static bool SameOpen(AirState state, AirFlowSolution solution)
    {
        bool same = solution.Connected;
        bool[] before = solution.Open;
        double[] open = state.Open;
        for (int path = 0; path < before.Length; path++)
        {
            bool now = open[path] > 0;
            same &= now == before[path];
            before[path] = now;
        }

        return same;
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
