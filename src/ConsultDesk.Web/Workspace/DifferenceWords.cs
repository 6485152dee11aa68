using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Clients;
using UnitsNet;

namespace ConsultDesk.Web.Workspace;

/// <summary>One input in which two designs differ, as the screen says it.</summary>
public sealed record InputDifference(string Field, string First, string Second);

/// <summary>Turns the differences of two stored designs into the words and units of the screen.</summary>
public static partial class DifferenceWords
{
    private const string NotThere = "not there";

    private static readonly string[] Order =
    [
        "stop", "ownPlaces", "itinerary", "household", "buildStage", "country", "openings", "circulationFans", "cabDivider", "dryers", "leakage", "glazings", "bareMetal", "heater", "walls", "roof", "floor",
        "bedBase", "equipment", "passages", "zones", "body",
    ];

    /// <summary>Inputs in which two designs differ, in the order of the form.</summary>
    public static IReadOnlyList<InputDifference> Of(Design first, Design second, DisplayUnits units) =>
        [.. DesignJson.Differences(first, second).Where(difference => !FollowsFromAnother(difference.Path)).OrderBy(difference => Rank(difference.Path)).Select(difference => Say(difference, first, second, units))];

    // A stay ends where the next begins: its last day is told by the other's first.
    // Where a value comes from is no input itself.
    private static bool FollowsFromAnother(string path) => path.StartsWith("origins", StringComparison.Ordinal) || path.StartsWith("itinerary[", StringComparison.Ordinal) && path.Contains("].to.", StringComparison.Ordinal)
        // What the hours of a weather file add up to follows from the file.
        || path.StartsWith("ownPlaces[", StringComparison.Ordinal) && path.Contains("].hours.", StringComparison.Ordinal) && !path.EndsWith(".fileName", StringComparison.Ordinal);

    private static InputDifference Say(DesignDifference difference, Design first, Design second, DisplayUnits units)
    {
        var segments = difference.Path.Split('.');
        var part = "";
        List<string> words = [];
        foreach (var segment in segments)
        {
            var listed = Listed().Match(segment);
            var member = listed.Success ? segment[..listed.Index] : segment;
            var id = listed.Groups["id"].Value;
            if (!listed.Success)
            {
                words.Add(Spaced(IdSuffix().Replace(UnitSuffix().Replace(member, ""), "")));
            }
            else if (member == "layers")
            {
                words.Add((LayerName(part, id, first) ?? LayerName(part, id, second) ?? id) + ",");
            }
            else
            {
                words.Add(NameOf(member, id, first) ?? NameOf(member, id, second) ?? id);
            }

            if (part.Length == 0)
            {
                part = member;
            }
        }

        words.Remove("facts");
        var field = words.Count == 1 ? words[0] : $"{words[0]}: {string.Join(' ', words.Skip(1)).TrimEnd(',')}";
        return new(
            char.ToUpperInvariant(field[0]) + field[1..],
            Value(segments[^1], difference.Before, first, units),
            Value(segments[^1], difference.After, second, units));
    }

    // The order of the form, so that the list reads like it.
    private static int Rank(string path) => Array.FindIndex(Order, part => path.StartsWith(part, StringComparison.Ordinal)) is var rank and >= 0 ? rank : Order.Length;

    private static string? NameOf(string list, string id, Design design) => list switch
    {
        "openings" => Openings.Find(design, id)?.Name,
        "glazings" => design.Glazings.FirstOrDefault(g => g.Id == id)?.Name,
        "bareMetal" => design.BareMetal.FirstOrDefault(m => m.Id == id)?.Name,
        "zones" => design.Zones.FirstOrDefault(z => z.Id == id)?.Name,
        "passages" => design.Passages.FirstOrDefault(p => p.Id == id)?.Name,
        "circulationFans" => design.CirculationFans.FirstOrDefault(f => f.Id == id)?.Name,
        "dryers" => design.Dryers.FirstOrDefault(d => d.Id == id)?.Name,
        "roofParts" => design.Body.RoofParts.FirstOrDefault(p => p.Id == id)?.Name,
        "ownPlaces" => design.OwnPlaces.FirstOrDefault(p => p.Id == id)?.Name,
        "months" => int.TryParse(id, NumberStyles.None, CultureInfo.InvariantCulture, out var month) && month is >= 1 and <= 12 ? Words.Month(month) : null,
        "hiddenParts" => design.Body.HiddenParts.FirstOrDefault(p => p.Id == id)?.Name,
        "itinerary" => design.Itinerary.FirstOrDefault(s => s.Id == id) is { } stay ? "stay in " + Text("placeKey", stay.PlaceKey, design) : null,
        _ => null,
    };

    private static string? LayerName(string part, string id, Design design)
    {
        LayeredAssembly? assembly = part switch
        {
            "walls" => design.Walls,
            "roof" => design.Roof,
            "floor" => design.Floor,
            _ => null,
        };
        return assembly?.Layers.FirstOrDefault(layer => layer.Id == id) switch
        {
            SolidLayer solid => Materials.Find(solid.Material)?.Name ?? solid.Material,
            AirLayer => "air layer",
            MembraneLayer membrane => membrane.Name,
            _ => null,
        };
    }

    private static string Value(string member, string? json, Design design, DisplayUnits units)
    {
        var node = json is null ? null : JsonNode.Parse(json);
        if (node is null && member == "country")
        {
            return "as the stop";
        }

        return node switch
        {
            null => member is "batteryZoneId" or "waterZoneId" ? "outside the van" : NotThere,
            JsonValue value when value.TryGetValue(out bool ticked) => ticked ? "yes" : "no",
            JsonValue value when value.TryGetValue(out double number) => Number(member, number, units),
            JsonValue value when value.TryGetValue(out string? text) => Text(member, text, design),
            JsonObject => "there",
            _ => node.ToJsonString(),
        };
    }

    private static string Text(string member, string text, Design design) => member switch
    {
        "zoneId" or "batteryZoneId" or "waterZoneId" or "zoneA" or "zoneB" or "hostZoneId" => design.Zones.FirstOrDefault(z => z.Id == text)?.Name ?? text,
        "placeKey" => PlaceField.ShortName(design, text),
        "country" => TradeWords.Country(text),
        "material" => Materials.Find(text)?.Name ?? text,
        _ => text.Replace('-', ' '),
    };

    private static string Number(string member, double number, DisplayUnits units)
    {
        var suffix = UnitSuffix().Match(member).Value;
        return (suffix, member) switch
        {
            ("M", "altitudeM" or "heaterRatedAltitudeM") => units.Format(Measure.Altitude, Length.FromMeters(number)),
            ("M", "vapourEquivalentThicknessM") => units.Format(Measure.VapourEquivalentThickness, Length.FromMeters(number)),
            ("M", _) => units.Format(Length.FromMeters(number)),
            ("M2", _) => units.Format(Area.FromSquareMeters(number)),
            ("M3", _) => units.Format(Volume.FromCubicMeters(number)),
            ("M3PerS", _) => units.Format(VolumeFlow.FromCubicMetersPerSecond(number)),
            ("Pa", _) => units.Format(Pressure.FromPascals(number)),
            ("C", _) => units.Format(Temperature.FromDegreesCelsius(number)),
            ("J", _) => units.Format(Energy.FromJoules(number)),
            ("W", "electricDrawW") => units.Format(Measure.ElectricPower, Power.FromWatts((decimal)number)),
            ("W", _) => units.Format(Power.FromWatts((decimal)number)),
            // Less than a litre in the tenth it is shown with would look like any other.
            ("Kg", _) => number < 1 ? units.Format(Measure.Water, Mass.FromKilograms(number)) : units.FormatLitres(Mass.FromKilograms(number)),
            ("Dba", _) => string.Create(CultureInfo.InvariantCulture, $"{number:0.#}{DisplayUnits.NoBreakSpace}dB(A)"),
            ("Percent", _) => units.Format(RelativeHumidity.FromPercent(number)),
            ("Deg", _) => string.Create(CultureInfo.InvariantCulture, $"{number:0.##}°"),
            (_, "month") => Words.Month((int)number),
            (_, "speed") => string.Create(CultureInfo.InvariantCulture, $"{number * 10:0.#} of 10"),
            (_, "freeShare") => units.Format(Ratio.FromDecimalFractions(number)),
            _ => number.ToString("0.######", CultureInfo.InvariantCulture),
        };
    }

    // thicknessM -> thickness, nightSetPoint -> night set point, ratedOutput -> rated output.
    private static string Spaced(string member) => Capital().Replace(member, match => " " + match.Value.ToLowerInvariant());

    [GeneratedRegex(@"\[(?<id>[^\]]*)\]$")]
    private static partial Regex Listed();

    [GeneratedRegex("(?<=[a-z])(M3PerS|M3|M2|M|Pa|C|J|W|Kg|Deg|Percent|Dba)$")]
    private static partial Regex UnitSuffix();

    [GeneratedRegex("(?<=[a-z])Id$")]
    private static partial Regex IdSuffix();

    [GeneratedRegex("(?<=.)[A-Z]")]
    private static partial Regex Capital();
}
