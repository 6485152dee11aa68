using System.Globalization;

namespace ConsultDesk.Records;

/// <summary>
/// The reason why a plan is published although a danger stands. No program can tell whether it is a good one; a key held
/// down or one word is none.
/// </summary>
public static class DangerReason
{
    /// <summary>Fewest characters.</summary>
    public const int Shortest = 10;

    /// <summary>Fewest different letters.</summary>
    public const int FewestLetters = 5;

    /// <summary>What is wrong with it; null when it is a reason.</summary>
    public static string? Problem(string? typed)
    {
        var reason = typed?.Trim() ?? "";
        if (reason.Length is < Shortest or > TextLimits.Line)
        {
            return string.Create(CultureInfo.InvariantCulture, $"Expected a reason of {Shortest} to {TextLimits.Line} characters.");
        }

        var letters = reason.Where(char.IsLetter).Select(char.ToLowerInvariant).Distinct().Count();
        // Some scripts write words without spaces between them.
        var words = reason.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries).Count(word => word.Any(char.IsLetter));
        var unspaced = reason.Any(c => char.GetUnicodeCategory(c) == UnicodeCategory.OtherLetter);
        return letters < FewestLetters || (words < 2 && !unspaced)
            ? "Expected a reason in words, such as what is changed before the van is used."
            : null;
    }
}
