using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Tests.Validation;
using UnitsNet;
using static ConsultDesk.Calculations.Tests.Validation.Tolerance;

namespace ConsultDesk.Calculations.Tests.Moisture;

/// <summary>What flames make and use.</summary>
public static class CombustionChecks
{
    private const string Stoichiometry = "CaHbOc + (a + b/4 - c/2) O2 with C 12.011, H 1.008, O 15.999, air 23.14 % O2 by mass, by hand";
    private const string MassFractions = "mass fractions of carbon and hydrogen, by hand";
    private const string TableA25 = "Moran and Shapiro, Fundamentals of Engineering Thermodynamics, Table A-25";
    private const string UnfluedByHand = "0.1165 kg/h of propane, 24.055 L/mol at 20 °C, by hand";

    private static readonly Temperature Room = Temperature.FromDegreesCelsius(20);
    private static readonly Pressure SeaLevel = Pressure.FromPascals(101_325);
    private static readonly Power Heater = Power.FromKilowatts(1.5);

    public static CheckGroup Group { get; } = new("Combustion",
    [
        .. Compound(Fuel.Methane, 50.02, 2.2458, 2.7432, 3.9890, 17.2387, 0.1616, 0.1974),
        .. Compound(Fuel.Propane, 46.36, 1.6341, 2.9940, 3.6281, 15.6791, 0.1269, 0.2325),
        .. Compound(Fuel.Butane, 45.72, 1.5497, 3.0286, 3.5783, 15.4638, 0.1220, 0.2385),
        .. Compound(Fuel.Ethanol, 26.80, 1.1731, 1.9106, 2.0837, 9.0048, 0.1576, 0.2566),
        Printed(Fuel.Methane, 2.75),
        Printed(Fuel.Propane, 2.99),
        Printed(Fuel.Butane, 3.03),
        Printed(Fuel.Diesel, 3.15),
        WaterFromHeats(Fuel.Methane, 55.51, 50.02),
        WaterFromHeats(Fuel.Propane, 50.35, 46.36),
        WaterFromHeats(Fuel.Butane, 49.50, 45.72),
        new("Water per fuel", "a gallon of kerosene in an unvented heater", 7.6, "US pints", Relative(0.1),
            () => Fuel.Kerosene.WaterPerFuel * Fuel.Kerosene.LiquidDensity!.Value.KilogramsPerLiter * 3.78541 / 0.473176,
            "Moisture Sources Associated with Potential Damage in Cold Climate Housing (1988), list; its kerosene's weight is not given", Sureness.Read),
        Row("Water per fuel", Fuel.Firewood, 0.646, "kg/kg", 0.01, fuel => fuel.WaterPerFuel, "0.8 x 0.062 x 8.936 + 0.2, by hand", Sureness.Derived),
        Row("Carbon dioxide per fuel", Fuel.Firewood, 1.466, "kg/kg", 0.01, fuel => fuel.CarbonDioxidePerFuel, "0.8 x 0.50 x 3.664, by hand", Sureness.Derived),
        Row("Lower heating value", Fuel.Firewood, 14.4, "MJ/kg", 0.02, fuel => fuel.LowerHeatingValue.MegajoulesPerKilogram,
            "4.0 kWh/kg of firewood of 20 % water, rule of the trade, recalled", Sureness.Memory),
        Row("Water per fuel", Fuel.Kerosene, 1.27, "kg/kg", 0.03, fuel => fuel.WaterPerFuel, MassFractions, Sureness.Derived),
        Row("Carbon dioxide per fuel", Fuel.Kerosene, 3.144, "kg/kg", 0.03, fuel => fuel.CarbonDioxidePerFuel, MassFractions, Sureness.Derived),
        Row("Water per heat", Fuel.Kerosene, 0.1043, "kg/kWh", 0.03, fuel => fuel.WaterPerKilowattHour, MassFractions, Sureness.Derived),
        Row("Water per fuel", Fuel.Diesel, 1.21, "kg/kg", 0.03, fuel => fuel.WaterPerFuel, MassFractions, Sureness.Derived),
        Row("Carbon dioxide per fuel", Fuel.Diesel, 3.16, "kg/kg", 0.03, fuel => fuel.CarbonDioxidePerFuel, MassFractions, Sureness.Derived),
        new("Carbon dioxide per heat", "Diesel, IPCC", 74.1, "kg/GJ", Relative(0.03),
            () => Fuel.Diesel.CarbonDioxidePerKilowattHour / 3.6e-3, "IPCC 2006 Vol. 2 Table 1.4, recalled", Sureness.Memory),
        new("Carbon dioxide per heat", "Kerosene, IPCC", 71.9, "kg/GJ", Relative(0.03),
            () => Fuel.Kerosene.CarbonDioxidePerKilowattHour / 3.6e-3, "IPCC 2006 Vol. 2 Table 1.4, recalled", Sureness.Memory),
        new("Carbon dioxide per heat", "Propane, IPCC value of LPG", 63.1, "kg/GJ", Relative(0.03),
            () => Fuel.Propane.CarbonDioxidePerKilowattHour / 3.6e-3, "IPCC 2006 Vol. 2 Table 1.4, recalled", Sureness.Memory),
        new("Carbon dioxide per heat", "Methane, IPCC value of natural gas", 0.202, "kg/kWh", Relative(0.03),
            () => Fuel.Methane.CarbonDioxidePerKilowattHour, "IPCC 2006 defaults in Carbon Balance and Management 11 (2016) Table 1", Sureness.Read),
        new("Water per fuel", "LPG of a portable heater", 1.6, "kg/kg", Absolute(0.06),
            () => Fuel.Propane.WaterPerFuel, "NZ Metal Roofing Manufacturers code of practice 10.8.1: up to 1.6", Sureness.Read),

        new("Water of an unflued heater", "1.5 kW propane", 190.3, "g/h", Relative(0.01),
            () => CombustionGases.Water(Fuel.Propane, Heater).GramsPerHour, UnfluedByHand, Sureness.Derived),
        Dioxide(15, 12708),
        Dioxide(30, 6354),
        Dioxide(60, 3177),
        Dioxide(100, 1906),
        OxygenAt(15, 18.832),
        OxygenAt(30, 19.891),
        OxygenAt(60, 20.421),
        OxygenAt(100, 20.632),
        new("Time to 18 % oxygen, sealed", "1.5 kW propane, 10 m3", 55.7, "min", Relative(0.02),
            () => CombustionGases.TimeToOxygen(Volume.FromCubicMeters(10), OxygenUsed(), Ratio.FromPercent(18)).Minutes,
            "0.295 m3 of oxygen / 0.31772 m3/h, by hand", Sureness.Derived),
        new("Carbon dioxide when an oxygen cut-off trips", "propane, 20.95 to 18 % oxygen", 1.77, "%", Absolute(0.05),
            () => 2.95 * GivenOff().CubicMetersPerHour / OxygenUsed().CubicMetersPerHour,
            "2.95 x 3/5 by C3H8 + 5 O2, by hand", Sureness.Derived),
    ]);

    // Kerosene stands there with 82 % carbon and 3.00; the composition here has 85.8 %, so that row would compare two fuels.
    private static Check Printed(Fuel fuel, double expected) => new(
        "Carbon dioxide per fuel", fuel.Name + ", printed table", expected, "kg/kg", Relative(0.005), () => fuel.CarbonDioxidePerFuel,
        "table of carbon dioxide from burning fuels, engineeringtoolbox.com d_1085", Sureness.Read);

    private static Check WaterFromHeats(Fuel fuel, double higher, double lower) => new(
        "Water per fuel", FormattableString.Invariant($"{fuel.Name}, from its heating values {higher} and {lower} MJ/kg"), Math.Round((higher - lower) / 2.4417, 4), "kg/kg", Relative(0.005),
        () => fuel.WaterPerFuel, "difference of the two heating values of Moran and Shapiro, Table A-25, over 2.4417 MJ/kg of water at 25 °C (recalled), by hand", Sureness.Derived);

    private static VolumeFlow GivenOff() => CombustionGases.CarbonDioxide(Fuel.Propane, Heater, Room, SeaLevel);

    private static VolumeFlow OxygenUsed() => CombustionGases.OxygenUsed(Fuel.Propane, Heater, Room, SeaLevel);

    private static Check[] Compound(
        Fuel fuel, double heat, double water, double carbonDioxide, double oxygen, double air, double waterPerHeat, double dioxidePerHeat) =>
    [
        Row("Lower heating value", fuel, heat, "MJ/kg", 0.002, f => f.LowerHeatingValue.MegajoulesPerKilogram,
            fuel == Fuel.Ethanol ? fuel.Source : TableA25, fuel == Fuel.Ethanol ? Sureness.Derived : Sureness.Read),
        Row("Water per fuel", fuel, water, "kg/kg", 0.002, f => f.WaterPerFuel, Stoichiometry, Sureness.Derived),
        Row("Carbon dioxide per fuel", fuel, carbonDioxide, "kg/kg", 0.002, f => f.CarbonDioxidePerFuel, Stoichiometry, Sureness.Derived),
        Row("Oxygen per fuel", fuel, oxygen, "kg/kg", 0.002, f => f.OxygenPerFuel, Stoichiometry, Sureness.Derived),
        Row("Air per fuel", fuel, air, "kg/kg", 0.002, f => f.AirPerFuel, Stoichiometry, Sureness.Derived),
        Row("Water per heat", fuel, waterPerHeat, "kg/kWh", 0.002, f => f.WaterPerKilowattHour, Stoichiometry, Sureness.Derived),
        Row("Carbon dioxide per heat", fuel, dioxidePerHeat, "kg/kWh", 0.002, f => f.CarbonDioxidePerKilowattHour, Stoichiometry, Sureness.Derived),
    ];

    private static Check Row(
        string quantity, Fuel fuel, double expected, string unit, double tolerance, Func<Fuel, double> value, string source, Sureness origin) =>
        new(quantity, fuel.Name, expected, unit, Relative(tolerance), () => value(fuel), source, origin);

    private static Check Dioxide(double flow, double expected) => new(
        "Steady rise of carbon dioxide", $"1.5 kW propane, {flow} m3/h", expected, "ppm", Relative(0.01),
        () => CombustionGases.SteadyCarbonDioxideRise(GivenOff(), VolumeFlow.FromCubicMetersPerHour(flow)).PartsPerMillion,
        UnfluedByHand, Sureness.Derived);

    private static Check OxygenAt(double flow, double expected) => new(
        "Steady oxygen", $"1.5 kW propane, {flow} m3/h", expected, "%", Absolute(0.02),
        () => CombustionGases.SteadyOxygen(OxygenUsed(), VolumeFlow.FromCubicMetersPerHour(flow)).Percent,
        UnfluedByHand, Sureness.Derived);
}
