using System.Globalization;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using ConsultDesk.Testing;
using ConsultDesk.Web.Intake;
using ConsultDesk.Web.Workspace;
using Xunit;

namespace ConsultDesk.Web.Tests.Intake;

/// <summary>
/// Forms as no client fills them in, and months as no spreadsheet gives them: each answer is found right or wrong, and what can be
/// taken over gives a design that can be judged. DAMAGED_FORMS in the environment sets how many (20,000); the seed is fixed.
/// </summary>
public sealed class DamagedFormTests(ITestOutputHelper output)
{
    private const int Seed = 20_261_210;

    private static readonly int Count = int.Parse(Environment.GetEnvironmentVariable("DAMAGED_FORMS") ?? "20000", CultureInfo.InvariantCulture);

    private static readonly string[] Pieces =
    [
        "0", "1", "2", "12", "13", "540", "190,5", "1,500", "1.500,00", "99999999999999999999999", "-3", "−3", "1e9", "1e999", "NaN", "3/4", "5 ft 6 in", ".", ",", " ", "\n", "\t", ";", "%", "°C", "cm", "mm", "in", "m",
        "yes", "no", "measured", "fitted", "owned", "heater", "roof-fan", "Kiruna", "Seattle", "floor-hole added-window", "steady", "\u0000", "\uD834", "𝄞", "שלום", "=1+1", "<b>", new string('x', 5000), "January\t3,2\t86\n", "-3.5;90\n", "4 88\n",
    ];

    // What the forms once found: a unit nobody offered was no error of the field but a crash.
    [Fact]
    public void A_size_in_a_unit_there_is_not_is_asked_back() => Assert.Equal(
        "Choose the unit of your numbers above.",
        Questionnaire.Errors(Questionnaire.StepOf("van")!, new Dictionary<string, string> { ["sizes-in"] = "parsec", ["length"] = "540" })["length"]);

    [Fact]
    public void A_form_filled_in_anyhow_is_judged_and_what_can_be_taken_over_is_a_design()
    {
        var wounds = new Wounds(Seed);
        var van = Presets.Build("long-high", Layout.RearPlatformBed);
        var choices = Questionnaire.Steps.SelectMany(step => step.Items.OfType<Question>().Concat(step.Items.OfType<Rows>().SelectMany(rows => rows.Questions))).SelectMany(question => question.Options.Select(option => option.Value)).Distinct().ToList();
        var keys = Questionnaire.Steps.SelectMany(step => step.Items.SelectMany(item => item switch
        {
            Question question => [question.Key],
            Rows rows => Enumerable.Range(1, rows.Most).SelectMany(row => rows.Of(row)).Select(question => question.Key),
            _ => Enumerable.Empty<string>(),
        })).ToList();
        var (wrong, taken) = (0, 0);
        for (var i = 0; i < Count; i++)
        {
            Dictionary<string, string> answers = [];
            for (var count = wounds.Below(12); count >= 0; count--)
            {
                answers[wounds.Below(50) == 0 ? wounds.One(Pieces) : wounds.One(keys)] = wounds.Below(3) == 0 ? wounds.One(choices) : wounds.Soup(Pieces, 3);
            }

            try
            {
                var errors = Questionnaire.Steps.Sum(step => Questionnaire.Errors(step, answers).Count);
                wrong += errors > 0 ? 1 : 0;
                foreach (var proposal in IntakeProposals.Of(answers, van, new Wishes(), wounds.Below(2) == 0 ? DisplayUnits.Metric : DisplayUnits.Imperial, "EUR"))
                {
                    if (proposal.Change is not null)
                    {
                        taken++;
                        // Judged, not necessarily right: a country can be one nobody has prices for.
                        _ = DesignCheck.Errors(IntakeProposals.Taken(van, [proposal]));
                    }

                    _ = proposal.Wish?.Invoke(new Wishes());
                }
            }
            catch (Exception unexpected) when (unexpected is not Xunit.Sdk.IAssertionException)
            {
                Assert.Fail($"Form {i} threw {unexpected}\n{string.Join("\n", answers.Select(answer => $"{answer.Key} = {answer.Value[..Math.Min(200, answer.Value.Length)]}"))}");
            }
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{Count} damaged forms, seed {Seed}: {wrong} with errors named, {taken} answers taken over"));
        Assert.InRange(wrong, 1, Count - 1);
        Assert.True(taken > 0);
    }

    [Fact]
    public void Months_pasted_anyhow_are_twelve_or_refused_month_by_month()
    {
        var wounds = new Wounds(Seed + 1);
        var whole = string.Concat(Enumerable.Range(1, 12).Select(month => string.Create(CultureInfo.InvariantCulture, $"{month - 6.5}\t{90 - month}\n")));
        var read = 0;
        for (var i = 0; i < Count; i++)
        {
            var text = wounds.Below(2) == 0 ? wounds.Text(whole, Pieces) : wounds.Soup(Pieces, 30);
            try
            {
                var reading = MonthsText.Read(text, wounds.Below(2) == 0 ? DisplayUnits.Metric : DisplayUnits.Imperial);
                Assert.True(!reading.Errors.IsEmpty || reading.Months.Length == 12, text);
                read += reading.Errors.IsEmpty ? 1 : 0;
            }
            catch (Exception unexpected) when (unexpected is not Xunit.Sdk.IAssertionException)
            {
                Assert.Fail($"Text {i} threw {unexpected}\n{text}");
            }
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{Count} damaged tables of months, seed {Seed + 1}: {read} read, {Count - read} refused"));
        Assert.InRange(read, 1, Count - 1);
    }
}
