using System.Collections.Immutable;

namespace ConsultDesk.Reports.Plans;

/// <summary>The words of the trade a client meets in a plan, in plain language.</summary>
internal static class Glossary
{
    private static readonly ImmutableArray<(string Word, string Meaning, string Sign)> All =
    [
        ("Air changes", "How many times an hour the air of the van is replaced by outdoor air.", "times an hour"),
        ("Ajar", "Open by a finger’s width, about a tenth of the way.", "jar"),
        ("Carbon dioxide", "What people breathe out; the more of it, the staler the air. A measure of ventilation, and no poison at these amounts.", "arbon dioxide"),
        ("Carbon monoxide", "A gas without smell that flames make when they lack air. It kills sleepers; only an alarm notices it.", "arbon monoxide"),
        ("Condensation", "Water that leaves the air where a surface is colder than the dew point.", "onden"),
        ("Dew point", "The temperature at which air can hold no more of its water. Below freezing it is called the frost point.", "ew point"),
        ("Discharge coefficient", "How much air a hole really passes, compared with its area.", "ischarge coefficient"),
        ("Free area", "The part of an opening that air can really pass, screen and frame taken off.", "ree area"),
        ("Mean age of air", "How long the air at a place has been in the van, on average. Old air is stale and damp.", "age of the air"),
        ("Mould index", "A scale of 0 to 6 for how far mould has grown; from 1 under the microscope, from 3 to the eye.", "ould index"),
        ("Relative humidity", "How much of the water it could hold at its temperature the air holds. Warming air lowers it without taking water out.", "elative humidity"),
        ("Room-sealed (sealed combustion)", "A heater that takes its air from outside and sends its gases outside. It adds no water to the room and removes none.", "oom-sealed"),
        ("Suction", "By how much the pressure inside lies below the outdoor pressure, in pascals. A fan against a shut van makes suction and little flow.", "elow the outdoor air"),
        ("Unflued (unvented)", "A flame whose gases stay in the room: its water, carbon dioxide and, when it burns badly, carbon monoxide.", "nflued"),
        ("U-value", "Heat that passes a square metre for each degree of difference. Lower is better insulated.", "U-value"),
        ("Vapour control layer (vapour barrier)", "A layer on the warm side that keeps the water of the room air out of the wall. It works only without gaps.", "apour"),
        ("Wet morning", "A morning at seven on which glass or bare metal holds 5 grams of water on a square metre or more; our own definition.", "et morning"),
        ("Zone", "A part of the van whose air is taken as mixed: cab, living room, bed, cupboard.", "one"),
    ];

    /// <summary>The words that the sections use, in the order of the alphabet.</summary>
    public static PairsBlock Of(string text) => new([.. All.Where(entry => text.Contains(entry.Sign, StringComparison.Ordinal)).Select(entry => new PlanNumber(entry.Word, entry.Meaning))]);
}
