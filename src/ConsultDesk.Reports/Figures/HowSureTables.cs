using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Unknowns;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Reports.Figures;

/// <summary>How sure an assessment is, as tables.</summary>
public static class HowSureTables
{
    /// <summary>A row for each finding: what matters most for it, and what would turn it.</summary>
    public static DataTable Findings(HowSureReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var names = report.Unknowns.ToDictionary(effect => effect.Unknown.Key, effect => effect.Unknown.Name);
        return new DataTable
        {
            Caption = "What would turn each finding",
            Heads = ["Finding", "Now", "Matters most", "Would turn it"],
            NumberColumns = [],
            Rows =
            [
                .. report.Findings.Select(finding => System.Collections.Immutable.ImmutableArray.Create(
                    finding.Title,
                    finding.Severity is { } severity ? Word(severity) : "not found",
                    finding.MattersMost is { } most ? names[most] : DataTable.Nothing,
                    finding.Turns.IsEmpty ? "nothing that was moved" : string.Join("; ", finding.Turns.Take(3).Select(turn => names[turn.Unknown])))),
            ],
        };
    }

    /// <summary>A row for each finding of the samples: in how many it holds, within which shares it would in samples without end, and what it turns most on.</summary>
    public static DataTable Sampled(Sureness sure)
    {
        ArgumentNullException.ThrowIfNull(sure);
        return new DataTable
        {
            Caption = $"Findings through {sure.Calculated} samples",
            Heads = ["Finding", "Likely", "Holds in", "Of 100 at large, 95 %", "Turns most on"],
            NumberColumns = [2, 3],
            Rows =
            [
                .. sure.Findings.Concat(sure.Hidden).Select((finding, index) => System.Collections.Immutable.ImmutableArray.Create(
                    finding.Title,
                    index < sure.Findings.Length ? Word(finding.Severity) : "not found",
                    finding.Holds.ToString(System.Globalization.CultureInfo.InvariantCulture),
                    FormattableString.Invariant($"{100 * finding.Least:0} to {100 * finding.Most:0}"),
                    finding.TurnsMostBy.Length == 0 ? DataTable.Nothing : finding.TurnsMostBy)),
            ],
        };
    }

    /// <summary>The headline numbers of a situation with their bands.</summary>
    public static DataTable Situation(SituationBands situation, DisplayUnits units)
    {
        ArgumentNullException.ThrowIfNull(situation);
        ArgumentNullException.ThrowIfNull(units);
        return new DataTable
        {
            Caption = situation.Situation.Name,
            Heads = ["Number", "Low", "Likely", "High", "Moved most by"],
            NumberColumns = [1, 2, 3],
            Rows = [.. situation.Numbers.Select(band => System.Collections.Immutable.ImmutableArray.Create(
                band.Label, units.Format(band.Low), units.Format(band.Likely), units.Format(band.High), band.MovedMostBy.Length == 0 ? DataTable.Nothing : band.MovedMostBy))],
        };
    }

    private static string Word(Severity severity) => severity.ToString().ToLowerInvariant();
}
