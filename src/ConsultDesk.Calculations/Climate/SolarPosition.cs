using UnitsNet;

namespace ConsultDesk.Calculations.Climate;

/// <summary>
/// Where the sun stands, by the short Fourier series of Spencer 1971 (recalled; declination to about 0.04 degrees,
/// equation of time to about half a minute). Days are counted in universal time; taking local time for it and the
/// year's place in the leap-day cycle each add up to 0.2 degrees.
/// </summary>
public static class SolarPosition
{
    /// <summary>Sun outside the atmosphere at mean distance, W/m2 (the value the World Radiometric Reference settled on in 2011, recalled).</summary>
    public const double SolarConstantWPerM2 = 1361;

    /// <summary>Declination.</summary>
    /// <param name="dayOfYear">Days since midnight before 1 January, 0 to 365.</param>
    public static Angle Declination(double dayOfYear) => Angle.FromRadians(DeclinationRad(dayOfYear));

    /// <summary>Angle of the sun's centre from straight up, without refraction.</summary>
    /// <param name="dayOfYear">Days of local mean time since midnight before 1 January, 0 to 365, with the time of day.</param>
    /// <param name="latitude">Latitude, north positive.</param>
    public static Angle Zenith(double dayOfYear, Angle latitude)
    {
        double hour = 24 * (dayOfYear - Math.Floor(dayOfYear));
        return Angle.FromRadians(Math.Acos(Math.Clamp(
            CosZenith(DeclinationRad(dayOfYear), latitude.Radians, HourAngleRad(hour + (EquationOfTimeMin(dayOfYear) / 60))), -1, 1)));
    }

    /// <summary>Sun on a surface that faces it outside the atmosphere.</summary>
    /// <param name="dayOfYear">Days since midnight before 1 January, 0 to 365.</param>
    public static Irradiance ExtraterrestrialNormal(double dayOfYear) =>
        Irradiance.FromWattsPerSquareMeter(SolarConstantWPerM2 * DistanceFactor(dayOfYear));

    /// <summary>
    /// Global sun on a level surface under a clear sky: 1098 cos z exp(-0.059/cos z) W/m2 (Haurwitz 1945), nothing
    /// below the horizon.
    /// </summary>
    /// <param name="zenith">Angle of the sun from straight up.</param>
    public static Irradiance ClearSky(Angle zenith) => Irradiance.FromWattsPerSquareMeter(ClearSkyWPerM2(Math.Cos(zenith.Radians)));

    internal static double DeclinationRad(double dayOfYear)
    {
        double g = 2 * Math.PI * dayOfYear / 365;
        return 0.006918 - (0.399912 * Math.Cos(g)) + (0.070257 * Math.Sin(g)) - (0.006758 * Math.Cos(2 * g))
            + (0.000907 * Math.Sin(2 * g)) - (0.002697 * Math.Cos(3 * g)) + (0.00148 * Math.Sin(3 * g));
    }

    /// <summary>Sun time less mean time, minutes.</summary>
    internal static double EquationOfTimeMin(double dayOfYear)
    {
        double g = 2 * Math.PI * dayOfYear / 365;
        return 229.18 * (0.000075 + (0.001868 * Math.Cos(g)) - (0.032077 * Math.Sin(g)) - (0.014615 * Math.Cos(2 * g)) - (0.04089 * Math.Sin(2 * g)));
    }

    /// <summary>Square of mean over present distance from the sun.</summary>
    internal static double DistanceFactor(double dayOfYear)
    {
        double g = 2 * Math.PI * dayOfYear / 365;
        return 1.00011 + (0.034221 * Math.Cos(g)) + (0.00128 * Math.Sin(g)) + (0.000719 * Math.Cos(2 * g)) + (0.000077 * Math.Sin(2 * g));
    }

    internal static double HourAngleRad(double solarHour) => Math.PI * (solarHour - 12) / 12;

    internal static double CosZenith(double declinationRad, double latitudeRad, double hourAngleRad) =>
        (Math.Sin(latitudeRad) * Math.Sin(declinationRad)) + (Math.Cos(latitudeRad) * Math.Cos(declinationRad) * Math.Cos(hourAngleRad));

    internal static double ClearSkyWPerM2(double cosZenith) =>
        // Below a quarter of a degree the exponent leaves nothing.
        cosZenith > 0.004 ? 1098 * cosZenith * Math.Exp(-0.059 / cosZenith) : 0;

    /// <summary>Extraterrestrial sun on a level surface over a day, mean W/m2 (Duffie and Beckman's daily integral, recalled).</summary>
    internal static double ExtraterrestrialWPerM2(double dayOfYear, double latitudeRad)
    {
        double declination = DeclinationRad(dayOfYear);
        double sunset = Math.Acos(Math.Clamp(-Math.Tan(latitudeRad) * Math.Tan(declination), -1, 1));
        double integral = (Math.Cos(latitudeRad) * Math.Cos(declination) * Math.Sin(sunset))
            + (sunset * Math.Sin(latitudeRad) * Math.Sin(declination));
        return SolarConstantWPerM2 * DistanceFactor(dayOfYear) * Math.Max(integral, 0) / Math.PI;
    }
}
