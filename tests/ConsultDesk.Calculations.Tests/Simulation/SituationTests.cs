using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

public sealed class SituationTests
{
    private static readonly Design Van = Presets.Build("long-high", Layout.RearPlatformBed);

    private static SituationResult Run(Design design, Situation situation) =>
        SituationRun.Of(design, situation, Assumptions.Likely, TestContext.Current.CancellationToken);

    [Theory]
    [InlineData(Precipitation.None, Activity.Cooking, false, new[] { "all", "none", "rain", "driving", "asleep", "locked" })]
    [InlineData(Precipitation.Rain, Activity.Cooking, false, new[] { "all", "rain" })]
    [InlineData(Precipitation.DrivingRain, Activity.Cooking, false, new[] { "all", "driving" })]
    [InlineData(Precipitation.Snow, Activity.Awake, false, new[] { "all", "driving" })]
    [InlineData(Precipitation.None, Activity.Asleep, false, new[] { "all", "asleep" })]
    [InlineData(Precipitation.None, Activity.LockedAndLeft, false, new[] { "all", "locked" })]
    [InlineData(Precipitation.Rain, Activity.Asleep, false, new[] { "all" })]
    [InlineData(Precipitation.None, Activity.Driving, false, new string[0])]
    [InlineData(Precipitation.None, Activity.Awake, true, new string[0])]
    public void Only_what_the_facts_allow_stands_open(Precipitation falling, Activity activity, bool snowOnRoof, string[] expected)
    {
        (string Id, OpeningFacts Facts)[] openings =
        [
            ("all", new OpeningFacts { UsableInRain = true, UsableInDrivingRain = true, OpenAsleep = true, OpenLocked = true }),
            ("none", new OpeningFacts()),
            ("rain", new OpeningFacts { UsableInRain = true }),
            ("driving", new OpeningFacts { UsableInDrivingRain = true }),
            ("asleep", new OpeningFacts { OpenAsleep = true }),
            ("locked", new OpeningFacts { OpenLocked = true }),
        ];
        Opening lid = Openings.Find(Van, Presets.RoofFanId)!;
        Situation situation = Moments.Night with { Falling = falling, Activity = activity, SnowOnRoof = snowOnRoof };

        Assert.Equal(expected, openings.Where(o => OpeningUse.MayStandOpen(lid with { Id = o.Id, Facts = o.Facts }, situation)).Select(o => o.Id));
        Assert.True(OpeningUse.MayStandOpen(lid with { Facts = new OpeningFacts { Fixed = true } }, situation));
    }

    [Fact]
    public void What_had_to_be_shut_is_named_and_passes_no_air()
    {
        Design open = Vans.With(Position.Full, Position.Full);
        Design shut = Vans.With(Position.Shut, Position.Shut);

        SituationResult rain = Run(open, Moments.CookingInRain);

        Assert.Equal([Presets.RoofFanId, Presets.WindowId], rain.ShutHere);
        Assert.Equal(Run(shut, Moments.CookingInRain).OutdoorAir.CubicMetersPerHour, rain.OutdoorAir.CubicMetersPerHour, 4);
        Assert.Empty(Run(open, Moments.Cooking).ShutHere);
    }

    [Fact]
    public void Snow_on_the_roof_covers_even_a_fixed_vent_but_never_counts_it_as_shut_by_hand()
    {
        Design fixedVent = Openings.Change(Vans.With(Position.Full, Position.Shut), Presets.RoofFanId, o => o with { Fan = null, Facts = o.Facts with { Fixed = true } });
        Situation snow = Moments.SnowNight with { Falling = Precipitation.None };

        SituationResult covered = Run(fixedVent, snow);

        Assert.Empty(covered.ShutHere);
        Assert.Equal(Run(Vans.With(Position.Shut, Position.Shut), snow).OutdoorAir.CubicMetersPerHour, covered.OutdoorAir.CubicMetersPerHour, 4);
        Assert.True(Run(fixedVent, snow with { SnowOnRoof = false }).OutdoorAir > 2 * covered.OutdoorAir);
    }

    // Limit: a situation that lasts long enough is the steady state, which another solver finds.
    [Theory]
    [InlineData(Position.Shut, Position.Shut)]
    [InlineData(Position.Full, Position.Shut)]
    [InlineData(Position.Ajar, Position.Half)]
    public void A_night_without_end_is_the_steady_night(Position lid, Position window)
    {
        Design van = Vans.With(lid, window);
        van = van with { Household = van.Household with { CookingFuel = CookingFuel.None } };
        NightWeather weather = Nights.At(van);
        Assessment steady = Assessor.AssessWithoutFindings(van, weather, TestContext.Current.CancellationToken);
        Situation night = Moments.Night with
        {
            Outdoor = weather.Temperature,
            OutdoorHumidity = RelativeHumidity.FromPercent(100 * Calculations.Air.MoistAir.SaturationPressurePa(weather.DewPoint.DegreesCelsius)
                / Calculations.Air.MoistAir.SaturationPressurePa(weather.Temperature.DegreesCelsius)),
            StationWind = weather.StationWind,
            SkyLoss = weather.SkyLoss,
            Pressure = weather.Pressure,
            Lasts = Duration.FromDays(10000),
        };

        SituationResult result = Run(van, night);

        ZoneState bed = steady.Zones.Single(zone => zone.ZoneId == "sleeping");
        Assert.Equal(steady.Air.OutdoorAir.CubicMetersPerHour, result.OutdoorAir.CubicMetersPerHour, 0.01);
        Assert.Equal((double)steady.Heat.Heater.Watts, (double)result.Heater.Watts, 0.1);
        Assert.Equal(bed.AgeOfAir.Seconds, result.BedAge.Seconds, 1.0);
        Assert.Equal(steady.Zones.Max(zone => zone.CarbonDioxide.PartsPerMillion), result.CarbonDioxide.PartsPerMillion, 5.0);
        // The surfaces' latent heat is made linear at the dry surface here.
        Assert.Equal(steady.Zones.Where(zone => zone.ZoneId is "living" or "sleeping").Max(zone => zone.RelativeHumidity.Percent), result.Humidity.Percent, 0.5);
    }

    // Exact solution: a well-mixed room approaches its steady share as exp(-Q t / V).
    [Theory]
    [InlineData(10)]
    [InlineData(30)]
    [InlineData(120)]
    public void Carbon_dioxide_of_one_room_rises_as_the_exact_solution_says(double minutes)
    {
        Design room = Vans.OneRoom();
        SituationModel model = new(room, Assumptions.Likely);
        OpeningSetting[] settings = [.. OpeningSetting.Of(room)];
        Situation night = Moments.Night with { Lasts = Duration.FromMinutes(minutes) };
        SituationSolver solver = new(model, night, flameAsleep: false);
        solver.Solve(settings, start: null, TestContext.Current.CancellationToken);
        double steady = solver.CarbonDioxideShare[0];
        SituationStart start = new(1, model.Night.Surfaces.Length);
        start.CarbonDioxideShare[0] = 0.005;
        double changes = solver.Air.AirChangesPerHour() * minutes / 60;

        solver.Solve(settings, start, TestContext.Current.CancellationToken);

        double exact = steady + ((0.005 - steady) * Math.Exp(-changes));
        double backwardEuler = steady + ((0.005 - steady) * Math.Pow(1 + (changes / 8), -8));
        Assert.Equal(backwardEuler, solver.CarbonDioxideShare[0], 0.02 * Math.Abs(0.005 - steady));
        Assert.Equal(exact, solver.CarbonDioxideShare[0], 0.06 * Math.Abs(0.005 - steady));
    }

    // Conservation: what people and pans gave off, less what is left in air and films, has left by air; none appears.
    [Fact]
    public void Cooking_with_nearly_no_way_out_keeps_its_water_in_the_van()
    {
        Design tight = Vans.With(Position.Shut, Position.Shut);
        tight = tight with { Leakage = tight.Leakage with { EffectiveArea = Area.FromSquareCentimeters(5) } };
        SituationModel model = new(tight, Assumptions.Likely.With("resting-exchange", 0.01));
        Situation cooking = Moments.Cooking with { StationWind = Speed.Zero };
        SituationSolver solver = new(model, cooking, flameAsleep: false);
        SituationStart dry = new(model.Night.ZoneCount, model.Night.Surfaces.Length);
        solver.Solve([OpeningSetting.Shut, OpeningSetting.Shut], dry, TestContext.Current.CancellationToken);
        Array.Fill(dry.HumidityRatio, solver.Balance.OutdoorHumidityRatio);
        Array.Fill(dry.TemperatureC, 19);

        solver.Solve([OpeningSetting.Shut, OpeningSetting.Shut], dry, TestContext.Current.CancellationToken);

        // 450 g of steam; two people awake, 50 g/h each, for 40 min; 1 kWh of propane makes about 0.127 kg.
        double given = 450 + (2 * 50 * 40 / 60.0) + 127;
        double left = 1000 * solver.WaterLeftKg();
        Assert.InRange(left, 0.9 * given, given + 1);
        SituationSolver open = new(model, cooking, flameAsleep: false);
        open.Solve([new(Position.Full, 1), new(Position.Full, 0)], dry, TestContext.Current.CancellationToken);
        Assert.InRange(1000 * open.WaterLeftKg(), 0, 0.15 * given);
    }

    [Fact]
    public void The_locked_van_in_the_sun_is_hotter_than_the_air_around_it_and_cooler_with_a_running_fan_and_an_inlet()
    {
        Design locked = Vans.With(Position.Full, Position.Half);
        locked = locked with { Openings = [.. locked.Openings.Select(o => o with { Facts = o.Facts with { OpenLocked = true } })] };

        double shutC = Run(Vans.With(Position.Shut, Position.Shut), Moments.LockedInSun).Room.DegreesCelsius;
        double openC = Run(locked, Moments.LockedInSun).Room.DegreesCelsius;

        Assert.True(shutC > Moments.LockedInSun.Outdoor.DegreesCelsius + 5);
        Assert.InRange(openC, Moments.LockedInSun.Outdoor.DegreesCelsius, shutC - 3);
        Assert.Equal(
            Moments.LockedInSun.Outdoor.DegreesCelsius,
            Run(Vans.With(Position.Shut, Position.Shut), Moments.LockedInSun with { Sun = Irradiance.Zero, Lasts = Duration.FromDays(100) }).Room.DegreesCelsius,
            0.1);
    }

    [Fact]
    public void An_opening_above_the_cooker_takes_steam_out_only_while_air_leaves_through_it()
    {
        Design front = Openings.MoveOnRoof(Vans.With(Position.Full, Position.Full), Presets.RoofFanId, RoofPlace.Front);
        Design exhaust = Openings.Change(front, Presets.RoofFanId, o => o with { Fan = o.Fan! with { Speed = 0.3, Direction = FanDirection.Exhaust } });
        Design intake = Openings.Change(front, Presets.RoofFanId, o => o with { Fan = o.Fan! with { Speed = 0.3, Direction = FanDirection.Intake } });
        Assert.NotEmpty(new SituationModel(front, Assumptions.Likely).SteamOutlets);

        double Gain(Design design) => Humidity(design, 0) - Humidity(design, 60);
        double Humidity(Design design, double capture) => SituationRun.Of(
            design, Moments.Cooking, Assumptions.Likely.With("steam-capture", capture), TestContext.Current.CancellationToken).Humidity.Percent;

        Assert.True(Gain(exhaust) > 2);
        Assert.Equal(0, Gain(intake));
    }

    [Fact]
    public void The_same_situation_gives_the_same_bits()
    {
        foreach (Situation situation in Moments.All)
        {
            SituationResult first = Run(Van, situation);
            SituationResult again = Run(Van, situation);
            Assert.Equal(first.Condensed.Grams, again.Condensed.Grams);
            Assert.Equal(first.Humidity.Percent, again.Humidity.Percent);
            Assert.Equal(first.Room.DegreesCelsius, again.Room.DegreesCelsius);
        }
    }
}
