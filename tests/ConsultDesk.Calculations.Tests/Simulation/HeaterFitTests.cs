using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Heating;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;
using static ConsultDesk.Calculations.Tests.Simulation.HandMadeYear;

namespace ConsultDesk.Calculations.Tests.Simulation;

public sealed class HeaterFitTests
{
    private static readonly Design Van = Presets.Build("long-high", Layout.RearPlatformBed);

    [Fact]
    public void A_shut_van_is_sized_with_the_air_its_sleepers_need()
    {
        Design shut = Vans.With(Position.Shut, Position.Shut);

        HeaterFit fit = Fit(shut);

        double neededM3PerH = 2 * Defaults.Likely("night-air-per-sleeper");
        Assert.True(fit.AirAsItStands.CubicMetersPerHour < neededM3PerH);
        Assert.Equal(neededM3PerH, fit.Air.CubicMetersPerHour, 6);
        // 0.34 Wh/(m3 K) is the usual heat of a cubic metre of air at 1.2 kg/m3; cold air is denser by up to a fifth.
        double missing = neededM3PerH - fit.AirAsItStands.CubicMetersPerHour;
        double riseK = Van.Heater.NightSetPoint.DegreesCelsius - fit.DesignOutdoor.DegreesCelsius;
        Assert.InRange((double)fit.LoadAsleep.Watts - SteadyLoad(shut, fit), 0.98 * 0.34 * missing * riseK, 1.2 * 0.34 * missing * riseK);
    }

    [Fact]
    public void A_van_that_takes_in_more_than_it_needs_is_sized_with_what_it_takes_in()
    {
        Design open = Vans.With(Position.Full, Position.Full);

        HeaterFit fit = Fit(open);

        Assert.True(fit.AirAsItStands.CubicMetersPerHour > 2 * Defaults.Likely("night-air-per-sleeper"));
        Assert.Equal(fit.AirAsItStands.CubicMetersPerHour, fit.Air.CubicMetersPerHour, 9);
        Assert.Equal(SteadyLoad(open, fit), (double)fit.LoadAsleep.Watts, 6);
        Assert.True(fit.LoadAwake.Watts > fit.LoadAsleep.Watts);
    }

    [Fact]
    public void The_stay_with_least_to_spare_decides_not_the_present_stop()
    {
        HeaterFit fit = Fit(Van with
        {
            Itinerary = [Stay("coast", "seattle", 0, 4, 10), Stay("cold", "fairbanks", 1200, 11, 3)],
        });

        double coldestC = StayWeather.Of(Van, Stay("cold", "fairbanks", 1200, 11, 3), Assumptions.Likely).DesignTemperature.DegreesCelsius;
        Assert.Equal(coldestC, fit.DesignOutdoor.DegreesCelsius, 9);
        Assert.Equal(1200, fit.HighestStay.Meters, 9);
        Assert.False(fit.AboveRatedAltitude);
    }

    [Fact]
    public void A_gas_heater_gives_less_high_up_and_a_liquid_fuel_one_is_above_its_rating()
    {
        Design high = Van with { Stop = Van.Stop with { Altitude = Length.FromFeet(8000) } };

        // 4 % per 1000 ft above sea level: 1 - 0.32.
        Assert.Equal(0.68 * 2000, (double)Fit(high with { Heater = Van.Heater with { Kind = HeaterKind.RoomSealedGas } }).Gives.Watts, 6);
        HeaterFit liquid = Fit(high);
        Assert.Equal(2000, (double)liquid.Gives.Watts, 6);
        Assert.True(liquid.AboveRatedAltitude);
        Assert.False(Fit(high with { Equipment = Van.Equipment with { HeaterRatedAltitude = Length.FromMeters(3000) } }).AboveRatedAltitude);
    }

    [Fact]
    public void The_battery_lasts_its_energy_over_the_mean_heating_day()
    {
        HandMadeYear year = new(Van with { Equipment = Van.Equipment with { BatteryUsable = Energy.FromWattHours(1056) } }, 11, 12, 1, 2);
        year.Series.HeaterW.AsSpan(At(30, 0), 24).Fill(1000);
        year.Series.HeaterW.AsSpan(At(31, 0), 24).Fill(1500);

        HeaterFit fit = year.Write().HeaterFit!;

        // 22 W all day: 528 Wh.
        Assert.Equal(2, fit.HeatingDays);
        Assert.Equal(528, fit.ElectricPerDay.WattHours, 6);
        Assert.Equal(2, fit.WithoutSun!.Value.Days, 9);
        Assert.Equal((30 * 3.6 / 0.85) / 43.0, fit.FuelPerHeatingDay!.Value.Kilograms, 9);
        Assert.Null(Fit(Van).WithoutSun);
    }

    [Fact]
    public void The_draw_of_a_fan_follows_the_cube_of_its_speed_above_its_electronics()
    {
        Fan fan = Van.Openings.Single(opening => opening.Id == Presets.RoofFanId).Fan!;
        double electronicsW = Defaults.Likely("fan-electronics");
        double fullW = FanPower.FullSpeedW(fan, Assumptions.Likely);

        Assert.Equal(fullW / 8, FanPower.DrawW(fullW, electronicsW, 0.5) - electronicsW, 9);
        Assert.Equal(0, FanPower.DrawW(fullW, electronicsW, 0));
        // 24 to 60 W at about 0.42 m3/s, from memory.
        Assert.InRange(fullW, 24, 60);
    }

    [Fact]
    public void Ribs_of_metal_give_a_range_of_U_values_above_that_of_the_layers()
    {
        Assessment assessment = Assessor.Assess(Van, TestContext.Current.CancellationToken);

        foreach (AssemblyState part in assessment.Assemblies.Where(part => part.Part != "Floor"))
        {
            RibbedUValue ribbed = Assert.IsType<RibbedUValue>(part.WithRibs);
            double plain = part.UValue.WattsPerSquareMeterKelvin;
            Assert.True(plain < ribbed.Low.WattsPerSquareMeterKelvin && ribbed.Low.WattsPerSquareMeterKelvin < ribbed.High.WattsPerSquareMeterKelvin);
            Assert.NotEmpty(ribbed.Reason);
        }

        Assert.Null(assessment.Assemblies.Single(part => part.Part == "Floor").WithRibs);
    }

    private static HeaterFit Fit(Design design)
    {
        HandMadeYear year = new(design, 11, 12, 1, 2);
        return YearReport.Write(year.Series, year.Model, YearWeather.Of(design), cancellation: TestContext.Current.CancellationToken).HeaterFit!;
    }

    private static double SteadyLoad(Design design, HeaterFit fit)
    {
        Place place = ClimateTable.Get(design.Stop.PlaceKey);
        int coldest = place.Months.MinBy(month => month.Mean.DegreesCelsius)!.Month;
        NightWeather weather = Nights.At(place, coldest, design.Stop.Altitude);
        return new SteadyNight(
            new NightModel(design), DesignNight.Of(weather with { DesignTemperature = fit.DesignOutdoor }), HeaterLimit.UnlimitedW, TestContext.Current.CancellationToken)
            .Balance.HeaterW;
    }

    private static ItineraryStop Stay(string id, string place, double metres, int from, int to) => new()
    {
        Id = id,
        PlaceKey = place,
        Altitude = Length.FromMeters(metres),
        Shelter = Shelter.Ordinary,
        From = new MonthDay(from, 1),
        To = new MonthDay(to, YearCalendar.DaysInMonth[to - 1]),
    };
}
