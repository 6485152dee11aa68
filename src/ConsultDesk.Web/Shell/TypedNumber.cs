using System.Globalization;
using System.Text.RegularExpressions;

namespace ConsultDesk.Web.Shell;

/// <summary>
/// A number typed by somebody whose decimal mark is not known: some write one and a half as 1.5, some as 1,5, and one thousand
/// five hundred as 1,500 or 1.500 or 1 500 or 1'500. What can mean two numbers is read as both.
/// </summary>
internal static partial class TypedNumber
{
    /// <summary>Every number the text can mean, the larger first; none when it is no number. A sign is no part of it.</summary>
    public static IReadOnlyList<decimal> Readings(string? typed)
    {
        var text = Blanks().Replace(typed?.Trim() ?? "", "");
        if (Plain().IsMatch(text))
        {
            return Number(text.Replace(',', '.'));
        }

        // One mark before three digits: thousands for one writer, decimals for another. After a nought it is a decimal.
        if (OneGroup().IsMatch(text))
        {
            return [.. Number(text.Replace(",", "", StringComparison.Ordinal).Replace(".", "", StringComparison.Ordinal)), .. Number(text.Replace(',', '.'))];
        }

        return (CommaGroups().IsMatch(text), PointGroups().IsMatch(text)) switch
        {
            (true, _) => Number(text.Replace(",", "", StringComparison.Ordinal)),
            (_, true) => Number(text.Replace(".", "", StringComparison.Ordinal).Replace(',', '.')),
            _ => [],
        };
    }

    /// <summary>What to say of a text that means two numbers of the range.</summary>
    public static string Ask(string typed, decimal larger, decimal smaller) => string.Create(
        CultureInfo.InvariantCulture, $"“{typed.Trim()}” can mean {larger:0.###} or {smaller:0.0##}. Type it as {larger:0.###}, or as {smaller:0.0##}.");

    private static decimal[] Number(string text) =>
        decimal.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number) ? [number] : [];

    [GeneratedRegex(@"[\s\u00A0\u202F'’]")]
    private static partial Regex Blanks();

    // No mark, or one that is not followed by just three digits, or that follows a nought.
    [GeneratedRegex(@"\A(?:\d+|\d*[.,](?:\d{1,2}|\d{4,})|0*[.,]\d+|\d{4,}[.,]\d+|\d+[.,])\z")]
    private static partial Regex Plain();

    [GeneratedRegex(@"\A[1-9]\d{0,2}[.,]\d{3}\z")]
    private static partial Regex OneGroup();

    [GeneratedRegex(@"\A[1-9]\d{0,2}(?:,\d{3})+(?:\.\d+)?\z")]
    private static partial Regex CommaGroups();

    [GeneratedRegex(@"\A[1-9]\d{0,2}(?:\.\d{3})+(?:,\d+)?\z")]
    private static partial Regex PointGroups();
}
