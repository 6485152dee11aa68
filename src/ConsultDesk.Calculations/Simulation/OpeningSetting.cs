using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>How an opening is set.</summary>
/// <param name="Position">How far it stands open.</param>
/// <param name="FanSpeed">Speed of its fan over full speed; 0 when off, without a fan, or shut.</param>
internal readonly record struct OpeningSetting(Position Position, double FanSpeed)
{
    /// <summary>Shut, its fan off.</summary>
    public static readonly OpeningSetting Shut = new(Position.Shut, 0);

    /// <summary>As the design has it. A fan behind a shut lid counts as off.</summary>
    public static OpeningSetting Of(Opening opening) => opening.Position == Position.Shut
        ? Shut
        : new(opening.Position, opening.Fan?.Speed ?? 0);

    /// <summary>All openings as the design has them.</summary>
    public static ImmutableArray<OpeningSetting> Of(Design design) => [.. design.Openings.Select(Of)];
}

/// <summary>What the facts of an opening allow in a situation.</summary>
internal static class OpeningUse
{
    /// <summary>True when an opening may stand open. A fixed one always does, unless lining or furniture covers it.</summary>
    public static bool MayStandOpen(Opening opening, Situation situation) =>
        MayStandOpen(opening, situation.Activity, situation.Falling, situation.SnowOnRoof);

    /// <summary>The same by what people do and what falls from the sky.</summary>
    public static bool MayStandOpen(Opening opening, Activity doing, Precipitation falling, bool snowOnRoof)
    {
        OpeningFacts facts = opening.Facts;
        if (opening.Covered)
        {
            return false;
        }

        if (facts.Fixed)
        {
            return true;
        }

        bool weather = falling switch
        {
            Precipitation.None => true,
            Precipitation.Rain => facts.UsableInRain,
            Precipitation.DrivingRain or Precipitation.Snow => facts.UsableInDrivingRain,
            _ => throw new ArgumentOutOfRangeException(nameof(falling), falling, "Expected none, rain, driving rain or snow."),
        };
        bool activity = doing switch
        {
            Activity.Awake or Activity.Cooking => true,
            Activity.Asleep => facts.OpenAsleep,
            Activity.LockedAndLeft => facts.OpenLocked,
            // Whether anything but a fixed vent withstands the wind of driving is no fact we are told.
            Activity.Driving => false,
            _ => throw new ArgumentOutOfRangeException(nameof(doing), doing, "Expected a known activity."),
        };
        return weather && activity && !(snowOnRoof && opening.Face == Face.Roof);
    }

    /// <summary>True when snow, lining or furniture covers it: no air passes, whether it is fixed or not.</summary>
    public static bool Covered(Opening opening, Situation situation) => Covered(opening, situation.SnowOnRoof);

    /// <summary>The same by whether snow lies on the roof.</summary>
    public static bool Covered(Opening opening, bool snowOnRoof) => opening.Covered || (snowOnRoof && opening.Face == Face.Roof);

    /// <summary>The setting as far as the facts allow it: what may not stand open is shut.</summary>
    public static OpeningSetting AsFarAsAllowed(Opening opening, OpeningSetting wished, Situation situation) =>
        MayStandOpen(opening, situation) ? wished : OpeningSetting.Shut;
}
