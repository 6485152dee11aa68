using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Climate;

public sealed class ClimateTests
{
    [Fact]
    public void Every_place_has_twelve_months_in_order_and_names_its_source()
    {
        Assert.True(ClimateTable.Places.Length >= 50);
        foreach (Place place in ClimateTable.Places)
        {
            Assert.Equal(Enumerable.Range(1, 12), place.Months.Select(month => month.Month));
            Assert.NotEmpty(place.Source);
            Assert.All(place.Months, month =>
            {
                Assert.InRange(month.Mean.DegreesCelsius, month.MeanMinimum.DegreesCelsius, month.MeanMaximum.DegreesCelsius);
                Assert.InRange(month.Wind.MetersPerSecond, 0.1, 12);
            });
        }
    }

    [Fact]
    public void The_day_shape_has_no_mean_and_spans_the_days_range()
    {
        // A full day from maximum to maximum, and a moment at the minimum.
        Assert.Equal(0, DayShape.Mean(14.5, 14.5), 12);
        Assert.Equal(-0.5, DayShape.Mean(28.999, 5.001), 3);
    }

    [Fact]
    public void A_night_is_colder_than_the_days_mean_by_over_a_third_of_its_range()
    {
        // Integral of the two half cosines from 22:30 to 06:30 by hand: (-2.2773 - 0.7196) / 8.
        Assert.Equal(-0.3746, DayShape.Mean(Nights.BedTime, Nights.RisingTime), 4);
    }

    [Fact]
    public void The_outdoor_air_of_every_mean_night_is_below_saturation()
    {
        foreach (Place place in ClimateTable.Places)
        {
            for (int month = 1; month <= 12; month++)
            {
                foreach (double altitudeM in (double[])[0, 1500, 3500])
                {
                    NightWeather night = Nights.At(place, month, Length.FromMeters(altitudeM));
                    Assert.True(night.DewPoint.DegreesCelsius < night.Temperature.DegreesCelsius, $"{place.Name} {month}");
                }
            }
        }
    }

    [Fact]
    public void A_thousand_metres_up_it_is_six_and_a_half_kelvin_colder()
    {
        Place place = ClimateTable.Get("denver");
        NightWeather low = Nights.At(place, 1, place.Elevation);
        NightWeather high = Nights.At(place, 1, place.Elevation + Length.FromMeters(1000));

        // Standard atmosphere, ASHRAE Fundamentals 2017 ch. 1 eq. 4.
        Assert.Equal(6.5, low.Temperature.DegreesCelsius - high.Temperature.DegreesCelsius, 9);
        Assert.Equal(6.5, low.DesignTemperature.DegreesCelsius - high.DesignTemperature.DegreesCelsius, 9);
        Assert.True(high.Pressure.Pascals < low.Pressure.Pascals);
    }

    [Theory]
    // Annual 99.6 % heating temperature of the typical-year files, read from the hourly values (files named in the table).
    [InlineData("seattle", -2.2)]
    [InlineData("fairbanks", -34.4)]
    [InlineData("winnipeg", -31.7)]
    [InlineData("phoenix", 3.9)]
    [InlineData("miami", 10.0)]
    [InlineData("aspen", -17.0)]
    [InlineData("london-gatwick", -4.4)]
    public void The_design_night_lies_within_six_kelvin_of_the_stations_coldest_hours(string place, double coldestC)
    {
        Assert.InRange(Nights.ColdestNightC(ClimateTable.Get(place)), coldestC - 6, coldestC + 6);
    }

    [Fact]
    public void A_place_that_is_not_in_the_table_is_refused_by_name()
    {
        ArgumentException error = Assert.Throws<ArgumentException>(() => Nights.At(Presets.Build("long-high", Layout.RearPlatformBed) with { Stop = Presets.DefaultStop with { PlaceKey = "atlantis" } }));
        Assert.Contains("atlantis", error.Message, StringComparison.Ordinal);
    }
}
