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

    /// <summary>
    /// Classes of the table that say which of its columns hold numbers: once for a table, where a class in every cell would
    /// be a tenth of a plan. Null where all do, and for a table of words, whose cells say it themselves.
    /// </summary>
    public static string? NumberClasses(this DataTable table) => table.AllNumbers || table.Wordy || table.NumberColumns.IsEmpty
        ? null
        : " " + string.Join(' ', table.NumberColumns.Select(column => FormattableString.Invariant($"n{column + 1}")));

    /// <summary>Class of a cell of a table of words.</summary>
    public static string? CellClass(this DataTable table, int column, string? cell = null) => !table.Wordy ? null
        : table.NumberColumns.Contains(column) ? "number"
        : cell == DataTable.Nothing ? "nothing"
        : null;

    /// <summary>Direction of a text: asked for only where it has letters that may run from right to left.</summary>
    public static string? DirectionOf(string text) => text.Any(letter => letter >= '\u0590' && char.IsLetter(letter)) ? "auto" : null;
}
