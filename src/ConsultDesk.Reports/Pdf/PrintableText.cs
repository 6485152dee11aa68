using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using ConsultDesk.Reports.Fonts;

namespace ConsultDesk.Reports.Pdf;

/// <summary>
/// Text as the report's fonts can print it. A character they lack is printed as its code point in brackets and
/// remembered, so that nobody gets a plan with silent boxes in a name.
/// </summary>
internal sealed class PrintableText
{
    private readonly SortedSet<int> _missing = [];

    /// <summary>The characters that could not be printed, in the order of their code points.</summary>
    public ImmutableArray<string> Missing => [.. _missing.Select(code => new Rune(code).ToString())];

    /// <summary>
    /// One line for alternative texts, bookmarks and metadata: plain spaces only, no control characters. A no-break
    /// space would be read as a euro sign there: that is what its byte means in PDFDocEncoding (ISO 32000-1, annex D).
    /// </summary>
    public static string Line(string text) => string.Concat(text.EnumerateRunes()
        .Select(character => Rune.IsWhiteSpace(character) || Rune.IsControl(character) ? " " : character.ToString()));

    /// <summary>The text with every white space a plain or a no-break space, and what cannot be printed spelt out.</summary>
    public string Of(string text) => Of(text, code => string.Create(CultureInfo.InvariantCulture, $"[U+{code:X4}]"));

    /// <summary>The same where room was measured for each character: a box stands for what cannot be printed. The table of the figure spells it out.</summary>
    public string InFigure(string text) => Of(text, _ => "\u25A1");

    private string Of(string text, Func<int, string> instead)
    {
        var result = new StringBuilder(text.Length);
        foreach (var character in text.EnumerateRunes())
        {
            if (character.Value is 0xA0 or 0x202F)
            {
                result.Append('\u00A0');
            }
            else if (Rune.IsWhiteSpace(character) || Rune.IsControl(character))
            {
                result.Append(' ');
            }
            else if (ReportFonts.Regular.Prints(character) && ReportFonts.Bold.Prints(character))
            {
                result.Append(character);
            }
            else
            {
                _missing.Add(character.Value);
                result.Append(instead(character.Value));
            }
        }

        return result.ToString();
    }
}
