using System.Text.Json.Nodes;

namespace ConsultDesk.Records;

/// <summary>
/// Turns the text of an older format into the next one. A step adds members with the value a design had before anybody
/// could enter them; it is written in plain text values, not through today's types, and is never edited after release.
/// </summary>
internal static class DesignUpgrades
{
    /// <summary>Step n turns a design of format n+1 into format n+2. Pure but for the object it is given.</summary>
    public static readonly IReadOnlyList<Action<JsonObject>> Steps = [AddTheYear];

    /// <summary>Format 2: what a whole year needs to know about the van, its equipment and the days spent in it.</summary>
    private static void AddTheYear(JsonObject design)
    {
        Add(design, "$.design", "bedBase", "slatted");
        Add(design, "$.design", "cabDivider", "open");
        Add(design, "$.design", "circulationFans", new JsonArray());
        Add(design, "$.design", "itinerary", new JsonArray());
        Add(design, "$.design", "equipment", new JsonObject
        {
            ["battery"] = "none",
            ["batteryUsableJ"] = 0,
            ["batteryZoneId"] = null,
            ["carbonMonoxideAlarm"] = false,
            ["cookerUsedForWarmth"] = false,
            ["extinguisher"] = false,
            ["gasBottles"] = false,
            ["gasLockerOpensInside"] = false,
            ["heaterExhaust"] = null,
            ["heaterRatedAltitudeM"] = null,
            ["leftInLockedVan"] = false,
            ["lowGasAlarm"] = false,
            ["roofNotCleared"] = false,
            ["smokeAlarm"] = false,
            ["steel"] = "unknown",
            ["waterCarried"] = false,
            ["waterZoneId"] = null,
            ["waysOutOfBed"] = 1,
            ["woodStove"] = false,
        });
        In(design, "body", (body, path) => Add(body, path, "hiddenParts", new JsonArray()));
        In(design, "heater", (heater, path) =>
        {
            Add(heater, path, "daySetPointC", 19);
            Add(heater, path, "runsWhenAway", false);
        });
        In(design, "household", (household, path) =>
        {
            Add(household, path, "animals", 0);
            Add(household, path, "driesClothes", false);
            Add(household, path, "presence", "evenings-and-nights");
            Add(household, path, "showersPerDay", 0);
        });
        var zones = design["zones"] as JsonArray ?? [];
        for (var i = 0; i < zones.Count; i++)
        {
            if (zones[i] is JsonObject zone)
            {
                Add(zone, FormattableString.Invariant($"$.design.zones[{i}]"), "cupboard", null);
            }
        }

        foreach (var part in (string[])["walls", "roof", "floor"])
        {
            In(design, part, (assembly, path) => Add(assembly, path, "gaps", "clips-and-seams"));
        }
    }

    /// <summary>A part that is missing or no object is left for the reader to refuse.</summary>
    private static void In(JsonObject design, string name, Action<JsonObject, string> add)
    {
        if (design[name] is JsonObject part)
        {
            add(part, "$.design." + name);
        }
    }

    private static void Add(JsonObject owner, string path, string name, JsonNode? value)
    {
        // The format the text says it has did not know this member: what it means there nobody can tell.
        if (!owner.TryAdd(name, value))
        {
            throw new DesignTextException($"{path}.{name}", $"the member '{name}' is unknown.");
        }
    }
}
