using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Less outdoor air by night than the sleepers need to keep glass mostly dry.</summary>
internal static class NightAirShort
{
    private const string NeedKey = "night-air-per-sleeper";

    public static Finding? Judge(FindingContext context)
    {
        VolumeFlow perSleeper = FindingContext.AirPerSleeper(context.Design, context.Assessment);
        if (!context.Occupied || perSleeper.CubicMetersPerHour >= Defaults.Likely(NeedKey))
        {
            return null;
        }

        return new Finding
        {
            Code = "night-air-short",
            Severity = perSleeper.CubicMetersPerHour < Defaults.Low(NeedKey) ? Severity.Warning : Severity.Advice,
            Title = "Too little fresh air by night",
            Explanation = "Sleepers breathe out water and carbon dioxide all night, and only outdoor air takes both away. "
                + "The need is our judgement for a heated van on a mild damp coast, with a wide band.",
            Evidence =
            [
                new("Outdoor air per sleeper", perSleeper),
                new("Likely need", VolumeFlow.FromCubicMetersPerHour(Defaults.Likely(NeedKey))),
                new("Low end of the need", VolumeFlow.FromCubicMetersPerHour(Defaults.Low(NeedKey))),
                new("High end of the need", VolumeFlow.FromCubicMetersPerHour(Defaults.High(NeedKey))),
            ],
            Remedy = "Open something low and something high: a window ajar, a low vent, the roof lid, a fan running slowly.",
            TriedAs = "The copy takes the first of these that is enough.",
            Apply = design => MoreAir.First(context with { Design = design }, Shortage, enough: 0, MoreAir.All),
        };
    }

    private static double Shortage(Design design, Assessment assessment) =>
        Defaults.Likely(NeedKey) - FindingContext.AirPerSleeper(design, assessment).CubicMetersPerHour;
}
