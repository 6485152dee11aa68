using BenchmarkDotNet.Attributes;
using ConsultDesk.Calculations.Air;
using UnitsNet;

namespace ConsultDesk.Benchmarks;

/// <summary>What one property of moist air costs, through the public door with its range check.</summary>
public class MoistAirBenchmarks
{
    private readonly Temperature _air = Temperature.FromDegreesCelsius(18.3);
    private readonly Pressure _vapour = Pressure.FromPascals(1210);
    private readonly Pressure _barometric = Pressure.FromPascals(98_000);

    [Benchmark]
    public Pressure Saturation_pressure() => MoistAir.SaturationPressure(_air);

    [Benchmark]
    public Temperature Dew_point() => MoistAir.DewPoint(_vapour);

    [Benchmark]
    public Temperature Wet_bulb() => MoistAir.WetBulb(_air, _vapour, _barometric);
}
