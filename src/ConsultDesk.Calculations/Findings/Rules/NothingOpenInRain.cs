using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Openings, but none that can stay open in rain.</summary>
internal static class NothingOpenInRain
{
    public static Finding? Judge(FindingContext context)
    {
        Design design = context.Design;
        if (design.Openings.IsEmpty || design.Openings.Any(opening => opening.Facts.UsableInRain))
        {
            return null;
        }

        return new Finding
        {
            Code = "nothing-open-in-rain",
            Severity = Severity.Warning,
            Title = "Nothing can stay open in the rain",
            Explanation = "Damp nights are wet nights: just when the van needs air most, every opening has to be shut and only the leaks are left.",
            Evidence =
            [
                new("Openings that can stay open in rain", Scalar.FromAmount(0)),
                new("Openings in all", Scalar.FromAmount(design.Openings.Length)),
                new("Air through leaks in this night", context.Assessment.Air.LeakageIn),
            ],
            Remedy = "Put a rain hood over the roof vent, or fit a low vent that rain cannot reach. Hooded and low together work best.",
            Apply = WithHood,
        };
    }

    private static Design WithHood(Design design) => design.Openings.Any(opening => opening.Kind == OpeningKind.RoofVent)
        ? design with
        {
            Openings =
            [
                .. design.Openings.Select(opening => opening.Kind == OpeningKind.RoofVent
                    ? opening with { Facts = opening.Facts with { UsableInRain = true } }
                    : opening),
            ],
        }
        : MoreAir.AddLowVent(design);
}
