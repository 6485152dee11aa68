using System.Collections.Immutable;
using System.Text.RegularExpressions;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Tests.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Findings;

public sealed partial class FindingTests
{
    private static readonly Design Van = Presets.Build("long-high", Layout.RearPlatformBed);

    private static ImmutableArray<Finding> Of(Design design) => Assessor.Assess(design, TestContext.Current.CancellationToken).Findings;

    private static Finding? Find(Design design, string code) => Of(design).SingleOrDefault(finding => finding.Code == code);

    [Fact]
    public void A_van_to_start_from_shows_at_least_five_findings_the_gravest_first()
    {
        ImmutableArray<Finding> findings = Of(Van);

        Assert.True(findings.Length >= 5);
        Assert.Equal(findings.Select(finding => finding.Severity).Order(), findings.Select(finding => finding.Severity));
        Assert.Equal(findings.Length, findings.Select(finding => finding.Code).Distinct().Count());
    }

    [Fact]
    public void Every_text_is_plain_and_no_number_stands_outside_the_evidence()
    {
        foreach (Design design in RandomOption.Row(100).Concat(Vans.Varied()))
        {
            foreach (Finding finding in Of(design))
            {
                Assert.NotEmpty(finding.Evidence);
                Assert.NotEmpty(finding.Remedy);
                Assert.True(Sentences().Count(finding.Explanation) <= 3, finding.Code);
                Assert.DoesNotMatch(Digits(), finding.Title);
                Assert.DoesNotMatch(Digits(), finding.Explanation);
            }
        }
    }

    [GeneratedRegex(@"[.!?](\s|$)")]
    private static partial Regex Sentences();

    [GeneratedRegex(@"\d")]
    private static partial Regex Digits();

    [Fact]
    public void A_fan_without_an_inlet_has_sealed_itself_in_and_an_open_window_frees_it()
    {
        Assert.NotNull(Find(Vans.With(Position.Full, Position.Shut), "fan-sealed-in"));
        Assert.Null(Find(Vans.With(Position.Full, Position.Full), "fan-sealed-in"));
    }

    [Fact]
    public void A_shut_van_with_two_sleepers_lives_on_its_leaks_and_is_short_of_air()
    {
        Design shut = Vans.With(Position.Shut, Position.Shut);

        Assert.NotNull(Find(shut, "only-leakage"));
        Assert.Equal(Severity.Warning, Find(shut, "night-air-short")!.Severity);
        Assert.NotNull(Find(shut, "glass-condensing"));
        Assert.NotNull(Find(shut, "metal-condensing"));
        Assert.NotNull(Find(shut, "fan-behind-shut-lid"));
        Assert.Null(Find(Vans.With(Position.Full, Position.Half), "only-leakage"));
        Assert.Null(Find(Vans.With(Position.Full, Position.Half), "night-air-short"));
        Assert.Null(Find(Vans.With(Position.Full, Position.Half), "glass-condensing"));
    }

    [Fact]
    public void A_shut_van_wets_its_lining_and_an_aired_one_does_not()
    {
        Finding wet = Find(Vans.With(Position.Shut, Position.Shut), "linings-condensing")!;

        Assert.True(wet.Evidence[0].Value.As(UnitsNet.Units.MassUnit.Gram) >= wet.Evidence[1].Value.As(UnitsNet.Units.MassUnit.Gram));
        // An insulated surface is a few kelvin colder than the air at most: nothing condenses on it below this.
        Assert.InRange(wet.Evidence[2].Value.As(UnitsNet.Units.RelativeHumidityUnit.Percent), 85, 100);
        Assert.Null(Find(Vans.With(Position.Full, Position.Full), "linings-condensing"));
    }

    [Fact]
    public void An_unflued_heater_beside_sleepers_is_a_danger_and_in_an_empty_van_it_is_not()
    {
        Design unflued = Vans.With(Position.Full, Position.Half, HeaterKind.UnfluedGas);

        Finding danger = Find(unflued, "unflued-flame-asleep")!;
        Assert.Equal(Severity.Danger, danger.Severity);
        Assert.Contains("alarm", danger.Remedy, StringComparison.Ordinal);
        Assert.Null(Find(unflued with { Household = unflued.Household with { Sleepers = 0 } }, "unflued-flame-asleep"));
        Assert.Null(Find(Van, "unflued-flame-asleep"));
    }

    [Fact]
    public void Gas_cooking_asks_for_fixed_openings_and_electric_cooking_does_not()
    {
        Finding danger = Find(Van, "gas-without-fixed-openings")!;
        Assert.Equal(Severity.Danger, danger.Severity);

        Design vented = danger.Apply!(Van);
        Assert.Null(Find(vented, "gas-without-fixed-openings"));
        // EN 721, up to 10 m2 of plan area (read in a secondary copy): 100 cm2 high, 15 cm2 low.
        Assert.InRange(FixedOpenings.High(vented).SquareCentimeters, 100, 101);
        Assert.InRange(FixedOpenings.Low(vented).SquareCentimeters, 15, 16);
        Assert.Null(Find(Van with { Household = Van.Household with { CookingFuel = CookingFuel.Electric } }, "gas-without-fixed-openings"));
    }

    [Fact]
    public void A_big_open_roof_lid_is_no_substitute_for_an_opening_that_cannot_be_shut()
    {
        Assert.NotNull(Find(Vans.With(Position.Full, Position.Full), "gas-without-fixed-openings"));
    }

    [Fact]
    public void Loose_covers_inside_make_the_glass_colder_than_none()
    {
        Finding finding = Find(Vans.Covered(Vans.With(Position.Full, Position.Half), Cover.InsideLoose), "loose-cover-inside")!;

        Assert.True(finding.Evidence[0].Value.As(UnitsNet.Units.TemperatureUnit.DegreeCelsius)
            < finding.Evidence[1].Value.As(UnitsNet.Units.TemperatureUnit.DegreeCelsius));
        Assert.Null(Find(Vans.Covered(Van, Cover.Outside), "loose-cover-inside"));
    }

    [Fact]
    public void Behind_loose_covers_outside_the_glass_is_colder_than_behind_fastened_ones_and_fastening_them_clears_the_finding()
    {
        Design loose = Vans.Covered(Vans.With(Position.Full, Position.Half), Cover.OutsideLoose);
        Finding finding = Find(loose, "loose-cover-outside")!;

        double looseC = finding.Evidence[0].Value.As(UnitsNet.Units.TemperatureUnit.DegreeCelsius);
        double fastenedC = finding.Evidence[1].Value.As(UnitsNet.Units.TemperatureUnit.DegreeCelsius);
        Assert.True(looseC < fastenedC, $"{looseC} C behind loose covers, {fastenedC} C behind fastened ones.");
        Design fastened = finding.Apply!(loose);
        Assert.Null(Find(fastened, "loose-cover-outside"));
        Assert.All(fastened.Glazings, glazing => Assert.Equal(Cover.Outside, glazing.Pane.Cover));
        Assert.Null(Find(Vans.Covered(Van, Cover.InsideTight), "loose-cover-outside"));
    }

    [Fact]
    public void A_gas_locker_is_told_when_an_opening_or_the_exhaust_is_nearer_than_half_a_metre()
    {
        Opening window = Openings.Find(Van, Presets.WindowId)!;
        // 0.3 m, then 0.6 m, in front of the window's frame at its own height: straight along the wall.
        Design Standing(double gapM) => Locker(Van, new BodyPoint(
            window.Face, window.X - (window.Length / 2) - Length.FromMeters(gapM), window.Y, window.Z));

        Finding beside = Find(Standing(0.3), "gas-locker-beside-opening")!;
        Assert.Equal(0.3, beside.Evidence[0].Value.As(UnitsNet.Units.LengthUnit.Meter), 9);
        Assert.Null(beside.Apply);
        Assert.Null(Find(Standing(0.6), "gas-locker-beside-opening"));
        Assert.Null(Find(Openings.Change(Standing(0.3), Presets.WindowId, o => o with { Covered = true }), "gas-locker-beside-opening"));
        Assert.Null(Find(Standing(0.3) with { Equipment = Standing(0.3).Equipment with { GasBottles = false } }, "gas-locker-beside-opening"));

        // A right angle of 0.3 m and 0.4 m between locker and exhaust under the floor: 0.5 m is far enough, 0.36 m is not.
        Design Exhausting(double acrossM) => Locker(Van, new BodyPoint(Face.Floor, Length.FromMeters(4), Length.FromMeters(0.3), Length.Zero)) is var van
            ? van with { Equipment = van.Equipment with { HeaterExhaust = new BodyPoint(Face.Floor, Length.FromMeters(4.3), Length.FromMeters(0.3 + acrossM), Length.Zero) } }
            : throw new InvalidOperationException();
        Assert.Equal(Math.Sqrt(0.13), Find(Exhausting(0.2), "gas-locker-beside-opening")!.Evidence[0].Value.As(UnitsNet.Units.LengthUnit.Meter), 9);
        Assert.Null(Find(Exhausting(0.41), "gas-locker-beside-opening"));
    }

    private static Design Locker(Design van, BodyPoint place) => van with { Equipment = van.Equipment with { GasBottles = true, GasLocker = place } };

    [Fact]
    public void A_small_heater_in_deep_frost_is_too_small_and_a_huge_one_on_a_mild_coast_too_big()
    {
        Design north = Van with { Stop = Presets.StopAt("fairbanks", 1) };
        Assert.NotNull(Find(north, "heater-too-small"));

        // One stage only: the gas furnaces of the table cannot turn down.
        Design big = Vans.With(Position.Shut, Position.Shut, HeaterKind.RoomSealedGas);
        big = big with { Heater = big.Heater with { RatedOutput = Power.FromKilowatts(4) } };
        Assert.NotNull(Find(big, "heater-too-big"));
        Assert.Null(Find(Van, "heater-too-big"));
    }

    [Fact]
    public void Sleeping_in_deep_frost_without_a_heater_is_a_warning_and_on_a_summer_coast_advice()
    {
        Design none = Van with { Heater = Van.Heater with { Kind = HeaterKind.None } };
        Assert.Equal(Severity.Warning, Find(none with { Stop = Presets.StopAt("fairbanks", 1) }, "heater-too-small")!.Severity);
        Assert.Equal(Severity.Advice, Find(none with { Stop = Presets.StopAt("seattle", 7) }, "heater-too-small")!.Severity);
    }

    [Fact]
    public void A_gale_of_outdoor_air_in_deep_frost_is_told_to_be_slowed_before_the_heater_grows()
    {
        Design gale = Openings.Change(
            Vans.With(Position.Full, Position.Full), Presets.RoofFanId, o => o with { Fan = o.Fan! with { Speed = 1 } });
        Assert.StartsWith("First run the fan slower", Find(gale with { Stop = Presets.StopAt("winnipeg", 1) }, "heater-too-small")!.Remedy, StringComparison.Ordinal);

        Design shut = Vans.With(Position.Shut, Position.Shut) with { Stop = Presets.StopAt("fairbanks", 1) };
        Assert.DoesNotContain("slower", Find(shut, "heater-too-small")!.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void Frozen_air_is_not_said_to_grow_mould()
    {
        // Mould grows between 0 and 50 C (Hukka and Viitanen 1999, recalled).
        Design frozen = Vans.With(Position.Shut, Position.Shut, HeaterKind.None) with { Stop = Presets.StopAt("fairbanks", 1) };
        Assert.Null(Find(frozen, "air-damp"));
        Assert.NotNull(Find(frozen with { Stop = Presets.StopAt("seattle", 1) }, "air-damp"));
    }

    [Fact]
    public void Above_the_usual_limit_a_burner_needs_a_setting_and_gas_gives_less()
    {
        Design high = Van with { Stop = Van.Stop with { Altitude = Length.FromMeters(2438.4) } };
        Assert.NotNull(Find(high, "heater-at-altitude"));

        Finding gas = Find(high with { Heater = high.Heater with { Kind = HeaterKind.RoomSealedGas } }, "heater-at-altitude")!;
        // US fuel gas code, 4 % per 1000 feet above sea level: 8000 feet leave 0.68 (NFPA 54 as cited in trade literature).
        Assert.Equal(0.68, gas.Evidence[0].Value.As(UnitsNet.Units.RatioUnit.DecimalFraction), 3);
        Assert.Null(Find(Van, "heater-at-altitude"));
    }

    [Fact]
    public void Dry_frosty_air_is_a_note_and_damp_air_a_warning()
    {
        Design aired = Openings.Change(
            Vans.With(Position.Full, Position.Full, HeaterKind.Electric), Presets.RoofFanId, o => o with { Fan = o.Fan! with { Speed = 0.3 } });
        Design frost = aired with
        {
            Stop = Presets.StopAt("fairbanks", 1),
            Heater = aired.Heater with { RatedOutput = Power.FromKilowatts(15) },
        };
        Assert.Equal(Severity.Note, Find(frost, "air-dry")!.Severity);
        Assert.Equal(Severity.Warning, Find(Vans.With(Position.Shut, Position.Shut, HeaterKind.None), "air-damp")!.Severity);
    }

    [Fact]
    public void Bare_steel_walls_have_too_little_insulation_and_a_vapour_open_lining_lets_vapour_to_the_skin()
    {
        Design bare = Van with
        {
            Walls = PresetAssemblies.Walls with { Name = "Bare skin", Layers = [PresetAssemblies.Walls.Layers[^1]] },
        };

        Assert.NotNull(Find(bare, "thin-insulation"));
        Assert.Null(Find(Van, "thin-insulation"));
        Assert.NotNull(Find(Van, "vapour-reaches-skin"));
        Assert.Null(Find(Van with { Stop = Presets.StopAt("miami", 7) }, "vapour-reaches-skin"));
    }

    [Fact]
    public void Alarms_that_are_not_there_are_a_warning_by_name_and_those_that_are_there_are_not_asked_for()
    {
        Finding all = Find(Van, "alarms-needed")!;
        Assert.Equal(Severity.Warning, all.Severity);
        foreach (string part in (string[])["carbon monoxide alarm", "smoke alarm", "low gas alarm", "fire extinguisher"])
        {
            Assert.Contains(part, all.Title, StringComparison.Ordinal);
        }

        Assert.Null(Find(all.Apply!(Van), "alarms-needed"));
        Finding one = Find(Van with { Equipment = all.Apply!(Van).Equipment with { LowGasAlarm = null } }, "alarms-needed")!;
        Assert.Contains("low gas alarm", one.Title, StringComparison.Ordinal);
        Assert.DoesNotContain("smoke", one.Title, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_flame_carbon_monoxide_and_gas_alarms_are_not_asked_for_but_smoke_still_is()
    {
        Design electric = Van with
        {
            Household = Van.Household with { CookingFuel = CookingFuel.Electric },
            Heater = Van.Heater with { Kind = HeaterKind.Electric },
            Equipment = Van.Equipment with { GasBottles = false },
        };
        string title = Find(electric, "alarms-needed")!.Title;
        Assert.Contains("smoke", title, StringComparison.Ordinal);
        Assert.DoesNotContain("carbon", title, StringComparison.Ordinal);
        Assert.DoesNotContain("gas", title, StringComparison.Ordinal);
        Assert.Contains("carbon", Find(electric with { Equipment = electric.Equipment with { WoodStove = true } }, "alarms-needed")!.Title, StringComparison.Ordinal);
    }

    [Fact]
    public void A_heater_above_the_altitude_it_is_rated_for_is_a_warning_wherever_on_the_way_that_is()
    {
        Design rated = Van with { Equipment = Van.Equipment with { HeaterRatedAltitude = Length.FromMeters(1200) } };
        Assert.Null(Find(rated, "heater-at-altitude"));

        Design pass = rated with
        {
            Itinerary =
            [
                new ItineraryStop { Id = "coast", PlaceKey = "seattle", Altitude = Length.Zero, Shelter = Shelter.Ordinary, From = new MonthDay(9, 1), To = new MonthDay(6, 30) },
                new ItineraryStop { Id = "pass", PlaceKey = "seattle", Altitude = Length.FromMeters(1500), Shelter = Shelter.Exposed, From = new MonthDay(7, 1), To = new MonthDay(8, 31) },
            ],
        };
        Finding warning = Find(pass, "heater-at-altitude")!;
        Assert.Equal(Severity.Warning, warning.Severity);
        Assert.Equal(1500, warning.Evidence[0].Value.As(UnitsNet.Units.LengthUnit.Meter), 6);
    }

    [Fact]
    public void A_lithium_battery_in_frost_is_a_warning_and_one_that_warms_itself_is_not()
    {
        Design cold = Van with
        {
            Stop = Presets.StopAt("fairbanks", 1),
            Equipment = Van.Equipment with { Battery = BatteryKind.Lithium, BatteryZoneId = null },
        };
        Finding warning = Find(cold, "battery-frost")!;

        Assert.Equal(Severity.Warning, warning.Severity);
        Assert.Null(Find(warning.Apply!(cold), "battery-frost"));
        Assert.Null(Find(cold with { Equipment = cold.Equipment with { Battery = BatteryKind.Lead } }, "battery-frost"));
        Assert.Null(Find(cold with { Stop = Presets.StopAt("miami", 7) }, "battery-frost"));
    }

    [Fact]
    public void Water_freezes_outside_and_in_an_unheated_van_but_not_beside_the_heater()
    {
        Design outside = Van with
        {
            Stop = Presets.StopAt("helsinki-vantaa", 1),
            Equipment = Van.Equipment with { WaterCarried = true, WaterZoneId = null },
        };
        Finding warning = Find(outside, "water-frost")!;

        Assert.Equal(Severity.Warning, warning.Severity);
        Assert.Null(Find(warning.Apply!(outside), "water-frost"));
        Assert.Null(Find(outside with { Equipment = outside.Equipment with { WaterCarried = false } }, "water-frost"));
    }

    [Fact]
    public void Nobody_is_left_in_the_locked_van_relying_on_a_fan()
    {
        Finding warning = Find(Van with { Equipment = Van.Equipment with { LeftInLockedVan = true } }, "locked-heat")!;

        Assert.Equal(Severity.Warning, warning.Severity);
        Assert.Contains("never left relying on a fan", warning.Explanation, StringComparison.Ordinal);
        Assert.Null(Find(Van, "locked-heat"));
    }

    [Fact]
    public void One_way_out_of_the_bed_and_rust_under_a_coating_are_warnings()
    {
        Finding way = Find(Van, "one-way-out")!;
        Assert.Equal(Severity.Warning, way.Severity);
        Assert.Null(Find(way.Apply!(Van), "one-way-out"));

        Design coated = Van with { Equipment = Van.Equipment with { Steel = SteelCondition.CoatedOverRust } };
        Assert.Equal(Severity.Warning, Find(coated, "rust-sealed")!.Severity);
        Assert.Null(Find(Find(coated, "rust-sealed")!.Apply!(coated), "rust-sealed"));
        Assert.Null(Find(Van with { Equipment = Van.Equipment with { Steel = SteelCondition.Coated } }, "rust-sealed"));
    }

    [Fact]
    public void A_window_over_a_loom_and_a_lid_over_a_bow_are_moved_clear_of_both()
    {
        Opening lid = Openings.Find(Van, Presets.RoofFanId)!;
        Opening window = Openings.Find(Van, Presets.WindowId)!;
        HiddenPart bow = new()
        {
            Id = "bow",
            Kind = HiddenPartKind.Rib,
            Name = "Roof bow",
            Face = Face.Roof,
            X = lid.X + Length.FromMeters(0.1),
            Y = Van.Body.InteriorWidth / 2,
            Z = Van.Body.InteriorHeight,
            Length = Length.FromMeters(0.06),
            Width = Van.Body.InteriorWidth,
        };
        HiddenPart loom = bow with
        {
            Id = "loom",
            Kind = HiddenPartKind.Wiring,
            Name = "Loom",
            Face = window.Face,
            X = window.X,
            Z = window.Z,
            Length = Length.FromMeters(0.1),
            Width = Length.FromMeters(0.1),
        };
        Design cut = Van with { Body = Van.Body with { HiddenParts = [bow, loom] } };

        Finding warning = Find(cut, "cuts-hidden-part")!;
        Assert.Equal(Severity.Warning, warning.Severity);
        Assert.Equal(2, (double)warning.Evidence[0].Value.Value);
        // The bow lies wholly under the lid: its width times the lid's. The loom wholly under the window.
        Assert.Equal(0.06 * 0.35, warning.Evidence[1].Value.As(UnitsNet.Units.AreaUnit.SquareMeter), 9);
        Assert.Equal(0.01, warning.Evidence[2].Value.As(UnitsNet.Units.AreaUnit.SquareMeter), 9);
        Assert.Null(Find(warning.Apply!(cut), "cuts-hidden-part"));
        // On another face nothing is cut.
        Assert.Null(Find(Van with { Body = Van.Body with { HiddenParts = [bow with { Face = Face.Floor }] } }, "cuts-hidden-part"));
    }

    [Fact]
    public void One_hooded_vent_is_not_enough_in_the_rain_and_two_pass_in_three_vans_and_weathers()
    {
        // Common practice, no source: one roof vent needs an inlet that stays usable in rain; two hooded vents pass.
        foreach ((string body, Layout layout, string place, int month) in (ReadOnlySpan<(string, Layout, string, int)>)
            [("long-high", Layout.RearPlatformBed, "seattle", 1), ("medium-high", Layout.FixedBedAcross, "munich", 10), ("extra-long-high", Layout.FrontLounge, "sydney", 7)])
        {
            Design van = Presets.Build(body, layout, Presets.DefaultHousehold, Presets.StopAt(place, month));
            Design none = van;
            Design one = Openings.Change(van, Presets.RoofFanId, o => o with { Facts = o.Facts with { UsableInRain = true } });
            Design two = Openings.Remove(MoreAir.AddBedLid(one), Presets.WindowId);

            Assert.Equal(Severity.Warning, Find(none, "nothing-open-in-rain")!.Severity);
            Assert.NotNull(Find(one, "nothing-open-in-rain"));
            Assert.Null(Find(two, "nothing-open-in-rain"));
            Assert.Null(Find(Find(none, "nothing-open-in-rain")!.Apply!(none), "nothing-open-in-rain"));
            Assert.Null(Find(Find(one, "nothing-open-in-rain")!.Apply!(one), "nothing-open-in-rain"));
        }
    }

    [Fact]
    public void The_air_left_in_rain_does_not_hang_on_what_stands_open_tonight()
    {
        static double Left(Design design) => Find(design, "nothing-open-in-rain")!.Evidence[0].Value.As(UnitsNet.Units.VolumeFlowUnit.CubicMeterPerHour);

        Assert.Equal(Left(Vans.With(Position.Shut, Position.Shut)), Left(Vans.With(Position.Full, Position.Full)), 6);
        // Nothing may stay open in rain: what is left is the shut van's air.
        double shutM3h = Assessor.Assess(Vans.With(Position.Shut, Position.Shut), TestContext.Current.CancellationToken).Air.OutdoorAir.CubicMetersPerHour;
        Assert.Equal(shutM3h, Left(Vans.With(Position.Full, Position.Full)), 6);
    }

    [Fact]
    public void In_frost_with_air_to_spare_a_sealed_in_fan_is_slowed_and_not_given_more()
    {
        Design loud = Openings.Change(
            Vans.With(Position.Full, Position.Shut), Presets.RoofFanId, o => o with { Fan = o.Fan! with { Speed = 1 } }) with
        {
            Stop = Presets.StopAt("winnipeg", 1),
        };
        Finding finding = Find(loud, "fan-sealed-in")!;
        Assert.Equal(Severity.Advice, finding.Severity);
        Assert.StartsWith("Run the fan slower", finding.Remedy, StringComparison.Ordinal);

        Design after = finding.Apply!(loud);
        Assert.Null(Find(after, "fan-sealed-in"));
        double before = Assessor.Assess(loud, TestContext.Current.CancellationToken).Air.OutdoorAir.CubicMetersPerHour;
        double now = Assessor.Assess(after, TestContext.Current.CancellationToken).Air.OutdoorAir.CubicMetersPerHour;
        Assert.True(now < before, $"{before} -> {now}");
        Assert.True(now / loud.Household.Sleepers >= Defaults.Likely("night-air-per-sleeper"));
        // In summer the inlet is what is missing.
        Assert.Equal(Severity.Warning, Find(loud with { Stop = Presets.StopAt("miami", 7) }, "fan-sealed-in")!.Severity);
    }

    [Fact]
    public void A_van_without_a_heater_is_not_told_to_have_one_for_a_tropical_summer()
    {
        Design none = Van with { Heater = Van.Heater with { Kind = HeaterKind.None }, Stop = Presets.StopAt("miami", 7) };
        Assert.Null(Find(none, "heater-too-small"));
    }

    [Fact]
    public void Wet_glass_in_an_unheated_frozen_van_is_told_warmth_first_and_is_not_over_aired()
    {
        Design frozen = Vans.With(Position.Ajar, Position.Shut, HeaterKind.None) with { Stop = Presets.StopAt("fairbanks", 1) };
        Finding glass = Find(frozen, "glass-condensing")!;
        Assert.StartsWith("First warmth", glass.Remedy, StringComparison.Ordinal);

        Design after = glass.Apply!(frozen);
        Assessment night = Assessor.Assess(after, TestContext.Current.CancellationToken);
        Assert.NotEqual(HeaterKind.None, after.Heater.Kind);
        double perSleeper = night.Air.OutdoorAir.CubicMetersPerHour / after.Household.Sleepers;
        Assert.True(perSleeper <= 2 * Defaults.High("night-air-per-sleeper"), $"{perSleeper} m3/h");
    }

    [Fact]
    public void A_few_grams_on_bare_metal_are_advice_and_not_all_of_it_can_be_covered()
    {
        Finding[] metal = [.. RandomVan.Row(100).Select(van => Find(van, "metal-condensing")).OfType<Finding>()];
        Assert.Contains(metal, finding => finding.Severity == Severity.Advice);
        Assert.Contains(metal, finding => finding.Severity == Severity.Warning);

        Design shut = Vans.With(Position.Shut, Position.Shut);
        Design after = Find(shut, "metal-condensing")!.Apply!(shut);
        Assert.NotEmpty(after.BareMetal);
        Assert.True(after.BareMetal.Sum(patch => patch.Area.SquareMeters) < shut.BareMetal.Sum(patch => patch.Area.SquareMeters));
    }

    [Fact]
    public void Dry_air_is_judged_where_people_sleep_and_never_answered_with_a_shut_vent()
    {
        foreach (Design van in RandomVan.Row(200))
        {
            if (Find(van, "air-dry") is Finding dry)
            {
                Assert.Null(dry.Apply);
                Assert.DoesNotMatch(ShutWord(), dry.Remedy);
                Assessment night = Assessor.Assess(van, TestContext.Current.CancellationToken);
                Assert.True(van.Zones.Zip(night.Zones).Where(z => z.First.Kind == ZoneKind.Sleeping).All(z => z.Second.RelativeHumidity.Percent < 30));
            }
        }
    }

    [GeneratedRegex(@"\b(shut|close|air less|ventilate less|less air)\b", RegexOptions.IgnoreCase)]
    private static partial Regex ShutWord();

    [Fact]
    public void A_remedy_can_be_applied_after_its_assessment_was_cancelled()
    {
        using CancellationTokenSource source = new();
        Assessment assessment = Assessor.Assess(Van, source.Token);
        source.Cancel();

        Finding sealedIn = assessment.Findings.Single(finding => finding.Code == "fan-sealed-in");

        Assert.Null(Find(sealedIn.Apply!(Van), "fan-sealed-in"));
    }
}
