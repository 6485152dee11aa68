using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;

namespace ConsultDesk.Calculations.Findings;

/// <summary>
/// How much more outdoor air the nights would have needed, from the year's own hours and a water balance: air that carries
/// out all the water given off, G, at a vapour pressure no higher than saturation p_s at the wettest surface is
/// Q = G Rv T / (p_s - p_o), with p_o outdoors. Means of the night from 22:00 to 07:00. An estimate: more air cools the
/// surface too, fabrics store water, and the air before the surface may be drier or damper than the room's.
/// </summary>
internal static class NightAirNeed
{
    private const int BedHour = 22;
    private const int MorningHour = 7;

    // Gas constant of water vapour, J/(kg K).
    private const double VapourGasConstant = 461.5;

    /// <summary>
    /// Outdoor air missing on the night that only a share of all slept nights needs more than, m3/h; infinite when more
    /// nights than that are too damp outside for any air to help.
    /// </summary>
    /// <param name="year">The year.</param>
    /// <param name="outdoor">Its outdoor air.</param>
    /// <param name="waterKgPerS">Water given off by night.</param>
    /// <param name="wetShare">Share of the slept nights that may stay wet, 0 to 1.</param>
    public static double MissingM3PerH(YearAssessment year, YearWeather outdoor, double waterKgPerS, double wetShare)
    {
        List<double> missing = [];
        for (int day = 0; day < YearWeather.Days; day++)
        {
            if (year.Days[day].Slept)
            {
                missing.Add(MissingM3PerH(year.Hours, outdoor, waterKgPerS, day));
            }
        }

        missing.Sort();
        int allowed = (int)Math.Floor(wetShare * missing.Count);
        return missing.Count == 0 ? 0 : Math.Max(0, missing[missing.Count - 1 - Math.Min(allowed, missing.Count - 1)]);
    }

    private static double MissingM3PerH(YearHours hours, YearWeather outdoor, double waterKgPerS, int day)
    {
        double bearablePa = 0;
        double roomC = 0;
        double airM3PerH = 0;
        const int count = 24 - BedHour + MorningHour;
        for (int offset = BedHour - 24; offset < MorningHour; offset++)
        {
            int hour = ((24 * day) + offset + YearWeather.Hours) % YearWeather.Hours;
            bearablePa += (MoistAir.SaturationPressurePa(hours.WettestSurfaceC[hour]) - outdoor.VapourPressurePa[hour]) / count;
            roomC += hours.LivingC[hour] / count;
            airM3PerH += hours.OutdoorAirM3PerH[hour] / count;
        }

        return bearablePa <= 0
            ? double.PositiveInfinity
            : (3600 * waterKgPerS * VapourGasConstant * (roomC + MoistAir.ZeroCelsiusK) / bearablePa) - airM3PerH;
    }
}
