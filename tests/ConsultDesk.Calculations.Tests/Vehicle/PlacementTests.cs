using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Vehicle;

public sealed class PlacementTests
{
    private static readonly Design Van = Presets.Build("long-high", Layout.RearPlatformBed);

    private static Opening Fan => Openings.Find(Van, Presets.RoofFanId)!;

    [Fact]
    public void A_preset_van_has_nothing_that_meets() => Assert.Empty(RoofPlan.Clashes(Van));

    [Fact]
    public void A_lid_moved_under_a_solar_panel_is_refused_with_the_reason()
    {
        Design panelled = WithRoofPart(Van, RoofPartKind.SolarPanel, Fan.X.Meters + 1);
        Assert.Null(Placement.Refusal(Van, panelled));

        string? refusal = Placement.Refusal(panelled, Openings.Move(panelled, Fan.Id, Fan.X + Length.FromMeters(0.9), Fan.Y, Fan.Z));

        Assert.Equal($"Panel lies where {Fan.Name} must open and breathe.", refusal);
    }

    [Fact]
    public void A_lid_over_a_roof_bow_is_refused_and_beside_it_is_not()
    {
        HiddenPart bow = new()
        {
            Id = "bow",
            Kind = HiddenPartKind.Rib,
            Name = "Roof bow",
            Face = Face.Roof,
            X = Fan.X + Length.FromMeters(0.5),
            Y = Fan.Y,
            Z = Length.Zero,
            Length = Length.FromMeters(0.06),
            Width = Length.FromMeters(1.7),
        };
        Design ribbed = Van with { Body = Van.Body with { HiddenParts = [bow] } };

        Assert.Contains("would cut Roof bow", Placement.Refusal(ribbed, Openings.Move(ribbed, Fan.Id, bow.X, Fan.Y, Fan.Z)), StringComparison.Ordinal);
        Assert.Null(Placement.Refusal(ribbed, Openings.Move(ribbed, Fan.Id, Fan.X - Length.FromMeters(0.02), Fan.Y, Fan.Z)));
    }

    [Fact]
    public void What_met_before_does_not_stand_in_the_way_of_another_edit()
    {
        Design panelled = WithRoofPart(Van, RoofPartKind.SolarPanel, Fan.X.Meters);
        Assert.Single(RoofPlan.Clashes(panelled));

        Assert.Null(Placement.Refusal(panelled, panelled with { Household = panelled.Household with { Sleepers = 1 } }));
    }

    [Fact]
    public void A_panel_may_lie_on_bars_but_not_on_another_panel()
    {
        Design bars = WithRoofPart(Van, RoofPartKind.RoofBar, Fan.X.Meters + 1);
        Assert.Empty(RoofPlan.Clashes(WithRoofPart(bars, RoofPartKind.SolarPanel, Fan.X.Meters + 1, "second")));
        Design panel = WithRoofPart(Van, RoofPartKind.SolarPanel, Fan.X.Meters + 1);
        Assert.Single(RoofPlan.Clashes(WithRoofPart(panel, RoofPartKind.SolarPanel, Fan.X.Meters + 1, "second")));
    }

    [Fact]
    public void A_fitted_part_is_neither_moved_nor_resized_until_its_state_is_changed()
    {
        Design fitted = Openings.Change(Van, Fan.Id, fan => fan with { State = PartState.Fitted });

        Assert.Contains("is fitted", Placement.Refusal(fitted, Openings.Change(fitted, Fan.Id, fan => fan with { X = fan.X - Length.FromMeters(0.1) })), StringComparison.Ordinal);
        Assert.Contains("is fitted", Placement.Refusal(fitted, Openings.Change(fitted, Fan.Id, fan => fan with { Width = Length.FromMeters(0.3) })), StringComparison.Ordinal);
        Assert.Null(Placement.Refusal(fitted, Openings.SetPosition(fitted, Fan.Id, Position.Half)));
        Assert.Null(Placement.Refusal(fitted, Openings.Change(fitted, Fan.Id, fan => fan with { X = fan.X - Length.FromMeters(0.1), State = PartState.Owned })));
    }

    [Fact]
    public void What_is_fitted_is_not_taken_out_and_not_exchanged()
    {
        Design fitted = BuildStages.Started(Presets.Build("long-high", Layout.RearPlatformBed), BuildStage.LivedIn) with { BedBase = BedBase.Slatted };
        fitted = CirculationFans.Add(fitted, fitted.Zones[0].Id, fitted.Zones[1].Id);
        fitted = CirculationFans.Change(fitted, fitted.CirculationFans[0].Id, fan => fan with { State = PartState.Fitted });
        fitted = fitted with { Heater = fitted.Heater with { Kind = HeaterKind.RoomSealedLiquidFuel, State = PartState.Fitted } };
        SolidLayer thick = fitted.Walls.Layers.OfType<SolidLayer>().First();
        (string What, Func<Design, Design> Edit)[] refused =
        [
            (Fan.Name, van => Openings.Remove(van, Fan.Id)),
            (Fan.Name, van => Openings.Change(van, Fan.Id, fan => fan with { Fan = null })),
            (Fan.Name, van => Openings.Change(van, Fan.Id, fan => fan with { Fan = fan.Fan! with { FreeAirFlow = fan.Fan.FreeAirFlow * 2 } })),
            ("Half-slider window", van => Openings.Change(van, Presets.WindowId, window => window with { Pane = new Pane(GlassKind.SinglePane, Cover.None) })),
            ("Small fan", van => van with { CirculationFans = [] }),
            ("The heater", van => van with { Heater = van.Heater with { Kind = HeaterKind.None } }),
            ("The heater", van => van with { Heater = van.Heater with { RatedOutput = van.Heater.RatedOutput * 2 } }),
            ("Materials", van => van with { Walls = van.Walls with { Layers = [.. van.Walls.Layers.Where(layer => layer.Id != thick.Id)] } }),
            ("Materials", van => van with { Walls = van.Walls with { Layers = van.Walls.Layers.Replace(thick, thick with { Thickness = thick.Thickness * 2 }) } }),
            ("Materials", van => van with { Walls = van.Walls with { Layers = [.. van.Walls.Layers.Reverse()] } }),
            ("The bed base", van => Beds.With(van, BedBase.Solid)),
        ];
        foreach ((string what, Func<Design, Design> edit) in refused)
        {
            string? refusal = Placement.Refusal(fitted, edit(fitted));
            Assert.True(refusal is not null, what);
            Assert.Contains(what == "Materials" ? "is fitted" : $"{what}", refusal, StringComparison.OrdinalIgnoreCase);
        }
    }

    [Fact]
    public void A_fitted_part_is_used_and_known_better_and_what_is_said_not_to_be_fitted_is_free()
    {
        Design fitted = BuildStages.Started(Van, BuildStage.LivedIn);
        SolidLayer thick = fitted.Walls.Layers.OfType<SolidLayer>().First();
        Func<Design, Design>[] taken =
        [
            van => Openings.SetPosition(van, Fan.Id, Position.Half),
            van => Openings.Change(van, Fan.Id, fan => fan with { Covered = true, FreeShare = 0.8, Facts = fan.Facts with { UsableInRain = true } }),
            van => Openings.Change(van, Fan.Id, fan => fan with { Fan = fan.Fan! with { Speed = 0.7, Direction = FanDirection.Intake, SoundDba = 50 } }),
            van => Origins.With(van, $"openings[{Fan.Id}].lengthM", Origin.Measured),
            van => van with { Heater = van.Heater with { NightSetPoint = Temperature.FromDegreesCelsius(12) } },
            van => van with { Walls = van.Walls with { Layers = van.Walls.Layers.Insert(1, new MembraneLayer { Id = "new", Name = "Foil", VapourEquivalentThickness = Length.FromMeters(10) }) } },
            van => van with { Walls = van.Walls with { Layers = van.Walls.Layers.Replace(thick, thick with { State = PartState.Owned, Thickness = thick.Thickness * 2 }) } },
            van => Openings.Change(van, Fan.Id, fan => fan with { State = PartState.Owned, Fan = null }),
        ];
        foreach ((int number, Func<Design, Design> edit) in taken.Index())
        {
            Assert.True(Placement.Refusal(fitted, edit(fitted)) is null, $"{number}: {Placement.Refusal(fitted, edit(fitted))}");
        }

        Design bought = Openings.Change(fitted, Fan.Id, fan => fan with { State = PartState.Owned });
        Assert.Null(Placement.Refusal(bought, Openings.Remove(bought, Fan.Id)));
    }

    [Fact]
    public void A_remedy_finds_its_place_beside_what_lies_on_the_roof()
    {
        Length bed = MoreAir.BedCentre(Van);
        Design panelled = WithRoofPart(Van, RoofPartKind.SolarPanel, bed.Meters);
        Design aired = MoreAir.AddBedLid(panelled);

        Assert.Equal(panelled.Openings.Length + 1, aired.Openings.Length);
        Assert.Null(Placement.Refusal(panelled, aired));
        Assert.NotEqual(MoreAir.AddBedLid(Van).Openings[^1].X, aired.Openings[^1].X);
    }

    [Fact]
    public void A_remedy_moves_an_opening_off_a_rib_but_never_a_fitted_one()
    {
        HiddenPart bow = new()
        {
            Id = "bow",
            Kind = HiddenPartKind.Rib,
            Name = "Roof bow",
            Face = Face.Roof,
            X = Fan.X,
            Y = Fan.Y,
            Z = Length.Zero,
            Length = Length.FromMeters(0.06),
            Width = Length.FromMeters(1.7),
        };
        Design proposed = Van with { Body = Van.Body with { HiddenParts = [bow] } };
        Design fitted = Openings.Change(proposed, Fan.Id, fan => fan with { State = PartState.Fitted });

        Finding Cuts(Design design) => Assessor.Assess(design, AssessmentDepth.Night).Findings.Single(finding => finding.Code == "cuts-hidden-part");
        Assert.Null(Placement.Refusal(proposed, Cuts(proposed).Apply!(proposed)));
        Assert.Null(Cuts(fitted).Apply);
        Assert.Contains("was cut already", Cuts(fitted).Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_fitted_is_no_longer_to_be_cut()
    {
        Finding? Cutting(Design design) => Assessor.Assess(design, AssessmentDepth.Night).Findings.SingleOrDefault(finding => finding.Code == "before-cutting");
        double before = (double)Cutting(Van)!.Evidence[0].Value.Value;
        Design one = Openings.Change(Van, Fan.Id, fan => fan with { State = PartState.Fitted });

        Assert.Equal(before - 1, (double)Cutting(one)!.Evidence[0].Value.Value);
        Assert.Equal(0, (double)Cutting(one)!.Evidence[1].Value.Value);
        Assert.Null(Cutting(Van with { Openings = [.. Van.Openings.Select(opening => opening with { State = PartState.Fitted })] }));
    }

    [Fact]
    public void What_is_changed_is_told_what_is_proposed_has_no_origin_and_what_is_gone_is_forgotten()
    {
        Design edited = Origins.AfterEdit(Van with { Household = Van.Household with { Sleepers = 1 } }, ["household.sleepers", $"openings[{Fan.Id}].lengthM"]);
        Assert.Equal([new InputOrigin("household.sleepers", Origin.Told)], edited.Origins);

        Design measured = Origins.With(edited, "leakage.effectiveAreaM2", Origin.Measured);
        Assert.Equal(Origin.Measured, Origins.Of(measured, "leakage.effectiveAreaM2"));
        Assert.Equal(Origin.Assumed, Origins.Of(measured, "stop.month"));
        Assert.Equal(["household.sleepers", "leakage.effectiveAreaM2"], measured.Origins.Select(entry => entry.Id));
        Assert.Equal(["leakage.effectiveAreaM2"], Origins.With(measured, "household.sleepers", Origin.Assumed).Origins.Select(entry => entry.Id));

        Design fitted = Openings.Change(measured, Fan.Id, fan => fan with { State = PartState.Fitted });
        Design known = Origins.AfterEdit(fitted, [$"openings[{Fan.Id}].lengthM"], Origin.Measured);
        Assert.Equal(Origin.Measured, Origins.Of(known, $"openings[{Fan.Id}].lengthM"));
        Assert.DoesNotContain(Origins.AfterEdit(known with { Openings = [] }, []).Origins, entry => entry.Id.StartsWith("openings", StringComparison.Ordinal));
    }

    [Fact]
    public void Every_fact_is_there_once_and_starts_as_assumed()
    {
        var facts = InputCatalogue.Of(Van);
        Assert.Distinct(facts.Select(fact => fact.Path));
        Assert.All(facts, fact => Assert.Equal(Origin.Assumed, fact.Origin));
        Assert.DoesNotContain(facts, fact => fact.Path.StartsWith($"openings[{Fan.Id}]", StringComparison.Ordinal));
    }

    private static Design WithRoofPart(Design design, RoofPartKind kind, double xM, string id = "part") => design with
    {
        Body = design.Body with
        {
            RoofParts =
            [
                .. design.Body.RoofParts,
                new RoofPart { Id = id, Kind = kind, Name = id == "part" ? "Panel" : "Other panel", X = Length.FromMeters(xM), Y = Fan.Y, Length = Length.FromMeters(0.6), Width = Length.FromMeters(0.9) },
            ],
        },
    };
}
