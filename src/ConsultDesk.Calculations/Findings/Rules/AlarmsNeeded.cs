using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Something burns in or under the van: alarms.</summary>
internal static class AlarmsNeeded
{
    public static Finding? Judge(FindingContext context)
    {
        if (context.BurningAppliances == 0)
        {
            return null;
        }

        bool gas = context.Design.Household.CookingFuel == CookingFuel.Gas
            || context.Design.Heater.Kind is HeaterKind.RoomSealedGas or HeaterKind.UnfluedGas;
        return new Finding
        {
            Code = "alarms-needed",
            Severity = Severity.Note,
            Title = "Fit alarms: something burns in this van",
            Explanation = "Carbon monoxide has no smell, and a leaking exhaust or a dirty flame makes it. No calculation replaces an alarm.",
            Evidence = [new("Appliances that burn fuel", Scalar.FromAmount(context.BurningAppliances))],
            Remedy = "Fit a carbon monoxide alarm and a smoke alarm made for vehicles, near the bed, and test them before each trip."
                + (gas ? " Fit a gas alarm low down; have the gas installation tested by a licensed gas fitter." : "")
                + " Keep a fire extinguisher by the door.",
        };
    }
}
