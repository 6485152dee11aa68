using System.Runtime.CompilerServices;
using ConsultDesk.Reports.Pdf;
using ConsultDesk.Reports.Plans;
using Xunit;

namespace ConsultDesk.Reports.Tests.Pdf;

/// <summary>
/// Every page of the sample's whole plan as a picture, held against one that somebody looked at. With ACCEPT_PAGES=1 the
/// pictures are written anew: look at them before they are committed. Where a page differs, the approved picture, the new one
/// and the difference are written beside one another to artifacts/pages.
/// </summary>
public sealed class PagePictureTests
{
    /// <summary>
    /// Share of pixels that may differ. A word that moved is about a thousandth of a page, a line of text three; the letters
    /// of another version of the renderer stay below, since their edges are paler than what counts as different.
    /// </summary>
    private const double Tolerance = 0.002;

    private static readonly PlanSnapshot Whole = PlanComposer.Compose(SamplePlan.Whole);

    private static readonly string Source = Path.GetDirectoryName(FileOf())!;
    private static readonly string Approved = Path.Combine(Source, "ApprovedPages");
    private static readonly string Failed = Path.GetFullPath(Path.Combine(Source, "../../../artifacts/pages"));

    public static TheoryData<PlanPaper> Papers => [PlanPaper.A4, PlanPaper.Letter];

    [Theory]
    [MemberData(nameof(Papers))]
    public async Task Every_page_looks_as_the_one_that_was_approved(PlanPaper paper)
    {
        var pages = await PagesOf(Whole, paper);
        if (Environment.GetEnvironmentVariable("ACCEPT_PAGES") == "1")
        {
            Accept(pages, paper);
        }

        var approved = ApprovedOf(paper);
        var wrong = Differences(pages, approved);
        foreach (var index in wrong)
        {
            Directory.CreateDirectory(Failed);
            pages[index].Beside(index < approved.Count ? approved[index] : new GreyPicture(0, 0, [])).Write(Path.Combine(Failed, Name(paper, index)));
        }

        Assert.True(wrong.Count == 0, $"{paper}: page {string.Join(", ", wrong.Select(index => index + 1))} does not look as approved; see {Failed}. If it is right, run with ACCEPT_PAGES=1 and look at the pictures.");
        Assert.Equal(approved.Count, pages.Count);
    }

    [Fact]
    public async Task A_table_that_is_lost_is_seen()
    {
        var approved = ApprovedOf(PlanPaper.A4);
        foreach (var section in Whole.Sections.Where(section => section.Blocks.OfType<TableBlock>().Any()))
        {
            var table = section.Blocks.OfType<TableBlock>().Last();
            var without = Whole with { Sections = Whole.Sections.Replace(section, section with { Blocks = section.Blocks.Remove(table) }) };
            Assert.NotEmpty(Differences(await PagesOf(without, PlanPaper.A4), approved));
        }
    }

    [Fact]
    public async Task A_row_that_is_lost_in_the_middle_of_a_table_is_seen()
    {
        var section = Whole.Sections.Single(section => section.Id == PlanComposer.Compared);
        var table = section.Blocks.OfType<TableBlock>().Single();
        var shorter = new TableBlock(table.Table with { Rows = table.Table.Rows.RemoveAt(7) });
        var plan = Whole with { Sections = Whole.Sections.Replace(section, section with { Blocks = section.Blocks.Replace(table, shorter) }) };
        Assert.NotEmpty(Differences(await PagesOf(plan, PlanPaper.A4), ApprovedOf(PlanPaper.A4)));
    }

    [Fact]
    public void Text_over_text_a_rule_across_a_page_and_a_line_that_is_blank_are_seen_and_a_breath_of_grey_is_not()
    {
        foreach (var paper in Papers.Select(row => row.Data))
        {
            foreach (var page in ApprovedOf(paper))
            {
                // The upper half once more, a third of the page lower, darker of the two: blocks that overlap.
                var over = page.Pixels.ToArray();
                var from = page.Width * (page.Height / 6);
                var down = page.Width * (page.Height / 3);
                for (var pixel = from + down; pixel < page.Pixels.Length; pixel++)
                {
                    over[pixel] = Math.Min(over[pixel], page.Pixels[pixel - down]);
                }

                Assert.True((page with { Pixels = over }).ShareThatDiffersFrom(page) > Tolerance);

                var ruled = page.Pixels.ToArray();
                Array.Fill(ruled, (byte)0, page.Width * (page.Height - 70), page.Width);
                Assert.True((page with { Pixels = ruled }).ShareThatDiffersFrom(page) > Tolerance);

                var pale = page with { Pixels = [.. page.Pixels.Select((grey, index) => (byte)Math.Clamp(grey + (index % 3 * 20) - 20, 0, 255))] };
                Assert.True(pale.ShareThatDiffersFrom(page) <= Tolerance);
            }
        }
    }

    [Fact]
    public void The_kept_pictures_are_small()
    {
        var files = Directory.GetFiles(Approved, "*.png");
        Assert.True(files.Length > 30);
        Assert.True(files.Sum(file => new FileInfo(file).Length) < 600_000);
    }

    private static List<int> Differences(IReadOnlyList<GreyPicture> pages, List<GreyPicture> approved) =>
    [
        .. Enumerable.Range(0, Math.Max(pages.Count, approved.Count))
            .Where(index => index >= pages.Count || index >= approved.Count || pages[index].ShareThatDiffersFrom(approved[index]) > Tolerance),
    ];

    private static async Task<IReadOnlyList<GreyPicture>> PagesOf(PlanSnapshot plan, PlanPaper paper)
    {
        var found = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator).Any(folder => File.Exists(Path.Combine(folder, "pdftoppm")));
        Assert.SkipUnless(found, "pdftoppm is not installed.");
        return await GreyPicture.PagesOf(PlanPdf.Write(plan with { Firm = plan.Firm with { Paper = paper } }).Bytes, TestContext.Current.CancellationToken);
    }

    private static List<GreyPicture> ApprovedOf(PlanPaper paper) =>
        [.. Directory.GetFiles(Approved, $"{paper}-*.png").Order(StringComparer.Ordinal).Select(GreyPicture.Read)];

    private static void Accept(IReadOnlyList<GreyPicture> pages, PlanPaper paper)
    {
        Directory.CreateDirectory(Approved);
        foreach (var file in Directory.GetFiles(Approved, $"{paper}-*.png"))
        {
            File.Delete(file);
        }

        for (var index = 0; index < pages.Count; index++)
        {
            pages[index].Write(Path.Combine(Approved, Name(paper, index)));
        }
    }

    private static string Name(PlanPaper paper, int index) => $"{paper}-{index + 1:00}.png";

    private static string FileOf([CallerFilePath] string file = "") => file;
}
