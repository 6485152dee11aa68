using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings;

/// <summary>
/// A remedy on a design as it is kept: rules see what is there now, so what comes later is taken out and put back, and
/// what the remedy exchanged for something else is not fitted any more but proposed.
/// </summary>
internal static class AppliedRemedy
{
    /// <summary>The finding with such a remedy; itself when its remedy is no change of the design.</summary>
    public static Finding Of(Finding finding) => finding.Apply is { } apply
        ? finding with { Apply = design => Proposed(design, LaterParts.Around(design, apply)) }
        : finding;

    /// <summary>The design after, with every part that is another one than before as proposed; the very same design when nothing was better.</summary>
    internal static Design Proposed(Design before, Design after) => ReferenceEquals(before, after) ? before : after with
    {
        Heater = after.Heater.Kind == before.Heater.Kind && after.Heater.RatedOutput.Watts == before.Heater.RatedOutput.Watts
            ? after.Heater
            : after.Heater with { State = PartState.Proposed, PriceKey = null },
        Openings =
        [
            .. after.Openings.Select(opening => before.Openings.FirstOrDefault(other => other.Id == opening.Id) is Opening old
                ? Covered(Exchanged(old, opening) ? opening with { State = PartState.Proposed, PriceKey = null } : opening, old.Pane)
                : opening),
        ],
        Glazings =
        [
            .. after.Glazings.Select(glazing => before.Glazings.FirstOrDefault(other => other.Id == glazing.Id) is Glazing old && old.Pane.Cover != glazing.Pane.Cover
                ? glazing with { Pane = glazing.Pane with { CoverState = PartState.Proposed } }
                : glazing),
        ],
        Walls = Proposed(before.Walls, after.Walls),
        Roof = Proposed(before.Roof, after.Roof),
        Floor = Proposed(before.Floor, after.Floor),
        BedBaseState = after.BedBase == before.BedBase ? after.BedBaseState : PartState.Proposed,
        CabDividerState = after.CabDivider == before.CabDivider ? after.CabDividerState : PartState.Proposed,
    };

    private static Opening Covered(Opening opening, Pane? old) => opening.Pane is Pane pane && old is not null && old.Cover != pane.Cover
        ? opening with { Pane = pane with { CoverState = PartState.Proposed } }
        : opening;

    private static bool Exchanged(Opening old, Opening opening) => old.Kind != opening.Kind
        || old.Length.Meters != opening.Length.Meters || old.Width.Meters != opening.Width.Meters
        || old.Pane?.Glass != opening.Pane?.Glass
        // A hood or a deflector is bought, and with it what it sits on where the price book has no hood alone.
        || (!old.Facts.UsableInRain && opening.Facts.UsableInRain)
        || (old.Fan is null) != (opening.Fan is null)
        || (old.Fan is Fan had && opening.Fan is Fan has && had.FreeAirFlow.CubicMetersPerSecond != has.FreeAirFlow.CubicMetersPerSecond);

    private static LayeredAssembly Proposed(LayeredAssembly before, LayeredAssembly after) => after with
    {
        Layers =
        [
            .. after.Layers.Select(layer => before.Layers.FirstOrDefault(other => other.Id == layer.Id) is Layer old && old != layer && old.State != PartState.Later
                ? layer with { State = PartState.Proposed }
                : layer),
        ],
    };
}
