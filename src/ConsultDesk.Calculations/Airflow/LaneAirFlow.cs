using System.Runtime.CompilerServices;
using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Airflow;

/// <summary>The answer of a <see cref="LaneNetwork{TLane}"/> and the memory it works in; each solve overwrites it and starts from the pressures it holds.</summary>
internal sealed class LaneAirFlow<TLane>
    where TLane : struct, ILane<TLane>
{
    private readonly LaneNetwork<TLane> _network;
    private readonly Aligned<LinkWork<TLane>> _work;
    private readonly TLane[] _age;
    private readonly TLane[] _airKg;
    private readonly TLane[] _ageMatrix;
    private bool _aged;

    public LaneAirFlow(LaneNetwork<TLane> network)
    {
        _network = network;
        int zones = network.ZoneCount;
        int nodes = zones + 1;
        Pressure = new TLane[zones];
        Step = new TLane[zones];
        Residual = new TLane[zones];
        Matrix = new TLane[zones * zones];
        Density = new TLane[nodes];
        DensityPower = new TLane[nodes * network.DensityPowers];
        _work = new Aligned<LinkWork<TLane>>(network.LinkCount, Unsafe.SizeOf<TLane>());
        WorkLink = new int[network.LinkCount];
        UsedBefore = new int[network.LinkCount + 1];
        LinkFlow = new TLane[network.LinkCount];
        Exchange = new TLane[network.LinkCount];
        Mixed = new TLane[network.PathCount];
        Transport = new TLane[nodes * nodes];
        _age = new TLane[zones];
        _airKg = new TLane[zones];
        _ageMatrix = new TLane[zones * zones];
        Reached = new TLane[nodes];
        OpenPaths = new TLane[network.PathCount];
    }

    /// <summary>Pressure of each zone at the datum height over that outside without wind.</summary>
    public TLane[] Pressure { get; }

    /// <summary>Density of the air in each zone, then outside.</summary>
    public TLane[] Density { get; }

    /// <summary>Air from node j into node i at [i * nodes + j], kg/s.</summary>
    public TLane[] Transport { get; }

    /// <summary>Newton steps each lane took.</summary>
    public TLane Iterations { get; internal set; }

    /// <summary>Times all flows were computed.</summary>
    public int Evaluations { get; internal set; }

    /// <summary>Largest imbalance left in any zone, kg/s; not a number where there is none.</summary>
    public TLane Imbalance { get; internal set; }

    /// <summary>Lanes whose pressures are an answer to start from.</summary>
    public TLane HasStart { get; internal set; }

    /// <summary>Lanes the latest solve balanced.</summary>
    public TLane Balanced { get; internal set; }

    /// <summary>Lanes in which every zone had an open way to outside in the latest solve.</summary>
    internal TLane Connected { get; set; }

    /// <summary>Lanes for which that is known, with the paths of <see cref="OpenPaths"/> open.</summary>
    internal TLane Known { get; set; }

    internal TLane[] OpenPaths { get; }

    internal TLane[] Reached { get; }

    internal TLane[] Step { get; }

    internal TLane[] Residual { get; }

    internal TLane[] Matrix { get; }

    internal TLane[] DensityPower { get; }

    /// <summary>The links that are open in some lane, so many as <see cref="Used"/>; links to outside zone by zone, then those between zones.</summary>
    internal Span<LinkWork<TLane>> Work => _work.Span;

    internal int Used { get; set; }

    /// <summary>Which link each of <see cref="Work"/> is.</summary>
    internal int[] WorkLink { get; }

    /// <summary>How many of <see cref="Work"/> come before each link.</summary>
    internal int[] UsedBefore { get; }

    internal TLane[] LinkFlow { get; }

    internal TLane[] Exchange { get; }

    internal TLane[] Mixed { get; }

    /// <summary>Net mass flow of a path from the node of lower index, outside being the last, into the other.</summary>
    public TLane NetKgPerS(int path)
    {
        TLane net = TLane.Zero;
        for (int link = _network.FirstLink(path), end = link + _network.LinksAt(path); link < end; link++)
        {
            net += LinkFlow[link];
        }

        return net;
    }

    /// <summary>All air passing a path that way, two-way exchange included.</summary>
    public TLane OutKgPerS(int path) => OneWay(path, TLane.Of(1));

    /// <summary>All air passing a path the other way.</summary>
    public TLane BackKgPerS(int path) => OneWay(path, TLane.Of(-1));

    private TLane OneWay(int path, TLane sign)
    {
        TLane sum = Mixed[path];
        for (int link = _network.FirstLink(path), end = link + _network.LinksAt(path); link < end; link++)
        {
            sum += TLane.Max(sign * LinkFlow[link], TLane.Zero) + Exchange[link];
        }

        return sum;
    }

    /// <summary>Where a link stands in <see cref="Work"/>; -1 when it is shut in every lane.</summary>
    internal int WorkOf(int link)
    {
        int at = UsedBefore[link];
        return UsedBefore[link + 1] > at ? at : -1;
    }

    /// <summary>Local mean age of air of each zone at the latest flows, s; worked out when it is first asked for. Infinite where no outdoor air arrives.</summary>
    public TLane[] AgeS()
    {
        if (!_aged)
        {
            for (int zone = 0; zone < _airKg.Length; zone++)
            {
                _airKg[zone] = Density[zone] * _network.VolumeM3[zone];
            }

            AgeOfAir.Solve<TLane>(Transport, _airKg, _age, _ageMatrix, Reached);
            _aged = true;
        }

        return _age;
    }

    /// <summary>Forgets the pressures, so that the next solve starts cold.</summary>
    public void Reset()
    {
        HasStart = TLane.Zero;
        Balanced = TLane.Zero;
    }

    internal void Changed() => _aged = false;
}

/// <summary>What is needed of a link again and again while a network is balanced, side by side in memory.</summary>
internal struct LinkWork<TLane>
    where TLane : struct, ILane<TLane>
{
    /// <summary>Pressure that drives it besides the zones' pressures, Pa.</summary>
    public TLane DrivePa;

    /// <summary>Capacity for air from the node of lower index.</summary>
    public TLane Forward;

    /// <summary>Capacity for air the other way.</summary>
    public TLane Backward;

    /// <summary>See <see cref="FlowPower.Half"/>.</summary>
    public TLane Half;

    /// <summary>Its flow at the present pressures.</summary>
    public TLane FlowKgPerS;
}
