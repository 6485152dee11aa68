using System.Text.RegularExpressions;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Web.Workspace;

/// <summary>Where the facts of a design come from: what is not noted is assumed.</summary>
public static partial class FactOrigins
{
    /// <summary>The origins in the order of the mark beside a fact.</summary>
    public static IReadOnlyList<Origin> All { get; } = [Origin.Assumed, Origin.Told, Origin.Measured];

    /// <summary>The origin of the fact at a path.</summary>
    public static Origin Of(Design design, string path) => Origins.Of(design, path);

    /// <summary>The design with another origin of the fact at a path; the same design when that is its origin.</summary>
    public static Design With(Design design, string path, Origin origin)
    {
        return Of(design, path) == origin ? design : Origins.With(design, path, origin);
    }

    /// <summary>An edit by hand: who types a value was told it, whatever was known of the one before.</summary>
    /// <param name="before">The design before the edit.</param>
    /// <param name="after">The design after it.</param>
    /// <param name="path">The fact that was edited, or null when it is none.</param>
    public static Design Told(Design before, Design after, string? path) =>
        path is null || ReferenceEquals(before, after) ? after : With(after, path, Origin.Told);

    /// <summary>An edit of many facts at once: each below the path that came or has another value was told.</summary>
    /// <param name="before">The design before the edit.</param>
    /// <param name="after">The design after it.</param>
    /// <param name="below">Path of the part, for example <c>ownPlaces[place-1]</c>.</param>
    public static Design ToldBelow(Design before, Design after, string below)
    {
        var was = InputCatalogue.Of(before).ToDictionary(fact => fact.Path, fact => fact.Value, StringComparer.Ordinal);
        return InputCatalogue.Of(after)
            .Where(fact => fact.Path.StartsWith(below + ".", StringComparison.Ordinal) && !(was.TryGetValue(fact.Path, out var value) && Equals(value, fact.Value)))
            .Aggregate(after, (told, fact) => With(told, fact.Path, Origin.Told));
    }

    /// <summary>The design without origins of parts that are gone.</summary>
    public static Design Pruned(Design design)
    {
        if (design.Origins.IsEmpty || design.Origins.All(origin => Exists(design, origin.Id)))
        {
            return design;
        }

        return design with { Origins = [.. design.Origins.Where(origin => Exists(design, origin.Id))] };
    }

    private static bool Exists(Design design, string path)
    {
        if (Listed().Match(path) is not { Success: true } listed)
        {
            return true;
        }

        var id = listed.Groups["id"].Value;
        return listed.Groups["list"].Value switch
        {
            "openings" => design.Openings.Any(part => part.Id == id),
            "glazings" => design.Glazings.Any(part => part.Id == id),
            "bareMetal" => design.BareMetal.Any(part => part.Id == id),
            "circulationFans" => design.CirculationFans.Any(part => part.Id == id),
            "dryers" => design.Dryers.Any(part => part.Id == id),
            "itinerary" => design.Itinerary.Any(part => part.Id == id),
            "body.hiddenParts" => design.Body.HiddenParts.Any(part => part.Id == id),
            "body.roofParts" => design.Body.RoofParts.Any(part => part.Id == id),
            "passages" => design.Passages.Any(part => part.Id == id),
            "ownPlaces" => design.OwnPlaces.Any(place => place.Id == id),
            "zones" => design.Zones.Any(part => part.Id == id),
            "walls.layers" => design.Walls.Layers.Any(part => part.Id == id),
            "roof.layers" => design.Roof.Layers.Any(part => part.Id == id),
            "floor.layers" => design.Floor.Layers.Any(part => part.Id == id),
            _ => true,
        };
    }

    [GeneratedRegex(@"^(?<list>[A-Za-z.]+)\[(?<id>[^\]]*)\]")]
    private static partial Regex Listed();
}
