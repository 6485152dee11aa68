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
