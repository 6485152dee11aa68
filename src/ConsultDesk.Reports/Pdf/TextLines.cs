using System.Collections.Immutable;
using ConsultDesk.Reports.Fonts;

namespace ConsultDesk.Reports.Pdf;

/// <summary>Breaks text into lines of a width. A no-break space never breaks; a word wider than the line is cut.</summary>
internal static class TextLines
{
    /// <summary>The lines of a text, at least one.</summary>
    public static ImmutableArray<string> Break(string text, double width, double size, bool bold = false)
    {
        var lines = ImmutableArray.CreateBuilder<string>();
        var line = "";
        foreach (var word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var longer = line.Length == 0 ? word : line + " " + word;
            if (ReportFonts.Width(longer, size, bold) <= width)
            {
                line = longer;
                continue;
            }

            if (line.Length > 0)
            {
                lines.Add(line);
            }

            line = word;
            while (ReportFonts.Width(line, size, bold) > width)
            {
                var fits = LettersThatFit(line, width, size, bold);
                lines.Add(line[..fits]);
                line = line[fits..];
            }
        }

        if (line.Length > 0 || lines.Count == 0)
        {
            lines.Add(line);
        }

        return lines.ToImmutable();
    }

    /// <summary>Width of the widest word, the least a column can have without cutting one.</summary>
    public static double WidestWord(string text, double size, bool bold = false) =>
        text.Split(' ').Max(word => ReportFonts.Width(word, size, bold));

    // At least one letter, so that the loop ends in a column narrower than a letter; never half a surrogate pair.
    private static int LettersThatFit(string word, double width, double size, bool bold)
    {
        var fits = 0;
        while (fits < word.Length)
        {
            var next = fits + (char.IsHighSurrogate(word[fits]) && fits + 1 < word.Length ? 2 : 1);
            if (fits > 0 && ReportFonts.Width(word[..next], size, bold) > width)
            {
                break;
            }

            fits = next;
        }

        return fits;
    }
}
