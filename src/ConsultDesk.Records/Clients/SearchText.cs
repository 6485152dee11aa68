using System.Text;

namespace ConsultDesk.Records;

/// <summary>Folds a name so that "zoe" finds "Zoë" in both stores.</summary>
public static class SearchText
{
    // By hand, because string.Normalize does nothing in invariant globalization mode.
    private static readonly Dictionary<char, string> Plain = Fold(
        "a:àáâãäåāăą", "c:çćĉċč", "d:ďđð", "e:èéêëēĕėęě", "g:ĝğġģ", "h:ĥħ", "i:ìíîïĩīĭįı", "j:ĵ", "k:ķ", "l:ĺļľŀł",
        "n:ñńņň", "o:òóôõöøōŏő", "r:ŕŗř", "s:śŝşšș", "t:ţťŧț", "u:ùúûüũūŭůűų", "w:ŵ", "y:ýÿŷ", "z:źżž",
        "ae:æ", "oe:œ", "ss:ß", "th:þ");

    /// <summary>Lower case, Latin letters without their marks, single blanks.</summary>
    public static string Of(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var folded = new StringBuilder(text.Length);
        foreach (var c in text.ToLowerInvariant())
        {
            if (char.IsWhiteSpace(c))
            {
                if (folded.Length > 0 && folded[^1] != ' ')
                {
                    folded.Append(' ');
                }
            }
            else if (Plain.TryGetValue(c, out var plain))
            {
                folded.Append(plain);
            }
            else if (c is < '\u0300' or > '\u036F')
            {
                // Combining marks (U+0300 to U+036F) are dropped: "e" + U+0301 is "é" typed the other way.
                folded.Append(c);
            }
        }

        return folded.ToString().TrimEnd();
    }

    private static Dictionary<char, string> Fold(params string[] rows) => rows
        .Select(row => row.Split(':'))
        .SelectMany(row => row[1].Select(marked => (marked, plain: row[0])))
        .ToDictionary(pair => pair.marked, pair => pair.plain);
}
