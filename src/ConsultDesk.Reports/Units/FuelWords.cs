using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Reports.Units;

/// <summary>Fuel as it is bought: liquid fuel by volume, gas by weight.</summary>
public static class FuelWords
{
    /// <summary>A mass of a heater's fuel.</summary>
    public static string Of(Mass fuel, HeaterKind heater, DisplayUnits units) => heater == HeaterKind.RoomSealedLiquidFuel
        ? units.Format(Measure.FuelVolume, fuel / Density.FromKilogramsPerCubicMeter(Assumptions.Likely["liquid-fuel-density"]))
        : units.Format(Measure.Fuel, fuel);
}
