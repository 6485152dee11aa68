using System.Globalization;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Web.Workspace;

/// <summary>What an option changes against the one it was copied from, in one line.</summary>
public static class CopyNote
{
    private const int Shown = 3;

    /// <summary>The first few differences, and how many more there are.</summary>
    public static string Of(LoadedOption source, Design design, DisplayUnits units)
    {
        var differences = DifferenceWords.Of(source.Design, design, units);
        var shown = string.Join("; ", differences.Take(Shown).Select(d => $"{d.Field} {d.First} → {d.Second}"));
        return differences.Count switch
        {
            0 => $"Copied from {source.Letter}; nothing differs yet.",
            <= Shown => $"Against {source.Letter}: {shown}.",
            _ => string.Create(CultureInfo.InvariantCulture, $"Against {source.Letter}: {shown}; and {differences.Count - Shown} more."),
        };
    }
}
