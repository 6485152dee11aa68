using ConsultDesk.Calculations.Envelope;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>What a design is before anything that comes later is bought: this is what is assessed.</summary>
public static class LaterParts
{
    /// <summary>The design without the parts that come later; the same design when there are none.</summary>
    public static Design Without(Design design)
    {
        ArgumentNullException.ThrowIfNull(design);
        if (!Any(design))
        {
            return design;
        }

        Equipment equipment = design.Equipment;
        return design with
        {
            Openings = [.. design.Openings.Where(opening => opening.State != PartState.Later).Select(opening => opening with { Pane = Now(opening.Pane) })],
            Glazings = [.. design.Glazings.Select(glazing => glazing with { Pane = Now(glazing.Pane)! })],
            CirculationFans = [.. design.CirculationFans.Where(fan => fan.State != PartState.Later)],
            Dryers = [.. design.Dryers.Where(dryer => dryer.State != PartState.Later)],
            Heater = design.Heater.State == PartState.Later ? design.Heater with { Kind = HeaterKind.None } : design.Heater,
            Walls = Now(design.Walls),
            Roof = Now(design.Roof),
            Floor = Now(design.Floor),
            Equipment = equipment with
            {
                CarbonMonoxideAlarm = Now(equipment.CarbonMonoxideAlarm),
                SmokeAlarm = Now(equipment.SmokeAlarm),
                LowGasAlarm = Now(equipment.LowGasAlarm),
                Extinguisher = Now(equipment.Extinguisher),
            },
        };
    }

    private static bool Any(Design design) =>
        design.Openings.Any(opening => opening.State == PartState.Later || IsLater(opening.Pane))
        || design.Glazings.Any(glazing => IsLater(glazing.Pane))
        || design.CirculationFans.Any(fan => fan.State == PartState.Later)
        || design.Dryers.Any(dryer => dryer.State == PartState.Later)
        || design.Heater is { State: PartState.Later, Kind: not HeaterKind.None }
        || new[] { design.Walls, design.Roof, design.Floor }.Any(assembly => assembly.Layers.Any(layer => layer.State == PartState.Later))
        || design.Equipment is { CarbonMonoxideAlarm: PartState.Later } or { SmokeAlarm: PartState.Later }
            or { LowGasAlarm: PartState.Later } or { Extinguisher: PartState.Later };

    private static bool IsLater(Pane? pane) => pane is { CoverState: PartState.Later, Cover: not Cover.None };

    private static Pane? Now(Pane? pane) => IsLater(pane) ? pane! with { Cover = Cover.None } : pane;

    private static PartState? Now(PartState? state) => state == PartState.Later ? null : state;

    private static LayeredAssembly Now(LayeredAssembly assembly) =>
        assembly with { Layers = [.. assembly.Layers.Where(layer => layer.State != PartState.Later)] };
}
