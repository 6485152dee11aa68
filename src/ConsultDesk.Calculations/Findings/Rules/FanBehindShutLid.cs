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
            TriedAs = "The copy opens the lid, with an inlet where the fan needs one, or switches the fan off where neither will do.",
            Apply = design => MoreAir.First(
                context with { Design = design }, (changed, _) => changed.Openings.Count(Blocked), enough: 0, Ways),
        };
    }

    private static IEnumerable<Func<Design, Design>> Ways =>
    [
        Open,
        design => Open(MoreAir.Windows(design, Position.Half)),
        design => Open(MoreAir.AddLowVent(design)),
        Off,
    ];

    private static Design Open(Design design) => Changed(design, opening => opening with { Position = Position.Full });

    private static Design Off(Design design) => Changed(design, opening => opening with { Fan = opening.Fan! with { Speed = 0 } });

    private static Design Changed(Design design, Func<Opening, Opening> change) =>
        design with { Openings = [.. design.Openings.Select(opening => Blocked(opening) ? change(opening) : opening)] };

    private static bool Blocked(Opening opening) => opening.Fan is Fan { Speed: > 0 } && opening.Position == Position.Shut;
}
