namespace ConsultDesk.Calculations.Tests.Validation;

/// <summary>
/// How many rows of the validation table count as outside checks: of each equation at most five that were read in a source, and one
/// that was worked out by hand or recalled where fewer than five were read. Thirty points on one curve are not thirty checks, and a formula
/// evaluated by hand a second time proves nothing the first did not.
/// </summary>
public static class ValidationCount
{
    /// <summary>Most rows of one equation that count.</summary>
    public const int MostPerEquation = 5;

    /// <summary>Most rows of one equation that count though nobody read them in a source.</summary>
    public const int MostUnreadPerEquation = 1;

    /// <summary>Counted rows wanted in all.</summary>
    public const int WantedInAll = 200;

    /// <summary>Counted rows wanted in each of <see cref="Subjects"/> that says so.</summary>
    public const int WantedInSubject = 10;

    /// <summary>Share of the counted rows wanted to be read in a source, per cent.</summary>
    public const int WantedReadPercent = 60;

    /// <summary>The subjects with the titles of their groups; a group named in none is a subject of its own, of which no number is wanted.</summary>
    public static readonly IReadOnlyList<(string Name, bool Wanted, string[] Groups)> Subjects =
    [
        ("Airflow", true, ["Airflow"]),
        ("Envelope", true, ["Envelope", "Walls by month"]),
        ("Zones", true, ["Zones", "Zone balances", "Air of the zones"]),
        ("Heating", true, ["Heating"]),
        ("Combustion", true, ["Combustion"]),
        ("Comfort and health", true, ["Comfort", "Mould"]),
        ("Climate", true, ["Climate"]),
        ("Moist air", false, ["Moist air"]),
        ("Vapour and people", false, ["Vapour and people"]),
        ("Fixed openings", false, ["Fixed openings"]),
    ];

    /// <summary>The rows of some groups that count.</summary>
    public static IReadOnlyList<Check> Counted(IEnumerable<CheckGroup> groups) => Counted(groups, MostUnreadPerEquation);

    /// <summary>The rows that would count if their origin made no difference.</summary>
    public static IReadOnlyList<Check> CountedOfAnyOrigin(IEnumerable<CheckGroup> groups) => Counted(groups, MostPerEquation);

    private static IReadOnlyList<Check> Counted(IEnumerable<CheckGroup> groups, int mostUnread) =>
    [
        .. groups.SelectMany(group => group.Rows
            .GroupBy(row => row.Equation)
            .SelectMany(equation => equation.Where(row => row.Origin == Sureness.Read)
                .Concat(equation.Where(row => row.Origin != Sureness.Read).OrderBy(row => row.Origin).Take(mostUnread))
                .Take(MostPerEquation))),
    ];

    /// <summary>The subjects with their groups.</summary>
    public static IEnumerable<(string Name, bool Wanted, IReadOnlyList<CheckGroup> Groups)> BySubject(IReadOnlyList<CheckGroup> groups) =>
        Subjects
            .Select(subject => (subject.Name, subject.Wanted, (IReadOnlyList<CheckGroup>)[.. groups.Where(group => subject.Groups.Contains(group.Title))]))
            .Concat(groups
                .Where(group => !Subjects.Any(subject => subject.Groups.Contains(group.Title)))
                .Select(group => (group.Title, false, (IReadOnlyList<CheckGroup>)[group])));

    /// <summary>Share of rows that were read in a source, per cent.</summary>
    public static double ReadPercent(IReadOnlyList<Check> rows) => rows.Count == 0 ? 0 : 100.0 * rows.Count(row => row.Origin == Sureness.Read) / rows.Count;

    /// <summary>What is short of the numbers wanted, in sentences; none when nothing is.</summary>
    public static IEnumerable<string> Shortfalls(IReadOnlyList<CheckGroup> groups)
    {
        IReadOnlyList<Check> all = Counted(groups);
        if (all.Count < WantedInAll)
        {
            yield return $"{all.Count} rows count in all; {WantedInAll} are wanted.";
        }

        if (ReadPercent(all) < WantedReadPercent)
        {
            yield return FormattableString.Invariant($"{ReadPercent(all):F0} % of the counted rows were read in a source; {WantedReadPercent} % are wanted.");
        }

        foreach ((string name, bool _, IReadOnlyList<CheckGroup> own) in BySubject(groups).Where(subject => subject.Wanted))
        {
            int counted = Counted(own).Count;
            if (counted < WantedInSubject)
            {
                yield return $"{name}: {counted} rows count; {WantedInSubject} are wanted.";
            }
        }
    }
}
