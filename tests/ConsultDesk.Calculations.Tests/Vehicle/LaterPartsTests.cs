using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Vehicle;

public sealed class LaterPartsTests
{
    private static readonly CancellationToken Cancellation = TestContext.Current.CancellationToken;

    /// <summary>A van of which everything that can come later comes later.</summary>
    private static Design Later()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        van = Openings.Change(van, Presets.RoofFanId, fan => fan with { State = PartState.Later });
        van = Openings.Change(van, Presets.WindowId, window => window with { Pane = window.Pane! with { Cover = Cover.Outside, CoverState = PartState.Later } });
        van = CirculationFans.Add(van, "living", "sleeping");
        van = CabDividers.With(van, CabDivider.InsulatedCurtain);
        return van with
        {
            Glazings = [.. van.Glazings.Select(glazing => glazing with { Pane = glazing.Pane with { Cover = Cover.InsideTight, CoverState = PartState.Later } })],
            CirculationFans = [.. van.CirculationFans.Select(fan => fan with { State = PartState.Later })],
            Dryers = [new Dryer { Id = "dryer", Name = "Dryer", Kind = DryerKind.Compressor, ZoneId = "living", RemovedPerDay = Mass.FromKilograms(5), ElectricDraw = Power.FromWatts(200), Running = true, State = PartState.Later }],
            Heater = van.Heater with { State = PartState.Later },
            Walls = van.Walls with { Layers = [van.Walls.Layers[0] with { State = PartState.Later }, van.Walls.Layers[1] with { State = PartState.Later }, van.Walls.Layers[2]] },
            Equipment = van.Equipment with { CarbonMonoxideAlarm = PartState.Later, SmokeAlarm = PartState.Later, LowGasAlarm = PartState.Later, Extinguisher = PartState.Later },
            CabDividerState = PartState.Later,
            BedBaseState = PartState.Later,
        };
    }

    /// <summary>The same van as somebody would enter it who never thought of what comes later.</summary>
    private static Design Now()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        van = Beds.With(CabDividers.With(Openings.Remove(van, Presets.RoofFanId), CabDivider.Open), BedBase.Solid);
        return van with
        {
            Heater = van.Heater with { Kind = HeaterKind.None },
            Walls = van.Walls with { Layers = [van.Walls.Layers[2]] },
        };
    }

    [Fact]
    public void What_comes_later_changes_no_number_and_no_finding()
    {
        Assert.Empty(DesignCheck.Errors(Later()));
        Assessment later = Assessor.Assess(Later(), Cancellation);
        Assessment now = Assessor.Assess(Now(), Cancellation);
        Assert.Equal(now.Zones, later.Zones);
        Assert.Equal(now.Water.CondensedPerNight.Grams, later.Water.CondensedPerNight.Grams);
        Assert.Equal(now.Heat.DesignLoad.Watts, later.Heat.DesignLoad.Watts);
        Assert.Equal(
            now.Findings.Select(finding => (finding.Code, finding.Title, string.Join("|", finding.Evidence.Select(evidence => $"{evidence.Label} {evidence.Value}")))),
            later.Findings.Select(finding => (finding.Code, finding.Title, string.Join("|", finding.Evidence.Select(evidence => $"{evidence.Label} {evidence.Value}")))));
        Assert.Contains(later.Findings, finding => finding.Code == "alarms-needed");
        Assert.Contains(later.Findings, finding => finding.Code == "heater-too-small");
    }

    [Fact]
    public void A_van_without_later_parts_is_assessed_as_it_is()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        Assert.Same(van, LaterParts.Without(van));
    }

    [Fact]
    public void Every_remedy_on_a_van_with_later_parts_gives_a_valid_van_that_still_has_what_the_remedy_did_not_bring()
    {
        Design van = Later();
        ReadOnlySpan<Finding> findings = Assessor.Assess(van, Cancellation).Findings.AsSpan();
        int applied = 0;
        foreach (Finding finding in findings)
        {
            if (finding.Apply is null)
            {
                continue;
            }

            applied++;
            Design after = finding.Apply(van);
            Assert.True(DesignCheck.Errors(after).IsEmpty, $"{finding.Code}: {string.Join(" ", DesignCheck.Errors(after))}");
            Assert.Equal(PartState.Later, Openings.Find(after, Presets.RoofFanId)!.State);
            Assert.Equal(van.Openings.Select(opening => opening.Id), after.Openings.Take(van.Openings.Length).Select(opening => opening.Id));
            Assert.Single(after.Dryers);
            Assert.DoesNotContain(after.Body.HiddenParts, part => part.Name == "Roof fan, 350 mm");
            Assert.Equal(["lining", "insulation", "skin"], after.Walls.Layers.Select(layer => layer.Id).Where(id => id is "lining" or "insulation" or "skin"));
            Assert.All(after.Walls.Layers.Where(layer => layer.Id is "lining" or "insulation"), layer => Assert.Equal(PartState.Later, layer.State));
            // Whatever the remedy brought is not later: it would do nothing.
            Assert.All(after.Openings.Skip(van.Openings.Length), opening => Assert.Equal(PartState.Proposed, opening.State));
        }

        Assert.True(applied > 3);
    }

    [Fact]
    public void The_remedy_for_missing_alarms_fits_them_now_and_leaves_the_rest_for_later()
    {
        Design van = Later();
        Design after = Remedied(van, "alarms-needed");
        Assert.Equal(PartState.Proposed, after.Equipment.CarbonMonoxideAlarm);
        Assert.Equal(PartState.Proposed, after.Equipment.Extinguisher);
        Assert.Equal(PartState.Later, after.Heater.State);
        Assert.Equal(CabDivider.InsulatedCurtain, after.CabDivider);
        Assert.Equal(
            van.Passages.Select(passage => (passage.Id, passage.FreeArea.SquareMeters)),
            after.Passages.Select(passage => (passage.Id, passage.FreeArea.SquareMeters)));
        Assert.DoesNotContain(Assessor.Assess(after, Cancellation).Findings, finding => finding.Code == "alarms-needed");
    }

    [Fact]
    public void The_remedy_for_a_heater_that_comes_later_is_a_heater_now()
    {
        Design after = Remedied(Later(), "heater-too-small");
        Assert.Equal((HeaterKind.RoomSealedLiquidFuel, PartState.Proposed), (after.Heater.Kind, after.Heater.State));
        Assert.Equal(PartState.Later, after.Glazings[0].Pane.CoverState);
        Assert.Equal(Cover.InsideTight, after.Glazings[0].Pane.Cover);
    }

    [Fact]
    public void A_later_part_keeps_its_place_and_its_name_from_what_a_remedy_adds()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        Design withVent = MoreAir.AddLowVent(van with { Openings = [] });
        Opening later = withVent.Openings[0] with { State = PartState.Later };
        Design after = LaterParts.Around(withVent with { Openings = [later] }, MoreAir.AddLowVent);
        Assert.Equal(2, after.Openings.Length);
        Assert.Equal(later, after.Openings[0]);
        Assert.Equal(PartState.Proposed, after.Openings[1].State);
        Assert.NotEqual(later.Id, after.Openings[1].Id);
        Assert.Empty(DesignCheck.Errors(after));
    }

    [Fact]
    public void A_remedy_that_exchanges_a_fitted_heater_proposes_the_new_one_and_keeps_fitted_alarms_fitted()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        van = van with
        {
            Heater = van.Heater with { Kind = HeaterKind.UnfluedGas, State = PartState.Fitted, PriceKey = "old" },
            Equipment = van.Equipment with { SmokeAlarm = PartState.Fitted },
        };
        Design after = Remedied(van, "unflued-flame-asleep");
        Assert.Equal((PartState.Proposed, null), (after.Heater.State, after.Heater.PriceKey));
        Assert.Equal(PartState.Fitted, after.Equipment.SmokeAlarm);
    }

    [Fact]
    public void A_wall_whose_every_layer_comes_later_is_refused_with_the_field()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        Design none = van with { Roof = van.Roof with { Layers = [.. van.Roof.Layers.Select(layer => layer with { State = PartState.Later })] } };
        Assert.Equal("roof.layers", Assert.Single(DesignCheck.Errors(none)).Path);
    }

    [Fact]
    public void A_later_layer_goes_back_to_where_it_lay()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        Layer vapour = new MembraneLayer { Id = "sheet", Name = "Sheet", VapourEquivalentThickness = Length.FromMeters(20), State = PartState.Later };
        van = van with { Walls = van.Walls with { Layers = van.Walls.Layers.Insert(1, vapour) } };
        Design after = LaterParts.Around(van, design => design with { Stop = design.Stop with { Month = 3 } });
        Assert.Equal(van.Walls.Layers, after.Walls.Layers);
    }

    private static Design Remedied(Design van, string code) =>
        Assessor.Assess(van, Cancellation).Findings.Single(finding => finding.Code == code).Apply!(van);
}
