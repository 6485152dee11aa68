using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>A lithium battery without heating that gets below freezing.</summary>
internal static class BatteryFrost
{
    public static Finding? Judge(FindingContext context)
    {
        Equipment equipment = context.Design.Equipment;
        if (equipment.Battery != BatteryKind.Lithium
            || Frost.Of(context, equipment.BatteryZoneId, context.Assessment.Year?.Extremes.BatteryFrostHours, "battery") is not { Count: > 0 } evidence)
        {
            return null;
        }

        return new Finding
        {
            Code = "battery-frost",
            Severity = Severity.Warning,
            Title = "The lithium battery gets below freezing",
            Explanation = "Charged below freezing, lithium plates out in the cells: the battery is damaged for good and can short inside. Giving current is no harm, charging is.",
            Evidence = [.. evidence],
            Remedy = "Take a battery that warms itself before it charges, or stand it in a zone that stays warm; and have an electrician make sure that nothing charges it in "
                + "frost, the alternator and the sun included.",
            TriedAs = "The copy has a battery that warms itself.",
            Apply = design => design with { Equipment = design.Equipment with { Battery = BatteryKind.HeatedLithium } },
        };
    }
}
