using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>A flame that burns cabin air while people sleep.</summary>
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
                + "calculated; that kills without warning. A device that shuts the flame off when oxygen falls is no control of the ventilation: "
                + "carbon dioxide is far too high long before.",
            Evidence = context.Assessment.Combustion is Simulation.Combustion gases
                ?
                [
                    new("Carbon dioxide reached", gases.CarbonDioxide),
                    new("Oxygen left", gases.Oxygen),
                    new("Water the flame adds", gases.Water),
                ]
                : [new("Rated output of the flame", context.Design.Heater.RatedOutput)],
            Remedy = "Never sleep with it lit. Fit a room-sealed heater, which takes its air from outside and gives its gases back there, and carbon "
                + "monoxide and smoke alarms. A licensed gas fitter and the local code decide what may stay.",
            Apply = design => design with { Heater = design.Heater with { Kind = HeaterKind.RoomSealedLiquidFuel } },
        };
    }
}
