using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings;

/// <summary>
/// Yardsticks of leisure-vehicle standards for openings that cannot be shut. Nobody here has held the standards' text:
/// where the number comes from stands beside it. Local codes and a licensed gas fitter decide.
/// </summary>
public static class FixedOpenings
{
    /// <summary>What a yardstick asks for.</summary>
    /// <param name="High">Free area high up, in the roof.</param>
    /// <param name="Low">Free area near the floor.</param>
    /// <param name="Recalled">True when the row was recalled, not read in a copy.</param>
    public sealed record Areas(Area High, Area Low, bool Recalled);

    /// <summary>Highest lower edge of a low opening above the floor (EN 721, read in a secondary copy).</summary>
    public static readonly Length LowLimit = Length.FromMillimeters(100);

    /// <summary>Least height of a wall's high opening above the mattress (EN 721, read in a secondary copy).</summary>
    public static readonly Length HighAboveMattress = Length.FromMillimeters(300);

    /// <summary>
    /// EN 721 for vehicles with appliances that take air from the room, by plan area: up to 5 m2 75 and 10 cm2, up to
    /// 10 m2 100 and 15 cm2 (read in a secondary copy of the 2004 edition); up to 15 m2 125 and 20, up to 20 m2 150 and
    /// 30, above 200 and 50 cm2 (recalled).
    /// </summary>
    public static Areas En721(Area plan) => plan.SquareMeters switch
    {
        <= 5 => Of(75, 10, recalled: false),
        <= 10 => Of(100, 15, recalled: false),
        <= 15 => Of(125, 20, recalled: true),
        <= 20 => Of(150, 30, recalled: true),
        _ => Of(200, 50, recalled: true),
    };

    /// <summary>
    /// EN 721 without appliances that take air from the room, up to 10 m2: 15 cm2 in the roof or 30 cm2 elsewhere high,
    /// and 5 cm2 low (read in a secondary copy).
    /// </summary>
    /// <param name="highInRoof">True when the high opening is in the roof.</param>
    public static Areas En721RoomSealed(bool highInRoof) => Of(highInRoof ? 15 : 30, 5, recalled: false);

    /// <summary>
    /// AS/NZS 5601.2 clause 7.3: V = 610 U + 650 P mm2, at least 4000 mm2, with U the input in MJ/h of all gas
    /// appliances that are not room-sealed and P the berths (read in two secondary copies).
    /// </summary>
    public static Area AsNzs5601(Power gasInput, int berths)
    {
        double megajoulePerHour = (double)gasInput.Watts * 3600 / 1e6;
        return Area.FromSquareMillimeters(Math.Max(4000, (610 * megajoulePerHour) + (650 * berths)));
    }

    /// <summary>What the yardstick of the country the van stands in asks for, how it is known, and its name.</summary>
    /// <param name="High">Free area high up.</param>
    /// <param name="Low">Free area near the floor.</param>
    /// <param name="Label">Name of the yardstick with its confidence.</param>
    public sealed record Yardstick(Area High, Area Low, string Label);

    /// <summary>
    /// The yardstick of a design: in Australia and New Zealand the area of AS/NZS 5601.2, half of it high and half low
    /// (the halves are our judgement); everywhere else EN 721, in Europe as the standard there and outside Europe for
    /// want of a number of its own.
    /// </summary>
    public static Yardstick Asked(Design design)
    {
        string country = design.Country ?? Climate.DesignPlaces.Get(design, design.Stop.PlaceKey).Country;
        if (country is "AU" or "NZ")
        {
            Area half = AsNzs5601(design) / 2;
            return new Yardstick(half, half, "AS/NZS 5601.2 (from secondary copies; half of it each our judgement)");
        }

        Areas asked = En721(design.Body.InteriorLength * design.Body.InteriorWidth);
        string confidence = asked.Recalled ? "recalled, to be checked" : "from a secondary copy";
        return new Yardstick(asked.High, asked.Low, country is "US" or "CA" or "JP" or "ZA"
            ? $"EN 721 ({confidence}; a European yardstick, the code of this country was not at hand)"
            : $"EN 721 ({confidence})");
    }

    /// <summary>AS/NZS 5601.2 for everything in the design that burns cabin air; one burner of a gas cooker is counted.</summary>
    public static Area AsNzs5601(Design design)
    {
        double inputW = (design.Household.CookingFuel == CookingFuel.Gas ? 1000 * Defaults.Likely("hob-input") : 0)
            + (design.Heater.Kind == HeaterKind.UnfluedGas ? (double)design.Heater.RatedOutput.Watts : 0);
        return AsNzs5601(Power.FromWatts(inputW), design.Household.Sleepers);
    }

    /// <summary>Free area of the design's fixed openings that are high.</summary>
    public static Area High(Design design)
    {
        double mattressM = design.Body.Furniture
            .Where(piece => piece.Kind is FurnitureKind.Bed or FurnitureKind.Lounge)
            .Select(piece => piece.Z.Meters + piece.Height.Meters).DefaultIfEmpty(0).Max();
        return Sum(design, opening => opening.Face == Face.Roof
            || (opening.Face != Face.Floor && Openings.BottomM(design.Body, opening) >= mattressM + HighAboveMattress.Meters));
    }

    /// <summary>Free area of the design's fixed openings that are low.</summary>
    public static Area Low(Design design) => Sum(design, opening => opening.Face == Face.Floor
        || (opening.Face != Face.Roof && Openings.BottomM(design.Body, opening) <= LowLimit.Meters));

    private static Area Sum(Design design, Func<Opening, bool> counts) => Area.FromSquareMeters(
        design.Openings.Where(opening => opening.Facts.Fixed && !opening.Covered && counts(opening)).Sum(opening => Openings.FreeArea(opening).SquareMeters));

    private static Areas Of(double highCm2, double lowCm2, bool recalled) =>
        new(Area.FromSquareCentimeters(highCm2), Area.FromSquareCentimeters(lowCm2), recalled);
}
