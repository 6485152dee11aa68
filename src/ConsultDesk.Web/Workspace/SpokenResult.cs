using System.Globalization;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Web.Workspace;

/// <summary>What a screen reader hears after each new result.</summary>
public static class SpokenResult
{
    /// <summary>Dangers and warnings by number, then the two main numbers of the night.</summary>
    public static string Of(AssessedDesign result, DisplayUnits units)
    {
        string Count(Severity severity, string one, string many) => result.Assessment.Findings.Count(finding => finding.Severity == severity) switch
        {
            0 => "",
            1 => $"1 {one}, ",
            var count => string.Create(CultureInfo.InvariantCulture, $"{count} {many}, "),
        };
        return $"Calculated: {Count(Severity.Danger, "danger", "dangers")}{Count(Severity.Warning, "warning", "warnings")}"
            + $"{units.Format(result.Assessment.Water.CondensedPerNight)} condensed, {units.Format(result.Assessment.Air.OutdoorAir)} outdoor air.";
    }
}
