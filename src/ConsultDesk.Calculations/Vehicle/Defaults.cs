using System.Collections.Immutable;
using System.Globalization;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>One assumed parameter of the calculation with its band and its source.</summary>
/// <param name="Key">Stable key, kebab-case.</param>
/// <param name="Meaning">What it is, in words.</param>
/// <param name="Low">Low end of the band, in <paramref name="Unit"/>.</param>
/// <param name="Likely">Value the calculation uses, in <paramref name="Unit"/>.</param>
/// <param name="High">High end of the band, in <paramref name="Unit"/>.</param>
/// <param name="Unit">Unit of the three values; <c>-</c> for a pure number.</param>
/// <param name="Source">Published source, or the words <c>our judgement</c>.</param>
public sealed record AssumedValue(string Key, string Meaning, double Low, double Likely, double High, string Unit, string Source)
{
    /// <summary>A value within the band: -1 the low end, 0 the likely value, 1 the high end, straight between them.</summary>
    internal double Between(double share) => share < 0 ? Likely - (share * (Low - Likely)) : Likely + (share * (High - Likely));
}

/// <summary>
/// Every parameter that is assumed rather than entered, read from the embedded <c>defaults.csv</c>. Most are
/// judgement and say so; docs/method/defaults.md shows them all.
/// </summary>
public static class Defaults
{
    /// <summary>All assumed values in the order of the file.</summary>
    public static ImmutableArray<AssumedValue> All { get; } = Read();

    private static readonly ImmutableDictionary<string, AssumedValue> ByKey = All.ToImmutableDictionary(value => value.Key);

    /// <summary>The assumed value with this key.</summary>
    /// <exception cref="ArgumentException">There is no such key.</exception>
    public static AssumedValue Get(string key) => ByKey.TryGetValue(key, out AssumedValue? value)
        ? value
        : throw new ArgumentException($"There is no assumed value '{key}' in defaults.csv.", nameof(key));

    /// <summary>Low end of the band, in the unit of the table.</summary>
    public static double Low(string key) => Get(key).Low;

    /// <summary>The value the calculation uses, in the unit of the table.</summary>
    public static double Likely(string key) => Get(key).Likely;

    /// <summary>High end of the band, in the unit of the table.</summary>
    public static double High(string key) => Get(key).High;

    private static ImmutableArray<AssumedValue> Read() =>
    [
        .. EmbeddedTable.Rows("Vehicle.defaults.csv", columns: 7).Select(row => new AssumedValue(
            row[0], row[1], Number(row[2]), Number(row[3]), Number(row[4]), row[5], row[6])),
    ];

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
