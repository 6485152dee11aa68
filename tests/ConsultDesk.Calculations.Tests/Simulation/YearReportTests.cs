using System.Collections.Immutable;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Comfort;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using CsCheck;
using UnitsNet;
using Xunit;
using static ConsultDesk.Calculations.Tests.Simulation.HandMadeYear;

namespace ConsultDesk.Calculations.Tests.Simulation;

public sealed class YearReportTests
{
    private static readonly Design Van = Presets.Build("long-high", Layout.RearPlatformBed);

    private static HandMadeYear NorthernYear(Design? design = null) => new(design ?? Van, 11, 12, 1, 2);

    [Fact]
    public void A_morning_is_wet_from_5_g_per_m2_at_seven()
    {
        HandMadeYear year = NorthernYear();
        year.Series.SurfaceFilmKgPerM2[At(0, day: 10, hour: 6)] = 0.00499;
        year.Series.SurfaceFilmKgPerM2[At(0, day: 11, hour: 6)] = 0.005;
        year.Series.SurfaceFilmKgPerM2[At(0, day: 12, hour: 5)] = 0.05;
        year.Series.SurfaceFilmKgPerM2[At(0, day: 13, hour: 7)] = 0.05;

        YearAssessment written = year.Write();

        Assert.Equal(1, written.Surfaces[0].WetMornings);
        Assert.Equal(1, written.WetMornings.Count);
        Assert.Equal([11], Enumerable.Range(0, 365).Where(day => written.Days[day].WetMorning));
    }

    [Fact]
    public void A_morning_after_a_night_nobody_slept_in_the_van_is_no_wet_morning_of_the_count()
    {
        HandMadeYear year = NorthernYear();
        year.Series.Asleep.AsSpan(At(99, 12), 24).Clear();
        year.Series.SurfaceFilmKgPerM2[At(0, day: 100, hour: 6)] = 0.02;

        YearAssessment written = year.Write();

        Assert.Equal(0, written.WetMornings.Count);
        Assert.Equal(364, written.WetMornings.Nights);
        Assert.True(written.Days[100].WetMorning);
        Assert.False(written.Days[100].Slept);
    }

    [Fact]
    public void The_surface_with_most_wet_mornings_gives_its_name()
    {
        HandMadeYear year = NorthernYear();
        for (int day = 0; day < 20; day++)
        {
            year.Series.SurfaceFilmKgPerM2[At(2, day, 6)] = 0.006;
        }

        WetMornings wet = year.Write().WetMornings;

        Assert.Equal((20, 365, year.Model.Surfaces[2].Name), (wet.Count, wet.Nights, wet.SurfaceName));
        Assert.Equal((20, 120), (wet.ColdSeasonCount, wet.ColdSeasonNights));
    }

    [Theory]
    [InlineData(11, 12, 1, 2)]
    [InlineData(5, 6, 7, 8)]
    public void The_condensed_grams_of_a_night_are_the_mean_of_the_cold_season_wherever_it_lies(params int[] winter)
    {
        HandMadeYear year = new(Van, winter);
        double areaM2 = year.Model.Surfaces[0].AreaM2;
        for (int day = 0; day < 365; day++)
        {
            bool cold = winter.Contains(YearCalendar.Month(day));
            year.Series.SurfaceCondensedKgPerM2[At(0, day, 3)] = (cold ? 0.1 : 0.02) / areaM2;
        }

        WetMornings wet = year.Write().WetMornings;

        Assert.Equal(0.1, wet.CondensedPerNight.Kilograms, 12);
    }

    [Fact]
    public void What_condenses_in_the_evening_belongs_to_the_next_mornings_night_also_over_new_year()
    {
        HandMadeYear year = NorthernYear();
        year.Series.SurfaceCondensedKgPerM2[At(0, day: 40, hour: 12)] = 0.01;
        year.Series.SurfaceCondensedKgPerM2[At(0, day: 60, hour: 11)] = 0.02;
        year.Series.SurfaceCondensedKgPerM2[At(0, day: 364, hour: 23)] = 0.03;
        double areaM2 = year.Model.Surfaces[0].AreaM2;

        YearAssessment written = year.Write();

        Assert.Equal(10 * areaM2, written.Days[41].CondensedG, 4);
        Assert.Equal(20 * areaM2, written.Days[60].CondensedG, 4);
        Assert.Equal(30 * areaM2, written.Days[0].CondensedG, 4);
    }

    [Fact]
    public void The_nights_and_the_surfaces_add_up_to_the_years_condensed_water()
    {
        Gen.Double.Unit.Array[8760].Sample(
            shares =>
            {
                HandMadeYear year = NorthernYear();
                for (int k = 0; k < year.Series.SurfaceCondensedKgPerM2.Length; k++)
                {
                    year.Series.SurfaceCondensedKgPerM2[k] = 0.001 * shares[(7 * k) % 8760];
                }

                YearAssessment written = year.Write();

                double wholeKg = written.Condensed.Kilograms;
                Assert.Equal(wholeKg, written.Surfaces.Sum(surface => surface.Condensed.Kilograms), 1e-9 * wholeKg);
                Assert.Equal(wholeKg, written.Days.Sum(day => (double)day.CondensedG) / 1000, 1e-5 * wholeKg);
            },
            iter: 5);
    }

    [Theory]
    [InlineData(100, 30, 10, 20)]
    [InlineData(360, 20, 2, 18)]
    [InlineData(364, 3, 0, 3)]
    public void A_skin_dries_from_its_peak_to_the_end_of_its_wet_spell_also_over_new_year(int first, int wetDays, int peakDay, double days)
    {
        HandMadeYear year = NorthernYear();
        for (int hour = 0; hour < 24 * wetDays; hour++)
        {
            int at = (At(first, 0) + hour) % YearWeather.Hours;
            year.Series.SkinFilmKgPerM2[at] = hour == 24 * peakDay ? 0.2 : 0.1;
        }

        SkinYear skin = year.Write().Skins[0];

        Assert.Equal(days, skin.DaysToDry.Days, 9);
        Assert.Equal(24 * wetDays, skin.WetHours);
        Assert.Equal(0.2, skin.PeakPerSquareMetre.Kilograms, 12);
        Assert.False(skin.Accumulates);
    }

    [Fact]
    public void A_skin_that_never_dries_takes_the_whole_year_and_accumulates_when_it_ends_wetter()
    {
        HandMadeYear year = NorthernYear();
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            year.Series.SkinFilmKgPerM2[hour] = 0.1 + (1e-5 * hour);
            year.Series.SkinFilmKgPerM2[YearWeather.Hours + hour] = 0.1;
        }

        year.Series.SkinFilmAtStartKgPerM2[0] = 0.1;
        year.Series.SkinFilmAtStartKgPerM2[1] = 0.1;

        YearAssessment written = year.Write();

        Assert.Equal(365, written.Skins[0].DaysToDry.Days, 9);
        Assert.True(written.Skins[0].Accumulates);
        Assert.Equal(365, written.Skins[1].DaysToDry.Days, 9);
        Assert.False(written.Skins[1].Accumulates);
        Assert.Equal(0, written.Skins[2].DaysToDry.Days, 9);
    }

    [Fact]
    public void The_mattress_is_the_skin_after_the_last_lining()
    {
        HandMadeYear year = NorthernYear();
        int mattress = (year.Series.SkinC.Length / YearWeather.Hours) - 1;
        year.Series.SkinHumidityShare.AsSpan(At(mattress, 5, 0), 48).Fill(0.9);
        year.Series.SkinFilmKgPerM2.AsSpan(At(mattress, 5, 0), 12).Fill(0.03);

        MattressYear written = Assert.IsType<MattressYear>(year.Write().Mattress);

        Assert.Equal((48, 12), (written.HoursAbove80, written.WetHours));
        Assert.Equal(0.03, written.PeakPerSquareMetre.Kilograms, 12);
    }

    [Fact]
    public void Damp_hours_count_always_and_dry_ones_only_with_people_in_the_van()
    {
        HandMadeYear year = NorthernYear();
        double saturationPa = MoistAir.SaturationPressurePa(15);
        year.Series.ZoneVapourPressurePa.AsSpan(At(50, 0), 24).Fill(0.81 * saturationPa);
        year.Series.ZoneVapourPressurePa.AsSpan(At(60, 0), 24).Fill(0.29 * saturationPa);

        ZoneYear zone = year.Write().Zones[0];

        Assert.Equal((24, 15), (zone.HoursAbove80, zone.HoursBelow30));
    }

    [Fact]
    public void A_night_is_hot_with_two_hours_asleep_that_feel_warmer_than_still_air_at_the_threshold()
    {
        HandMadeYear year = NorthernYear();
        double hot = Defaults.Likely("hot-night-threshold") + 0.5;
        WarmBed(year, At(200, 23), hot);
        WarmBed(year, At(201, 1), hot);
        WarmBed(year, At(210, 2), hot);
        WarmBed(year, At(211, 14), hot + 10);

        YearAssessment written = year.Write();

        Assert.Equal((3, 1), (written.HotNights.Hours, written.HotNights.Nights));
        Assert.Equal(2, written.Days[201].HotHours);
        Assert.Equal(hot, written.HotNights.Hottest.DegreesCelsius, 9);
        Assert.Equal(hot, written.HotNights.Felt.DegreesCelsius, 3);
    }

    [Fact]
    public void Moving_air_cools_a_sleeper_and_damp_air_and_warm_walls_do_not()
    {
        double under = Defaults.Likely("hot-night-threshold") - 0.3;
        Assert.Equal(0, Night(under, (_, _) => { }).Hours);
        Assert.Equal(8, Night(under + 1, (_, _) => { }).Hours);
        HotNights moving = Night(under + 1, (year, hour) => year.Series.BedAirSpeedMPerS[hour] = 0.5);
        Assert.Equal(0, moving.Hours);
        Assert.Equal(0.5, moving.AirSpeed.MetersPerSecond, 9);
        Assert.Equal(8, Night(under, (year, hour) => year.Series.ZoneVapourPressurePa[(year.Model.FirstOf(ZoneKind.Sleeping) * HandMadeYear.Hours) + hour] *= 1.9).Hours);
        Assert.Equal(8, Night(under, (year, hour) => Walls(year, hour, under + 4)).Hours);

        static HotNights Night(double airC, Action<HandMadeYear, int> change)
        {
            HandMadeYear year = NorthernYear();
            for (int hour = At(200, 22); hour < At(201, 6); hour++)
            {
                WarmBed(year, hour, airC);
                change(year, hour);
            }

            return year.Write().HotNights;
        }
    }

    // Where states are told hot or not without the equations, the equations say the same.
    [Fact]
    public void What_is_hot_for_sure_is_hot_by_the_equations()
    {
        Random random = new(20261201);
        int[] told = [0, 0, 0];
        for (int round = 0; round < 3000; round++)
        {
            double thresholdC = 24 + (4 * random.NextDouble());
            double clo = Defaults.Get("night-clothing").Low + (random.NextDouble() * (Defaults.Get("night-clothing").High - Defaults.Get("night-clothing").Low));
            ComfortState still = CoolingEffect.StillAt(thresholdC, NightHeat.SleepingMet, clo);
            ComfortState state = new(
                thresholdC + (4 * (random.NextDouble() - 0.5)),
                thresholdC + (4 * (random.NextDouble() - 0.5)),
                random.Next(2) * random.NextDouble(),
                still.VapourPressurePa * (0.5 + random.NextDouble()),
                NightHeat.SleepingMet,
                clo);
            bool? sure = NightHeat.SurelyHot(state, still);
            told[sure is null ? 0 : sure.Value ? 1 : 2]++;
            if (sure is bool hot)
            {
                Assert.Equal(hot, NightHeat.SetC(state) > NightHeat.HotSetC(thresholdC, clo));
            }
        }

        Assert.All(told, count => Assert.InRange(count, 100, 3000));
    }

    [Fact]
    public void No_hour_as_far_below_the_threshold_as_is_left_out_feels_hot()
    {
        foreach (double clo in new[] { Defaults.Get("night-clothing").Low, Defaults.Get("night-clothing").High })
        {
            double airC = 26 - NightHeat.CertainlyCoolerByK;
            Assert.True(Comfort(ComfortState.At(airC, airC + 2, 0, 100, NightHeat.SleepingMet, clo)) < 26);
        }

        static double Comfort(ComfortState state) => CoolingEffect.FeltC(state);
    }

    [Fact]
    public void Mould_grows_on_the_surface_that_is_damp_and_warm_and_not_on_the_others()
    {
        HandMadeYear year = NorthernYear();
        int rows = year.Series.SkinC.Length / HandMadeYear.Hours;
        Assert.All(year.Write().Mould, surface => Assert.Equal(0, surface.Index));

        year.Series.SkinC.AsSpan((rows - 1) * HandMadeYear.Hours, HandMadeYear.Hours).Fill(20);
        year.Series.SkinHumidityShare.AsSpan((rows - 1) * HandMadeYear.Hours, 24 * 90).Fill(0.97);
        year.Series.SkinHumidityShare.AsSpan(((rows - 1) * HandMadeYear.Hours) + (24 * 90), HandMadeYear.Hours - (24 * 90)).Fill(0.5);
        ImmutableArray<MouldSurface> mould = year.Write().Mould;

        Assert.Equal(MouldPlace.Mattress, mould[0].Place);
        // Sensitive, 20 degrees, 97 %, 90 days from clean: 3.636 by the exact integral of the published equation.
        Assert.Equal(3.636, mould[0].Index, 2);
        Assert.True(mould[0].ThirdYear > mould[0].Index);
        Assert.All(mould.Skip(1), surface => Assert.Equal(0, surface.Index));
        Assert.Equal(mould.Length, mould.Select(surface => surface.Place).Distinct().Count());
    }

    // Bed air and every face before it at one temperature, half saturated.
    private static void WarmBed(HandMadeYear year, int hour, double celsius)
    {
        int bed = year.Model.FirstOf(ZoneKind.Sleeping);
        year.Series.ZoneC[(bed * HandMadeYear.Hours) + hour] = celsius;
        year.Series.ZoneVapourPressurePa[(bed * HandMadeYear.Hours) + hour] = 0.5 * MoistAir.SaturationPressurePa(celsius);
        Walls(year, hour, celsius);
    }

    private static void Walls(HandMadeYear year, int hour, double celsius)
    {
        for (int at = hour; at < year.Series.SurfaceC.Length; at += HandMadeYear.Hours)
        {
            year.Series.SurfaceC[at] = celsius;
        }

        for (int at = hour; at < year.Series.SkinC.Length; at += HandMadeYear.Hours)
        {
            year.Series.SkinC[at] = celsius;
        }
    }

    [Fact]
    public void A_day_of_heat_takes_its_fuel_and_its_current()
    {
        // 2 kW class: 0.85 of 43.0 MJ/kg, 22 W while it runs; 1000 W is above its lowest setting of 850 W.
        HandMadeYear year = NorthernYear();
        year.Series.HeaterW.AsSpan(At(30, 0), 24).Fill(1000);
        year.Weather.TemperatureC.AsSpan(At(30, 0), 24).Fill(-10);
        year.Series.FanW.AsSpan(At(31, 0), 24).Fill(10);

        YearAssessment written = year.Write();

        Assert.Equal(86.4 / 0.85 / 43.0, written.Heat.Fuel!.Value.Kilograms, 9);
        Assert.Equal(86.4 / 0.85 / 43.0, written.Heat.FuelColdestDay!.Value.Kilograms, 9);
        Assert.Equal(24, written.Heat.Heat.KilowattHours, 9);
        Assert.Equal(24, written.Heat.ByMonth[0].KilowattHours, 9);
        Assert.Equal(24 * (22 + 10), written.Heat.Electric.WattHours, 6);
        Assert.Equal(24 * 22, written.Heat.ElectricWorstDay.WattHours, 6);
        Assert.Equal(0, written.Heat.CyclingShare.DecimalFractions);
        Assert.Equal(24, written.Days[30].HeatKwh, 4);
    }

    [Fact]
    public void A_heater_below_its_lowest_setting_starts_and_stops_and_pays_for_each_start()
    {
        // Half of 850 W: half the time in runs of 20 minutes, so 1.5 starts an hour of 2 minutes at 105 - 22 W more.
        HandMadeYear year = NorthernYear();
        year.Series.HeaterW.AsSpan(At(30, 0), 24).Fill(425);
        year.Series.HeaterW.AsSpan(At(31, 0), 24).Fill(1500);

        YearAssessment written = year.Write();

        double startWh = (105 - 22) * 2 / 60.0;
        Assert.Equal(24 * (11 + (1.5 * startWh)) + (24 * 22), written.Heat.Electric.WattHours, 6);
        Assert.Equal(0.5, written.Heat.CyclingShare.DecimalFractions, 12);
    }

    [Fact]
    public void An_hour_is_short_when_the_heater_gives_all_and_misses_by_more_than_a_kelvin()
    {
        HandMadeYear year = NorthernYear();
        int heated = year.Model.HeaterZone;
        year.Series.HeaterLimitedShare.AsSpan(At(30, 0), 12).Fill(1);
        year.Series.ZoneC.AsSpan(At(heated, 30, 0), 4).Fill(14.9);

        Assert.Equal(16, Van.Heater.NightSetPoint.DegreesCelsius);
        // Four hours asleep at 14.9 of 16 °C, and hours 6 and 7 awake at 15 of 19 °C; 15 of 16 °C is not short.
        Assert.Equal(6, year.Write().Heat.HoursShort);
    }

    [Fact]
    public void Battery_and_water_count_the_frost_where_they_stand()
    {
        HandMadeYear year = NorthernYear(Van with
        {
            Equipment = Van.Equipment with { Battery = BatteryKind.Lithium, BatteryZoneId = "under-bed", WaterCarried = true, WaterZoneId = null },
        });
        year.Weather.TemperatureC.AsSpan(At(10, 0), 30).Fill(-3);
        year.Series.ZoneC.AsSpan(At(year.Model.IndexOf("under-bed"), 10, 0), 7).Fill(-1);

        Extremes written = year.Write().Extremes;

        Assert.Equal((7, 30), (written.BatteryFrostHours, written.WaterFrostHours));
        Assert.Null(NorthernYear().Write().Extremes.BatteryFrostHours);
        Assert.Null(NorthernYear().Write().Extremes.WaterFrostHours);
    }

    [Fact]
    public void The_hottest_locked_hour_is_one_with_nobody_in_the_van()
    {
        HandMadeYear year = NorthernYear();
        int living = year.Model.FirstOf(ZoneKind.Living);
        year.Series.ZoneC[At(living, 180, 14)] = 41;
        year.Series.ZoneC[At(living, 180, 20)] = 45;

        Assert.Equal(41, year.Write().Extremes.HottestLocked.DegreesCelsius, 9);
    }

    [Fact]
    public void The_flame_of_an_unflued_heater_gives_its_water_by_the_stoichiometry_of_propane()
    {
        // C3H8 + 5 O2 -> 3 CO2 + 4 H2O: 4 x 18.015 / 44.097 = 1.634 kg/kg; 46.36 MJ/kg.
        Design unflued = Van with
        {
            Heater = Van.Heater with { Kind = HeaterKind.UnfluedGas },
            Household = Van.Household with { CookingFuel = CookingFuel.Electric },
        };
        HandMadeYear year = NorthernYear(unflued);
        year.Series.HeaterW.AsSpan(0, 1000).Fill(1000);
        year.Series.MostOxygenUsedShare[500] = 0.01;
        year.Series.MostCarbonDioxideShare[600] = 0.006;

        CombustionYear written = Assert.IsType<CombustionYear>(year.Write().Combustion);

        Assert.Equal(3600 / 46.36 * 1.634, written.Water.Kilograms, 0.05);
        Assert.Equal(19.95, written.LowestOxygen.Percent, 6);
        Assert.Equal(6000, written.HighestCarbonDioxide.PartsPerMillion, 6);
        // 2 kW of propane use 2 / 46.36 g/s x 3.628 kg/kg of oxygen: 4.89 mmol/s, 0.117 L/s at 19 °C; 2.95 % of all the air.
        double airM3 = Van.Zones.Sum(zone => zone.AirVolume.CubicMeters);
        Assert.Equal(airM3 * 0.0295 / 0.1172e-3 / 60, written.SealedToCutOff!.Value.Minutes, 0.02 * airM3 * 0.0295 / 0.1172e-3 / 60);
        Assert.Null(NorthernYear(unflued with { Heater = Van.Heater }).Write().Combustion);
    }

    [Fact]
    public void A_van_nobody_sleeps_in_has_no_wet_mornings_and_no_hot_nights()
    {
        HandMadeYear year = NorthernYear();
        Array.Clear(year.Series.Asleep);
        Array.Clear(year.Series.Occupied);
        Array.Fill(year.Series.SurfaceFilmKgPerM2, 0.05);
        Array.Fill(year.Series.ZoneC, 40);

        YearAssessment written = year.Write();

        Assert.Equal((0, 0, 0), (written.WetMornings.Count, written.WetMornings.Nights, written.HotNights.Hours));
        Assert.Equal(8760, written.Surfaces[0].WetHours);
    }

    [Fact]
    public void A_wall_check_takes_the_years_own_room_air_and_stands_beside_the_skin()
    {
        HandMadeYear dry = NorthernYear();
        HandMadeYear damp = NorthernYear();
        Array.Fill(damp.Series.ZoneVapourPressurePa, 0.9 * MoistAir.SaturationPressurePa(15));
        damp.Series.SkinFilmKgPerM2[100] = 0.3;
        Array.Fill(dry.Series.ZoneVapourPressurePa, 0.25 * MoistAir.SaturationPressurePa(15));

        WallCheck dryWall = dry.Write().Walls[0];
        WallCheck dampWall = damp.Write().Walls[0];

        Assert.Equal(("Walls", 0.0, true), (dryWall.Part, dryWall.PeakPerSquareMetre.Grams, dryWall.DriesWithinYear));
        Assert.Null(dryWall.PeakMonth);
        Assert.True(dampWall.PeakPerSquareMetre.Grams > 10 && !dampWall.DriesWithinYear);
        Assert.Contains("steel", dampWall.WorstPlane, StringComparison.Ordinal);
        Assert.All(dampWall.RoomHumidity, share => Assert.Equal(90, share.Percent, 6));
        Assert.Equal(12, dampWall.MouldMonths);
        Assert.Equal(0, dryWall.MouldMonths);
        Assert.Equal(0.3, dampWall.Skin!.PeakPerSquareMetre.Kilograms, 12);
        // fRsi = 1 - 0.25 / (0.25 + 0.006/0.13 + 0.040/0.040 + 0.001/50 + 0.04), by hand.
        Assert.Equal(1 - (0.25 / (0.25 + 0.04615 + 1 + 0.00002 + 0.04)), dampWall.SurfaceTemperatureFactor, 4);
    }
}
