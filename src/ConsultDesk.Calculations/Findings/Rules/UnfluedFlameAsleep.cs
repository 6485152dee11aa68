using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>An unflued heater that burns cabin air while people sleep.</summary>
internal static class UnfluedFlameAsleep
{
    public static Finding? Judge(FindingContext context)
    {
        if (context.Design.Heater.Kind != HeaterKind.UnfluedGas || !context.Occupied)
        {
            return null;
        }

        return new Finding
        {
            Code = "unflued-flame-asleep",
            Severity = Severity.Danger,
            Title = "An unflued flame burns while people sleep",
            Explanation = "It takes oxygen from the cabin and leaves carbon dioxide and water there. How much carbon monoxide it makes cannot be "
                + "calculated; that kills without warning. " + UnfluedGases.CutOffIsNoControl,
            Evidence = Numbers(context),
            Remedy = "Never sleep with it lit. Fit a room-sealed heater, which takes its air from outside and gives its gases back there, and carbon "
                + "monoxide and smoke alarms. A licensed gas fitter and the local code decide what may stay.",
            TriedAs = "The copy has a room-sealed heater of the same output instead, with alarms.",
            Apply = RoomSealedHeater.Fitted,
        };
    }

    private static ImmutableArray<Evidence> Numbers(FindingContext context) =>
    [
        .. context.Assessment.Combustion is Simulation.Combustion gases
            ?
            [
                new("Carbon dioxide reached", gases.CarbonDioxide),
                new("Oxygen left", gases.Oxygen),
                new("Water the flame adds", gases.Water),
            ]
            : ImmutableArray.Create(new Evidence("Rated output of the flame", context.Design.Heater.RatedOutput)),
        UnfluedGases.AtCutOff,
    ];
}
