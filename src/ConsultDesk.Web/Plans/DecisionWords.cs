using ConsultDesk.Records;

namespace ConsultDesk.Web.Plans;

/// <summary>Points of the agenda in the words of screen and plan.</summary>
public static class DecisionWords
{
    /// <summary>A point.</summary>
    public static string Of(DecisionTopic topic) => topic switch
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
        DecisionTopic.DangersAndAlarms => "Gas, alarms, fire, ways out",
        DecisionTopic.BudgetAndLooks => "Budget and looks",
        _ => throw new ArgumentOutOfRangeException(nameof(topic), topic, "Expected a point of the agenda."),
    };
}
