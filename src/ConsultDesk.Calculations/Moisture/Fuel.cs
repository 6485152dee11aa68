using System.Collections.Immutable;
using UnitsNet;

namespace ConsultDesk.Calculations.Moisture;

/// <summary>A fuel, its heating value and what a kilogram of it turns into when burnt completely.</summary>
/// <remarks>
/// Complete burning only: how much carbon monoxide a flame makes cannot be calculated. Never sleep with an unflued
/// flame, keep fixed openings open, fit an alarm.
/// </remarks>
public sealed record Fuel
{
    /// <summary>Molar masses, kg/kmol (IUPAC, rounded).</summary>
    internal const double Carbon = 12.011, Hydrogen = 1.008, Oxygen = 15.999;

    /// <summary>Share of oxygen in dry air by mass.</summary>
    internal const double OxygenMassShareOfAir = 0.2314;

    private Fuel(string key, string name, double carbonKmol, double hydrogenKmol, double oxygenKmol, double lowerMJPerKg, double? densityKgPerL, string source)
    {
        Key = key;
        Name = name;
        CarbonKmolPerKg = carbonKmol;
        HydrogenKmolPerKg = hydrogenKmol;
        OxygenKmolPerKg = oxygenKmol;
        LowerHeatingValueJPerKg = 1e6 * lowerMJPerKg;
        LiquidDensity = densityKgPerL is double density ? Density.FromKilogramsPerLiter(density) : null;
        Source = source;
    }

    /// <summary>Stable key.</summary>
    public string Key { get; }

    /// <summary>Name.</summary>
    public string Name { get; }

    /// <summary>Density at 15 degrees Celsius of a fuel sold by the litre, or null.</summary>
    public Density? LiquidDensity { get; }

    /// <summary>Where composition and heating value come from.</summary>
    public string Source { get; }

    /// <summary>Heat of burning with the water leaving as vapour, which is what an unflued flame gives a room as sensible heat.</summary>
    public SpecificEnergy LowerHeatingValue => SpecificEnergy.FromJoulesPerKilogram(LowerHeatingValueJPerKg);

    /// <summary>Water per fuel burnt, kg/kg: half a mole of H2O per mole of hydrogen.</summary>
    public double WaterPerFuel => HydrogenKmolPerKg / 2 * ((2 * Hydrogen) + Oxygen);

    /// <summary>Carbon dioxide per fuel burnt, kg/kg: one mole of CO2 per mole of carbon.</summary>
    public double CarbonDioxidePerFuel => CarbonKmolPerKg * (Carbon + (2 * Oxygen));

    /// <summary>Oxygen used per fuel burnt, kg/kg: CaHbOc + (a + b/4 - c/2) O2.</summary>
    public double OxygenPerFuel => OxygenKmolUsedPerKg * 2 * Oxygen;

    /// <summary>Air needed per fuel burnt, kg/kg, with 23.14 % oxygen by mass.</summary>
    public double AirPerFuel => OxygenPerFuel / OxygenMassShareOfAir;

    internal double CarbonKmolPerKg { get; }

    internal double HydrogenKmolPerKg { get; }

    internal double OxygenKmolPerKg { get; }

    internal double LowerHeatingValueJPerKg { get; }

    internal double OxygenKmolUsedPerKg => CarbonKmolPerKg + (HydrogenKmolPerKg / 4) - (OxygenKmolPerKg / 2);

    /// <summary>Water per heat set free, kg/kWh of lower heating value.</summary>
    public double WaterPerKilowattHour => WaterPerFuel * 3.6e6 / LowerHeatingValueJPerKg;

    /// <summary>Carbon dioxide per heat set free, kg/kWh of lower heating value.</summary>
    public double CarbonDioxidePerKilowattHour => CarbonDioxidePerFuel * 3.6e6 / LowerHeatingValueJPerKg;

    /// <summary>Methane.</summary>
    public static Fuel Methane { get; } = Compound("methane", "Methane", 1, 4, 0, 50.02, TableA25);

    /// <summary>Propane, and near enough for bottled gas in the cold.</summary>
    public static Fuel Propane { get; } = Compound("propane", "Propane", 3, 8, 0, 46.36, TableA25);

    /// <summary>Butane.</summary>
    public static Fuel Butane { get; } = Compound("butane", "Butane", 4, 10, 0, 45.72, TableA25);

    /// <summary>Ethanol, the fuel of spirit stoves.</summary>
    public static Fuel Ethanol { get; } = Compound(
        "ethanol", "Ethanol", 2, 6, 1, 26.80, "heats of formation: (2 x 393.52 + 3 x 241.82 - 277.69) / 46.07 MJ/kg", densityKgPerL: 0.79);

    /// <summary>Kerosene.</summary>
    public static Fuel Kerosene { get; } = Mixture("kerosene", "Kerosene", 0.858, 0.142, 43.8, 0.80, "typical composition and heating value, recalled");

    /// <summary>Diesel, road or heating.</summary>
    public static Fuel Diesel { get; } = Mixture("diesel", "Diesel", 0.862, 0.135, 43.0, 0.84, "typical composition and heating value, recalled");

    /// <summary>
    /// Firewood of 20 % water: dry wood of 50 % carbon, 6.2 % hydrogen and 43 % oxygen, the rest ash. The elements of its water count
    /// with it, so that the water of the gases includes what the log held.
    /// </summary>
    public static Fuel Firewood { get; } = new(
        "firewood", "Firewood", 0.8 * 0.50 / Carbon, ((0.8 * 0.062) + (0.2 * WaterHydrogenShare)) / Hydrogen,
        ((0.8 * 0.43) + (0.2 * (1 - WaterHydrogenShare))) / Oxygen, 14.4, null,
        "dry wood of EN ISO 17225 tables 18.5 MJ/kg, less the water's heat: 0.8 x 18.5 - 0.2 x 2.44 = 14.3; about 4 kWh/kg in the trade; recalled");

    /// <summary>Every fuel.</summary>
    public static ImmutableArray<Fuel> All { get; } = [Methane, Propane, Butane, Ethanol, Kerosene, Diesel, Firewood];

    /// <summary>The fuel with this key.</summary>
    /// <exception cref="ArgumentException">There is no such fuel.</exception>
    public static Fuel Get(string key) => All.FirstOrDefault(fuel => fuel.Key == key)
        ?? throw new ArgumentException($"There is no fuel '{key}'; expected one of {string.Join(", ", All.Select(fuel => fuel.Key))}.", nameof(key));

    private const double WaterHydrogenShare = 2 * Hydrogen / ((2 * Hydrogen) + Oxygen);

    private const string TableA25 = "Moran and Shapiro, Fundamentals of Engineering Thermodynamics, Table A-25";

    private static Fuel Compound(
        string key, string name, int carbon, int hydrogen, int oxygen, double lowerMJPerKg, string source, double? densityKgPerL = null)
    {
        double molarMass = (carbon * Carbon) + (hydrogen * Hydrogen) + (oxygen * Oxygen);
        return new Fuel(key, name, carbon / molarMass, hydrogen / molarMass, oxygen / molarMass, lowerMJPerKg, densityKgPerL, source);
    }

    private static Fuel Mixture(
        string key, string name, double carbonShare, double hydrogenShare, double lowerMJPerKg, double densityKgPerL, string source) =>
        new(key, name, carbonShare / Carbon, hydrogenShare / Hydrogen, 0, lowerMJPerKg, densityKgPerL, source);
}
