using ConsultDesk.Calculations.Climate;
using ConsultDesk.Records;
using ConsultDesk.Web.Clients;

namespace ConsultDesk.Web.Workspace;

/// <summary>Which place of the climate table a typed name means; marks and case do not count.</summary>
internal static class PlaceNames
{
    // Fewer letters are a guess, even where only one place has them.
    private const int FewestLetters = 3;

    private static readonly IReadOnlyList<(Place Place, string Folded)> All =
        [.. ClimateTable.Places.Select(place => (place, SearchText.Of(NameOf(place))))];

    /// <summary>Name and country: some towns share a name.</summary>
    public static string NameOf(Place place) => $"{place.Name}, {TradeWords.Country(place.Country)}";

    /// <summary>The place of that whole name; null for none.</summary>
    public static Place? Whole(string typed)
    {
        var folded = SearchText.Of(typed);
        return All.FirstOrDefault(place => place.Folded == folded).Place;
    }

    /// <summary>The place that is meant: by its whole name, or by a part of at least three letters only it has; null for none or several.</summary>
    public static Place? Meant(string typed) =>
        Whole(typed) ?? (SearchText.Of(typed).Length >= FewestLetters && Matching(typed) is [var only] ? only : null);

    /// <summary>The places whose names have that part.</summary>
    public static IReadOnlyList<Place> Matching(string typed)
    {
        var folded = SearchText.Of(typed);
        return folded.Length == 0 ? [] : [.. All.Where(place => place.Folded.Contains(folded, StringComparison.Ordinal)).Select(place => place.Place)];
    }

    /// <summary>True when two names are the same name.</summary>
    public static bool Same(string one, string other) => SearchText.Of(one) == SearchText.Of(other);
}
