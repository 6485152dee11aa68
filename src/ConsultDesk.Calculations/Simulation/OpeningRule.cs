using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// How openings stand through the year, our judgement: as the design says whenever their facts allow it, otherwise
/// shut with the fan off. When it is warm inside and warmer than outside, people in the van open all they may and run
/// fans at full speed, at the quiet limit while they sleep. Fixed openings never move. Nothing is opened for driving.
/// </summary>
internal static class OpeningRule
{
    /// <summary>Share of its full free area the opening stands open.</summary>
    /// <param name="opening">The opening.</param>
    /// <param name="may">What <see cref="OpeningUse.MayStandOpen(Opening, Activity, Climate.Precipitation, bool)"/> says.</param>
    /// <param name="airing">People open all they may.</param>
    public static double Share(Opening opening, bool may, bool airing) =>
        !may ? 0 : airing && !opening.Facts.Fixed ? 1 : opening.Position.Share();

    /// <summary>Speed of the opening's fan; 0 without one.</summary>
    public static double Speed(Opening opening, double share, bool airing, bool asleep, double quietSpeed)
    {
        if (opening.Fan is not Fan fan || share == 0)
        {
            return 0;
        }

        return airing ? Math.Max(fan.Speed, asleep ? quietSpeed : 1) : fan.Speed;
    }
}
