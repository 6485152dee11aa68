using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Vehicle;

public sealed class VehicleEditTests
{
    public static TheoryData<string, Layout> Vans() => PresetTests.Vans();

    [Theory]
    [MemberData(nameof(Vans))]
    public void Every_edit_of_a_valid_van_is_a_valid_van(string bodyClass, Layout layout)
    {
        Design van = Presets.Build(bodyClass, layout);
        List<(string Edit, Design? Van)> edited =
        [
            .. Enum.GetValues<BedBase>().Select(bed => ($"bed {bed}", (Design?)Beds.With(van, bed))),
            .. Enum.GetValues<CabDivider>().Select(divider => ($"cab {divider}", (Design?)CabDividers.With(van, divider))),
            .. from host in new[] { "living", "sleeping", "under-bed" }
               from wall in new[] { Face.Left, Face.Right }
               from air in Enum.GetValues<CupboardAir>()
               select ($"cupboard {host} {wall} {air}", Cupboards.Add(van, host, wall, air)),
            .. from a in van.Zones
               from b in van.Zones
               where a.Id != b.Id
               select ($"fan {a.Id} {b.Id}", (Design?)CirculationFans.Add(van, a.Id, b.Id)),
        ];

        foreach ((string edit, Design? after) in edited)
        {
            // A place that is full gives no design, never a wrong one.
            Assert.True(after is null || DesignCheck.Errors(after).IsEmpty, $"{edit}: {string.Join(", ", after is null ? [] : DesignCheck.Errors(after))}");
        }

        Assert.NotNull(Cupboards.Add(van, "living", Face.Left, CupboardAir.Closed));
    }

    [Fact]
    public void A_cupboard_takes_its_wall_and_its_air_from_the_room_and_gives_them_back()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        Design one = Cupboards.Add(van, "living", Face.Left, CupboardAir.Closed)!;
        Design two = Cupboards.Add(one, "living", Face.Left, CupboardAir.OpenTopAndBottom)!;

        Zone cupboard = Cupboards.Of(two).First();
        Assert.Equal(2, Cupboards.Of(two).Count());
        foreach (Face face in Enum.GetValues<Face>())
        {
            // What the body has of each face does not depend on what stands before it.
            Assert.Equal(
                van.Zones.Sum(zone => ZoneFaces.AreaM2(van, zone, face)),
                two.Zones.Sum(zone => ZoneFaces.AreaM2(two, zone, face)), 9);
        }

        double frontM2 = (cupboard.To.Meters - cupboard.From.Meters) * (cupboard.Top.Meters - cupboard.Bottom.Meters);
        Assert.Equal(frontM2, ZoneFaces.AreaM2(two, cupboard, Face.Left), 9);
        Assert.Equal(0, ZoneFaces.AreaM2(two, cupboard, Face.Right));
        Assert.Equal("cupboard-1", Openings.ZoneAt(two, Face.Left, (cupboard.From + cupboard.To) / 2, (cupboard.Bottom + cupboard.Top) / 2)!.Id);

        Design back = Cupboards.Remove(Cupboards.Remove(two, "cupboard-2"), "cupboard-1");
        Assert.Equal(van.Zones.Select(zone => zone.Id), back.Zones.Select(zone => zone.Id));
        Assert.Equal(van.Passages.Select(passage => passage.Id), back.Passages.Select(passage => passage.Id));
        Assert.All(van.Zones.Zip(back.Zones), pair => Assert.Equal(pair.First.AirVolume.CubicMeters, pair.Second.AirVolume.CubicMeters, 9));
    }

    [Fact]
    public void What_stands_in_a_cupboard_stands_in_the_room_when_the_cupboard_goes()
    {
        Design van = Cupboards.Add(Presets.Build("long-high", Layout.RearPlatformBed), "living", Face.Left, CupboardAir.Closed)!;
        van = van with { Equipment = van.Equipment with { Battery = BatteryKind.Lithium, BatteryZoneId = "cupboard-1", WaterZoneId = "under-bed" } };
        van = CirculationFans.Add(van, "living", "cupboard-1");

        Design without = Cupboards.Remove(van, "cupboard-1");

        Assert.Equal("living", without.Equipment.BatteryZoneId);
        Assert.Equal("under-bed", without.Equipment.WaterZoneId);
        Assert.Empty(without.CirculationFans);
        Assert.Empty(DesignCheck.Errors(without));
    }

    [Fact]
    public void A_cupboard_opened_at_top_and_bottom_is_warmer_and_drier_than_a_shut_one()
    {
        // Common practice, no source: air a cupboard on the cold wall. The heated room's warmth reaches its back wall then.
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        Design shut = Cupboards.Add(van, "living", Face.Left, CupboardAir.Closed)!;
        Design open = Cupboards.SetAir(shut, "cupboard-1", CupboardAir.OpenTopAndBottom);

        ZoneState shutAir = Assessor.Assess(shut, TestContext.Current.CancellationToken).Zones.Single(zone => zone.ZoneId == "cupboard-1");
        ZoneState openAir = Assessor.Assess(open, TestContext.Current.CancellationToken).Zones.Single(zone => zone.ZoneId == "cupboard-1");

        Assert.True(openAir.Temperature > shutAir.Temperature, $"{openAir.Temperature} {shutAir.Temperature}");
        Assert.True(openAir.RelativeHumidity < shutAir.RelativeHumidity, $"{openAir.RelativeHumidity} {shutAir.RelativeHumidity}");
    }

    [Fact]
    public void A_divided_cab_is_colder_by_night_and_colder_still_behind_a_better_divider()
    {
        // The heater stands behind the cab; what holds back air and heat leaves the cab nearer to outdoors.
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        double[] cabC =
        [
            .. Enum.GetValues<CabDivider>().Select(divider =>
                Assessor.Assess(CabDividers.With(van, divider), TestContext.Current.CancellationToken).Zones[0].Temperature.DegreesCelsius),
        ];

        Assert.Equal(CabDivider.InsulatedCurtain, Enum.GetValues<CabDivider>()[2]);
        Assert.True(cabC[0] > cabC[1] && cabC[1] > cabC[2] && cabC[0] > cabC[3], string.Join(" ", cabC));
    }

    [Fact]
    public void Taking_the_curtain_down_gives_the_open_gap_back()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);

        Design again = CabDividers.With(CabDividers.With(van, CabDivider.InsulatedCurtain), CabDivider.Open);

        Passage before = van.Passages.Single(passage => passage.Id == "cab-gap");
        Passage after = again.Passages.Single(passage => passage.Id == "cab-gap");
        Assert.Equal(before.FreeArea.SquareMeters, after.FreeArea.SquareMeters, 12);
        Assert.Equal(before.Mixing.CubicMetersPerHour, after.Mixing.CubicMetersPerHour, 12);
        Assert.False(CabDividers.Possible(van with { Passages = [] }));
    }

    [Fact]
    public void A_solid_bed_lets_less_air_under_the_mattress_than_slats()
    {
        Design van = Presets.Build("long-high", Layout.FixedBedAcross);
        Passage solid = Platform(Beds.With(van, BedBase.Solid));
        Passage slats = Platform(Beds.With(van, BedBase.Slatted));

        Assert.True(solid.FreeArea < slats.FreeArea && solid.Mixing < slats.Mixing);
        Assert.Equal(slats, Platform(van));
        Assert.Equal(BedBase.Solid, Beds.With(van, BedBase.Solid).BedBase);

        static Passage Platform(Design design) => design.Passages.Single(passage => passage.Id == "bed-platform");
    }

    [Fact]
    public void A_new_opening_is_not_cut_through_what_is_known_behind_the_skin()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        Opening vent = Openings.Find(van, Presets.RoofFanId)! with { Id = "vent", Fan = null };
        Opening free = FreePlaces.First(van, vent)!;
        HiddenPart rib = new()
        {
            Id = "rib",
            Kind = HiddenPartKind.Rib,
            Name = "Roof bow",
            Face = Face.Roof,
            X = free.X,
            Y = free.Y,
            Z = free.Z,
            Length = Length.FromMillimeters(60),
            Width = Length.FromMeters(1.7),
        };
        Design ribbed = van with { Body = van.Body with { HiddenParts = [rib] } };

        Assert.Equal("rib", Assert.Single(HiddenParts.CutBy(ribbed.Body, free)).Id);
        Assert.Empty(HiddenParts.CutBy(ribbed.Body, FreePlaces.First(ribbed, vent)!));
        Assert.Empty(HiddenParts.CutBy(ribbed.Body, free with { Face = Face.Floor }));
    }

    [Fact]
    public void An_unknown_id_is_refused_by_name()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);

        Assert.Contains("attic", Assert.Throws<ArgumentException>(() => Cupboards.Add(van, "attic", Face.Left, CupboardAir.Closed)).Message, StringComparison.Ordinal);
        Assert.Contains("wardrobe", Assert.Throws<ArgumentException>(() => Cupboards.SetAir(van, "wardrobe", CupboardAir.Closed)).Message, StringComparison.Ordinal);
        Assert.Contains("attic", Assert.Throws<ArgumentException>(() => CirculationFans.Add(van, "living", "attic")).Message, StringComparison.Ordinal);
        Assert.Contains("expected two different zones", Assert.Throws<ArgumentException>(() => CirculationFans.Add(van, "living", "living")).Message, StringComparison.Ordinal);
    }
}
