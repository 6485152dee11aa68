using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>What every calculated year must be, whatever the van.</summary>
public sealed class YearAssessmentTests
{
    [Fact]
    public void Every_van_has_a_year_whose_parts_add_up()
    {
        foreach ((int index, Design van) in Vans.Varied().Concat(RandomVan.Row(8)).Index())
        {
            YearAssessment year = Year(van);
            string name = $"van {index}";

            Assert.Equal(365, year.Days.Length);
            Assert.Equal(van.Zones.Length, year.Zones.Length);
            Assert.Equal(year.WetMornings.Nights, year.Days.Count(day => day.Slept));
            Assert.Equal(van.Household.Sleepers == 0, year.WetMornings.Nights == 0);
            Assert.InRange(year.WetMornings.Count, 0, year.WetMornings.Nights);
            Assert.InRange(year.WetMornings.ColdSeasonCount, 0, Math.Min(year.WetMornings.Count, year.WetMornings.ColdSeasonNights));
            Assert.Equal(year.Condensed.Kilograms, year.Surfaces.Sum(surface => surface.Condensed.Kilograms), 1e-9 + (1e-9 * year.Condensed.Kilograms));
            Assert.Equal(year.Heat.Heat.KilowattHours, year.Heat.ByMonth.Sum(month => month.KilowattHours), 1e-6);
            Assert.All(year.Surfaces, surface => Assert.True(
                surface.FrostHours <= surface.WetHours && surface.WetHours <= 8760 && surface.RanOff.Kilograms >= 0, name));
            Assert.All(year.Skins, skin => Assert.True(
                skin.DaysToDry.Days is >= 0 and <= 365 && (skin.WetHours > 0 || skin.DaysToDry.Days == 0 || skin.Accumulates), name));
            Assert.All(year.Zones, zone => Assert.True(zone.Coldest.DegreesCelsius <= zone.Warmest.DegreesCelsius, name));
            Assert.True(year.Extremes.HottestLockedFanFailed.DegreesCelsius >= year.Extremes.HottestLocked.DegreesCelsius, name);
            HeaterFit fit = Assert.IsType<HeaterFit>(year.HeaterFit);
            Assert.True(fit.Air.CubicMetersPerHour >= fit.AirAsItStands.CubicMetersPerHour - 1e-9, name);
            Assert.True(fit.Air.CubicMetersPerHour >= (van.Household.Sleepers * Defaults.Likely("night-air-per-sleeper")) - 1e-9, name);
            Assert.Equal(["Walls", "Roof", "Floor"], year.Walls.Select(wall => wall.Part));
            // Rounding of single numbers aside, the strip and the sums tell one story.
            Assert.Equal(year.Heat.Heat.KilowattHours, year.Hours.HeaterW.Sum(watts => (double)watts) / 1000, 1e-4 * (1 + year.Heat.Heat.KilowattHours));
        }
    }

    [Fact]
    public void A_flame_of_the_same_heat_without_a_flue_wets_the_glass_more()
    {
        YearAssessment flued = Year(Vans.With(Position.Full, Position.Shut));
        YearAssessment unflued = Year(Vans.With(Position.Full, Position.Shut, HeaterKind.UnfluedGas));

        Assert.True(unflued.WetMornings.CondensedPerNight.Kilograms > flued.WetMornings.CondensedPerNight.Kilograms);
        Assert.True(unflued.Combustion!.Water.Kilograms > flued.Combustion!.Water.Kilograms);
        Assert.True(unflued.Combustion.LowestOxygen.Percent < flued.Combustion.LowestOxygen.Percent);
    }

    [Fact]
    public void A_drier_room_leaves_less_water_in_the_walls_and_on_the_skin()
    {
        YearAssessment shut = Year(Vans.With(Position.Shut, Position.Shut));
        YearAssessment aired = Year(Vans.With(Position.Full, Position.Half));

        Assert.True(aired.Walls[0].RoomHumidity[0].Percent < shut.Walls[0].RoomHumidity[0].Percent);
        Assert.True(aired.Walls[0].PeakPerSquareMetre.Kilograms < shut.Walls[0].PeakPerSquareMetre.Kilograms);
        Assert.True(aired.Walls[0].Skin!.PeakPerSquareMetre.Kilograms < shut.Walls[0].Skin!.PeakPerSquareMetre.Kilograms);
    }

    [Fact]
    public void A_fan_that_fails_while_the_van_stands_locked_in_the_sun_leaves_it_hotter()
    {
        Design van = Vans.With(Position.Full, Position.Half) with { Stop = Presets.StopAt("miami", 7) };
        van = van with { Openings = [.. van.Openings.Select(opening => opening with { Facts = opening.Facts with { OpenLocked = true, UsableInRain = true } })] };
        van = Openings.Change(van, Presets.RoofFanId, opening => opening with { Fan = opening.Fan! with { Speed = 1 } });

        Extremes extremes = Year(van).Extremes;

        Assert.True(extremes.HottestLockedFanFailed.DegreesCelsius > extremes.HottestLocked.DegreesCelsius + 0.5);
    }

    private static YearAssessment Year(Design design) =>
        Assessor.AssessYear(design, Calculations.Climate.YearWeather.Of(design), Assumptions.Likely, progress: null, TestContext.Current.CancellationToken);
}
