using System.Collections.Immutable;
using ConsultDesk.Reports.Fonts;
using ConsultDesk.Reports.Pdf;

namespace ConsultDesk.Reports.Figures;

/// <summary>
/// Measures of figures narrow enough for a phone held upright and for half the width of an A4 page: rows of words above
/// a bar, so that long names have room.
/// </summary>
internal static class NarrowRows
{
    /// <summary>Width of a narrow figure: two stand beside one another on paper.</summary>
    public const double Width = 312;

    /// <summary>Height of a line of words.</summary>
    public const double Line = 15;

    /// <summary>Space after a row.</summary>
    public const double Gap = 11;

    /// <summary>Size of the words.</summary>
    public const double TextSize = 11;

    private const double LabelSize = 10.5;
    private const double LabelLeading = 13;
    private const double LabelLeft = 78;

    /// <summary>How much wider than measured here a page's letters may be.</summary>
    public const double WidestLetters = 1.12;

    /// <summary>A number and what it is, set beside it in as many lines as it takes.</summary>
    public static NumberLine NumberOf(string number, string label)
    {
        var left = Math.Max(LabelLeft, (ReportFonts.Width(number, TextSize, bold: true) * WidestLetters) + 8);
        var lines = Width - left < 40
            ? [label]
            : TextLines.Break(label, (Width - left) / WidestLetters, LabelSize);
        return new NumberLine(number, lines, left);
    }

    /// <summary>A number in bold and the lines of its label beside it.</summary>
    internal sealed record NumberLine(string Number, ImmutableArray<string> Label, double Left)
    {
        /// <summary>Height of all its lines.</summary>
        public double Height => Line + ((Label.Length - 1) * LabelLeading);

        /// <summary>Writes it with its first baseline at a height.</summary>
        public void Write(FigureCanvas canvas, double baseline)
        {
            canvas.Write(0, baseline, FigureCanvas.Fit(Number, Width, TextSize, bold: true), bold: true, size: TextSize);
            for (var line = 0; line < Label.Length; line++)
            {
                canvas.Write(Left, baseline + (line * LabelLeading), Label[line], ink: Ink.Muted, size: LabelSize);
            }
        }
    }
}
