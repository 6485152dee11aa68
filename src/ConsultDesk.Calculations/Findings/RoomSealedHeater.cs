using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings;

/// <summary>A heater that takes its air from outside and gives its gases back there.</summary>
internal static class RoomSealedHeater
{
    /// <summary>True when a remedy that asks for more heat has to bring another heater.</summary>
    public static bool IsMissing(Design design) => design.Heater.Kind is HeaterKind.None or HeaterKind.UnfluedGas or HeaterKind.WoodStove;

    /// <summary>
    /// The design with a room-sealed heater of the same output where it has none, and with the alarms a flame asks for.
    /// Where the new exhaust ends is not decided yet.
    /// </summary>
    public static Design Fitted(Design design) => IsMissing(design)
        ? design with
        {
            Heater = design.Heater with { Kind = HeaterKind.RoomSealedLiquidFuel },
            Equipment = design.Equipment with { HeaterExhaust = null, CarbonMonoxideAlarm = design.Equipment.CarbonMonoxideAlarm ?? PartState.Proposed, SmokeAlarm = design.Equipment.SmokeAlarm ?? PartState.Proposed, Extinguisher = design.Equipment.Extinguisher ?? PartState.Proposed },
        }
        : design;
}
