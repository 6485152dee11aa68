using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Air dry enough to be felt where people sleep, and over the year where they live.</summary>
internal static class AirDry
{
    private static double FewestHours { get; } = FindingLimits.Of("dry-hours");

    private static double LowestPercent { get; } = FindingLimits.Of("dry-air");

    public static Finding? Judge(FindingContext context)
    {
        if (!context.Occupied || Numbers(context) is not { IsEmpty: false } evidence)
        {
            return null;
        }

        return new Finding
        {
            Code = "air-dry",
            Severity = Severity.Note,
            Title = "The air inside is dry",
            Explanation = "Cold outdoor air holds little water, and warming it makes it dry. Glass and steel stay dry for it, but people notice it in eyes and throat, "
                + "charges build up on fabrics, and timber shrinks and opens its joints.",
            Evidence = evidence,
            Remedy = "Leave the vents as they are: that air carries out the sleepers' breath too. Give timber room to move, touch bare metal before electronics, and drink.",
        };
    }

    private static ImmutableArray<Evidence> Numbers(FindingContext context)
    {
        Evidence limit = new("Dry below", RelativeHumidity.FromPercent(LowestPercent));
        if (context.Assessment.Year is YearAssessment year)
        {
            ImmutableArray<(Zone Zone, ZoneYear Year)> rooms = [.. context.LivedInYear(year)];
            return rooms.IsEmpty || rooms.MinBy(room => room.Year.HoursBelow30) is not { Year: { } driest } room || driest.HoursBelow30 <= FewestHours
                ? []
                : [new($"Time of dry air with people in the van, {room.Zone.Name}", Duration.FromHours(driest.HoursBelow30)), limit];
        }

        // The dampest room people sleep in: a hot corner elsewhere makes no dry night.
        return context.SleptIn.OrderByDescending(pair => pair.State.RelativeHumidity.Percent).FirstOrDefault() is { Zone: not null } bed
            && bed.State.RelativeHumidity.Percent < LowestPercent
            ? [new($"Relative humidity, {bed.Zone.Name}", bed.State.RelativeHumidity), limit]
            : [];
    }
}
