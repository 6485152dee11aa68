using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>What faces the clear night sky: in the steady night, in a situation and through a year.</summary>
public sealed class NightSkyTests
{
    private static readonly Design Preset = Presets.Build("long-high", Layout.RearPlatformBed);

    // By hand: an unheated empty van in still air takes the mean of what lies around it; each surface stands between that
    // and outdoor air less its own share of the loss over the outside film.
    [Fact]
    public void A_clear_sky_cools_an_empty_van_below_the_air_and_every_surface_stands_at_its_own_balance()
    {
        Design empty = Preset with { Household = Preset.Household with { Sleepers = 0 }, Heater = Preset.Heater with { Kind = HeaterKind.None }, Openings = [] };
        NightWeather clear = Nights.At(empty) with { StationWind = Speed.Zero, SkyLoss = Irradiance.FromWattsPerSquareMeter(90), DewPoint = Temperature.FromDegreesCelsius(-20) };
        SteadyNight night = new(new NightModel(empty, Assumptions.Likely), clear, 0, TestContext.Current.CancellationToken);

        double seen = Defaults.Likely("sky-seen-ordinary") * Defaults.Likely("outside-emissivity");
        double roofBehindC = clear.Temperature.DegreesCelsius - (90 * seen * 0.04);
        double wallBehindC = clear.Temperature.DegreesCelsius - (90 * seen * Math.Pow(0.5, 1.5) * 0.04);
        Assert.All(night.Balance.TemperatureC, zoneC => Assert.InRange(zoneC, roofBehindC, clear.Temperature.DegreesCelsius));
        for (int k = 0; k < night.Model.Surfaces.Length; k++)
        {
            NightSurface surface = night.Model.Surfaces[k];
            double zoneC = night.Balance.TemperatureC[surface.Zone];
            double behindC = surface.Part switch
            {
                SurfacePart.Roof => roofBehindC,
                SurfacePart.Floor => clear.Temperature.DegreesCelsius,
                SurfacePart.Walls or SurfacePart.Metal => wallBehindC,
                _ => double.NaN,
            };
            if (!double.IsNaN(behindC))
            {
                Assert.Equal(behindC + ((zoneC - behindC) * surface.Path.OutsideM2KPerW * surface.Path.UValueWPerM2K), night.Balance.SurfaceC[k], 9);
            }
        }
    }

    [Fact]
    public void A_raked_windscreen_faces_more_sky_than_side_glass_and_a_compact_vans_most()
    {
        double Share(string bodyClass, Face face)
        {
            Design van = Presets.Build(bodyClass, Layout.RearPlatformBed);
            string id = van.Glazings.First(glazing => glazing.Face == face).Id;
            return new NightModel(van).Surfaces.Single(surface => surface.Part == SurfacePart.Glazing && surface.Id == id).SkyShare;
        }

        Assert.True(Share("long-high", Face.Nose) > Share("long-high", Face.Left));
        Assert.True(Share("compact-low", Face.Nose) > Share("long-high", Face.Nose));
        Assert.Equal(0.9 * SkyTemperature.Share(50), Share("long-high", Face.Nose), 12);
    }

    [Fact]
    public void Trees_hide_sky()
    {
        Design sheltered = Preset with { Stop = Preset.Stop with { Shelter = Shelter.Sheltered } };
        Design exposed = Preset with { Stop = Preset.Stop with { Shelter = Shelter.Exposed } };
        NightWeather still = Nights.At(Preset) with { StationWind = Speed.Zero };
        double Windscreen(Design van) => Assessor.AssessWithoutFindings(van, still, TestContext.Current.CancellationToken)
            .Surfaces.First(surface => surface.Kind == SurfaceKind.Glass).Temperature.DegreesCelsius;

        Assert.True(Windscreen(exposed) < Windscreen(sheltered));
    }

    /// <summary>Seattle and Fairbanks, heated and empty, with covers and without.</summary>
    [Theory]
    [InlineData("seattle", Cover.None, 2)]
    [InlineData("seattle", Cover.InsideLoose, 2)]
    [InlineData("fairbanks", Cover.None, 0)]
    [InlineData("fairbanks", Cover.Outside, 0)]
    [InlineData("phoenix", Cover.None, 0)]
    public void No_glass_of_a_year_is_colder_than_its_sky_balance(string place, Cover cover, int sleepers)
    {
        Design van = Vans.Covered(Preset, cover) with { Stop = Presets.StopAt(place, 1) };
        van = van with { Household = van.Household with { Sleepers = sleepers } };
        YearWeather weather = YearWeather.Of(van);
        YearVans.Days days = YearVans.Run(van, weather, Assumptions.Likely, 0, 60);
        double seen = Defaults.Likely("sky-seen-ordinary");
        double least = double.PositiveInfinity;
        for (int k = 0; k < days.Surfaces; k++)
        {
            NightSurface surface = days.Model.Night.Surfaces[k];
            foreach (int hour in days.Hours.Skip(1))
            {
                // Coldest of what it can lose heat to, in the three hours its stored warmth and the straight lines between them come from.
                double coldestC = Enumerable.Range(hour - 2, 4).Select(h => (h + YearWeather.Hours) % YearWeather.Hours).Min(h => Math.Min(
                    surface.BehindC(weather.TemperatureC[h], seen * weather.SkyLossWPerM2[h]),
                    days.Series.ZoneC[(surface.Zone * YearSeries.Hours) + h]));
                double surfaceC = days.Series.SurfaceC[(k * YearSeries.Hours) + hour];
                // Evaporating water cools a wet face further.
                bool wet = days.Series.SurfaceFilmKgPerM2[(k * YearSeries.Hours) + ((hour + YearSeries.Hours - 1) % YearSeries.Hours)] > 0;
                Assert.True(wet || surfaceC >= coldestC - 0.01, $"{surface.Name}, hour {hour}: {surfaceC} °C, balance {coldestC} °C");
                least = Math.Min(least, surfaceC - weather.TemperatureC[hour]);
            }
        }

        // And the sky is felt: an empty van's glass gets colder than the air.
        Assert.True(sleepers > 0 || least < -0.3, $"{least} K");
    }

    [Fact]
    public void The_sky_cools_a_roofs_skin_below_the_air_in_an_empty_van()
    {
        Design van = Preset with { Household = Preset.Household with { Sleepers = 0 }, Stop = Presets.StopAt("aspen", 1) };
        YearWeather weather = YearWeather.Of(van);
        YearVans.Days days = YearVans.Run(van, weather, Assumptions.Likely, 0, 30);
        int roof = Array.FindIndex([.. days.Model.Night.Surfaces], surface => surface.Part == SurfacePart.Roof) - days.Model.FirstLining;
        double[] night = [.. days.Hours.Where(hour => hour % 24 is >= 1 and < 5).Select(hour => days.Series.SkinC[(roof * YearSeries.Hours) + hour] - weather.TemperatureC[hour])];
        Assert.True(night.Average() < -1, $"{night.Average()} K");
    }

    [Fact]
    public void Glass_is_wiped_only_where_people_wipe_it_and_the_water_leaves_the_van()
    {
        Design van = YearVans.Lid("long-high", Layout.RearPlatformBed, "seattle").At(Position.Shut);
        YearWeather weather = YearWeather.Of(van);
        YearVans.Days kept = YearVans.Run(van, weather, Assumptions.Likely, 0, 20);
        YearVans.Days wiped = YearVans.Run(van.Wiped(), weather, Assumptions.Likely, 0, 20);
        int glass = Array.FindIndex([.. kept.Model.Night.Surfaces], surface => surface.Part == SurfacePart.Glazing) * YearSeries.Hours;
        double Film(YearVans.Days days, int hourOfDay) => days.Hours.Where(hour => hour % 24 == hourOfDay).Average(hour => days.Series.SurfaceFilmKgPerM2[glass + hour]);

        Assert.True(Film(wiped, 9) < 0.1 * Film(kept, 9), $"{Film(wiped, 9)} against {Film(kept, 9)}");
        Assert.True(Film(wiped, 6) > 0.005);
        foreach (YearVans.Days days in (YearVans.Days[])[kept, wiped])
        {
            Assert.True(Math.Abs(days.Series.WaterUnaccountedKg) <= 1e-9 * days.Series.WaterThroughputKg);
            Assert.True(Math.Abs(days.Series.HeatUnaccountedJ) <= 1e-9 * days.Series.HeatThroughputJ);
        }

        // Nobody is there to wipe.
        Design empty = van with { Household = van.Household with { Sleepers = 0 } };
        YearVans.Days idle = YearVans.Run(empty.Wiped(), weather, Assumptions.Likely, 0, 20);
        Assert.Equal(YearVans.Run(empty, weather, Assumptions.Likely, 0, 20).Series.SurfaceFilmKgPerM2, idle.Series.SurfaceFilmKgPerM2);
    }
}
