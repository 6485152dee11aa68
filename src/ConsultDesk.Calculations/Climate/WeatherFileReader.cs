using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Air;

namespace ConsultDesk.Calculations.Climate;

/// <summary>
/// Reads hourly weather: the open EPW format (EnergyPlus Auxiliary Programs, Weather Converter), or a table of hours with
/// headings. docs/method/climate.md says what is accepted. Damaged text gives errors by line and column, never an
/// exception.
/// </summary>
public static class WeatherFileReader
{
    /// <summary>Most characters a text may have: nearly five times a usual EPW file.</summary>
    public const int LongestText = 8_000_000;

    /// <summary>Most characters a line may have; design conditions fill about a thousand.</summary>
    public const int LongestLine = 20_000;

    /// <summary>Errors after which reading stops.</summary>
    public const int MostErrors = 20;

    /// <summary>Most hours in a row that may be missing and are filled with a straight line.</summary>
    public const int LongestFilledGap = 12;

    /// <summary>Largest share of temperatures or dew points that may be missing.</summary>
    public const double LargestFilledShare = 0.02;

    /// <summary>Accepted temperatures: the extremes ever measured in the open lie within.</summary>
    public static readonly ValidRange TemperatureRange = new("Temperature", -70, 60, "°C");

    /// <summary>Accepted dew points.</summary>
    public static readonly ValidRange DewPointRange = new("Dew point", -90, 40, "°C");

    /// <summary>Accepted relative humidities over water; instruments read a little above 100.</summary>
    public static readonly ValidRange HumidityRange = new("Relative humidity", 0, 120, "%");

    /// <summary>Accepted wind speeds.</summary>
    public static readonly ValidRange WindRange = new("Wind speed", 0, 80, "m/s");

    /// <summary>Accepted sun on a level surface: an hour may pass what is outside the atmosphere a little when clouds mirror it.</summary>
    public static readonly ValidRange SunRange = new("Sun on a level surface", 0, 1600, "W/m2");

    /// <summary>Accepted long-wave radiation of the sky.</summary>
    public static readonly ValidRange SkyRange = new("Infrared from the sky", 30, 800, "W/m2");

    /// <summary>Accepted rain in an hour.</summary>
    public static readonly ValidRange RainRange = new("Rain", 0, 500, "mm");

    // A dew point this far above the temperature is more than rounding and is told.
    private const double RoundingK = 0.5;

    /// <summary>Reads a text: EPW when its first line begins with LOCATION, a table with headings otherwise.</summary>
    /// <param name="text">The text; it is read once and not closed.</param>
    public static WeatherReading Read(TextReader text)
    {
        WeatherText lines = new(text);
        string? first = lines.Next()?.TrimStart('\uFEFF', ' ', '\t', '"');
        if (first is null)
        {
            if (lines.Errors.IsEmpty)
            {
                lines.WrongAsAWhole("The file is empty; expected a year of hours.");
            }

            return new WeatherReading(null, new WeatherStation(), lines.Errors, []);
        }

        return first.StartsWith("LOCATION", StringComparison.OrdinalIgnoreCase)
            ? EpwFile.Read(first, lines)
            : HourTable.Read(first, lines);
    }

    /// <summary>The hours of what was read; null when something is wrong with them.</summary>
    internal static HourlyWeather? Compose(WeatherText lines, HourColumns columns, ImmutableArray<bool> wet, List<string> notes)
    {
        if (!lines.Errors.IsEmpty)
        {
            return null;
        }

        if (columns.Rows == 0)
        {
            lines.WrongAsAWhole("There are no hours in the file; expected 8760 lines of them.");
            return null;
        }

        int absent = Array.IndexOf(columns.Seen, false);
        if (absent >= 0)
        {
            lines.WrongAsAWhole(string.Create(
                CultureInfo.InvariantCulture,
                $"{columns.Seen.Count(seen => !seen)} of {YearWeather.Hours} hours are missing, the first at {WeatherText.When(absent)}; expected every hour of a year."));
            return null;
        }

        if (!CanFill(lines, "temperature", columns.TemperatureC, notes) || !CanFill(lines, "dew point", columns.DewPointC, notes))
        {
            return null;
        }

        ImmutableArray<double> temperature = columns.TemperatureC.Filled();
        double[] dewPoint = [.. columns.DewPointC.Filled()];
        int cut = 0;
        for (int hour = 0; hour < dewPoint.Length; hour++)
        {
            cut += dewPoint[hour] > temperature[hour] + RoundingK ? 1 : 0;
            dewPoint[hour] = Math.Min(dewPoint[hour], temperature[hour]);
        }

        if (cut > 0)
        {
            notes.Add(string.Create(CultureInfo.InvariantCulture, $"In {Hours(cut)} the dew point lay more than {RoundingK} K above the temperature; saturated air was taken."));
        }

        return new HourlyWeather
        {
            TemperatureC = temperature,
            DewPointC = [.. dewPoint],
            WindMPerS = Optional("wind", columns.WindMPerS, notes),
            SunWPerM2 = Optional("sun", columns.SunWPerM2, notes),
            SkyWPerM2 = Optional("infrared from the sky", columns.SkyWPerM2, notes),
            Wet = wet,
        };
    }

    /// <summary>Dew point over water of a relative humidity over water, degrees Celsius; dry air counts as the lowest dew point accepted.</summary>
    internal static double DewPointC(double temperatureC, double humidityPercent)
    {
        double vapourPa = Math.Min(humidityPercent, 100) / 100 * MoistAir.SaturationPressureOverWaterPa(temperatureC);
        double leastPa = MoistAir.SaturationPressureOverWaterPa(DewPointRange.Minimum);
        return vapourPa > leastPa ? MoistAir.DewPointOverWaterC(vapourPa) : DewPointRange.Minimum;
    }

    internal static string Hours(int count) => count == 1 ? "1 hour" : string.Create(CultureInfo.InvariantCulture, $"{count} hours");

    private static bool CanFill(WeatherText lines, string name, HourColumn column, List<string> notes)
    {
        int missing = column.Missing;
        if (missing == 0)
        {
            return true;
        }

        (int longest, int from) = column.LongestGap();
        if (longest > LongestFilledGap || missing > LargestFilledShare * YearWeather.Hours)
        {
            lines.WrongAsAWhole(string.Create(
                CultureInfo.InvariantCulture,
                $"The {name} is missing in {Hours(missing)}, {longest} in a row from {WeatherText.When(from)}; expected no more than {LongestFilledGap} in a row and {LargestFilledShare * 100:0} % in all."));
            return false;
        }

        notes.Add($"The {name} was missing in {Hours(missing)}, filled with a straight line.");
        return true;
    }

    // A column with large gaps, or that never changes, was not recorded.
    private static ImmutableArray<double> Optional(string name, HourColumn column, List<string> notes)
    {
        int missing = column.Missing;
        if (missing == YearWeather.Hours)
        {
            notes.Add($"There is no {name} in the file: it is estimated.");
            return [];
        }

        // A night's sun or a calm month is filled badly by a line: of what is optional only short gaps are.
        if (missing > LargestFilledShare * YearWeather.Hours || column.LongestGap().Hours > LongestFilledGap)
        {
            notes.Add($"The {name} is missing in {Hours(missing)}, too many to fill: it is estimated.");
            return [];
        }

        ImmutableArray<double> filled = column.Filled();
        if (filled.All(value => value == filled[0]))
        {
            notes.Add($"The {name} is the same in every hour, so it was not measured: it is estimated.");
            return [];
        }

        if (missing > 0)
        {
            notes.Add($"The {name} was missing in {Hours(missing)}, filled with a straight line.");
        }

        return filled;
    }
}

/// <summary>The columns of a year while it is read.</summary>
internal sealed class HourColumns
{
    public HourColumn TemperatureC { get; } = new();

    public HourColumn DewPointC { get; } = new();

    public HourColumn WindMPerS { get; } = new();

    public HourColumn SunWPerM2 { get; } = new();

    public HourColumn SkyWPerM2 { get; } = new();

    public HourColumn RainMm { get; } = new();

    /// <summary>Which hours have had their line.</summary>
    public bool[] Seen { get; } = new bool[YearWeather.Hours];

    /// <summary>Lines read, those of a leap day included.</summary>
    public int Rows { get; set; }
}
