using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Water or frost on bare metal.</summary>
internal static class MetalCondensing
{
    public static Finding? Judge(FindingContext context)
    {
        if (ColdSurfaces.Wettest(context.Assessment, SurfaceKind.Metal) is not SurfaceState wettest)
        {
            return null;
        }

        return new Finding
        {
            Code = "metal-condensing",
            Severity = ColdSurfaces.GramsPerM2(wettest) >= FindingLimits.Of("metal-film") ? Severity.Warning : Severity.Advice,
            Title = wettest.Frost ? "Frost grows on bare metal" : "Bare metal gets wet",
            Explanation = "Metal of the body that room air touches is nearly as cold as the night. Wet night after night it rusts, and drips into the insulation below it.",
            Evidence = [.. ColdSurfaces.Evidence(context.Assessment, wettest)],
            Remedy = "Cover ribs, frames and panels with closed-cell insulation stuck down without gaps, after treating rust; keep seals, drain holes and airbags free. "
                + "More outdoor air helps all of them.",
            TriedAs = "The copy covers seven tenths of the bare metal and lets in more air where that is not enough.",
            Apply = design => MoreAir.First(context with { Design = design }, Grams, enough: 1, Ways),
        };
    }

    private static double Grams(Design design, Assessment assessment) => ColdSurfaces.Grams(assessment, SurfaceKind.Metal);

    private static IEnumerable<Func<Design, Design>> Ways =>
    [
        Covered,
        .. MoreAir.All.Select(way => (Func<Design, Design>)(design => Covered(way(design)))),
    ];

    private static Design Covered(Design design) => design with
    {
        BareMetal =
        [
            .. design.BareMetal
                .Select(patch => patch with { Area = patch.Area * (1 - (FindingLimits.Of("metal-coverable") / 100)) })
                .Where(patch => DesignLimits.BareMetalArea.Contains(patch.Area.SquareMeters)),
        ],
    };
}
