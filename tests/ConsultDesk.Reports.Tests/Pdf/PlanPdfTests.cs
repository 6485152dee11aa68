using System.Collections.Immutable;
using System.Diagnostics;
using System.Text;
using System.Xml.Linq;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Pdf;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Reports.Units;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Tokens;
using Xunit;

namespace ConsultDesk.Reports.Tests.Pdf;

public sealed class PlanPdfTests
{
    private static readonly PlanDocument Document = PlanPdf.Write(SamplePlan.Plan);

    public static TheoryData<string> Plans => ["sample", "calculated", "year", "whole"];

    [Theory]
    [MemberData(nameof(Plans))]
    public void Every_text_of_the_plan_is_read_back(string name)
    {
        var plan = Plan(name);
        var text = TextOf(PlanPdf.Write(plan).Bytes);
        var expected = SamplePlan.TextsOf(plan.Sections)
            .Concat([plan.Firm.Name, plan.Firm.Contact, plan.ClientName, plan.OptionName, "Revision 3, 25 November 2026"])
            .Except(plan.Sections.SelectMany(section => section.Blocks).OfType<FigureBlock>().Select(block => block.Figure.AltText))
            .ToList();
        Assert.True(expected.Count > 200);
        Assert.All(expected, part => Assert.Contains(Squash(part), text, StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Plans))]
    public void Every_table_row_is_read_back_cell_by_cell_in_its_order(string name)
    {
        var plan = Plan(name);
        var text = TextOf(PlanPdf.Write(plan).Bytes);
        var tables = plan.Sections.SelectMany(section => section.Blocks)
            .Select(block => block switch
            {
                TableBlock table => table.Table,
                FigureBlock figure => figure.Figure.Table,
                _ => null,
            })
            .OfType<DataTable>()
            .ToList();
        Assert.True(tables.Count >= 10);
        foreach (var table in tables)
        {
            Assert.Contains(Squash(table.Caption + string.Concat(table.Heads) + string.Concat(table.Rows[0])), text, StringComparison.Ordinal);
            Assert.All(table.Rows, row => Assert.Contains(Squash(string.Concat(row)), text, StringComparison.Ordinal));
        }
    }

    [Fact]
    public void Every_page_says_which_of_how_many_it_is()
    {
        using var pdf = PdfDocument.Open(Document.Bytes);
        Assert.Equal(Document.Pages, pdf.NumberOfPages);
        Assert.InRange(pdf.NumberOfPages, 8, 16);
        for (var page = 1; page <= pdf.NumberOfPages; page++)
        {
            Assert.EndsWith(
                Squash($"Guidance, not certification.Page {page} of {pdf.NumberOfPages}"),
                Squash(string.Concat(pdf.GetPage(page).Letters.Where(letter => letter.StartBaseLine.Y < 40).Select(letter => letter.Value))),
                StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_page_to_act_on_first_is_one_page()
    {
        using var pdf = PdfDocument.Open(Document.Bytes);
        Assert.Contains("thingstodo", Squash(pdf.GetPage(1).Text), StringComparison.Ordinal);
        Assert.DoesNotContain("Themainnumbers", Squash(pdf.GetPage(1).Text), StringComparison.Ordinal);
        Assert.Contains("Themainnumbers", Squash(pdf.GetPage(2).Text), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("compact-low", Layout.FrontLounge)]
    [InlineData("short-medium", Layout.RearPlatformBed)]
    [InlineData("medium-high", Layout.FixedBedAcross)]
    [InlineData("extra-long-high", Layout.RearPlatformBed)]
    public void What_to_do_first_fits_on_one_page_for_a_preset_van(string bodyClass, Layout layout)
    {
        foreach (var units in DisplayUnits.All)
        {
            using var pdf = PdfDocument.Open(PlanPdf.Write(SamplePlan.Of(Presets.Build(bodyClass, layout), units)).Bytes);
            Assert.Contains("Themainnumbers", Squash(pdf.GetPage(2).Text), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_pages_are_A4_and_nothing_is_printed_outside_the_margins()
    {
        // ISO 216: A4 is 210 by 297 mm.
        using var pdf = PdfDocument.Open(Document.Bytes);
        foreach (var page in pdf.GetPages())
        {
            Assert.Equal(210 / 25.4 * 72, page.Width, 0.5);
            Assert.Equal(297 / 25.4 * 72, page.Height, 0.5);
            var ink = page.Letters.Where(letter => letter.Value.Trim().Length > 0).ToList();
            Assert.All(ink, letter => Assert.InRange(letter.BoundingBox.Left, 56, 539.5));
            Assert.All(ink, letter => Assert.InRange(letter.BoundingBox.Right, 56, 539.5));
            Assert.All(page.Letters, letter => Assert.InRange(letter.StartBaseLine.Y, 30, 842 - 25));
        }
    }

    [Fact]
    public void No_heading_stands_last_on_a_page()
    {
        using var pdf = PdfDocument.Open(Document.Bytes);
        var headings = SamplePlan.Plan.Sections.Select(section => Squash(section.Heading)).ToHashSet();
        foreach (var page in pdf.GetPages())
        {
            var lines = page.Letters
                .Where(letter => letter.StartBaseLine.Y is > 45 and < 790)
                .GroupBy(letter => Math.Round(letter.StartBaseLine.Y))
                .OrderBy(line => line.Key)
                .Select(line => Squash(string.Concat(line.Select(letter => letter.Value))));
            Assert.DoesNotContain(lines.First(), headings);
        }
    }

    [Fact]
    public void A_table_over_many_pages_repeats_its_head_and_splits_no_row()
    {
        var rows = Enumerable.Range(1, 150).Select(row => ImmutableArray.Create($"row{row}first row{row}second", $"{row} W")).ToImmutableArray();
        var table = new DataTable { Caption = "A long table", Heads = ["Nameofrow", "Heatofrow"], NumberColumns = [1], Rows = rows };
        var plan = SamplePlan.Plan with { Sections = [new PlanSection("long", "Long", [new TableBlock(table)])] };
        using var pdf = PdfDocument.Open(PlanPdf.Write(plan).Bytes);
        Assert.True(pdf.NumberOfPages >= 3);
        var seen = 0;
        foreach (var page in pdf.GetPages())
        {
            var text = Squash(string.Concat(page.Letters.Select(letter => letter.Value)));
            Assert.Contains("NameofrowHeatofrow", text, StringComparison.Ordinal);
            foreach (var row in rows)
            {
                var first = text.Contains(row[0].Split(' ')[0], StringComparison.Ordinal);
                Assert.Equal(first, text.Contains(Squash(row[0] + row[1]), StringComparison.Ordinal));
                seen += first ? 1 : 0;
            }
        }

        // "row1first" is no part of "row11first", so that each row is counted once.
        Assert.Equal(rows.Length, seen);

        // The table is one element of the structure with one head; the repeated heads are artifacts.
        var tree = StructureNode.Read(pdf);
        var only = Assert.Single(tree.All(), node => node.Tag == "Table");
        Assert.Single(only.All(), node => node.Tag == "THead");
        Assert.Equal(rows.Length, only.Children.Single(node => node.Tag == "TBody").Children.Count);
    }

    [Fact]
    public void Every_font_is_embedded_as_a_subset()
    {
        using var pdf = PdfDocument.Open(Document.Bytes);
        var names = pdf.GetPages().SelectMany(page => page.Letters).Select(letter => letter.FontName!).Distinct().ToList();
        Assert.Equal(2, names.Count);

        // ISO 32000-1, section 9.6.4: six capital letters and a plus sign name a subset.
        Assert.All(names, name => Assert.Matches("^[A-Z]{6}\\+", name));
        var descriptors = Dictionaries(Document.Bytes).Where(dictionary => dictionary.Contains("/FontDescriptor", StringComparison.Ordinal) && dictionary.Contains("/FontName", StringComparison.Ordinal)).ToList();
        Assert.NotEmpty(descriptors);
        Assert.All(descriptors, descriptor => Assert.Contains("/FontFile2", descriptor, StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Plans))]
    public void The_structure_holds_headings_lists_tables_and_figures(string name)
    {
        var plan = Plan(name);
        using var pdf = PdfDocument.Open(PlanPdf.Write(plan).Bytes);
        var nodes = StructureNode.Read(pdf).All().ToList();
        var blocks = plan.Sections.SelectMany(section => section.Blocks).ToList();
        var figures = blocks.OfType<FigureBlock>().Select(block => block.Figure).ToList();
        var tables = blocks.OfType<TableBlock>().Select(block => block.Table).Concat(figures.Select(figure => figure.Table)).ToList();

        Assert.Single(nodes, node => node.Tag == "H1");
        // The tables of the figures have a section of their own at the end.
        Assert.Equal(plan.Sections.Length + 1, nodes.Count(node => node.Tag == "H2"));
        Assert.Equal(figures.Count + SamplePlan.FindingsOf(blocks).Count(), nodes.Count(node => node.Tag == "H3"));
        Assert.Equal(tables.Count, nodes.Count(node => node.Tag == "Table"));
        Assert.Equal(tables.Sum(table => table.Rows.Length + 1), nodes.Count(node => node.Tag == "TR"));
        Assert.Equal(tables.Sum(table => table.Heads.Length), nodes.Count(node => node is { Tag: "TH", Scope: "Column" }));
        Assert.Equal(tables.Sum(table => table.Rows.Length), nodes.Count(node => node is { Tag: "TH", Scope: "Row" }));
        Assert.Equal(tables.Sum(table => table.Rows.Length * (table.Heads.Length - 1)), nodes.Count(node => node.Tag == "TD"));
        Assert.Equal(
            blocks.OfType<ListBlock>().Sum(list => list.Items.Length) + blocks.OfType<ThingsBlock>().Sum(list => list.Things.Length),
            nodes.Count(node => node.Tag == "Lbl"));
        Assert.Equal(figures.Select(figure => figure.AltText.Replace('\u00A0', ' ')), nodes.Where(node => node.Tag == "Figure").Select(node => node.Alt));

        // What a reading machine reaches it can also read: every leaf has marked content.
        Assert.All(nodes.Where(node => node.Children.Count == 0), node => Assert.True(node.MarkedContents > 0, node.Tag));
    }

    [Fact]
    public void The_box_of_a_figure_lies_around_its_labels()
    {
        using var pdf = PdfDocument.Open(Document.Bytes);
        var figures = StructureNode.Read(pdf).All().Where(node => node.Tag == "Figure").ToList();
        var box = figures[0].Box;
        Assert.Equal(4, box.Count);
        var labels = pdf.GetPage(2).GetWords().Where(word => word.Text is "Cab" or "inside").ToList();
        Assert.NotEmpty(labels);
        Assert.Contains(labels, word => word.BoundingBox.Left > box[0] && word.BoundingBox.Right < box[2] && word.BoundingBox.Bottom > box[1] && word.BoundingBox.Top < box[3]);
        Assert.All(figures, figure => Assert.True(figure.Box[0] < figure.Box[2] && figure.Box[1] < figure.Box[3] && figure.Box[3] < 842));
    }

    [Fact]
    public void Every_page_has_marked_content_and_tabs_by_structure()
    {
        using var pdf = PdfDocument.Open(Document.Bytes);
        foreach (var page in pdf.GetPages())
        {
            Assert.True(page.GetMarkedContents().Count > 5);
            Assert.Equal("S", Assert.IsType<NameToken>(page.Dictionary.Data["Tabs"]).Data);
        }
    }

    [Fact]
    public void The_document_says_its_language_its_title_and_its_bookmarks()
    {
        using var pdf = PdfDocument.Open(Document.Bytes);
        var catalog = pdf.Structure.Catalog.CatalogDictionary;
        Assert.Equal("en", Assert.IsType<StringToken>(catalog.Data["Lang"]).Data);
        Assert.Equal("The Kingfisher: plan for air, damp and heat", pdf.Information.Title);
        Assert.True(pdf.TryGetBookmarks(out var bookmarks));
        Assert.Equal(SamplePlan.Plan.Sections.Select(section => section.Heading).Append(PlanComposer.FiguresInNumbers), bookmarks.Roots.Select(root => root.Title));
    }

    [Fact]
    public void Titles_with_marks_of_XML_give_well_formed_metadata()
    {
        var plan = SamplePlan.Plan with { VanName = "Smith & Sons <roof>", Firm = SamplePlan.Plan.Firm with { Name = "A \"quoted\" & <bracketed> firm" } };
        var bytes = PlanPdf.Write(plan).Bytes;
        using var pdf = PdfDocument.Open(bytes);
        Assert.True(pdf.TryGetXmpMetadata(out var metadata));
        var xmp = XDocument.Parse(Encoding.UTF8.GetString(metadata.GetXmlBytes()).Trim('\uFEFF', ' ', '\n'));
        XNamespace dc = "http://purl.org/dc/elements/1.1/";
        Assert.Equal("Smith & Sons <roof>: plan for air, damp and heat", xmp.Descendants(dc + "title").Single().Value);
        Assert.Equal("A \"quoted\" & <bracketed> firm", xmp.Descendants(dc + "creator").Single().Value);
        Assert.Equal("Smith & Sons <roof>: plan for air, damp and heat", pdf.Information.Title);
        Assert.Contains(Squash("Smith & Sons <roof>"), TextOf(bytes), StringComparison.Ordinal);
    }

    [Fact]
    public void Names_of_300_letters_and_names_in_Greek_and_Cyrillic_are_printed_in_full()
    {
        const string Greek = "Ελένη Παπαδοπούλου";
        const string Cyrillic = "Анна Черновская";
        var endless = new string('W', 300);
        var plan = SamplePlan.Plan with
        {
            ClientName = $"{Greek} και {Cyrillic}",
            VanName = endless,
            Sections =
            [
                new PlanSection("long", endless,
                [
                    new ParagraphBlock(endless),
                    new ListBlock([endless], Numbered: true),
                    new NumbersBlock([new PlanNumber(endless, endless)]),
                    new TableBlock(new DataTable { Caption = endless, Heads = [endless, Greek, "W"], Rows = [[endless, Cyrillic, endless]] }),
                    new FindingBlock(Calculations.Findings.Severity.Warning, endless, endless, [new PlanNumber(endless, "1")], endless),
                ]),
            ],
        };
        var document = PlanPdf.Write(plan);
        Assert.Empty(document.Unprintable);
        var text = TextOf(document.Bytes);
        Assert.Contains(Squash($"{Greek} και {Cyrillic}"), text, StringComparison.Ordinal);
        Assert.Contains(Squash(Greek), text, StringComparison.Ordinal);
        Assert.True(text.Split(endless).Length >= 10);
        using var pdf = PdfDocument.Open(document.Bytes);

        // The blank at the end of a line that goes on has no ink.
        Assert.All(pdf.GetPages().SelectMany(page => page.Letters).Where(letter => letter.Value.Trim().Length > 0), letter => Assert.InRange(letter.BoundingBox.Right, 56, 539.5));
    }

    [Fact]
    public void A_text_longer_than_a_page_goes_on_on_the_next()
    {
        var words = string.Join(' ', Enumerable.Range(1, 3000).Select(word => $"word{word}"));
        var plan = SamplePlan.Plan with { Sections = [new PlanSection("long", "Long", [new ParagraphBlock(words)])] };
        var document = PlanPdf.Write(plan);
        Assert.True(document.Pages > 3);
        var text = TextOf(document.Bytes);
        Assert.All(Enumerable.Range(1, 3000), word => Assert.Contains($"word{word}", text, StringComparison.Ordinal));
    }

    [Fact]
    public void Characters_the_fonts_lack_are_spelt_out_and_reported()
    {
        var document = PlanPdf.Write(SamplePlan.Plan with { ClientName = "漢 and 🚐" });
        Assert.Equal(["漢", "🚐"], document.Unprintable);
        Assert.Contains("[U+6F22]and[U+1F690]", TextOf(document.Bytes), StringComparison.Ordinal);
        Assert.Empty(Document.Unprintable);
    }

    [Fact]
    public void Control_characters_and_half_characters_in_names_break_nothing()
    {
        var document = PlanPdf.Write(SamplePlan.Plan with { VanName = "One\u0001\ntwo\t\uD83D three" });
        using var pdf = PdfDocument.Open(document.Bytes);
        Assert.True(pdf.TryGetXmpMetadata(out var metadata));
        Assert.Contains("One  two", XDocument.Parse(Encoding.UTF8.GetString(metadata.GetXmlBytes()).Trim('\uFEFF', ' ', '\n')).Root!.Value, StringComparison.Ordinal);
        Assert.Contains("Onetwo", TextOf(document.Bytes), StringComparison.Ordinal);
    }

    // WCAG 2.2, success criterion 1.4.3: 4.5:1.
    [Theory]
    [InlineData("#000000")]
    [InlineData("#ffffff")]
    [InlineData("#f2c14e")]
    [InlineData("#2f6f62")]
    [InlineData("#777777")]
    [InlineData("#808080")]
    [InlineData("#ff0000")]
    [InlineData("#00ff00")]
    [InlineData("#0000ff")]
    public void Text_on_the_firms_colour_and_in_it_can_be_read(string colour)
    {
        var palette = new PdfPalette(colour);
        Assert.True(PdfPalette.Contrast(palette.Brand, palette.OnBrand) >= 4.5);
        Assert.True(PdfPalette.Contrast(palette.Accent, PdfSharp.Drawing.XColors.White) >= 4.5);
    }

    [Fact]
    public void Contrast_is_that_of_the_guidelines()
    {
        // WCAG 2.2: black on white is 21:1; #767676 on white is the well-known 4.54:1 (recalled).
        Assert.Equal(21, PdfPalette.Contrast(PdfSharp.Drawing.XColors.Black, PdfSharp.Drawing.XColors.White), 6);
        Assert.Equal(4.54, PdfPalette.Contrast(PdfPalette.Parse("#767676"), PdfSharp.Drawing.XColors.White), 0.005);
    }

    [Fact]
    public void Inks_of_text_reach_4_5_and_all_others_3_to_1_on_paper()
    {
        var palette = new PdfPalette("#f2c14e");
        Ink[] text = [Ink.Text, Ink.Muted, Ink.Wet, Ink.AirWithin, Ink.AirIn, Ink.AirOut, Ink.Accent, Ink.Opening];
        foreach (var ink in Enum.GetValues<Ink>().Except([Ink.None, Ink.Paper]))
        {
            Assert.True(
                PdfPalette.Contrast(palette.Of(ink), PdfSharp.Drawing.XColors.White) >= (text.Contains(ink) ? 4.5 : 3),
                $"{ink} is too pale");
        }
    }

    [Theory]
    [InlineData("2f6f62")]
    [InlineData("#2f6f6")]
    [InlineData("#2f6f6g")]
    [InlineData("green")]
    public void A_colour_that_is_not_one_is_refused(string colour) =>
        Assert.Throws<FormatException>(() => PlanPdf.Write(SamplePlan.Plan with { Firm = SamplePlan.Plan.Firm with { ColourHex = colour } }));

    [Fact]
    public void Plans_are_written_at_the_same_time_without_disturbing_one_another()
    {
        var pages = new int[8];
        Parallel.For(0, pages.Length, index => pages[index] = PlanPdf.Write(SamplePlan.Plan).Pages);
        Assert.All(pages, count => Assert.Equal(Document.Pages, count));
    }

    [Fact]
    public async Task A_strict_checker_finds_nothing_to_complain_about()
    {
        var (exit, output) = await Run("qpdf", "--check");
        Assert.True(exit == 0, output);
        Assert.DoesNotContain("WARNING", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_second_reader_finds_the_document_tagged()
    {
        var (exit, output) = await Run("pdfinfo");
        Assert.True(exit == 0, output);
        Assert.Matches("Tagged: +yes", output);
        Assert.Matches($"Pages: +{Document.Pages}\\b", output);
    }

    private static PlanSnapshot Plan(string name) => name switch
    {
        "sample" => SamplePlan.Plan,
        "year" => SamplePlan.OfYear(DisplayUnits.Metric),
        "whole" => PlanComposer.Compose(SamplePlan.Whole),
        _ => SamplePlan.Of(Presets.Build("medium-high", Layout.RearPlatformBed), DisplayUnits.Imperial),
    };

    /// <summary>All letters of a document in the order they were drawn, running heads and feet left out.</summary>
    private static string TextOf(byte[] bytes)
    {
        using var pdf = PdfDocument.Open(bytes);
        var text = new StringBuilder();
        foreach (var page in pdf.GetPages())
        {
            var frame = page.Number == 1 ? 842.0 : 795.0;
            foreach (var letter in page.Letters.Where(letter => letter.StartBaseLine.Y > 45 && letter.StartBaseLine.Y < frame || page.Number == 1))
            {
                text.Append(letter.Value);
            }
        }

        return Squash(text.ToString());
    }

    private static string Squash(string text) => string.Concat(text.Where(character => !char.IsWhiteSpace(character)));

    private static string[] Dictionaries(byte[] bytes) => Encoding.Latin1.GetString(bytes).Split("endobj");

    private static async Task<(int Exit, string Output)> Run(string tool, params string[] arguments)
    {
        var found = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator).Any(folder => File.Exists(Path.Combine(folder, tool)));
        Assert.SkipUnless(found, $"{tool} is not installed.");
        var file = Path.GetTempFileName();
        try
        {
            await File.WriteAllBytesAsync(file, Document.Bytes, TestContext.Current.CancellationToken);
            var start = new ProcessStartInfo(tool) { RedirectStandardOutput = true, RedirectStandardError = true };
            foreach (var argument in arguments.Append(file))
            {
                start.ArgumentList.Add(argument);
            }

            using var process = Process.Start(start)!;
            var errors = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
            var output = await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
            await process.WaitForExitAsync(TestContext.Current.CancellationToken);
            return (process.ExitCode, output + await errors);
        }
        finally
        {
            File.Delete(file);
        }
    }
}
