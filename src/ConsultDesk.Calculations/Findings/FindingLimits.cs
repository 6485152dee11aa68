using System.Collections.Immutable;
using System.Globalization;

namespace ConsultDesk.Calculations.Findings;

/// <summary>One number from which a finding is raised, or that a finding shows beside the calculated one.</summary>
/// <param name="Key">Stable key, kebab-case.</param>
/// <param name="Meaning">What it is, in words.</param>
/// <param name="Value">The number, in <paramref name="Unit"/>.</param>
/// <param name="Unit">Its unit; <c>-</c> for a pure number.</param>
/// <param name="Source">Published source and how it was come by, or the words <c>our judgement</c>.</param>
public sealed record FindingLimit(string Key, string Meaning, double Value, string Unit, string Source);

/// <summary>Every limit of the findings, read from the embedded <c>limits.csv</c>; docs/method/limits.md shows them all.</summary>
public static class FindingLimits
{
    /// <summary>All limits in the order of the file.</summary>
    public static ImmutableArray<FindingLimit> All { get; } =
    [
        .. EmbeddedTable.Rows("Findings.limits.csv", columns: 5).Select(row => new FindingLimit(
            row[0], row[1], double.Parse(row[2], CultureInfo.InvariantCulture), row[3], row[4])),
    ];

    private static readonly ImmutableDictionary<string, double> ByKey = All.ToImmutableDictionary(limit => limit.Key, limit => limit.Value);

    /// <summary>The value of a limit, in the unit of the table.</summary>
    /// <exception cref="ArgumentException">There is no such limit.</exception>
    public static double Of(string key) => ByKey.TryGetValue(key, out double value)
        ? value
        : throw new ArgumentException($"There is no limit '{key}' in limits.csv.", nameof(key));
}
