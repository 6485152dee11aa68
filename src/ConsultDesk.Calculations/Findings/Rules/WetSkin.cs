using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Steel behind the lining that stays wet or damp through the year.</summary>
internal static class WetSkin
{
    public static Finding? Judge(FindingContext context)
    {
        if (context.Assessment.Year is not YearAssessment year || Worst(year) is not { } found)
        {
            return null;
        }

        (SkinYear worst, bool grave) = found;
        string part = worst.Part.ToLowerInvariant();
        return new Finding
        {
            Code = "wet-skin",
            Severity = grave ? Severity.Warning : Severity.Advice,
            Title = worst.Accumulates ? $"Water gathers behind the lining from year to year: {part}"
                : grave ? $"The skin behind the lining is wet for long: {part}"
                : $"The skin behind the lining is damp for long: {part}",
            Explanation = "Room air gets behind the lining through joints and gaps and meets the cold skin. What stays wet there rusts, and grows mould on whatever can feed it. "
                + "A lining that breathes helps only while the room's air is drier than the skin.",
            Evidence =
            [
                new("Time above 80 % humidity at the skin", Duration.FromHours(worst.HoursAbove80)),
                new("Time with water or frost there", Duration.FromHours(worst.WetHours)),
                new("Largest amount on a square metre", worst.PeakPerSquareMetre),
                new("Longest time until it is dry again", worst.DaysToDry),
            ],
            Remedy = "Keep the room's air drier, and close every joint of the lining against air: edges, clips, cables. Then stick closed-cell insulation to the skin without gaps; "
                + "leave drain holes open.",
            TriedAs = "The copy takes the best of these in the year: a sealed lining, closed-cell insulation with it, more air by night as well.",
            Apply = design => YearTrial.First(
                context with { Design = design }, (_, tried) => Worst(tried) is { } left ? left.Skin.HoursAbove80 : 0, enough: 0, Ways),
        };
    }

    private static IEnumerable<Func<Design, Design>> Ways =>
    [
        Sealed,
        design => VapourReachesSkin.WithClosedCells(Sealed(design)),
        design => MoreAir.AddLowVent(MoreAir.Lids(Sealed(design))),
        design => MoreAir.AddLowVent(MoreAir.RunFan(MoreAir.Lids(Sealed(design)))),
    ];

    internal static Design Sealed(Design design) => design with
    {
        Walls = design.Walls with { Gaps = LiningGaps.Sealed },
        Roof = design.Roof with { Gaps = LiningGaps.Sealed },
        Floor = design.Floor with { Gaps = LiningGaps.Sealed },
    };

    // The worst skin that is worth telling, and whether it is a warning.
    private static (SkinYear Skin, bool Grave)? Worst(YearAssessment year) => year.Skins
        .Select(skin => ((SkinYear Skin, bool Grave)?)(skin, skin.Accumulates || skin.WetHours >= FindingLimits.Of("skin-wet-hours")))
        .Where(pair => pair!.Value.Grave || pair.Value.Skin.HoursAbove80 >= FindingLimits.Of("skin-damp-hours"))
        .OrderByDescending(pair => pair!.Value.Skin.HoursAbove80)
        .FirstOrDefault();
}
