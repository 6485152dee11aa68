using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Climate;

public sealed class YearWeatherTests
{
    private static YearWeather At(string placeKey) => YearWeather.Of(VanAt(placeKey));

    private static Design VanAt(string placeKey)
    {
        Design van = Presets.Build(BodyClasses.All[0].Key, Layout.RearPlatformBed);
        return van with
        {
            Itinerary = [],
            Stop = van.Stop with { PlaceKey = placeKey, Altitude = ClimateTable.Get(placeKey).Elevation },
        };
    }

    public static TheoryData<string> Places => [.. ClimateTable.Places.Select(place => place.Key)];

    [Theory]
    [MemberData(nameof(Places))]
    public void The_hours_of_a_month_have_the_means_of_the_climate_table(string key)
    {
        Place place = ClimateTable.Get(key);
        YearWeather year = At(key);
        for (int month = 1; month <= 12; month++)
        {
            MonthNormals normals = place.Month(month);
            Assert.Equal(normals.Mean.DegreesCelsius, Mean(year.TemperatureC, month), 1e-6);
            Assert.Equal(normals.Wind.MetersPerSecond, Mean(year.StationWindMPerS, month), 1e-6);
            Assert.Equal(normals.Sun.WattsPerSquareMeter, Mean(year.SunWPerM2, month), 1e-6);
        }
    }

    [Theory]
    [MemberData(nameof(Places))]
    public void The_mean_dew_point_is_that_of_the_table_unless_saturation_forbids_it(string key)
    {
        Place place = ClimateTable.Get(key);
        YearWeather year = At(key);
        double[] dewPointC = [.. year.VapourPressurePa.Select(MoistAir.DewPointOverWaterC)];
        double[] ceilingC = [.. year.TemperatureC.Select(t => MoistAir.DewPointOverWaterC(0.97 * MoistAir.SaturationPressurePa(t)))];
        for (int month = 1; month <= 12; month++)
        {
            double wantedC = place.Month(month).DewPoint.DegreesCelsius;
            double missingK = wantedC - Mean(dewPointC, month);
            double room = Mean(ceilingC, month) - wantedC;
            // The table gives tenths.
            Assert.True(Math.Abs(missingK) < 0.1 || room < 1, $"{key} {month}: {missingK:F2} K below the table with {room:F2} K of room");
        }
    }

    [Theory]
    [MemberData(nameof(Places))]
    public void The_air_never_holds_more_than_saturation_over_ice_in_frost(string key)
    {
        YearWeather year = At(key);
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            Assert.InRange(year.VapourPressurePa[hour], 0.1, 0.97 * MoistAir.SaturationPressurePa(year.TemperatureC[hour]) * (1 + 1e-12));
            Assert.InRange(year.StationWindMPerS[hour], 0, 25);
            Assert.InRange(year.SunWPerM2[hour], 0, 1361);
        }
    }

    [Theory]
    [MemberData(nameof(Places))]
    public void No_hour_jumps_and_the_year_joins_its_own_beginning(string key)
    {
        Place place = ClimateTable.Get(key);
        YearWeather year = At(key);
        double rangeK = place.Months.Max(month => month.MeanMaximum.DegreesCelsius - month.MeanMinimum.DegreesCelsius);
        double spreadK = Enumerable.Range(1, 12).Max(month => PlaceYear.SpreadK(place, month, Assumptions.Likely));
        // Steepest hour of the day's shape with the widest range, and a snap's whole depth in a day.
        double steepestK = (1.3 * rangeK * Math.PI / (2 * 9.5)) + (2 * 2.5 * spreadK / 24);
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            double nextC = year.TemperatureC[(hour + 1) % YearWeather.Hours];
            Assert.InRange(nextC - year.TemperatureC[hour], -steepestK, steepestK);
        }
    }

    private static double Mean(double[] hours, int month)
    {
        int first = 24 * YearCalendar.FirstDay[month - 1];
        return hours.AsSpan(first, 24 * YearCalendar.DaysInMonth[month - 1]).ToArray().Average();
    }
}
