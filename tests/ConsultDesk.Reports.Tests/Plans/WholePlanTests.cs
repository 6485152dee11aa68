using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Pdf;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Reports.Tests.Pdf;
using ConsultDesk.Reports.Units;
using UglyToad.PdfPig;
using Xunit;

namespace ConsultDesk.Reports.Tests.Plans;

/// <summary>A plan with wishes, prices, decisions and the client's own idea.</summary>
public sealed class WholePlanTests
{
    private const string Marker = "only for the desk 7f3a";

    private static readonly PlanSnapshot Plan = PlanComposer.Compose(SamplePlan.Whole);

    [Fact]
    public void It_leads_with_what_to_do_and_ends_with_the_cautions()
    {
        string[] ids =
        [
            "act-first", "told-and-wanted", "own-idea", "to-do", "how-to-run", "main-numbers", "your-van", "the-year", "air", "damp", "heat", "walls-roof-floor",
            "options-compared", "declined", "decided", "changed", "running-costs", "care", "still-fogs", "parts", "cut-sheet", "order-of-build", "how-sure",
            "assumed", "sources", "terms", "cautions", "words", "card",
        ];
        Assert.Equal(ids, Plan.Sections.Select(section => section.Id));
        Assert.Equal(1, Plan.Sections[0].Blocks.IndexOf(Plan.Sections[0].Blocks.OfType<DangerBlock>().Single()));
    }

    [Fact]
    public void The_first_page_of_the_PDF_has_the_danger_box_and_things_to_do_with_price_and_who()
    {
        using var pdf = PdfDocument.Open(PlanPdf.Write(Plan).Bytes);
        var first = Squash(pdf.GetPage(1).Text);
        var thing = Block<ThingsBlock>(PlanComposer.ToDo).Things[0];
        foreach (var expected in new[]
        {
            "Danger: The gas hob burns", "The client keeps the hob until spring", "What you told us and want", "2 500 EUR now, 800 EUR later", "Your idea against our recommendation",
            "Our recommendation", thing.What, thing.Why, "Who: " + thing.Who, "Price: " + thing.Price,
        })
        {
            Assert.Contains(Squash(expected), first, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void At_most_five_things_with_the_dangers_each_with_who_and_price_in_the_order_of_the_work()
    {
        var things = Block<ThingsBlock>(PlanComposer.ToDo).Things;
        var dangers = Plan.Sections[0].Blocks.OfType<DangerBlock>().Single().Dangers.Length;
        Assert.InRange(things.Length + dangers, 3, 5);
        Assert.All(things, thing => Assert.True(thing.What.Length > 5 && thing.Why.Length > 5 && thing.Who.Length > 2 && thing.Price.Length > 2));

        // What comes before the walls close stands before what may wait.
        var may = things.Select(thing => thing.Order.Length == 0).ToList();
        Assert.Equal(may.Order(), may);
        Assert.Contains(things, thing => thing.Order == "Before the walls close");
        Assert.Contains(Section(PlanComposer.ToDo).Blocks.OfType<ParagraphBlock>(), text =>
            text.Text.Contains("hidden parts are found", StringComparison.Ordinal) && text.Text.Contains("rust is treated", StringComparison.Ordinal)
            && text.Text.Contains("openings are cut", StringComparison.Ordinal) && text.Text.Contains("cables", StringComparison.Ordinal)
            && text.Text.Contains("layers", StringComparison.Ordinal));
    }

    [Fact]
    public void Gas_exhaust_and_mains_are_a_licensed_trades_work_whatever_the_price_book_says()
    {
        // A book in which everything is fitted by the client.
        var book = new PriceBook([.. PriceBooks.Default.Items.Select(item => item with { FittedBy = FittedBy.You, Fitting = 0 })]);
        foreach (var (kind, trade) in new[]
        {
            (HeaterKind.RoomSealedGas, "gas fitter"), (HeaterKind.RoomSealedLiquidFuel, "fitter the heater’s maker approves"), (HeaterKind.Electric, "licensed electrician"),
        })
        {
            var design = SampleDesign.Design with { Heater = SampleDesign.Design.Heater with { Kind = kind, State = PartState.Proposed } };
            var plan = PlanComposer.Compose(SamplePlan.Whole with
            {
                Design = design,
                Assessment = SampleYear.Assessment with { Findings = [] },
                Cost = new PlanCost(Costing.Of(design, book), "EUR", [], changed => Costing.Of(changed, book)),
            });
            var heater = Assert.Single(
                plan.Sections.SelectMany(section => section.Blocks).OfType<ThingsBlock>().Single().Things, thing => thing.What.StartsWith("Fit the heater", StringComparison.Ordinal));
            Assert.Contains(trade, heater.Who, StringComparison.Ordinal);
            var row = plan.Sections.Single(section => section.Id == PlanComposer.Parts).Blocks.OfType<TableBlock>().First().Table.Rows.Single(row => row[0] == "Heater");
            Assert.Equal("licensed trade", row[^1]);
        }
    }

    [Theory]
    [InlineData(true, "with Moms 25\u00a0%, which is ")]
    [InlineData(false, "without Moms 25\u00a0%; ")]
    public void The_total_of_the_parts_says_what_tax_is_in_it_or_comes_on_top(bool included, string words)
    {
        var cost = SamplePlan.CostOf(SampleDesign.Design) with { Tax = new Tax("Moms", 25, included) };
        var plan = PlanComposer.Compose(SamplePlan.Whole with { Design = SampleDesign.Design, Cost = cost });
        var total = plan.Sections.Single(section => section.Id == PlanComposer.Parts).Blocks.OfType<TableBlock>().First().Table.Rows[^1][0];

        Assert.Contains(words, total, StringComparison.Ordinal);
        // A quarter on top of the net is a fifth of the gross.
        Assert.Contains(Money.Of(included ? cost.Sheet.Now / 5 : cost.Sheet.Now * 1.25m, "EUR"), total, StringComparison.Ordinal);
        Assert.Equal(!included, plan.Headline.Single(row => row.Label == "Money now").Value.Contains("without Moms", StringComparison.Ordinal));
    }

    [Fact]
    public void The_parts_list_adds_up_and_says_what_has_no_price()
    {
        var states = new[] { PartState.Fitted, PartState.Owned, PartState.Proposed, PartState.Later };
        var design = SampleDesign.Design with
        {
            Openings = [.. SampleDesign.Design.Openings.Select((opening, index) => opening with { State = states[index % 4] })],
            Walls = SampleDesign.Design.Walls with { Layers = [.. SampleDesign.Design.Walls.Layers.Select((layer, index) => layer with { State = states[(index + 2) % 4] })] },
        };
        var cost = SamplePlan.CostOf(design);
        var blocks = PlanComposer.Compose(SamplePlan.Whole with { Design = design, Cost = cost }).Sections.Single(section => section.Id == PlanComposer.Parts).Blocks;
        var tables = blocks.OfType<TableBlock>().Select(block => block.Table).ToList();
        foreach (var (table, state, whole) in new[] { (tables[0], PartState.Proposed, cost.Sheet.Now), (tables[1], PartState.Later, cost.Sheet.Later) })
        {
            var lines = cost.Sheet.Lines.Where(line => line.State == state).ToList();
            Assert.Equal(lines.Select(line => line.Name), table.Rows[..^1].Select(row => row[0]));
            var sums = new[] { 6, 7 }.Select(column => table.Rows[..^1].Sum(row => Amount(row[column]))).ToList();
            Assert.Equal(sums, [Amount(table.Rows[^1][6]), Amount(table.Rows[^1][7])]);
            Assert.Equal(whole, sums.Sum());
            Assert.Contains(Money.Of(whole, "EUR"), table.Rows[^1][0], StringComparison.Ordinal);
        }

        var there = Assert.Single(blocks.OfType<PairsBlock>()).Pairs;
        Assert.Equal(["Fitted", "Owned"], there.Select(pair => pair.Label));
        var words = blocks.OfType<ParagraphBlock>().Last().Text;
        Assert.Contains("no offer by a supplier", words, StringComparison.Ordinal);

        var bare = SamplePlan.Whole.Cost!.Sheet with { Unpriced = 3 };
        var unpriced = PlanComposer.Compose(SamplePlan.Whole with { Cost = SamplePlan.Whole.Cost with { Sheet = bare } });
        Assert.Contains(SamplePlan.TextsOf(unpriced.Sections), text => text.Contains("3 parts have no price", StringComparison.Ordinal));
        Assert.Contains(SamplePlan.TextsOf(unpriced.Sections), text => text.EndsWith("EUR and more", StringComparison.Ordinal));

        static decimal Amount(string cell) => cell == DataTable.Nothing ? 0 : decimal.Parse(cell.Replace("\u00A0", "", StringComparison.Ordinal), CultureInfo.InvariantCulture);
    }

    [Fact]
    public void The_own_idea_stands_against_the_recommendation_and_against_nothing_when_it_is_the_same()
    {
        var table = Block<TableBlock>(PlanComposer.Own).Table;
        Assert.Equal(["What", "Your idea", "Our recommendation"], table.Heads);
        string[] rows = ["Wet mornings in the year", "Water condensed in the year", "Fuel on a day with heating", "The same in money", "Money now", "Money later", "Wishes broken", "Dangers that stand"];
        Assert.Equal(rows, table.Rows.Select(row => row[0]));
        Assert.Equal(["Wishes broken", "none", "1"], table.Rows[6]);
        Assert.Equal(["Dangers that stand", "0", "1"], table.Rows[7]);

        var same = PlanComposer.Compose(SamplePlan.Whole with { Own = SamplePlan.Whole.Own! with { IsPublished = true } });
        var section = same.Sections.Single(section => section.Id == PlanComposer.Own);
        Assert.Contains("nothing to set it against", Assert.IsType<ParagraphBlock>(Assert.Single(section.Blocks)).Text, StringComparison.Ordinal);
        Assert.DoesNotContain(same.Sections, section => section.Id == PlanComposer.Compared);
    }

    [Fact]
    public void What_was_told_is_repeated_in_the_clients_words_and_what_the_plan_breaks_is_said()
    {
        var pairs = Block<PairsBlock>(PlanComposer.Wanted).Pairs.ToDictionary(pair => pair.Label, pair => pair.Value);
        Assert.Equal("2\u00A0500\u00A0EUR now, 800\u00A0EUR later", pairs["Budget"]);
        Assert.Equal("a bed across; a desk for two", pairs["Must have"]);
        Assert.Equal("an added window; a hole in the floor; carpet on the walls", pairs["Will not have"]);
        Assert.Equal("dry, warm, cheap", pairs["First to last"]);
        Assert.Equal("pale wood, no plastic", pairs["Looks"]);
        Assert.Contains("no floor hole (Floor vent)", Block<ParagraphBlock>(PlanComposer.Wanted).Text, StringComparison.Ordinal);
        Assert.Equal(["People", "Route"], PlanComposer.Compose(SamplePlan.Request).Sections.Single(section => section.Id == PlanComposer.Wanted).Blocks.OfType<PairsBlock>().Single().Pairs.Select(pair => pair.Label));
    }

    [Fact]
    public void Declined_advice_and_decisions_are_printed_with_why_and_who_and_declined_remedies_are_not_asked_for_again()
    {
        Assert.Equal(["A second vent at the bed", "No second hole in the roof", "Ana"], Block<TableBlock>(PlanComposer.Declined).Table.Rows[0]);
        Assert.Equal(["Budget and looks", "Pale wood", DataTable.Nothing, DataTable.Nothing], Block<TableBlock>(PlanComposer.Decided).Table.Rows[1]);

        var warning = SamplePlan.Whole.Assessment.Findings.First(finding => finding.Severity == Severity.Warning);
        Assert.Contains(Block<ThingsBlock>(PlanComposer.ToDo).Things, thing => thing.Why == warning.Title + ".");
        var declined = PlanComposer.Compose(SamplePlan.Whole with { Declined = [new PlanDeclined(warning.Code, warning.Remedy, "Too dear", "Ana")] });
        Assert.DoesNotContain(declined.Sections.SelectMany(section => section.Blocks).OfType<ThingsBlock>().SelectMany(block => block.Things), thing => thing.Why == warning.Title + ".");

        // Its finding stands all the same, and a danger stays in the box whatever was declined.
        Assert.Contains(SamplePlan.FindingsOf(declined.Sections.SelectMany(section => section.Blocks)), finding => finding.Title == warning.Title);
        var danger = SamplePlan.Whole.Assessment.Findings.First(finding => finding.Severity == Severity.Danger);
        var both = PlanComposer.Compose(SamplePlan.Whole with { Declined = [new PlanDeclined(danger.Code, danger.Remedy, "Too dear", "Ana")] });
        Assert.Contains(both.Sections[0].Blocks.OfType<DangerBlock>().Single().Dangers, box => box.Title == danger.Title);
    }

    [Fact]
    public void A_second_revision_says_on_top_what_changed_since_the_first()
    {
        var blocks = Plan.Sections[0].Blocks;
        Assert.Contains("since revision 2 of 3 May 2026", blocks.OfType<ParagraphBlock>().ElementAt(1).Text, StringComparison.Ordinal);
        Assert.Equal(
            [
                "The option: B, second vent at the bed instead of A, the client’s own idea", "Roof fan: 30 %, was 10 %",
                $"The numbers: water condensed in the night {Plan.Headline.Single(number => number.Label == "Water condensed in the night").Value}, was 400\u00A0g",
            ],
            blocks.OfType<ListBlock>().Single().Items);
        Assert.DoesNotContain(PlanComposer.Compose(SamplePlan.Whole with { Before = null }).Sections[0].Blocks, block => block is ListBlock);
    }

    [Fact]
    public void Parts_that_come_before_the_walls_close_are_told_from_those_that_may_wait()
    {
        var design = SampleDesign.Design with { BuildStage = BuildStage.EmptyShell };
        var line = new CostLine("", "Part", PartState.Proposed, null, PriceMatch.None, 1, null, null);
        var request = SamplePlan.Whole with { Design = design, Assessment = SampleYear.Assessment with { Findings = [] } };
        var things = Things(request, line with { PartId = "equipment.smokeAlarm" }, line with { PartId = "walls.layers[wool]" }, line with { PartId = "heater" }, line with { PartId = "openings[roof-fan]" }, line with { PartId = "glazings[screen].pane.cover" });
        Assert.Equal(
            ["Cut in", "Fit the heater", "Insulate", "Fit alarms", "Cover the glass"],
            things.Select(thing => string.Join(' ', thing.What.Split(' ').Take(thing.What.StartsWith("Fit the", StringComparison.Ordinal) || thing.What.StartsWith("Cover", StringComparison.Ordinal) ? 3 : 2)).TrimEnd(':')).Select(words => words is "Insulate and" ? "Insulate" : words));
        Assert.Equal(["Before the walls close", "Before the walls close", "Before the walls close", "", ""], things.Select(thing => thing.Order));

        var lived = Things(request with { Design = design with { BuildStage = BuildStage.LivedIn } }, line with { PartId = "walls.layers[wool]" }, line with { PartId = "openings[roof-fan]" });
        Assert.Equal(["", "The lining is opened for it"], lived.Select(thing => thing.Order));
        Assert.All(things, thing => Assert.Equal("not priced", thing.Price));

        static ImmutableArray<PlanThing> Things(PlanRequest request, params ImmutableArray<CostLine> lines) =>
            PlanComposer.Compose(request with { Cost = request.Cost! with { Sheet = new CostSheet(lines, 0, 0, lines.Length) } })
                .Sections.Single(section => section.Id == PlanComposer.ToDo).Blocks.OfType<ThingsBlock>().Single().Things;
    }

    [Fact]
    public void What_was_assumed_is_told_from_the_origins_of_the_facts_and_nothing_else()
    {
        var facts = InputCatalogue.Of(SampleDesign.Design);
        var (was, words) = Assumed(SampleDesign.Design);
        Assert.Contains($"{facts.Length} facts", words, StringComparison.Ordinal);
        Assert.Contains($"0 measured, 0 told by you, {facts.Length} assumed", words, StringComparison.Ordinal);
        // What belongs to a part stands under its name and does not say it again.
        var fan = SampleDesign.Design.Openings.First(opening => opening.Fan is not null);
        Assert.All(facts.Where(fact => !fact.Path.Contains('[', StringComparison.Ordinal)), fact => Assert.Contains(fact.Label + ": ", was[fact.Group], StringComparison.Ordinal));
        Assert.All(facts.Where(fact => fact.Path.StartsWith($"openings[{fan.Id}]", StringComparison.Ordinal)), fact =>
        {
            var lines = was[fact.Group].Split('\n');
            var line = fact.Value is bool ? lines[^1] : lines.Single(line => line.StartsWith(fan.Name + ": ", StringComparison.Ordinal));
            var words = fact.Label.Replace("What " + fan.Name + " is", "kind", StringComparison.Ordinal).Replace(" of " + fan.Name, "", StringComparison.Ordinal)
                .Replace(fan.Name + ", ", "", StringComparison.Ordinal).Replace(fan.Name + " ", "", StringComparison.Ordinal).Replace(fan.Name, "it", StringComparison.Ordinal)
                .Replace("centre ", "", StringComparison.Ordinal);
            Assert.Contains(words[1..], line, StringComparison.Ordinal);
        });

        var told = Origins.With(Origins.With(SampleDesign.Design, "household.sleepers", Origin.Told), "body.interiorLengthM", Origin.Measured);
        var (now, counted) = Assumed(told);
        Assert.Contains($"1 measured, 1 told by you, {facts.Length - 2} assumed", counted, StringComparison.Ordinal);
        Assert.DoesNotContain("Sleepers: ", now["People and habits"], StringComparison.Ordinal);
        Assert.DoesNotContain("Inside length: ", now["The van"], StringComparison.Ordinal);
        Assert.Contains("Inside width: ", now["The van"], StringComparison.Ordinal);

        static (Dictionary<string, string> Groups, string Words) Assumed(Design design)
        {
            var blocks = PlanComposer.Compose(SamplePlan.Whole with { Design = design }).Sections.Single(section => section.Id == PlanComposer.Assumed).Blocks;
            return (blocks.OfType<PairsBlock>().Single().Pairs.ToDictionary(pair => pair.Label, pair => pair.Value), blocks.OfType<ParagraphBlock>().First().Text);
        }
    }

    [Fact]
    public void The_logo_is_kept_with_the_plan_drawn_in_the_head_and_named_after_the_firm()
    {
        var plan = PlanComposer.Compose(SamplePlan.Whole with { Logo = new PlanPicture(Png, 2, 1) });
        var read = PlanSnapshotJson.Read(PlanSnapshotJson.Write(plan));
        Assert.Equal(Png, read.Logo!.Png);
        Assert.Equal((2, 1), (read.Logo.Width, read.Logo.Height));

        using var pdf = PdfDocument.Open(PlanPdf.Write(read).Bytes);
        var image = Assert.Single(pdf.GetPage(1).GetImages());
        Assert.Equal(2, image.BoundingBox.Width / image.BoundingBox.Height, 0.01);
        Assert.InRange(image.BoundingBox.Bottom, 842 - 62, 842);
        Assert.Contains(StructureNode.Read(pdf).All(), node => node.Tag == "Figure" && node.Alt == plan.Firm.Name);
        Assert.All(Enumerable.Range(2, pdf.NumberOfPages - 1), page => Assert.Empty(pdf.GetPage(page).GetImages()));
        Assert.DoesNotContain("\"logo\"", PlanSnapshotJson.Write(Plan), StringComparison.Ordinal);
    }

    [Fact]
    public void Long_names_and_names_from_right_to_left_break_no_page()
    {
        var endless = new string('W', 300);
        const string Hebrew = "דוד כהן";
        var request = SamplePlan.Whole with
        {
            ClientName = endless,
            VanName = Hebrew,
            OptionName = endless,
            Wishes = SamplePlan.Whole.Wishes! with { MustHaves = [.. Enumerable.Repeat(endless, 50)], Looks = Hebrew },
            Decisions = [new PlanDecision(endless, endless, endless, endless)],
            Declined = [new PlanDeclined(null, endless, endless, Hebrew)],
        };
        using var pdf = PdfDocument.Open(PlanPdf.Write(PlanComposer.Compose(request)).Bytes);
        foreach (var page in pdf.GetPages())
        {
            // The card's half sheet has narrower margins.
            var margin = page.Height < 500 ? 29.5 : 56;
            Assert.All(page.Letters.Where(letter => letter.Value.Trim().Length > 0), letter =>
            {
                Assert.InRange(letter.BoundingBox.Right, margin, page.Width - margin + 0.7);
                Assert.InRange(letter.StartBaseLine.Y, 14, page.Height - 25);
            });
        }
    }

    [Fact]
    public void No_heading_stands_last_on_a_page()
    {
        using var pdf = PdfDocument.Open(PlanPdf.Write(Plan).Bytes);
        var headings = Plan.Sections.Select(section => Squash(section.Heading)).ToHashSet();
        foreach (var page in pdf.GetPages())
        {
            var last = page.Letters.Where(letter => letter.StartBaseLine.Y is > 45 and < 790).GroupBy(letter => Math.Round(letter.StartBaseLine.Y)).MinBy(line => line.Key)!;
            Assert.DoesNotContain(Squash(string.Concat(last.Select(letter => letter.Value))), headings);
        }
    }

    [Fact]
    public void No_text_of_it_calls_anything_safe_and_what_is_private_cannot_get_in()
    {
        var texts = SamplePlan.TextsOf(Plan.Sections).ToList();
        Assert.All(texts, text => Assert.DoesNotMatch("(?i)\\bsafe(ly|r|st)?\\b", text));
        Assert.All(texts, text => Assert.DoesNotContain("  ", text, StringComparison.Ordinal));

        // A request has no member for a note: a marker in the wishes gets in, so that this check can fail.
        var marked = PlanSnapshotJson.Write(PlanComposer.Compose(SamplePlan.Whole with { Wishes = SamplePlan.Whole.Wishes! with { Looks = Marker } }));
        Assert.Contains(Marker, marked, StringComparison.Ordinal);
        Assert.DoesNotContain(typeof(PlanRequest).GetProperties(), property => property.Name.Contains("Note", StringComparison.OrdinalIgnoreCase));
    }

    // A picture of two pixels, written by hand after the PNG specification (ISO/IEC 15948): signature, IHDR, IDAT, IEND.
    private static byte[] Png => Convert.FromBase64String("iVBORw0KGgoAAAANSUhEUgAAAAIAAAABCAIAAAB7QOjdAAAAD0lEQVR4nGOQjwr6dNAPAAhxAs0i4ZXFAAAAAElFTkSuQmCC");

    private static PlanSection Section(string id) => Plan.Sections.Single(section => section.Id == id);

    private static T Block<T>(string section)
        where T : PlanBlock => Section(section).Blocks.OfType<T>().First();

    private static string Squash(string text) => string.Concat(text.Where(character => !char.IsWhiteSpace(character) && character != '\u00A0'));
}
