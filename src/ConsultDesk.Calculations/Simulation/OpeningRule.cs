using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// How openings stand through the year, our judgement: as the design says whenever their facts allow it, otherwise
/// shut with the fan off. When it is warm inside and warmer than outside, people in the van open further and run fans
/// faster the warmer it gets, up to all they may and full speed, at the quiet limit while they sleep. Fixed openings
/// and flaps that only pressure opens never move. Nothing is opened for driving.
/// </summary>
internal static class OpeningRule
{
    /// <summary>How far people air in warmth, 0 as the design says to 1 all they may.</summary>
    /// <param name="livingC">Temperature of the living zone.</param>
    /// <param name="outdoorC">Temperature outdoors.</param>
    /// <param name="fromC">Living zone temperature at which people begin.</param>
    /// <param name="bandK">How much warmer it is, and how much warmer than outdoors, when they air fully.</param>
    public static double Airing(double livingC, double outdoorC, double fromC, double bandK) =>
        Math.Clamp(Math.Min(livingC - fromC, livingC - outdoorC) / bandK, 0, 1);

    /// <summary>Share of its full free area the opening stands open.</summary>
    /// <param name="opening">The opening.</param>
    /// <param name="may">What <see cref="OpeningUse.MayStandOpen(Opening, Activity, Climate.Precipitation, bool)"/> says.</param>
    /// <param name="airing">How far people air, 0 to 1.</param>
    public static double Share(Opening opening, bool may, double airing)
    {
        double share = opening.Position.Share();
        return !may ? 0 : !FactoryOpenings.SetByPeople(opening) ? share : share + (airing * (1 - share));
    }

    /// <summary>Speed of the opening's fan; 0 without one.</summary>
    public static double Speed(Opening opening, double share, double airing, bool asleep, double quietSpeed)
    {
        if (opening.Fan is not Fan fan || share == 0)
        {
            return 0;
        }

        return fan.Speed + (airing * (Math.Max(fan.Speed, asleep ? quietSpeed : 1) - fan.Speed));
    }
}
