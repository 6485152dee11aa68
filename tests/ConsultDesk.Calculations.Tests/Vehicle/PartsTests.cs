using System.Collections.Immutable;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Vehicle;

public sealed class PartsTests
{
    private static readonly Design Van = Presets.Build("long-high", Layout.RearPlatformBed);

    private static readonly Opening Flap = new()
    {
        Id = "relief-flap",
        Name = "Pressure-relief flap",
        Kind = OpeningKind.PressureReliefFlap,
        Face = Face.Left,
        ZoneId = "",
        X = Van.Body.InteriorLength - Length.FromMeters(0.3),
        Y = Length.Zero,
        Z = Length.FromMeters(0.3),
        Length = Length.FromMeters(0.2),
        Width = Length.FromMeters(0.1),
        FreeShare = 0.5,
        Position = Position.Shut,
        Facts = new OpeningFacts { UsableInRain = true, UsableInDrivingRain = true },
        State = PartState.Fitted,
    };

    [Theory]
    [InlineData(BuildStage.EmptyShell, PartState.Proposed, PartState.Proposed)]
    [InlineData(BuildStage.PartlyBuilt, PartState.Fitted, PartState.Proposed)]
    [InlineData(BuildStage.LivedIn, PartState.Fitted, PartState.Fitted)]
    public void A_stage_says_what_is_there_already(BuildStage stage, PartState layers, PartState parts)
    {
        Design started = BuildStages.Started(Openings.Add(Van, Flap), stage);

        Assert.Equal(stage, started.BuildStage);
        Assert.All(started.Walls.Layers, layer => Assert.Equal(layers, layer.State));
        Assert.Equal(parts, Openings.Find(started, Presets.RoofFanId)!.State);
        Assert.Equal(parts, started.Heater.State);
        Assert.Equal(PartState.Fitted, Openings.Find(started, Flap.Id)!.State);
        Assert.Empty(DesignCheck.Errors(started));
    }

    [Fact]
    public void A_lid_that_a_rain_sensor_shuts_does_not_stay_open_in_rain()
    {
        Design both = Openings.Change(Van, Presets.RoofFanId, fan => fan with { Facts = fan.Facts with { RainSensor = true, UsableInRain = true } });
        Assert.Contains(DesignCheck.Errors(both), error => error.Path == "openings[roof-fan].facts.usableInRain" && error.Message.Contains("rain sensor", StringComparison.Ordinal));
        Assert.Empty(DesignCheck.Errors(Openings.Change(Van, Presets.RoofFanId, fan => fan with { Facts = fan.Facts with { RainSensor = true } })));
    }

    public static TheoryData<string, Design> Wrong => new()
    {
        { "dryers[tub].zoneId", Van with { Dryers = [Tub with { ZoneId = "attic" }] } },
        { "dryers[tub].removedPerDay", Van with { Dryers = [Tub with { RemovedPerDay = Mass.FromKilograms(31) }] } },
        { "dryers[tub].electricDraw", Van with { Dryers = [Tub with { ElectricDraw = Power.FromWatts(1001) }] } },
        { "dryers", Van with { Dryers = [Tub, Tub] } },
        { "body.roofParts[rack].x", Van with { Body = Van.Body with { RoofParts = [Rack with { X = Length.FromMeters(-1) }] } } },
        { "body.roofParts[rack].length", Van with { Body = Van.Body with { RoofParts = [Rack with { Length = Length.FromMeters(10) }] } } },
        { "country", Van with { Country = "de" } },
        { "origins", Van with { Origins = [new("stop.month", Origin.Told), new("country", Origin.Told)] } },
        { "openings[roof-fan].fan.soundDba", Openings.Change(Van, Presets.RoofFanId, fan => fan with { Fan = fan.Fan! with { SoundDba = 95 } }) },
        { "equipment.gasLocker.x", Van with { Equipment = Van.Equipment with { GasLocker = new(Face.Floor, Length.FromMeters(20), Length.FromMeters(0.5), Length.Zero) } } },
    };

    [Theory]
    [MemberData(nameof(Wrong), DisableDiscoveryEnumeration = true)]
    public void What_is_wrong_with_a_part_is_said_at_its_field(string path, Design design) =>
        Assert.Equal([path], DesignCheck.Errors(design).Select(error => error.Path));

    [Fact]
    public void A_flap_behind_lining_is_found_and_freed()
    {
        Design covered = Openings.Add(Van, Flap with { Covered = true });
        Finding finding = Findings(covered).Single(finding => finding.Code == "relief-flap-covered");

        Assert.Contains(finding.Evidence, evidence => evidence.Value is Area area && Math.Abs(area.SquareCentimeters - 100) < 1e-6);
        Assert.DoesNotContain(Findings(finding.Apply!(covered)), left => left.Code == "relief-flap-covered");
        Assert.DoesNotContain(Findings(Openings.Add(Van, Flap)), none => none.Code == "relief-flap-covered");
    }

    [Fact]
    public void A_running_dryer_is_told_to_be_no_ventilation_with_what_it_takes_out_beside_what_is_made()
    {
        Finding finding = Findings(Van with { Dryers = [Tub] }).Single(finding => finding.Code == "dryer-is-no-ventilation");

        MassFlow removed = (MassFlow)finding.Evidence[0].Value;
        MassFlow made = (MassFlow)finding.Evidence[1].Value;
        Assert.InRange(removed.KilogramsPerHour, 1e-6, made.KilogramsPerHour);
        Assert.DoesNotContain(Findings(Van with { Dryers = [Tub with { Running = false }] }), none => none.Code == "dryer-is-no-ventilation");
        Assert.DoesNotContain(Findings(Van with { Dryers = [Tub with { State = PartState.Later }] }), none => none.Code == "dryer-is-no-ventilation");
    }

    private static Dryer Tub => new()
    {
        Id = "tub",
        Name = "Absorber tub",
        Kind = DryerKind.AbsorberTub,
        ZoneId = "living",
        RemovedPerDay = Mass.FromKilograms(0.05),
        ElectricDraw = Power.Zero,
        Running = true,
    };

    private static RoofPart Rack => new()
    {
        Id = "rack",
        Kind = RoofPartKind.Rack,
        Name = "Rack",
        X = Length.FromMeters(2),
        Y = Length.FromMeters(0.9),
        Length = Length.FromMeters(1),
        Width = Length.FromMeters(0.3),
    };

    private static ImmutableArray<Finding> Findings(Design design) => Assessor.Assess(design, TestContext.Current.CancellationToken).Findings;
}
