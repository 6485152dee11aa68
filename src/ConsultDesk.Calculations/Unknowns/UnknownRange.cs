using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Unknowns;

/// <summary>How the two ends of an input nobody is sure of are reached from its present value.</summary>
internal enum RangeKind
{
    /// <summary>Times a factor; everything between can be true.</summary>
    Factor,

    /// <summary>So much more or less; everything between can be true.</summary>
    Add,

    /// <summary>So many steps along a count or a list of kinds in their order.</summary>
    Step,

    /// <summary>Either of two kinds named.</summary>
    Choice,

    /// <summary>Yes for no and no for yes.</summary>
    Toggle,

    /// <summary>There for not there, and not there for there.</summary>
    Alarm,
}

/// <summary>How far one kind of input can lie off while it stands as assumed, or as told.</summary>
/// <param name="Low">Low end, in the words of the table.</param>
/// <param name="High">High end, in the words of the table.</param>
/// <param name="ChanceLow">Chance that the low end is true, 0 to 1; null where everything between can be true.</param>
/// <param name="ChanceHigh">Chance that the high end is true, 0 to 1; null where everything between can be true.</param>
internal sealed record RangeEnds(string Low, string High, double? ChanceLow, double? ChanceHigh);

/// <summary>One row of <c>unknowns.csv</c>: an input nobody may be sure of, with how far it can lie off.</summary>
/// <param name="Key">Stable key, kebab-case.</param>
/// <param name="Question">What to ask the client.</param>
/// <param name="Kind">How its ends are reached.</param>
/// <param name="Assumed">Ends while it is assumed.</param>
/// <param name="Told">Ends once the client told it; closer, and often none.</param>
/// <param name="WeighsInAir">False when only rules ask for it: no air, heat or water depends on it.</param>
/// <param name="Source">Where the ends come from, or the words <c>our judgement</c>.</param>
internal sealed record UnknownRange(string Key, string Question, RangeKind Kind, RangeEnds Assumed, RangeEnds Told, bool WeighsInAir, string Source)
{
    /// <summary>Every row in the order of the file.</summary>
    public static ImmutableArray<UnknownRange> All { get; } =
    [
        .. EmbeddedTable.Rows("Unknowns.unknowns.csv", columns: 13).Select(row => new UnknownRange(
            row[0], row[1], Enum.Parse<RangeKind>(row[2], ignoreCase: true), Ends(row[3..7]), Ends(row[7..11]), WeighsIn(row[11]), row[12])),
    ];

    /// <summary>The row with this key.</summary>
    /// <exception cref="ArgumentException">There is no such row.</exception>
    public static UnknownRange Get(string key) => All.FirstOrDefault(row => row.Key == key)
        ?? throw new ArgumentException($"There is no input '{key}' in unknowns.csv.", nameof(key));

    /// <summary>The ends for an origin; none once it was measured.</summary>
    public RangeEnds? Of(Origin origin) => origin switch
    {
        Origin.Assumed => Assumed,
        Origin.Told => Told,
        Origin.Measured => null,
        _ => throw new ArgumentOutOfRangeException(nameof(origin), origin, "Expected assumed, told or measured."),
    };

    private static RangeEnds Ends(string[] cells) => new(cells[0], cells[1], Chance(cells[2]), Chance(cells[3]));

    private static double? Chance(string cell) => cell.Length == 0 ? null : double.Parse(cell, CultureInfo.InvariantCulture);

    private static bool WeighsIn(string cell) => cell switch
    {
        "air" => true,
        "rules" => false,
        _ => throw new InvalidOperationException($"unknowns.csv has '{cell}'; expected air or rules."),
    };
}
