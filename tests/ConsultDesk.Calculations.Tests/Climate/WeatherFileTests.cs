using System.Globalization;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Climate;

/// <summary>
/// The made year against the hours of the typical-year files its monthly means were taken from (TMY3 of NREL, in the
/// folder that the environment variable CONSULTDESK_WEATHER names; they are not in the repository, so this runs only
/// when asked: <c>-explicit only</c>). It prints the table of docs/method/climate.md.
/// </summary>
public sealed class WeatherFileTests
{
    private const string Variable = "CONSULTDESK_WEATHER";

    [Theory(Explicit = true)]
    [InlineData("seattle", "USA_WA_Seattle")]
    [InlineData("fairbanks", "USA_AK_Fairbanks")]
    [InlineData("phoenix", "USA_AZ_Phoenix")]
    [InlineData("miami", "USA_FL_Miami")]
    [InlineData("aspen", "USA_CO_Aspen")]
    public void The_made_year_is_as_cold_as_damp_and_as_sunny_as_the_stations_hours(string key, string file)
    {
        string? folder = Environment.GetEnvironmentVariable(Variable);
        Assert.False(string.IsNullOrEmpty(folder), $"{Variable} names no folder with the typical-year files.");
        string path = Assert.Single(Directory.GetFiles(folder, file + "*.epw"));
        Hour[] station = ReadHours(path);
        YearWeather year = YearWeather.Of(Presets.Build("long-high", Layout.RearPlatformBed) with { Stop = Presets.StopAt(key, 1) });
        Hour[] made = [.. Enumerable.Range(0, YearWeather.Hours).Select(hour => new Hour(
            year.TemperatureC[hour], year.VapourPressurePa[hour], year.StationWindMPerS[hour], year.SunWPerM2[hour]))];

        TestContext.Current.TestOutputHelper?.WriteLine(Line(key + ", file", station));
        TestContext.Current.TestOutputHelper?.WriteLine(Line(key + ", made", made));

        // Means are right by construction; the table has tenths, and its maxima and minima are of the same file.
        Assert.InRange(Mean(made, t => t.C) - Mean(station, t => t.C), -0.1, 0.1);
        Assert.InRange(Mean(made, t => t.Pa) / Mean(station, t => t.Pa), 0.95, 1.03);
        Assert.InRange(Mean(made, t => t.Sun) / Mean(station, t => t.Sun), 0.98, 1.02);
        Assert.InRange(Spread(made, t => t.C) / Spread(station, t => t.C), 0.93, 1.05);
        Assert.InRange(Spread(made, t => t.Wind) / Spread(station, t => t.Wind), 0.75, 1.25);
        Assert.InRange(Percentile(made, 0.004) - Percentile(station, 0.004), -5, 5);
        Assert.InRange(Percentile(made, 0.99) - Percentile(station, 0.99), -3, 3);
        // Damp hours are good to a factor of two where there are many; a desert's few are missed (docs say so).
        int damp = Count(station, Damp);
        if (damp > 500)
        {
            Assert.InRange((double)Count(made, Damp) / damp, 0.5, 2);
        }
    }

    private static bool Damp(Hour hour) => hour.Pa > 0.9 * MoistAir.SaturationPressureOverWaterPa(hour.C);

    private static string Line(string name, Hour[] hours) => string.Create(
        CultureInfo.InvariantCulture,
        $"| {name} | {Mean(hours, t => t.C):F1} | {Spread(hours, t => t.C):F1} | {hours.Min(t => t.C):F1} | {Percentile(hours, 0.004):F1} | {Percentile(hours, 0.99):F1} | {Count(hours, t => t.C < 0)} | {Count(hours, t => t.C > 30)} | {Mean(hours, t => t.Pa):F0} | {Count(hours, Damp)} | {Count(hours, t => t.Pa > 0.9 * MoistAir.SaturationPressurePa(t.C))} | {Mean(hours, t => t.Wind):F1} | {Spread(hours, t => t.Wind):F1} | {hours.Max(t => t.Sun):F0} |");

    private static Hour[] ReadHours(string path)
    {
        // Some of the files end lines with stray carriage returns.
        string[] lines = File.ReadAllText(path, System.Text.Encoding.Latin1).Split(['\r', '\n'], StringSplitOptions.RemoveEmptyEntries);
        Hour[] hours =
        [
            .. lines.Skip(8).Select(line => line.Split(',')).Select(cells =>
            {
                double temperatureC = Number(cells[6]);
                // The dew point of these files is over water in frost too.
                double vapourPa = MoistAir.SaturationPressureOverWaterPa(Math.Min(Number(cells[7]), temperatureC));
                return new Hour(temperatureC, vapourPa, Number(cells[21]), Number(cells[13]));
            }),
        ];
        Assert.Equal(YearWeather.Hours, hours.Length);
        return hours;
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static double Mean(Hour[] hours, Func<Hour, double> value) => hours.Average(value);

    private static double Spread(Hour[] hours, Func<Hour, double> value)
    {
        double mean = Mean(hours, value);
        return Math.Sqrt(hours.Average(hour => Math.Pow(value(hour) - mean, 2)));
    }

    private static int Count(Hour[] hours, Func<Hour, bool> holds) => hours.Count(holds);

    private static double Percentile(Hour[] hours, double share)
    {
        double[] sorted = [.. hours.Select(hour => hour.C).Order()];
        return sorted[(int)Math.Round(share * (sorted.Length - 1))];
    }

    private readonly record struct Hour(double C, double Pa, double Wind, double Sun);
}
