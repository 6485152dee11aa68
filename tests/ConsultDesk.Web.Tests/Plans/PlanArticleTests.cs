using System.Collections.Immutable;
using Bunit;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Records;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Reports.Units;
using ConsultDesk.Testing;
using ConsultDesk.Web.Plans;
using Xunit;

namespace ConsultDesk.Web.Tests.Plans;

public sealed class PlanArticleTests : IAsyncDisposable
{
    private readonly BunitContext _page = new();

    public static TheoryData<string> Dangers => [.. DangerVans.All.Select(van => van.Code)];

    [Theory]
    [MemberData(nameof(Dangers))]
    public void Each_danger_stands_in_the_box_on_top_of_the_page_with_the_typed_reason(string code)
    {
        var design = DangerVans.All.Single(van => van.Code == code).Van;
        var assessment = Assessor.Assess(design, Xunit.TestContext.Current.CancellationToken);
        var danger = assessment.Findings.Single(finding => finding.Code == code);
        var view = _page.Render<PlanArticle>(p => p.Add(v => v.Plan, PlanComposer.Compose(new PlanRequest
        {
            Firm = new FirmBrand("Fernhollow", "#1f5a52", "desk@fernhollow.example"),
            ClientName = "Ines",
            VanName = "The Heron",
            OptionName = "A, as it is",
            Revision = 1,
            PublishedAt = new DateTime(2026, 11, 25, 0, 0, 0, DateTimeKind.Utc),
            Design = design,
            DesignText = DesignJson.Write(design),
            Assessment = assessment,
            Units = DisplayUnits.Metric,
            DangerReason = "It is taken out in May.",
        })));

        var section = view.Find("section#act-first");
        var box = section.QuerySelector(".danger-box")!;
        Assert.Equal(box, section.Children[2]);
        Assert.Contains(danger.Title, box.QuerySelectorAll("h3 bdi").Select(head => head.TextContent));
        Assert.Contains("Danger", box.QuerySelectorAll(".severity").Select(word => word.TextContent));
        Assert.Contains(danger.Remedy, box.TextContent, StringComparison.Ordinal);
        Assert.EndsWith("It is taken out in May.", box.QuerySelector(".danger-reason")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_narrow_figures_stand_side_by_side_and_a_table_of_words_names_its_heads_in_every_cell()
    {
        var narrow = new Figure
        {
            Id = "one",
            Title = "One",
            AltText = "One.",
            Width = 312,
            Height = 20,
            Elements = [],
            Legend = [],
            Table = new DataTable { Caption = "One", Heads = ["What", "How much"], NumberColumns = [1], Rows = [["Air", "7\u00A0m³/h"]] },
        };
        var words = new DataTable { Caption = "Card", Heads = ["When", "Rain", "Frost"], Wordy = true, Rows = [["Morning\nearly", "Open", DataTable.Nothing]] };
        var plan = Snapshot(
            new FigureBlock(narrow),
            new FigureBlock(narrow with { Id = "two" }),
            new FigureBlock(narrow with { Id = "three" }, WithTable: true),
            new TableBlock(words));
        var view = _page.Render<PlanArticle>(p => p.Add(v => v.Plan, plan));

        var pairs = view.FindAll(".figure-pair");
        Assert.Equal(["one", "two"], pairs[0].QuerySelectorAll("figure").Select(figure => figure.Id));
        Assert.Equal("three", pairs[1].QuerySelector("figure")!.Id);
        Assert.Null(pairs[1].QuerySelector("details"));
        Assert.Equal("7 m³/h", pairs[1].QuerySelector("td")!.TextContent);
        var card = view.Find("table.table-wordy");
        Assert.Equal(["Rain", "Frost"], card.QuerySelectorAll("td").Select(cell => cell.GetAttribute("data-head")));
        Assert.Equal("Morning", card.QuerySelector("th b")!.TextContent);
        Assert.Equal("nothing", card.QuerySelectorAll("td")[1].ClassName);
    }

    public ValueTask DisposeAsync() => _page.DisposeAsync();

    private static PlanSnapshot Snapshot(params ImmutableArray<PlanBlock> blocks) => new()
    {
        Format = PlanSnapshotJson.Format,
        Firm = new FirmBrand("Fernhollow", "#1f5a52", ""),
        ClientName = "Ines",
        VanName = "The Heron",
        OptionName = "A",
        Revision = 1,
        PublishedAt = new DateTime(2026, 11, 25, 0, 0, 0, DateTimeKind.Utc),
        MethodVersion = "2",
        DesignText = "{}",
        Sections = [new PlanSection("act-first", "Do this first", blocks)],
    };
}
