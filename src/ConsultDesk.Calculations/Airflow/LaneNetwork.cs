using System.Runtime.CompilerServices;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Airflow;

/// <summary>
/// One network in each lane, all with the same zones, solved together; <see cref="AirNetwork"/> says how. Paths of all lanes that join the same two nodes
/// and are of one kind share a place; where a lane has fewer of them the place has no capacity in it, which adds nothing to any of its sums. A lane that
/// is balanced stands still while the others go on, so that each lane has the very numbers it has alone.
/// </summary>
/// <remarks>
/// A path leads from its node of lower index to the other, outside being the last. Places stand in the order paths were added to the first
/// lane's network; sums go over them sorted by node and kind, which is the same order in every lane.
/// </remarks>
internal sealed class LaneNetwork<TLane>
    where TLane : struct, ILane<TLane>
{
    // A cold start takes each flow as a straight line through zero and its own value at its driving pressure, or at
    // this one, Pa, when hardly anything drives it.
    private const double ColdStartPressurePa = 1;

    private const double Smoothing = FlowLaw.SmoothingPressurePa * FlowLaw.SmoothingPressurePa;

    private readonly int[][] _placeOf;
    private readonly int[] _pathA;
    private readonly int[] _pathB;
    private readonly TLane[] _pathForward;

    private readonly int[] _firstLink;
    private readonly int[] _linkCount;
    private readonly int[] _mixings;
    private readonly TLane[] _mixingM3PerS;

    // Links to outside zone by zone, then those between zones.
    private readonly int[] _outsideEnd;
    private readonly int[] _linkPath;
    private readonly int[] _linkA;
    private readonly int[] _linkB;
    private readonly int[] _powerOf;
    private readonly TLane[] _heightM;
    private readonly TLane[] _coefficient;
    private readonly TLane[] _present;
    private readonly TLane[] _half;
    private readonly bool[] _isFan;
    private readonly TLane[] _fanPa;
    private readonly bool[] _exchanges;
    private readonly TLane[] _exchangeAreaM2;
    private readonly TLane[] _upwards;
    private readonly TLane[] _windExchange;
    private readonly TLane[] _densityHalf;

    /// <summary>Puts networks side by side.</summary>
    /// <param name="networks">One for each lane; all have the same number of zones.</param>
    public LaneNetwork(ReadOnlySpan<AirNetwork> networks)
    {
        if (networks.Length != TLane.Count)
        {
            throw new ArgumentException($"Expected {TLane.Count} networks, not {networks.Length}.", nameof(networks));
        }

        ZoneCount = networks[0].ZoneCount;
        VolumeM3 = new TLane[ZoneCount];
        _placeOf = new int[networks.Length][];
        Dictionary<Kind, List<int>> places = [];
        List<(Kind Kind, int Turn)> paths = [];
        for (int lane = 0; lane < networks.Length; lane++)
        {
            AirNetwork network = networks[lane];
            if (network.ZoneCount != ZoneCount)
            {
                throw new ArgumentException("The networks have different numbers of zones.", nameof(networks));
            }

            for (int zone = 0; zone < ZoneCount; zone++)
            {
                VolumeM3[zone] = TLane.With(VolumeM3[zone], lane, network.ZoneVolumeM3[zone]);
            }

            _placeOf[lane] = PlacesOf(network, places, paths);
        }

        PathCount = paths.Count;
        _pathA = [.. paths.Select(path => path.Kind.A)];
        _pathB = [.. paths.Select(path => path.Kind.B)];
        int[] order = [.. Enumerable.Range(0, PathCount).OrderBy(path => paths[path].Kind).ThenBy(path => paths[path].Turn)];
        _mixings = [.. order.Where(path => paths[path].Kind.Links == 0)];
        _linkCount = [.. paths.Select(path => path.Kind.Links)];
        _linkPath = [.. order.SelectMany(path => Enumerable.Repeat(path, _linkCount[path]))];
        _linkA = [.. _linkPath.Select(path => _pathA[path])];
        _linkB = [.. _linkPath.Select(path => _pathB[path])];
        _outsideEnd = [.. Enumerable.Range(0, ZoneCount).Select(zone => _linkB.TakeWhile((b, link) => b == ZoneCount && _linkA[link] <= zone).Count())];
        _firstLink = [.. Enumerable.Range(0, PathCount).Select(path => Array.IndexOf(_linkPath, path))];
        int links = LinkCount;
        _heightM = new TLane[links];
        _coefficient = new TLane[links];
        // Where a lane lacks a crack it takes the exponent of its others: so fewer sets of exponents occur.
        TLane cracks = TLane.Zero;
        for (int lane = 0; lane < networks.Length; lane++)
        {
            cracks = TLane.With(cracks, lane, networks[lane].Exponents().FirstOrDefault(n => n != FlowLaw.OrificeExponent, FlowLaw.OrificeExponent));
        }

        _half = [.. _linkPath.Select(path => Half(paths[path].Kind.Orifice ? TLane.Of(FlowLaw.OrificeExponent) : cracks))];
        _fanPa = new TLane[links];
        _exchangeAreaM2 = new TLane[links];
        _upwards = new TLane[links];
        _windExchange = new TLane[links];
        _pathForward = [.. Enumerable.Repeat(TLane.AllBits, PathCount)];
        _mixingM3PerS = new TLane[PathCount];
        for (int lane = 0; lane < networks.Length; lane++)
        {
            Put(networks[lane], lane);
        }

        _present = [.. _coefficient.Select(c => TLane.Less(TLane.Zero, c))];
        _isFan = [.. _fanPa.Select(pa => TLane.Any(TLane.Less(TLane.Zero, TLane.Abs(pa))))];
        _exchanges = [.. _exchangeAreaM2.Select(area => TLane.Any(TLane.Less(TLane.Zero, area)))];

        // The density of each node to each set of exponents that occurs; orifices, the first, take its square root.
        List<TLane> sets = [TLane.Of(FlowPower.Half(FlowLaw.OrificeExponent))];
        _powerOf = new int[links];
        for (int link = 0; link < links; link++)
        {
            TLane half = _half[link];
            int set = sets.FindIndex(known => TLane.All(TLane.Equal(known, half)));
            if (set < 0)
            {
                set = sets.Count;
                sets.Add(half);
            }

            _powerOf[link] = set;
        }

        _densityHalf = [.. sets];
    }

    /// <summary>Zones.</summary>
    public int ZoneCount { get; }

    /// <summary>Places of paths.</summary>
    public int PathCount { get; }

    /// <summary>Air volume of each zone.</summary>
    public TLane[] VolumeM3 { get; }

    internal int LinkCount => _linkPath.Length;

    internal int DensityPowers => _densityHalf.Length;

    private int NodeCount => ZoneCount + 1;

    /// <summary>Where a lane's path stands among the common ones.</summary>
    public int PlaceOf(int lane, int path) => _placeOf[lane][path];

    /// <summary>True in the lanes whose path at this place was added from its node of lower index to the other.</summary>
    public TLane LeadsForward(int place) => _pathForward[place];

    /// <summary>First link of the path at a place; -1 for a mixing.</summary>
    internal int FirstLink(int place) => _firstLink[place];

    /// <summary>Links of the path at a place, one behind the other; 0 of a mixing.</summary>
    internal int LinksAt(int place) => _linkCount[place];

    /// <summary>True when a link exchanges air both ways in some lane.</summary>
    internal bool Exchanges(int link) => _exchanges[link];

    /// <summary>A state to be set and solved again and again.</summary>
    public LaneAirState<TLane> CreateState() => new(ZoneCount, PathCount);

    /// <summary>Memory for the answers.</summary>
    public LaneAirFlow<TLane> CreateFlow() => new(this);

    /// <summary>Solves the networks.</summary>
    /// <param name="state">What drives them.</param>
    /// <param name="flow">Receives the answer; its present pressures are the start.</param>
    /// <param name="toleranceKgPerS">Largest imbalance accepted in a zone.</param>
    /// <param name="maximumIterations">Newton steps after which a lane is given up.</param>
    /// <param name="asked">Lanes to solve; in the others nothing is an answer afterwards.</param>
    /// <returns>
    /// Lanes that balanced. In one that did not, whether its state holds what is no number, a zone has no open path or the steps ran out, nothing
    /// is an answer, and it starts cold the next time.
    /// </returns>
    public TLane Solve(LaneAirState<TLane> state, LaneAirFlow<TLane> flow, double toleranceKgPerS, int maximumIterations, TLane asked)
    {
        flow.Changed();
        asked = TLane.And(asked, Connected(state, flow));
        if (!TLane.Any(asked))
        {
            flow.Reset();
            return TLane.Zero;
        }

        Prepare(state, flow, asked);
        TLane cold = TLane.AndNot(TLane.AllBits, TLane.And(flow.HasStart, asked));
        if (TLane.Any(cold))
        {
            StartCold(flow, cold);
        }

        TLane balanced = Balance(flow, TLane.Of(toleranceKgPerS), maximumIterations, asked);
        // A failed solve leaves pressures that are worse than none.
        flow.HasStart = balanced;
        flow.Balanced = balanced;
        if (TLane.Any(balanced))
        {
            Gather(state, flow);
        }

        return balanced;
    }

    // Lanes in which each zone has an open way to outside; looked for again when a path was opened or shut.
    private TLane Connected(LaneAirState<TLane> state, LaneAirFlow<TLane> flow)
    {
        TLane changed = TLane.AndNot(TLane.AllBits, flow.Known);
        for (int path = 0; path < flow.OpenPaths.Length; path++)
        {
            TLane open = TLane.Less(TLane.Zero, state.Open[path]);
            changed = TLane.Or(changed, TLane.Xor(open, flow.OpenPaths[path]));
            flow.OpenPaths[path] = open;
        }

        if (!TLane.Any(changed))
        {
            return flow.Connected;
        }

        TLane[] reached = flow.Reached;
        Array.Clear(reached);
        reached[ZoneCount] = TLane.AllBits;
        TLane more = TLane.AllBits;
        while (TLane.Any(more))
        {
            more = TLane.Zero;
            for (int link = 0; link < _linkPath.Length; link++)
            {
                ref TLane a = ref reached[_linkA[link]];
                ref TLane b = ref reached[_linkB[link]];
                TLane news = TLane.And(TLane.And(flow.OpenPaths[_linkPath[link]], _present[link]), TLane.Xor(a, b));
                a = TLane.Or(a, news);
                b = TLane.Or(b, news);
                more = TLane.Or(more, news);
            }
        }

        TLane connected = TLane.AllBits;
        foreach (TLane zone in reached)
        {
            connected = TLane.And(connected, zone);
        }

        flow.Connected = connected;
        flow.Known = TLane.AllBits;
        return connected;
    }

    /// <summary>Pressure that a fan at a link gives at its speed, Pa, positive from the node of lower index: by the fan laws with the square of speed and with density.</summary>
    private TLane FanPressurePa(int link, TLane speed, LaneAirFlow<TLane> flow)
    {
        TLane rated = _fanPa[link];
        TLane density = TLane.Select(TLane.Less(rated, TLane.Zero), flow.Density[_linkB[link]], flow.Density[_linkA[link]]);
        return speed * speed * rated * density * TLane.Of(1 / FlowLaw.ReferenceDensityKgPerM3);
    }

    private void Prepare(LaneAirState<TLane> state, LaneAirFlow<TLane> flow, TLane asked)
    {
        TLane[] densities = flow.Density;
        TLane[] powers = flow.DensityPower;
        for (int node = 0; node < densities.Length; node++)
        {
            TLane density = MoistAir.DensityKgPerM3(state.TemperatureC[node], state.HumidityRatioKgPerKg[node], state.BarometricPressurePa);
            densities[node] = density;
            powers[node] = TLane.Sqrt(density);
            for (int set = 1; set < _densityHalf.Length; set++)
            {
                // rho^n = rho (rho^2)^((n-1)/2).
                powers[(set * densities.Length) + node] = density * FlowPower.Of(density * density, _densityHalf[set]);
            }
        }

        Span<LinkWork<TLane>> work = flow.Work;
        int[] workLink = flow.WorkLink;
        int used = 0;
        for (int link = 0; link < _linkPath.Length; link++)
        {
            flow.UsedBefore[link] = used;
            int path = _linkPath[link];
            TLane capacity = _coefficient[link] * state.Open[path];
            if (!TLane.AnyLess(TLane.Zero, capacity))
            {
                // Shut in every lane: nothing to do for it.
                flow.LinkFlow[link] = TLane.Zero;
                flow.Exchange[link] = TLane.Zero;
                continue;
            }

            int a = _linkA[link];
            int b = _linkB[link];
            int set = _powerOf[link] * densities.Length;
            TLane drivePa = (densities[b] - densities[a]) * TLane.Of(TwoWayExchange.GravityMPerS2) * _heightM[link];
            if (b == ZoneCount)
            {
                drivePa -= state.WindPa[path];
            }

            if (_isFan[link])
            {
                drivePa += FanPressurePa(link, state.Speed[path], flow);
            }

            ref LinkWork<TLane> to = ref work[used];
            // What a lane that nobody asks for holds may be no number.
            to.DrivePa = TLane.And(asked, drivePa);
            to.Forward = capacity * powers[set + a];
            to.Backward = capacity * powers[set + b];
            to.Half = _half[link];
            workLink[used] = link;
            used++;
        }

        flow.UsedBefore[_linkPath.Length] = used;
        flow.Used = used;
    }

    private void StartCold(LaneAirFlow<TLane> flow, TLane cold)
    {
        Array.Clear(flow.Residual);
        Array.Clear(flow.Matrix);
        int zones = ZoneCount;
        for (int next = 0; next < flow.Used; next++)
        {
            ref LinkWork<TLane> link = ref flow.Work[next];
            TLane secantPa = TLane.Max(TLane.Abs(link.DrivePa), TLane.Of(ColdStartPressurePa));
            TLane slope = TLane.Select(TLane.Less(link.DrivePa, TLane.Zero), link.Backward, link.Forward) * FlowPower.Of((secantPa * secantPa) + TLane.Of(Smoothing), link.Half);
            int a = _linkA[flow.WorkLink[next]];
            int b = _linkB[flow.WorkLink[next]];
            flow.Residual[a] -= slope * link.DrivePa;
            flow.Matrix[(a * zones) + a] += slope;
            if (b < zones)
            {
                flow.Residual[b] += slope * link.DrivePa;
                flow.Matrix[(b * zones) + b] += slope;
                flow.Matrix[(b * zones) + a] -= slope;
            }
        }

        Factorise(flow.Matrix, zones);
        SolveFactorised(flow.Matrix, flow.Residual, flow.Step);
        for (int zone = 0; zone < zones; zone++)
        {
            flow.Pressure[zone] = TLane.Select(cold, flow.Step[zone], flow.Pressure[zone]);
        }
    }

    private TLane Balance(LaneAirFlow<TLane> flow, TLane toleranceKgPerS, int maximumIterations, TLane asked)
    {
        flow.Iterations = TLane.Zero;
        flow.Evaluations = 1;
        TLane imbalance = Evaluate(flow);
        TLane open = TLane.AndNot(asked, TLane.LessOrEqual(imbalance, toleranceKgPerS));
        for (int iteration = 0; iteration < maximumIterations && TLane.Any(open); iteration++)
        {
            flow.Iterations += TLane.And(open, TLane.Of(1));
            Factorise(flow.Matrix, ZoneCount);
            SolveFactorised(flow.Matrix, flow.Residual, flow.Step);
            TLane before = Dot(flow.Step, flow.Residual);
            Move(flow, open, TLane.Of(1));
            imbalance = Evaluate(flow);
            flow.Evaluations++;
            TLane after = Dot(flow.Step, flow.Residual);
            TLane back = TLane.And(open, TLane.Less(after, TLane.Of(-0.5) * before));
            if (TLane.Any(back))
            {
                Move(flow, back, (before / (before - after)) - TLane.Of(1));
                imbalance = Evaluate(flow);
                flow.Evaluations++;
            }

            open = TLane.AndNot(open, TLane.LessOrEqual(imbalance, toleranceKgPerS));
        }

        flow.Imbalance = imbalance;
        return TLane.AndNot(asked, open);
    }

    /// <summary>Flows, imbalance of each zone and slope matrix at the present pressures; the largest imbalance.</summary>
    private TLane Evaluate(LaneAirFlow<TLane> flow)
    {
        int zones = ZoneCount;
        TLane[] residual = flow.Residual;
        TLane[] matrix = flow.Matrix;
        TLane[] pressure = flow.Pressure;
        Span<LinkWork<TLane>> work = flow.Work[..flow.Used];
        int[] workLink = flow.WorkLink;
        Array.Clear(matrix);
        // Links to outside zone by zone, so that sums stay out of memory; most links are of these.
        int next = 0;
        for (int zone = 0; zone < zones; zone++)
        {
            TLane zonePa = pressure[zone];
            TLane imbalance = TLane.Zero;
            TLane slopes = TLane.Zero;
            for (int end = flow.UsedBefore[_outsideEnd[zone]]; next < end; next++)
            {
                ref LinkWork<TLane> link = ref work[next];
                TLane kgPerS = Flow(link.DrivePa + zonePa, ref link, out TLane slope);
                imbalance -= kgPerS;
                slopes += slope;
            }

            residual[zone] = imbalance;
            matrix[(zone * zones) + zone] = slopes;
        }

        for (; next < work.Length; next++)
        {
            ref LinkWork<TLane> link = ref work[next];
            int a = _linkA[workLink[next]];
            int b = _linkB[workLink[next]];
            TLane kgPerS = Flow(link.DrivePa + pressure[a] - pressure[b], ref link, out TLane slope);
            residual[a] -= kgPerS;
            residual[b] += kgPerS;
            matrix[(a * zones) + a] += slope;
            matrix[(b * zones) + b] += slope;
            matrix[(b * zones) + a] -= slope;
        }

        TLane largest = TLane.Zero;
        TLane sum = TLane.Zero;
        for (int zone = 0; zone < zones; zone++)
        {
            largest = TLane.Max(largest, TLane.Abs(residual[zone]));
            sum += residual[zone];
        }

        // Keeps what is no number from passing for a balance.
        return largest + (sum - sum);
    }

    // FlowLaw.Unit times the capacity of the side the air comes from, its slope (n p2 + e2)/(p2 + e2) written as 1 + (n - 1) p2/(p2 + e2).
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static TLane Flow(TLane pressurePa, ref LinkWork<TLane> link, out TLane slope)
    {
        TLane square = pressurePa * pressurePa;
        TLane smooth = square + TLane.Of(Smoothing);
        TLane side = TLane.Select(TLane.Less(pressurePa, TLane.Zero), link.Backward, link.Forward);
        TLane perPa = side * FlowPower.Of(smooth, link.Half);
        slope = perPa * TLane.MultiplyAdd(link.Half + link.Half, square / smooth, TLane.Of(1));
        TLane kgPerS = perPa * pressurePa;
        link.FlowKgPerS = kgPerS;
        return kgPerS;
    }

    private static void Move(LaneAirFlow<TLane> flow, TLane moving, TLane share)
    {
        for (int zone = 0; zone < flow.Pressure.Length; zone++)
        {
            flow.Pressure[zone] = TLane.Select(moving, flow.Pressure[zone] + (share * flow.Step[zone]), flow.Pressure[zone]);
        }
    }

    private static TLane Dot(TLane[] left, TLane[] right)
    {
        TLane sum = TLane.Zero;
        for (int i = 0; i < left.Length; i++)
        {
            sum = TLane.MultiplyAdd(left[i], right[i], sum);
        }

        return sum;
    }

    /// <summary>L D L' of a symmetric positive definite matrix in its lower triangle, in place; 1/D on the diagonal.</summary>
    private static void Factorise(TLane[] matrix, int size)
    {
        for (int j = 0; j < size; j++)
        {
            TLane inverse = TLane.Of(1) / matrix[(j * size) + j];
            matrix[(j * size) + j] = inverse;
            // From the last row up, so that the rows above still hold their entries of column j.
            for (int i = size - 1; i > j; i--)
            {
                TLane entry = matrix[(i * size) + j];
                if (TLane.All(TLane.Equal(entry, TLane.Zero)))
                {
                    continue;
                }

                TLane factor = entry * inverse;
                for (int k = j + 1; k <= i; k++)
                {
                    matrix[(i * size) + k] = TLane.SubtractProduct(matrix[(i * size) + k], factor, matrix[(k * size) + j]);
                }

                matrix[(i * size) + j] = factor;
            }
        }
    }

    /// <summary>Solves with the factors of <see cref="Factorise"/>.</summary>
    private static void SolveFactorised(TLane[] factors, TLane[] rightSide, TLane[] answer)
    {
        int size = answer.Length;
        for (int i = 0; i < size; i++)
        {
            TLane sum = rightSide[i];
            for (int k = 0; k < i; k++)
            {
                sum = TLane.SubtractProduct(sum, factors[(i * size) + k], answer[k]);
            }

            answer[i] = sum;
        }

        for (int i = size - 1; i >= 0; i--)
        {
            TLane sum = answer[i] * factors[(i * size) + i];
            for (int k = i + 1; k < size; k++)
            {
                sum = TLane.SubtractProduct(sum, factors[(k * size) + i], answer[k]);
            }

            answer[i] = sum;
        }
    }

    /// <summary>Two-way exchange and transport between nodes at the solved pressures.</summary>
    private void Gather(LaneAirState<TLane> state, LaneAirFlow<TLane> flow)
    {
        TLane[] transport = flow.Transport;
        Array.Clear(transport);
        Span<LinkWork<TLane>> work = flow.Work[..flow.Used];
        int nodes = NodeCount;
        int next = 0;
        for (int zone = 0; zone < ZoneCount; zone++)
        {
            TLane outwards = TLane.Zero;
            TLane back = TLane.Zero;
            for (int end = flow.UsedBefore[_outsideEnd[zone]]; next < end; next++)
            {
                Pass(flow.WorkLink[next], work[next].FlowKgPerS, state, flow, ref outwards, ref back);
            }

            transport[(ZoneCount * nodes) + zone] = outwards;
            transport[(zone * nodes) + ZoneCount] = back;
        }

        for (; next < work.Length; next++)
        {
            int link = flow.WorkLink[next];
            int a = _linkA[link];
            int b = _linkB[link];
            Pass(link, work[next].FlowKgPerS, state, flow, ref transport[(b * nodes) + a], ref transport[(a * nodes) + b]);
        }

        foreach (int path in _mixings)
        {
            int a = _pathA[path];
            int b = _pathB[path];
            TLane exchange = _mixingM3PerS[path] * state.Open[path] * (flow.Density[a] + flow.Density[b]) * TLane.Of(0.5);
            flow.Mixed[path] = exchange;
            transport[(b * nodes) + a] += exchange;
            transport[(a * nodes) + b] += exchange;
        }
    }

    // What passes a link either way, added to the sums of its nodes.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Pass(int link, TLane kgPerS, LaneAirState<TLane> state, LaneAirFlow<TLane> flow, ref TLane outwards, ref TLane back)
    {
        flow.LinkFlow[link] = kgPerS;
        outwards += TLane.Max(kgPerS, TLane.Zero);
        back += TLane.Max(-kgPerS, TLane.Zero);
        if (_exchanges[link])
        {
            TLane exchange = ExchangeKgPerS(link, state, flow);
            flow.Exchange[link] = exchange;
            outwards += exchange;
            back += exchange;
        }
    }

    private TLane ExchangeKgPerS(int link, LaneAirState<TLane> state, LaneAirFlow<TLane> flow)
    {
        TLane areaM2 = _exchangeAreaM2[link] * state.Open[_linkPath[link]];
        TLane a = flow.Density[_linkA[link]];
        TLane b = flow.Density[_linkB[link]];
        TLane mean = (a + b) * TLane.Of(0.5);
        TLane buoyantM3PerS = TwoWayExchange.HorizontalM3PerS(areaM2, _upwards[link] * (b - a), mean);
        TLane gustM3PerS = _windExchange[link] * areaM2 * state.WindSpeedMPerS;
        return TwoWayExchange.LeftOverKgPerS(buoyantM3PerS, gustM3PerS, mean, flow.LinkFlow[link]);
    }

    private static int[] PlacesOf(AirNetwork network, Dictionary<Kind, List<int>> places, List<(Kind Kind, int Turn)> paths)
    {
        Dictionary<Kind, int> used = [];
        int[] found = new int[network.PathCount];
        for (int path = 0; path < found.Length; path++)
        {
            Kind kind = Kind.Of(network, path);
            int turn = used.GetValueOrDefault(kind);
            used[kind] = turn + 1;
            if (!places.TryGetValue(kind, out List<int>? known))
            {
                places.Add(kind, known = []);
            }

            if (turn == known.Count)
            {
                known.Add(paths.Count);
                paths.Add((kind, turn));
            }

            found[path] = known[turn];
        }

        return found;
    }

    private static TLane Half(TLane exponent) => (exponent - TLane.Of(1)) * TLane.Of(0.5);

    // One lane's numbers into their places.
    private void Put(AirNetwork network, int lane)
    {
        for (int path = 0; path < network.PathCount; path++)
        {
            int place = _placeOf[lane][path];
            bool forward = network.PathFrom(path) < network.PathTo(path);
            if (!forward)
            {
                _pathForward[place] = TLane.AndNot(_pathForward[place], TLane.Mask(1u << lane));
            }

            int link = _firstLink[place];
            foreach (AirNetworkBuilder.Link from in network.LinksOf(path))
            {
                Set(_heightM, from.HeightM);
                Set(_coefficient, from.Coefficient);
                Set(_half, FlowPower.Half(from.Exponent));
                Set(_fanPa, forward ? from.ShutOffPressurePa : -from.ShutOffPressurePa);
                Set(_exchangeAreaM2, from.ExchangeAreaM2);
                Set(_windExchange, from.WindExchange);
                Set(_upwards, from.Stacking switch
                {
                    AirNetworkBuilder.Stacking.SideBySide => 0,
                    AirNetworkBuilder.Stacking.BAboveA => forward ? 1 : -1,
                    AirNetworkBuilder.Stacking.AAboveB => forward ? -1 : 1,
                    var other => throw new InvalidOperationException($"Unknown stacking {other}."),
                });
                link++;
            }

            if (network.MixingM3PerS(path) is double mixing)
            {
                _mixingM3PerS[place] = TLane.With(_mixingM3PerS[place], lane, mixing);
            }

            void Set(TLane[] values, double value) => values[link] = TLane.With(values[link], lane, value);
        }
    }

    // Paths of one kind may share a place. They are sorted by it: to outside before between zones, mixings last.
    private readonly record struct Kind(bool Inside, int A, int B, int Links, bool Orifice) : IComparable<Kind>
    {
        public static Kind Of(AirNetwork network, int path)
        {
            int from = network.PathFrom(path);
            int to = network.PathTo(path);
            ReadOnlySpan<AirNetworkBuilder.Link> links = network.LinksOf(path);
            return new(
                Math.Max(from, to) < network.ZoneCount,
                Math.Min(from, to),
                Math.Max(from, to),
                links.Length,
                links.Length == 0 || links[0].Exponent == FlowLaw.OrificeExponent);
        }

        public int CompareTo(Kind other) =>
            (Links == 0, Inside, A, B, Links, Orifice).CompareTo((other.Links == 0, other.Inside, other.A, other.B, other.Links, other.Orifice));
    }
}
