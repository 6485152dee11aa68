using ConsultDesk.Calculations.Envelope;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>What is there already at each stage of a conversion.</summary>
public static class BuildStages
{
    /// <summary>
    /// The design of a van at this stage: in a shell everything is proposed; partly built, insulation and lining are
    /// fitted; lived in, everything is. Windows and flaps the van came with are fitted at every stage.
    /// </summary>
    public static Design Started(Design design, BuildStage stage)
    {
        ArgumentNullException.ThrowIfNull(design);
        PartState layers = stage is BuildStage.PartlyBuilt or BuildStage.LivedIn ? PartState.Fitted : PartState.Proposed;
        PartState parts = stage == BuildStage.LivedIn ? PartState.Fitted : PartState.Proposed;
        return design with
        {
            BuildStage = stage,
            Openings =
            [
                .. design.Openings.Select(opening => opening with
                {
                    State = CameWithVan(opening) ? PartState.Fitted : parts,
                    Pane = opening.Pane is Pane pane ? pane with { CoverState = parts } : null,
                }),
            ],
            Glazings = [.. design.Glazings.Select(glazing => glazing with { Pane = glazing.Pane with { CoverState = parts } })],
            CirculationFans = [.. design.CirculationFans.Select(fan => fan with { State = parts })],
            Dryers = [.. design.Dryers.Select(dryer => dryer with { State = parts })],
            Heater = design.Heater with { State = parts },
            Walls = Of(design.Walls, layers),
            Roof = Of(design.Roof, layers),
            Floor = Of(design.Floor, layers),
            BedBaseState = parts,
            CabDividerState = parts,
        };
    }

    private static bool CameWithVan(Opening opening) =>
        opening.Kind is OpeningKind.CabWindow or OpeningKind.FreshAirFlap or OpeningKind.PressureReliefFlap;

    private static LayeredAssembly Of(LayeredAssembly assembly, PartState state) =>
        assembly with { Layers = [.. assembly.Layers.Select(layer => layer with { State = state })] };
}
