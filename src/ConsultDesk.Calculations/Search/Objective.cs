using System.Collections.Immutable;
using System.Globalization;

namespace ConsultDesk.Calculations.Search;

/// <summary>A number designs are compared by in a search. Less is better in all of them.</summary>
public enum Objective
{
    /// <summary>Parts and fitting of what is still to be bought now, in the book's currency.</summary>
    MoneyNow,

    /// <summary>Fuel of the heater a year, or the current of an electric one, in the book's currency.</summary>
    MoneyAYear,

    /// <summary>Hours a year times wet glass and metal, over the glass and metal of the design as it stands.</summary>
    WetHours,

    /// <summary>Highest mould index in the third year, 0 to 6.</summary>
    Mould,

    /// <summary>Hours a year with people in the van in which it is more than 1 K below the temperature asked for.</summary>
    ColdHours,

    /// <summary>Hot hours asleep a year.</summary>
    HotHours,

    /// <summary>All fans that run by night together, dB(A) at 1 m; 0 when none does.</summary>
    Noise,

    /// <summary>Electric energy on the day that takes most, kWh.</summary>
    Power,

    /// <summary>Parts still to be bought and holes still to be cut.</summary>
    Parts,
}

/// <summary>One row of <c>objectives.csv</c>.</summary>
/// <param name="Objective">The number.</param>
/// <param name="Name">Its name.</param>
/// <param name="Unit">Its unit in words.</param>
/// <param name="Box">
/// Width of the boxes in which values count as the same: what a client would tell apart. Two designs in the same boxes are a tie.
/// </param>
/// <param name="Share">Where this share of a value is more than the width, boxes are as wide as that; 0 for boxes of one width.</param>
/// <param name="Source">Where the widths come from.</param>
public sealed record ObjectiveFacts(Objective Objective, string Name, string Unit, double Box, double Share, string Source)
{
    /// <summary>
    /// A value counted in boxes, the box it lies in and how far across: v / box up to box / share, and 1 / share + ln(v share / box) / share beyond, which goes on
    /// with the same slope.
    /// </summary>
    public double InBoxes(double value)
    {
        double boxes = value / Box;
        return Share > 0 && boxes > 1 / Share ? (1 / Share) + (Math.Log(boxes * Share) / Share) : boxes;
    }
}

/// <summary>The table of objectives.</summary>
public static class Objectives
{
    /// <summary>All of them, in the order of <see cref="Objective"/>.</summary>
    public static ImmutableArray<ObjectiveFacts> All { get; } =
    [
        .. EmbeddedTable.Rows("Search.objectives.csv", columns: 6)
            .Select(row => new ObjectiveFacts(Enum.Parse<Objective>(row[0]), row[1], row[2], double.Parse(row[3], CultureInfo.InvariantCulture), double.Parse(row[4], CultureInfo.InvariantCulture), row[5]))
            .OrderBy(facts => facts.Objective),
    ];

    /// <summary>How many there are.</summary>
    public static int Count => All.Length;

    /// <summary>The row of one.</summary>
    public static ObjectiveFacts Of(Objective objective) => All[(int)objective];

    /// <summary>True for what is known without calculating a year: money now, noise, parts.</summary>
    internal static bool IsKnownAtOnce(Objective objective) => objective is Objective.MoneyNow or Objective.Noise or Objective.Parts;
}

/// <summary>What one design comes to in every objective.</summary>
public sealed class ObjectiveNumbers
{
    private readonly double[] _values;

    /// <summary>Takes the numbers in the order of <see cref="Objective"/>.</summary>
    /// <exception cref="ArgumentException">One is missing, negative or no number.</exception>
    public ObjectiveNumbers(IEnumerable<double> values)
    {
        _values = [.. values];
        if (_values.Length != Objectives.Count || _values.Any(value => !(value >= 0) || double.IsInfinity(value)))
        {
            throw new ArgumentException(
                $"Expected {Objectives.Count} finite numbers of 0 or more; got {string.Join(", ", _values.Select(value => value.ToString(CultureInfo.InvariantCulture)))}.", nameof(values));
        }
    }

    /// <summary>The number of an objective.</summary>
    public double this[Objective objective] => _values[(int)objective];

    /// <summary>The numbers in the order of <see cref="Objective"/>.</summary>
    public IReadOnlyList<double> Values => _values;

    /// <summary>The same with one number changed.</summary>
    public ObjectiveNumbers With(Objective objective, double value) =>
        new(_values.Select((old, index) => index == (int)objective ? value : old));
}
