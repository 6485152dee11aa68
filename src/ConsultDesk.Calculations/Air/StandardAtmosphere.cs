using UnitsNet;

namespace ConsultDesk.Calculations.Air;

/// <summary>The standard atmosphere by altitude, ASHRAE Handbook Fundamentals 2017 ch. 1 eq. 3 and 4.</summary>
public static class StandardAtmosphere
{
    /// <summary>Altitudes accepted, 300 m below to 5000 m above the sea: every road there is.</summary>
    public static readonly ValidRange AltitudeRange = new("Altitude", -300, 5000, "m");

    /// <summary>Pressure at sea level, Pa.</summary>
    public const double SeaLevelPressurePa = 101_325;

    /// <summary>p = 101325 (1 - 2.25577e-5 z)^5.2559, z in m.</summary>
    public static Pressure Pressure(Length altitude) =>
        UnitsNet.Pressure.FromPascals(PressurePa(AltitudeRange.Check(altitude.Meters, nameof(altitude))));

    /// <summary>t = 15 - 0.0065 z, z in m.</summary>
    public static Temperature Temperature(Length altitude) =>
        UnitsNet.Temperature.FromDegreesCelsius(TemperatureC(AltitudeRange.Check(altitude.Meters, nameof(altitude))));

    /// <summary>Pressure in Pa at an altitude in m.</summary>
    internal static double PressurePa(double altitudeM) =>
        SeaLevelPressurePa * Math.Pow(1 - (2.25577e-5 * altitudeM), 5.2559);

    /// <summary>Altitude in m with this pressure in Pa, to the millimetre.</summary>
    internal static double AltitudeM(double pressurePa) =>
        Math.Round((1 - Math.Pow(pressurePa / SeaLevelPressurePa, 1 / 5.2559)) / 2.25577e-5, 3);

    /// <summary>Temperature in degrees Celsius at an altitude in m.</summary>
    internal static double TemperatureC(double altitudeM) => 15 - (0.0065 * altitudeM);
}
