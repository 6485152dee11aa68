using ConsultDesk.Calculations.Simulation;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Steel behind the lining that stays wet or damp through the year.</summary>
internal static class WetSkin
{
    public static Finding? Judge(FindingContext context)
    {
        if (context.Assessment.Year is not { Skins.IsDefaultOrEmpty: false } year)
        {
            return null;
        }

        SkinYear worst = year.Skins.OrderByDescending(skin => skin.Accumulates).ThenByDescending(skin => skin.WetHours).ThenByDescending(skin => skin.HoursAbove80).First();
        bool grave = worst.Accumulates || worst.WetHours >= FindingLimits.Of("skin-wet-hours");
        if (!grave && worst.HoursAbove80 < FindingLimits.Of("skin-damp-hours"))
        {
            return null;
        }

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
                new("Hours with water or frost on the skin", Duration.FromHours(worst.WetHours)),
                new("Hours above 80 % humidity there", Duration.FromHours(worst.HoursAbove80)),
                new("Largest amount on a square metre", worst.PeakPerSquareMetre),
                new("Longest time until it is dry again", worst.DaysToDry),
            ],
            Remedy = "Keep the room's air drier first. Then stick closed-cell insulation to the skin without gaps, or close every joint of the lining against air; leave drain holes open.",
            TriedAs = "The copy sticks closed-cell insulation to the skin.",
            Apply = VapourReachesSkin.WithClosedCells,
        };
    }
}
