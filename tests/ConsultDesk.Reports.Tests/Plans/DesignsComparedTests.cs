using ConsultDesk.Calculations.Search;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Reports.Units;
using Xunit;

namespace ConsultDesk.Reports.Tests.Plans;

/// <summary>What a search of all designs found, in a plan: nothing is said that is not known.</summary>
public sealed class DesignsComparedTests
{
    private static string Sentence(KeptSearch? kept = null, ObjectiveNumbers? chosen = null, bool priced = true) =>
        new DesignsCompared(kept ?? SampleSearch.Kept, SampleSearch.FoundAt, chosen, priced).Sentence().Replace(DisplayUnits.NoBreakSpace, " ", StringComparison.Ordinal);

    [Fact]
    public void Where_not_every_design_was_calculated_nothing_better_was_found_and_no_more_is_said() => Assert.Equal(
        "Of 8 976 designs looked at, 240 were calculated over a whole year; none was found that costs no more and is drier than the one of this plan.",
        Sentence(chosen: SampleSearch.Front[4].Numbers));

    [Fact]
    public void Where_every_design_was_calculated_there_is_none() => Assert.Equal(
        "240 designs were calculated over a whole year: none costs no more and is drier than the one of this plan.",
        Sentence(SampleSearch.Kept with { Whole = true, Space = SampleSearch.Kept.Space! with { Size = SampleSearch.Kept.Space.Size with { Candidates = 240 } } }, SampleSearch.Front[4].Numbers));

    [Fact]
    public void Designs_that_are_cheaper_and_drier_are_counted_and_what_this_one_has_instead_is_said() => Assert.Equal(
        // Dearer than 0 to 1 000 and wetter than 400 to 600 hours: designs 2, 3 and 4 cost 500, 750 and 1 000 and are wet for 500, 450 and 400 hours.
        "Of 8 976 designs looked at, 240 were calculated over a whole year; 3 of them cost no more and are drier than the one of this plan: the driest costs 1 000 EUR now against 1 100 EUR "
        + "and is wet for 400 h a year against 520 h; this one is ahead in cold hours a year (0 against 44).",
        Sentence(chosen: SampleSearch.Numbers(1100, 520, cold: 0).With(Objective.MoneyAYear, 130).With(Objective.Parts, 3.4)));

    [Fact]
    public void A_drier_one_for_the_same_money_is_told()
    {
        // Of the invented front only the first costs nothing, and it is wet for 600 hours.
        Assert.Contains("; one of them costs no more and is drier", Sentence(chosen: SampleSearch.Numbers(0.2, 900)), StringComparison.Ordinal);
        Assert.Contains("; none was found that costs no more", Sentence(chosen: SampleSearch.Numbers(0.2, 600)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_search_that_did_not_come_to_its_end_says_so() =>
        Assert.Contains(", and the search did not come to its end; none was found", Sentence(SampleSearch.Kept with { Result = SampleSearch.Kept.Result with { End = SearchEnd.Cancelled } }, SampleSearch.Front[4].Numbers), StringComparison.Ordinal);

    [Theory]
    [InlineData(false, 0, "Not every design was calculated over the year, so one that nothing beats may be missing.")]
    [InlineData(true, 124, "Choices much like others were left out before they were combined, so a design that nothing beats may be missing.")]
    [InlineData(true, 0, null)]
    public void That_a_design_may_be_missing_is_said_where_it_may(bool whole, int merged, string? said)
    {
        var kept = SampleSearch.Kept with
        {
            Whole = whole,
            Space = SampleSearch.Kept.Space! with { Removed = merged == 0 ? [] : [new(Calculations.Search.SpaceRule.Get("alike"), merged, 0, [])] },
        };
        var last = Assert.IsType<ParagraphBlock>(new DesignsCompared(kept, SampleSearch.FoundAt, null, priced: true).Blocks().Last()).Text;
        if (said is null)
        {
            Assert.DoesNotContain("missing", last, StringComparison.Ordinal);
        }
        else
        {
            Assert.Contains(said, last, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Without_the_plans_own_numbers_the_drawing_is_said_and_no_place_in_it() =>
        Assert.EndsWith("; the drawing shows those that nothing beats.", Sentence(), StringComparison.Ordinal);

    [Fact]
    public void Without_prices_no_money_is_in_it()
    {
        var blocks = new DesignsCompared(SampleSearch.Kept, SampleSearch.FoundAt, SampleSearch.Front[4].Numbers, priced: false).Blocks().ToList();
        var figure = Assert.Single(blocks.OfType<FigureBlock>()).Figure;

        Assert.Contains("none was found that is no colder and is drier", Assert.IsType<ParagraphBlock>(blocks[0]).Text, StringComparison.Ordinal);
        Assert.DoesNotContain("EUR", PlanText(blocks), StringComparison.Ordinal);
        Assert.DoesNotContain("oney", PlanText(blocks), StringComparison.Ordinal);
        Assert.DoesNotContain("prices", PlanText(blocks), StringComparison.Ordinal);
        Assert.DoesNotContain("EUR", figure.AltText + string.Concat(figure.Elements.OfType<Label>().Select(label => label.Text)), StringComparison.Ordinal);
    }

    [Fact]
    public void The_plans_own_design_is_marked_where_it_lies_and_only_named_designs_are_in_the_table()
    {
        var chosen = SampleSearch.Numbers(1300, 90);
        var figure = Assert.Single(new DesignsCompared(SampleSearch.Kept, SampleSearch.FoundAt, chosen, priced: true).Blocks().OfType<FigureBlock>());
        var ring = Assert.Single(figure.Figure.Elements.OfType<Circle>(), circle => circle.Dashed);
        var without = Assert.Single(new DesignsCompared(SampleSearch.Kept, SampleSearch.FoundAt, null, priced: true).Blocks().OfType<FigureBlock>()).Figure;

        Assert.DoesNotContain(without.Elements.OfType<Circle>(), circle => circle.Dashed);
        // Of what costs 0 to 2 750 and is wet for 50 to 600 hours, 1 300 lies left of the middle and 90 low.
        var dots = figure.Figure.Elements.OfType<Circle>().Where(circle => !circle.Dashed).ToList();
        Assert.Equal(12, dots.Count);
        Assert.InRange(ring.X, dots.Min(dot => dot.X), dots.Max(dot => dot.X));
        Assert.True(dots.Count(dot => dot.Y < ring.Y) == 11, "Eleven designs are wetter than 90 hours and lie above it.");
        Assert.Contains(figure.Figure.Legend, entry => entry.Text == "The design of this plan");
        Assert.Contains("The design of this plan: 1\u00A0300\u00A0EUR, 90\u00A0h.", figure.Figure.AltText, StringComparison.Ordinal);
        Assert.True(figure.WithTable);
        Assert.Equal(["This plan", "As it stood", "1, The even-handed one", "2, The dry one", "3, The thrifty one"], figure.Figure.Table.Rows.Select(row => row[0]));
        Assert.Equal(["Design", "Money now, EUR", "Wet hours a year", "Cold hours a year"], figure.Figure.Table.Heads);
        Assert.All(figure.Figure.Elements, element => Assert.Null(element.Hint));
    }

    [Fact]
    public void A_plan_has_it_when_it_was_asked_for_and_something_was_found_and_is_the_same_to_the_byte_without()
    {
        var with = PlanComposer.Compose(SamplePlan.Whole with { Searched = SampleSearch.Searched });
        var section = with.Sections.Single(section => section.Id == PlanComposer.Searched);
        var without = PlanComposer.Compose(SamplePlan.Whole);

        Assert.Equal(with.Sections.Length, without.Sections.Length + 1);
        Assert.Equal(PlanSheet.Plan, section.Sheet);
        Assert.Contains(section.Blocks.OfType<PairsBlock>().Single().Pairs, pair => pair is { Label: "2, The dry one" } && pair.Value.StartsWith("Choice 1 of design 11; ", StringComparison.Ordinal));
        Assert.Contains("24 November 2026 with the inputs and prices of that day", Assert.IsType<ParagraphBlock>(section.Blocks[^1]).Text, StringComparison.Ordinal);
        Assert.Equal(PlanSnapshotJson.Write(with), PlanSnapshotJson.Write(PlanSnapshotJson.Read(PlanSnapshotJson.Write(with))));

        var empty = SampleSearch.Searched with { Found = SampleSearch.Kept with { Result = SampleSearch.Kept.Result with { Front = [], Named = [] }, Designs = [] } };
        Assert.Equal(PlanSnapshotJson.Write(without), PlanSnapshotJson.Write(PlanComposer.Compose(SamplePlan.Whole with { Searched = empty })));
    }

    private static string PlanText(IEnumerable<PlanBlock> blocks) => PlanSnapshotJson.Write(SamplePlan.Plan with { Sections = [new("x", "y", [.. blocks])], DesignText = "" });
}
