using ConsultDesk.Calculations.Comfort;
using UnitsNet;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// How hot the nights are at the bed, by the standard effective temperature of a sleeper (<see cref="CoolingEffect.FeltC"/>):
/// air temperature, humidity, what the walls radiate, and the air's speed over the sleepers all count.
/// </summary>
internal static class NightHeat
{
    /// <summary>Metabolic rate asleep, met (ASHRAE Fundamentals, thermal comfort).</summary>
    public const double SleepingMet = 0.7;

    // Saturated air this far below the threshold does not feel as warm as the threshold; a test holds it.
    internal const double CertainlyCoolerByK = 3;

    // More than the equations' own stepping blurs; a test holds it.
    private const double ClearlyByK = 0.1;
    private const double ClearlyByPa = 10;

    /// <summary>The standard effective temperature above which an hour is hot, °C.</summary>
    public static double HotSetC(double thresholdC, double clo) => StandardEffectiveTemperature.OfC(CoolingEffect.StillAt(thresholdC, SleepingMet, clo), activityStirs: false);

    /// <summary>The standard effective temperature of a sleeper. Beyond the method the thermometer decides: nobody sleeps there.</summary>
    public static double SetC(in ComfortState state) =>
        StandardEffectiveTemperature.Covers(state) ? StandardEffectiveTemperature.Unchecked(state, activityStirs: false) : double.PositiveInfinity;

    /// <summary>
    /// Whether a state is hotter than a still one, where that can be seen without the equations: it is in air, walls, vapour and speed, or in none of
    /// them. Null where the equations must be asked. Moving air no warmer than the still room cools a sleeper, whose skin is warmer.
    /// </summary>
    public static bool? SurelyHot(in ComfortState state, in ComfortState still)
    {
        bool covered = StandardEffectiveTemperature.Covers(state);
        if (covered && Math.Max(state.AirC, state.RadiantC) < still.AirC - ClearlyByK && state.VapourPressurePa < still.VapourPressurePa - ClearlyByPa)
        {
            return false;
        }

        return covered && Math.Min(state.AirC, state.RadiantC) > still.AirC + ClearlyByK && state.VapourPressurePa > still.VapourPressurePa + ClearlyByPa
            && state.AirSpeedMPerS <= still.AirSpeedMPerS ? true : null;
    }

    /// <summary>Hot nights of a year.</summary>
    /// <param name="series">Its hours.</param>
    /// <param name="model">The design as it stands.</param>
    /// <param name="faces">Its inner faces.</param>
    /// <param name="bed">Zone of the bed.</param>
    /// <param name="hotHours">Takes the hot hours asleep of each night.</param>
    /// <param name="nightOf">The day whose night an hour belongs to.</param>
    public static HotNights Of(YearSeries series, NightModel model, InnerFaces faces, int bed, byte[] hotHours, Func<int, int> nightOf)
    {
        double thresholdC = model.Assumed["hot-night-threshold"];
        double clo = model.Assumed["night-clothing"];
        double mostMPerS = model.Assumed["breeze-most"];
        double hotSetC = HotSetC(thresholdC, clo);
        ReadOnlySpan<double> bedC = series.ZoneC.AsSpan(bed * YearSeries.Hours, YearSeries.Hours);
        bool anyAsleep = series.Asleep.Contains(true);
        double hottestC = double.NegativeInfinity;
        double feltMostSetC = double.NegativeInfinity;
        int feltMost = -1;
        int hottest = 0;
        double speeds = 0;
        int warm = 0;
        for (int hour = 0; hour < YearSeries.Hours; hour++)
        {
            if ((series.Asleep[hour] || !anyAsleep) && bedC[hour] > hottestC)
            {
                hottestC = bedC[hour];
                hottest = hour;
            }

            if (!series.Asleep[hour] || bedC[hour] < thresholdC - CertainlyCoolerByK)
            {
                continue;
            }

            warm++;
            speeds += series.BedAirSpeedMPerS[hour];
            double setC = SetC(At(hour));
            hotHours[nightOf(hour)] += (byte)(setC > hotSetC ? 1 : 0);
            if (setC > feltMostSetC)
            {
                feltMostSetC = setC;
                feltMost = hour;
            }
        }

        ComfortState worst = At(feltMost < 0 ? hottest : feltMost);
        return new HotNights(
            Temperature.FromDegreesCelsius(thresholdC),
            hotHours.Sum(hours => hours),
            hotHours.Count(hours => hours >= YearReport.HotHoursOfHotNight),
            Temperature.FromDegreesCelsius(hottestC))
        {
            Felt = Temperature.FromDegreesCelsius(StandardEffectiveTemperature.Covers(worst) ? CoolingEffect.FeltC(worst) : worst.AirC),
            AirSpeed = Speed.FromMetersPerSecond(warm == 0 ? 0 : speeds / warm),
        };

        ComfortState At(int hour) => new(
            series.ZoneC[(bed * YearSeries.Hours) + hour],
            faces.RadiantC(bed, hour),
            Math.Min(mostMPerS, series.BedAirSpeedMPerS[hour]),
            series.ZoneVapourPressurePa[(bed * YearSeries.Hours) + hour],
            SleepingMet,
            clo);
    }
}
