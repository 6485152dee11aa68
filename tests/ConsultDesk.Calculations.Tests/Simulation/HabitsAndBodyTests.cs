using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>What people, animals, snow, lining and covers do alike in night, situations and year.</summary>
public sealed class HabitsAndBodyTests
{
    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    private static Assessment Night(Design van) => Assessor.AssessWithoutFindings(van, Nights.At(van), Cancellation);

    private static SituationResult Run(Design van, Situation situation) => SituationRun.Of(van, situation, Assumptions.Likely, Cancellation);

    [Fact]
    public void An_opening_behind_the_lining_passes_no_air_by_night_in_a_situation_and_in_the_year()
    {
        Design open = Vans.With(Position.Full, Position.Full);
        Design covered = open with { Openings = [.. open.Openings.Select(opening => opening with { Covered = true })] };
        Design shut = Vans.With(Position.Shut, Position.Shut);

        Assert.Equal(Night(shut).Air.OutdoorAir.CubicMetersPerHour, Night(covered).Air.OutdoorAir.CubicMetersPerHour, 6);
        Assert.Equal(Run(shut, Moments.Cooking).OutdoorAir.CubicMetersPerHour, Run(covered, Moments.Cooking).OutdoorAir.CubicMetersPerHour, 3);
        double Air(Design van) => YearVans.Run(van, YearWeather.Of(van), Assumptions.Likely, 20, 3).Series.OutdoorAirM3PerS.Sum();
        Assert.True(Air(covered) < 0.5 * Air(open));
        Design fixedVents = covered with { Openings = [.. covered.Openings.Select(opening => opening with { Fan = null, Facts = opening.Facts with { Fixed = true } })] };
        Assert.Equal(Air(covered), Air(fixedVents), 1e-9);
    }

    [Fact]
    public void A_night_after_showers_or_with_wet_clothes_is_damper_and_no_shower_falls_into_cooking()
    {
        Design van = Vans.With(Position.Ajar, Position.Shut);
        Design Does(int showers, bool clothes) => van with { Household = van.Household with { ShowersPerDay = showers, DriesClothes = clothes } };
        double Condensed(Design design, Situation situation) => Run(design, situation).Condensed.Grams;

        Assert.True(Condensed(Does(2, false), Moments.Night) > Condensed(van, Moments.Night));
        Assert.True(Condensed(Does(4, false), Moments.Night) > Condensed(Does(2, false), Moments.Night));
        Assert.True(Condensed(Does(0, true), Moments.Night) > Condensed(van, Moments.Night));
        // Nobody showers while cooking or in a locked van.
        Assert.Equal(Condensed(van, Moments.Cooking), Condensed(Does(2, false), Moments.Cooking));
        Assert.True(Condensed(Does(0, true), Moments.Cooking) > Condensed(van, Moments.Cooking));
    }

    [Fact]
    public void A_days_showers_and_wet_clothes_come_out_whole_over_the_hours_they_fall_into()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        foreach (Presence presence in Enum.GetValues<Presence>())
        {
            Household household = van.Household with { Presence = presence, ShowersPerDay = 3, DriesClothes = true };
            HabitWater habits = HabitWater.Of(van with { Household = household }, Assumptions.Likely);
            double With(Activity activity, Activity? next) => habits.During(activity, 3600, household, next).WaterKgPerS;
            HabitWater none = HabitWater.Of(van with { Household = household with { ShowersPerDay = 0, DriesClothes = false } }, Assumptions.Likely);
            double Without(Activity activity, Activity? next) => none.During(activity, 3600, household, next).WaterKgPerS;

            double beforeBed = With(Activity.Awake, Activity.Asleep) - Without(Activity.Awake, Activity.Asleep);
            // Home at five and to bed at half past ten; those who come at ten take two hours' worth.
            double hours = presence == Presence.Nights ? 2 : 5.5;
            Assert.Equal(3 * 0.2, (beforeBed - habits.ClothesKgPerS) * 3600 * hours, 12);
            Assert.Equal(0.3 * household.Sleepers, habits.ClothesKgPerS * 3600 * 12, 12);
            Assert.Equal(habits.ClothesKgPerS, With(Activity.Awake, Activity.Cooking) - Without(Activity.Awake, Activity.Cooking), 15);
            Assert.Equal(habits.ClothesKgPerS, With(Activity.Asleep, null) - Without(Activity.Asleep, null), 15);
            Assert.Equal(presence == Presence.Nights ? habits.ClothesKgPerS : 0, With(Activity.Awake, null) - Without(Activity.Awake, null), 15);
            Assert.Equal(0, With(Activity.LockedAndLeft, null) - Without(Activity.LockedAndLeft, null), 15);
            Assert.Equal(0, With(Activity.Driving, null) - Without(Activity.Driving, null), 15);
        }
    }

    [Theory]
    [InlineData(OpeningKind.CabWindowVent, Face.Left)]
    [InlineData(OpeningKind.FreshAirFlap, Face.Nose)]
    [InlineData(OpeningKind.PressureReliefFlap, Face.Tail)]
    public void A_vent_of_the_vans_own_body_feels_the_wind_of_its_face(OpeningKind kind, Face face)
    {
        Design van = Vans.With(Position.Shut, Position.Shut);
        Opening window = Openings.Find(van, Presets.WindowId)!;
        Opening vent = window with
        {
            Id = "vent",
            Kind = kind,
            Face = face,
            ZoneId = van.Zones.First(zone => ZoneFaces.AreaM2(van, zone, face) > 0.5).Id,
            X = Length.FromMeters(face == Face.Nose ? 0.1 : face == Face.Tail ? van.Body.InteriorLength.Meters : 0.3),
            Y = van.Body.InteriorWidth / 2,
            Z = Length.FromMeters(0.9),
            Length = Length.FromMeters(0.2),
            Width = Length.FromMeters(0.1),
            Position = Position.Full,
            Pane = null,
        };
        Design vented = van with { Openings = [.. van.Openings, vent] };
        NightModel model = new(vented);
        // Swami and Chandra 1988: the nose is pressed, sides and tail are sucked, with wind from ahead.
        Assert.Equal(face == Face.Nose, model.WindCoefficient(face) > 0);
        NightWeather windy = Nights.At(van) with { StationWind = Speed.FromMetersPerSecond(10) };
        SteadyNight night = new(model, windy, 3000, Cancellation);
        Assert.True(night.Air.OutdoorAir() > new SteadyNight(new NightModel(van), windy, 3000, Cancellation).Air.OutdoorAir());
        double net = night.Air.NetMassFlowKgPerS[model.OpeningPaths[^1]!.Value.Index];
        // Out of the van is positive: wind blows in at the nose and draws out at sides and tail.
        Assert.Equal(face == Face.Nose, net < 0);
    }

    [Fact]
    public void A_loose_cover_outside_keeps_less_heat_and_lets_in_more_sun_than_a_fastened_one()
    {
        double U(Cover cover) => Night(Vans.Covered(Vans.With(Position.Shut, Position.Shut), cover)).Surfaces.First(surface => surface.Kind == SurfaceKind.Glass).UValue.WattsPerSquareMeterKelvin;
        Assert.True(U(Cover.Outside) < U(Cover.OutsideLoose));
        Assert.True(U(Cover.OutsideLoose) < U(Cover.None));
        double Sun(Cover cover) => SunGain.CoverShare(cover, Assumptions.Likely);
        Assert.True(Sun(Cover.Outside) < Sun(Cover.OutsideLoose) && Sun(Cover.OutsideLoose) < Sun(Cover.None));
    }

    [Fact]
    public void A_fixed_vent_behind_the_lining_does_not_count_for_the_gas()
    {
        Design van = Vans.With(Position.Shut, Position.Shut);
        Design vented = Calculations.Findings.MoreAir.AddLowVent(van);
        vented = vented with { Openings = [.. vented.Openings.Select(opening => opening.Face == Face.Floor ? opening with { Facts = opening.Facts with { Fixed = true } } : opening)] };
        Design lined = vented with { Openings = [.. vented.Openings.Select(opening => opening with { Covered = true })] };
        Assert.True(Calculations.Findings.FixedOpenings.Low(vented).SquareCentimeters > 0);
        Assert.Equal(0, Calculations.Findings.FixedOpenings.Low(lined).SquareCentimeters);
    }

    [Fact]
    public void A_dog_breathes_by_night_and_in_situations_too()
    {
        Design van = Vans.With(Position.Ajar, Position.Shut);
        Design dog = van with { Household = van.Household with { Animals = 1 } };
        double grams = Night(dog).Water.Sources.Single(source => source.Name == "Animals").Rate.GramsPerHour;
        Assert.Equal(Defaults.Likely("animal-water"), grams, 9);
        Assert.True(Run(dog, Moments.Night).CarbonDioxide > Run(van, Moments.Night).CarbonDioxide);
        // Left alone it breathes only where it is left.
        Design left = dog with { Equipment = dog.Equipment with { LeftInLockedVan = true } };
        Assert.True(Run(left, Moments.LockedInSun).CarbonDioxide > Run(dog, Moments.LockedInSun).CarbonDioxide);
    }

    private static Household Habit(Household household, string habit) => habit switch
    {
        "drinks" => household with { HotDrinksPerDay = 6 },
        "dishes" => household with { WashesUpInside = true },
        "plants" => household with { Plants = 4 },
        "firewood" => household with { WetFirewoodInside = true },
        "clothes" => household with { DriesClothes = true },
        "showers" => household with { ShowersPerDay = 2 },
        _ => throw new ArgumentOutOfRangeException(nameof(habit), habit, "Expected a habit."),
    };

    [Theory]
    [InlineData("drinks", "Hot drinks and dishes", 90)]
    [InlineData("dishes", "Hot drinks and dishes", 160)]
    [InlineData("plants", "Plants", 288)]
    [InlineData("firewood", "Wet firewood", 150)]
    [InlineData("clothes", "Wet clothes", 600)]
    [InlineData("showers", "Showers", 400)]
    public void A_habit_gives_the_same_water_a_day_by_night_and_in_the_year(string habit, string source, double gramsADay)
    {
        Design van = Vans.With(Position.Ajar, Position.Shut);
        Design with = van with { Household = Habit(van.Household, habit) };

        // Plants and firewood give off water day and night; the rest of a day's is spread over 12 hours.
        double hours = habit is "plants" or "firewood" ? 24 : 12;
        Assert.Equal(gramsADay / hours, Night(with).Water.Sources.Single(s => s.Name == source).Rate.GramsPerHour, 6);
        Assert.DoesNotContain(Night(van).Water.Sources, s => s.Name == source);

        double GramsADay(Design design) => 1000 * HouseholdDay.SlotSeconds * HouseholdDay.Of(design, Assumptions.Likely).Slot.Sum(slot => slot.RoomWaterKgPerS);
        Assert.Equal(gramsADay, GramsADay(with) - GramsADay(van), 6);

        // Nobody in it: nobody's habits.
        Design empty = with with { Household = with.Household with { Sleepers = 0 } };
        Assert.DoesNotContain(Night(empty).Water.Sources, s => s.Name == source);
        Assert.Equal(0, GramsADay(empty), 9);
    }

    [Theory]
    [InlineData("drinks")]
    [InlineData("dishes")]
    [InlineData("plants")]
    [InlineData("firewood")]
    [InlineData("clothes")]
    public void A_habit_makes_the_air_of_a_cooking_situation_damper(string habit)
    {
        Design van = Vans.With(Position.Half, Position.Half);
        Design with = van with { Household = Habit(van.Household, habit) };
        double Damp(Design design) => Run(design, Moments.Cooking).Humidity.Percent;
        Assert.True(Damp(with) > Damp(van));
    }

    [Fact]
    public void Wet_clothes_plants_and_firewood_take_their_heat_from_the_room_and_hot_water_brings_its_own()
    {
        Design van = Vans.With(Position.Ajar, Position.Shut);
        double Heat(string habit) => (double)Night(van with { Household = Habit(van.Household, habit) }).Heat.Other.Watts;
        double without = (double)Night(van).Heat.Other.Watts;
        // 600 g in 12 h at 2501 J/g; 288 and 150 g in 24 h.
        Assert.Equal(without - (600 * 2501 / 43_200.0), Heat("clothes"), 1e-6);
        Assert.Equal(without - (288 * 2501 / 86_400.0), Heat("plants"), 1e-6);
        Assert.Equal(without - (150 * 2501 / 86_400.0), Heat("firewood"), 1e-6);
        Assert.Equal(without, Heat("drinks"), 1e-6);
        Assert.Equal(without, Heat("showers"), 1e-6);
    }

    [Fact]
    public void Those_who_come_to_sleep_only_cook_no_supper()
    {
        Design van = Vans.With(Position.Ajar, Position.Shut);
        Design nights = van with { Household = van.Household with { Presence = Presence.Nights } };
        Assert.Contains(Night(van).Water.Sources, source => source.Name == "Cooking");
        Assert.DoesNotContain(Night(nights).Water.Sources, source => source.Name is "Cooking" or "Flame of the cooker");
    }

    [Fact]
    public void Where_nobody_sleeps_nobody_is_awake_and_no_habit_gives_water()
    {
        Design empty = Vans.With(Position.Ajar, Position.Shut) with { Household = Presets.DefaultHousehold with { Sleepers = 0, HotDrinksPerDay = 6 } };
        Assert.Equal(0, HouseholdDay.WakingHours(empty.Household));

        SituationSources awake = SituationSources.Of(new SituationModel(empty, Assumptions.Likely), Moments.Cooking with { Activity = Activity.Awake, People = 0 });

        Assert.All(awake.WaterKgPerS, kgPerS => Assert.Equal(0, kgPerS));
    }

    // Year and situation cook the same meal while the burners are not at their limit.
    [Fact]
    public void A_meal_is_the_same_in_the_year_and_in_a_situation()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        SituationModel model = new(van, Assumptions.Likely);
        SituationSources cooking = SituationSources.Of(model, Moments.Cooking with { Lasts = Duration.FromMinutes(Defaults.Likely("cooking-duration")) });
        DaySlot slot = HouseholdDay.Of(van, Assumptions.Likely).Slot[(int)(6 * HouseholdDay.SupperTime)];
        Assert.Equal(slot.CookerSteamKgPerS, cooking.SteamKgPerS.Sum(), 1e-12);
        Assert.Equal(slot.CookerWaterKgPerS - slot.CookerSteamKgPerS, cooking.WaterKgPerS.Sum() - slot.RoomWaterKgPerS, 1e-12);
    }

    [Fact]
    public void Snow_on_the_roof_shuts_a_fixed_roof_vent_in_the_year()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed, Presets.DefaultHousehold, Presets.StopAt("fairbanks", 1));
        van = Openings.Change(van, Presets.RoofFanId, lid => lid with { Fan = null, Position = Position.Full, Facts = lid.Facts with { Fixed = true } });
        YearWeather weather = YearWeather.Of(van);
        int snowy = Enumerable.Range(24, 8000).First(hour => weather.SnowOnRoof[hour] && weather.SnowOnRoof[hour + 30] && !weather.SnowOnRoof[hour - 1]) / 24;
        YearSeries series = YearVans.Run(van, weather, Assumptions.Likely, snowy - 2, 4).Series;
        int[] hours = [.. Enumerable.Range(24 * (snowy - 2), 96)];
        double under = hours.Where(hour => weather.SnowOnRoof[hour]).Average(hour => series.OutdoorAirM3PerS[hour]);
        double free = hours.Where(hour => !weather.SnowOnRoof[hour]).Average(hour => series.OutdoorAirM3PerS[hour]);
        Assert.True(under < 0.7 * free, $"{under} under snow, {free} without");
    }

    [Fact]
    public void Water_behind_a_lining_runs_down_walls_and_stands_on_the_floor()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed, Presets.DefaultHousehold, Presets.StopAt("oban", 1));
        van = van with { Walls = van.Walls with { Gaps = LiningGaps.PlannedAirGap }, Roof = van.Roof with { Gaps = LiningGaps.PlannedAirGap } };
        Assumptions leaky = Assumptions.Likely.With("cavity-air-planned", 10).With("skin-run-off", 50);
        YearVans.Days days = YearVans.Run(van, YearWeather.Of(van), leaky, 0, 40);
        VanModel model = days.Model;
        double most = Enumerable.Range(0, model.SkinCount).Where(j => double.IsFinite(model.SkinRunOffKgPerM2[j]))
            .SelectMany(j => days.Hours.Select(hour => (j * YearSeries.Hours) + hour))
            // Frost stays.
            .Where(at => days.Series.SkinC[at] > 0).Max(at => days.Series.SkinFilmKgPerM2[at]);
        Assert.True(days.Series.SkinRanOffKgPerM2.Sum() > 0);
        Assert.InRange(most, 0.045, 0.05 + 1e-9);
        Assert.All(Enumerable.Range(0, model.SkinCount).Where(j => double.IsInfinity(model.SkinRunOffKgPerM2[j])), j => Assert.Equal(0, days.Series.SkinRanOffKgPerM2[j]));
        Assert.True(Math.Abs(days.Series.WaterUnaccountedKg) <= 1e-9 * days.Series.WaterThroughputKg);
    }

    [Fact]
    public void Covers_hang_only_while_people_sleep_in_situations_as_in_the_year()
    {
        Design bare = Vans.With(Position.Shut, Position.Shut);
        Design covered = Vans.Covered(bare, Cover.Outside);
        Situation morning = Moments.Cooking with { Activity = Activity.Awake, Sun = Irradiance.FromWattsPerSquareMeter(400) };
        Assert.Equal(Run(bare, morning).Room.DegreesCelsius, Run(covered, morning).Room.DegreesCelsius, 1e-6);
        Assert.Equal(Run(bare, Moments.LockedInSun).Room.DegreesCelsius, Run(covered, Moments.LockedInSun).Room.DegreesCelsius, 1e-6);
        Assert.True(Run(covered, Moments.Night).Condensed < Run(bare, Moments.Night).Condensed);
    }

    [Fact]
    public void Driving_up_a_mountain_moves_thin_air_in_and_water_still_closes()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        ItineraryStop Stay(string id, double altitudeM, MonthDay from, MonthDay to) =>
            new() { Id = id, PlaceKey = "geneva", Altitude = Length.FromMeters(altitudeM), Shelter = Shelter.Ordinary, From = from, To = to };
        van = van with { Itinerary = [Stay("low", 400, new MonthDay(1, 11), new MonthDay(12, 31)), Stay("high", 2800, new MonthDay(1, 1), new MonthDay(1, 10))] };
        YearSeries series = YearVans.Run(van, YearWeather.Of(van), Assumptions.Likely, 5, 10).Series;
        Assert.True(Math.Abs(series.WaterUnaccountedKg) <= 1e-9 * series.WaterThroughputKg);
        Assert.True(Math.Abs(series.HeatUnaccountedJ) <= 1e-9 * series.HeatThroughputJ);

        VanStep step = new(new VanModel(van, Assumptions.Likely));
        step.Start(15, 0.006, 101_325, 420e-6);
        double low = step.AirKg.Sum();
        step.SetPressure(101_325 / 2.0);
        // Boyle: half the pressure, half the air.
        Assert.Equal(low / 2, step.AirKg.Sum(), 9);
    }
}
