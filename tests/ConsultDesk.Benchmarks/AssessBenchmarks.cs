using BenchmarkDotNet.Attributes;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;

namespace ConsultDesk.Benchmarks;

/// <summary>From the input records to the assessment, and to the stored text and back.</summary>
public class AssessBenchmarks
{
    private readonly Design _van = Samples.Van;
    private readonly string _text = DesignJson.Write(Samples.Van);

    [Benchmark]
    public Assessment Assess() => Assessor.Assess(_van);

    [Benchmark]
    public string Design_to_text() => DesignJson.Write(_van);

    [Benchmark]
    public Design Text_to_design() => DesignJson.Read(_text);
}
