using ConsultDesk.Calculations.Airflow;
using CsCheck;
using UnitsNet;

namespace ConsultDesk.Calculations.Tests.Airflow;

/// <summary>What a random path is.</summary>
internal enum PathKind
{
    Crack,
    Orifice,
    VerticalOpening,
    HorizontalOpening,
    Fan,
    Mixing,
}

/// <summary>One random path; a node of -1 is outside, sizes are shares of the range of its kind.</summary>
internal sealed record RandomPath(
    PathKind Kind, int From, int To, double HeightM, double Size, double Second, double WindPa, double Speed);

/// <summary>
/// A random network and what drives it. The range: 1 to 8 zones of 0.1 to 40 m3 and outside, each -40 to 40 °C and
/// 0 to 20 g/kg, 80 to 105 kPa; every zone has one path to outside or to an earlier zone, and 0 to 16 more paths join
/// any two nodes, at heights of -1 to 3 m, each of any kind (the first ones never mixing): cracks of 0.1 to 1000 cm2
/// with an exponent of 0.5 to 1, orifices and tall and flat openings of 1 cm2 to 2 m2 (sizes evenly spread over their
/// logarithms), fans either way of 0.005 to 1 m3/s, 5 to 200 Pa and any speed, stopped ones too; wind of -100 to
/// 100 Pa on each outside end, 0 to 20 m/s. A share of 0 to 1, cubed, scales all temperature differences and wind of
/// a network, so that nearly calm ones are common. Four numbers in five are evenly spread over their range, the fifth
/// prefers zero, the ends, whole and tiny ones.
/// </summary>
internal sealed record RandomNetwork(
    int Zones,
    double[] VolumeM3,
    double[] TemperatureC,
    double[] HumidityRatioKgPerKg,
    double PressurePa,
    double WindMPerS,
    RandomPath[] Paths)
{
    public static Gen<RandomNetwork> Any { get; } =
        from zones in Gen.Int[1, 8]
        from volumes in Between(0.1, 40).Array[zones]
        from temperatures in Between(-40, 40).Array[zones + 1]
        from humidities in Between(0, 0.02).Array[zones + 1]
        from pressure in Between(80_000, 105_000)
        from wind in Between(0, 20)
        from roughness in Between(0, 1).Select(share => share * share * share)
        from tree in AnyPath(zones, PathKind.Fan).Array[zones]
        from more in AnyPath(zones, PathKind.Mixing).Array[0, 16]
        select new RandomNetwork(
            zones, volumes, [.. temperatures.Select(t => temperatures[0] + (roughness * (t - temperatures[0])))], humidities, pressure, roughness * wind,
            [
                .. tree.Select((path, zone) => path with { From = zone, To = ((path.To + 1) % (zone + 1)) - 1, WindPa = roughness * path.WindPa }),
                .. more.Where(path => path.From != path.To).Select(path => path with { WindPa = roughness * path.WindPa }),
            ]);

    /// <summary>The same network every time for the same position in the row.</summary>
    public static IEnumerable<RandomNetwork> Row(int count)
    {
        var generator = new PCG(1, 20_261_125);
        for (int i = 0; i < count; i++)
        {
            yield return Any.Generate(generator, null, out _);
        }
    }

    /// <summary>Compiles it; <paramref name="order"/> gives the zones another numbering.</summary>
    public Cabin Compile(Func<int, int>? order = null)
    {
        order ??= zone => zone;
        var cabin = new Cabin();
        var nodes = new AirNode[Zones];
        int[] added = [.. Enumerable.Range(0, Zones).OrderBy(order)];
        foreach (int zone in added)
        {
            nodes[zone] = cabin.Builder.AddZone($"zone {zone}", Volume.FromCubicMeters(VolumeM3[zone]));
        }

        for (int path = 0; path < Paths.Length; path++)
        {
            Add(cabin.Builder, $"path {path}", Paths[path], nodes);
        }

        cabin.Compile(0);
        for (int zone = 0; zone < Zones; zone++)
        {
            cabin.State.ZoneTemperatureC[nodes[zone].ZoneIndex] = TemperatureC[zone];
            cabin.State.ZoneHumidityRatioKgPerKg[nodes[zone].ZoneIndex] = HumidityRatioKgPerKg[zone];
        }

        cabin.State.OutdoorTemperatureC = TemperatureC[Zones];
        cabin.State.OutdoorHumidityRatioKgPerKg = HumidityRatioKgPerKg[Zones];
        cabin.State.BarometricPressurePa = PressurePa;
        cabin.State.WindSpeedMPerS = WindMPerS;
        for (int path = 0; path < Paths.Length; path++)
        {
            cabin.State.PathWindPressurePa[path] = Paths[path].WindPa;
            cabin.State.FanSpeed[path] = Paths[path].Kind == PathKind.Fan ? Paths[path].Speed : 0;
        }

        return cabin;
    }

    // The generator's own range prefers zero, whole and tiny numbers: wanted now and then, not every time.
    private static Gen<double> Between(double low, double high) => Gen.Frequency(
        (4, Gen.Double.Unit.Select(share => low + (share * (high - low)))),
        (1, Gen.Double[low, high]));

    private static Gen<RandomPath> AnyPath(int zones, PathKind last) =>
        from kind in Gen.Int[0, (int)last]
        from start in Gen.Int[-1, zones - 1]
        from end in Gen.Int[-1, zones - 1]
        from height in Between(-1, 3)
        from size in Between(0, 1)
        from second in Between(0, 1)
        from wind in Between(-100, 100)
        from speed in Between(-0.2, 1)
        select new RandomPath((PathKind)kind, start, end, height, size, second, wind, Math.Max(0, speed));

    private static void Add(AirNetworkBuilder builder, string id, RandomPath path, AirNode[] nodes)
    {
        AirNode from = path.From < 0 ? AirNode.Outside : nodes[path.From];
        AirNode to = path.To < 0 ? AirNode.Outside : nodes[path.To];
        Length height = Length.FromMeters(path.HeightM);
        var opening = Area.FromSquareMeters(1e-4 * Math.Pow(2e4, path.Size));
        switch (path.Kind)
        {
            case PathKind.Crack:
                builder.AddCrack(id, from, to, height, Area.FromSquareCentimeters(0.1 * Math.Pow(1e4, path.Size)), 0.5 + (0.5 * path.Second));
                break;
            case PathKind.Orifice:
                builder.AddOrifice(id, from, to, height, opening);
                break;
            case PathKind.VerticalOpening:
                builder.AddVerticalOpening(id, from, to, height, height + Length.FromMeters(0.05 + path.Second), opening, windExchange: 0.016);
                break;
            case PathKind.HorizontalOpening:
                builder.AddHorizontalOpening(id, from, to, height, opening, windExchange: 0.016);
                break;
            case PathKind.Fan:
                builder.AddFan(
                    id, from, to, height,
                    VolumeFlow.FromCubicMetersPerSecond(0.005 * Math.Pow(200, path.Size)),
                    Pressure.FromPascals(5 * Math.Pow(40, path.Second)),
                    opening,
                    blowsUp: path.Size > 0.5,
                    windExchange: 0.016);
                break;
            case PathKind.Mixing:
                builder.AddMixing(id, from, to, VolumeFlow.FromCubicMetersPerHour(1000 * path.Size));
                break;
            default:
                throw new InvalidOperationException($"Unknown kind {path.Kind}.");
        }
    }
}
