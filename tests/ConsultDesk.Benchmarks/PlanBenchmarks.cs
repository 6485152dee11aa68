using BenchmarkDotNet.Attributes;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Records;
using ConsultDesk.Reports.Pdf;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Benchmarks;

/// <summary>From an assessment to the plan's snapshot, and from there to the tagged PDF.</summary>
public class PlanBenchmarks
{
    private readonly PlanRequest _request = new()
    {
        Firm = new FirmBrand("Fernhollow Van Advice", "#1f5a52", "Robin Ashdown"),
        ClientName = "Ines Calloway",
        VanName = "The Heron",
        OptionName = "A, the client's own idea",
        Revision = 1,
        PublishedAt = new DateTime(2026, 11, 25, 9, 0, 0, DateTimeKind.Utc),
        Design = Samples.Van,
        DesignText = DesignJson.Write(Samples.Van),
        Assessment = Assessor.Assess(Samples.Van),
        Units = DisplayUnits.Metric,
    };

    private PlanSnapshot _snapshot = null!;

    [GlobalSetup]
    public void Publish() => _snapshot = PlanComposer.Compose(_request);

    [Benchmark]
    public PlanSnapshot Compose() => PlanComposer.Compose(_request);

    [Benchmark]
    public int Pdf() => PlanPdf.Write(_snapshot).Bytes.Length;
}
