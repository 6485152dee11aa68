using System.Text.Json;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Reports.Units;
using Xunit;

namespace ConsultDesk.Reports.Tests.Plans;

public sealed class PlanSnapshotJsonTests
{
    private static readonly string Text = PlanSnapshotJson.Write(SamplePlan.Plan);

    [Fact]
    public void A_plan_that_is_read_and_written_again_has_the_same_bytes()
    {
        Assert.Equal(Text, PlanSnapshotJson.Write(PlanSnapshotJson.Read(Text)));

        var calculated = PlanSnapshotJson.Write(SamplePlan.Of(Presets.Build("long-high", Layout.RearPlatformBed), DisplayUnits.Imperial));
        Assert.Equal(calculated, PlanSnapshotJson.Write(PlanSnapshotJson.Read(calculated)));
    }

    [Fact]
    public void What_is_read_is_what_was_written()
    {
        var read = PlanSnapshotJson.Read(Text);
        Assert.Equal(SamplePlan.Plan.Firm, read.Firm);
        Assert.Equal(SamplePlan.Plan.PublishedAt, read.PublishedAt);
        Assert.Equal(DateTimeKind.Utc, read.PublishedAt.Kind);
        Assert.Equal(SamplePlan.Plan.DesignText, read.DesignText);
        Assert.Equal(SamplePlan.TextsOf(SamplePlan.Plan.Sections), SamplePlan.TextsOf(read.Sections));

        var (was, now) = (FigureOf(SamplePlan.Plan), FigureOf(read));
        Assert.Equal(was.Elements.Length, now.Elements.Length);
        foreach (var (before, after) in was.Elements.Zip(now.Elements))
        {
            Assert.Equal(before.GetType(), after.GetType());
            Assert.Equal((before.Subject, before.Hint, before.Stroke, before.Fill, before.Dashed), (after.Subject, after.Hint, after.Stroke, after.Fill, after.Dashed));
            Assert.Equal(before.FillOpacity, after.FillOpacity, 0.005);
            Assert.Equal(before.StrokeWidth, after.StrokeWidth, 0.005);
        }

        static Figure FigureOf(PlanSnapshot plan) => plan.Sections.SelectMany(section => section.Blocks).OfType<FigureBlock>().First().Figure;
    }

    [Fact]
    public void Kinds_and_inks_are_written_in_words()
    {
        Assert.StartsWith("{\"format\":4,", Text, StringComparison.Ordinal);
        Assert.Contains("\"kind\":\"paragraph\"", Text, StringComparison.Ordinal);
        Assert.Contains("\"kind\":\"polyline\"", Text, StringComparison.Ordinal);
        Assert.Contains("\"stroke\":\"air-within\"", Text, StringComparison.Ordinal);
        Assert.Contains("\"severity\":\"danger\"", Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_newer_format_is_refused() =>
        Assert.Contains(
            "format 5",
            Assert.Throws<NotSupportedException>(() => PlanSnapshotJson.Read(Text.Replace("{\"format\":4,", "{\"format\":5,", StringComparison.Ordinal))).Message,
            StringComparison.Ordinal);

    [Fact]
    public void Another_format_is_not_written() =>
        Assert.Throws<ArgumentException>(() => PlanSnapshotJson.Write(SamplePlan.Plan with { Format = 1 }));

    [Theory]
    [InlineData("null")]
    [InlineData("[]")]
    [InlineData("{}")]
    [InlineData("{\"format\":\"1\"}")]
    [InlineData("{\"format\":0}")]
    [InlineData("{\"format\":1}")]
    [InlineData("{\"format\":1,")]
    public void What_is_no_plan_is_refused(string text) =>
        Assert.ThrowsAny<JsonException>(() => PlanSnapshotJson.Read(text));

    [Theory]
    [InlineData("\"clientName\":", "\"clientTitle\":")]
    [InlineData("\"severity\":\"danger\"", "\"severity\":0")]
    [InlineData("\"severity\":\"danger\"", "\"severity\":\"mortal\"")]
    [InlineData("\"kind\":\"paragraph\"", "\"kind\":\"poem\"")]
    [InlineData("\"revision\":3", "\"revision\":3,\"revision\":4")]
    [InlineData("\"vanName\":\"The Kingfisher\"", "\"vanName\":null")]
    public void What_is_misspelt_missing_or_doubled_is_refused(string right, string wrong)
    {
        var changed = Text.Replace(right, wrong, StringComparison.Ordinal);
        Assert.NotEqual(Text, changed);
        Assert.ThrowsAny<JsonException>(() => PlanSnapshotJson.Read(changed));
    }

    // A plan as format 1 wrote it: one block of each kind, one primitive of each kind.
    private const string FormatOne = """
        {"format":1,"firm":{"name":"Heron","colourHex":"#2f6f62","contact":"desk@heron.example"},"clientName":"Ana","vanName":"The Kingfisher","optionName":"B","revision":3,"publishedAt":"2026-05-02T08:30:00Z","methodVersion":"1","designText":"{}","sections":[{"id":"act-first","heading":"Do this first","blocks":[{"kind":"paragraph","text":"Dear Ana"},{"kind":"numbers","numbers":[{"label":"Outdoor air","value":"71 m³/h"}]},{"kind":"finding","severity":"danger","title":"A flame","text":"It burns.","numbers":[],"remedy":"Put it out."},{"kind":"list","items":["Open the lid"],"numbered":true},{"kind":"table","table":{"caption":"Zones","heads":["Zone","Air"],"rows":[["Cab","4 min"]],"numberColumns":[1]}},{"kind":"figure","figure":{"id":"van-plan","title":"The van","altText":"A van.","width":640,"height":100,"elements":[{"kind":"box","x":1,"y":2,"width":3,"height":4,"corner":0,"stroke":"body","strokeWidth":1,"fillOpacity":1},{"kind":"label","x":1,"y":9,"text":"Cab","size":10,"anchor":"middle","bold":false,"fill":"text","strokeWidth":1,"fillOpacity":1},{"kind":"arrow","points":[{"x":0,"y":0},{"x":5,"y":5}],"headSize":4,"stroke":"air-in","strokeWidth":2,"fillOpacity":1}],"legend":[{"mark":"area","ink":"wet","text":"Wet"}],"table":{"caption":"Openings","heads":["No.","Opening"],"rows":[["1","Lid"]],"numberColumns":[]}}}]}]}
        """;

    [Fact]
    public void A_plan_of_the_first_format_still_opens_and_prints()
    {
        var plan = PlanSnapshotJson.Read(FormatOne);
        Assert.Equal(1, plan.Format);
        Assert.Equal(
            [typeof(ParagraphBlock), typeof(NumbersBlock), typeof(FindingBlock), typeof(ListBlock), typeof(TableBlock), typeof(FigureBlock)],
            plan.Sections[0].Blocks.Select(block => block.GetType()));
        var figure = plan.Sections[0].Blocks.OfType<FigureBlock>().Single();
        Assert.False(figure.WithTable);
        Assert.Equal(1, figure.Figure.Legend[0].Opacity);
        Assert.False(figure.Figure.Table.Wordy);
        using var pdf = UglyToad.PdfPig.PdfDocument.Open(Reports.Pdf.PlanPdf.Write(plan).Bytes);
        Assert.Contains("Aflame", string.Concat(pdf.GetPage(1).Text.Where(letter => !char.IsWhiteSpace(letter))), StringComparison.Ordinal);
    }

    /// <summary>
    /// A plan of a calculated year as the released format 2 wrote it, kept whole: written by the code of the last commit
    /// before format 3, never edited since.
    /// </summary>
    [Fact]
    public void A_plan_of_the_second_format_still_opens_whole_and_prints()
    {
        var plan = PlanSnapshotJson.Read(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Data", "plan.format-2.json")));
        Assert.Equal(2, plan.Format);
        Assert.Equal(
            ["act-first", "how-to-run", "your-van", "the-year", "air", "damp", "heat", "walls-roof-floor", "assumed", "sources", "cautions"],
            plan.Sections.Select(section => section.Id));
        Assert.Null(plan.Logo);
        var danger = Assert.Single(plan.Sections[0].Blocks.OfType<DangerBlock>());
        Assert.All(plan.Sections, section => Assert.NotEmpty(section.Blocks));

        using var pdf = UglyToad.PdfPig.PdfDocument.Open(Reports.Pdf.PlanPdf.Write(plan).Bytes);
        var words = string.Concat(pdf.GetPages().SelectMany(page => page.Text).Where(letter => !char.IsWhiteSpace(letter)));
        foreach (var heading in plan.Sections.Select(section => section.Heading).Append(danger.Dangers[0].Title))
        {
            Assert.Contains(string.Concat(heading.Where(letter => !char.IsWhiteSpace(letter))), words, StringComparison.Ordinal);
        }
    }
}
