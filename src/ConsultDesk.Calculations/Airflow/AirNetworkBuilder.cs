using System.Globalization;
using UnitsNet;

namespace ConsultDesk.Calculations.Airflow;

/// <summary>
/// Describes zones and the paths for air between them and outside; <see cref="Build"/> compiles them into an
/// <see cref="AirNetwork"/>. Heights are measured from one datum for the whole network, usually the floor.
/// </summary>
/// <example>
/// A cabin with a crack, a window and an exhaust fan in the roof:
/// <code>
/// var builder = new AirNetworkBuilder();
/// AirNode cabin = builder.AddZone("cabin", Volume.FromCubicMeters(10));
/// int crack = builder.AddCrack("crack", AirNode.Outside, cabin, Length.FromMeters(1), Area.FromSquareCentimeters(100), 0.65);
/// int window = builder.AddOrifice("window", AirNode.Outside, cabin, Length.FromMeters(1.2), Area.FromSquareCentimeters(600));
/// int fan = builder.AddFan("roof fan", cabin, AirNode.Outside, Length.FromMeters(1.9), VolumeFlow.FromCubicMetersPerSecond(0.42), Pressure.FromPascals(40));
/// AirNetwork network = builder.Build();
///
/// AirState state = network.CreateState();          // once per thread
/// AirFlowSolution air = network.CreateSolution();  // once per thread
/// state.ZoneTemperatureC[cabin.ZoneIndex] = 20;
/// state.OutdoorTemperatureC = 0;
/// state.FanSpeed[fan] = 0.5;
/// network.Solve(state, air);                       // again and again, nothing is allocated
/// double kgPerS = air.NetMassFlowKgPerS[window];   // positive: outside -> cabin, as the path was added
/// </code>
/// </example>
public sealed class AirNetworkBuilder
{
    /// <summary>Usual discharge coefficient of a sharp-edged opening (common practice, 0.6 to 0.65).</summary>
    public const double SharpEdgedDischargeCoefficient = 0.6;

    internal readonly List<string> ZoneIds = [];
    internal readonly List<double> ZoneVolumesM3 = [];
    internal readonly List<string> PathIds = [];
    internal readonly List<int> PathFirstLink = [];
    internal readonly List<Link> Links = [];
    internal readonly List<Mixing> Mixings = [];

    /// <summary>One way for air at one height, in the one form every kind of path compiles to.</summary>
    internal readonly record struct Link(
        int Path,
        AirNode A,
        AirNode B,
        double HeightM,
        double Coefficient,
        double Exponent,
        double ShutOffPressurePa,
        double FreeAirFlowM3PerS,
        double ExchangeAreaM2,
        Stacking Stacking,
        double WindExchange);

    internal readonly record struct Mixing(int Path, AirNode A, AirNode B, double VolumeFlowM3PerS);

    /// <summary>Which node lies above the other at a horizontal opening.</summary>
    internal enum Stacking
    {
        /// <summary>Side by side: the opening is in a wall.</summary>
        SideBySide,

        /// <summary>B lies above A.</summary>
        BAboveA,

        /// <summary>A lies above B.</summary>
        AAboveB,
    }

    /// <summary>Adds a well-mixed volume of air.</summary>
    /// <param name="id">Unique within the network; named in errors.</param>
    /// <param name="airVolume">Air volume, more than 0.</param>
    /// <returns>The node to connect paths to.</returns>
    public AirNode AddZone(string id, Volume airVolume)
    {
        RequireNewId(id, ZoneIds, "zone");
        ZoneVolumesM3.Add(RequirePositive(airVolume.CubicMeters, nameof(airVolume), id, "m3"));
        ZoneIds.Add(id);
        return AirNode.Zone(ZoneIds.Count - 1);
    }

    /// <summary>Adds an opening small enough to stand at one height: m = Cd A sqrt(2 rho dp).</summary>
    /// <param name="id">Unique within the network; named in errors.</param>
    /// <param name="from">Node that positive flow leaves.</param>
    /// <param name="to">Node that positive flow enters.</param>
    /// <param name="height">Height of its centre above the datum.</param>
    /// <param name="freeArea">Free area, more than 0.</param>
    /// <param name="dischargeCoefficient">Discharge coefficient, more than 0 to 1.</param>
    /// <returns>Index of the path.</returns>
    public int AddOrifice(
        string id,
        AirNode from,
        AirNode to,
        Length height,
        Area freeArea,
        double dischargeCoefficient = SharpEdgedDischargeCoefficient)
    {
        double areaM2 = RequirePositive(freeArea.SquareMeters, nameof(freeArea), id, "m2");
        RequireDischargeCoefficient(dischargeCoefficient, id);
        int path = AddPath(id, from, to);
        AddLink(path, from, to, height.Meters, FlowLaw.OrificeCoefficient(dischargeCoefficient, areaM2), FlowLaw.OrificeExponent);
        return path;
    }

    /// <summary>
    /// Adds a tall opening in a wall, a window or a doorway, that lets air in low and out high at once. It is two
    /// halves of the free area, 2/9 of its height below and above its centre: with no net flow this exchanges
    /// exactly the (Cd/3) W H^1.5 sqrt(g dT/T) of Brown and Solvason (1962), and a net flow quenches it by itself.
    /// </summary>
    /// <param name="id">Unique within the network; named in errors.</param>
    /// <param name="from">Node that positive flow leaves.</param>
    /// <param name="to">Node that positive flow enters.</param>
    /// <param name="bottom">Lower edge above the datum.</param>
    /// <param name="top">Upper edge above the datum, above <paramref name="bottom"/>.</param>
    /// <param name="freeArea">Free area, more than 0, spread evenly from bottom to top.</param>
    /// <param name="dischargeCoefficient">Discharge coefficient, more than 0 to 1.</param>
    /// <param name="windExchange">
    /// Two-way exchange driven by gusts, as a share of free area times wind speed, 0 to 0.1. 0.016 follows from the
    /// wind term of de Gids and Phaff (1982), recalled from memory. Counts only at paths to outside.
    /// </param>
    /// <returns>Index of the path.</returns>
    public int AddVerticalOpening(
        string id,
        AirNode from,
        AirNode to,
        Length bottom,
        Length top,
        Area freeArea,
        double dischargeCoefficient = SharpEdgedDischargeCoefficient,
        double windExchange = 0)
    {
        double areaM2 = RequirePositive(freeArea.SquareMeters, nameof(freeArea), id, "m2");
        RequireDischargeCoefficient(dischargeCoefficient, id);
        RequireWindExchange(windExchange, id);
        double bottomM = bottom.Meters;
        double heightM = RequirePositive(top.Meters - bottomM, nameof(top), id, "m above its bottom");
        int path = AddPath(id, from, to);
        double centreM = bottomM + (heightM / 2);
        double offsetM = TwoWayExchange.HalfOffset * heightM;
        double coefficient = FlowLaw.OrificeCoefficient(dischargeCoefficient, areaM2 / 2);
        foreach (double zM in (ReadOnlySpan<double>)[centreM - offsetM, centreM + offsetM])
        {
            AddLink(path, from, to, zM, coefficient, FlowLaw.OrificeExponent, exchangeAreaM2: areaM2 / 2, windExchange: windExchange);
        }

        return path;
    }

    /// <summary>
    /// Adds an opening in a roof or floor. Beside its net flow it exchanges air both ways when the air above is
    /// denser (Epstein 1988) and in wind; see <see cref="TwoWayExchange"/>.
    /// </summary>
    /// <param name="id">Unique within the network; named in errors.</param>
    /// <param name="below">Node under it; positive flow rises out of this node.</param>
    /// <param name="above">Node over it.</param>
    /// <param name="height">Height above the datum.</param>
    /// <param name="freeArea">Free area, more than 0.</param>
    /// <param name="dischargeCoefficient">Discharge coefficient, more than 0 to 1.</param>
    /// <param name="windExchange">
    /// Two-way exchange driven by gusts, as a share of free area times wind speed, 0 to 0.1 (0.016: wind term of de
    /// Gids and Phaff 1982, recalled from memory). Counts only at paths to outside.
    /// </param>
    /// <returns>Index of the path.</returns>
    public int AddHorizontalOpening(
        string id,
        AirNode below,
        AirNode above,
        Length height,
        Area freeArea,
        double dischargeCoefficient = SharpEdgedDischargeCoefficient,
        double windExchange = 0)
    {
        double areaM2 = RequirePositive(freeArea.SquareMeters, nameof(freeArea), id, "m2");
        RequireDischargeCoefficient(dischargeCoefficient, id);
        RequireWindExchange(windExchange, id);
        int path = AddPath(id, below, above);
        AddLink(
            path, below, above, height.Meters, FlowLaw.OrificeCoefficient(dischargeCoefficient, areaM2), FlowLaw.OrificeExponent,
            exchangeAreaM2: areaM2, stacking: Stacking.BAboveA, windExchange: windExchange);
        return path;
    }

    /// <summary>Adds cracks nobody made: Q = C dp^n with C from the effective leakage area at 4 Pa and Cd 1 (ASHRAE convention).</summary>
    /// <param name="id">Unique within the network; named in errors.</param>
    /// <param name="from">Node that positive flow leaves.</param>
    /// <param name="to">Node that positive flow enters.</param>
    /// <param name="height">Height above the datum.</param>
    /// <param name="effectiveLeakageArea">Effective leakage area at 4 Pa with a discharge coefficient of 1, more than 0.</param>
    /// <param name="exponent">Flow exponent n, 0.5 (turbulent) to 1 (laminar); 0.65 is typical.</param>
    /// <returns>Index of the path.</returns>
    public int AddCrack(string id, AirNode from, AirNode to, Length height, Area effectiveLeakageArea, double exponent)
    {
        double areaM2 = RequirePositive(effectiveLeakageArea.SquareMeters, nameof(effectiveLeakageArea), id, "m2");
        if (!(exponent is >= 0.5 and <= 1))
        {
            throw new ArgumentOutOfRangeException(nameof(exponent), exponent, $"Path '{id}': expected a flow exponent from 0.5 to 1.");
        }

        int path = AddPath(id, from, to);
        AddLink(path, from, to, height.Meters, FlowLaw.CrackCoefficient(areaM2, exponent), exponent);
        return path;
    }

    /// <summary>
    /// Adds a fan that pushes air from one node to the other. Its curve is the parabola
    /// dp = P0 s^2 (1 - (Q / (s Q0))^2) with the fan laws for speed s and for density; see <see cref="FlowLaw"/>.
    /// Stopped it is a plain opening with the resistance the curve implies.
    /// </summary>
    /// <param name="id">Unique within the network; named in errors.</param>
    /// <param name="from">Node it draws from; swap the nodes for intake.</param>
    /// <param name="to">Node it blows into.</param>
    /// <param name="height">Height above the datum.</param>
    /// <param name="freeAirFlow">Flow Q0 at full speed against no pressure, more than 0, in air of 1.2 kg/m3.</param>
    /// <param name="shutOffPressure">Pressure P0 at full speed and no flow, more than 0, in air of 1.2 kg/m3.</param>
    /// <param name="horizontalFreeArea">
    /// Free area of the lid the fan sits in when that lies in a roof or floor, for the two-way exchange when the fan
    /// stands still; zero, the default, for none.
    /// </param>
    /// <param name="blowsUp">True when <paramref name="to"/> lies above <paramref name="from"/>; read only with a <paramref name="horizontalFreeArea"/>.</param>
    /// <param name="windExchange">As for a horizontal opening; read only with a <paramref name="horizontalFreeArea"/>.</param>
    /// <returns>Index of the path.</returns>
    public int AddFan(
        string id,
        AirNode from,
        AirNode to,
        Length height,
        VolumeFlow freeAirFlow,
        Pressure shutOffPressure,
        Area horizontalFreeArea = default,
        bool blowsUp = true,
        double windExchange = 0)
    {
        double q0M3PerS = RequirePositive(freeAirFlow.CubicMetersPerSecond, nameof(freeAirFlow), id, "m3/s");
        double p0Pa = RequirePositive(shutOffPressure.Pascals, nameof(shutOffPressure), id, "Pa");
        RequireWindExchange(windExchange, id);
        double exchangeAreaM2 = horizontalFreeArea.SquareMeters;
        if (!(exchangeAreaM2 >= 0 && double.IsFinite(exchangeAreaM2)))
        {
            throw new ArgumentOutOfRangeException(nameof(horizontalFreeArea), exchangeAreaM2, $"Path '{id}': expected 0 m2 or more.");
        }

        int path = AddPath(id, from, to);
        AddLink(
            path, from, to, height.Meters, FlowLaw.FanCoefficient(q0M3PerS, p0Pa), FlowLaw.OrificeExponent,
            shutOffPressurePa: p0Pa, freeAirFlowM3PerS: q0M3PerS, exchangeAreaM2: exchangeAreaM2,
            stacking: blowsUp ? Stacking.BAboveA : Stacking.AAboveB, windExchange: windExchange);
        return path;
    }

    /// <summary>
    /// Adds air exchanged both ways without any pressure difference, as through an open doorway or by a circulation
    /// fan: it carries air, heat, water and age, but no net mass.
    /// </summary>
    /// <param name="id">Unique within the network; named in errors.</param>
    /// <param name="from">One node.</param>
    /// <param name="to">The other node.</param>
    /// <param name="exchange">Flow in each direction, 0 or more; its mass is taken at the mean density of the two nodes.</param>
    /// <returns>Index of the path.</returns>
    public int AddMixing(string id, AirNode from, AirNode to, VolumeFlow exchange)
    {
        double flowM3PerS = exchange.CubicMetersPerSecond;
        if (!(flowM3PerS >= 0 && double.IsFinite(flowM3PerS)))
        {
            throw new ArgumentOutOfRangeException(nameof(exchange), flowM3PerS, $"Path '{id}': expected 0 m3/s or more.");
        }

        int path = AddPath(id, from, to);
        Mixings.Add(new Mixing(path, from, to, flowM3PerS));
        return path;
    }

    /// <summary>Compiles the network.</summary>
    /// <exception cref="ArgumentException">There is no zone, or a zone has no path to outside even with everything open.</exception>
    public AirNetwork Build() => new(this);

    private int AddPath(string id, AirNode from, AirNode to)
    {
        RequireNewId(id, PathIds, "path");
        foreach (AirNode node in (ReadOnlySpan<AirNode>)[from, to])
        {
            if (node.ZoneIndex >= ZoneIds.Count)
            {
                throw new ArgumentException($"Path '{id}' ends in a zone of another network.", nameof(from));
            }
        }

        if (from == to)
        {
            throw new ArgumentException($"Path '{id}' must join two different nodes.", nameof(to));
        }

        PathIds.Add(id);
        PathFirstLink.Add(Links.Count);
        return PathIds.Count - 1;
    }

    private void AddLink(
        int path,
        AirNode a,
        AirNode b,
        double heightM,
        double coefficient,
        double exponent,
        double shutOffPressurePa = 0,
        double freeAirFlowM3PerS = 0,
        double exchangeAreaM2 = 0,
        Stacking stacking = Stacking.SideBySide,
        double windExchange = 0)
    {
        if (!double.IsFinite(heightM))
        {
            throw new ArgumentOutOfRangeException(nameof(heightM), heightM, $"Path '{PathIds[path]}': expected a finite height.");
        }

        Links.Add(new Link(
            path, a, b, heightM, coefficient, exponent, shutOffPressurePa, freeAirFlowM3PerS, exchangeAreaM2, stacking,
            a.IsOutside || b.IsOutside ? windExchange : 0));
    }

    private static void RequireNewId(string id, List<string> taken, string what)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(id);
        if (taken.Contains(id, StringComparer.Ordinal))
        {
            throw new ArgumentException($"There is already a {what} '{id}'.", nameof(id));
        }
    }

    private static double RequirePositive(double value, string name, string id, string unit)
    {
        if (!(value > 0 && double.IsFinite(value)))
        {
            throw new ArgumentOutOfRangeException(name, value, $"'{id}': expected more than 0 {unit}.");
        }

        return value;
    }

    private static void RequireDischargeCoefficient(double dischargeCoefficient, string id)
    {
        if (!(dischargeCoefficient is > 0 and <= 1))
        {
            throw new ArgumentOutOfRangeException(
                nameof(dischargeCoefficient), dischargeCoefficient, $"'{id}': expected a discharge coefficient of more than 0 to 1.");
        }
    }

    private static void RequireWindExchange(double windExchange, string id)
    {
        if (!(windExchange is >= 0 and <= TwoWayExchange.MaximumWindExchange))
        {
            throw new ArgumentOutOfRangeException(
                nameof(windExchange),
                windExchange,
                string.Create(CultureInfo.InvariantCulture, $"'{id}': expected a wind exchange of 0 to {TwoWayExchange.MaximumWindExchange}."));
        }
    }
}
