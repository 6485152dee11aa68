using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Tank or pipes that freeze.</summary>
internal static class WaterFrost
{
    public static Finding? Judge(FindingContext context)
    {
        Equipment equipment = context.Design.Equipment;
        if (!equipment.WaterCarried
            || Frost.Of(context, equipment.WaterZoneId, context.Assessment.Year?.Extremes.WaterFrostHours, "water") is not { Count: > 0 } evidence)
        {
            return null;
        }

        return new Finding
        {
            Code = "water-frost",
            Severity = Severity.Warning,
            Title = "The water freezes",
            Explanation = "Ice bursts taps, pumps and joints, and the leak shows only when it thaws, behind the lining.",
            Evidence = [.. evidence],
            Remedy = "Bring tank and pipes into the warm zone with air around them, or drain them before the frost, pump and taps open.",
            TriedAs = "The copy brings tank and pipes into the heated zone.",
            Apply = design => design with { Equipment = design.Equipment with { WaterZoneId = design.Heater.ZoneId } },
        };
    }
}
