using System.Collections.Immutable;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Web.Figures;

/// <summary>What pages do with every table.</summary>
internal static class DataTables
{
    /// <summary>Text of a cell. One of numbers never breaks, so that its spaces can be plain ones, a sixth of the bytes.</summary>
    public static string OfCell(this DataTable table, ImmutableArray<string> row, int column) =>
        table.NumberColumns.Contains(column) ? row[column].Replace(DisplayUnits.NoBreakSpace, " ", StringComparison.Ordinal) : row[column];

    /// <summary>Direction of a text: asked for only where it has letters that may run from right to left.</summary>
    public static string? DirectionOf(string text) => text.Any(letter => letter >= '\u0590' && char.IsLetter(letter)) ? "auto" : null;
}
