using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Water or frost on the glass.</summary>
internal static class GlassCondensing
{
    public static Finding? Judge(FindingContext context)
    {
        if (ColdSurfaces.Wettest(context.Assessment, SurfaceKind.Glass) is not SurfaceState wettest)
        {
            return null;
        }

        return new Finding
        {
            Code = "glass-condensing",
            Severity = ColdSurfaces.GramsPerM2(wettest) >= ColdSurfaces.RunOffGPerM2 ? Severity.Warning : Severity.Advice,
            Title = wettest.Frost ? "Frost grows on the glass" : "The glass is wet in the morning",
            Explanation = "The glass is colder than the dew point of the air before it. What runs off it wets the frames, the seals and what lies below.",
            Evidence = [.. ColdSurfaces.Evidence(context.Assessment, wettest)],
            Remedy = "First more outdoor air, then covers outside the glass, which keep it warm; wipe what is left.",
            TriedAs = "The copy takes the first that keeps it dry, or both.",
            Apply = design => MoreAir.First(context with { Design = design }, Grams, enough: 1, Ways),
        };
    }

    private static double Grams(Design design, Assessment assessment) => ColdSurfaces.Grams(assessment, SurfaceKind.Glass);

    private static IEnumerable<Func<Design, Design>> Ways =>
    [
        .. MoreAir.All,
        GlassCovers.AllOutside,
        .. MoreAir.All.Select(way => (Func<Design, Design>)(design => GlassCovers.AllOutside(way(design)))),
    ];
}
