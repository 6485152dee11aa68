using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Unknowns;

/// <summary>
/// One thing a calculation rests on that nobody measured: an input of the design that is assumed or told, or assumed values nobody
/// can be asked for. It can be moved to a low and a high end, all else as it is.
/// </summary>
public sealed record Unknown
{
    /// <summary>Stable key, unique within a design, for example <c>leakage-area</c> or <c>fan-flow[roof-fan]</c>.</summary>
    public required string Key { get; init; }

    /// <summary>What is not known, in words.</summary>
    public required string Name { get; init; }

    /// <summary>What to ask the client; empty when nobody can be asked.</summary>
    public required string Question { get; init; }

    /// <summary>Paths of the inputs an answer sets, as <see cref="InputCatalogue"/> has them; empty for assumed values.</summary>
    public required ImmutableArray<string> Paths { get; init; }

    /// <summary>Assumed or told; never measured.</summary>
    public required Origin Origin { get; init; }

    /// <summary>Value at the low end, of the kind the catalogue has for it; null when there is no low end or it is no single value.</summary>
    public object? Low { get; init; }

    /// <summary>Value it stands at; null when it is no single value.</summary>
    public object? Likely { get; init; }

    /// <summary>Value at the high end; null when there is no high end or it is no single value.</summary>
    public object? High { get; init; }

    /// <summary>Where the ends come from, or the words <c>our judgement</c>.</summary>
    public required string Source { get; init; }

    /// <summary>True when everything between the ends can be true, false when only the ends can.</summary>
    public required bool Continuous { get; init; }

    /// <summary>Chance that the truth lies below what it stands at, 0 to 1; 0 when it cannot be moved there.</summary>
    public required double ChanceLow { get; init; }

    /// <summary>Chance that the truth lies above what it stands at, 0 to 1; 0 when it cannot be moved there.</summary>
    public required double ChanceHigh { get; init; }

    /// <summary>True when an answer can be had, during the call or later.</summary>
    public bool CanBeAnswered => !Paths.IsEmpty;

    /// <summary>False when only rules ask for it.</summary>
    internal bool WeighsInAir { get; init; } = true;

    /// <summary>True when it is the shelter the situations and the year's hours carry.</summary>
    internal bool MovesShelter { get; init; }

    /// <summary>Rows of the table of assumed values it moves together; empty for an input of the design.</summary>
    internal ImmutableArray<string> Rows { get; init; } = [];

    /// <summary>The design, and what is assumed, with it moved: -1 the low end, 0 as it stands, 1 the high end.</summary>
    internal Func<Design, double, (Design Design, Assumptions Assumed)> Move { get; init; } = (design, _) => (design, Assumptions.Likely);

    /// <summary>The design with a value of the kind of <see cref="Likely"/>; null when it is no single value.</summary>
    internal Func<Design, object, Design>? Set { get; init; }

    /// <summary>Chance of an end.</summary>
    internal double Chance(BandEnd end) => end == BandEnd.Low ? ChanceLow : ChanceHigh;

    /// <summary>The design with this answered: the value set and its inputs marked.</summary>
    /// <param name="design">The design.</param>
    /// <param name="value">The answer, of the kind of <see cref="Likely"/>: a quantity, a count, a share, a kind, true or false.</param>
    /// <param name="origin">Told, or measured.</param>
    /// <exception cref="ArgumentException">This is no single value, or the answer is of another kind.</exception>
    public Design Answered(Design design, object value, Origin origin)
    {
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(value);
        if (Set is null || Likely is null)
        {
            throw new ArgumentException($"{Name} is no single value: it can be marked, not answered.", nameof(value));
        }

        if (value.GetType() != Likely.GetType())
        {
            throw new ArgumentException($"{Name} takes a {Likely.GetType().Name}, not a {value.GetType().Name}.", nameof(value));
        }

        return Marked(Set(design, value), origin);
    }

    /// <summary>The design with the inputs of this marked and their values as they are: what stands there was right.</summary>
    /// <param name="design">The design.</param>
    /// <param name="origin">Told, or measured.</param>
    public Design Marked(Design design, Origin origin)
    {
        ArgumentNullException.ThrowIfNull(design);
        return Paths.Aggregate(design, (marked, path) => Origins.With(marked, path, origin));
    }
}
