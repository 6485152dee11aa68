using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>A gas locker so near an opening or the heater's exhaust that leaking gas gets in or is lit.</summary>
internal static class GasLockerBesideOpening
{
    private const string LimitKey = "locker-to-opening";

    public static Finding? Judge(FindingContext context)
    {
        Design design = context.Design;
        if (!design.Equipment.GasBottles || design.Equipment.GasLocker is not BodyPoint locker)
        {
            return null;
        }

        Length least = Length.FromMeters(FindingLimits.Of(LimitKey));
        ImmutableArray<(string What, Length Distance)> near =
        [
            .. Sources(design, locker).Where(source => source.Distance < least).OrderBy(source => source.Distance),
        ];
        return near.IsEmpty ? null : new Finding
        {
            Code = "gas-locker-beside-opening",
            Severity = Severity.Warning,
            Title = $"The gas locker stands beside what lets gas in or lights it: {PlainName.Of(near[0].What)}",
            Explanation = "Gas that leaks in the locker leaves through its drain, runs along the body and sinks. An opening beside it takes it in, and an exhaust or its flame can light it.",
            Evidence =
            [
                .. near.Select(source => new Evidence($"From the gas locker to {source.What}", source.Distance)),
                new("Least distance (our judgement)", least),
            ],
            Remedy = "Have a licensed gas fitter place the locker and its drain away from openings and from exhausts, by the local code, or move what stands beside it. "
                + "Fit a gas alarm low down.",
        };
    }

    // What lies higher than the locker by more than the distance is left out by the straight line itself.
    private static IEnumerable<(string What, Length Distance)> Sources(Design design, BodyPoint locker)
    {
        foreach (Opening opening in design.Openings.Where(opening => !opening.Covered))
        {
            yield return (opening.Name, Exhaust.DistanceTo(design.Body, locker, opening));
        }

        if (Exhaust.Of(design) is BodyPoint exhaust)
        {
            yield return ("the heater's exhaust", Exhaust.Between(design.Body, locker, exhaust));
        }
    }
}
