using System.Globalization;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Reports.Units;
using UnitsNet;

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
        PriceKind.LiquidFuel => "Fuel for heaters",
        PriceKind.BottledGas => "Gas in bottles",
        PriceKind.Electricity => "Electricity",
        PriceKind.Firewood => "Firewood",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Expected a kind of item."),
    };

    /// <summary>What a price is for.</summary>
    public static string Of(PriceUnit unit) => unit switch
    {
        PriceUnit.Each => "each",
        PriceUnit.SquareMetre => "per m²",
        PriceUnit.Litre => "per litre",
        PriceUnit.Kilogram => "per kg",
        PriceUnit.KilowattHour => "per kWh",
        _ => throw new ArgumentOutOfRangeException(nameof(unit), unit, "Expected a unit of the price book."),
    };

    /// <summary>Who fits it.</summary>
    public static string Of(FittedBy by) => by == FittedBy.You ? "you" : "licensed trade";

    /// <summary>The technical facts of an item, in the reader's units.</summary>
    public static string Facts(PriceItem item, DisplayUnits units)
    {
        var sized = PriceFacts.NumberOf(item, "lengthMm") is not null && PriceFacts.NumberOf(item, "widthMm") is not null;
        return string.Join(", ", item.Facts
            .OrderBy(fact => PriceFacts.All.TakeWhile(known => known.Name != fact.Key).Count())
            .Where(fact => fact.Value != "no" && !(sized && fact.Key == "widthMm"))
            .Select(fact => Fact(item, fact.Key, fact.Value, sized, units)));
    }

    private static string Fact(PriceItem item, string name, string value, bool sized, DisplayUnits units)
    {
        double Number() => PriceFacts.NumberOf(item, name)!.Value;
        string Size(string fact) => units.Format(Measure.SmallLength, Length.FromMillimeters(PriceFacts.NumberOf(item, fact)!.Value));
        return name switch
        {
            "lengthMm" => sized ? $"{Size("lengthMm")} × {Size("widthMm")}" : Size("lengthMm"),
            "widthMm" => Size("widthMm") + " wide",
            "freeShare" => Number() < 1 ? string.Create(CultureInfo.InvariantCulture, $"{100 * Number():0.#}\u00A0% of it free") : "all of it free",
            "freeAirFlowM3PerH" => $"moves {units.Format(VolumeFlow.FromCubicMetersPerHour(Number()))}",
            "shutOffPa" => $"up to {units.Format(Pressure.FromPascals(Number()))}",
            "soundDba" => $"{value} dB(A) at 1 m",
            "electricW" => $"draws {units.Format(Measure.ElectricPower, Power.FromWatts(Number()))}",
            "heatW" => $"{units.Format(Power.FromWatts(Number()))} of heat",
            "material" => value == PriceFacts.Membrane ? "membrane" : Materials.Find(value)?.Name ?? value,
            "thicknessMm" => $"{Size("thicknessMm")} thick",
            "vapourSdM" => $"as tight as {units.Format(Measure.VapourEquivalentThickness, Length.FromMeters(Number()))} of still air",
            "removedKgPerDay" => $"takes out {units.Format(Mass.FromKilograms(Number()))} a day",
            "usableInRain" => "open in rain",
            "usableInDrivingRain" => "open in driving rain",
            "openAsleep" => "open asleep",
            "openLocked" => "open when locked",
            "rainSensor" => "a rain sensor shuts it",
            "seenThrough" => "seen through",
            "screened" => "with a screen",
            "fixed" => "cannot be shut",
            _ => value.Replace('-', ' '),
        };
    }
}
