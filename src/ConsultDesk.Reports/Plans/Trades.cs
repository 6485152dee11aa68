using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Reports.Plans;

/// <summary>Who may carry out the remedy of a finding, and in which section of the plan the finding stands.</summary>
internal static class Trades
{
    public const string GasFitter = "A licensed gas fitter";
    private const string HeaterFitter = "A fitter the heater’s maker approves, to the maker’s instructions";
    private const string StoveInstaller = "A licensed installer of stoves";
    private const string Electrician = "A licensed electrician";
    private const string AutoElectrician = "An auto electrician";
    private const string BodyShop = "A body shop";
    private const string Separator = "; ";
    private const string You = "You";
    private const string YouOrBodyShop = "You; where it is cut or wired, a body shop or an auto electrician";

    /// <summary>Who does it.</summary>
    public static string For(string findingCode) => findingCode switch
    {
        "unflued-flame-asleep" => "You, tonight: leave it unlit. The new heater: " + Lower(HeaterFitter) + "; any gas work: " + Lower(GasFitter),
        "gas-without-fixed-openings" => GasFitter + ", who also confirms the free areas by the local code",
        "cooker-for-warmth" => "You, tonight: leave it unlit. The heater: " + Lower(HeaterFitter) + "; any gas work: " + Lower(GasFitter),
        "suction-on-flue" => "You, tonight: no fan while it burns. The stove: " + Lower(StoveInstaller),
        "intake-beside-exhaust" => HeaterFitter,
        "snow-over-exhaust" => "You, before every night and while it snows; a new end of the exhaust: " + Lower(HeaterFitter),
        "gas-locker-inside" => "You, tonight: take the bottles out. The locker: " + Lower(GasFitter),
        "gas-locker-beside-opening" => GasFitter,
        "alarms-needed" => "You; the gas test: " + Lower(GasFitter),
        "heater-too-small" or "heater-too-big" or "heater-at-altitude" or "heater-short-in-cold" or "heater-cycles" => HeaterFitter,
        "battery-frost" => "You; what charges it: an auto electrician",
        "rust-sealed" => "You; through-rust and structural parts: a body shop",
        "one-way-out" or "cuts-hidden-part" => YouOrBodyShop,
        "water-frost" or "locked-heat" or "wet-skin" or "damp-mattress" or "damp-cupboard" => You,
        "mould-grows" => "You, with a mask and gloves; more than a small patch: a licensed trade",
        "flame-gases-high" => "You, while it burns: everything open. The burner: " + Lower(GasFitter),
        "fan-behind-shut-lid" or "glass-condensing" or "loose-cover-inside" or "loose-cover-outside" or "air-dry" or "thin-insulation"
            or "vapour-reaches-skin" or "metal-condensing" => You,
        _ => YouOrBodyShop,
    };

    /// <summary>
    /// Who fits a part that is to be bought. Gas, exhausts and mains are a licensed trade's work whatever the price book
    /// says; for the rest the book decides.
    /// </summary>
    public static string ForPart(CostLine line, Design design)
    {
        if (line.PartId == "heater")
        {
            return design.Heater.Kind switch
            {
                HeaterKind.RoomSealedGas or HeaterKind.UnfluedGas => GasFitter,
                HeaterKind.RoomSealedLiquidFuel or HeaterKind.Hydronic => HeaterFitter,
                HeaterKind.WoodStove => StoveInstaller,
                HeaterKind.Electric => You + "; its socket and mains wiring: " + Lower(Electrician),
                _ => You,
            };
        }

        var trade = line.Item?.FittedBy == FittedBy.LicensedTrade;
        if (line.PartId.StartsWith("openings[", StringComparison.Ordinal) && !line.PartId.Contains(".pane.", StringComparison.Ordinal))
        {
            var opening = design.Openings.FirstOrDefault(candidate => line.PartId == $"openings[{candidate.Id}]");
            var who = !trade && opening is not null ? YouOrBodyShop : opening?.Fan is null ? BodyShop : BodyShop + Separator + "wiring: " + Lower(AutoElectrician);
            return opening is { Facts.Fixed: true } ? who + Separator + "free area for gas: " + Lower(GasFitter) : who;
        }

        if (line.PartId.StartsWith("body.roofParts[", StringComparison.Ordinal))
        {
            return trade ? AutoElectrician : You + "; its wiring: " + Lower(AutoElectrician);
        }

        return trade ? "A licensed trade" : You;
    }

    /// <summary>Who does several things, each said once.</summary>
    public static string Together(IEnumerable<string> who) => string.Join(Separator, who.SelectMany(one => one.Split(Separator)).Distinct());

    /// <summary>True when a part is fitted by a licensed trade.</summary>
    public static bool NeedsTrade(CostLine line, Design design) =>
        line.Item?.FittedBy == FittedBy.LicensedTrade
        || (line.PartId == "heater" && design.Heater.Kind is not HeaterKind.None)
        || design.Openings.Any(opening => opening.Facts.Fixed && line.PartId == $"openings[{opening.Id}]");

    /// <summary>Id of the section a finding stands in.</summary>
    public static string SectionOf(string findingCode) => findingCode switch
    {
        "glass-condensing" or "metal-condensing" or "linings-condensing" or "loose-cover-inside" or "loose-cover-outside" or "air-damp" or "air-dry"
            or "many-wet-mornings" or "mould-grows" or "damp-mattress" or "damp-cupboard" => PlanComposer.Damp,
        "heater-too-small" or "heater-too-big" or "heater-at-altitude" or "unflued-flame-asleep"
            or "heater-short-in-cold" or "heater-cycles" or "cooker-for-warmth" or "flame-gases-high" or "suction-on-flue" or "intake-beside-exhaust" => PlanComposer.Heat,
        "thin-insulation" or "vapour-reaches-skin" or "rust-sealed" or "wet-skin" => PlanComposer.Walls,
        "alarms-needed" or "before-cutting" or "gas-without-fixed-openings" or "gas-locker-inside" or "gas-locker-beside-opening" or "snow-over-exhaust"
            or "battery-frost" or "water-frost" or "locked-heat" or "one-way-out" or "cuts-hidden-part" => PlanComposer.Cautions,
        _ => PlanComposer.Air,
    };

    private static string Lower(string who) => char.ToLowerInvariant(who[0]) + who[1..];
}
