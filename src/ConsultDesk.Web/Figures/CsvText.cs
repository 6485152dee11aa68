using System.Globalization;
using ConsultDesk.Reports.Figures;
using CsvHelper;
using CsvHelper.Configuration;

namespace ConsultDesk.Web.Figures;

/// <summary>Tables as comma-separated text (RFC 4180) that no spreadsheet runs.</summary>
internal static class CsvText
{
    // What begins a formula in a spreadsheet.
    private const string FormulaStarts = "=+-@\t\r";

    /// <summary>A table, its heads first.</summary>
    public static string Of(DataTable table) => Of([[.. table.Heads], .. table.Rows.Select(row => (string[])[.. row])]);

    /// <summary>Rows of cells. A cell a spreadsheet would run begins with an apostrophe; a negative number is a number.</summary>
    public static string Of(IEnumerable<string[]> rows)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        using (var csv = new CsvWriter(text, new CsvConfiguration(CultureInfo.InvariantCulture) { NewLine = "\r\n" }))
        {
            foreach (var row in rows)
            {
                foreach (var cell in row)
                {
                    var runs = cell.Length > 0 && FormulaStarts.Contains(cell[0], StringComparison.Ordinal) && !double.TryParse(cell, NumberStyles.Float, CultureInfo.InvariantCulture, out _);
                    csv.WriteField(runs ? "'" + cell : cell);
                }

                csv.NextRecord();
            }
        }

        return text.ToString();
    }

    /// <summary>An address a browser saves a table from, with the mark that tells spreadsheets its encoding.</summary>
    public static string Address(DataTable table) => "data:text/csv;charset=utf-8," + Uri.EscapeDataString('\uFEFF' + Of(table));
}
