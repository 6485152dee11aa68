using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Stale air where people sleep.</summary>
internal static class CarbonDioxideHigh
{
    // A marker of stale air, not a limit (common practice, no source).
    private static double StalePpm { get; } = FindingLimits.Of("carbon-dioxide-stale");

    // OSHA's limit for an eight-hour shift.
    private static double ShiftLimitPpm { get; } = FindingLimits.Of("carbon-dioxide-shift");

    public static Finding? Judge(FindingContext context)
    {
        double ppm = Highest(context.Design, context.Assessment);
        if (!context.Occupied || ppm <= StalePpm)
        {
            return null;
        }

        return new Finding
        {
            Code = "carbon-dioxide-high",
            Severity = ppm > ShiftLimitPpm ? Severity.Warning : Severity.Advice,
            Title = "Carbon dioxide gets high where people sleep",
            Explanation = "It shows how little of the air is fresh: heavy heads in the morning and water on the glass come with it. "
                + "It says nothing about carbon monoxide, which only an alarm notices.",
            Evidence =
            [
                new("Carbon dioxide where it is highest", VolumeConcentration.FromPartsPerMillion(ppm)),
                .. context.LivedIn.OrderByDescending(pair => pair.State.CarbonDioxide.PartsPerMillion)
                    .Select(pair => new Evidence($"Carbon dioxide, {pair.Zone.Name}", pair.State.CarbonDioxide)),
                new("Marker of stale air (common practice)", VolumeConcentration.FromPartsPerMillion(StalePpm)),
                new("Limit of OSHA for eight hours of work", VolumeConcentration.FromPartsPerMillion(ShiftLimitPpm)),
            ],
            Remedy = "Let in more outdoor air near the bed.",
            TriedAs = "The copy opens or adds the first way for air that is enough.",
            Apply = design => MoreAir.First(context with { Design = design }, Highest, StalePpm, MoreAir.All),
        };
    }

    private static double Highest(Design design, Assessment assessment) => design.Zones.Zip(assessment.Zones)
        .Where(pair => pair.First.Kind is ZoneKind.Living or ZoneKind.Sleeping)
        .Select(pair => pair.Second.CarbonDioxide.PartsPerMillion)
        .DefaultIfEmpty(assessment.Zones.Max(zone => zone.CarbonDioxide.PartsPerMillion))
        .Max();
}
