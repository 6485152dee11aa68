using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Mould by the VTT index within a year, on the surface where it grows most.</summary>
internal static class MouldGrows
{
    /// <summary>Said wherever mould is told.</summary>
    public const string Caution = "Mould harms some people's lungs: whoever has asthma or a weak immune system keeps away from the work, and more than a small patch is for a licensed trade.";

    public static Finding? Judge(FindingContext context)
    {
        if (context.Assessment.Year is not { Mould: [MouldSurface worst, ..] mould } || worst.Index < FindingLimits.Of("mould-microscopic"))
        {
            return null;
        }

        bool seen = worst.Index >= FindingLimits.Of("mould-visible");
        return new Finding
        {
            Code = "mould-grows",
            Severity = seen ? Severity.Warning : Severity.Advice,
            Title = $"{(seen ? "Mould to be seen" : "Mould begins, too small to be seen")} within a year: {Words(worst)}",
            Explanation = "It stays damp enough and warm enough for long enough. Cold, dry or short damp does not grow mould; weeks of it do. " + Caution,
            Evidence =
            [
                .. mould.Where(surface => surface.Index >= FindingLimits.Of("mould-microscopic"))
                    .Select(surface => new Evidence($"Mould index at most in the first year, {Words(surface)}", Scalar.FromAmount(Rounded(surface.Index)))),
                new("The same in the third year, where it grows most", Scalar.FromAmount(Rounded(mould.Max(surface => surface.ThirdYear)))),
                new("Seen under a microscope from", Scalar.FromAmount(FindingLimits.Of("mould-microscopic"))),
                new("Seen by eye from", Scalar.FromAmount(FindingLimits.Of("mould-visible"))),
            ],
            Remedy = Remedy(worst.Place),
            TriedAs = "The copy takes the best of these in the year: a spacer under the mattress, sealed linings, open lids and a low vent, the fan with them.",
            Apply = design => YearTrial.First(
                context with { Design = design }, (_, tried) => tried.Mould.IsEmpty ? 0 : tried.Mould[0].Index, enough: FindingLimits.Of("mould-microscopic"), Ways),
        };
    }

    private static IEnumerable<Func<Design, Design>> Ways =>
    [
        design => Beds.With(design, BedBase.VentilatedUnderlay),
        WetSkin.Sealed,
        design => MoreAir.AddLowVent(MoreAir.Lids(design)),
        design => MoreAir.AddLowVent(MoreAir.RunFan(MoreAir.Lids(design))),
        design => MoreAir.AddLowVent(MoreAir.RunFan(MoreAir.Lids(WetSkin.Sealed(Beds.With(design, BedBase.VentilatedUnderlay))))),
    ];

    private static string Remedy(MouldPlace place) => place switch
    {
        MouldPlace.Mattress => "Let air under the mattress with slats or a spacer, lift it by day, and bring in more air by night.",
        MouldPlace.BehindLining => "Keep the room's air drier and close every joint of the lining against air; put only closed-cell insulation against the steel.",
        MouldPlace.Cupboard => "Open it to the room at the top and at the bottom, keep things off the outside wall, and bring in more air by night.",
        MouldPlace.LiningFace => "Bring in more air by night and keep the room warm evenly; keep bedding and clothes off outside walls.",
        _ => throw new ArgumentOutOfRangeException(nameof(place), place, "Expected a place of mould."),
    };

    private static string Words(MouldSurface surface) => surface.Place switch
    {
        MouldPlace.Mattress => "under the mattress",
        MouldPlace.BehindLining => $"behind the lining ({PlainName.Of(surface.Name).ToLowerInvariant()})",
        MouldPlace.Cupboard or MouldPlace.LiningFace => PlainName.Of(surface.Name).ToLowerInvariant(),
        _ => throw new ArgumentOutOfRangeException(nameof(surface), surface.Place, "Expected a place of mould."),
    };

    private static double Rounded(double index) => Math.Round(index, 1);
}
