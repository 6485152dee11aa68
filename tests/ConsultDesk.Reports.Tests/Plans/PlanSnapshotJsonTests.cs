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
        Assert.StartsWith("{\"format\":2,", Text, StringComparison.Ordinal);
        Assert.Contains("\"kind\":\"paragraph\"", Text, StringComparison.Ordinal);
        Assert.Contains("\"kind\":\"polyline\"", Text, StringComparison.Ordinal);
        Assert.Contains("\"stroke\":\"air-within\"", Text, StringComparison.Ordinal);
        Assert.Contains("\"severity\":\"danger\"", Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_newer_format_is_refused() =>
        Assert.Contains(
            "format 3",
            Assert.Throws<NotSupportedException>(() => PlanSnapshotJson.Read(Text.Replace("{\"format\":2,", "{\"format\":3,", StringComparison.Ordinal))).Message,
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
}
