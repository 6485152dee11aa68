using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Reports.Plans;

/// <summary>
/// How long it takes to fit parts, hours of one person used to such work. The figures stand in <c>work-hours.csv</c>; all of
/// them are our judgement, and no offer rests on them.
/// </summary>
internal static class WorkHours
{
    /// <summary>What is said where no figure fits.</summary>
    public const string NotEstimated = "not estimated";

    private const string Table = "ConsultDesk.Reports.Plans.work-hours.csv";

    private static readonly Lazy<ImmutableArray<Row>> Rows = new(Load);

    /// <summary>Hours of several parts together; null where none of them has a figure.</summary>
    public static (double Low, double High)? Of(IEnumerable<CostLine> lines, Design design)
    {
        (double Low, double High)? sum = null;
        foreach (var line in lines)
        {
            if (Rows.Value.FirstOrDefault(row => row.Key == KeyOf(line.PartId, design)) is not { } row)
            {
                continue;
            }

            var amount = row.BySquareMetre && line.Item?.Unit == PriceUnit.SquareMetre ? line.Quantity : 1;
            sum = ((sum?.Low ?? 0) + (row.Low * amount), (sum?.High ?? 0) + (row.High * amount));
        }

        return sum;
    }

    /// <summary>Hours in words, for example <c>4 to 7 hours</c>: halves below four, whole ones above.</summary>
    public static string Words((double Low, double High)? hours)
    {
        if (hours is not { } known)
        {
            return NotEstimated;
        }

        var (low, high) = (Rounded(known.Low), Rounded(known.High));
        return known.High < 0.75 ? "less than an hour"
            : low == high ? $"about {Number(high)}{DisplayUnits.NoBreakSpace}hours"
            : $"{Number(low)} to {Number(high)}{DisplayUnits.NoBreakSpace}hours";

        static double Rounded(double value) => value < 4 ? Math.Max(0.5, Math.Round(2 * value, MidpointRounding.AwayFromZero) / 2) : Math.Round(value, MidpointRounding.AwayFromZero);
        static string Number(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);
    }

    private static string KeyOf(string partId, Design design)
    {
        if (partId.Contains(".pane.", StringComparison.Ordinal))
        {
            return "cover";
        }

        if (partId.Contains(".layers[", StringComparison.Ordinal))
        {
            return "layers";
        }

        if (partId.StartsWith("openings[", StringComparison.Ordinal))
        {
            return "openings[" + (design.Openings.FirstOrDefault(opening => partId == $"openings[{opening.Id}]") switch
            {
                { Kind: OpeningKind.CabWindow or OpeningKind.CabWindowVent or OpeningKind.FreshAirFlap or OpeningKind.PressureReliefFlap } => "cab",
                { Face: Face.Roof } => "roof",
                { Face: Face.Floor } => "floor",
                _ => "wall",
            });
        }

        return Rows.Value.Select(row => row.Key).FirstOrDefault(key => partId.StartsWith(key, StringComparison.Ordinal)) ?? partId;
    }

    private static ImmutableArray<Row> Load()
    {
        using var stream = typeof(WorkHours).Assembly.GetManifestResourceStream(Table)
            ?? throw new InvalidOperationException($"This build lacks its embedded table '{Table}'.");
        using var reader = new StreamReader(stream);
        reader.ReadLine();
        var rows = ImmutableArray.CreateBuilder<Row>();
        while (reader.ReadLine() is { } line)
        {
            rows.Add(line.Split(',') is [var key, var low, var high, var unit and ("each" or "m2"), _]
                ? new Row(key, double.Parse(low, CultureInfo.InvariantCulture), double.Parse(high, CultureInfo.InvariantCulture), unit == "m2")
                : throw new InvalidOperationException($"The table of hours has a row it cannot read: '{line}'."));
        }

        return rows.ToImmutable();
    }

    private sealed record Row(string Key, double Low, double High, bool BySquareMetre);
}
