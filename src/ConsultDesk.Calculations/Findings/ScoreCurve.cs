using System.Collections.Immutable;
using System.Globalization;

namespace ConsultDesk.Calculations.Findings;

/// <summary>
/// Points for a number: straight lines between the rows of a curve in the embedded <c>scores.csv</c>, level beyond its
/// ends. docs/method/scores.md shows them all.
/// </summary>
public sealed class ScoreCurve
{
    private ScoreCurve(string score, string part, string unit, string source, ImmutableArray<(double Number, double Points)> rows)
    {
        Score = score;
        Part = part;
        Unit = unit;
        Source = source;
        Rows = rows;
    }

    /// <summary>All curves in the order of the file.</summary>
    public static ImmutableArray<ScoreCurve> All { get; } = Read();

    /// <summary>Key of the score it belongs to.</summary>
    public string Score { get; }

    /// <summary>Key of the number.</summary>
    public string Part { get; }

    /// <summary>Unit of the number; <c>-</c> for a count.</summary>
    public string Unit { get; }

    /// <summary>Published source, or the words <c>our judgement</c>.</summary>
    public string Source { get; }

    /// <summary>The rows, numbers rising.</summary>
    public ImmutableArray<(double Number, double Points)> Rows { get; }

    /// <summary>The curve of a part.</summary>
    /// <exception cref="ArgumentException">There is no such part.</exception>
    public static ScoreCurve Of(string part) => All.FirstOrDefault(curve => curve.Part == part)
        ?? throw new ArgumentException($"There is no score curve '{part}' in scores.csv.", nameof(part));

    /// <summary>Points for a number in the curve's unit, 0 to 100; none for a number that is none.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The number is not a number.</exception>
    public double Points(double number)
    {
        if (double.IsNaN(number))
        {
            throw new ArgumentOutOfRangeException(nameof(number), number, $"Expected a number in {Unit} for '{Part}'.");
        }

        if (number <= Rows[0].Number)
        {
            return Rows[0].Points;
        }

        for (int row = 1; row < Rows.Length; row++)
        {
            if (number <= Rows[row].Number)
            {
                double share = (number - Rows[row - 1].Number) / (Rows[row].Number - Rows[row - 1].Number);
                return Rows[row - 1].Points + (share * (Rows[row].Points - Rows[row - 1].Points));
            }
        }

        return Rows[^1].Points;
    }

    private static ImmutableArray<ScoreCurve> Read() =>
    [
        .. EmbeddedTable.Rows("Findings.scores.csv", columns: 6)
            .GroupBy(row => (Score: row[0], Part: row[1], Unit: row[2], Source: row[5]))
            .Select(rows => new ScoreCurve(
                rows.Key.Score, rows.Key.Part, rows.Key.Unit, rows.Key.Source, [.. rows.Select(row => (Number(row[3]), Number(row[4])))])),
    ];

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
