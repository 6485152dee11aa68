using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>A fan that blows in where warmth and wind draw air out: turned round it would do its work.</summary>
internal static class FanAgainstDraught
{
    public static Finding? Judge(FindingContext context)
    {
        if (FanSealedIn.WorstFan(context.Assessment) is not FanPoint fan || !Explains(context))
        {
            return null;
        }

        return new Finding
        {
            Code = "fan-against-draught",
            Severity = Severity.Advice,
            Title = "The fan works against the draught",
            Explanation = "Warm air rises out of the roof and wind draws there as well. A slow fan that blows in spends its work on holding that back.",
            Evidence = FanSealedIn.Numbers(fan),
            Remedy = "Let it blow out, or run it faster. Blowing in from the roof suits hot days.",
            Apply = Reversed,
        };
    }

    /// <summary>True when the fan blows in and the same fan blowing out would not be held up.</summary>
    public static bool Explains(FindingContext context) =>
        FanSealedIn.WorstFan(context.Assessment) is FanPoint worst
        && Openings.Find(context.Design, worst.OpeningId)?.Fan?.Direction == FanDirection.Intake
        && FanSealedIn.WorstFan(context.Reassess(Reversed(context.Design))) is null;

    private static Design Reversed(Design design) => design with
    {
        Openings =
        [
            .. design.Openings.Select(opening => opening.Fan is Fan { Direction: FanDirection.Intake } fan
                ? opening with { Fan = fan with { Direction = FanDirection.Exhaust } }
                : opening),
        ],
    };
}
