using ConsultDesk.Calculations.Air;
using UnitsNet;

namespace ConsultDesk.Calculations.Moisture;

/// <summary>What a flame that burns cabin air and leaves its gases there does to that air.</summary>
/// <remarks>
/// Well-mixed space, complete burning, gas volumes at the temperature and pressure of the air; the small change of
/// volume by burning is left out (below 1 % of the flow). Room-sealed heaters do none of this.
/// </remarks>
public static class CombustionGases
{
    /// <summary>Universal gas constant, J/(kmol K).</summary>
    public const double GasConstant = 8314.462618;

    /// <summary>Outdoor oxygen, share of volume of dry air.</summary>
    public const double OutdoorOxygen = 0.2095;

    /// <summary>Heat inputs accepted, 0 to 20 kW of lower heating value.</summary>
    public static readonly ValidRange InputRange = new("Heat input", 0, 20_000, "W");

    /// <summary>Fuel burnt for a heat input, on its lower heating value.</summary>
    public static MassFlow FuelRate(Fuel fuel, Power input) => MassFlow.FromKilogramsPerSecond(FuelKgPerS(fuel, CheckedW(input)));

    /// <summary>Water given to the air.</summary>
    public static MassFlow Water(Fuel fuel, Power input) =>
        MassFlow.FromKilogramsPerSecond(WaterKg(fuel, CheckedW(input)));

    /// <summary>Carbon dioxide given to the air, as a volume at its temperature and pressure.</summary>
    public static VolumeFlow CarbonDioxide(Fuel fuel, Power input, Temperature air, Pressure pressure) =>
        VolumeFlow.FromCubicMetersPerSecond(CarbonDioxideMol(fuel, CheckedW(input)) / 1000 * MolarVolume(air, pressure));

    /// <summary>Oxygen taken from the air, as a volume at its temperature and pressure.</summary>
    public static VolumeFlow OxygenUsed(Fuel fuel, Power input, Temperature air, Pressure pressure) =>
        VolumeFlow.FromCubicMetersPerSecond(OxygenUsedMol(fuel, CheckedW(input)) / 1000 * MolarVolume(air, pressure));

    /// <summary>Steady carbon dioxide above that of the outdoor air: given off over ventilation.</summary>
    /// <exception cref="ArgumentOutOfRangeException">There is no ventilation, or so little that the result would exceed 100 %.</exception>
    public static VolumeConcentration SteadyCarbonDioxideRise(VolumeFlow givenOff, VolumeFlow ventilation)
    {
        double share = givenOff.CubicMetersPerSecond / CheckedFlow(ventilation);
        return share <= 1
            ? VolumeConcentration.FromDecimalFractions(share)
            : throw new ArgumentOutOfRangeException(nameof(ventilation), ventilation.CubicMetersPerHour, "Ventilation is less than the carbon dioxide given off.");
    }

    /// <summary>
    /// Steady oxygen: outdoor share less use over ventilation. Zero or less says that the flame would go out first;
    /// long before that it makes carbon monoxide.
    /// </summary>
    public static Ratio SteadyOxygen(VolumeFlow used, VolumeFlow ventilation) =>
        Ratio.FromDecimalFractions(OutdoorOxygen - (used.CubicMetersPerSecond / CheckedFlow(ventilation)));

    /// <summary>Time until a space without any ventilation falls from outdoor oxygen to a limit.</summary>
    /// <param name="space">Volume of air, above 0.</param>
    /// <param name="used">Oxygen taken from the air, above 0.</param>
    /// <param name="limit">Share of oxygen, from 0 to that of outdoor air.</param>
    public static Duration TimeToOxygen(Volume space, VolumeFlow used, Ratio limit)
    {
        double share = new ValidRange("Limit of oxygen", 0, OutdoorOxygen, "").Check(limit.DecimalFractions, nameof(limit));
        if (!(space.CubicMeters > 0))
        {
            throw new ArgumentOutOfRangeException(nameof(space), space.CubicMeters, "Air volume is expected above 0 m3.");
        }

        return used.CubicMetersPerSecond > 0
            ? Duration.FromSeconds(space.CubicMeters * (OutdoorOxygen - share) / used.CubicMetersPerSecond)
            : throw new ArgumentOutOfRangeException(nameof(used), used.CubicMetersPerHour, "Oxygen used is expected above 0 m3/h.");
    }

    /// <summary>Water in kg of a heat input in J, or in kg/s of W.</summary>
    internal static double WaterKg(Fuel fuel, double inputJ) => FuelKgPerS(fuel, inputJ) * fuel.WaterPerFuel;

    /// <summary>Carbon dioxide in mol of a heat input in J, or in mol/s of W.</summary>
    internal static double CarbonDioxideMol(Fuel fuel, double inputJ) => 1000 * FuelKgPerS(fuel, inputJ) * fuel.CarbonKmolPerKg;

    /// <summary>Oxygen used in mol by a heat input in J, or in mol/s by W.</summary>
    internal static double OxygenUsedMol(Fuel fuel, double inputJ) => 1000 * FuelKgPerS(fuel, inputJ) * fuel.OxygenKmolUsedPerKg;

    /// <summary>Fuel in kg/s of a heat input in W.</summary>
    internal static double FuelKgPerS(Fuel fuel, double inputW) => inputW / fuel.LowerHeatingValueJPerKg;

    /// <summary>Volume of a kilomole of gas, m3/kmol.</summary>
    internal static double MolarVolumeM3PerKmol(double airC, double pressurePa) =>
        GasConstant * (airC + MoistAir.ZeroCelsiusK) / pressurePa;

    private static double MolarVolume(Temperature air, Pressure pressure) => MolarVolumeM3PerKmol(
        MoistAir.TemperatureRange.Check(air.DegreesCelsius, nameof(air)),
        MoistAir.PressureRange.Check(pressure.Pascals, nameof(pressure)));

    private static double CheckedW(Power input) => InputRange.Check((double)input.Watts, nameof(input));

    private static double CheckedFlow(VolumeFlow ventilation) => ventilation.CubicMetersPerSecond > 0
        ? ventilation.CubicMetersPerSecond
        : throw new ArgumentOutOfRangeException(nameof(ventilation), ventilation.CubicMetersPerHour, "Ventilation is expected above 0 m3/h.");
}
