using System.Collections.Immutable;
using System.Globalization;
using UnitsNet;

namespace ConsultDesk.Calculations.Envelope;

/// <summary>A solid material and its dry properties.</summary>
public sealed record Material
{
    /// <summary>Stable key, for example <c>plywood-500</c>.</summary>
    public required string Key { get; init; }

    /// <summary>Generic name.</summary>
    public required string Name { get; init; }

    /// <summary>Thermal conductivity of the dry material; condensate in fibres raises it.</summary>
    public required ThermalConductivity Conductivity { get; init; }

    /// <summary>Density.</summary>
    public required Density Density { get; init; }

    /// <summary>Specific heat capacity.</summary>
    public required SpecificEntropy HeatCapacity { get; init; }

    /// <summary>
    /// Vapour resistance factor mu, dry: how many times better than still air it resists vapour. Infinite for metal and glass.
    /// </summary>
    public required double VapourResistanceFactor { get; init; }

    /// <summary>Vapour-equivalent air layer thickness of the facings, whatever the thickness of the core; zero without.</summary>
    public required Length Facings { get; init; }

    /// <summary>Where the values come from.</summary>
    public required string Source { get; init; }

    /// <summary><c>read</c> in the source named, or recalled from <c>memory</c>.</summary>
    public required string Confidence { get; init; }

    /// <summary>Conductivity, W/(m K).</summary>
    internal double ConductivityWPerMK { get; init; }

    /// <summary>
    /// Vapour-equivalent air layer thickness of a layer, sd = mu d + facings, m. It knows nothing of joints: air through
    /// gaps usually carries more vapour than diffusion.
    /// </summary>
    public double VapourEquivalentThicknessM(Length thickness) =>
        (VapourResistanceFactor * thickness.Meters) + Facings.Meters;

    /// <summary>True for metals: insulation bridged by metal is outside the scope of ISO 6946.</summary>
    public bool IsMetal => ConductivityWPerMK >= 10;
}

/// <summary>The materials table, embedded as materials.csv.</summary>
public static class Materials
{
    /// <summary>Key of what is sprayed or painted on the steel against rust.</summary>
    public const string SteelCoating = "bed-coating";

    /// <summary>Keys of what sticks to the steel all over, so that no air passes between the two: what lies on it lies as on the steel.</summary>
    public static ImmutableArray<string> StuckToSteel { get; } = [SteelCoating, "butyl-damping"];

    /// <summary>All materials in the order of the table.</summary>
    public static ImmutableArray<Material> All { get; } = Read();

    private static readonly ImmutableDictionary<string, Material> ByKey = All.ToImmutableDictionary(material => material.Key);

    /// <summary>The material with this key.</summary>
    /// <exception cref="ArgumentException">There is no such material.</exception>
    public static Material Get(string key) => Find(key)
        ?? throw new ArgumentException($"There is no material '{key}'; expected a key of the materials table.", nameof(key));

    /// <summary>The material with this key, or null.</summary>
    public static Material? Find(string key) => ByKey.GetValueOrDefault(key);

    private static ImmutableArray<Material> Read() =>
    [
        .. EmbeddedTable.Rows("Envelope.materials.csv", columns: 9).Select(row => new Material
        {
            Key = row[0],
            Name = row[1],
            ConductivityWPerMK = Number(row[2]),
            Conductivity = ThermalConductivity.FromWattsPerMeterKelvin(Number(row[2])),
            Density = Density.FromKilogramsPerCubicMeter(Number(row[3])),
            HeatCapacity = SpecificEntropy.FromJoulesPerKilogramKelvin(Number(row[4])),
            VapourResistanceFactor = row[5] == "infinite" ? double.PositiveInfinity : Number(row[5]),
            Facings = Length.FromMeters(row[6].Length == 0 ? 0 : Number(row[6])),
            Source = row[7],
            Confidence = row[8],
        }),
    ];

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
