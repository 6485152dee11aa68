using BenchmarkDotNet.Attributes;
using ConsultDesk.Calculations.Airflow;
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
