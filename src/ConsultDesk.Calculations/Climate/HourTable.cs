using System.Collections.Immutable;
using System.Globalization;

namespace ConsultDesk.Calculations.Climate;

/// <summary>
/// A table of hours: a line of headings, then 8760 lines (8784 in a leap year) from 1 January, midnight, standard time.
/// Temperature and relative humidity or dew point are needed; wind, sun and rain are taken when they are there. With a
/// column of times the lines may stand in any order. Cells are separated by comma, semicolon or tab; where it is not
/// the comma, numbers may have a decimal comma.
/// </summary>
internal static class HourTable
{
    private const int LeapYearHours = YearWeather.Hours + 24;
    private const double WetFromMm = 0.1;

    private static readonly string[] TimeForms =
    [
        "yyyy-MM-dd HH:mm", "yyyy-MM-ddTHH:mm", "yyyy-MM-dd HH:mm:ss", "yyyy-MM-ddTHH:mm:ss", "yyyy-MM-dd H:mm", "yyyy/MM/dd HH:mm",
    ];

    private static readonly ImmutableDictionary<string, Quantity> Headings = new Dictionary<string, Quantity>
    {
        ["temperature"] = Quantity.Temperature,
        ["temp"] = Quantity.Temperature,
        ["t"] = Quantity.Temperature,
        ["drybulb"] = Quantity.Temperature,
        ["airtemperature"] = Quantity.Temperature,
        ["humidity"] = Quantity.Humidity,
        ["relativehumidity"] = Quantity.Humidity,
        ["rh"] = Quantity.Humidity,
        ["dewpoint"] = Quantity.DewPoint,
        ["td"] = Quantity.DewPoint,
        ["wind"] = Quantity.Wind,
        ["windspeed"] = Quantity.Wind,
        ["sun"] = Quantity.Sun,
        ["ghi"] = Quantity.Sun,
        ["globalsun"] = Quantity.Sun,
        ["rain"] = Quantity.Rain,
        ["precipitation"] = Quantity.Rain,
        ["time"] = Quantity.Time,
        ["datetime"] = Quantity.Time,
        ["date"] = Quantity.Time,
    }.ToImmutableDictionary(StringComparer.Ordinal);

    // What may stand behind a heading's name: the unit the numbers must have.
    private static readonly ImmutableHashSet<string> UnitWords =
        ["c", "°c", "degc", "celsius", "%", "pct", "percent", "m", "s", "m/s", "ms", "w", "m2", "m²", "w/m2", "w/m²", "wm2", "mm", "lst"];

    private static readonly ImmutableHashSet<string> WrongUnitWords = ["f", "°f", "degf", "fahrenheit", "k", "kelvin", "mph", "kmh", "km/h", "kn", "kt", "in", "inch"];

    private enum Quantity
    {
        Time,
        Temperature,
        Humidity,
        DewPoint,
        Wind,
        Sun,
        Rain,
    }

    /// <summary>Reads a table whose first line is given.</summary>
    public static WeatherReading Read(string headings, WeatherText lines)
    {
        WeatherStation nowhere = new();
        char separator = new[] { '\t', ';', ',' }.FirstOrDefault(headings.Contains, ',');
        Dictionary<Quantity, int>? columnOf = ReadHeadings(headings.Split(separator), lines);
        if (columnOf is null)
        {
            return new WeatherReading(null, nowhere, lines.Errors, []);
        }

        int width = columnOf.Values.Max() + 1;
        List<Row> rows = [];
        while (lines.Next() is string line)
        {
            if (rows.Count == LeapYearHours)
            {
                lines.Wrong(null, "there are more lines than a year has hours; expected 8760 or 8784.");
                break;
            }

            string[] cells = line.Split(separator);
            if (cells.Length < width)
            {
                lines.Wrong(null, string.Create(CultureInfo.InvariantCulture, $"{cells.Length} cells; expected at least {width}."));
                rows.Add(default);
                continue;
            }

            rows.Add(ReadRow(lines, cells, columnOf, separator));
        }

        List<string> notes = [];
        if (!lines.Errors.IsEmpty)
        {
            return new WeatherReading(null, nowhere, lines.Errors, []);
        }

        HourColumns columns = new() { Rows = rows.Count };
        if (columnOf.ContainsKey(Quantity.Time))
        {
            PlaceByTime(lines, rows, columns, notes);
        }
        else
        {
            PlaceInOrder(lines, rows, columns, notes);
        }

        ImmutableArray<bool> wet = Wet(columns.RainMm, columnOf.ContainsKey(Quantity.Rain), notes);
        HourlyWeather? hours = WeatherFileReader.Compose(lines, columns, wet, notes);
        return new WeatherReading(hours, nowhere, lines.Errors, hours is null ? [] : [.. notes]);
    }

    private static Dictionary<Quantity, int>? ReadHeadings(string[] cells, WeatherText lines)
    {
        Dictionary<Quantity, int> columnOf = [];
        for (int index = 0; index < cells.Length; index++)
        {
            string[] words = cells[index].Trim().Trim('"').ToLowerInvariant()
                .Split([' ', '_', '-', '(', ')', '[', ']', '.'], StringSplitOptions.RemoveEmptyEntries);
            int units = words.Length;
            while (units > 1 && (UnitWords.Contains(words[units - 1]) || WrongUnitWords.Contains(words[units - 1])))
            {
                units--;
            }

            if (!Headings.TryGetValue(string.Concat(words.Take(units)), out Quantity quantity))
            {
                continue;
            }

            if (words.Skip(units).Any(WrongUnitWords.Contains))
            {
                lines.Wrong(index + 1, $"{WeatherText.Shown(cells[index])}; expected °C, %, m/s, W/m2 or mm.");
            }
            else if (!columnOf.TryAdd(quantity, index))
            {
                lines.Wrong(index + 1, $"{WeatherText.Shown(cells[index])} is a second column of the same; expected one.");
            }
        }

        if (lines.Errors.IsEmpty && (!columnOf.ContainsKey(Quantity.Temperature) || !(columnOf.ContainsKey(Quantity.Humidity) || columnOf.ContainsKey(Quantity.DewPoint))))
        {
            lines.Wrong(null, "expected headings with temperature (°C) and humidity (%) or dew point (°C), and if there: wind (m/s), sun (W/m2), rain (mm), time; or a file in the EPW format, whose first line begins with LOCATION.");
        }

        return lines.Errors.IsEmpty ? columnOf : null;
    }

    private static Row ReadRow(WeatherText lines, string[] cells, Dictionary<Quantity, int> columnOf, char separator)
    {
        double temperatureC = Number(Quantity.Temperature, "temperature", WeatherFileReader.TemperatureRange);
        double humidity = Number(Quantity.Humidity, "relative humidity", WeatherFileReader.HumidityRange);
        double dewPointC = Number(Quantity.DewPoint, "dew point", WeatherFileReader.DewPointRange);
        if (double.IsNaN(dewPointC) && !double.IsNaN(temperatureC) && !double.IsNaN(humidity))
        {
            dewPointC = WeatherFileReader.DewPointC(temperatureC, humidity);
        }

        DateTime? time = null;
        if (columnOf.TryGetValue(Quantity.Time, out int at))
        {
            string cell = cells[at].Trim().Trim('"');
            if (DateTime.TryParseExact(cell, TimeForms, CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTime read))
            {
                time = read;
            }
            else
            {
                lines.Wrong(at + 1, $"{WeatherText.Shown(cell)}; expected the beginning of an hour of standard time, as in 2023-01-31 14:00.", "time");
            }
        }

        return new Row(
            lines.Line,
            time,
            temperatureC,
            dewPointC,
            Number(Quantity.Wind, "wind", WeatherFileReader.WindRange),
            Number(Quantity.Sun, "sun", WeatherFileReader.SunRange),
            Number(Quantity.Rain, "rain", WeatherFileReader.RainRange));

        double Number(Quantity quantity, string field, ValidRange range)
        {
            if (!columnOf.TryGetValue(quantity, out int index))
            {
                return double.NaN;
            }

            string cell = cells[index].Trim().Trim('"');
            if (cell.Length == 0 || cell.Equals("NA", StringComparison.OrdinalIgnoreCase) || cell.Equals("NaN", StringComparison.OrdinalIgnoreCase))
            {
                return double.NaN;
            }

            string plain = separator == ',' ? cell : cell.Replace(',', '.');
            if (!double.TryParse(plain, NumberStyles.Float, CultureInfo.InvariantCulture, out double value))
            {
                lines.Wrong(index + 1, $"{WeatherText.Shown(cell)}; expected a number in {range.Unit}.", field);
                return double.NaN;
            }

            if (!range.Contains(value))
            {
                lines.Wrong(index + 1, range.Message(value), field);
                return double.NaN;
            }

            return value;
        }
    }

    private static void PlaceInOrder(WeatherText lines, List<Row> rows, HourColumns columns, List<string> notes)
    {
        int leapDay = 24 * YearCalendar.FirstDay[2];
        bool leap = rows.Count == LeapYearHours;
        if (!leap && rows.Count != YearWeather.Hours)
        {
            lines.WrongAsAWhole(string.Create(CultureInfo.InvariantCulture, $"There are {rows.Count} hours in the file; expected 8760, or 8784 in a leap year."));
            return;
        }

        if (leap)
        {
            NoteLeapDay(notes);
        }

        for (int line = 0; line < rows.Count; line++)
        {
            if (!leap || line < leapDay || line >= leapDay + 24)
            {
                Put(rows[line], leap && line >= leapDay ? line - 24 : line, columns);
            }
        }
    }

    private static void PlaceByTime(WeatherText lines, List<Row> rows, HourColumns columns, List<string> notes)
    {
        bool leap = false;
        foreach (Row row in rows)
        {
            DateTime time = row.Time!.Value;
            if (time.Minute != 0 || time.Second != 0)
            {
                lines.WrongAsAWhole(string.Create(CultureInfo.InvariantCulture, $"Line {row.Line}: {time:HH:mm} is not the beginning of an hour."));
                return;
            }

            if (time is { Month: 2, Day: 29 })
            {
                leap = true;
                continue;
            }

            int hour = (24 * (YearCalendar.FirstDay[time.Month - 1] + time.Day - 1)) + time.Hour;
            if (columns.Seen[hour])
            {
                lines.WrongAsAWhole(string.Create(CultureInfo.InvariantCulture, $"Line {row.Line}: {WeatherText.When(hour)} stands in the file twice; expected every hour of one year once, in standard time."));
                return;
            }

            Put(row, hour, columns);
        }

        if (leap)
        {
            NoteLeapDay(notes);
        }
    }

    private static void NoteLeapDay(List<string> notes) => notes.Add("29 February is left out: the year here has 365 days.");

    private static void Put(Row row, int hour, HourColumns columns)
    {
        columns.Seen[hour] = true;
        columns.TemperatureC[hour] = row.TemperatureC;
        columns.DewPointC[hour] = row.DewPointC;
        columns.WindMPerS[hour] = row.WindMPerS;
        columns.SunWPerM2[hour] = row.SunWPerM2;
        columns.RainMm[hour] = row.RainMm;
    }

    private static ImmutableArray<bool> Wet(HourColumn rainMm, bool hasColumn, List<string> notes)
    {
        int missing = rainMm.Missing;
        if (hasColumn && missing <= WeatherFileReader.LargestFilledShare * YearWeather.Hours)
        {
            return [.. Enumerable.Range(0, YearWeather.Hours).Select(hour => rainMm[hour] >= WetFromMm)];
        }

        notes.Add(hasColumn
            ? $"The rain is missing in {WeatherFileReader.Hours(missing)}: which days are wet is estimated."
            : "There is no rain in the file: which days are wet is estimated.");
        return [];
    }

    private readonly record struct Row(
        int Line, DateTime? Time, double TemperatureC, double DewPointC, double WindMPerS, double SunWPerM2, double RainMm);
}
