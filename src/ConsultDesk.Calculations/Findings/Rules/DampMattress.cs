using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>A mattress underside that stays damp.</summary>
internal static class DampMattress
{
    public static Finding? Judge(FindingContext context)
    {
        if (context.Assessment.Year?.Mattress is not MattressYear mattress || !context.Occupied || mattress.HoursAbove80 < FindingLimits.Of("mattress-damp-hours"))
        {
            return null;
        }

        BedBase? better = context.Design.BedBase switch
        {
            BedBase.Solid => BedBase.Slatted,
            BedBase.Slatted => BedBase.VentilatedUnderlay,
            _ => null,
        };
        return new Finding
        {
            Code = "damp-mattress",
            Severity = mattress.WetHours >= FindingLimits.Of("mattress-wet-hours") ? Severity.Warning : Severity.Advice,
            Title = "The underside of the mattress stays damp",
            Explanation = "Sleepers give water into the mattress, and its underside is the coldest part of the bed. Damp for weeks it grows mould, which is bad for people's lungs.",
            Evidence =
            [
                new("Time above 80 % humidity under the mattress", Duration.FromHours(mattress.HoursAbove80)),
                new("Time with water there", Duration.FromHours(mattress.WetHours)),
                new("Largest amount on a square metre", mattress.PeakPerSquareMetre),
            ],
            Remedy = (better is null ? "" : "Let air under the mattress: slats instead of a board, a spacer mat on both. ")
                + "Warm the space under the bed and open it to the room, lift the mattress by day, and bring in more air by night.",
            TriedAs = better is BedBase.Slatted ? "The copy has slats, or a spacer mat where they are not enough in the year." : better is null ? "" : "The copy has a spacer mat under the mattress.",
            Apply = better is BedBase next
                ? design => YearTrial.First(
                    context with { Design = design },
                    (_, tried) => tried.Mattress?.HoursAbove80 ?? 0,
                    FindingLimits.Of("mattress-damp-hours") - 1,
                    [changed => changed with { BedBase = next }, changed => changed with { BedBase = BedBase.VentilatedUnderlay }])
                : null,
        };
    }
}
