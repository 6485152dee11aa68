using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using ConsultDesk.Records;
using ConsultDesk.Reports.Plans;

namespace ConsultDesk.Web.AfterBuild;

/// <summary>One thing the plan foretold beside what is reported.</summary>
/// <param name="Subject">What it is about.</param>
/// <param name="Foretold">What the plan says, as it says it.</param>
/// <param name="Reported">What was reported.</param>
public sealed record ComparedAnswer(string Subject, string Foretold, string Reported);

/// <summary>
/// Sets a report against the plan as it was published: its own numbers, nothing calculated again. One winter proves no number
/// wrong, so it says what to look at and not who was right.
/// </summary>
public sealed partial record WinterComparison(ImmutableArray<ComparedAnswer> Answers, ImmutableArray<string> CheckNext)
{
    /// <summary>What stands where a plan has no such number.</summary>
    public const string NotInPlan = "not in this plan";

    /// <summary>What could lie between any report and any plan.</summary>
    public const string Caution = "One report is one winter: habits, what leaks, the weather and what was built otherwise than planned all lie between the two. The plan’s wet mornings are of its whole year, the reported ones of cold mornings only.";

    /// <summary>How far above what was foretold, of ten mornings, a report asks for a look (our judgement).</summary>
    private const double ManyMornings = 3;

    /// <summary>Compares.</summary>
    public static WinterComparison Of(PlanSnapshot plan, CheckBackAnswers told)
    {
        // The headline was a block of the first section before it was kept apart.
        var numbers = plan.Headline.IsEmpty
            ? [.. plan.Sections.SelectMany(section => section.Blocks).OfType<NumbersBlock>().SelectMany(block => block.Numbers)]
            : plan.Headline;
        string Foretold(string label) => numbers.FirstOrDefault(number => number.Label == label)?.Value ?? NotInPlan;
        var fuel = string.Join("; ", new[] { "Fuel for the night", "Fuel in the year", "Electricity for heat" }
            .Select(label => (Label: label, Value: Foretold(label))).Where(number => number.Value != NotInPlan).Select(number => $"{Lower(number.Label)}: {number.Value}"));
        var answers = ImmutableArray.CreateBuilder<ComparedAnswer>();
        if (told.WetMornings is { } wet)
        {
            answers.Add(new("Wet mornings", Foretold("Wet mornings in the year"), string.Create(CultureInfo.InvariantCulture, $"{wet} of the last 10 cold ones")));
        }

        if (told.Fuel is { } amount)
        {
            answers.Add(new("Fuel", fuel.Length > 0 ? fuel : NotInPlan, string.Create(CultureInfo.InvariantCulture, $"{amount:0.###} {WinterReport.Of(told.FuelUnit)} a {(told.FuelAWeek ? "week" : "day")}")));
        }

        if (told.Warmth is { } warmth)
        {
            var cold = Foretold("Hours too cold for the heater");
            answers.Add(new("Warm enough", cold == NotInPlan ? cold : $"hours too cold for the heater in the year: {cold}", WinterReport.Of(warmth)));
        }

        if (told.Mould is { } mould)
        {
            answers.Add(new("Mould", NotInPlan, YesNo(mould, told.Where)));
        }

        if (told.Rust is { } rust)
        {
            answers.Add(new("Rust", NotInPlan, YesNo(rust, told.Where)));
        }

        if (told.Fog is { } fog)
        {
            answers.Add(new("Fogs up while cooking", NotInPlan, WinterReport.Of(fog)));
        }

        return new(answers.ToImmutable(), [.. Next(told, Foretold("Wet mornings in the year"))]);
    }

    private static IEnumerable<string> Next(CheckBackAnswers told, string foretold)
    {
        if (told.WetMornings is { } wet && MorningsOf().Match(foretold) is { Success: true } match
            && double.Parse(match.Groups[2].Value, CultureInfo.InvariantCulture) is > 0 and var nights)
        {
            var expected = 10 * double.Parse(match.Groups[1].Value, CultureInfo.InvariantCulture) / nights;
            if (wet >= expected + ManyMornings)
            {
                yield return "More wet mornings than the plan’s year has on average; cold mornings are its worst. Ask which openings stood how at night, what was cooked when, and whether wet things dried inside.";
                yield return "Hygrometer at the bed and one cold glass for a week, with a note of every setting.";
            }
            else if (wet <= expected - ManyMornings)
            {
                yield return "Fewer wet mornings than the plan’s year has on average. Ask what they do otherwise: it may be worth keeping.";
            }
        }

        if (told.Warmth == ReportedWarmth.OftenNot)
        {
            yield return "Heater: does it reach its setting, does it cycle, at which altitude were they, what stands before its outlet? Draughts at doors and floor. Never a flame to help out.";
        }

        if (told.Mould == true)
        {
            yield return "Mould: where exactly, how large, which layers lie behind. It harms people with asthma first: gloves, mask and air while it is removed; large areas are work for a specialist.";
        }

        if (told.Rust == true)
        {
            yield return "Rust: open the lining there before more is built on it, dry, treat and coat, and find where the water comes from.";
        }

        if (told.Fog == ReportedFog.EveryTime)
        {
            yield return "Cooking: is the fan above the cooker on before the water boils, is there an inlet open, are lids on?";
        }

        if (told.Fuel is not null)
        {
            yield return "Fuel: of how many nights, at which temperatures and settings? A day’s use in deep frost says nothing about a year.";
        }
    }

    private static string YesNo(bool yes, string where) => yes ? where.Length > 0 ? $"yes: {where}" : "yes" : "no";

    private static string Lower(string text) => char.ToLowerInvariant(text[0]) + text[1..];

    [GeneratedRegex(@"^(\d+) of (\d+)$")]
    private static partial Regex MorningsOf();
}
