using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Reports.Pdf;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Reports.Units;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Reports.Tests.Pdf;

/// <summary>
/// Plans of every length laid out on both papers: no findings or sixty, names of three letters or three hundred, in scripts
/// that run to the right or to the left. RANDOM_PLANS in the environment asks for more.
/// </summary>
public sealed class RandomPlanTests
{
    private const int Seed = 20261130;

    // Reading every letter takes ten times as long as the tree: one plan in so many.
    private const int LettersOfOneIn = 8;

    // The first page holds at least so many on either paper.
    private const int LettersOfAPage = 3500;

    private static readonly int Count = int.Parse(Environment.GetEnvironmentVariable("RANDOM_PLANS") ?? "200", CultureInfo.InvariantCulture);

    private static readonly string[] Words =
    [
        "air", "damp", "window", "heater", "mattress", "floor", "vapour", "glass", "bed", "across", "Dampfbremse", "Lüftungsöffnung", "fenêtre",
        "Παπαδοπούλου", "Черновская", "בדיקה", "שלום", "رطوبة", "تهوية", "漢字", "kondensvattenavledningsrör", "0.4", "−12", "of", "and", "the",
    ];

    private static readonly string[] Codes =
    [
        "glass-condensing", "heater-too-small", "thin-insulation", "alarms-needed", "before-cutting", "wet-skin", "air-damp", "one-way-out",
        "mould-grows", "fan-sealed-in", "battery-frost", "loose-cover-outside", "locked-heat", "rust-sealed",
    ];

    // Elements that stand on one page whole.
    private static readonly HashSet<string> Whole = ["H1", "H2", "H3", "P", "TR", "LI", "Figure", "Caption", "THead"];

    // Elements that announce what follows.
    private static readonly HashSet<string> Heads = ["H1", "H2", "H3", "Caption", "THead"];

    [Fact]
    public void No_heading_stands_last_on_a_page_and_no_row_is_split()
    {
        var random = new Random(Seed);
        var (breaks, onOnePage) = (0, 0);
        for (var number = 0; number < Count; number++)
        {
            var request = Request(random);
            var plan = PlanComposer.Compose(request);
            using var pdf = PdfDocument.Open(PlanPdf.Write(plan).Bytes);
            var tree = StructureNode.Read(pdf);
            foreach (var node in tree.All().Where(node => Whole.Contains(node.Tag)))
            {
                Assert.True(PagesOf(node).Distinct().Count() <= 1, $"Plan {number}: a {node.Tag} is split over pages {string.Join(", ", PagesOf(node).Distinct())}.");
            }

            // In the order of reading: what was last on a page before the next begins.
            var last = (Tag: "", Page: 1);
            foreach (var (tag, page) in Reading(tree, ""))
            {
                if (page != last.Page)
                {
                    breaks++;
                    Assert.True(page == last.Page + 1, $"Plan {number}: after page {last.Page} comes page {page}.");
                    Assert.False(Heads.Contains(last.Tag), $"Plan {number}: a {last.Tag} stands last on page {last.Page}.");
                }

                last = (tag, page);
            }

            Assert.Equal(pdf.NumberOfPages, last.Page);
            // More letters, or names of three hundred W, fill more than a page: those flow on.
            if (LettersToActOn(plan) <= LettersOfAPage && Names(request).All(name => name.Length < 80))
            {
                onOnePage++;
                Assert.True(ActedOnStandsAlone(tree, plan), $"Plan {number}: what is to be acted on is {LettersToActOn(plan)} letters and does not stand alone on the first page.");
            }

            if (number % LettersOfOneIn == 0)
            {
                LettersStayApart(pdf, number);
            }
        }

        Assert.True(breaks > 10 * Count, $"Only {breaks} page breaks were looked at.");
        Assert.True(onOnePage > Count / 4, $"Only {onOnePage} plans had so little to act on that it has to fit on a page.");
        TestContext.Current.TestOutputHelper!.WriteLine($"{Count} plans, {breaks} page breaks, {onOnePage} with up to {LettersOfAPage} letters to act on, each on one page");
    }

    // The things to do end on the first page, and nothing of the sections after them stands there.
    private static bool ActedOnStandsAlone(StructureNode tree, PlanSnapshot plan)
    {
        var acting = plan.Sections.Select(section => section.Id).ToList().IndexOf(PlanComposer.ToDo) + 1;
        var sections = tree.All().Where(node => node.Tag == "Sect").ToList();
        return sections.Take(acting).All(section => PagesOf(section).All(page => page == 1)) && sections.Skip(acting).All(section => PagesOf(section).All(page => page > 1));
    }

    private static int LettersToActOn(PlanSnapshot plan)
    {
        var printable = new PrintableText();
        string[] ids = [PlanComposer.ActFirst, PlanComposer.Wanted, PlanComposer.Own, PlanComposer.ToDo];
        return SamplePlan.TextsOf(plan.Sections.Where(section => ids.Contains(section.Id))).Sum(text => printable.Of(text).Length);
    }

    private static IEnumerable<string> Names(PlanRequest request) =>
        [request.ClientName, request.VanName, request.OptionName, .. request.Wishes is { } wishes ? wishes.MustHaves.Append(wishes.Looks) : []];

    [Fact]
    public void The_checks_see_a_heading_that_is_left_behind_and_a_row_on_two_pages()
    {
        StructureNode heading = new("H2", null, null, [], [(1, 0)], []);
        StructureNode row = new("TR", null, null, [], [], [new("TH", null, null, [], [(1, 1)], []), new("TD", null, null, [], [(2, 0)], [])]);
        Assert.Equal(2, PagesOf(row).Distinct().Count());
        var reading = Reading(new StructureNode("Sect", null, null, [], [], [heading, new("P", null, null, [], [(2, 1)], [])]), "").ToList();
        Assert.Equal([("H2", 1), ("P", 2)], reading);
    }

    // Letters of different elements never lie over one another, and none leaves the page's margins.
    private static void LettersStayApart(PdfDocument pdf, int number)
    {
        foreach (var page in pdf.GetPages())
        {
            var half = page.Height < 500;
            var margin = half ? 29 : 56;
            foreach (var letter in page.Letters.Where(letter => letter.Value.Trim().Length > 0))
            {
                Assert.True(letter.BoundingBox.Left > margin && letter.BoundingBox.Right < page.Width - margin + 1, $"Plan {number}, page {page.Number}: {letter.Value} of {string.Concat(page.Letters.Where(other => Math.Abs(other.StartBaseLine.Y - letter.StartBaseLine.Y) < 1).Select(other => other.Value))} stands in the margin, {letter.BoundingBox.Left:0.0} to {letter.BoundingBox.Right:0.0} of {page.Width:0}.");
                Assert.True(letter.StartBaseLine.Y > 14 && letter.StartBaseLine.Y < page.Height - 14, $"Plan {number}, page {page.Number}: {letter.Value} stands beyond the page.");
            }

            // Labels of a figure have their own test: a figure is one box here.
            var boxes = page.GetMarkedContents().SelectMany(All).Where(content => content.Letters.Any(letter => letter.Value.Trim().Length > 0)).ToList();
            var lines = boxes.SelectMany(content => content.Letters.Where(letter => letter.Value.Trim().Length > 0)
                .GroupBy(letter => Math.Round(letter.StartBaseLine.Y, 1))
                .Select(line => (Content: content, Line: line.Key, Left: line.Min(letter => letter.StartBaseLine.X), Right: line.Max(letter => letter.EndBaseLine.X))))
                .Where(line => line.Content.Tag != "Figure")
                .ToList();
            foreach (var line in lines)
            {
                // Lines nearer than five points run into one another: the smallest letters are seven points high.
                var over = lines.FirstOrDefault(other => !ReferenceEquals(other.Content, line.Content)
                    && Math.Abs(other.Line - line.Line) < 5 && other.Left < line.Right - 0.5 && line.Left < other.Right - 0.5);
                Assert.True(over.Content is null, $"Plan {number}, page {page.Number}: {Text(line.Content)} and {(over.Content is null ? "" : Text(over.Content))} lie over one another.");
            }
        }

        static string Text(MarkedContentElement content) => string.Concat(content.Letters.Select(letter => letter.Value));
        static IEnumerable<MarkedContentElement> All(MarkedContentElement content) => content.Children.SelectMany(All).Prepend(content);
    }

    private static IEnumerable<int> PagesOf(StructureNode node) => node.All().SelectMany(part => part.Marked).Select(marked => marked.Page);

    /// <summary>The marked contents in the order of reading, each with the nearest element that is a head, or its own.</summary>
    private static IEnumerable<(string Tag, int Page)> Reading(StructureNode node, string head)
    {
        var under = head.Length > 0 ? head : Heads.Contains(node.Tag) ? node.Tag : "";
        return node.Marked.Select(marked => (under.Length > 0 ? under : node.Tag, marked.Page)).Concat(node.Children.SelectMany(child => Reading(child, under)));
    }

    private static PlanRequest Request(Random random)
    {
        var whole = random.Next(2) == 0;
        var basis = whole ? SamplePlan.Whole : SamplePlan.Request with { Assessment = random.Next(2) == 0 ? SampleYear.Assessment : SampleDesign.Assessment };
        var findings = Enumerable.Range(0, random.Next(4) == 0 ? 0 : random.Next(61)).Select(_ => Finding(random)).ToImmutableArray();
        return basis with
        {
            Firm = basis.Firm with { Name = Name(random), Contact = Name(random), Paper = random.Next(2) == 0 ? PlanPaper.A4 : PlanPaper.Letter, Terms = Text(random, random.Next(0, 400)) },
            ClientName = Name(random),
            VanName = Name(random),
            OptionName = "B, " + Name(random),
            Units = DisplayUnits.All[random.Next(DisplayUnits.All.Count)],
            Assessment = basis.Assessment with { Findings = findings },
            DangerReason = findings.Any(finding => finding.Severity == Severity.Danger) ? Text(random, random.Next(3, 60)) : null,
            Wishes = basis.Wishes is { } wishes ? wishes with { MustHaves = [.. Many(random, 8, Name)], Looks = Name(random) } : null,
            Decisions = [.. Many(random, 20, random => new PlanDecision(Name(random), Text(random, random.Next(60)), Text(random, random.Next(60)), Name(random)))],
            Declined = [.. Many(random, 10, random => new PlanDeclined(null, Text(random, random.Next(1, 60)), Text(random, random.Next(60)), Name(random)))],
        };
    }

    private static Finding Finding(Random random) => new()
    {
        Code = Codes[random.Next(Codes.Length)],
        Severity = random.Next(20) switch { 0 => Severity.Danger, < 6 => Severity.Warning, < 13 => Severity.Advice, _ => Severity.Note },
        Title = Text(random, random.Next(2, 14)),
        Explanation = Text(random, random.Next(4, 60)),
        Evidence = [.. Many(random, 4, random => new Evidence(Text(random, random.Next(1, 5)), Temperature.FromDegreesCelsius(random.Next(-20, 60))))],
        Remedy = "Set " + Text(random, random.Next(3, 20)) + ". Or " + Text(random, random.Next(40)) + ".",
    };

    private static List<T> Many<T>(Random random, int most, Func<Random, T> make) => [.. Enumerable.Range(0, random.Next(most + 1)).Select(_ => make(random))];

    private static string Text(Random random, int words) => string.Join(' ', Enumerable.Range(0, words).Select(_ => Words[random.Next(Words.Length)]));

    // Mostly names as people have them; one in ten as long as a field takes, in one word or in many.
    private static string Name(Random random) => random.Next(20) switch
    {
        0 => new string('W', 300),
        1 => Text(random, 45),
        _ => Text(random, random.Next(1, 4)),
    };
}
