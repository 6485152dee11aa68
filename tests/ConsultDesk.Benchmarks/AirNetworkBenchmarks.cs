using BenchmarkDotNet.Attributes;
using ConsultDesk.Calculations.Airflow;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Benchmarks;

/// <summary>A cab, a living and a sleeping zone with a roof fan, two windows, gaps and cracks, on a cold windy night.</summary>
public class AirNetworkBenchmarks
{
    private AirNetwork _network = null!;
    private AirState _state = null!;
    private AirFlowSolution _answer = null!;

    [GlobalSetup]
    public void Build()
    {
        var builder = new AirNetworkBuilder();
        var cab = builder.AddZone("cab", Volume.FromCubicMeters(3));
        var living = builder.AddZone("living", Volume.FromCubicMeters(5));
        var sleeping = builder.AddZone("sleeping", Volume.FromCubicMeters(3));
        builder.AddCrack("cab cracks", AirNode.Outside, cab, Length.FromMeters(0.9), Area.FromSquareCentimeters(50), 0.65);
        builder.AddCrack("body cracks", AirNode.Outside, living, Length.FromMeters(1), Area.FromSquareCentimeters(50), 0.65);
        builder.AddOrifice("window", AirNode.Outside, living, Length.FromMeters(1.2), Area.FromSquareCentimeters(300));
        builder.AddOrifice("rear window", AirNode.Outside, sleeping, Length.FromMeters(1.3), Area.FromSquareCentimeters(60));
        builder.AddOrifice("curtain", cab, living, Length.FromMeters(0.9), Area.FromSquareMeters(0.3));
        builder.AddOrifice("over the bed", living, sleeping, Length.FromMeters(1.2), Area.FromSquareMeters(0.8));
        var fan = builder.AddFan(
            "roof fan", living, AirNode.Outside, Length.FromMeters(1.9), VolumeFlow.FromCubicMetersPerHour(1500), Pressure.FromPascals(40));
        _network = builder.Build();
        _state = _network.CreateState();
        _answer = _network.CreateSolution();
        _state.OutdoorTemperatureC = -4;
        _state.ZoneTemperatureC.Fill(16);
        _state.FanSpeed[fan] = 0.3;
        _state.PathWindPressurePa[0] = 6;
        _state.PathWindPressurePa[2] = -3;
    }

    [Benchmark]
    public int Solved_from_nothing()
    {
        _answer.Reset();
        _network.Solve(_state, _answer);
        return _answer.Iterations;
    }

    [Benchmark]
    public int Solved_again_from_the_answer()
    {
        _network.Solve(_state, _answer);
        return _answer.Iterations;
    }
}

/// <summary>
/// The air of the long preset and of its first single changes, hour after hour of its winter with everything half open: alone, four and eight side by
/// side. Times are those of one van.
/// </summary>
public class AirLaneBenchmarks
{
    private const int Hours = 64;

    private readonly Outdoor[] _hours = [.. Enumerable.Range(0, Hours).Select(hour => Outdoor.Of(YearWeather.Of(Samples.Long), 11 * hour))];
    private readonly Vans<ScalarLane> _one = Of<ScalarLane>();
    private readonly Vans<FourLanes> _four = Of<FourLanes>();
    private readonly Vans<EightLanes> _eight = Of<EightLanes>();

    [Benchmark(OperationsPerInvoke = Hours)]
    public int Air_of_a_van_alone() => Solved(_one);

    [Benchmark(OperationsPerInvoke = 4 * Hours)]
    public int Air_of_a_van_of_four_side_by_side() => Solved(_four);

    [Benchmark(OperationsPerInvoke = 8 * Hours)]
    public int Air_of_a_van_of_eight_side_by_side() => Solved(_eight);

    private static Vans<TLane> Of<TLane>()
        where TLane : struct, ILane<TLane>
    {
        VanModel first = new(Samples.Long, Assumptions.Likely);
        VanModel[] vans =
        [
            first,
            .. SingleChanges.Of(Samples.Long, PriceBooks.Default).Select(change => new VanModel(change.Apply(Samples.Long), Assumptions.Likely))
                .Where(van => VanBatch<TLane>.SameShape(first, van)).Take(TLane.Count - 1),
        ];
        VanAirLanes<TLane> air = new(vans);
        Array.Fill(air.OpenShare, TLane.Of(0.5));
        Array.Fill(air.FanSpeed, TLane.Of(0.3));
        int zones = Samples.Long.Zones.Length;
        return new Vans<TLane>(air, [.. Enumerable.Repeat(TLane.Of(16), zones)], [.. Enumerable.Repeat(TLane.Of(0.006), zones)]);
    }

    private int Solved<TLane>(Vans<TLane> vans)
        where TLane : struct, ILane<TLane>
    {
        int evaluations = 0;
        foreach (Outdoor hour in _hours)
        {
            _ = vans.Air.Solve(vans.ZoneC, vans.HumidityRatio, hour, occupied: true, covered: false, TLane.AllBits);
            evaluations += vans.Air.Flow.Evaluations;
        }

        return evaluations;
    }

    private sealed record Vans<TLane>(VanAirLanes<TLane> Air, TLane[] ZoneC, TLane[] HumidityRatio)
        where TLane : struct, ILane<TLane>;
}
