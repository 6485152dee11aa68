using System.Globalization;
using ConsultDesk.Calculations.Climate;
using CsCheck;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Climate;

/// <summary>
/// Weather files and tables with characters lost, doubled or replaced. DAMAGED_WEATHER in the environment sets how many
/// (20,000 unless set); the seed is fixed. Most are cut after a few days, so that their lines are read but their hours
/// are not complete; every five hundredth is a whole year.
/// </summary>
public sealed class DamagedWeatherTests(ITestOutputHelper output)
{
    private const uint Seed = 20_261_130;
    private const int WholeEvery = 500;
    private const int HoursOfShort = 60;

    private static readonly string[] Scraps =
        [",", ";", "\t", "\n", "\r", "\"", "-", "1e999", "NaN", "Infinity", "999", "99.9", "-70.1", "2,29", "24", "\u0000", "\uFEFF", "\uD834", "LOCATION", "DATA PERIODS,1,1", "∞", " ", "99999999999999999999"];

    [Fact]
    public void A_damaged_file_is_read_or_refused_with_its_place_and_nothing_else_happens()
    {
        int count = int.Parse(Environment.GetEnvironmentVariable("DAMAGED_WEATHER") ?? "20000", CultureInfo.InvariantCulture);
        var random = new PCG(1, Seed);
        int Below(int limit) => (int)random.Next((uint)limit);
        string[] whole = [InventedWeather.Epw(), InventedWeather.Table(), InventedWeather.Table(";", time: true, decimalComma: true)];
        string[] begun = [.. whole.Select(text => string.Join('\n', text.Split('\n').Take(HoursOfShort)))];
        int read = 0;
        int wholeRead = 0;
        int wholeOnes = 0;
        for (int i = 0; i < count; i++)
        {
            bool isWhole = i % WholeEvery == 0;
            string text = (isWhole ? whole : begun)[Below(whole.Length)];
            for (int wounds = 1 + Below(4); wounds > 0; wounds--)
            {
                int at = Below(text.Length);
                int length = Math.Min(1 + Below(1 << Below(8)), text.Length - at);
                text = Below(4) switch
                {
                    0 => text.Remove(at, length),
                    1 => text.Insert(at, text.Substring(at, length)),
                    2 => text.Insert(at, Scraps[Below(Scraps.Length)]),
                    _ => text.Remove(at, length).Insert(at, Scraps[Below(Scraps.Length)]),
                };
            }

            try
            {
                using StringReader reader = new(text);
                WeatherReading reading = WeatherFileReader.Read(reader);
                wholeOnes += isWhole ? 1 : 0;
                if (reading.Hours is { } hours)
                {
                    read++;
                    wholeRead += isWhole ? 1 : 0;
                    Assert.Empty(reading.Errors);
                    Assert.True(hours.IsWhole);
                    Assert.All(hours.TemperatureC, value => Assert.True(WeatherFileReader.TemperatureRange.Contains(value)));
                    for (int hour = 0; hour < YearWeather.Hours; hour++)
                    {
                        Assert.True(hours.DewPointC[hour] >= WeatherFileReader.DewPointRange.Minimum && hours.DewPointC[hour] <= hours.TemperatureC[hour]);
                    }
                }
                else
                {
                    Assert.InRange(reading.Errors.Length, 1, WeatherFileReader.MostErrors);
                    Assert.All(reading.Errors, error => Assert.InRange(error.Message.Length, 20, 400));
                }
            }
            catch (Exception unexpected) when (unexpected is not Xunit.Sdk.IAssertionException)
            {
                Assert.Fail($"Text {i} threw {unexpected}\n{text[..Math.Min(text.Length, 5000)]}");
            }
        }

        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{count} damaged texts, seed {Seed}: {read} read, {count - read} refused; {wholeOnes} of them whole years, of which {wholeRead} were still read"));
        Assert.Equal(wholeRead, read);
        Assert.InRange(wholeRead, 1, wholeOnes - 1);
    }
}
