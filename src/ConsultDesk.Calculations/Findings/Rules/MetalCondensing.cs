using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;

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
            Severity = Severity.Warning,
            Title = wettest.Frost ? "Frost grows on bare metal" : "Bare metal gets wet",
            Explanation = "Metal of the body that room air touches is nearly as cold as the night. Wet night after night it rusts, and drips into the insulation below it.",
            Evidence = [.. ColdSurfaces.Evidence(context.Assessment, wettest)],
            Remedy = "Cover every rib, frame and panel with closed-cell insulation stuck down without gaps, after treating rust; keep drain holes and airbags free. More outdoor air helps all of them.",
            Apply = design => design with { BareMetal = ImmutableArray<Vehicle.MetalPatch>.Empty },
        };
    }
}
