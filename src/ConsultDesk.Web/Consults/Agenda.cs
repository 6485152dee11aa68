using System.Collections.Frozen;
using ConsultDesk.Records;

namespace ConsultDesk.Web.Consults;

/// <summary>A group of the workspace's inputs that a point of the agenda opens.</summary>
/// <param name="Anchor">Anchor of the group.</param>
/// <param name="Text">What the button says.</param>
public sealed record AgendaInputs(string Anchor, string Text);

/// <summary>The points every consult goes through: their words, their inputs and the findings that belong to them.</summary>
public static class Agenda
{
    // Every rule of the calculation has one point: where it would be talked about first. A test goes through the rules.
    private static readonly FrozenDictionary<string, DecisionTopic> Topics = new Dictionary<string, DecisionTopic>
    {
        ["many-wet-mornings"] = DecisionTopic.PeopleAndRoute,
        ["air-damp"] = DecisionTopic.PeopleAndRoute,
        ["dryer-is-no-ventilation"] = DecisionTopic.AirAtBed,
        ["air-dry"] = DecisionTopic.PeopleAndRoute,
        ["rust-sealed"] = DecisionTopic.AlreadyFixed,
        ["cuts-hidden-part"] = DecisionTopic.AlreadyFixed,
        ["before-cutting"] = DecisionTopic.AlreadyFixed,
        ["fan-sealed-in"] = DecisionTopic.AirInRain,
        ["fan-against-draught"] = DecisionTopic.AirInRain,
        ["fan-behind-shut-lid"] = DecisionTopic.AirInRain,
        ["only-leakage"] = DecisionTopic.AirInRain,
        ["nothing-open-in-rain"] = DecisionTopic.AirInRain,
        ["relief-flap-covered"] = DecisionTopic.AirInRain,
        ["locked-heat"] = DecisionTopic.AirInRain,
        ["cooker-for-warmth"] = DecisionTopic.CookerSteam,
        ["linings-condensing"] = DecisionTopic.CookerSteam,
        ["night-air-short"] = DecisionTopic.AirAtBed,
        ["carbon-dioxide-high"] = DecisionTopic.AirAtBed,
        ["old-air-at-the-bed"] = DecisionTopic.AirAtBed,
        ["hot-nights"] = DecisionTopic.AirAtBed,
        ["glass-condensing"] = DecisionTopic.CabGlass,
        ["loose-cover-inside"] = DecisionTopic.CabGlass,
        ["loose-cover-outside"] = DecisionTopic.CabGlass,
        ["gas-locker-beside-opening"] = DecisionTopic.DangersAndAlarms,
        ["heater-short-in-cold"] = DecisionTopic.HeatSource,
        ["heater-too-small"] = DecisionTopic.HeatSource,
        ["heater-too-big"] = DecisionTopic.HeatSource,
        ["heater-cycles"] = DecisionTopic.HeatSource,
        ["heater-at-altitude"] = DecisionTopic.HeatSource,
        ["wet-skin"] = DecisionTopic.SteelAndWalls,
        ["metal-condensing"] = DecisionTopic.SteelAndWalls,
        ["vapour-reaches-skin"] = DecisionTopic.SteelAndWalls,
        ["thin-insulation"] = DecisionTopic.SteelAndWalls,
        ["mould-grows"] = DecisionTopic.CupboardsAndBed,
        ["damp-mattress"] = DecisionTopic.CupboardsAndBed,
        ["damp-cupboard"] = DecisionTopic.CupboardsAndBed,
        ["battery-frost"] = DecisionTopic.PowerAndRoof,
        ["water-frost"] = DecisionTopic.PowerAndRoof,
        ["unflued-flame-asleep"] = DecisionTopic.DangersAndAlarms,
        ["flame-gases-high"] = DecisionTopic.DangersAndAlarms,
        ["suction-on-flue"] = DecisionTopic.DangersAndAlarms,
        ["intake-beside-exhaust"] = DecisionTopic.DangersAndAlarms,
        ["snow-over-exhaust"] = DecisionTopic.DangersAndAlarms,
        ["gas-locker-inside"] = DecisionTopic.DangersAndAlarms,
        ["gas-without-fixed-openings"] = DecisionTopic.DangersAndAlarms,
        ["one-way-out"] = DecisionTopic.DangersAndAlarms,
        ["alarms-needed"] = DecisionTopic.DangersAndAlarms,
    }.ToFrozenDictionary();

    /// <summary>The point a finding is talked about at; null for a code no rule has.</summary>
    public static DecisionTopic? TopicOf(string findingCode) => Topics.TryGetValue(findingCode, out var topic) ? topic : null;

    /// <summary>Name of a point.</summary>
    public static string Title(DecisionTopic topic) => topic switch
    {
        DecisionTopic.PeopleAndRoute => "People and route",
        DecisionTopic.AlreadyFixed => "What is already fixed",
        DecisionTopic.AirInRain => "Air in and out in rain",
        DecisionTopic.CookerSteam => "Cooker steam",
        DecisionTopic.AirAtBed => "Air at the bed",
        DecisionTopic.CabGlass => "Cab glass and covers",
        DecisionTopic.HeatSource => "Heat source",
        DecisionTopic.SteelAndWalls => "Steel and walls",
        DecisionTopic.CupboardsAndBed => "Cupboards and bed base",
        DecisionTopic.PowerAndRoof => "Power and roof space",
        DecisionTopic.DangersAndAlarms => "Dangers and alarms",
        DecisionTopic.BudgetAndLooks => "Budget and looks",
        _ => throw new ArgumentOutOfRangeException(nameof(topic), topic, "Expected a point of the agenda."),
    };

    /// <summary>What to ask the client at a point.</summary>
    public static string Question(DecisionTopic topic) => topic switch
    {
        DecisionTopic.PeopleAndRoute => "Who sleeps, cooks, showers and dries clothes in the van, and where does it stand in which month?",
        DecisionTopic.AlreadyFixed => "What is built in, bought or cut already, and will not be moved?",
        DecisionTopic.AirInRain => "Where does air come in and go out while it rains, asleep, and with the van locked?",
        DecisionTopic.CookerSteam => "How does the steam leave while the pot is on, before it reaches glass and bed?",
        DecisionTopic.AirAtBed => "How does fresh air reach the sleepers, and how loud and cold may it be there?",
        DecisionTopic.CabGlass => "What covers the cab's glass at night, and how tight are its edges? Is there a divider?",
        DecisionTopic.HeatSource => "What heats, with which fuel, where does its exhaust go, and does it hold in the coldest week?",
        DecisionTopic.SteelAndWalls => "In what state is the steel, and what comes between it and the room, in which order?",
        DecisionTopic.CupboardsAndBed => "How does air get behind the cupboards and under the mattress?",
        DecisionTopic.PowerAndRoof => "What feeds fans and heater, where do battery and water lie, and what shares the roof?",
        DecisionTopic.DangersAndAlarms => "Gas, flames, alarms, fire and the ways out: what is there, and which licensed trade looks at it?",
        DecisionTopic.BudgetAndLooks => "What may it cost now and later, and what may be seen from outside?",
        _ => throw new ArgumentOutOfRangeException(nameof(topic), topic, "Expected a point of the agenda."),
    };

    /// <summary>The groups of inputs a point is about, the first the one to start with.</summary>
    public static IReadOnlyList<AgendaInputs> Inputs(DecisionTopic topic) => topic switch
    {
        DecisionTopic.PeopleAndRoute => [new("people", "People"), new("habits", "Habits"), new("stop", "Stop"), new("year", "Year of stays"), new("places", "Own places")],
        DecisionTopic.AlreadyFixed => [new("build", "Body and build"), new("roof-parts", "On the roof"), new("hidden-parts", "Steel and hidden parts")],
        DecisionTopic.AirInRain => [new("openings", "Vents and windows"), new("leakage", "Leakage")],
        DecisionTopic.CookerSteam => [new("people", "Cooking"), new("openings", "Vents and windows"), new("dryers", "Dehumidifiers")],
        DecisionTopic.AirAtBed => [new("circulation", "Circulation fans"), new("openings", "Vents and windows")],
        DecisionTopic.CabGlass => [new("glass", "Glass and metal"), new("divider", "Cab divider")],
        DecisionTopic.HeatSource => [new("heater", "Heater")],
        DecisionTopic.SteelAndWalls => [new("walls", "Walls"), new("roof", "Roof"), new("floor", "Floor"), new("hidden-parts", "Steel")],
        DecisionTopic.CupboardsAndBed => [new("bed", "Bed"), new("cupboards", "Cupboards")],
        DecisionTopic.PowerAndRoof => [new("power", "Battery and water"), new("roof-parts", "On the roof")],
        DecisionTopic.DangersAndAlarms => [new("alarms", "Alarms and ways out"), new("gas", "Gas and flames")],
        DecisionTopic.BudgetAndLooks => [new("wishes", "Wishes")],
        _ => throw new ArgumentOutOfRangeException(nameof(topic), topic, "Expected a point of the agenda."),
    };

    /// <summary>How far a point has come, in a word.</summary>
    public static string Of(DecisionState state) => state switch
    {
        DecisionState.Open => "Open",
        DecisionState.Decided => "Decided",
        DecisionState.Declined => "Declined",
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Expected open, decided or declined."),
    };

    /// <summary>The consult being held or nearest to it among those not held yet; otherwise the last one held; null without any.</summary>
    public static Consult? Current(IReadOnlyList<Consult> consults, DateTime nowUtc) =>
        consults.Where(consult => consult.HeldAt is null).MinBy(consult => (consult.StartsAt - nowUtc).Duration())
        ?? consults.MaxBy(consult => consult.StartsAt);
}
