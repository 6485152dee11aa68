using BenchmarkDotNet.Attributes;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Benchmarks;

/// <summary>A year of a van and its parts: the weather, the compiled model, the run, one step and one solve of the air.</summary>
public class YearBenchmarks
{
    private readonly Design _design = Samples.Van;
    private readonly Design _long = Samples.Long;
    private readonly Design _demo = Samples.Demo;
    private readonly YearWeather _weather = YearWeather.Of(Samples.Van);
    private readonly VanModel _van = new(Samples.Van, Assumptions.Likely);
    private readonly HouseholdDay _day = HouseholdDay.Of(Samples.Van, Assumptions.Likely);
    private VanRun _run = null!;
    private StepLanes<ScalarLane> _step = null!;
    private double[] _zoneC = null!;
    private double[] _humidity = null!;
    private Outdoor _outdoor;

    [GlobalSetup]
    public void Settle()
    {
        _run = new VanRun(_van);
        _step = new StepLanes<ScalarLane>(new VanBatch<ScalarLane>([_van]), HouseholdDay.SlotSeconds, covered: false);
        _outdoor = Outdoor.Of(_weather, 0);
        _run.Start(_outdoor, 16);
        for (int hour = 0; hour < 48; hour++)
        {
            _run.Hour(Outdoor.Of(_weather, hour - 1), Outdoor.Of(_weather, hour), Outdoor.Of(_weather, hour + 1), _day, hour % 24);
        }

        _zoneC = [.. _run.Zones.ZoneC];
        _humidity = [.. _run.Zones.HumidityRatio];
    }

    [Benchmark]
    public Assessment Assess_the_year() => Assessor.Assess(_design, AssessmentDepth.Year);

    [Benchmark]
    public Assessment Assess_the_year_of_the_long_preset() => Assessor.Assess(_long, AssessmentDepth.Year);

    [Benchmark]
    public Assessment Assess_the_year_of_a_demo_van() => Assessor.Assess(_demo, AssessmentDepth.Year);

    [Benchmark]
    public object Weather_of_the_year() => YearWeather.Of(_design);

    [Benchmark]
    public object Model_of_the_van() => new VanModel(_design, Assumptions.Likely);

    [Benchmark]
    public object Run_of_the_year() => YearRun.Of(_design, _weather, Assumptions.Likely);

    [Benchmark]
    public void One_step() => _run.Zones.Step(_step);

    [Benchmark]
    public void One_solve_of_the_air() => _run.Air.Solve(_zoneC, _humidity, _outdoor, occupied: true, covered: false);
}
