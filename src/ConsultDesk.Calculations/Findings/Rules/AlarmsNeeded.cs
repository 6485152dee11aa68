using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Alarms and an extinguisher that are not there.</summary>
internal static class AlarmsNeeded
{
    public static Finding? Judge(FindingContext context)
    {
        ImmutableArray<string> missing = [.. Missing(context.Design, context.BurningAppliances, context.Occupied)];
        if (missing.IsEmpty)
        {
            return null;
        }

        return new Finding
        {
            Code = "alarms-needed",
            Severity = Severity.Warning,
            Title = $"Not fitted: {string.Join(", ", missing)}",
            Explanation = "Carbon monoxide has no smell, and a leaking exhaust or a dirty flame makes it. Smoke and gas do not wake a sleeper. "
                + "No calculation replaces an alarm.",
            Evidence =
            [
                new("Alarms and extinguishers missing", Scalar.FromAmount(missing.Length)),
                new("Appliances that burn fuel", Scalar.FromAmount(context.BurningAppliances)),
            ],
            Remedy = "Fit alarms made for vehicles, near the bed and, for gas, low down; test them before each trip and replace them by their date. "
                + "Keep an extinguisher in reach of the bed or the door."
                + (BurnsGas(context.Design) ? " Have the gas installation tested by a licensed gas fitter." : ""),
            TriedAs = "The copy has all of them.",
            Apply = design => design with
            {
                Equipment = design.Equipment with
                {
                    CarbonMonoxideAlarm = design.Equipment.CarbonMonoxideAlarm ?? PartState.Proposed,
                    SmokeAlarm = design.Equipment.SmokeAlarm ?? PartState.Proposed,
                    LowGasAlarm = design.Equipment.LowGasAlarm ?? PartState.Proposed,
                    Extinguisher = design.Equipment.Extinguisher ?? PartState.Proposed,
                },
            },
        };
    }

    private static IEnumerable<string> Missing(Design design, int burning, bool occupied)
    {
        Equipment equipment = design.Equipment;
        if (burning > 0 && equipment.CarbonMonoxideAlarm is null)
        {
            yield return "carbon monoxide alarm";
        }

        if ((burning > 0 || occupied) && equipment.SmokeAlarm is null)
        {
            yield return "smoke alarm";
        }

        if (BurnsGas(design) && equipment.LowGasAlarm is null)
        {
            yield return "low gas alarm";
        }

        if ((burning > 0 || occupied) && equipment.Extinguisher is null)
        {
            yield return "fire extinguisher";
        }
    }

    private static bool BurnsGas(Design design) => design.Equipment.GasBottles
        || design.Household.CookingFuel == CookingFuel.Gas
        || design.Heater.Kind is HeaterKind.RoomSealedGas or HeaterKind.UnfluedGas;
}
