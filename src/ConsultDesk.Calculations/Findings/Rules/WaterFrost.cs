using ConsultDesk.Calculations.Simulation;
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
            TriedAs = "The copy brings tank and pipes into the zone that stays warmest.",
            Apply = WarmerPlace(context) is string zoneId
                ? design => design with { Equipment = design.Equipment with { WaterZoneId = zoneId } }
                : null,
        };
    }

    // The zone that stays warmest, or null when the water is there already or nowhere is warmer.
    private static string? WarmerPlace(FindingContext context)
    {
        (string ZoneId, double LowestC)[] zones = context.Assessment.Year is YearAssessment year
            ? [.. year.Zones.Select(zone => (zone.ZoneId, zone.Coldest.DegreesCelsius))]
            : [.. context.Assessment.Zones.Select(zone => (zone.ZoneId, zone.Temperature.DegreesCelsius))];
        (string zoneId, double lowestC) = zones.MaxBy(zone => zone.LowestC);
        double now = context.Design.Equipment.WaterZoneId is string id && zones.Any(zone => zone.ZoneId == id)
            ? zones.First(zone => zone.ZoneId == id).LowestC
            : context.Assessment.Weather.Temperature.DegreesCelsius;
        return lowestC > now ? zoneId : null;
    }
}
