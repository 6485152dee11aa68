using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>A bed with one way out.</summary>
internal static class OneWayOut
{
    public static Finding? Judge(FindingContext context)
    {
        double needed = FindingLimits.Of("ways-out");
        return !context.Occupied || context.Design.Equipment.WaysOutOfBed >= needed ? null : new Finding
        {
            Code = "one-way-out",
            Severity = Severity.Warning,
            Title = "The bed has one way out",
            Explanation = "A fire between the bed and the door leaves no other way. Cooker, heater and battery usually stand just there.",
            Evidence =
            [
                new("Ways out of the bed", Scalar.FromAmount(context.Design.Equipment.WaysOutOfBed)),
                new("Ways out it should have", Scalar.FromAmount(needed)),
            ],
            Remedy = "Make rear doors that open from the bed, or a window or roof lid wide enough to climb through, open from inside in the dark, and try it once at night. "
                + "The local code says how wide.",
            TriedAs = "The copy has a second way out.",
            Apply = design => design with { Equipment = design.Equipment with { WaysOutOfBed = (int)needed } },
        };
    }
}
