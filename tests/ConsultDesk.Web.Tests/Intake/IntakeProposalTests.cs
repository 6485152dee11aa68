using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Intake;
using Xunit;
using Origin = ConsultDesk.Calculations.Vehicle.Origin;

namespace ConsultDesk.Web.Tests.Intake;

/// <summary>Answers of a client as changes a consultant may take over.</summary>
public sealed class IntakeProposalTests
{
    private static readonly Design Van = Presets.Build("long-high", Layout.RearPlatformBed);

    [Fact]
    public void Facts_of_van_and_people_change_the_design_and_are_marked_told_or_measured()
    {
        var design = Take(new()
        {
            ["sizes-in"] = "cm",
            ["length"] = "540",
            ["height"] = "190,5",
            ["measured"] = "measured",
            ["steel"] = "light-rust",
            ["sleepers"] = "3",
            ["cooking-fuel"] = "electric",
            ["dries-clothes"] = "yes",
            ["showers"] = "1",
            ["registered"] = "NO",
        });

        Assert.Equal(5.4, design.Body.InteriorLength.Meters, 9);
        Assert.Equal(1.905, design.Body.InteriorHeight.Meters, 9);
        Assert.Equal(Van.Body.InteriorWidth, design.Body.InteriorWidth);
        Assert.Equal((3, CookingFuel.Electric, true, 1), (design.Household.Sleepers, design.Household.CookingFuel, design.Household.DriesClothes, design.Household.ShowersPerDay));
        Assert.Equal((SteelCondition.LightRust, "NO"), (design.Equipment.Steel, design.Country));
        Assert.Equal(Origin.Measured, Origins.Of(design, "body.interiorLengthM"));
        Assert.Equal(Origin.Told, Origins.Of(design, "household.sleepers"));
        Assert.Equal(Origin.Assumed, Origins.Of(design, "household.animals"));
        Assert.Empty(DesignCheck.Errors(design));
    }

    [Fact]
    public void An_answer_that_says_what_was_assumed_is_told_then()
    {
        var proposal = Assert.Single(Of(new() { ["sleepers"] = Van.Household.Sleepers.ToString(System.Globalization.CultureInfo.InvariantCulture) }));
        Assert.True(proposal.SameAsNow);

        var design = IntakeProposals.Taken(Van, [proposal]);

        Assert.Equal(Origin.Told, Origins.Of(design, "household.sleepers"));
    }

    [Fact]
    public void A_budget_that_can_mean_two_amounts_is_not_taken_over_and_takes_nothing_away()
    {
        var proposal = Assert.Single(Of(new() { ["budget-now"] = "1,500" }));

        Assert.False(proposal.CanBeTaken);
        Assert.Equal("1,500", proposal.Answer);
        Assert.StartsWith("“1,500” can mean 1500 or 1.5.", proposal.Why, StringComparison.Ordinal);
    }

    [Fact]
    public void Stays_that_cover_the_year_once_become_the_itinerary()
    {
        var design = Take(new()
        {
            ["stay-1.place"] = "invernéss, united kingdom",
            ["stay-1.from"] = "11",
            ["stay-1.to"] = "3",
            ["stay-1.shelter"] = "exposed",
            ["stay-2.place"] = "Seattle, United States",
            ["stay-2.from"] = "4",
            ["stay-2.to"] = "10",
        });

        Assert.Equal(
            [("inverness", new MonthDay(11, 1), new MonthDay(3, 31), Shelter.Exposed), ("seattle", new MonthDay(4, 1), new MonthDay(10, 31), Shelter.Ordinary)],
            design.Itinerary.Select(stay => (stay.PlaceKey, stay.From, stay.To, stay.Shelter)));
        Assert.Empty(DesignCheck.Errors(design));
    }

    [Theory]
    [InlineData("inverness", "11", "2", "No stay in March.")]
    [InlineData("inverness", "11", "4", "Two stays in April.")]
    [InlineData("Narnia", "11", "3", "No place of the climate table")]
    public void Stays_with_a_gap_an_overlap_or_an_unknown_place_are_left_to_the_consultant_with_the_reason(string place, string from, string to, string why)
    {
        var proposal = Assert.Single(Of(new()
        {
            ["stay-1.place"] = place,
            ["stay-1.from"] = from,
            ["stay-1.to"] = to,
            ["stay-2.place"] = "Seattle, United States",
            ["stay-2.from"] = "4",
            ["stay-2.to"] = "10",
        }));

        Assert.False(proposal.CanBeTaken);
        Assert.Contains(why, proposal.Why, StringComparison.Ordinal);
    }

    [Fact]
    public void A_part_that_is_there_marks_the_proposed_one_of_its_kind_with_its_size()
    {
        var design = Take(new()
        {
            ["part-sizes-in"] = "mm",
            ["part-1.what"] = "roof-vent",
            ["part-1.state"] = "fitted",
            ["part-1.length"] = "280",
            ["part-1.width"] = "280",
            ["part-2.what"] = "roof-vent",
            ["part-2.state"] = "owned",
        });

        var vent = Openings.Find(design, Presets.RoofFanId)!;
        Assert.Equal((PartState.Fitted, 0.28, 0.28), (vent.State, vent.Length.Meters, vent.Width.Meters));
        Assert.Equal(Van.Openings.Length, design.Openings.Length);
    }

    [Fact]
    public void Wishes_are_taken_over_in_the_clients_order_and_words()
    {
        var wishes = Of(new()
        {
            ["budget-now"] = "1 500",
            ["must-haves"] = "A quiet fan\n\nRoom for the dog",
            ["wont-haves"] = "second-roof-hole gas",
            ["order-dry"] = "2",
            ["order-cheap"] = "1",
        }).Aggregate(new Wishes(), (all, proposal) => proposal.Wish!(all));

        Assert.Equal(1500, wishes.BudgetNow);
        Assert.Equal(["A quiet fan", "Room for the dog"], wishes.MustHaves);
        Assert.Equal([WontHave.SecondRoofHole, WontHave.Gas], wishes.WontHaves);
        Assert.Equal([Priority.Cheap, Priority.Dry], wishes.Order);
        Assert.Empty(WishesBook.Errors(wishes));
    }

    [Fact]
    public void What_no_field_takes_and_what_is_wrong_stays_in_the_clients_words()
    {
        var all = Of(new() { ["bothers"] = "A smell", ["sleepers"] = "many", ["builder"] = "self friend" });

        Assert.Equal([("sleepers", "many"), ("builder", "Myself, A friend with practice"), ("bothers", "A smell")], all.Select(proposal => (proposal.Key, proposal.Answer)));
        Assert.All(all, proposal => Assert.False(proposal.CanBeTaken));
        Assert.StartsWith("Expected a whole number", all[0].Why, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_question_has_its_own_key_and_every_choice_can_be_taken_over()
    {
        var keys = Questionnaire.Steps.SelectMany(step => step.Questions(IntakeAnswers.None)).Select(question => question.Key).ToList();
        Assert.Equal(keys.Count, keys.Distinct().Count());
        foreach (var step in Questionnaire.Steps)
        {
            foreach (var question in step.Questions(IntakeAnswers.None))
            {
                foreach (var (value, text) in question.Options)
                {
                    Dictionary<string, string> answers = new() { [question.Key] = value };
                    Assert.NotEmpty(text);
                    Assert.Empty(Questionnaire.Errors(step, answers));
                    Assert.Empty(DesignCheck.Errors(IntakeProposals.Taken(Van, Of(answers))));
                }
            }
        }
    }

    private static IReadOnlyList<Proposal> Of(Dictionary<string, string> answers) => IntakeProposals.Of(answers, Van, new Wishes(), DisplayUnits.Metric, "EUR");

    private static Design Take(Dictionary<string, string> answers) => IntakeProposals.Taken(Van, Of(answers));
}
