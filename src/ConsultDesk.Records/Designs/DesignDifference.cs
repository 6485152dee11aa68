using System.Text.Json.Nodes;

namespace ConsultDesk.Records;

/// <summary>One member in which two designs differ.</summary>
/// <param name="Path">
/// Where, in the words of the stored text: <c>stop.month</c>, <c>openings[roof-fan].fan.speed</c>,
/// <c>walls.layers[ply].thicknessM</c>. A list whose members only changed places is named itself.
/// </param>
/// <param name="Before">The value before as JSON, <c>null</c> when the member was not there.</param>
/// <param name="After">The value after as JSON, <c>null</c> when the member is no longer there.</param>
public sealed record DesignDifference(string Path, string? Before, string? After)
{
    internal static void Collect(JsonNode? before, JsonNode? after, string path, List<DesignDifference> found)
    {
        switch (before, after)
        {
            case (JsonObject a, JsonObject b):
                foreach (var name in a.Select(m => m.Key).Union(b.Select(m => m.Key)))
                {
                    Collect(a[name], b[name], path.Length == 0 ? name : $"{path}.{name}", found);
                }

                break;
            case (JsonArray a, JsonArray b) when Ids(a) is { } idsBefore && Ids(b) is { } idsAfter:
                foreach (var id in idsBefore.Union(idsAfter))
                {
                    Collect(Member(a, idsBefore, id), Member(b, idsAfter, id), $"{path}[{id}]", found);
                }

                if (!idsBefore.Intersect(idsAfter).SequenceEqual(idsAfter.Intersect(idsBefore)))
                {
                    found.Add(new(path, string.Join(", ", idsBefore), string.Join(", ", idsAfter)));
                }

                break;
            default:
                if (!JsonNode.DeepEquals(before, after))
                {
                    found.Add(new(path, before?.ToJsonString(), after?.ToJsonString()));
                }

                break;
        }
    }

    /// <summary>The ids of a list's members in order; null when one has none or two share one.</summary>
    private static List<string>? Ids(JsonArray list)
    {
        var ids = list.Select(m => m is JsonObject o && o["id"] is JsonValue id ? id.ToString() : null).OfType<string>().ToList();
        return ids.Count == list.Count && ids.Distinct(StringComparer.Ordinal).Count() == ids.Count ? ids : null;
    }

    private static JsonNode? Member(JsonArray list, List<string> ids, string id) =>
        ids.IndexOf(id) is var i and >= 0 ? list[i] : null;
}
