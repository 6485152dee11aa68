using System.Collections.Immutable;
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
        };

        foreach ((string path, Design wrong) in mistakes)
        {
            DesignError? error = DesignCheck.Errors(wrong).FirstOrDefault(e => e.Path == path);
            Assert.True(error is not null, $"{path} is missing in: {string.Join(", ", DesignCheck.Errors(wrong).Select(e => e.Path))}");
            Assert.Contains("expected", error.Message, StringComparison.Ordinal);
        }
    }
}
