using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Lining or furniture covers a flap through which the van was built to breathe.</summary>
internal static class ReliefFlapCovered
{
    public static Finding? Judge(FindingContext context)
    {
        Opening[] covered = [.. context.Design.Openings.Where(Covered)];
        return covered.Length == 0 ? null : new Finding
        {
            Code = "relief-flap-covered",
            Severity = Severity.Advice,
            Title = "Lining covers a flap the van breathes through",
            Explanation = "The maker put it there so that pressure can leave when a door is shut and the cab's air can flow through. Behind closed lining it cannot, and damp air stands there against steel. "
                + "The leakage area is not lowered for it: how much of the body's leakage was the flap nobody has measured.",
            Evidence =
            [
                .. covered.Select(opening => new Evidence($"Free area of {opening.Name}", Openings.FullFreeArea(opening))),
                new("Leakage area of the whole body, taken as it is", context.Design.Leakage.EffectiveArea),
            ],
            Remedy = "Leave a grille or a gap of the flap's size in the lining before it, and keep furniture off it.",
            Apply = design => design with { Openings = [.. design.Openings.Select(opening => Covered(opening) ? opening with { Covered = false } : opening)] },
        };
    }

    private static bool Covered(Opening opening) =>
        opening is { Covered: true, Kind: OpeningKind.FreshAirFlap or OpeningKind.PressureReliefFlap };
}
