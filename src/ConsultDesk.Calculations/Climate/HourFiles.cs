using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Climate;

/// <summary>A place of the design from the hours of a weather file: its months, and what the file says of them.</summary>
public static class HourFiles
{
    // Share of the hours of a year that are colder than what heaters are sized for.
    private const double ColdShare = 0.004;

    /// <summary>The months of a year of hours, as somebody would type them.</summary>
    public static ImmutableArray<OwnMonth> Months(HourlyWeather hours)
    {
        Require(hours);
        return
        [
            .. Enumerable.Range(1, 12).Select(month => new OwnMonth(
                Id(month),
                Temperature.FromDegreesCelsius(Rounded(Mean(hours.TemperatureC, month), 2)),
                // Over water, as a met service measures it.
                RelativeHumidity.FromPercent(Rounded(
                    HoursOf(month).Average(hour => 100 * MoistAir.SaturationPressureOverWaterPa(hours.DewPointC[hour])
                        / MoistAir.SaturationPressureOverWaterPa(hours.TemperatureC[hour])),
                    1)))),
        ];
    }

    /// <summary>What the design keeps of a weather file.</summary>
    /// <param name="hours">Its hours.</param>
    /// <param name="sha256">SHA-256 of the hours as they are kept.</param>
    /// <param name="fileName">Name of the file.</param>
    /// <param name="station">What the file says of its station.</param>
    public static HourFile Of(HourlyWeather hours, string sha256, string fileName, WeatherStation station)
    {
        Require(hours);
        ArgumentNullException.ThrowIfNull(station);
        double[] sorted = [.. hours.TemperatureC.Order()];
        return new HourFile
        {
            Sha256 = sha256,
            FileName = fileName,
            Origin = station.Origin,
            Longitude = station.Longitude,
            Coldest = Temperature.FromDegreesCelsius(sorted[0]),
            ColdForHeating = Temperature.FromDegreesCelsius(sorted[(int)Math.Round(ColdShare * (sorted.Length - 1))]),
            Months =
            [
                .. Enumerable.Range(1, 12).Select(month => new HourFileMonth(
                    Id(month),
                    Temperature.FromDegreesCelsius(Rounded(DaysOf(month).Average(day => Day(hours.TemperatureC, day).Max()), 2)),
                    Temperature.FromDegreesCelsius(Rounded(DaysOf(month).Average(day => Day(hours.TemperatureC, day).Min()), 2)),
                    Temperature.FromDegreesCelsius(Rounded(Mean(hours.DewPointC, month), 2)),
                    hours.WindMPerS.IsEmpty ? null : Rounded(Mean(hours.WindMPerS, month), 2),
                    hours.SunWPerM2.IsEmpty ? null : Rounded(Mean(hours.SunWPerM2, month), 1),
                    hours.Wet.IsEmpty ? null : DaysOf(month).Count(day => Day(hours.Wet, day).Any(wet => wet)))),
            ],
        };
    }

    /// <summary>True when the twelve months are there and everything lies in its range.</summary>
    internal static bool IsComplete(HourFile file) => file.Months.Length == 12
        && Enumerable.Range(1, 12).All(month => file.Months.Count(entry => entry.Id == Id(month)) == 1)
        && WeatherFileReader.TemperatureRange.Contains(file.Coldest.DegreesCelsius)
        && WeatherFileReader.TemperatureRange.Contains(file.ColdForHeating.DegreesCelsius)
        && file.Months.All(month => WeatherFileReader.TemperatureRange.Contains(month.MeanMaximum.DegreesCelsius)
            && WeatherFileReader.TemperatureRange.Contains(month.MeanMinimum.DegreesCelsius)
            && month.MeanMaximum >= month.MeanMinimum
            && WeatherFileReader.DewPointRange.Contains(month.DewPoint.DegreesCelsius)
            && WeatherFileReader.WindRange.Contains(month.WindMPerS ?? 0)
            && WeatherFileReader.SunRange.Contains(month.SunWPerM2 ?? 0)
            && (month.WetDays ?? 0) is >= 0 and <= 31);

    /// <summary>The normals of a month with what a file says in the place of what was estimated.</summary>
    internal static MonthNormals With(MonthNormals estimated, HourFile? file)
    {
        if (file?.Months.Single(month => month.Id == Id(estimated.Month)) is not { } known)
        {
            return estimated;
        }

        return estimated with
        {
            MeanMaximum = known.MeanMaximum,
            MeanMinimum = known.MeanMinimum,
            DewPoint = known.DewPoint,
            Wind = known.WindMPerS is double wind ? Speed.FromMetersPerSecond(wind) : estimated.Wind,
            Sun = known.SunWPerM2 is double sun ? Irradiance.FromWattsPerSquareMeter(sun) : estimated.Sun,
            WetDays = known.WetDays ?? estimated.WetDays,
            WetDayCount = known.WetDays is null ? estimated.WetDayCount : WetDayCount.Trace,
        };
    }

    /// <summary>Where the numbers of a place with a weather file come from, in words.</summary>
    internal static string SourceOf(HourFile file, string alike)
    {
        HourFileMonth any = file.Months[0];
        string[] estimated =
        [
            .. new[] { any.WindMPerS is null ? "wind" : "", any.SunWPerM2 is null ? "sun" : "", any.WetDays is null ? "wet days" : "" }.Where(name => name.Length > 0),
        ];
        return $"hours of the weather file {file.FileName}"
            + (file.Origin.Length > 0 ? $" ({file.Origin})" : "")
            + (estimated.Length > 0 ? $"; {string.Join(" and ", estimated)} estimated from {alike}" : "");
    }

    private static void Require(HourlyWeather hours)
    {
        ArgumentNullException.ThrowIfNull(hours);
        if (!hours.IsWhole)
        {
            throw new ArgumentException("Expected the hours of a whole year.", nameof(hours));
        }
    }

    private static string Id(int month) => month.ToString(CultureInfo.InvariantCulture);

    private static double Rounded(double value, int digits) => Math.Round(value, digits, MidpointRounding.ToEven);

    private static IEnumerable<int> DaysOf(int month) => Enumerable.Range(YearCalendar.FirstDay[month - 1], YearCalendar.DaysInMonth[month - 1]);

    private static IEnumerable<int> HoursOf(int month) => Enumerable.Range(24 * YearCalendar.FirstDay[month - 1], 24 * YearCalendar.DaysInMonth[month - 1]);

    private static double Mean(ImmutableArray<double> values, int month) => HoursOf(month).Average(hour => values[hour]);

    private static IEnumerable<T> Day<T>(ImmutableArray<T> values, int day) => Enumerable.Range(24 * day, 24).Select(hour => values[hour]);
}

/// <summary>The hours of the weather files that a design's places name, by SHA-256.</summary>
public sealed class WeatherHours
{
    private readonly ImmutableDictionary<string, HourlyWeather> _bySha256;

    /// <param name="bySha256">Hours of whole years by the SHA-256 they are kept under.</param>
    public WeatherHours(ImmutableDictionary<string, HourlyWeather> bySha256)
    {
        ArgumentNullException.ThrowIfNull(bySha256);
        _bySha256 = bySha256.Values.All(hours => hours.IsWhole)
            ? bySha256
            : throw new ArgumentException("Expected the hours of whole years.", nameof(bySha256));
    }

    /// <summary>No hours: every place is calculated from its months.</summary>
    public static WeatherHours None { get; } = new(ImmutableDictionary<string, HourlyWeather>.Empty);

    /// <summary>The hours of a file; null when they are not here.</summary>
    public HourlyWeather? Find(HourFile file) => _bySha256.GetValueOrDefault(file.Sha256);

    /// <summary>These hours and those of one more file.</summary>
    public WeatherHours With(string sha256, HourlyWeather hours) => new(_bySha256.SetItem(sha256, hours));

    /// <summary>Names of the design's own places whose hours are not here, so that their months are used.</summary>
    public ImmutableArray<string> Missing(Design design) =>
        [.. design.OwnPlaces.Where(place => place.Hours is { } file && Find(file) is null).Select(place => place.Name)];
}
