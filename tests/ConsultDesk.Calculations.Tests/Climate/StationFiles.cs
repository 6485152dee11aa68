using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Climate;

/// <summary>
/// The typical-year files themselves. Compiled only for tests/long.sh weather FOLDER (-p:StationFiles=true): a whole run leaves them out by name
/// instead of skipping them, which fails where nothing may be skipped, or passing them without a look at a file.
/// </summary>
public sealed partial class WeatherFileTests
{
    private const string Variable = "CONSULTDESK_WEATHER";

    [Theory]
    [InlineData("USA_WA_Seattle", 11.2, 6.0, -2.2, 26.7, 134, 10, 999, 1430, 1.9)]
    [InlineData("USA_AK_Fairbanks", -1.4, 15.0, -34.4, 24.4, 4408, 0, 512, 945, 1.9)]
    [InlineData("USA_AZ_Phoenix", 23.8, 9.8, 3.9, 42.2, 0, 2639, 951, 119, 1.7)]
    [InlineData("USA_FL_Miami", 24.5, 4.5, 10.0, 32.2, 0, 639, 2280, 1015, 2.2)]
    [InlineData("USA_CO_Aspen", 5.7, 10.3, -17.0, 28.0, 2744, 5, 502, 699, 1.8)]
    public void A_stations_file_has_the_numbers_the_made_year_is_held_against(
        string file, double meanC, double spreadK, double coldC, double hotC, int frost, int hot, double vapourPa, int damp, double windSpread)
    {
        Hour[] station = Station(file);
        TestContext.Current.TestOutputHelper?.WriteLine(Line(file, station));
        Assert.Equal(meanC, Mean(station, t => t.C), 0.051);
        Assert.Equal(spreadK, Spread(station, t => t.C), 0.051);
        Assert.Equal(coldC, Percentile(station, 0.004), 0.051);
        Assert.Equal(hotC, Percentile(station, 0.99), 0.051);
        Assert.Equal(frost, Count(station, t => t.C < 0));
        Assert.Equal(hot, Count(station, t => t.C > 30));
        Assert.Equal(vapourPa, Mean(station, t => t.Pa), 0.51);
        Assert.Equal(damp, Count(station, Damp));
        Assert.Equal(windSpread, Spread(station, t => t.Wind), 0.051);
    }

    [Theory]
    [InlineData("USA_WA_Seattle", 74.1, 63457, 1179)]
    [InlineData("USA_AK_Fairbanks", 68.0, 172600, 496)]
    [InlineData("USA_AZ_Phoenix", 34.3, 15763, 44954)]
    [InlineData("USA_FL_Miami", 72.5, 2865, 30039)]
    [InlineData("USA_CO_Aspen", 55.6, 113516, 1962)]
    public void A_stations_file_has_the_humidity_and_degree_hours_the_made_year_is_held_against(string file, double humidity, double below18, double above22)
    {
        Hour[] station = Station(file);
        Assert.Equal(humidity, Mean(station, Humidity), 0.051);
        Assert.Equal(below18, station.Sum(t => Math.Max(0, 18 - t.C)), 0.51);
        Assert.Equal(above22, station.Sum(t => Math.Max(0, t.C - 22)), 0.51);
    }

    private static Hour[] Station(string file)
    {
        string? folder = Environment.GetEnvironmentVariable(Variable);
        Assert.SkipUnless(Directory.Exists(folder), $"{Variable} names no folder of typical-year files; {file} is not read.");
        return ReadHours(Assert.Single(Directory.GetFiles(folder!, file + "*.epw")));
    }

    private static Hour[] ReadHours(string path)
    {
        using StreamReader text = new(path, System.Text.Encoding.Latin1);
        WeatherReading reading = WeatherFileReader.Read(text);
        Assert.Empty(reading.Errors);
        HourlyWeather hours = reading.Hours!;
        return
        [
            .. Enumerable.Range(0, YearWeather.Hours).Select(hour => new Hour(
                hours.TemperatureC[hour],
                MoistAir.SaturationPressureOverWaterPa(hours.DewPointC[hour]),
                hours.WindMPerS[hour],
                hours.SunWPerM2[hour])),
        ];
    }
}
