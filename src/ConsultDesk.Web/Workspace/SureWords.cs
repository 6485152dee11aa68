using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Unknowns;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Web.Workspace;

/// <summary>How sure what is on the screen is, as far as it is known: what was sampled of these very inputs, or that it is still to come.</summary>
/// <param name="Sure">The samples; null while there are none of these inputs.</param>
/// <param name="Waits">They are waited for: their lines are kept free, so that nothing jumps when they come.</param>
public readonly record struct SureShown(Sureness? Sure, bool Waits)
{
    /// <summary>What is known of a result.</summary>
    /// <param name="runner">Where it comes from.</param>
    /// <param name="revision">The edit the result on the screen belongs to.</param>
    public static SureShown Of(AssessmentRunner runner, long revision)
    {
        ArgumentNullException.ThrowIfNull(runner);
        return runner.LatestBands is { } bands && bands.Revision == revision && bands.Assessment.Sure is { } sure
            ? new SureShown(sure, false)
            : new SureShown(null, runner.IsRunning && runner.Deepest == AssessmentDepth.Bands);
    }
}

/// <summary>How sure something is, in words.</summary>
public static class SureWords
{
    /// <summary>What stands where a band or a share will stand.</summary>
    public const string Waits = "…";

    private const string EightOfTen = "in eight of ten";

    /// <summary>Where a number lies in eight of ten samples.</summary>
    public static string Of(SureNumber sure, Headline number, DisplayUnits units)
    {
        ArgumentNullException.ThrowIfNull(sure);
        string Text(IQuantity value) => Headlines.Text(number, Whole(value), units);
        return (Text(sure.Low), Text(sure.Likely), Text(sure.High)) switch
        {
            var (low, likely, high) when low == high => low == likely ? "hardly moves" : $"{low} {EightOfTen}",
            var (low, _, high) => $"{low} to {high} {EightOfTen}",
        };
    }

    /// <summary>The same without units, where the number with its unit stands beside it and there is little room.</summary>
    public static string Ends(SureNumber sure, Headline number, DisplayUnits units)
    {
        ArgumentNullException.ThrowIfNull(sure);
        ArgumentNullException.ThrowIfNull(units);
        var (low, high) = (units.Number(number.Measure, sure.Low), units.Number(number.Measure, sure.High));
        return low == high ? low : $"{low} to {high}";
    }

    /// <summary>In how many samples a finding holds, and what it turns most on.</summary>
    public static string Of(SureFinding finding)
    {
        ArgumentNullException.ThrowIfNull(finding);
        var holds = finding.Holds == finding.Of ? $"Holds in all {finding.Of} samples" : $"Holds in {finding.Holds} of {finding.Of} samples";
        return finding.TurnsMostBy.Length == 0 ? holds : $"{holds}; turns most on {finding.TurnsMostBy}";
    }

    /// <summary>Between which shares a finding would hold were there samples without end, in hundredths.</summary>
    public static string Share(SureFinding finding)
    {
        ArgumentNullException.ThrowIfNull(finding);
        return FormattableString.Invariant($"{100 * finding.Least:0} to {100 * finding.Most:0} of 100");
    }

    /// <summary>What was varied and what was not, in plain sentences.</summary>
    public static string Varied(Sureness sure)
    {
        ArgumentNullException.ThrowIfNull(sure);
        return $"{sure.Samples} vans like this one, each with leaks, wind, habits, materials and assumed values somewhere else in their ranges, all at once: a band is where eight of ten of them lie. "
            + "Not varied: the weather of the year, what was measured, and what one only has to ask, as alarms and gas.";
    }

    /// <summary>What the samples rest on, in plain sentences.</summary>
    public static string Basis(Sureness sure)
    {
        ArgumentNullException.ThrowIfNull(sure);
        return (sure.MadeYear ? "What condenses in the year also carries how far a real year differs from one made of monthly means. " : "")
            + "The ranges are mostly our judgement, so a share is a hint.";
    }

    /// <summary>How many samples could not be calculated, and why; null when all could.</summary>
    public static string? NotCalculated(Sureness sure)
    {
        ArgumentNullException.ThrowIfNull(sure);
        return sure.NotCalculated.IsEmpty
            ? null
            : $"{sure.NotCalculated.Length} of {sure.Samples} could not be calculated and are not counted: {string.Join(" ", sure.NotCalculated.Distinct().Take(2))}";
    }

    // Mornings, nights and hours are counted; the ends of a band are not.
    private static IQuantity Whole(IQuantity value) => value is Scalar count ? Scalar.FromAmount(Math.Round(count.Amount, MidpointRounding.AwayFromZero)) : value;
}
