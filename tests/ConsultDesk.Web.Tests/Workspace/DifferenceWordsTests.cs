using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Reports.Units;
using ConsultDesk.Testing;
using ConsultDesk.Web.Workspace;
using Xunit;

namespace ConsultDesk.Web.Tests.Workspace;

/// <summary>Every member a design stores is changed once, and the screen has words for what changed.</summary>
public sealed partial class DifferenceWordsTests
{
    // Ids match parts of two designs, origins say how well a fact is known, a stay ends where the next one begins. What a weather file's
    // hours add up to follows from the file: its name is said, and so are the place's months, which change with its hours.
    [GeneratedRegex(@"^design\.origins\[|\.id$|^design\.itinerary\[\]\.to\.|^design\.ownPlaces\[\]\.hours\.(?!fileName$)")]
    private static partial Regex NoDifference();

    public static TheoryData<string, string> Members =>
    [
        .. DesignJson.StoredMembers().Select(line => line.Split(": ", 2)).Where(line => !NoDifference().IsMatch(line[0])).Select(line => (line[0], line[1])),
    ];

    [Theory]
    [MemberData(nameof(Members))]
    public void Every_stored_member_that_differs_is_said_in_words_and_units(string member, string kind)
    {
        var design = Everything();
        var (text, other) = Changed(design, member, kind);

        Assert.True(other is not null, $"The sample holds no {member}, so its words are not looked at.");
        var row = Assert.Single(DifferenceWords.Of(design, DesignJson.Read(other), DisplayUnits.Metric));
        Assert.Matches(@"^\p{Lu}", row.Field);
        foreach (var words in new[] { row.Field, row.First, row.Second })
        {
            Assert.DoesNotMatch(@"[a-z]{2}[A-Z][a-z]|[\[\]{}_]|[a-z]\.[a-z]", words);
        }

        Assert.DoesNotMatch(@"\b(m2|m3|kg|dba|deg|per s)$", row.Field);
        Assert.NotEqual(row.First, row.Second);
        // A number whose member names a unit is shown with one, in the units of the reader.
        if (kind == "number" && UnitSuffix().IsMatch(member))
        {
            Assert.Matches(@"\d.*[^\d.\s−-]", row.First);
            Assert.Matches(@"\d.*[^\d.\s−-]", row.Second);
        }

        Assert.NotEqual(text, other);
    }

    [GeneratedRegex("(?<=[a-z])(M3PerS|M3|M2|M|Pa|C|J|W|Kg|Deg|Percent|Dba)$")]
    private static partial Regex UnitSuffix();

    /// <summary>The stored design, and the same with the first member of that path changed; null when there is none.</summary>
    private static (string Text, string? Other) Changed(Design design, string member, string kind)
    {
        var text = DesignJson.Write(design);
        var root = JsonNode.Parse(text)!;
        var holder = Holders(root, member.Split('.')[..^1]).FirstOrDefault(found => found.ContainsKey(Name(member)));
        if (holder is null)
        {
            return (text, null);
        }

        var old = holder[Name(member)];
        holder[Name(member)] = kind switch
        {
            "number" => Number(member, old),
            "yes/no" => !(old?.GetValue<bool>() ?? false),
            "text" => Text(member, old?.GetValue<string>(), design),
            var choices => choices.Split('|').First(choice => choice != old?.GetValue<string>()),
        };
        return (text, root.ToJsonString());
    }

    private static string Name(string member) => member[(member.LastIndexOf('.') + 1)..];

    private static IEnumerable<JsonObject> Holders(JsonNode node, string[] path)
    {
        if (path.Length == 0)
        {
            return node is JsonObject holder ? [holder] : [];
        }

        var step = Step().Match(path[0]);
        if (node is not JsonObject parent || parent[step.Groups["name"].Value] is not { } child)
        {
            return [];
        }

        return step.Groups["list"].Success
            ? child.AsArray().OfType<JsonObject>()
                .Where(element => !step.Groups["kind"].Success || element["kind"]?.GetValue<string>() == step.Groups["kind"].Value)
                .SelectMany(element => Holders(element, path[1..]))
            : Holders(child, path[1..]);
    }

    [GeneratedRegex(@"^(?<name>[A-Za-z]+)(?<list>\[\](<(?<kind>[a-z]+)>)?)?$")]
    private static partial Regex Step();

    private static JsonValue Number(string member, JsonNode? old)
    {
        var number = old?.GetValue<double>() ?? 0;
        return Name(member) switch
        {
            "month" or "day" or "animals" or "sleepers" or "showersPerDay" or "waysOutOfBed" => JsonValue.Create(((int)number % 3) + 1),
            // So much that it shows in every unit.
            _ => JsonValue.Create(number == 0 ? 1 : number * 1.5),
        };
    }

    private static string Text(string member, string? old, Design design) => Name(member) switch
    {
        "zoneId" or "zoneA" or "zoneB" or "hostZoneId" or "batteryZoneId" or "waterZoneId" => design.Zones.First(zone => zone.Id != old).Id,
        "placeKey" => old == "bergen" ? "madrid" : "bergen",
        "material" => Materials.All.First(material => material.Key != old).Key,
        "country" => old == "NO" ? "DE" : "NO",
        _ => old + " two",
    };

    private static Design Everything()
    {
        var van = SampleDesign.Van();
        return van with { Roof = van.Walls with { Gaps = LiningGaps.Sealed }, Floor = van.Walls };
    }
}
