using System.Collections.Immutable;
using System.Globalization;

namespace ConsultDesk.Calculations.Search;

/// <summary>
/// Picks at most five different members of a front and says of each in one sentence what it is good for, what it costs and what it gives up. Names and picks are
/// our own; docs/method/search.md has them.
/// </summary>
internal static class FrontNames
{
    private const int Most = 5;

    // Choices in which two named designs differ at least. Our judgement: what differs in one is the same design with one question left.
    private const int FewestDifferences = 2;

    private static readonly ImmutableArray<(string Name, string Good, Objective Objective)> Ends =
    [
        ("The dry one", "the driest glass", Objective.WetHours),
        ("The thrifty one", "the least money now", Objective.MoneyNow),
        ("The warm one", "the fewest cold hours", Objective.ColdHours),
        ("The frugal one", "the least fuel", Objective.MoneyAYear),
        ("The summer one", "the fewest hot hours asleep", Objective.HotHours),
        ("The quiet one", "the least noise at the bed", Objective.Noise),
    ];

    /// <summary>The named designs, the best by the client's order first.</summary>
    public static ImmutableArray<NamedDesign> Of(DesignSpace space, ImmutableArray<FrontMember> front, ObjectiveNumbers? start, ImmutableArray<Objective> counted, string currency)
    {
        if (front.IsEmpty)
        {
            return [];
        }

        List<(FrontMember Member, string Name, string Good, bool Unlikely)> picked = [(front[0], front[0].Words.IsEmpty ? "The van as it stands" : "The even-handed one", "the best in everything together by the client's order", false)];
        foreach ((string name, string good, Objective objective) in Ends.Where(end => counted.Contains(end.Objective) && Varies(front, end.Objective)))
        {
            // The last place is kept for the design hardly thought of.
            if (picked.Count < Most - 1)
            {
                double least = front.Min(member => member.Numbers[objective]);
                if (front.FirstOrDefault(member => member.Numbers[objective] <= least) is FrontMember best && picked.TrueForAll(other => IsDifferent(space, best, other.Member)))
                {
                    picked.Add((best, name, good, false));
                }
            }
        }

        if (HardlyThoughtOf(space, front, [.. picked.Select(pick => pick.Member)]) is FrontMember unlikely)
        {
            picked.Add((unlikely, "The unlikely one", "a mix of parts hardly anybody would think of", true));
        }

        FrontMember[] members = [.. picked.Select(pick => pick.Member)];
        return [.. picked.Select(pick => new NamedDesign(
            pick.Member, pick.Name, Sentence(space, pick.Member, pick.Good, pick.Unlikely, members, front, start, counted, currency), pick.Unlikely))];
    }

    private static bool Varies(ImmutableArray<FrontMember> front, Objective objective) =>
        Objectives.Of(objective).InBoxes(front.Max(member => member.Numbers[objective])) - Objectives.Of(objective).InBoxes(front.Min(member => member.Numbers[objective])) >= 1;

    private static bool IsDifferent(DesignSpace space, FrontMember a, FrontMember b) => space.Differences(a.Candidate, b.Candidate) >= FewestDifferences;

    // The member whose choices the fewest others of the front make, of those that differ enough from all that are named.
    private static FrontMember? HardlyThoughtOf(DesignSpace space, ImmutableArray<FrontMember> front, FrontMember[] named)
    {
        ImmutableArray<int>[] choices = [.. front.Select(member => space.Choices(member.Candidate))];
        double Rarity(ImmutableArray<int> own) => own.Select((choice, axis) => 1 - (choices.Count(other => other[axis] == choice) / (double)choices.Length)).Sum();
        return Enumerable.Range(0, front.Length)
            .Where(at => named.All(other => IsDifferent(space, front[at], other)))
            .OrderByDescending(at => Rarity(choices[at])).ThenBy(at => at)
            .Select(at => front[at])
            .FirstOrDefault();
    }

    private static string Sentence(
        DesignSpace space, FrontMember member, string good, bool unlikely, FrontMember[] named, ImmutableArray<FrontMember> front, ObjectiveNumbers? start, ImmutableArray<Objective> counted, string currency)
    {
        string than = start is null || member.Words.IsEmpty ? "" : $" against {ObjectiveWords.Number(Objective.WetHours, start[Objective.WetHours])} as it stands";
        string far = unlikely
            ? string.Create(CultureInfo.InvariantCulture, $" (it differs from every other one here in at least {named.Where(other => other != member).Select(other => space.Differences(member.Candidate, other.Candidate)).DefaultIfEmpty(0).Min()} of {space.Axes.Length} choices)")
            : "";
        string ties = member.Ties.Length switch
        {
            0 => "",
            1 => " One other design is a tie with it.",
            _ => string.Create(CultureInfo.InvariantCulture, $" {member.Ties.Length} other designs are a tie with it."),
        };
        return $"Good for {good}{far}: {ObjectiveWords.Number(Objective.WetHours, member.Numbers[Objective.WetHours])} wet hours a year{than}; "
            + $"costs {Value(Objective.MoneyNow)} now and {Value(Objective.MoneyAYear)} a year; {GivesUp(member, front, counted, currency)}.{ties}";

        string Value(Objective objective) => ObjectiveWords.Value(objective, member.Numbers[objective], currency);
    }

    // Where it lies farthest from the best of the front, as a share of what the front spans.
    private static string GivesUp(FrontMember member, ImmutableArray<FrontMember> front, ImmutableArray<Objective> counted, string currency)
    {
        (Objective Objective, double Share, double Least)[] behind =
        [
            .. counted.Where(objective => Varies(front, objective)).Select(objective =>
            {
                double least = front.Min(other => other.Numbers[objective]);
                double most = front.Max(other => other.Numbers[objective]);
                return (objective, (member.Numbers[objective] - least) / (most - least), least);
            }).Where(at => at.Item2 > 0).OrderByDescending(at => at.Item2).ThenBy(at => at.objective),
        ];
        return behind.Length == 0
            ? "gives up nothing"
            : $"gives up most in {ObjectiveWords.Name(behind[0].Objective)}: {ObjectiveWords.Value(behind[0].Objective, member.Numbers[behind[0].Objective], currency)}"
                + $" against {ObjectiveWords.Value(behind[0].Objective, behind[0].Least, currency)} of the best in that";
    }
}
