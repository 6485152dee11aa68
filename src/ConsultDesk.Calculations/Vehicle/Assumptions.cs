using System.Collections.Immutable;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>
/// One choice of value for every row of <c>defaults.csv</c>: the likely ones, one end of all bands, or the likely ones
/// with some moved. What a calculation is made with, so that the same design can be calculated again elsewhere in the
/// bands.
/// </summary>
public sealed class Assumptions
{
    private readonly ImmutableDictionary<string, double> _values;

    private Assumptions(ImmutableDictionary<string, double> values) => _values = values;

    /// <summary>The low end of every band.</summary>
    public static Assumptions Low { get; } = Of(value => value.Low);

    /// <summary>What the calculation uses unless told otherwise.</summary>
    public static Assumptions Likely { get; } = Of(value => value.Likely);

    /// <summary>The high end of every band.</summary>
    public static Assumptions High { get; } = Of(value => value.High);

    /// <summary>The value of a row, in the unit of the table.</summary>
    /// <exception cref="ArgumentException">There is no such row.</exception>
    public double this[string key] => _values.TryGetValue(key, out double value)
        ? value
        : throw new ArgumentException($"There is no assumed value '{key}' in defaults.csv.", nameof(key));

    /// <summary>The same with one row moved to a value, in the unit of the table.</summary>
    /// <exception cref="ArgumentException">There is no such row.</exception>
    public Assumptions With(string key, double value)
    {
        _ = Defaults.Get(key);
        return new Assumptions(_values.SetItem(key, value));
    }

    private static Assumptions Of(Func<AssumedValue, double> choose) =>
        new(Defaults.All.ToImmutableDictionary(value => value.Key, choose));
}
