using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Reports.Pdf;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Reports.Figures;

/// <summary>The four scores: for each the number that decides it, then a plain bar with its points.</summary>
public static class ScoreFigure
{
    private const double BarHeight = 10;
    private const double PointsWidth = 70;

    /// <summary>Draws the scores. A danger has no place in them: it is named above the bars, or a high score reads as praise.</summary>
    /// <param name="scores">The scores.</param>
    /// <param name="findings">All findings of the assessment.</param>
    /// <param name="units">Units of the numbers.</param>
    public static Figure Of(Scores scores, ImmutableArray<Finding> findings, DisplayUnits units)
    {
        var warning = OutsideTheScores(findings);
        ImmutableArray<string> warningLines = warning is null ? [] : TextLines.Break(warning, (NarrowRows.Width - 16) / 1.12, NarrowRows.TextSize);
        var rows = scores.All.Select(score => Deciding(score, units) is var (number, label) ? NarrowRows.NumberOf(number, label) : null!).ToArray();
        var canvas = new FigureCanvas(NarrowRows.Width, rows.Sum(row => NarrowRows.Line + row.Height + BarHeight + 4 + NarrowRows.Gap) - NarrowRows.Gap + 2 + WarningHeight(warningLines));
        const double Length = NarrowRows.Width - PointsWidth;
        double y = 0;
        if (!warningLines.IsEmpty)
        {
            var height = WarningHeight(warningLines) - NarrowRows.Gap;
            canvas.Add(new Box(0.8, 0.8, NarrowRows.Width - 1.6, height - 1.6, 2) { Stroke = Ink.Text, StrokeWidth = 1.6, Subject = "dangers" });
            for (var line = 0; line < warningLines.Length; line++)
            {
                canvas.Write(8, 16 + (line * NarrowRows.Line), warningLines[line], bold: true, size: NarrowRows.TextSize, subject: "dangers");
            }

            y = WarningHeight(warningLines);
        }

        foreach (var (score, row) in scores.All.Zip(rows))
        {
            canvas.Write(0, y + 12, score.Name, bold: true, size: NarrowRows.TextSize + 1, subject: Key(score));
            row.Write(canvas, y + 12 + NarrowRows.Line);
            var top = y + NarrowRows.Line + row.Height + 3;
            canvas.Add(new Box(0, top, Length, BarHeight) { Stroke = Ink.Rule, Fill = Ink.Paper });
            canvas.Add(new Box(0, top, Length * score.Points / 100, BarHeight)
            {
                Fill = Ink.Accent,
                Subject = Key(score),
                Hint = $"{score.Name}: {InWords(score)}, {Points(score.Points)} of 100 points",
            });
            canvas.Write(NarrowRows.Width, top + BarHeight - 1, $"{Points(score.Points)} of 100", TextAnchor.End, size: NarrowRows.TextSize);
            y += NarrowRows.Line + row.Height + BarHeight + 4 + NarrowRows.Gap;
        }

        return new Figure
        {
            Id = "scores",
            Title = "Four scores",
            AltText = (warning is null ? "" : warning + " ") + "Scores of 0 to 100 points, each the lowest of its parts. "
                + string.Join(". ", scores.All.Select(score => $"{score.Name}: {InWords(score)}, {Points(score.Points)} points")) + ".",
            Width = canvas.Width,
            Height = canvas.Height,
            Elements = canvas.Elements,
            Legend = [],
            Table = new DataTable
            {
                Caption = "What the scores are made of; the lowest part decides, and danger stands outside them",
                Heads = ["Score", "Number", "Value", "Points", "Where the curve comes from"],
                NumberColumns = [2, 3],
                Rows =
                [
                    .. scores.All.SelectMany(score => score.Parts.Select(part => ImmutableArray.Create(
                        score.Name, part.Evidence.Label, units.Format(part.Evidence.Value), Points(part.Points), part.Source))),
                ],
            },
        };

        string InWords(Score score)
        {
            var (number, label) = Deciding(score, units);
            return $"{number} {label}".TrimEnd();
        }
    }

    private static double WarningHeight(ImmutableArray<string> lines) => lines.IsEmpty ? 0 : (lines.Length * NarrowRows.Line) + 9 + NarrowRows.Gap;

    /// <summary>Which dangers stand beside the scores, or null when none does.</summary>
    private static string? OutsideTheScores(ImmutableArray<Finding> findings)
    {
        string[] dangers = [.. findings.Where(finding => finding.Severity == Severity.Danger).Select(finding => finding.Title)];
        return dangers.Length switch
        {
            0 => null,
            1 => $"A danger stands, and no score knows of it: {dangers[0]}.",
            _ => string.Create(CultureInfo.InvariantCulture, $"{dangers.Length} dangers stand, and no score knows of them: {string.Join("; ", dangers)}."),
        };
    }

    /// <summary>Points as a reader sees them: whole.</summary>
    internal static string Points(double points) =>
        Math.Round(points, MidpointRounding.AwayFromZero).ToString("0", CultureInfo.InvariantCulture);

    private static (string Number, string Label) Deciding(Score score, DisplayUnits units) => score.Parts.IsEmpty
        ? ("–", "nothing to score")
        : (units.Format(score.Parts[0].Evidence.Value), Lower(score.Parts[0].Evidence.Label));

    // After its number a label goes on in the sentence; an abbreviation such as CO₂ keeps its capitals.
    internal static string Lower(string label) =>
        label.Length > 1 && char.IsUpper(label[0]) && char.IsLower(label[1]) ? char.ToLowerInvariant(label[0]) + label[1..] : label;

    private static string Key(Score score) => "score-" + score.Name.ToLowerInvariant().Replace(' ', '-');
}
