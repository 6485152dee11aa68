using System.Collections.Immutable;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Vehicle;

public sealed class PresetTests
{
    public static TheoryData<string, Layout> Vans()
    {
        TheoryData<string, Layout> vans = [];
        foreach (BodyClass bodyClass in BodyClasses.All)
        {
            foreach (Layout layout in Enum.GetValues<Layout>())
            {
                vans.Add(bodyClass.Key, layout);
            }
        }

        return vans;
    }

    [Theory]
    [MemberData(nameof(Vans))]
    public void Every_body_class_with_every_layout_is_a_valid_van(string bodyClass, Layout layout)
    {
        ImmutableArray<DesignError> errors = DesignCheck.Errors(Presets.Build(bodyClass, layout));

        Assert.True(errors.IsEmpty, string.Join("\n", errors));
    }

    [Theory]
    [MemberData(nameof(Vans))]
    public void Every_new_van_has_the_windows_and_flaps_it_came_with_and_is_valid(string bodyClass, Layout layout)
    {
        Design van = Presets.Start(bodyClass, layout, Presets.DefaultHousehold, Presets.DefaultStop, BuildStage.EmptyShell);

        Assert.Empty(DesignCheck.Errors(van));
        Assert.Equal(
            [OpeningKind.CabWindow, OpeningKind.CabWindow, OpeningKind.FreshAirFlap, OpeningKind.PressureReliefFlap],
            van.Openings.Where(opening => opening.State == PartState.Fitted).Select(opening => opening.Kind));
        Assert.All(van.Openings.Where(opening => opening.Kind is OpeningKind.CabWindow or OpeningKind.FreshAirFlap), opening => Assert.Equal("cab", opening.ZoneId));
    }

    [Fact]
    public void In_a_shell_nothing_else_is_fitted_and_in_a_van_that_is_lived_in_everything_is()
    {
        Design shell = Start(BuildStage.EmptyShell);
        Design livedIn = Start(BuildStage.LivedIn);

        Assert.All(
            shell.Openings.Where(opening => opening.Id is Presets.RoofFanId or Presets.WindowId).Select(opening => opening.State).Append(shell.Heater.State)
                .Concat(shell.Walls.Layers.Select(layer => layer.State)),
            state => Assert.Equal(PartState.Proposed, state));
        Assert.All(
            livedIn.Openings.Select(opening => opening.State).Append(livedIn.Heater.State).Concat(livedIn.Walls.Layers.Select(layer => layer.State)),
            state => Assert.Equal(PartState.Fitted, state));
    }

    [Fact]
    public void What_the_van_came_with_leaks_no_more_than_the_body_that_was_measured_with_it()
    {
        Design bare = Presets.Build("long-high", Layout.RearPlatformBed);
        Design came = FactoryOpenings.With(bare);

        // Shut, they are part of the leakage of the whole body and must not be counted twice. A flap half open would bring
        // several m3/h; where the rounds of pressure and heat stop differs in the fourth decimal.
        Assert.Equal(
            Assessor.Assess(bare, TestContext.Current.CancellationToken).Air.OutdoorAir.CubicMetersPerHour,
            Assessor.Assess(came, TestContext.Current.CancellationToken).Air.OutdoorAir.CubicMetersPerHour,
            2);
    }

    [Fact]
    public void Nobody_is_told_to_open_a_flap_that_only_pressure_opens()
    {
        Design van = Start(BuildStage.LivedIn);

        Assert.False(FactoryOpenings.SetByPeople(Openings.Find(van, FactoryOpenings.ReliefFlapsId)!));
        Assert.True(FactoryOpenings.SetByPeople(Openings.Find(van, FactoryOpenings.FreshAirFlapId)!));
        string[] used = [.. SingleChanges.Of(van, PriceBooks.Default).Where(change => change.Kind == ChangeKind.Use).Select(change => change.Key)];
        Assert.Contains("use:" + FactoryOpenings.FreshAirFlapId, used);
        Assert.DoesNotContain("use:" + FactoryOpenings.ReliefFlapsId, used);
    }

    private static Design Start(BuildStage stage) =>
        Presets.Start("long-high", Layout.RearPlatformBed, Presets.DefaultHousehold, Presets.DefaultStop, stage);

    [Fact]
    public void A_van_without_any_opening_is_valid()
    {
        Design shut = Presets.Build("long-high", Layout.RearPlatformBed) with { Openings = [] };

        Assert.Empty(DesignCheck.Errors(shut));
    }

    [Fact]
    public void A_moved_roof_fan_opens_into_the_zone_below_it()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);

        Assert.Equal("sleeping", Openings.Find(van, Presets.RoofFanId)!.ZoneId);
        Design front = Openings.MoveOnRoof(van, Presets.RoofFanId, RoofPlace.Front);

        Assert.Equal("living", Openings.Find(front, Presets.RoofFanId)!.ZoneId);
        Assert.Equal(RoofPlace.Front, Openings.PlaceOf(front, Openings.Find(front, Presets.RoofFanId)!));
        Assert.Empty(DesignCheck.Errors(front));
    }

    [Fact]
    public void Each_mistake_is_named_at_its_field_with_what_was_expected()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        var mistakes = new Dictionary<string, Design>
        {
            ["openings[side-window].x"] = Openings.Move(van, Presets.WindowId, Length.FromMeters(9), default, Length.FromMeters(1.2)),
            ["openings[side-window].length"] = Openings.Change(van, Presets.WindowId, o => o with { Length = Length.FromMeters(3) }),
            ["openings[side-window].zoneId"] = Openings.Change(van, Presets.WindowId, o => o with { ZoneId = "garage" }),
            ["openings[roof-fan].fan.speed"] = Openings.Change(van, Presets.RoofFanId, o => o with { Fan = o.Fan! with { Speed = 1.5 } }),
            ["openings[roof-fan-2].x"] = Openings.Add(van, Openings.Find(van, Presets.RoofFanId)! with { Id = "roof-fan-2" }),
            ["openings"] = Openings.Add(van, Openings.Find(van, Presets.WindowId)! with { X = Length.FromMeters(4) }),
            ["zones[sleeping].from"] = van with { Zones = [.. van.Zones.Select(z => z.Id == "sleeping" ? z with { From = Length.FromMeters(2) } : z)] },
            ["zones"] = van with { Zones = [] },
            ["heater.zoneId"] = van with { Heater = van.Heater with { ZoneId = "attic" } },
            ["heater.nightSetPoint"] = van with { Heater = van.Heater with { NightSetPoint = Temperature.FromDegreesCelsius(40) } },
            ["stop.month"] = van with { Stop = van.Stop with { Month = 13 } },
            ["stop.placeKey"] = van with { Stop = van.Stop with { PlaceKey = "atlantis" } },
            ["stop.altitude"] = van with { Stop = Presets.StopAt("fairbanks", 1) with { Altitude = Length.FromMeters(4000) } },
            ["household.sleepers"] = van with { Household = van.Household with { Sleepers = -1 } },
            ["leakage.exponent"] = van with { Leakage = van.Leakage with { Exponent = double.NaN } },
            ["bareMetal[metal-cab].area"] = van with { BareMetal = [.. van.BareMetal.Select(p => p with { Area = Area.FromSquareMeters(25) })] },
            ["passages[cab-gap].zoneB"] = van with { Passages = [.. van.Passages.Select(p => p with { ZoneB = p.ZoneA })] },
            ["heater.ratedOutput"] = van with { Heater = van.Heater with { RatedOutput = Power.FromWatts(2) } },
            ["heater.daySetPoint"] = van with { Heater = van.Heater with { DaySetPoint = Temperature.FromDegreesCelsius(-5) } },
            ["household.animals"] = van with { Household = van.Household with { Animals = 7 } },
            ["household.showersPerDay"] = van with { Household = van.Household with { ShowersPerDay = 11 } },
            ["circulationFans[circulation-fan-1].zoneA"] = WithFan(van, fan => fan with { ZoneA = "attic" }),
            ["circulationFans[circulation-fan-1].zoneB"] = WithFan(van, fan => fan with { ZoneB = fan.ZoneA }),
            ["circulationFans[circulation-fan-1].flow"] = WithFan(van, fan => fan with { Flow = VolumeFlow.FromCubicMetersPerHour(501) }),
            ["circulationFans[circulation-fan-1].electricDraw"] = WithFan(van, fan => fan with { ElectricDraw = Power.FromWatts(-1) }),
            ["circulationFans"] = WithFan(CirculationFans.Add(van, "living", "sleeping"), fan => fan with { Id = "" }),
            ["equipment.waysOutOfBed"] = van with { Equipment = van.Equipment with { WaysOutOfBed = 0 } },
            ["equipment.batteryUsable"] = van with { Equipment = van.Equipment with { BatteryUsable = Energy.FromKilowattHours(31) } },
            ["equipment.batteryZoneId"] = van with { Equipment = van.Equipment with { BatteryZoneId = "garage" } },
            ["equipment.waterZoneId"] = van with { Equipment = van.Equipment with { WaterZoneId = "garage" } },
            ["equipment.heaterRatedAltitude"] = van with { Equipment = van.Equipment with { HeaterRatedAltitude = Length.FromMeters(-1) } },
            ["equipment.heaterExhaust.x"] = WithExhaust(van, new BodyPoint(Face.Floor, Length.FromMeters(7), Length.FromMeters(0.5), Length.Zero)),
            ["equipment.heaterExhaust.y"] = WithExhaust(van, new BodyPoint(Face.Tail, Length.Zero, Length.FromMeters(-0.1), Length.Zero)),
            ["equipment.heaterExhaust.z"] = WithExhaust(van, new BodyPoint(Face.Right, Length.FromMeters(2), Length.Zero, Length.FromMeters(-1))),
            ["body.hiddenParts[rib].length"] = WithRib(van, rib => rib with { Length = Length.Zero }),
            ["body.hiddenParts[rib].y"] = WithRib(van, rib => rib with { Width = Length.FromMeters(3) }),
            ["body.hiddenParts[rib].z"] = WithRib(van, rib => rib with { Face = Face.Left, Z = Length.FromMeters(3) }),
            ["body.hiddenParts"] = WithRib(WithRib(van, rib => rib), rib => rib),
            ["itinerary[a].placeKey"] = WithStay(van, stay => stay with { PlaceKey = "atlantis" }),
            ["itinerary[a].altitude"] = WithStay(van, stay => stay with { Altitude = Length.FromMeters(6000) }),
            ["itinerary[a].from"] = WithStay(van, stay => stay with { From = new MonthDay(2, 29) }),
            ["itinerary[a].to"] = WithStay(van, stay => stay with { To = new MonthDay(13, 1) }),
            ["itinerary"] = WithStay(van, stay => stay with { To = new MonthDay(12, 30) }),
            ["itinerary[b].from"] = WithStay(WithStay(van, stay => stay), stay => stay with { Id = "b" }),
            ["zones[living].cupboard"] = van with { Zones = [.. van.Zones.Select(z => z.Id == "living" ? z with { Kind = ZoneKind.Cupboard } : z)] },
            ["zones[cupboard-1].cupboard.wall"] = WithCupboard(van, z => z with { Cupboard = z.Cupboard! with { Wall = Face.Tail } }),
            ["zones[cupboard-1].cupboard.depth"] = WithCupboard(van, z => z with { Cupboard = z.Cupboard! with { Depth = Length.FromMeters(1.2) } }),
            ["zones[cupboard-1].cupboard.hostZoneId"] = WithCupboard(van, z => z with { Cupboard = z.Cupboard! with { HostZoneId = "cab" } }),
            ["zones[cupboard-1].from"] = WithCupboard(van, z => z with { To = Length.FromMeters(5) }),
            ["zones[cupboard-1].airVolume"] = WithCupboard(van, z => z with { AirVolume = Volume.FromCubicMeters(0.5) }),
        };

        foreach ((string path, Design wrong) in mistakes)
        {
            DesignError? error = DesignCheck.Errors(wrong).FirstOrDefault(e => e.Path == path);
            Assert.True(error is not null, $"{path} is missing in: {string.Join(", ", DesignCheck.Errors(wrong).Select(e => e.Path))}");
            Assert.Contains("expected", error.Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_cupboard_over_a_window_is_refused_with_the_windows_name()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        Opening window = Openings.Find(van, Presets.WindowId)!;

        Design covered = Cupboards.Add(
            van, "living", Face.Right, CupboardAir.Closed,
            window.X, window.X + Length.FromMeters(0.5), window.Z, window.Z + Length.FromMeters(0.4), Length.FromMeters(0.3));

        DesignError error = DesignCheck.Errors(covered).First(e => e.Path == "zones[cupboard-1].from");
        Assert.Contains(window.Name, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Stays_cover_each_day_of_the_year_once_in_any_order_and_over_New_Year()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        Design winter = WithStay(van, stay => stay with { Id = "summer", From = new MonthDay(4, 1), To = new MonthDay(9, 30) });
        Design year = WithStay(winter, stay => stay with { Id = "winter", From = new MonthDay(10, 1), To = new MonthDay(3, 31) });

        Assert.Empty(DesignCheck.Errors(year));
        DesignError gap = Assert.Single(DesignCheck.Errors(winter));
        Assert.Equal("No stay covers 1 January; expected stays through the whole year.", gap.Message);
        DesignError twice = Assert.Single(DesignCheck.Errors(WithStay(year, stay => stay with { Id = "again", From = new MonthDay(9, 30), To = new MonthDay(9, 30) })));
        Assert.Equal("Another stay already covers 30 September; expected each day in one stay.", twice.Message);
    }

    [Fact]
    public void A_stay_too_cold_for_the_properties_of_moist_air_is_refused_at_its_altitude()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);

        DesignError error = Assert.Single(DesignCheck.Errors(WithStay(van, stay => stay with { PlaceKey = "fairbanks", Altitude = Length.FromMeters(4000) })));

        Assert.Equal("itinerary[a].altitude", error.Path);
    }

    [Fact]
    public void The_output_of_a_heater_that_is_not_there_is_not_asked_for()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);

        Assert.Empty(DesignCheck.Errors(van with { Heater = van.Heater with { Kind = HeaterKind.None, RatedOutput = Power.Zero } }));
    }

    private static Design WithFan(Design van, Func<CirculationFan, CirculationFan> change) =>
        CirculationFans.Change(CirculationFans.Add(van, "living", "under-bed"), "circulation-fan-1", change);

    private static Design WithExhaust(Design van, BodyPoint point) => van with { Equipment = van.Equipment with { HeaterExhaust = point } };

    private static Design WithRib(Design van, Func<HiddenPart, HiddenPart> change) => van with
    {
        Body = van.Body with
        {
            HiddenParts = van.Body.HiddenParts.Add(change(new HiddenPart
            {
                Id = "rib",
                Kind = HiddenPartKind.Rib,
                Name = "Roof bow",
                Face = Face.Roof,
                X = Length.FromMeters(3),
                Y = Length.FromMeters(0.89),
                Z = Length.FromMeters(1.95),
                Length = Length.FromMeters(0.06),
                Width = Length.FromMeters(1.7),
            })),
        },
    };

    private static Design WithStay(Design van, Func<ItineraryStop, ItineraryStop> change) => van with
    {
        Itinerary = van.Itinerary.Add(change(new ItineraryStop
        {
            Id = "a",
            PlaceKey = "seattle",
            Altitude = Length.FromMeters(130),
            Shelter = Shelter.Ordinary,
            From = new MonthDay(1, 1),
            To = new MonthDay(12, 31),
        })),
    };

    private static Design WithCupboard(Design van, Func<Zone, Zone> change)
    {
        Design added = Cupboards.Add(van, "living", Face.Left, CupboardAir.Closed)!;
        return added with { Zones = [.. added.Zones.Select(zone => zone.Cupboard is null ? zone : change(zone))] };
    }
}
