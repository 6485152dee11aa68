using ConsultDesk.Calculations.Costs;

namespace ConsultDesk.Web.Prices;

/// <summary>The price book in words.</summary>
public static class PriceWords
{
    /// <summary>What an item is.</summary>
    public static string Of(PriceKind kind) => kind switch
    {
        PriceKind.RoofVent => "Roof vents",
        PriceKind.RoofFan => "Roof fans",
        PriceKind.SlidingWindow => "Sliding windows",
        PriceKind.HingedWindow => "Hinged windows",
        PriceKind.FloorVent => "Floor and low vents",
        PriceKind.CabWindowVent => "Cab window grilles",
        PriceKind.CabWindowDeflector => "Cab window deflectors",
        PriceKind.CirculationFan => "Circulation fans",
        PriceKind.Heater => "Heaters",
        PriceKind.Material => "Materials",
        PriceKind.Cover => "Covers for glass",
        PriceKind.CabDivider => "Cab dividers",
        PriceKind.BedBase => "Bed bases",
        PriceKind.Dryer => "Dehumidifiers and absorbers",
        PriceKind.CarbonMonoxideAlarm => "Carbon monoxide alarms",
        PriceKind.SmokeAlarm => "Smoke alarms",
        PriceKind.LowGasAlarm => "Gas alarms",
        PriceKind.Extinguisher => "Fire extinguishers",
        PriceKind.RoofPart => "Roof parts",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Expected a kind of item."),
    };

    /// <summary>What a price is for.</summary>
    public static string Of(PriceUnit unit) => unit == PriceUnit.Each ? "each" : "per m²";

    /// <summary>Who fits it.</summary>
    public static string Of(FittedBy by) => by == FittedBy.You ? "you" : "licensed trade";
}
