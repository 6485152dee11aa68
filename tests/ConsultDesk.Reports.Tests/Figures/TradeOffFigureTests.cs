using ConsultDesk.Calculations.Search;
using ConsultDesk.Reports.Figures;
using Xunit;

namespace ConsultDesk.Reports.Tests.Figures;

public sealed class TradeOffFigureTests
{
    private static readonly FrontMember Cheap = Member(7, ["A lid left open"], money: 0, wet: 400, chance: 0.9375);
    private static readonly FrontMember Dry = Member(8, ["Roof fan", "Floor vent"], money: 900, wet: 20, chance: null);
    private static readonly ObjectiveNumbers Start = Numbers(0, 1200);

    private static ObjectiveNumbers Numbers(double money, double wet) => new([money, 250, wet, 1.2, 30, 4, 41, 0.38, 2]);

    private static FrontMember Member(int candidate, string[] words, double money, double wet, double? chance) => new()
    {
        Candidate = candidate,
        Words = [.. words],
        Numbers = Numbers(money, wet),
        Ties = [],
        Score = 0,
        ChanceOnFront = chance,
    };

    [Fact]
    public void Less_of_both_lies_further_left_and_lower_and_each_dot_says_what_it_is()
    {
        var figure = TradeOffFigure.Of([Cheap, Dry], [new(Dry, "The dry one", "Dry.", false)], Start, Objective.MoneyNow, Objective.WetHours, "EUR");
        var dots = figure.Elements.OfType<Circle>().ToDictionary(circle => circle.Subject!);
        var stands = Assert.Single(figure.Elements.OfType<Box>());

        Assert.True(dots["design-7"].X < dots["design-8"].X);
        Assert.True(dots["design-7"].Y < dots["design-8"].Y);
        Assert.Equal(dots["design-7"].X, stands.X + (stands.Width / 2), 6);
        Assert.True(stands.Y < dots["design-7"].Y);
        Assert.Equal("Design 1, A lid left open: money to spend now 0\u00A0EUR, wet hours of glass and metal a year 400\u00A0h, hours below the temperature asked for a year 30\u00A0h, hot hours asleep a year 4\u00A0h", dots["design-7"].Hint);
        Assert.Contains(figure.Elements.OfType<Label>(), label => label is { Text: "1", Subject: "design-8" });
        Assert.Contains("1, The dry one: 900\u00A0EUR, 20\u00A0h.", figure.AltText, StringComparison.Ordinal);
    }

    [Fact]
    public void The_table_has_every_number_of_every_design_and_a_chance_no_finer_than_it_is_known()
    {
        var table = TradeOffFigure.Table([Cheap, Dry], [], Start, "EUR", [Objective.MoneyNow, Objective.WetHours, Objective.Power], 16);

        Assert.Equal(["Design", "Money now, EUR", "Wet hours a year", "Current a day, kWh", "Chance to stay"], table.Heads);
        // 15 of 16: the lower limit stands in tables of Clopper and Pearson's limits as 0.736, the upper is 0.95^(1/16).
        Assert.Equal(["As it stands", "0", "1\u00A0200", "0.4", "–"], table.Rows[0]);
        Assert.Equal(["Design 1", "0", "400", "0.4", "94\u00A0% (74\u00A0to\u00A0100)"], table.Rows[1]);
        Assert.Equal("Design 1 (tie\u00A0of\u00A03)", TradeOffFigure.Table([Cheap with { Ties = [3, 4] }], [], Start, "EUR", [Objective.WetHours], 16).Rows[1][0]);
        Assert.Equal(["Design 2", "900", "20", "0.4", "not asked"], table.Rows[2]);
    }
}
