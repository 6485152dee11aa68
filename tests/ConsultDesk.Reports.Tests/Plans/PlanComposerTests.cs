using System.Text.RegularExpressions;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Reports.Units;
using Xunit;

namespace ConsultDesk.Reports.Tests.Plans;

public sealed partial class PlanComposerTests
{
    public static TheoryData<string, Layout> Vans => new()
    {
        { "compact-low", Layout.FrontLounge },
        { "medium-medium", Layout.RearPlatformBed },
        { "long-high", Layout.FixedBedAcross },
        { "extra-long-high", Layout.RearPlatformBed },
    };

    [Fact]
    public void The_sections_stand_in_the_order_a_client_needs_them()
    {
        string[] ids =
        [
            "act-first", "told-and-wanted", "to-do", "main-numbers", "your-van", "air", "damp", "heat", "walls-roof-floor", "options-compared",
            "care", "still-fogs", "cut-sheet", "order-of-build", "how-sure", "assumed", "sources", "terms", "cautions", "words",
        ];
        Assert.Equal(ids, SamplePlan.Plan.Sections.Select(section => section.Id));
        Assert.Equal(ids.Except(["options-compared"]), PlanComposer.Compose(SamplePlan.Request).Sections.Select(section => section.Id));
    }

    [Fact]
    public void The_first_page_gives_the_dangers_then_the_things_to_do_and_the_numbers_follow()
    {
        var blocks = SamplePlan.Plan.Sections.SelectMany(section => section.Blocks).ToList();
        var numbers = blocks.OfType<NumbersBlock>().First().Numbers;
        Assert.Contains(new PlanNumber("Outdoor air by night", "327\u00A0m³/h"), numbers);
        Assert.Contains(new PlanNumber("Outdoor air for each sleeper", "164\u00A0m³/h"), numbers);
        Assert.Contains(new PlanNumber("Water condensed in the night", "186\u00A0g"), numbers);
        Assert.Contains(new PlanNumber("Relative humidity at the bed", "53\u00A0%"), numbers);
        Assert.Contains(new PlanNumber("Heat needed on the coldest night", "3370\u00A0W"), numbers);
        Assert.Contains(new PlanNumber("Fuel for the night", "1.9\u00A0L"), numbers);

        var danger = Assert.Single(Assert.Single(blocks.OfType<DangerBlock>()).Dangers);
        Assert.Equal((Severity.Danger, "The gas hob burns the cabin’s air"), (danger.Severity, danger.Title));
        Assert.Equal([new PlanNumber("Carbon dioxide while cooking", "1420\u00A0ppm")], danger.Numbers);

        var things = Assert.Single(blocks.OfType<ThingsBlock>());
        Assert.True(blocks.IndexOf(blocks.OfType<DangerBlock>().Single()) < blocks.IndexOf(things));
        Assert.True(blocks.IndexOf(things) < blocks.IndexOf(blocks.OfType<NumbersBlock>().First()));
        Assert.Equal(3, things.Things.Length);
        Assert.Equal("The windscreen is wet every morning.", things.Things[0].Why);
        Assert.All(things.Things, thing => Assert.Equal("not priced", thing.Price));
    }

    [Theory]
    [MemberData(nameof(Vans))]
    public void At_most_five_things_are_to_be_done_first_and_each_says_who_does_it(string bodyClass, Layout layout)
    {
        var blocks = SamplePlan.Of(Presets.Build(bodyClass, layout), DisplayUnits.Metric).Sections.TakeWhile(section => section.Id != PlanComposer.Numbers).SelectMany(section => section.Blocks).ToList();
        var dangers = SamplePlan.FindingsOf(blocks).ToList();
        var things = blocks.OfType<ThingsBlock>().SelectMany(list => list.Things).ToList();
        Assert.InRange(dangers.Count + things.Count, 1, 5);
        Assert.All(things, thing => Assert.NotEmpty(thing.Who));
        Assert.All(dangers, danger => Assert.Contains("Who does it: ", danger.Remedy, StringComparison.Ordinal));
        Assert.All(dangers, danger => Assert.Equal(Severity.Danger, danger.Severity));
    }

    [Theory]
    [MemberData(nameof(Vans))]
    public void Every_finding_stands_once_in_full_with_its_numbers(string bodyClass, Layout layout)
    {
        var design = Presets.Build(bodyClass, layout);
        var assessment = Calculations.Simulation.Assessor.Assess(design, TestContext.Current.CancellationToken);
        var plan = PlanComposer.Compose(SamplePlan.Request with { Design = design, Assessment = assessment });
        var blocks = SamplePlan.FindingsOf(plan.Sections.SelectMany(section => section.Blocks)).ToList();
        Assert.NotEmpty(assessment.Findings);
        foreach (var finding in assessment.Findings)
        {
            var block = Assert.Single(blocks, block => block.Title == finding.Title && block.Text == finding.Explanation);
            Assert.Equal(finding.Severity, block.Severity);
            Assert.Equal(finding.Evidence.Select(evidence => DisplayUnits.Metric.Format(evidence.Value)), block.Numbers.Select(number => number.Value));
        }
    }

    [Theory]
    [MemberData(nameof(Vans))]
    public void No_plan_calls_anything_safe_or_speaks_of_buttons(string bodyClass, Layout layout)
    {
        var texts = SamplePlan.TextsOf(SamplePlan.Of(Presets.Build(bodyClass, layout), DisplayUnits.Metric).Sections).ToList();
        Assert.True(texts.Count > 100);
        Assert.All(texts, text => Assert.DoesNotMatch(SafeWord(), text));
        Assert.All(texts, text => Assert.DoesNotContain("The copy ", text, StringComparison.Ordinal));
        Assert.All(texts, text => Assert.DoesNotContain("  ", text, StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Vans))]
    public void An_imperial_plan_shows_no_metric_units_but_in_the_table_of_assumed_values(string bodyClass, Layout layout)
    {
        var plan = SamplePlan.Of(Presets.Build(bodyClass, layout), DisplayUnits.Imperial);
        var texts = SamplePlan.TextsOf(plan.Sections.Where(section => section.Id is not ("assumed" or "sources"))).ToList();
        foreach (var unit in new[] { "m³/h", "\u00A0°C", "\u00A0mm", "\u00A0W\u00A0", "W/(m²·K)", "\u00A0cm²" })
        {
            Assert.All(texts, text => Assert.DoesNotContain(unit, text, StringComparison.Ordinal));
        }

        Assert.Contains(texts, text => text.Contains("cfm", StringComparison.Ordinal));
    }

    [Fact]
    public void A_room_sealed_heater_is_said_to_add_no_water_and_remove_none()
    {
        var damp = SamplePlan.Plan.Sections.Single(section => section.Id == PlanComposer.Damp);
        Assert.Contains(SamplePlan.TextsOf([damp]), text => text.Contains("adds no water and lowers the relative humidity", StringComparison.Ordinal)
            && text.Contains("it removes no water", StringComparison.Ordinal));

        var electric = SampleDesign.Design with { Heater = SampleDesign.Design.Heater with { Kind = HeaterKind.Electric } };
        var plan = PlanComposer.Compose(SamplePlan.Request with { Design = electric });
        Assert.DoesNotContain(SamplePlan.TextsOf(plan.Sections), text => text.Contains("room-sealed heater adds no water", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("Carbon monoxide")]
    [InlineData("Oxygen")]
    [InlineData("Gas")]
    [InlineData("Fire")]
    [InlineData("Wiring")]
    [InlineData("Cutting")]
    [InlineData("Mould")]
    public void Every_plan_ends_with_its_cautions(string subject)
    {
        var cautions = SamplePlan.Plan.Sections.Last(section => section.Sheet == PlanSheet.Plan);
        Assert.Equal("cautions", cautions.Id);
        Assert.Single(cautions.Blocks.OfType<FindingBlock>(), block => block.Title.StartsWith(subject, StringComparison.Ordinal));
        var first = Assert.IsType<ParagraphBlock>(cautions.Blocks.First(block => block is ParagraphBlock));
        Assert.Contains("Local codes, the maker’s instructions and the licensed trades", first.Text, StringComparison.Ordinal);
        Assert.Contains("not a certificate", first.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_options_are_compared_number_by_number()
    {
        var section = SamplePlan.Plan.Sections.Single(section => section.Id == PlanComposer.Compared);
        var table = Assert.Single(section.Blocks.OfType<TableBlock>()).Table;
        Assert.Equal(["What", "B, second vent at the bed", "A, as it is"], table.Heads);
        Assert.Contains(table.Rows, row => row.SequenceEqual(["Outdoor air by night", "327\u00A0m³/h", "118\u00A0m³/h"]));
        Assert.Contains(table.Rows, row => row.SequenceEqual(["Findings: warning", "2", "0"]));
        Assert.Contains(section.Blocks.OfType<ListBlock>(), list => list.Items.Contains("Roof fan: 10 % instead of 30 %"));
    }

    [Fact]
    public void A_shut_van_nobody_sleeps_in_has_a_plan()
    {
        var design = SampleDesign.Design with
        {
            Openings = [],
            Household = SampleDesign.Design.Household with { Sleepers = 0, CookingFuel = CookingFuel.None },
            Heater = SampleDesign.Design.Heater with { Kind = HeaterKind.None },
        };
        var plan = SamplePlan.Of(design, DisplayUnits.Metric);
        var texts = SamplePlan.TextsOf(plan.Sections).ToList();
        Assert.Contains(texts, text => text.Contains("nobody asleep in the van and no heater", StringComparison.Ordinal));
        Assert.DoesNotContain(texts, text => text.Contains("for each sleeper", StringComparison.Ordinal));
    }

    [Fact]
    public void What_was_assumed_goes_by_the_habit_and_the_shelter_of_this_van()
    {
        var design = SamplePlan.Request.Design;
        var heavy = Assumed(design with
        {
            Household = design.Household with { CookingHabit = CookingHabit.Heavy },
            Stop = design.Stop with { Shelter = Shelter.Exposed },
        });
        Assert.Contains(heavy, what => what.StartsWith("Water from heavy cooking", StringComparison.Ordinal));
        Assert.Contains(heavy, what => what.Contains("open coast", StringComparison.Ordinal));
        Assert.DoesNotContain(heavy, what => what.Contains("one cooked meal", StringComparison.Ordinal) || what.Contains("camp site", StringComparison.Ordinal));

        Assert.DoesNotContain(
            Assumed(design with { Household = design.Household with { CookingFuel = CookingFuel.None } }),
            what => what.Contains("cooking", StringComparison.Ordinal));

        static string[] Assumed(Design design) => [.. PlanComposer.Compose(SamplePlan.Request with { Design = design })
            .Sections.Single(section => section.Id == PlanComposer.Assumed).Blocks.OfType<TableBlock>()
            .Single(block => block.Table.Caption == "Assumed values").Table.Rows.Select(row => row[0])];
    }

    [Fact]
    public void Water_that_wets_only_linings_is_not_passed_over_on_the_first_page()
    {
        var assessment = SamplePlan.Request.Assessment;
        var dryGlass = assessment with { Surfaces = [.. assessment.Surfaces.Select(surface => surface with { CondensedPerNight = UnitsNet.Mass.Zero })] };

        Assert.Contains("186\u00A0g of water condenses on linings and as mist", FirstPage(dryGlass), StringComparison.Ordinal);
        Assert.Contains("g of water condenses in the van; of all glass and metal", FirstPage(assessment), StringComparison.Ordinal);

        static string FirstPage(ConsultDesk.Calculations.Simulation.Assessment assessment) => string.Join(" ", PlanComposer
            .Compose(SamplePlan.Request with { Assessment = assessment }).Sections[0].Blocks.OfType<ParagraphBlock>().Select(block => block.Text));
    }

    [Fact]
    public void A_local_time_or_a_revision_of_zero_is_refused()
    {
        var local = DateTime.SpecifyKind(SamplePlan.Request.PublishedAt, DateTimeKind.Local);
        Assert.Throws<ArgumentException>(() => PlanComposer.Compose(SamplePlan.Request with { PublishedAt = local }));
        Assert.Throws<ArgumentException>(() => PlanComposer.Compose(SamplePlan.Request with { Revision = 0 }));
    }

    [GeneratedRegex(@"\bsafe(ly|r|st)?\b", RegexOptions.IgnoreCase)]
    private static partial Regex SafeWord();
}
