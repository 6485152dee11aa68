using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Pdf;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Reports.Tests.Pdf;
using ConsultDesk.Reports.Units;
using ConsultDesk.Testing;
using UglyToad.PdfPig;
using Xunit;

namespace ConsultDesk.Reports.Tests.Plans;

public sealed class YearPlanTests
{
    private static readonly PlanSnapshot Plan = SamplePlan.OfYear(DisplayUnits.Metric);

    public static TheoryData<string> Dangers => [.. DangerVans.All.Select(van => van.Code)];

    [Fact]
    public void A_plan_with_a_year_has_its_sections()
    {
        string[] ids =
        [
            "act-first", "told-and-wanted", "to-do", "how-to-run", "main-numbers", "your-van", "the-year", "air", "damp", "heat", "walls-roof-floor",
            "running-costs", "care", "still-fogs", "cut-sheet", "order-of-build", "how-sure", "assumed", "sources", "terms", "cautions", "words", "card",
        ];
        Assert.Equal(ids, Plan.Sections.Select(section => section.Id));
    }

    [Fact]
    public void The_first_page_has_the_danger_and_the_reason_and_the_main_numbers_have_scores_and_bands()
    {
        var blocks = Plan.Sections[0].Blocks;
        var box = Assert.Single(blocks.OfType<DangerBlock>());
        Assert.Equal(1, blocks.IndexOf(box));
        Assert.Contains("The client keeps the hob until spring", box.Reason, StringComparison.Ordinal);
        var numbers = Plan.Sections.Single(section => section.Id == PlanComposer.Numbers);
        Assert.Equal(["scores", "bands"], numbers.Blocks.OfType<FigureBlock>().Select(block => block.Figure.Id));
        // The figures side by side; below them how far a made year lies from a real one.
        Assert.Equal([2, 1], numbers.Rows().Select(row => row.Length));
        Assert.IsType<ParagraphBlock>(numbers.Blocks[^1]);
        Assert.Empty(numbers.Blocks.OfType<NumbersBlock>());
        Assert.Contains(blocks.OfType<ParagraphBlock>(), block => block.Text.Contains("nights in the van the windscreen is wet at seven", StringComparison.Ordinal));

        using var pdf = PdfDocument.Open(PlanPdf.Write(Plan).Bytes);
        var first = Squash(pdf.GetPage(1).Text);
        foreach (var expected in new[] { "Danger: The gas hob burns", "The client keeps the hob until spring", "After what stands in the box above", "Who: ", "Price: " })
        {
            Assert.Contains(Squash(expected), first, StringComparison.Ordinal);
        }

        Assert.Contains("Howtorunthevan", Squash(pdf.GetPage(2).Text), StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Dangers))]
    public void Each_danger_stands_on_the_first_page_of_the_PDF_with_the_reason(string code)
    {
        var van = DangerVans.All.Single(van => van.Code == code).Van;
        var assessment = Assessor.Assess(van, AssessmentDepth.Year, cancellation: TestContext.Current.CancellationToken);
        var dangers = assessment.Findings.Where(finding => finding.Severity == Severity.Danger).ToList();
        Assert.Contains(dangers, danger => danger.Code == code);
        var plan = PlanComposer.Compose(SamplePlan.Request with { Design = van, Assessment = assessment, DangerReason = "It is taken out in May." });
        Assert.Equal(dangers.Select(danger => danger.Title), Assert.Single(plan.Sections[0].Blocks.OfType<DangerBlock>()).Dangers.Select(danger => danger.Title));

        using var pdf = PdfDocument.Open(PlanPdf.Write(plan).Bytes);
        var first = Squash(pdf.GetPage(1).Text);
        Assert.All(dangers, danger => Assert.Contains(Squash("Danger: " + danger.Title), first, StringComparison.Ordinal));
        Assert.All(dangers, danger => Assert.Contains(Squash(danger.Remedy), first, StringComparison.Ordinal));
        Assert.Contains(Squash("The reason given: It is taken out in May."), first, StringComparison.Ordinal);
    }

    [Fact]
    public void A_plan_of_a_calculated_year_shows_the_numbers_of_its_assessment()
    {
        var design = Presets.Build("medium-high", Layout.RearPlatformBed);
        var assessment = Assessor.Assess(design, AssessmentDepth.Bands, cancellation: TestContext.Current.CancellationToken);
        foreach (var units in DisplayUnits.All)
        {
            var plan = PlanComposer.Compose(SamplePlan.Request with { Design = design, Assessment = assessment, Units = units });
            var figures = plan.Sections.SelectMany(section => section.Blocks).OfType<FigureBlock>().Select(block => block.Figure).ToDictionary(figure => figure.Id);
            var year = assessment.Year!;
            var strip = figures["year-damp"].Table;
            Assert.Equal(
                year.Days.Count(day => day is { Slept: true, WetMorning: true }).ToString(System.Globalization.CultureInfo.InvariantCulture),
                strip.Rows.Single(row => row[0] == "Wet mornings")[13]);
            Assert.Equal(
                units.Number(Measure.WaterVolume, UnitsNet.Volume.FromLiters(year.Days.Sum(day => day.CondensedG / 1000.0))),
                strip.Rows.Single(row => row[0].StartsWith("Water on glass", StringComparison.Ordinal))[13]);
            Assert.Equal(assessment.Bands.Select(band => band.Label), figures["bands"].Table.Rows.Select(row => row[0]));
            Assert.Contains(figures["heater-fit"].Table.Rows, row => row.SequenceEqual(["Needed to hold the night’s temperature", units.Format(year.HeaterFit!.LoadAsleep)]));
            Assert.Equal(
                assessment.Situations.Select(result => units.Format(result.OutdoorAir)),
                plan.Sections.Single(section => section.Id == PlanComposer.Running).Blocks.OfType<TableBlock>().Last().Table.Rows.Select(row => row[1]));

            // The same bytes when read and written again.
            var text = PlanSnapshotJson.Write(plan);
            Assert.Equal(text, PlanSnapshotJson.Write(PlanSnapshotJson.Read(text)));
            var document = PlanPdf.Write(plan);
            Assert.Empty(document.Unprintable);
            using var pdf = PdfDocument.Open(document.Bytes);
            Assert.Equal(pdf.NumberOfPages, document.Pages);
            PageFill.IsWellUsed(pdf);
        }
    }

    [Fact]
    public void No_text_of_a_plan_with_a_year_calls_anything_safe()
    {
        var texts = SamplePlan.TextsOf(Plan.Sections).ToList();
        Assert.True(texts.Count > 500);
        Assert.All(texts, text => Assert.DoesNotMatch("(?i)\\bsafe(ly)?\\b", text));
    }

    private static string Squash(string text) => string.Concat(text.Where(character => !char.IsWhiteSpace(character) && character != '\u00A0'));
}
