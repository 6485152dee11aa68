using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>A fan that can pull the gases of a flue that takes cabin air back into the cabin.</summary>
internal static class SuctionOnFlue
{
    private const string LimitKey = "suction-with-open-flue";

    public static Finding? Judge(FindingContext context)
    {
        if (!HeaterKinds.HasOpenFlue(context.Design) || Strongest(context) is not { } worst || worst.Suction.Pascals <= FindingLimits.Of(LimitKey))
        {
            return null;
        }

        return new Finding
        {
            Code = "suction-on-flue",
            Severity = Severity.Danger,
            Title = "A fan can pull the stove's gases back into the cabin",
            Explanation = "The stove's flue draws by the warmth in it, and that is a weak draught. A fan that finds too little air elsewhere pulls harder "
                + "and turns it round, and carbon monoxide comes in without smell or warning. One setting that does this is enough, whatever is set tonight.",
            Evidence =
            [
                new($"Strongest suction of all settings: {worst.Names}, everything else shut", worst.Suction),
                new("Suction taken to leave the flue alone", Pressure.FromPascals(FindingLimits.Of(LimitKey))),
                new("Leakage area it was tried with, the low end of the band unless it was measured", Tightest(context.Design).Leakage.EffectiveArea),
            ],
            Remedy = "Take the stove out, or have a licensed installer give it its own sealed air from outside and a switch that stops every fan while it burns. "
                + "Never run a fan while it is lit. Fit carbon monoxide and smoke alarms; the local code decides.",
            TriedAs = context.Design.Heater.Kind == HeaterKind.WoodStove
                ? "The copy has a room-sealed heater of the same output instead, with alarms."
                : "The copy takes the stove out.",
            Apply = WithoutStove,
        };
    }

    private static Design WithoutStove(Design design)
    {
        Design heated = design.Heater.Kind == HeaterKind.WoodStove ? RoomSealedHeater.Fitted(design) : design;
        return heated with { Equipment = heated.Equipment with { WoodStove = false } };
    }

    /// <summary>
    /// The strongest suction of all settings a person can choose: each fan alone and all together, blowing out at full
    /// speed behind a full lid, with everything else shut that can be. Null without a fan.
    /// </summary>
    private static (Pressure Suction, string Names)? Strongest(FindingContext context)
    {
        ImmutableArray<Opening> fans = [.. context.Design.Openings.Where(opening => opening.Fan is not null)];
        IEnumerable<ImmutableArray<Opening>> settings = fans.Length > 1
            ? [.. fans.Select(fan => ImmutableArray.Create(fan)), fans]
            : fans.Select(fan => ImmutableArray.Create(fan));
        return settings
            .Select(running => (
                context.Reassess(Running(Tightest(context.Design), running)).Air.Suction,
                string.Join(" and ", running.Select(fan => fan.Name)) + " at full speed"))
            .OrderByDescending(setting => setting.Suction.Pascals)
            .Select(setting => ((Pressure, string)?)setting)
            .FirstOrDefault();
    }

    // The tighter the body, the harder a fan pulls: nobody must find out with the stove lit that it is tighter than likely.
    private static Design Tightest(Design design) => HeadlineBands.Leakage(design, BandEnd.Low).Design;

    private static Design Running(Design design, ImmutableArray<Opening> running) => design with
    {
        Openings =
        [
            .. design.Openings.Select(opening => running.Any(fan => fan.Id == opening.Id)
                ? opening with { Position = Position.Full, Fan = opening.Fan! with { Speed = 1, Direction = FanDirection.Exhaust } }
                : opening.Facts.Fixed ? opening : opening with { Position = Position.Shut }),
        ],
    };
}
