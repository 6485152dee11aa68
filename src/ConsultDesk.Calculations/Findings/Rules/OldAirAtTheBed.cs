using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Fresh air passes the bed by.</summary>
internal static class OldAirAtTheBed
{
    // Age at the bed over that of the living zone from which the bed counts as passed by. Our judgement.
    private static double HighestRatio { get; } = FindingLimits.Of("bed-air-age");

    public static Finding? Judge(FindingContext context)
    {
        if (!context.Occupied || Ages(context.Design, context.Assessment) is not (Duration bed, Duration living)
            || bed.Seconds < HighestRatio * living.Seconds)
        {
            return null;
        }

        return new Finding
        {
            Code = "old-air-at-the-bed",
            Severity = Severity.Advice,
            Title = "The fresh air passes the bed by",
            Explanation = "The air at the bed came in longer ago than that of the room before it: the way from inlet to outlet does not lead past the sleepers.",
            Evidence =
            [
                new("Age of the air at the bed", bed),
                new("Age of the air in the room", living),
                new("The first over the second", Ratio.FromDecimalFractions(bed.Seconds / living.Seconds)),
            ],
            Remedy = "Let air in or out at the bed: a lid over it, or the fan there and the inlet at the other end.",
            TriedAs = "The copy takes the first of these that helps.",
            Apply = design => MoreAir.First(context with { Design = design }, Badness, enough: 0, Ways),
        };
    }

    private static IEnumerable<Func<Design, Design>> Ways =>
    [
        MoreAir.Lids,
        MoveFansToBed,
        design => MoreAir.RunFan(MoreAir.Lids(MoveFansToBed(design))),
        MoreAir.AddBedLid,
        design => MoreAir.AddBedLid(MoveFansToBed(design)),
        .. MoreAir.All,
    ];

    // Nothing once the bed is no longer passed by, until then the age itself.
    private static double Badness(Design design, Assessment assessment) =>
        Ages(design, assessment) is (Duration bed, Duration living) && bed.Seconds >= HighestRatio * living.Seconds ? bed.Seconds : 0;

    private static (Duration Bed, Duration Living)? Ages(Design design, Assessment assessment)
    {
        List<Duration> beds = [.. AgesOf(design, assessment, ZoneKind.Sleeping)];
        List<Duration> rooms = [.. AgesOf(design, assessment, ZoneKind.Living)];
        return beds.Count > 0 && rooms.Count > 0 ? (beds.MaxBy(age => age.Seconds), rooms.MinBy(age => age.Seconds)) : null;
    }

    private static IEnumerable<Duration> AgesOf(Design design, Assessment assessment, ZoneKind kind) => design.Zones
        .Zip(assessment.Zones)
        .Where(pair => pair.First.Kind == kind)
        .Select(pair => pair.Second.AgeOfAir);

    private static Design MoveFansToBed(Design design)
    {
        foreach (Opening opening in design.Openings.Where(o => o.Fan is not null && o.Face == Face.Roof && !o.Facts.Fixed))
        {
            Design without = Openings.Remove(design, opening.Id);
            if (FreePlaces.First(without, opening, MoreAir.BedCentre(design)) is Opening placed)
            {
                design = Openings.Move(design, opening.Id, placed.X, placed.Y, placed.Z);
            }
        }

        return design;
    }
}
