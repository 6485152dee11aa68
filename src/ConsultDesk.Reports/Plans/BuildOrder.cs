using System.Collections.Immutable;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Reports.Plans;

/// <summary>
/// What is done in which order (common practice, no source): what lies behind a lining cannot be reached afterwards. Made
/// from the design: a step that has nothing to do in this van is left out.
/// </summary>
internal sealed class BuildOrder(Design design, DisplayUnits units)
{
    private static readonly ImmutableArray<string> Foams = ["eps", "xps", "pir-board", "pir-foil", "spray-foam-closed", "elastomeric-foam", "pe-foam"];

    private IEnumerable<Layer> Layers => design.Walls.Layers.Concat(design.Roof.Layers).Concat(design.Floor.Layers);

    private bool LayersToDo => Layers.Any(ToDo);

    private ImmutableArray<string> FoamsToDo => [.. Layers.Where(ToDo).OfType<SolidLayer>().Select(layer => layer.Material).Where(Foams.Contains).Distinct()];

    private static bool ToDo(Layer layer) => layer.State is PartState.Proposed or PartState.Owned;

    /// <summary>The blocks of the section.</summary>
    public IEnumerable<PlanBlock> Blocks()
    {
        yield return new ListBlock([.. Steps()], Numbered: true);
        if (design.Openings.Any(opening => opening.State == PartState.Later) || Layers.Any(layer => layer.State == PartState.Later))
        {
            yield return new ParagraphBlock("What comes later is left out of these steps; leave its place, its cable and its pipe ready behind the lining.");
        }

        foreach (var caution in Cautions())
        {
            yield return caution;
        }
    }

    private IEnumerable<string> Steps()
    {
        var steel = design.Equipment.Steel;
        var cuts = new CutSheet(design, units);
        if (LayersToDo || steel is SteelCondition.LightRust or SteelCondition.CoatedOverRust)
        {
            yield return steel switch
            {
                SteelCondition.LightRust => "Rust: grind or brush it back to bright steel, treat it and prime it. Rust through the sheet or on a bearing part is a body shop’s work.",
                SteelCondition.CoatedOverRust => "Rust: the coating lies over rust. Take it off where it lifts, grind back to bright steel, treat and prime; what has rusted through is a body shop’s work.",
                SteelCondition.RustTreated => "Rust: look at the treated places once more before anything covers them.",
                SteelCondition.Coated => "Rust: the steel is coated and sound. Touch up every scratch made while building.",
                _ => "Rust: take the linings off, wash and dry the shell, and look at every seam, sill and rib. What is found is treated before anything covers it.",
            };
        }

        if (LayersToDo && steel is not SteelCondition.Coated)
        {
            yield return "Coating: prime bare steel and coat it where water can stand; drain holes and cavities the maker waxed stay open.";
        }

        if (cuts.Any)
        {
            var names = cuts.Holes.Where(hole => hole.State != PartState.Later).Select(hole => Figures.ScoreFigure.Lower(hole.Name)).ToList();
            yield return $"Holes and sealing, by the cut sheet{(names.Count > 0 ? ": " + string.Join(", ", names) : "")}. Bare edges the same day; hose test before the lining.";
        }

        var wired = new List<string>();
        if (design.Openings.Any(opening => opening is { Fan: not null, State: PartState.Proposed or PartState.Owned }) || design.CirculationFans.Any(fan => fan.State is PartState.Proposed or PartState.Owned))
        {
            wired.Add("fans");
        }

        if (design.Heater is { Kind: not HeaterKind.None, State: PartState.Proposed or PartState.Owned })
        {
            wired.Add("heater");
        }

        if (design.Body.RoofParts.Any(part => part is { Kind: RoofPartKind.SolarPanel, State: PartState.Proposed or PartState.Owned }))
        {
            wired.Add("solar panel");
        }

        if (wired.Count > 0 || LayersToDo)
        {
            yield return $"Wiring, pipes and ducts{(wired.Count > 0 ? ", for " + string.Join(", ", wired) : "")}: in conduit, fused at the battery, photographed before they are covered. Mains and charging: a licensed electrician; gas: a licensed gas fitter, with a tightness test.";
        }

        if (LayersToDo)
        {
            yield return "Insulation: without gaps, ribs and frames covered too, in the layers the wall sections show; nothing is stuffed into cavities that have drain holes.";
            yield return design.Walls.Gaps switch
            {
                LiningGaps.Sealed => "Lining: with its edges taped or sealed, screw holes and cable entries too, as it was calculated.",
                LiningGaps.PlannedAirGap => "Lining: with the planned air gap open at the top and the bottom, and nothing that blocks it.",
                _ => "Lining: on clips or screws that come off again, so that somebody can look behind it after the first winter.",
            };
        }

        if (design.Body.Furniture.Any(piece => piece.Kind is FurnitureKind.Bed or FurnitureKind.Cupboard) && design.BuildStage != BuildStage.LivedIn)
        {
            yield return $"Furniture with gaps: cupboards a finger’s width off the outside wall and open at top and bottom{(design.BedBase == BedBase.Solid ? "" : ", air under the mattress as calculated")}.";
        }

        if (design.Heater is { Kind: not HeaterKind.None, State: PartState.Proposed or PartState.Owned })
        {
            yield return "Heater: " + (design.Heater.Kind switch
            {
                HeaterKind.RoomSealedGas or HeaterKind.UnfluedGas => "a licensed gas fitter, to the maker’s instructions, with the paper of the tightness test.",
                HeaterKind.WoodStove => "a licensed installer of stoves, with its clearances, hearth and flue as the maker gives them.",
                HeaterKind.Electric => "on a circuit a licensed electrician has tested.",
                _ => "a fitter its maker approves, exhaust and combustion air outside, tested before the first night.",
            });
        }

        yield return "Alarms and extinguisher: " + Missing() + "Test each alarm before anybody sleeps in the van.";
        yield return "First wet-night trial: a rainy night near home with everybody aboard, set by the running card. Read the humidity at the bed and at the glass in the evening and at seven, look behind the lining and under the mattress, and write down what was wet.";
    }

    private string Missing()
    {
        var equipment = design.Equipment;
        var burns = design.Household.CookingFuel == CookingFuel.Gas || design.Heater.Kind is not (HeaterKind.None or HeaterKind.Electric);
        string[] missing =
        [
            .. equipment.CarbonMonoxideAlarm is null && burns ? ["a carbon monoxide alarm"] : Array.Empty<string>(),
            .. equipment.SmokeAlarm is null ? ["a smoke alarm"] : Array.Empty<string>(),
            .. equipment.LowGasAlarm is null && equipment.GasBottles ? ["a gas alarm near the floor"] : Array.Empty<string>(),
            .. equipment.Extinguisher is null ? ["an extinguisher"] : Array.Empty<string>(),
        ];
        return missing.Length == 0 ? "those of the parts list. " : $"this plan has not got {string.Join(", ", missing)} yet; they belong in every van of this kind. ";
    }

    private IEnumerable<PlanBlock> Cautions()
    {
        if (LayersToDo || design.Equipment.Steel is SteelCondition.LightRust or SteelCondition.CoatedOverRust)
        {
            yield return new FindingBlock(
                Calculations.Findings.Severity.Warning,
                "Coating, solvents and rust work",
                "Vapours of solvents, primers and coatings burn and harm; grinding dust harms lungs and eyes.",
                [],
                "Work outdoors or with all doors open, wear the mask, gloves and glasses their makers name, keep flames, sparks and switched heaters away, and let it cure as long as the tin says before anybody sleeps in the van.");
        }

        if (!FoamsToDo.IsEmpty)
        {
            yield return new FindingBlock(
                Calculations.Findings.Severity.Warning,
                "Foam",
                FoamsToDo.Contains("spray-foam-closed")
                    ? "Spray foam gives off isocyanates while it is sprayed and cures, which can cause asthma for life; cured foam burns with poisonous smoke."
                    : "Foams burn fast and with poisonous smoke; cutting them makes dust, and their glues give off solvents.",
                [],
                FoamsToDo.Contains("spray-foam-closed")
                    ? "Leave spraying to a trained trade with supplied air; nobody is in the van until it has cured. Keep all foam behind the lining and away from heater, flue and cooker."
                    : "Cut with a knife rather than a saw, wear a mask, air while glue dries, and keep foam behind the lining and away from heater, flue and cooker.");
        }

        if (design.BuildStage == BuildStage.LivedIn || design.Equipment.Steel == SteelCondition.CoatedOverRust)
        {
            yield return new FindingBlock(
                Calculations.Findings.Severity.Warning,
                "Mould found while opening up",
                "Disturbed mould fills the air with spores.",
                [],
                "Mask of class FFP2 or N95 at least, gloves and glasses; wet it before it is wiped, bag what comes off, never dry-brush it. More than a square metre, or anybody with asthma or a weak immune system aboard: a licensed trade.");
        }
    }
}
