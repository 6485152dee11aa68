using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Air so damp that cool corners grow mould.</summary>
internal static class AirDamp
{
    // Room air above this share brings surfaces a few kelvin colder to the 80 % at which mould can grow (ISO 13788, recalled). Our judgement.
    private const double HighestPercent = 70;

    public static Finding? Judge(FindingContext context)
    {
        if (!context.Occupied || context.LivedIn.OrderByDescending(pair => pair.State.RelativeHumidity.Percent).FirstOrDefault() is not { Zone: not null } dampest
            || dampest.State.RelativeHumidity.Percent <= HighestPercent)
        {
            return null;
        }

        return new Finding
        {
            Code = "air-damp",
            Severity = Severity.Warning,
            Title = "The air is damp enough for mould in cool corners",
            Explanation = "Corners, the mattress underside and cupboards at outside walls are cooler than the air, so the air there is damper still. Night after night that grows mould, which is bad for people's lungs.",
            Evidence =
            [
                new($"Relative humidity, {dampest.Zone.Name}", dampest.State.RelativeHumidity),
                new($"Air temperature, {dampest.Zone.Name}", dampest.State.Temperature),
                new("Highest that keeps cool corners dry", RelativeHumidity.FromPercent(HighestPercent)),
            ],
            Remedy = "Let in more outdoor air, and heat: cold outdoor air warmed up is dry air. Applying it opens or adds the first way for air that is enough.",
            Apply = design => MoreAir.First(context with { Design = design }, Highest, HighestPercent, MoreAir.All),
        };
    }

    private static double Highest(Design design, Assessment assessment) => design.Zones.Zip(assessment.Zones)
        .Where(pair => pair.First.Kind is ZoneKind.Living or ZoneKind.Sleeping)
        .Max(pair => pair.Second.RelativeHumidity.Percent);
}
