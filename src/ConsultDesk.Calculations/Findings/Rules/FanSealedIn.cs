using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>A running fan that has no inlet: most of its work is suction.</summary>
internal static class FanSealedIn
{
    private const double SlowestSpeed = 0.05;
    private const int SpeedSteps = 19;

    private static double LeastShare { get; } = FindingLimits.Of("fan-share");

    public static Finding? Judge(FindingContext context)
    {
        if (WorstFan(context.Assessment) is not FanPoint fan || FanAgainstDraught.Explains(context))
        {
            return null;
        }

        // In the cold an inlet alone would only bring still more air that has to be heated.
        bool plenty = MoreAir.Plenty(context.Design, context.Assessment);
        return new Finding
        {
            Code = "fan-sealed-in",
            Severity = plenty ? Severity.Advice : Severity.Warning,
            Title = "The fan has sealed itself in",
            Explanation = "A fan moves only as much air as can get in elsewhere. Without an inlet it pulls on the leaks of the body, which bring "
                + "dust and fumes from wherever they are, and most of its current is wasted."
                + (plenty ? " The sleepers get far more air than they need all the same." : ""),
            Evidence =
            [
                .. Numbers(fan),
                .. plenty ? [new("Outdoor air per sleeper", FindingContext.AirPerSleeper(context.Design, context.Assessment))] : Array.Empty<Evidence>(),
            ],
            Remedy = plenty
                ? "Run the fan slower, and with a small opening at the other end of the van instead of the leaks: less noise, current and heat for the same night."
                : "Open the fan's lid fully, and a window or a low vent at the other end of the van whenever it runs.",
            TriedAs = plenty ? "The copy takes the slowest fan with the smallest inlet that still brings the need." : "The copy opens or adds the first inlet that is enough.",
            Apply = plenty
                ? design => Slower(context with { Design = design })
                : design => MoreAir.First(
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

    // Each inlet with the slowest fan that still brings the need; the first that leaves the fan its air.
    private static Design Slower(FindingContext context) => MoreAir.First(
        context, Badness, -LeastShare,
        [
            .. MoreAir.Inlets.Select(inlet => (Func<Design, Design>)(design => Slowest(context, MoreAir.Lids(inlet(design))))),
            .. MoreAir.Inlets.Select(inlet => (Func<Design, Design>)(design => MoreAir.Lids(inlet(design)))),
        ]);

    private static Design Slowest(FindingContext context, Design design)
    {
        double needM3PerH = Defaults.Likely("night-air-per-sleeper");
        int low = 0;
        int high = SpeedSteps;
        while (low < high)
        {
            int middle = (low + high) / 2;
            Design tried = AtMost(design, SlowestSpeed * (middle + 1));
            if (DesignCheck.Errors(tried).IsEmpty && FindingContext.AirPerSleeper(tried, context.Reassess(tried)).CubicMetersPerHour >= needM3PerH)
            {
                high = middle;
            }
            else
            {
                low = middle + 1;
            }
        }

        return AtMost(design, SlowestSpeed * (low + 1));
    }

    private static Design AtMost(Design design, double speed) => design with
    {
        Openings = [.. design.Openings.Select(o => o.Fan is Fan fan && fan.Speed > speed ? o with { Fan = fan with { Speed = Math.Round(speed, 2) } } : o)],
    };
}
