using System.Collections.Immutable;
using System.Globalization;
using UnitsNet;

namespace ConsultDesk.Calculations.Climate;

/// <summary>
/// The open EPW format: eight header lines, then a line an hour. Field numbers, units and missing codes are those of its
/// published field list. The year of a line is ignored, since the months of a typical year come from different years.
/// </summary>
internal static class EpwFile
{
    private const int FewestFields = 22;
    private const int MostHeaderLines = 100;
    private const int LeapDayHours = 24;

    private const int Month = 1;
    private const int Day = 2;
    private const int Hour = 3;
    private const int PresentWeatherSeen = 26;
    private const int PresentWeatherCodes = 27;

    private static readonly Field DryBulb = new(6, "dry bulb", WeatherFileReader.TemperatureRange, 99.9);
    private static readonly Field DewPoint = new(7, "dew point", WeatherFileReader.DewPointRange, 99.9);
    private static readonly Field Humidity = new(8, "relative humidity", WeatherFileReader.HumidityRange, 999);
    private static readonly Field Infrared = new(12, "infrared from the sky", WeatherFileReader.SkyRange, 9999, ZeroIsMissing: true);
    private static readonly Field GlobalSun = new(13, "global horizontal sun", WeatherFileReader.SunRange, 9999);
    private static readonly Field WindSpeed = new(21, "wind speed", WeatherFileReader.WindRange, 99);
    private static readonly Field RainDepth = new(33, "precipitation depth", WeatherFileReader.RainRange, 99);

    // Places of the present-weather code that fall from the sky: rain, drizzle, snow, snow showers, sleet or hail, ice pellets.
    private static readonly ImmutableArray<int> FallingPlaces = [1, 2, 3, 4, 5, 8];

    // Rain an hour, hours of it in a year and a year's sum above which a column of rain is not believed: one file repeats
    // 25 mm hour after hour.
    private const double HeavyMm = 20;
    private const int MostHeavyHours = 100;
    private const double MostYearMm = 5000;
    private const double WetFromMm = 0.1;
    private const double ShareRecorded = 0.9;

    /// <summary>Reads a file whose first line is given.</summary>
    public static WeatherReading Read(string location, WeatherText lines)
    {
        WeatherStation station = ReadLocation(location, lines);
        List<string> notes = [];
        if (!ReadHeader(lines, ref station))
        {
            return new WeatherReading(null, station, lines.Errors, []);
        }

        HourColumns columns = new();
        bool[] falling = new bool[YearWeather.Hours];
        int seenHours = 0;
        int leapHours = 0;
        int beyond = 0;
        while (lines.Next() is string line)
        {
            string[] cells = line.Split(',');
            columns.Rows++;
            if (cells.Length < FewestFields)
            {
                lines.Wrong(null, string.Create(CultureInfo.InvariantCulture, $"{cells.Length} fields; expected at least {FewestFields}, separated by commas."));
                continue;
            }

            if (Slot(lines, cells, columns.Seen) is not int slot)
            {
                continue;
            }

            if (slot < 0)
            {
                leapHours++;
                continue;
            }

            columns.Seen[slot] = true;
            double temperatureC = DryBulb.Read(lines, cells);
            double dewPointC = DewPoint.Read(lines, cells);
            double humidity = Humidity.Read(lines, cells);
            columns.TemperatureC[slot] = temperatureC;
            columns.DewPointC[slot] = double.IsNaN(dewPointC) && !double.IsNaN(temperatureC) && !double.IsNaN(humidity)
                ? WeatherFileReader.DewPointC(temperatureC, humidity)
                : dewPointC;
            beyond += humidity > 100 ? 1 : 0;
            columns.SkyWPerM2[slot] = Infrared.Read(lines, cells);
            columns.SunWPerM2[slot] = GlobalSun.Read(lines, cells);
            columns.WindMPerS[slot] = WindSpeed.Read(lines, cells);
            columns.RainMm[slot] = cells.Length > RainDepth.Index ? RainDepth.Read(lines, cells) : double.NaN;
            if (cells.Length > PresentWeatherCodes && cells[PresentWeatherSeen].Trim() == "0")
            {
                seenHours++;
                string codes = cells[PresentWeatherCodes].Trim().PadLeft(9, '0');
                falling[slot] = codes.Length == 9 && FallingPlaces.Any(place => codes[place] != '9');
            }
        }

        if (leapHours > 0)
        {
            notes.Add("29 February is left out: the year here has 365 days.");
            if (leapHours != LeapDayHours)
            {
                lines.WrongAsAWhole(string.Create(CultureInfo.InvariantCulture, $"29 February has {leapHours} hours; expected none or 24."));
            }
        }

        if (beyond > 0)
        {
            notes.Add($"Relative humidity above 100 % stood in {WeatherFileReader.Hours(beyond)}; temperature and dew point were used.");
        }

        HourlyWeather? hours = WeatherFileReader.Compose(lines, columns, Wet(falling, seenHours, columns.RainMm, notes), notes);
        return new WeatherReading(hours, station, lines.Errors, hours is null ? [] : [.. notes]);
    }

    private static WeatherStation ReadLocation(string line, WeatherText lines)
    {
        string[] cells = [.. line.Split(',').Select(cell => cell.Trim().Trim('"'))];
        if (cells.Length < 10)
        {
            lines.Wrong(null, "expected LOCATION with city, region, country, source, number, latitude, longitude, time zone and elevation.");
            return new WeatherStation();
        }

        double? latitude = Coordinate(6, "latitude", -90, 90);
        double? longitude = Coordinate(7, "longitude", -180, 180);
        double? elevation = Coordinate(9, "elevation", -500, 9000);
        return new WeatherStation
        {
            Name = cells[1].Length <= 60 ? cells[1] : cells[1][..60],
            Latitude = latitude is double lat ? Angle.FromDegrees(lat) : null,
            Longitude = longitude is double lon ? Angle.FromDegrees(lon) : null,
            Elevation = elevation is double metres ? Length.FromMeters(metres) : null,
            Origin = string.Join(' ', new[] { cells[4], cells[5] }.Where(text => text.Length is > 0 and <= 40)),
        };

        double? Coordinate(int index, string field, double least, double most)
        {
            if (double.TryParse(cells[index], NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && value >= least && value <= most)
            {
                return value;
            }

            lines.Wrong(index + 1, string.Create(CultureInfo.InvariantCulture, $"{WeatherText.Shown(cells[index])}; expected {least} to {most}."), field);
            return null;
        }
    }

    // The header ends with DATA PERIODS; what stands before it is not needed.
    private static bool ReadHeader(WeatherText lines, ref WeatherStation station)
    {
        for (int read = 0; read < MostHeaderLines && lines.Next() is string line; read++)
        {
            string start = line.TrimStart(' ', '"');
            if (start.StartsWith("DATA PERIODS", StringComparison.OrdinalIgnoreCase))
            {
                string[] cells = line.Split(',');
                if (cells.Length < 3 || cells[1].Trim() != "1" || cells[2].Trim() != "1")
                {
                    lines.Wrong(cells.Length < 3 ? null : 3, "expected one period with one record an hour.", "records an hour");
                    return false;
                }

                return true;
            }
        }

        if (!lines.GivenUp)
        {
            lines.WrongAsAWhole("There is no DATA PERIODS line; expected eight header lines that end with it.");
        }

        return false;
    }

    // The hour of the year; -1 on 29 February; null when the date is wrong.
    private static int? Slot(WeatherText lines, string[] cells, bool[] seen)
    {
        if (Whole(lines, cells, Month, "month", 1, 12) is not int month
            || Whole(lines, cells, Day, "day", 1, month == 2 ? 29 : YearCalendar.DaysInMonth[month - 1]) is not int day
            || Whole(lines, cells, Hour, "hour", 1, 24) is not int hour)
        {
            return null;
        }

        if (month == 2 && day == 29)
        {
            return -1;
        }

        int slot = (24 * (YearCalendar.FirstDay[month - 1] + day - 1)) + hour - 1;
        if (!seen[slot])
        {
            return slot;
        }

        lines.Wrong(Hour + 1, $"{WeatherText.When(slot)} stands in the file twice; expected every hour once.", "hour");
        return null;
    }

    private static int? Whole(WeatherText lines, string[] cells, int index, string field, int least, int most)
    {
        if (int.TryParse(cells[index].Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out int value) && value >= least && value <= most)
        {
            return value;
        }

        lines.Wrong(index + 1, string.Create(CultureInfo.InvariantCulture, $"{WeatherText.Shown(cells[index])}; expected {least} to {most}."), field);
        return null;
    }

    // Observers' codes where they were noted, the depth of rain where it is believable.
    private static ImmutableArray<bool> Wet(bool[] falling, int seenHours, HourColumn rainMm, List<string> notes)
    {
        if (seenHours >= ShareRecorded * YearWeather.Hours && falling.Any(wet => wet))
        {
            return [.. falling];
        }

        double[] known = [.. Enumerable.Range(0, YearWeather.Hours).Select(hour => rainMm[hour]).Where(mm => !double.IsNaN(mm))];
        double sum = known.Sum();
        if (known.Length >= ShareRecorded * YearWeather.Hours && sum > 0 && sum <= MostYearMm && known.Count(mm => mm >= HeavyMm) <= MostHeavyHours)
        {
            return [.. Enumerable.Range(0, YearWeather.Hours).Select(hour => rainMm[hour] >= WetFromMm)];
        }

        notes.Add("Rain and snow are not recorded well enough in the file: which days are wet is estimated.");
        return [];
    }

    /// <summary>A numeric field of a line.</summary>
    /// <param name="Index">Index in the line, from 0.</param>
    /// <param name="Name">What it holds.</param>
    /// <param name="Range">What is accepted.</param>
    /// <param name="MissingFrom">Values from here on mean that nothing was recorded.</param>
    /// <param name="ZeroIsMissing">Zero, too, means that nothing was recorded.</param>
    private sealed record Field(int Index, string Name, ValidRange Range, double MissingFrom, bool ZeroIsMissing = false)
    {
        public double Read(WeatherText lines, string[] cells)
        {
            string cell = cells[Index].Trim();
            if (!double.TryParse(cell, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) || double.IsNaN(value))
            {
                lines.Wrong(Index + 1, $"{WeatherText.Shown(cell)}; expected a number in {Range.Unit}.", Name);
                return double.NaN;
            }

            if (value >= MissingFrom || (ZeroIsMissing && value == 0))
            {
                return double.NaN;
            }

            if (Range.Contains(value))
            {
                return value;
            }

            lines.Wrong(Index + 1, Range.Message(value), Name);
            return double.NaN;
        }
    }
}
