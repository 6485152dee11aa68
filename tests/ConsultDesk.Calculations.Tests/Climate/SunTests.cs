using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Climate;

public sealed class SunTests
{
    public static TheoryData<string> Places => [.. ClimateTable.Places.Select(place => place.Key)];

    [Theory]
    [MemberData(nameof(Places))]
    public void The_sun_shines_only_while_it_is_up_and_never_brighter_than_outside_the_atmosphere(string key)
    {
        Place place = ClimateTable.Get(key);
        YearWeather year = YearWeather.Of(Presets.Build("long-high", Layout.RearPlatformBed) with { Stop = Presets.StopAt(key, 1) });
        double toMeanTimeHours = (place.Longitude.Degrees / 15) - Math.Round(place.Longitude.Degrees / 15);
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            // The highest the sun stands in the hour, on a fine grid.
            double highest = Enumerable.Range(0, 13)
                .Max(part => Math.Cos(SolarPosition.Zenith(Wrapped((hour + (part / 12.0) + toMeanTimeHours) / 24), place.Latitude).Radians));
            double sun = year.SunWPerM2[hour];
            Assert.True(sun == 0 || highest > -0.001, $"hour {hour}: {sun} W/m2 with the sun down");
            Assert.True(sun <= 1415 * Math.Max(highest, 0.004), $"hour {hour}: {sun} W/m2 with the sun at {highest}");
        }
    }

    [Fact]
    public void Summer_days_are_longer_north_and_south_of_the_equator()
    {
        Assert.True(Daylight("seattle", 6) > Daylight("seattle", 12) + 150);
        Assert.True(Daylight("sydney", 12) > Daylight("sydney", 6) + 90);
    }

    private static int Daylight(string key, int month)
    {
        YearWeather year = YearWeather.Of(Presets.Build("long-high", Layout.RearPlatformBed) with { Stop = Presets.StopAt(key, 1) });
        return year.SunWPerM2.AsSpan(24 * YearCalendar.FirstDay[month - 1], 24 * 30).ToArray().Count(sun => sun > 0);
    }

    private static double Wrapped(double day) => (day + YearWeather.Days) % YearWeather.Days;
}
