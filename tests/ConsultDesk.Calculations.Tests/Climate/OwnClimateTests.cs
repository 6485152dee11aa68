using System.Globalization;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Climate;

/// <summary>Places entered by hand: what is estimated, and how far off it is.</summary>
public sealed class OwnClimateTests
{
    private static readonly Design Van = Presets.Build("long-high", Layout.RearPlatformBed);

    // What somebody would type who read the table's means in another book.
    private static OwnPlace Repeat(Place place) => new()
    {
        Id = "typed",
        Name = "Typed",
        Country = place.Country,
        Latitude = place.Latitude,
        Elevation = place.Elevation,
        Months =
        [
            .. place.Months.Select(month => new OwnMonth(
                month.Month.ToString(CultureInfo.InvariantCulture),
                month.Mean,
                RelativeHumidity.FromPercent(100 * MoistAir.SaturationPressureOverWater(month.DewPoint).Pascals
                    / MoistAir.SaturationPressureOverWater(month.Mean).Pascals))),
        ],
    };

    private static Design At(OwnPlace own) => Van with
    {
        OwnPlaces = [own],
        Stop = Van.Stop with { PlaceKey = own.Key(), Altitude = own.Elevation },
    };

    [Theory]
    [InlineData("seattle", 1)]
    [InlineData("oban", 11)]
    [InlineData("phoenix", 7)]
    [InlineData("fairbanks", 1)]
    [InlineData("sydney", 7)]
    public void A_place_of_the_table_typed_in_again_gives_close_results(string key, int month)
    {
        Place place = ClimateTable.Get(key);
        Design table = Van with { Stop = new Stop { PlaceKey = key, Month = month, Altitude = place.Elevation, Shelter = Van.Stop.Shelter } };
        Design typed = At(Repeat(place));
        typed = typed with { Stop = typed.Stop with { Month = month } };

        NightWeather expected = Nights.At(table);
        NightWeather night = Nights.At(typed);
        Assert.Equal(expected.Temperature.DegreesCelsius, night.Temperature.DegreesCelsius, 1.0);
        Assert.Equal(expected.DewPoint.DegreesCelsius, night.DewPoint.DegreesCelsius, 1.0);
        Assert.InRange(night.StationWind / expected.StationWind, 0.75, 1.33);
        Assert.Equal(expected.DesignTemperature.DegreesCelsius, night.DesignTemperature.DegreesCelsius, 1.5);

        YearWeather meant = YearWeather.Of(table);
        YearWeather year = YearWeather.Of(typed);
        Assert.Equal(meant.TemperatureC.Average(), year.TemperatureC.Average(), 0.05);
        Assert.InRange(year.VapourPressurePa.Average() / meant.VapourPressurePa.Average(), 0.98, 1.02);
        Assert.InRange(year.SunWPerM2.Average() / meant.SunWPerM2.Average(), 0.9, 1.1);
    }

    [Fact]
    public void Its_year_condenses_about_as_much_as_the_tables()
    {
        Place seattle = ClimateTable.Get("seattle");
        Design table = Van with { Stop = Van.Stop with { PlaceKey = "seattle", Altitude = seattle.Elevation } };
        Design typed = At(Repeat(seattle));
        WetMornings expected = Assessor.AssessYear(table, YearWeather.Of(table), Assumptions.Likely, null, TestContext.Current.CancellationToken).WetMornings;
        WetMornings year = Assessor.AssessYear(typed, YearWeather.Of(typed), Assumptions.Likely, null, TestContext.Current.CancellationToken).WetMornings;

        Assert.True(expected.Count > 20);
        Assert.InRange((double)year.Count, 0.85 * expected.Count, 1.15 * expected.Count);
        Assert.InRange(year.CondensedPerNight / expected.CondensedPerNight, 0.85, 1.15);
    }

    // The bands of the rows own-place-... are these errors: every place of the table estimated as if it were not in it.
    [Fact]
    public void Places_estimated_without_themselves_are_off_by_what_the_defaults_say()
    {
        List<double> range = [];
        List<double> wind = [];
        List<double> sun = [];
        List<double> wetDays = [];
        foreach (Place place in ClimateTable.Places)
        {
            Place estimated = OwnClimate.Of(Repeat(place), Assumptions.Likely, without: place.Key);
            foreach ((MonthNormals known, MonthNormals month) in place.Months.Zip(estimated.Months))
            {
                range.Add(Math.Log((month.MeanMaximum - month.MeanMinimum).Kelvins / (known.MeanMaximum - known.MeanMinimum).Kelvins));
                wind.Add(Math.Log(month.Wind / known.Wind));
                sun.Add(Math.Log(month.Sun / known.Sun));
                wetDays.Add(month.WetDays - known.WetDays);
            }
        }

        Assert.InRange(Rms(range), 0.17, 0.23);
        Assert.InRange(Rms(wind), 0.27, 0.34);
        Assert.InRange(Rms(sun), 0.08, 0.13);
        Assert.InRange(Rms(wetDays), 3.5, 4.5);
        Assert.All([range.Average(), wind.Average(), sun.Average()], bias => Assert.InRange(bias, -0.06, 0.06));
    }

    // Magnus-Tetens, ASHRAE psychrometric chart 1: air of 20 degrees and 50 % has a dew point of 9.3 degrees (recalled).
    [Fact]
    public void Its_dew_point_is_that_of_its_mean_air()
    {
        OwnPlace own = Repeat(ClimateTable.Get("lisbon"));
        own = own with
        {
            Months = [.. own.Months.Select(month => month with { Mean = Temperature.FromDegreesCelsius(20), Humidity = RelativeHumidity.FromPercent(50) })],
        };
        Assert.All(OwnClimate.Of(own, Assumptions.Likely).Months, month => Assert.Equal(9.3, month.DewPoint.DegreesCelsius, 0.1));
    }

    [Fact]
    public void The_same_place_across_the_equator_has_its_weather_half_a_year_later()
    {
        OwnPlace north = Repeat(ClimateTable.Get("geneva"));
        OwnPlace south = north with
        {
            Latitude = -north.Latitude,
            Months = [.. north.Months.Select(month => month with { Id = ((int.Parse(month.Id, CultureInfo.InvariantCulture) + 5) % 12 + 1).ToString(CultureInfo.InvariantCulture) })],
        };
        Place summer = OwnClimate.Of(north, Assumptions.Likely);
        Place winter = OwnClimate.Of(south, Assumptions.Likely);
        for (int month = 1; month <= 12; month++)
        {
            MonthNormals expected = summer.Month(month);
            MonthNormals actual = winter.Month(((month + 5) % 12) + 1);
            Assert.Equal(expected.Mean.DegreesCelsius, actual.Mean.DegreesCelsius, 9);
            Assert.Equal(expected.Wind.MetersPerSecond, actual.Wind.MetersPerSecond, 9);
            // The sun is nearer in January: 7 % between perihelion and aphelion.
            Assert.InRange(actual.Sun / expected.Sun, 0.9, 1.1);
        }
    }

    [Fact]
    public void A_polar_night_has_no_sun_and_still_a_year()
    {
        OwnPlace own = Repeat(ClimateTable.Get("fairbanks")) with { Latitude = Angle.FromDegrees(72) };
        YearWeather year = YearWeather.Of(At(own));
        Assert.All(year.SunWPerM2, sun => Assert.True(double.IsFinite(sun) && sun >= 0));
        Assert.Equal(0, year.SunWPerM2[..(24 * 10)].Sum());
        Assert.True(year.SunWPerM2[(24 * 160)..(24 * 180)].Average() > 50);
    }

    [Fact]
    public void More_assumed_wind_is_more_wind_and_nothing_else()
    {
        OwnPlace own = Repeat(ClimateTable.Get("oban"));
        Place likely = OwnClimate.Of(own, Assumptions.Likely);
        Place windy = OwnClimate.Of(own, Assumptions.Likely.With("own-place-wind", 1.4));
        Assert.All(likely.Months.Zip(windy.Months), pair =>
        {
            Assert.Equal(1.4 * pair.First.Wind.MetersPerSecond, pair.Second.Wind.MetersPerSecond, 9);
            Assert.Equal(pair.First.Mean.DegreesCelsius, pair.Second.Mean.DegreesCelsius, 9);
        });
    }

    [Fact]
    public void A_place_without_its_twelve_months_is_refused()
    {
        OwnPlace own = Repeat(ClimateTable.Get("oban"));
        own = own with { Months = own.Months[..11] };
        Assert.False(DesignPlaces.Contains(At(own), own.Key()));
        ArgumentException error = Assert.Throws<ArgumentException>(() => DesignPlaces.Get(At(own), own.Key()));
        Assert.Contains("twelve months", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_stop_at_an_own_place_passes_the_check_and_one_nobody_entered_does_not()
    {
        Design typed = At(Repeat(ClimateTable.Get("oban")));
        Assert.DoesNotContain(DesignCheck.Errors(typed), error => error.Path == "stop.placeKey");
        Assert.Contains(DesignCheck.Errors(typed with { OwnPlaces = [] }), error => error.Path == "stop.placeKey");
    }

    private static double Rms(List<double> errors) => Math.Sqrt(errors.Average(error => error * error));
}
