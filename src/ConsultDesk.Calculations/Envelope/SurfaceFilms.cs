using ConsultDesk.Calculations.Air;
using UnitsNet;

namespace ConsultDesk.Calculations.Envelope;

/// <summary>
/// Surface resistances of ISO 6946: the air film and the radiation exchange at the inside and outside of the envelope.
/// </summary>
public static class SurfaceFilms
{
    /// <summary>Wind speeds accepted, 0 to 60 m/s; the air flow of driving is wind too.</summary>
    public static readonly ValidRange WindRange = new("Wind speed", 0, 60, "m/s");

    /// <summary>Emissivities accepted, 0.01 to 1; 0.9 is every painted, wooden, glass or fabric surface.</summary>
    public static readonly ValidRange EmissivityRange = new("Emissivity", 0.01, 1, "");

    /// <summary>Conventional outside surface resistance, m2 K/W: about 4 m/s of wind (ISO 6946).</summary>
    public const double OutsideM2KPerW = 0.04;

    /// <summary>Emissivity of ordinary surfaces (ISO 6946).</summary>
    public const double OrdinaryEmissivity = 0.9;

    /// <summary>Stefan-Boltzmann constant, W/(m2 K4).</summary>
    public const double StefanBoltzmann = 5.670374419e-8;

    /// <summary>Inside surface resistance: 0.10 upwards, 0.13 horizontal, 0.17 downwards, m2 K/W (ISO 6946).</summary>
    public static ThermalResistance Inside(HeatFlow flow) =>
        ThermalResistance.FromSquareMeterKelvinsPerWatt(InsideM2KPerW(flow));

    /// <summary>Conventional outside surface resistance, 0.04 m2 K/W (ISO 6946).</summary>
    public static ThermalResistance Outside() => ThermalResistance.FromSquareMeterKelvinsPerWatt(OutsideM2KPerW);

    /// <summary>
    /// Outside surface resistance by wind: Rse = 1/(hc + eps 4 sigma T^3) with hc = 4 + 4 v (ISO 6946 annex on surface resistances).
    /// </summary>
    /// <param name="wind">Wind at the surface, within <see cref="WindRange"/>.</param>
    /// <param name="surroundings">Mean temperature of the surface and what it faces, within <see cref="MoistAir.TemperatureRange"/>.</param>
    /// <param name="emissivity">Emissivity of the surface, within <see cref="EmissivityRange"/>.</param>
    public static ThermalResistance Outside(Speed wind, Temperature surroundings, double emissivity = OrdinaryEmissivity) =>
        ThermalResistance.FromSquareMeterKelvinsPerWatt(OutsideByWindM2KPerW(
            WindRange.Check(wind.MetersPerSecond, nameof(wind)),
            MoistAir.TemperatureRange.Check(surroundings.DegreesCelsius, nameof(surroundings)),
            EmissivityRange.Check(emissivity, nameof(emissivity))));

    /// <summary>Inside surface resistance, m2 K/W.</summary>
    internal static double InsideM2KPerW(HeatFlow flow) => flow switch
    {
        HeatFlow.Upwards => 0.10,
        HeatFlow.Horizontal => 0.13,
        HeatFlow.Downwards => 0.17,
        _ => throw new ArgumentOutOfRangeException(nameof(flow), flow, "Expected upwards, horizontal or downwards."),
    };

    /// <summary>Outside surface resistance, m2 K/W, from wind in m/s and temperature in degrees Celsius.</summary>
    internal static double OutsideByWindM2KPerW(double windMPerS, double surroundingsC, double emissivity = OrdinaryEmissivity) =>
        1 / (4 + (4 * windMPerS) + (emissivity * RadiationWPerM2K(surroundingsC)));

    /// <summary>Radiative coefficient of a black surface, 4 sigma T^3, W/(m2 K).</summary>
    internal static double RadiationWPerM2K(double meanTemperatureC)
    {
        double kelvin = meanTemperatureC + MoistAir.ZeroCelsiusK;
        return 4 * StefanBoltzmann * kelvin * kelvin * kelvin;
    }
}
