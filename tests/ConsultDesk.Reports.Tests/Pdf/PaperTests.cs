using System.Diagnostics;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Pdf;
using ConsultDesk.Reports.Plans;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;
using Xunit;

namespace ConsultDesk.Reports.Tests.Pdf;

/// <summary>The whole plan on both papers.</summary>
public sealed class PaperTests
{
    private static readonly PlanSnapshot Whole = PlanComposer.Compose(SamplePlan.Whole);

    public static TheoryData<PlanPaper> Papers => [PlanPaper.A4, PlanPaper.Letter];

    // ISO 216: A4 is 210 by 297 mm; ANSI/ASME Y14.1: size A is 8.5 by 11 in.
    [Theory]
    [InlineData(PlanPaper.A4, 210 / 25.4 * 72, 297 / 25.4 * 72)]
    [InlineData(PlanPaper.Letter, 8.5 * 72, 11 * 72)]
    public void Every_page_has_the_size_of_the_paper_and_the_card_half_of_it(PlanPaper paper, double width, double height)
    {
        using var pdf = Opened(paper);
        var pages = pdf.GetPages().ToList();
        Assert.All(pages, page => Assert.Equal(width, page.Width, 0.5));
        Assert.All(pages[..^1], page => Assert.Equal(height, page.Height, 0.5));
        Assert.Equal(height / 2, pages[^1].Height, 0.5);
        Assert.Contains("howtosetit", Squash(TextOf(pages[^1])), StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Papers))]
    public void No_heading_stands_last_on_a_page_and_nothing_leaves_the_margins(PlanPaper paper)
    {
        using var pdf = Opened(paper);
        var headings = Whole.Sections.Select(section => Squash(section.Heading)).ToHashSet();
        foreach (var page in pdf.GetPages())
        {
            var half = page.Height < 500;
            var lines = page.Letters.Where(letter => letter.StartBaseLine.Y > (half ? 24 : 45) && letter.StartBaseLine.Y < page.Height - (half ? 30 : 50))
                .GroupBy(letter => Math.Round(letter.StartBaseLine.Y)).OrderBy(line => line.Key).Select(line => Squash(string.Concat(line.Select(letter => letter.Value)))).ToList();
            Assert.DoesNotContain(lines[0], headings);
            var margin = half ? 29 : 56;
            Assert.All(page.Letters.Where(letter => letter.Value.Trim().Length > 0), letter =>
            {
                Assert.InRange(letter.BoundingBox.Left, margin, page.Width - margin);
                Assert.InRange(letter.BoundingBox.Right, margin, page.Width - margin + 1);
                Assert.InRange(letter.StartBaseLine.Y, 14, page.Height - 14);
            });
        }
    }

    [Theory]
    [MemberData(nameof(Papers))]
    public void No_page_is_left_mostly_empty(PlanPaper paper)
    {
        using var pdf = Opened(paper);
        PageFill.IsWellUsed(pdf);
    }

    [Theory]
    [MemberData(nameof(Papers))]
    public void No_row_is_split_and_a_table_that_goes_on_repeats_its_head(PlanPaper paper)
    {
        using var pdf = Opened(paper);
        var pages = pdf.GetPages().Select(page => Squash(TextOf(page))).ToList();
        var tables = Whole.Sections.SelectMany(section => section.Blocks).Select(block => block switch
        {
            TableBlock table => table.Table,
            FigureBlock figure => figure.Figure.Table,
            _ => null,
        }).OfType<DataTable>().Where(table => table.Rows.Length > 0).ToList();
        Assert.True(tables.Count > 15);
        var goesOn = 0;
        foreach (var table in tables)
        {
            var rows = table.Rows.Select(row => Squash(string.Concat(row))).ToList();
            Assert.All(rows, row => Assert.Contains(pages, page => page.Contains(row, StringComparison.Ordinal)));

            // A page that has a row and not the caption has the head again.
            var begins = pages.FindIndex(page => page.Contains(Squash(table.Caption + string.Concat(table.Heads) + string.Concat(table.Rows[0])), StringComparison.Ordinal));
            Assert.True(begins >= 0, table.Caption);
            var end = pages.FindIndex(begins, page => page.Contains(rows[^1], StringComparison.Ordinal));
            for (var page = begins + 1; page <= end; page++)
            {
                goesOn++;
                Assert.Contains(Squash(string.Concat(table.Heads)), pages[page], StringComparison.Ordinal);
            }
        }

        Assert.True(goesOn > 0, "No table goes over a page, so the check proves nothing.");
    }

    [Theory]
    [MemberData(nameof(Papers))]
    public void Every_section_stands_in_the_tree_in_order_with_its_heading_and_language_and_title(PlanPaper paper)
    {
        using var pdf = Opened(paper);
        var nodes = StructureNode.Read(pdf).All().ToList();
        Assert.Equal(Whole.Sections.Length + 1, nodes.Count(node => node.Tag == "H2"));
        Assert.All(nodes.Where(node => node.Tag == "Figure"), node => Assert.False(string.IsNullOrWhiteSpace(node.Alt)));
        Assert.All(nodes.Where(node => node.Tag == "Table"), node => Assert.Contains(node.All(), cell => cell is { Tag: "TH", Scope: "Column" }));
        Assert.True(pdf.Structure.Catalog.CatalogDictionary.Data.ContainsKey("Lang"));
        Assert.NotEmpty(pdf.Information.Title!);
        Assert.True(pdf.TryGetBookmarks(out var bookmarks));
        Assert.Equal(Whole.Sections.Select(section => section.Heading).Order(StringComparer.Ordinal), bookmarks.Roots.Select(root => root.Title).Where(title => title != PlanComposer.FiguresInNumbers).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void What_changed_since_the_revision_before_is_on_the_paper_too()
    {
        var before = SamplePlan.Whole.Before! with { Parts = ["A part nobody buys now"], Things = ["Paint it green."] };
        var plan = PlanComposer.Compose(SamplePlan.Whole with { Before = before });
        using var pdf = PdfDocument.Open(PlanPdf.Write(plan).Bytes);
        var text = Squash(string.Concat(pdf.GetPages().Select(TextOf)));
        foreach (var expected in new[] { "What changed since revision 2", "Roof fan: 30 %, was 10 %", "no longer in: A part nobody buys now", "gone: Paint it green", "Numbers that changed" })
        {
            Assert.Contains(Squash(expected), text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task A_strict_checker_finds_nothing_in_a_letter_plan_with_its_half_sheet()
    {
        var found = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator).Any(folder => File.Exists(Path.Combine(folder, "qpdf")));
        Assert.SkipUnless(found, "qpdf is not installed.");
        var file = Path.GetTempFileName();
        try
        {
            await File.WriteAllBytesAsync(file, Bytes(PlanPaper.Letter), TestContext.Current.CancellationToken);
            using var process = Process.Start(new ProcessStartInfo("qpdf", ["--check", file]) { RedirectStandardOutput = true, RedirectStandardError = true })!;
            var errors = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
            var output = await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken) + await errors;
            await process.WaitForExitAsync(TestContext.Current.CancellationToken);
            Assert.True(process.ExitCode == 0, output);
            Assert.DoesNotContain("WARNING", output, StringComparison.Ordinal);
        }
        finally
        {
            File.Delete(file);
        }
    }

    private static byte[] Bytes(PlanPaper paper)
    {
        var bytes = PlanPdf.Write(Whole with { Firm = Whole.Firm with { Paper = paper } }).Bytes;
        if (Environment.GetEnvironmentVariable("PLAN_PDF_FOLDER") is { Length: > 0 } folder)
        {
            File.WriteAllBytes(Path.Combine(folder, $"{paper}.pdf"), bytes);
        }

        return bytes;
    }

    private static PdfDocument Opened(PlanPaper paper) => PdfDocument.Open(Bytes(paper));

    private static string TextOf(Page page) => string.Concat(page.Letters.Select(letter => letter.Value));

    private static string Squash(string text) => string.Concat(text.Where(character => !char.IsWhiteSpace(character)));
}
