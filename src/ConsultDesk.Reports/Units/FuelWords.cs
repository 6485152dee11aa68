using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Reports.Units;

/// <summary>Fuel as it is bought: liquid fuel by volume, gas and wood by weight.</summary>
public static class FuelWords
{
    /// <summary>A mass of a heater's fuel, with its unit.</summary>
    public static string Of(Mass fuel, HeaterKind heater, DisplayUnits units) => units.Format(MeasureOf(heater), Bought(fuel, heater));

    /// <summary>The number alone, for a table with <see cref="Symbol"/> in its head.</summary>
    public static string Number(Mass fuel, HeaterKind heater, DisplayUnits units) => units.Number(MeasureOf(heater), Bought(fuel, heater));

    /// <summary>The fuel as it is bought, with the kind of number it is then.</summary>
    public static (Measure Measure, IQuantity Quantity) AsBought(Mass fuel, HeaterKind heater) => (MeasureOf(heater), Bought(fuel, heater));

    /// <summary>The unit.</summary>
    public static string Symbol(HeaterKind heater, DisplayUnits units) => units.Symbol(MeasureOf(heater));

    private static Measure MeasureOf(HeaterKind heater) => heater.BurnsLiquidFuel() ? Measure.FuelVolume : Measure.Fuel;

    private static IQuantity Bought(Mass fuel, HeaterKind heater) => heater.BurnsLiquidFuel() switch
    {
        true => fuel / Density.FromKilogramsPerCubicMeter(Assumptions.Likely["liquid-fuel-density"]),
        false => (IQuantity)fuel,
    };
}
