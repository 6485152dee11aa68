using System.Globalization;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Reports.Plans;

/// <summary>Wishes in the words of the plan.</summary>
public static class WishWords
{
    /// <summary>What a client will not have.</summary>
    public static string Of(WontHave wont) => wont switch
    {
        WontHave.SecondRoofHole => "a second hole in the roof",
        WontHave.AddedWindow => "an added window",
        WontHave.VisibleOutside => "anything that shows outside",
        WontHave.Gas => "gas",
        WontHave.FloorHole => "a hole in the floor",
        WontHave.FanAtNight => "a fan that runs by night",
        _ => throw new ArgumentOutOfRangeException(nameof(wont), wont, "Expected something a client may refuse."),
    };

    /// <summary>What a client wants most.</summary>
    public static string Of(Priority priority) => priority switch
    {
        Priority.Dry => "dry",
        Priority.Warm => "warm",
        Priority.Cool => "cool in summer",
        Priority.Cheap => "cheap",
        Priority.Simple => "simple",
        Priority.Looks => "looks",
        _ => throw new ArgumentOutOfRangeException(nameof(priority), priority, "Expected a priority."),
    };

    /// <summary>A wish an option breaks, with what breaks it.</summary>
    public static string Of(BrokenWish broken, string currency) => broken switch
    {
        { Kind: BrokenWishKind.BudgetNow, Over: { } over } => $"the budget for now, by {Money.Rounded(over, currency)}",
        { Kind: BrokenWishKind.BudgetLater, Over: { } over } => $"the budget for later, by {Money.Rounded(over, currency)}",
        { Kind: BrokenWishKind.WontHave, WontHave: { } wont } => $"no {Bare(Of(wont))} ({string.Join(", ", broken.Parts)})",
        { Kind: BrokenWishKind.NoiseAtBed, SoundDba: { } sound } => string.Create(
            CultureInfo.InvariantCulture, $"quiet at the bed ({string.Join(", ", broken.Parts)}: {sound:0}{DisplayUnits.NoBreakSpace}dB(A) at 1{DisplayUnits.NoBreakSpace}m)"),
        _ => throw new ArgumentException($"A broken wish of kind {broken.Kind} without its facts.", nameof(broken)),
    };

    private static string Bare(string wont) => wont.StartsWith("a ", StringComparison.Ordinal) ? wont[2..]
        : wont.StartsWith("an ", StringComparison.Ordinal) ? wont[3..]
        : wont.StartsWith("anything", StringComparison.Ordinal) ? "sign" + wont["anything".Length..] : wont;

    /// <summary>The wishes as pairs of label and words; empty when nothing was said.</summary>
    public static IEnumerable<PlanNumber> Of(Wishes wishes, string? currency)
    {
        string[] budget =
        [
            .. wishes.BudgetNow is { } now ? new[] { Amount(now) + " now" } : [],
            .. wishes.BudgetLater is { } later ? new[] { Amount(later) + " later" } : [],
        ];
        if (budget.Length > 0)
        {
            yield return new("Budget", string.Join(", ", budget));
        }

        if (!wishes.MustHaves.IsEmpty)
        {
            yield return new("Must have", string.Join("; ", wishes.MustHaves));
        }

        string[] wont = [.. wishes.WontHaves.Select(Of), .. wishes.OtherWontHaves];
        if (wont.Length > 0)
        {
            yield return new("Will not have", string.Join("; ", wont));
        }

        if (wishes.LoudestAtBedDba is { } loudest)
        {
            yield return new("At the bed", string.Create(CultureInfo.InvariantCulture, $"no fan louder than {loudest:0.#}{DisplayUnits.NoBreakSpace}dB(A) at 1{DisplayUnits.NoBreakSpace}m"));
        }

        if (!wishes.Order.IsEmpty)
        {
            yield return new("First to last", string.Join(", ", wishes.Order.Select(Of)));
        }

        if (wishes.Looks.Length > 0)
        {
            yield return new("Looks", wishes.Looks);
        }

        string Amount(decimal amount) => currency is null ? amount.ToString("0.##", CultureInfo.InvariantCulture) : Money.Of(amount, currency);
    }
}
