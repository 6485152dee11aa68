using System.Text.Json.Nodes;

namespace ConsultDesk.Records;

/// <summary>
/// Turns the text of an older format into the next one. A step adds members with the value a design had before anybody
/// could enter them; it is written in plain text values, not through today's types, and is never edited after release.
/// </summary>
internal static class DesignUpgrades
{
    /// <summary>Step n turns a design of format n+1 into format n+2. Pure but for the object it is given.</summary>
    public static readonly IReadOnlyList<Action<JsonObject>> Steps = [AddTheYear, AddTheParts, AddTheHabits];

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

    /// <summary>
    /// Format 3: how far each part has come, where inputs come from, dryers, places of one's own, what lies on the
    /// roof. Format 2 knew none of it: parts count as proposed, but the windows the van was built with; inputs as assumed.
    /// </summary>
    private static void AddTheParts(JsonObject design)
    {
        Add(design, "$.design", "bedBaseState", "proposed");
        Add(design, "$.design", "buildStage", "unknown");
        Add(design, "$.design", "cabDividerState", "proposed");
        Add(design, "$.design", "country", null);
        Add(design, "$.design", "dryers", new JsonArray());
        Add(design, "$.design", "origins", new JsonArray());
        Add(design, "$.design", "ownPlaces", new JsonArray());
        In(design, "body", (body, path) => Add(body, path, "roofParts", new JsonArray()));
        In(design, "heater", AddPart);
        Each(design, "$.design", "circulationFans", AddPart);
        Each(design, "$.design", "openings", (opening, path) =>
        {
            AddPart(opening, path);
            Add(opening, path, "covered", false);
            if ((opening["kind"] as JsonValue)?.ToString() == "cab-window")
            {
                opening["state"] = "fitted";
            }

            if (opening["facts"] is JsonObject facts)
            {
                Add(facts, path + ".facts", "rainSensor", false);
                Add(facts, path + ".facts", "seenThrough", false);
            }

            if (opening["fan"] is JsonObject fan)
            {
                Add(fan, path + ".fan", "soundDba", null);
            }

            AddCoverState(opening, path);
        });
        Each(design, "$.design", "glazings", AddCoverState);
        foreach (var part in (string[])["walls", "roof", "floor"])
        {
            In(design, part, (assembly, path) => Each(assembly, path, "layers", (layer, inner) => Add(layer, inner, "state", "proposed")));
        }

        In(design, "equipment", (equipment, path) =>
        {
            Add(equipment, path, "gasLocker", null);
            foreach (var alarm in (string[])["carbonMonoxideAlarm", "smokeAlarm", "lowGasAlarm", "extinguisher"])
            {
                if (equipment.TryGetPropertyValue(alarm, out var value))
                {
                    // What is neither would have a meaning in format 3, and must not slip through.
                    equipment[alarm] = value is not JsonValue answer || !answer.TryGetValue(out bool there)
                        ? throw new DesignTextException($"{path}.{alarm}", "expected true or false.")
                        : there ? "fitted" : null;
                }
            }
        });

        static void AddPart(JsonObject part, string path)
        {
            Add(part, path, "state", "proposed");
            Add(part, path, "priceKey", null);
        }

        static void AddCoverState(JsonObject owner, string path)
        {
            if (owner["pane"] is JsonObject pane)
            {
                Add(pane, path + ".pane", "coverState", "proposed");
            }
        }
    }

    /// <summary>
    /// Format 4: habits and places that the fuller physics asks for. Format 3 knew none of it: nothing but people, cooking and
    /// washing gave off water, every place had monthly normals, and nobody had said that the glass is wiped. The years of that
    /// time wiped it all the same; a habit nobody told is not taken over.
    /// </summary>
    private static void AddTheHabits(JsonObject design)
    {
        In(design, "household", (household, path) =>
        {
            Add(household, path, "hotDrinksPerDay", 0);
            Add(household, path, "plants", 0);
            Add(household, path, "washesUpInside", false);
            Add(household, path, "wetFirewoodInside", false);
            Add(household, path, "wipesGlass", false);
        });
        Each(design, "$.design", "ownPlaces", (place, path) => Add(place, path, "hours", null));
    }

    private static void Each(JsonObject owner, string path, string name, Action<JsonObject, string> add)
    {
        var list = owner[name] as JsonArray ?? [];
        for (var i = 0; i < list.Count; i++)
        {
            if (list[i] is JsonObject member)
            {
                add(member, FormattableString.Invariant($"{path}.{name}[{i}]"));
            }
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
