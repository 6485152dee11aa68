using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>A fan set to run behind a lid that is shut.</summary>
internal static class FanBehindShutLid
{
    public static Finding? Judge(FindingContext context)
    {
        if (context.Design.Openings.FirstOrDefault(Blocked) is not Opening opening)
        {
            return null;
        }

        return new Finding
        {
            Code = "fan-behind-shut-lid",
            Severity = Severity.Advice,
            Title = "A fan is set to run behind a shut lid",
            Explanation = "No air passes, so the fan only heats its motor.",
            Evidence =
            [
                new("Speed set", Ratio.FromDecimalFractions(opening.Fan!.Speed)),
                new("Flow reached", VolumeFlow.Zero),
            ],
            Remedy = "Open the lid, or switch the fan off.",
            Apply = design => design with { Openings = [.. design.Openings.Select(o => Blocked(o) ? o with { Position = Position.Full } : o)] },
        };
    }

    private static bool Blocked(Opening opening) => opening.Fan is Fan { Speed: > 0 } && opening.Position == Position.Shut;
}
