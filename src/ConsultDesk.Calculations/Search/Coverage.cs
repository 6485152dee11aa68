using System.Globalization;

namespace ConsultDesk.Calculations.Search;

/// <summary>How much of a space was looked at, and what may be missing for that, in plain words.</summary>
internal static class Coverage
{
    private const string MayBeMissing = "a design nothing beats may be missing";

    /// <summary>What a race that came to its end looked at.</summary>
    public static string Of(DesignSpace space, RaceReport report)
    {
        int merged = space.Removed.FirstOrDefault(removed => removed.Rule.Key == "alike")?.Choices ?? 0;
        string leftOut = $"{ObjectiveWords.Count(merged)} {(merged == 1 ? "choice" : "choices")} much like others {(merged == 1 ? "was" : "were")} left out before they were combined";
        string kept = $"Of {ObjectiveWords.Count(space.Size.Listed)} {(space.Size.Listed.IsOne ? "combination" : "combinations")} of what book and van offer, choices and rules left {ObjectiveWords.Count(space.Count)} {(space.Count == 1 ? "design" : "designs")}. ";
        if (report.Exhaustive)
        {
            return merged == 0
                ? $"{kept}Every one was calculated over the whole year."
                : $"{kept}Every one was calculated over the whole year. Still, {MayBeMissing}: {leftOut}.";
        }

        List<string> why = [];
        if (report.DroppedForWork > 0)
        {
            why.Add($"{ObjectiveWords.Count(report.DroppedForWork)} were left aside because others came first");
        }

        if (report.Audited > 0)
        {
            why.Add(string.Create(
                CultureInfo.InvariantCulture,
                $"of {report.Audited} of those passed over, drawn at random and calculated after all, {(report.AuditedWrong == 0 ? "none" : $"{report.AuditedWrong}")} belonged here (with 95 % confidence at most {100 * report.WrongShareAtMost:0} % do)"));
        }

        if (merged > 0)
        {
            why.Add(leftOut);
        }

        return $"{kept}{ObjectiveWords.Count(report.Looked[0])} were looked at in situations{InWeeks(report.Looked.Length > 1 ? report.Looked[1] : 0)}, {ObjectiveWords.Count(report.Years)} calculated over the whole year"
            + (report.DroppedForWork == 0 ? "; every other one is beaten by more than its estimate has been seen to be off" : "")
            + (why.Count == 0 ? "." : $". So {MayBeMissing}: {string.Join("; ", why)}.");
    }

    /// <summary>What a search that goes on, or broke off, has looked at.</summary>
    public static string SoFar(SearchProgress progress) =>
        $"of {ObjectiveWords.Count(progress.Space!.Count)} {(progress.Space.Count == 1 ? "design" : "designs")} "
        + (progress.Screened == 0 ? "" : $"{ObjectiveWords.Count(progress.Screened)} had been looked at in situations{InWeeks(progress.InWeeks)}, ")
        + $"{ObjectiveWords.Count(progress.Years)} {(progress.Screened == 0 ? "had been " : "")}calculated over the whole year.";

    private static string InWeeks(int count) => count == 0 ? "" : $", {ObjectiveWords.Count(count)} in weeks";
}
