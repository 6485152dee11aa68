using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Web.Workspace;

/// <summary>
/// Reads twelve months of temperature and humidity as typed or pasted from a spreadsheet: a line a month, or two lines of
/// twelve; tabs, semicolons, spaces or commas between, a point or a comma before decimals, headings and names of months allowed.
/// </summary>
public static class MonthsText
{
    /// <summary>The months that could be read, and what is wrong with the others by month and column.</summary>
    public sealed record Reading(ImmutableArray<OwnMonth> Months, ImmutableArray<string> Errors);

    /// <summary>Reads the text; temperatures in the reader's unit, humidity in percent.</summary>
    public static Reading Read(string text, DisplayUnits units)
    {
        List<string[]> lines = [.. text.Split('\n').Select(line => line.Trim('\r', ' ', '\t').Trim()).Where(line => line.Any(char.IsDigit)).Select(Cells)];
        if (lines.Count == 2 && lines.All(line => line.Length is 12 or 13))
        {
            lines = [.. Enumerable.Range(0, 12).Select(month => lines.Select(line => line[^12..][month]).ToArray())];
        }

        List<OwnMonth> months = [];
        List<string> errors = [];
        for (int month = 1; month <= 12; month++)
        {
            if (month > lines.Count)
            {
                errors.Add(string.Create(CultureInfo.InvariantCulture, $"{Words.Month(month)}{(month < 12 ? " to December" : "")}: nothing is entered. Expected temperature and humidity, a line a month."));
                break;
            }

            var cells = lines[month - 1];
            if (cells.Length != 2)
            {
                errors.Add(string.Create(CultureInfo.InvariantCulture, $"{Words.Month(month)}: {cells.Length} numbers in ‘{string.Join(" | ", cells)}’. Expected two, temperature and humidity, with a tab between."));
                continue;
            }

            var mean = units.Parse(Measure.Temperature, Point(cells[0]), Temperature.FromDegreesCelsius(OwnClimate.MeanRange.Minimum), Temperature.FromDegreesCelsius(OwnClimate.MeanRange.Maximum));
            var humidity = units.Parse(Measure.RelativeHumidity, Point(cells[1]), RelativeHumidity.FromPercent(OwnClimate.HumidityRange.Minimum), RelativeHumidity.FromPercent(OwnClimate.HumidityRange.Maximum));
            if (!mean.IsRead)
            {
                errors.Add($"{Words.Month(month)}, temperature ‘{cells[0]}’: {mean.Error}");
            }

            if (!humidity.IsRead)
            {
                errors.Add($"{Words.Month(month)}, humidity ‘{cells[1]}’: {humidity.Error}");
            }

            if (mean.IsRead && humidity.IsRead)
            {
                months.Add(new OwnMonth(month.ToString(CultureInfo.InvariantCulture), (Temperature)mean.Value, (RelativeHumidity)humidity.Value));
            }
        }

        if (lines.Count > 12)
        {
            errors.Add(string.Create(CultureInfo.InvariantCulture, $"{lines.Count} lines hold numbers. Expected twelve, January to December."));
        }

        return new([.. months], [.. errors]);
    }

    /// <summary>The months as the field shows them.</summary>
    public static string Write(IEnumerable<OwnMonth> months, DisplayUnits units) =>
        string.Join('\n', months.Select(month => $"{units.Entry(Measure.Temperature, month.Mean)}\t{units.Entry(Measure.RelativeHumidity, month.Humidity)}"));

    // The separator that is there, the surest first. A comma parts numbers only where nothing else does.
    private static string[] Cells(string line)
    {
        string[] cells = line.IndexOfAny(['\t', ';']) >= 0 ? line.Split(['\t', ';'])
            : line.Any(char.IsWhiteSpace) ? line.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)
            : line.Split(',') is { Length: 4 } four ? [$"{four[0]},{four[1]}", $"{four[2]},{four[3]}"]
            : line.Split(',');
        cells = [.. cells.Select(cell => cell.Trim().TrimEnd(',').TrimEnd('%').Trim())];
        while (cells.Length > 2 && cells[0].Length > 0 && !cells[0].Any(char.IsDigit))
        {
            cells = cells[1..];
        }

        return cells;
    }

    private static string Point(string cell) => cell.Contains('.', StringComparison.Ordinal) ? cell : cell.Replace(',', '.');
}
