using ConsultDesk.Calculations.Heating;
using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Tests.Validation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using static ConsultDesk.Calculations.Tests.Validation.Tolerance;

namespace ConsultDesk.Calculations.Tests.Heating;

/// <summary>Heat losses, fuel and altitude.</summary>
public static class HeatingChecks
{
    private const string FuelByHand = "P / eta x 3.6 / (43.0 x 0.84), by hand";
    private const string Boiler = "a fleet's technical manual, values within 10 % by its own words";
    private const string AirHeater = "installation instructions of a 1.8 kW air heater, 1994, values within 10 % by their own words";
    private const string Derating = "4 % per 1000 ft above sea level once above 2000 ft: NFPA 54 Table E.1.1(d) as cited in ICM Sept/Oct 2015 p. 19; AGA Z21.30-1964 table";

    public static CheckGroup Group { get; } = new("Heating",
    [
        new("Ventilation heat loss", "30 m3/h, 20 K, 1.2 kg/m3", 201.2, "W", Relative(1e-3),
            () => (double)HeatLoss.Ventilation(
                VolumeFlow.FromCubicMetersPerHour(30), Density.FromKilogramsPerCubicMeter(1.2),
                Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(0)).Watts,
            "30/3600 x 1.2 x 1006 x 20, by hand", Sureness.Derived),
        new("Ventilation heat loss", "12000 ft3, 0.8 changes an hour, 60 °F", 10_368, "Btu/h", Relative(0.01),
            () => VentilationW(0.8 * 12_000 * 0.0283168 / 3600, 60 / 1.8) * 3.41214,
            "worked infiltration example of a heating course, 0.018 x 0.8 x 12000 x 60", Sureness.Read),
        new("Ventilation heat loss", "1 m3/h, 1 K", 0.33, "W", Absolute(0.006),
            () => VentilationW(1.0 / 3600, 1), "0.33 n V dT, rule of several heat loss guides", Sureness.Read),
        new("Transmission heat loss", "1.2 W/(m2 K), 30 m2, 35 K", 1260, "W", Relative(1e-6),
            () => (double)HeatLoss.Transmission(
                HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(1.2), Area.FromSquareMeters(30),
                Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(-15)).Watts,
            "1.2 x 30 x 35, by hand", Sureness.Derived),
        Manual("boiler 5 kW", HeaterKind.Hydronic, 5, 0.62, Boiler),
        Manual("boiler 4.3 kW", HeaterKind.Hydronic, 4.3, 0.53, Boiler),
        Manual("boiler 2.4 kW", HeaterKind.Hydronic, 2.4, 0.27, Boiler),
        Manual("air heater 1.8 kW", HeaterKind.RoomSealedLiquidFuel, 1.8, 0.21, AirHeater),
        Diesel(1, 0.1173),
        Diesel(2, 0.2345),
        Diesel(4, 0.4690),
        new("Fuel for a day", "diesel, 1 kW mean output, efficiency 0.85", 2.3639, "kg", Relative(1e-3),
            () => FuelUse.PerDay(Fuel.Diesel, Power.FromKilowatts(1), 0.85).Kilograms,
            "86.4 MJ / 0.85 / 43.0 MJ/kg, by hand", Sureness.Derived),
        Altitude(2000, 1, Sureness.Read),
        Altitude(4000, 0.84, Sureness.Read),
        Altitude(5000, 0.80, Sureness.Read),
        Altitude(8000, 0.68, Sureness.Derived),
    ]);

    private static double VentilationW(double m3PerS, double kelvin) => (double)HeatLoss.Ventilation(
        VolumeFlow.FromCubicMetersPerSecond(m3PerS), Density.FromKilogramsPerCubicMeter(1.2),
        Temperature.FromDegreesCelsius(kelvin), Temperature.FromDegreesCelsius(0)).Watts;

    // With the efficiency of the table of heaters, which is what runs.
    private static Check Manual(string what, HeaterKind kind, double kilowatts, double expected, string source) => new(
        "Fuel rate, diesel", what + " of the table", expected, "L/h", Relative(0.1),
        () => FuelUse.Rate(Fuel.Diesel, Power.FromKilowatts(kilowatts), Heaters.Nearest(kind, Power.FromKilowatts(kilowatts))!.Efficiency).KilogramsPerHour
            / Fuel.Diesel.LiquidDensity!.Value.KilogramsPerLiter,
        source, Sureness.Read);

    private static Check Diesel(double kilowatts, double expected) => new(
        "Fuel rate, diesel", $"{kilowatts} kW, efficiency 0.85", expected, "L/h", Relative(0.01),
        () => FuelUse.Rate(Fuel.Diesel, Power.FromKilowatts(kilowatts), 0.85).KilogramsPerHour
            / Fuel.Diesel.LiquidDensity!.Value.KilogramsPerLiter,
        FuelByHand, Sureness.Derived);

    private static Check Altitude(double feet, double expected, Sureness origin) => new(
        "Gas input at altitude", $"{feet} ft", expected, "-", Absolute(0.005),
        () => FuelUse.GasInputShare(Length.FromFeet(feet)).DecimalFractions, Derating, origin);
}
