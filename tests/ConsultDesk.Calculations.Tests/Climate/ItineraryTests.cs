using System.Collections.Immutable;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;
using CsCheck;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Climate;

public sealed class ItineraryTests
{
    private static readonly Design Van = Presets.Build("long-high", Layout.RearPlatformBed) with { Stop = Presets.StopAt("seattle", month: 1) };

    private static ItineraryStop Stay(string id, string placeKey, (int Month, int Day) from, (int Month, int Day) to) => new()
    {
        Id = id,
        PlaceKey = placeKey,
        Altitude = ClimateTable.Get(placeKey).Elevation,
        Shelter = Shelter.Ordinary,
        From = new MonthDay(from.Month, from.Day),
        To = new MonthDay(to.Month, to.Day),
    };

    private static ImmutableArray<DesignError> Errors(params ItineraryStop[] stays) => DesignCheck.Errors(Van with { Itinerary = [.. stays] });

    [Fact]
    public void A_year_without_an_itinerary_is_one_stay_at_the_stop_with_the_nights_own_cold()
    {
        YearWeather year = YearWeather.Of(Van);
        Assert.Equal(Itineraries.WholeYearId, Assert.Single(year.Stays).Stay.Id);
        Assert.Equal(Nights.At(Van).DesignTemperature.DegreesCelsius, year.DesignTemperature.DegreesCelsius, 9);
    }

    [Fact]
    public void Two_stays_switch_on_their_days_and_one_runs_over_new_year()
    {
        Design travels = Van with
        {
            Itinerary = [Stay("north", "fairbanks", (4, 16), (10, 14)), Stay("south", "phoenix", (10, 15), (4, 15))],
        };
        Assert.Empty(DesignCheck.Errors(travels));
        YearWeather year = YearWeather.Of(travels);
        YearWeather north = YearWeather.Of(Van with { Stop = Presets.StopAt("fairbanks", 1) });
        YearWeather south = YearWeather.Of(Van with { Stop = Presets.StopAt("phoenix", 1) });

        int first = 24 * YearCalendar.DayOfYear(new MonthDay(4, 16));
        int last = (24 * YearCalendar.DayOfYear(new MonthDay(10, 14))) + 23;
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            YearWeather expected = hour >= first && hour <= last ? north : south;
            Assert.Equal(expected.TemperatureC[hour], year.TemperatureC[hour]);
            Assert.Equal(expected.VapourPressurePa[hour], year.VapourPressurePa[hour]);
            Assert.Equal(expected.PressurePa[hour], year.PressurePa[hour]);
            Assert.Equal(expected.Falling[hour], year.Falling[hour]);
        }
    }

    [Fact]
    public void The_heater_is_sized_for_the_coldest_stay_and_not_for_a_winter_spent_elsewhere()
    {
        Design travels = Van with
        {
            Itinerary = [Stay("north", "fairbanks", (6, 1), (8, 31)), Stay("south", "phoenix", (9, 1), (5, 31))],
        };
        YearWeather year = YearWeather.Of(travels);
        double coldestNorthC = YearWeather.Of(Van with { Stop = Presets.StopAt("fairbanks", 1) }).DesignTemperature.DegreesCelsius;

        Assert.True(year.DesignTemperature.DegreesCelsius > coldestNorthC + 25);
        Assert.Equal(year.Stays.Min(stay => stay.DesignTemperature.DegreesCelsius), year.DesignTemperature.DegreesCelsius);
    }

    [Fact]
    public void A_stay_of_a_few_winter_days_is_sized_for_its_months_cold_whether_the_snap_falls_into_it_or_not()
    {
        Design travels = Van with
        {
            Itinerary = [Stay("north", "fairbanks", (12, 12), (12, 16)), Stay("south", "phoenix", (12, 17), (12, 11))],
        };
        double coldestNorthC = YearWeather.Of(Van with { Stop = Presets.StopAt("fairbanks", 1) }).DesignTemperature.DegreesCelsius;
        Assert.Equal(coldestNorthC, YearWeather.Of(travels).DesignTemperature.DegreesCelsius, 9);
    }

    [Fact]
    public void A_thousand_metres_up_the_year_is_six_and_a_half_kelvin_colder_and_never_over_saturation()
    {
        // Standard atmosphere, ASHRAE Fundamentals 2017 ch. 1 eq. 3 and 4.
        Place denver = ClimateTable.Get("denver");
        YearWeather low = YearWeather.Of(Van with { Stop = Presets.StopAt("denver", 1) });
        YearWeather high = YearWeather.Of(Van with { Stop = Presets.StopAt("denver", 1) with { Altitude = denver.Elevation + Length.FromMeters(1000) } });
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            Assert.Equal(6.5, low.TemperatureC[hour] - high.TemperatureC[hour], 9);
            Assert.True(high.VapourPressurePa[hour] < low.VapourPressurePa[hour]);
            Assert.True(high.PressurePa[hour] < low.PressurePa[hour]);
        }
    }

    [Fact]
    public void A_gap_between_stays_is_named_by_its_first_day()
    {
        DesignError error = Assert.Single(Errors(Stay("a", "seattle", (1, 1), (6, 10)), Stay("b", "phoenix", (6, 15), (12, 31))));
        Assert.Equal("itinerary", error.Path);
        Assert.Contains("11 June", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_gap_over_new_year_is_named_too()
    {
        DesignError error = Assert.Single(Errors(Stay("a", "seattle", (1, 2), (6, 30)), Stay("b", "phoenix", (7, 1), (12, 31))));
        Assert.Contains("1 January", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_overlap_is_named_at_the_stay_that_begins_too_early()
    {
        DesignError error = Assert.Single(Errors(Stay("a", "seattle", (1, 1), (6, 30)), Stay("b", "phoenix", (6, 20), (12, 31))));
        Assert.Equal("itinerary[b].from", error.Path);
        Assert.Contains("20 June", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_stays_from_the_same_day_are_refused() =>
        Assert.NotEmpty(Errors(Stay("a", "seattle", (1, 1), (12, 31)), Stay("b", "phoenix", (1, 1), (12, 31))));

    [Fact]
    public void A_stay_inside_another_is_refused() =>
        Assert.NotEmpty(Errors(Stay("a", "seattle", (1, 1), (12, 31)), Stay("b", "phoenix", (6, 1), (6, 30))));

    [Fact]
    public void A_single_stay_of_less_than_the_year_is_refused() => Assert.NotEmpty(Errors(Stay("a", "seattle", (1, 1), (12, 30))));

    [Fact]
    public void A_day_that_does_not_exist_an_unknown_place_and_a_used_id_are_named()
    {
        ImmutableArray<DesignError> errors = Errors(
            Stay("a", "seattle", (2, 29), (6, 30)),
            Stay("a", "seattle", (7, 1), (12, 31)) with { PlaceKey = "atlantis", Altitude = Length.FromMeters(9000) });
        Assert.Contains(errors, error => error.Path == "itinerary" && error.Message.Contains("'a'", StringComparison.Ordinal));
        Assert.Contains(errors, error => error.Path == "itinerary[a].from" && error.Message.Contains("no day 29 in month 2", StringComparison.Ordinal));
        Assert.Contains(errors, error => error.Path == "itinerary[a].placeKey" && error.Message.Contains("atlantis", StringComparison.Ordinal));
        Assert.Contains(errors, error => error.Path == "itinerary[a].altitude");
    }

    [Fact]
    public void A_polar_winter_on_a_mountain_is_refused_where_the_properties_of_air_end() => Assert.Contains(
        Errors(Stay("a", "yellowknife", (1, 1), (12, 31)) with { Altitude = Length.FromMeters(5000) }),
        error => error.Path == "itinerary[a].altitude" && error.Message.Contains("coldest night", StringComparison.Ordinal));

    // The properties of moist air end at -60 degrees Celsius: beyond it no year can be built.
    [Theory]
    [InlineData("yellowknife", true)]
    [InlineData("fairbanks", true)]
    [InlineData("fairbanks", false)]
    public void A_stay_is_refused_where_its_coldest_hour_leaves_the_properties_of_air_and_nowhere_else(string place, bool asStay)
    {
        bool snapRefused = false;
        bool accepted = false;
        for (int altitudeM = 200; altitudeM <= 5000; altitudeM += 100)
        {
            Length altitude = Length.FromMeters(altitudeM);
            Design design = asStay
                ? Van with { Itinerary = [Stay("a", place, (1, 1), (12, 31)) with { Altitude = altitude }] }
                : Van with { Itinerary = [], Stop = Van.Stop with { PlaceKey = place, Altitude = altitude } };
            DesignError? refused = DesignCheck.Errors(design).SingleOrDefault(error => error.Path == (asStay ? "itinerary[a].altitude" : "stop.altitude"));
            snapRefused |= refused?.Message.Contains("coldest hour", StringComparison.Ordinal) == true;
            if (refused is null)
            {
                accepted = true;
                Assert.All(YearWeather.Of(design).TemperatureC, value => Assert.InRange(value, -60, 60));
            }
            else
            {
                Assert.Contains(YearWeather.Of(design).TemperatureC, value => value < -60);
                break;
            }
        }

        Assert.True(accepted);
        Assert.True(snapRefused);
    }

    [Fact]
    public void No_cold_snap_lies_further_below_the_coldest_night_than_the_check_looks() => Assert.All(ClimateTable.Places, place =>
    {
        ItineraryStop stay = Stay("a", place.Key, (1, 1), (12, 31)) with { Altitude = place.Elevation };
        Assert.True(StayWeather.ColdestHourC(Van, stay, Assumptions.Likely) > Nights.ColdestNightC(place) - DesignCheck.SnapBelowNightK);
    });

    [Fact]
    public void Random_itineraries_that_follow_each_other_are_accepted_and_fill_every_hour()
    {
        Gen<int[]> cuts = Gen.Int[0, 364].Array[1, 6].Select(days => days.Distinct().Order().ToArray());
        Gen<int> place = Gen.Int[0, ClimateTable.Places.Length - 1];
        Gen.Select(cuts, place.Array[6], Gen.Double.Unit).Sample((days, places, height) =>
        {
            ItineraryStop[] stays =
            [
                .. days.Select((from, index) => Between(
                    index, from, (days[(index + 1) % days.Length] + 364) % 365, ClimateTable.Places[places[index]], 1000 * height)),
            ];
            Design design = Van with { Itinerary = [.. stays] };
            Assert.DoesNotContain(DesignCheck.Errors(design), error => error.Path.StartsWith("itinerary", StringComparison.Ordinal));
            YearWeather year = YearWeather.Of(design);
            for (int hour = 0; hour < YearWeather.Hours; hour++)
            {
                Assert.InRange(
                    year.VapourPressurePa[hour], 0.1, 0.97 * MoistAir.SaturationPressurePa(year.TemperatureC[hour]) * (1 + 1e-12));
                Assert.InRange(year.PressurePa[hour], 50_000, 106_000);
                Assert.InRange(year.StationWindMPerS[hour], 0, 25);
                Assert.False(year.Falling[hour] == Precipitation.Snow && year.TemperatureC[hour] > 1.5);
                Assert.False(year.SnowOnRoof[hour] && year.TemperatureC[hour] > 1.5);
            }

            double designC = year.DesignTemperature.DegreesCelsius;
            // Sized for the coldest few hours: at most 2 % of the year may be colder.
            Assert.InRange(year.TemperatureC.Count(t => t < designC), 0, YearWeather.Hours / 50);
        }, iter: 100);
    }

    [Fact]
    public void The_same_design_gives_the_same_bits() =>
        Assert.Equal(YearWeather.Of(Van).VapourPressurePa, YearWeather.Of(Van).VapourPressurePa);

    private static ItineraryStop Between(int index, int from, int to, Place place, double aboveM) => new()
    {
        Id = $"stay-{index}",
        PlaceKey = place.Key,
        Altitude = Length.FromMeters(place.Elevation.Meters + aboveM),
        Shelter = Shelter.Ordinary,
        From = YearCalendar.Date(from),
        To = YearCalendar.Date(to),
    };
}
