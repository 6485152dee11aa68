using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>A running fan that has no inlet: most of its work is suction.</summary>
internal static class FanSealedIn
{
    // Share of the free-air flow below which a fan counts as sealed in. Our judgement.
    private const double LeastShare = 0.5;

    public static Finding? Judge(FindingContext context)
    {
        if (WorstFan(context.Assessment) is not FanPoint fan || FanAgainstDraught.Explains(context))
        {
            return null;
        }

        return new Finding
        {
            Code = "fan-sealed-in",
            Severity = Severity.Warning,
            Title = "The fan has sealed itself in",
            Explanation = "A fan moves only as much air as can get in elsewhere. Without an inlet it pulls on the leaks of the body, which bring "
                + "dust and fumes from wherever they are, and most of its current is wasted.",
            Evidence = Numbers(fan),
            Remedy = "Open the fan's lid fully, and a window or a low vent at the other end of the van whenever it runs.",
            TriedAs = "The copy opens or adds the first inlet that is enough.",
            Apply = design => MoreAir.First(
                context with { Design = design }, Badness, -LeastShare, [MoreAir.Lids, .. MoreAir.Inlets, .. MoreAir.All]),
        };
    }

    /// <summary>The running fan with the least share of its free-air flow, if that is too little.</summary>
    public static FanPoint? WorstFan(Assessment assessment) => assessment.Air.Fans
        .Where(point => point.ShareOfFreeAir.DecimalFractions < LeastShare)
        .MinBy(point => point.ShareOfFreeAir.DecimalFractions);

    /// <summary>The numbers that prove it.</summary>
    public static ImmutableArray<Evidence> Numbers(FanPoint fan) =>
    [
        new("Share of the fan's free-air flow", fan.ShareOfFreeAir),
        new("Flow reached", fan.Flow),
        new("Free-air flow at this speed", fan.FreeAirFlowAtSpeed),
        new("Pressure the fan works against", fan.Pressure),
    ];

    private static double Badness(Design design, Assessment assessment) =>
        assessment.Air.Fans.Select(point => -point.ShareOfFreeAir.DecimalFractions).DefaultIfEmpty(0).Max();
}
