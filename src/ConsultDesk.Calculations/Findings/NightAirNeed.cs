using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;

namespace ConsultDesk.Calculations.Findings;

/// <summary>
/// How much more outdoor air the nights would have needed, from the year's own hours: in a steady room the vapour above
/// that outdoors falls as the air rises, so a night with indoor vapour pressure p_i, outdoor p_o and air Q keeps the wettest
/// surface at its saturation p_s with Q (p_i - p_o) / (p_s - p_o). Means of the night from 22:00 to 07:00. An estimate:
/// more air cools the surface a little too, and the fabrics' store is left out.
/// </summary>
internal static class NightAirNeed
{
    private const int BedHour = 22;
    private const int MorningHour = 7;

    /// <summary>
    /// Outdoor air missing on the night that only a share of all slept nights needs more than, m3/h; infinite when more
    /// nights than that are too damp outside for any air to help.
    /// </summary>
    /// <param name="year">The year.</param>
    /// <param name="outdoor">Its outdoor air.</param>
    /// <param name="wetShare">Share of the slept nights that may stay wet, 0 to 1.</param>
    public static double MissingM3PerH(YearAssessment year, YearWeather outdoor, double wetShare)
    {
        List<double> missing = [];
        for (int day = 0; day < YearWeather.Days; day++)
        {
            if (year.Days[day].Slept)
            {
                missing.Add(MissingM3PerH(year.Hours, outdoor, day));
            }
        }

        missing.Sort();
        int allowed = (int)Math.Floor(wetShare * missing.Count);
        return missing.Count == 0 ? 0 : Math.Max(0, missing[missing.Count - 1 - Math.Min(allowed, missing.Count - 1)]);
    }

    private static double MissingM3PerH(YearHours hours, YearWeather outdoor, int day)
    {
        double inside = 0;
        double outside = 0;
        double surface = 0;
        double air = 0;
        int count = 0;
        for (int offset = BedHour - 24; offset < MorningHour; offset++)
        {
            int hour = ((24 * day) + offset + YearWeather.Hours) % YearWeather.Hours;
            inside += MoistAir.SaturationPressurePa(hours.LivingDewPointC[hour]);
            outside += outdoor.VapourPressurePa[hour];
            surface += MoistAir.SaturationPressurePa(hours.WettestSurfaceC[hour]);
            air += hours.OutdoorAirM3PerH[hour];
            count++;
        }

        double above = inside - outside;
        double bearable = surface - outside;
        return above <= bearable ? 0
            : bearable <= 0 ? double.PositiveInfinity
            : air / count * ((above / bearable) - 1);
    }
}
