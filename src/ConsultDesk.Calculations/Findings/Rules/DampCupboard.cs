using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>A cupboard or the space under the bed that stays damp.</summary>
internal static class DampCupboard
{
    public static Finding? Judge(FindingContext context)
    {
        if (context.Assessment.Year is not YearAssessment year)
        {
            return null;
        }

        (Zone Zone, ZoneYear Year) worst = context.Design.Zones.Zip(year.Zones)
            .Where(pair => pair.First.Kind is ZoneKind.Cupboard or ZoneKind.UnderBed)
            .MaxBy(pair => pair.Second.HoursAbove80);
        if (worst.Zone is null || worst.Year.HoursAbove80 < FindingLimits.Of("cupboard-damp-hours"))
        {
            return null;
        }

        bool closed = worst.Zone.Cupboard is { Air: CupboardAir.Closed };
        return new Finding
        {
            Code = "damp-cupboard",
            Severity = Severity.Advice,
            Title = $"Stays damp: {PlainName.Of(worst.Zone.Name)}",
            Explanation = "It lies at the cold skin, and the room's warmth does not reach it while the room's water does. Clothes and food there smell and mould.",
            Evidence =
            [
                new($"Time above 80 % humidity, {worst.Zone.Name}", Duration.FromHours(worst.Year.HoursAbove80)),
                new("Coldest hour there", worst.Year.Coldest),
            ],
            Remedy = "Open it to the room at the top and at the bottom, keep things off the outside wall, and bring the room's air down first.",
            TriedAs = closed ? "The copy opens it at the top and at the bottom." : "",
            Apply = closed ? design => YearTrial.First(
                context with { Design = design }, (changed, tried) => Hours(changed, tried, worst.Zone.Id), FindingLimits.Of("cupboard-damp-hours") - 1,
                [changed => Cupboards.SetAir(changed, worst.Zone.Id, CupboardAir.OpenTopAndBottom)]) : null,
        };
    }

    private static double Hours(Design design, YearAssessment year, string zoneId) => design.Zones.Zip(year.Zones)
        .Where(pair => pair.First.Id == zoneId)
        .Max(pair => pair.Second.HoursAbove80);
}
