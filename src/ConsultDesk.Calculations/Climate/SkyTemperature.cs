namespace ConsultDesk.Calculations.Climate;

/// <summary>
/// Heat radiation of the sky on level ground, and what a surface that faces it loses. The clear sky is that of Berdahl and Martin,
/// Emissivity of clear skies, Solar Energy 32 (1984) 663, with the correction for the hour and for the pressure of Martin and Berdahl,
/// Characteristics of infrared sky radiation in the United States, Solar Energy 33 (1984) 321.
/// </summary>
public static class SkyTemperature
{
    /// <summary>Stefan and Boltzmann's constant, W/(m2 K4), CODATA 2018.</summary>
    public const double StefanBoltzmannWPerM2K4 = 5.670374419e-8;

    /// <summary>Dew point below which the clear sky's emissivity is that of this dew point: the published parabola would rise again.</summary>
    public const double DriestDewPointC = -100 * 0.56 / (2 * 0.73);

    private const double KelvinAtZeroC = 273.15;

    /// <summary>
    /// Emissivity of the clear sky: 0.711 + 0.56 x + 0.73 x2 + 0.013 cos(2 pi t/24) + 0.00012 (p - 1000), x the dew point in hundreds
    /// of degrees, t hours from midnight of sun time, p the pressure in hPa. Fitted to dew points of -13 to 24 °C; at most 1.
    /// </summary>
    /// <param name="dewPointC">Dew point over water, degrees Celsius.</param>
    /// <param name="hourOfDay">Hours since midnight, 0 to 24.</param>
    /// <param name="pressurePa">Barometric pressure, Pa.</param>
    public static double ClearSkyEmissivity(double dewPointC, double hourOfDay, double pressurePa) => Math.Min(
        1,
        ClearSkyEmissivity(dewPointC) + (0.013 * Math.Cos(Math.Tau * hourOfDay / 24)) + (0.00012 * ((pressurePa / 100) - 1000)));

    /// <summary>The day's mean of the clear sky's emissivity at 1000 hPa: 0.711 + 0.56 x + 0.73 x2, x the dew point in hundreds of degrees.</summary>
    /// <param name="dewPointC">Dew point over water, degrees Celsius.</param>
    public static double ClearSkyEmissivity(double dewPointC)
    {
        double x = Math.Max(dewPointC, DriestDewPointC) / 100;
        return 0.711 + (x * (0.56 + (0.73 * x)));
    }

    /// <summary>Emissivity of a sky partly clouded: e + (1 - e) n c (Martin and Berdahl 1984).</summary>
    /// <param name="clear">Emissivity of the clear sky.</param>
    /// <param name="cloudShare">Share n of the sky that is clouded, 0 to 1.</param>
    /// <param name="cloudFactor">Share c of the clear sky's gap to a black body at air temperature that cloud closes: its emissivity times exp(-h/8.2 km), h its base.</param>
    public static double WithCloud(double clear, double cloudShare, double cloudFactor) => clear + ((1 - clear) * cloudShare * cloudFactor);

    /// <summary>Radiation of a sky on level ground, W/m2: emissivity times that of a black body at air temperature.</summary>
    public static double RadiationWPerM2(double emissivity, double airC) => emissivity * BlackBodyWPerM2(airC);

    /// <summary>Temperature of a black body that radiates as the sky does, degrees Celsius.</summary>
    /// <param name="radiationWPerM2">Radiation of the sky on level ground, as hourly weather files give it.</param>
    public static double OfRadiationC(double radiationWPerM2) => Math.Pow(radiationWPerM2 / StefanBoltzmannWPerM2K4, 0.25) - KelvinAtZeroC;

    /// <summary>Radiation of a black body, W/m2.</summary>
    public static double BlackBodyWPerM2(double temperatureC)
    {
        double square = (temperatureC + KelvinAtZeroC) * (temperatureC + KelvinAtZeroC);
        return StefanBoltzmannWPerM2K4 * square * square;
    }

    /// <summary>
    /// What a black level surface at air temperature loses to the sky, W/m2, 0 or more: a sky that a file gives as warmer than the
    /// air warms nothing here, because the outside film's radiation already stands for surroundings at air temperature.
    /// </summary>
    /// <param name="airC">Air temperature.</param>
    /// <param name="radiationWPerM2">Radiation of the sky on level ground.</param>
    public static double LossWPerM2(double airC, double radiationWPerM2) => Math.Max(0, BlackBodyWPerM2(airC) - radiationWPerM2);

    /// <summary>
    /// Share of <see cref="LossWPerM2"/> that a surface at a slope has: ((1 + cos s)/2)^1.5. The first power is the sky seen; the half
    /// more allows for the sky near the horizon being nearly as warm as the air (Walton 1983, as in EnergyPlus's engineering reference).
    /// </summary>
    /// <param name="slopeDegrees">Slope from level, 0 for a roof, 90 for a wall, degrees.</param>
    public static double Share(double slopeDegrees)
    {
        double seen = (1 + Math.Cos(slopeDegrees * Math.PI / 180)) / 2;
        return seen * Math.Sqrt(seen);
    }
}
