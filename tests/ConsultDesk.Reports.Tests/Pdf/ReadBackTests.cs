using System.Text.Json;
using System.Text.RegularExpressions;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Pdf;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Reports.Units;
using UglyToad.PdfPig;
using Xunit;

namespace ConsultDesk.Reports.Tests.Pdf;

/// <summary>
/// The whole of a plan read back from its PDF. What is looked for is not a list of this test's: it is every text of the
/// snapshot as it is stored, whatever block it stands in; and nothing else may stand in the document.
/// </summary>
public sealed partial class ReadBackTests
{
    /// <summary>Members of the stored snapshot that paper does not show, and why.</summary>
    private static readonly Dictionary<string, string> NotPrinted = new()
    {
        ["format"] = "how the text is stored",
        ["designText"] = "the design, to calculate it again",
        ["headline"] = "numbers the next revision is told apart by; the plan says them where they belong",
        ["publishedAt"] = "printed as a date; see the first page",
        ["colourHex"] = "a colour",
        ["paper"] = "the size of the pages",
        ["logo"] = "a picture",
        ["email"] = "the page asks with it; on paper the contact stands",
        ["terms"] = "stands word for word in the section on who advises",
        ["methodVersion"] = "stands in the section on sources",
        ["id"] = "an anchor",
        ["kind"] = "how it is stored",
        ["sheet"] = "which page of the web it is on",
        ["severity"] = "printed as a word; see the remainder",
        ["narrow"] = "what a phone shows in place of the figure",
        ["altText"] = "read out, not printed; see the figures of the structure",
        ["hint"] = "what a mouse shows; its numbers stand in the table of the figure",
        ["subject"] = "an anchor",
        ["fill"] = "a colour",
        ["stroke"] = "a colour",
        ["ink"] = "a colour",
        ["anchor"] = "a side",
        ["mark"] = "a sign",
    };

    /// <summary>Stands between a label and its number.</summary>
    private const string Beside = "\u0002";

    /// <summary>What the document says of itself: heads, marks of lists, words before a number.</summary>
    [GeneratedRegex(@"^(Danger:|Warning:|Advice:|Note:|Whattodo:|Who:|Price:|Work:|·|;|:|–|\d\.|\d\d\.)*$")]
    private static partial Regex OwnWords();

    public static TheoryData<string, PlanPaper> Plans => new()
    {
        { "sample", PlanPaper.A4 },
        { "calculated", PlanPaper.A4 },
        { "year", PlanPaper.Letter },
        { "whole", PlanPaper.A4 },
        { "whole", PlanPaper.Letter },
        { "searched", PlanPaper.A4 },
    };

    [Theory]
    [MemberData(nameof(Plans))]
    public void Every_text_and_number_of_the_stored_plan_stands_in_its_section_of_the_PDF_and_nothing_else_does(string name, PlanPaper paper)
    {
        var plan = Plan(name, paper);
        using var pdf = PdfDocument.Open(PlanPdf.Write(plan).Bytes);
        var marked = new MarkedText(pdf);
        var sections = StructureNode.Read(pdf).All().Where(node => node.Tag == "Sect").ToList();
        using var stored = JsonDocument.Parse(PlanSnapshotJson.Write(plan));
        var asked = stored.RootElement.GetProperty("sections").EnumerateArray().ToList();
        Assert.True(asked.Count > 15);
        var count = 0;
        foreach (var section in asked)
        {
            var heading = MarkedText.Squash(section.GetProperty("heading").GetString()!);
            var node = Assert.Single(sections, node => marked.Of(node.All().First(child => child.Tag == "H2")) == heading);
            var text = marked.Of(WithoutTables(node));

            // The longest first: a short text may stand in a long one.
            foreach (var expected in Texts(section).Select(MarkedText.Squash).Where(part => part.Length > 0).OrderByDescending(part => part.Length))
            {
                // A number stands beside its label, with or without a colon.
                var found = new[] { expected.Replace(Beside, ""), expected.Replace(Beside, ":") }.FirstOrDefault(form => text.Contains(form, StringComparison.Ordinal));
                Assert.True(found is not null, $"{heading}: not found: {expected} in {text}");
                var at = text.IndexOf(found, StringComparison.Ordinal);
                text = text.Remove(at, found.Length).Insert(at, " ");
                count++;
            }

            var rest = MarkedText.Squash(text);
            Assert.True(OwnWords().IsMatch(rest), $"{heading}: more than the plan: {rest}");
        }

        Assert.True(count > 150, $"Only {count} texts were looked for.");
    }

    [Theory]
    [MemberData(nameof(Plans))]
    public void Every_table_of_the_stored_plan_is_read_back_cell_by_cell_and_there_is_no_other(string name, PlanPaper paper)
    {
        var plan = Plan(name, paper);
        using var pdf = PdfDocument.Open(PlanPdf.Write(plan).Bytes);
        var marked = new MarkedText(pdf);
        var read = StructureNode.Read(pdf).All().Where(node => node.Tag == "Table")
            .Select(table => string.Join('\n', table.All()
                .Where(node => node.Tag is "Caption" or "TR")
                .Select(row => row.Tag == "Caption" ? marked.Of(row) : string.Join('|', row.Children.Select(marked.Of)))))
            .Order(StringComparer.Ordinal);
        using var stored = JsonDocument.Parse(PlanSnapshotJson.Write(plan));
        var expected = Tables(stored.RootElement)
            .Where(table => table.GetProperty("rows").GetArrayLength() > 0)
            .Select(table => string.Join('\n', new[] { Cell(table.GetProperty("caption")), Row(table.GetProperty("heads")) }.Concat(table.GetProperty("rows").EnumerateArray().Select(Row))))
            .Order(StringComparer.Ordinal)
            .ToList();
        Assert.True(expected.Count >= 10);
        Assert.Equal(expected, read);

        static string Row(JsonElement row) => string.Join('|', row.EnumerateArray().Select(Cell));
        static string Cell(JsonElement cell) => MarkedText.Squash(cell.GetString()!);
    }

    [Theory]
    [MemberData(nameof(Plans))]
    public void Every_figure_of_the_stored_plan_is_in_the_structure_with_its_alternative_text_and_its_own_letters(string name, PlanPaper paper)
    {
        var plan = Plan(name, paper);
        using var pdf = PdfDocument.Open(PlanPdf.Write(plan).Bytes);
        var marked = new MarkedText(pdf);
        var read = StructureNode.Read(pdf).All().Where(node => node.Tag == "Figure").ToDictionary(node => MarkedText.Squash(node.Alt!));
        using var stored = JsonDocument.Parse(PlanSnapshotJson.Write(plan));
        var figures = Blocks(stored.RootElement, "figure").Select(block => block.GetProperty("figure")).ToList();
        Assert.True(figures.Count >= 5);
        Assert.Equal(figures.Count, read.Count);
        foreach (var figure in figures)
        {
            var labels = figure.GetProperty("elements").EnumerateArray().Where(element => element.TryGetProperty("text", out _)).Select(element => MarkedText.Squash(element.GetProperty("text").GetString()!));
            Assert.Equal(string.Concat(labels), marked.Of(read[MarkedText.Squash(figure.GetProperty("altText").GetString()!)]));
        }
    }

    [Fact]
    public void What_stands_at_the_head_of_the_plan_stands_on_the_first_page()
    {
        var plan = Plan("whole", PlanPaper.A4);
        using var pdf = PdfDocument.Open(PlanPdf.Write(plan).Bytes);
        var first = MarkedText.Squash(string.Concat(pdf.GetPage(1).Letters.Select(letter => letter.Value)));
        foreach (var expected in new[] { plan.Firm.Name, plan.Firm.Contact, plan.VanName, plan.ClientName, plan.OptionName, "Revision 3, 25 November 2026" })
        {
            Assert.Contains(MarkedText.Squash(expected), first, StringComparison.Ordinal);
        }

        Assert.NotEmpty(plan.Firm.Terms);
        var all = MarkedText.Squash(string.Concat(pdf.GetPages().SelectMany(page => page.Letters).Select(letter => letter.Value)));
        Assert.Contains(MarkedText.Squash(plan.Firm.Terms), all, StringComparison.Ordinal);
        Assert.Contains("Methodversion" + plan.MethodVersion, all, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_said_not_to_be_printed_is_in_a_stored_plan()
    {
        // A name in the list that no plan has would hide a misspelt one.
        var names = new HashSet<string>();
        foreach (var name in new[] { "sample", "whole" })
        {
            using var stored = JsonDocument.Parse(PlanSnapshotJson.Write(Plan(name, PlanPaper.Letter) with { Logo = new PlanPicture([1], 1, 1) }));
            Collect(stored.RootElement);
        }

        Assert.Empty(NotPrinted.Keys.Except(names));

        void Collect(JsonElement element)
        {
            if (element.ValueKind == JsonValueKind.Object)
            {
                foreach (var member in element.EnumerateObject())
                {
                    names.Add(member.Name);
                    Collect(member.Value);
                }
            }
            else if (element.ValueKind == JsonValueKind.Array)
            {
                foreach (var item in element.EnumerateArray())
                {
                    Collect(item);
                }
            }
        }
    }

    private static PlanSnapshot Plan(string name, PlanPaper paper)
    {
        var plan = name switch
        {
            "sample" => SamplePlan.Plan,
            "year" => SamplePlan.OfYear(DisplayUnits.Metric),
            "whole" => PlanComposer.Compose(SamplePlan.Whole with { Firm = SamplePlan.Whole.Firm with { Email = "desk@heron.example", Terms = "Advice only; the invoice is due in thirty days." } }),
            "searched" => PlanComposer.Compose(SamplePlan.Whole with { Searched = SampleSearch.Searched }),
            _ => SamplePlan.Of(Presets.Build("medium-high", Layout.RearPlatformBed), DisplayUnits.Imperial),
        };
        return plan with { Firm = plan.Firm with { Paper = paper } };
    }

    /// <summary>The texts of an element, those of its tables left out.</summary>
    private static IEnumerable<string> Texts(JsonElement element) => element.ValueKind switch
    {
        JsonValueKind.String => [element.GetString()!],
        JsonValueKind.Array => element.EnumerateArray().SelectMany(Texts),
        JsonValueKind.Object when element.TryGetProperty("heads", out _) => [],
        JsonValueKind.Object when element.TryGetProperty("label", out var label) && element.TryGetProperty("value", out var value) => [label.GetString() + Beside + value.GetString()],
        JsonValueKind.Object => element.EnumerateObject().Where(member => !NotPrinted.ContainsKey(member.Name)).SelectMany(member => Texts(member.Value)),
        _ => [],
    };

    private static IEnumerable<JsonElement> Tables(JsonElement element) => element.ValueKind switch
    {
        JsonValueKind.Array => element.EnumerateArray().SelectMany(Tables),
        JsonValueKind.Object when element.TryGetProperty("heads", out _) => [element],
        JsonValueKind.Object => element.EnumerateObject().Where(member => !NotPrinted.ContainsKey(member.Name)).SelectMany(member => Tables(member.Value)),
        _ => [],
    };

    private static IEnumerable<JsonElement> Blocks(JsonElement root, string kind) =>
        root.GetProperty("sections").EnumerateArray().SelectMany(section => section.GetProperty("blocks").EnumerateArray()).Where(block => block.GetProperty("kind").GetString() == kind);

    private static StructureNode WithoutTables(StructureNode node) =>
        node with { Children = [.. node.Children.Where(child => child.Tag != "Table").Select(WithoutTables)] };
}
