using ConsultDesk.Calculations.Air;
using UnitsNet;

namespace ConsultDesk.Calculations.Moisture;

/// <summary>
/// Vapour on its way between air and a surface. There is no quantity for its coefficient, so it is a plain number in
/// kg/(m2 s Pa): mass flux per difference of vapour pressure.
/// </summary>
public static class VapourTransfer
{
    /// <summary>Convective heat transfer coefficients accepted, 0.1 to 300 W/(m2 K).</summary>
    public static readonly ValidRange ConvectionRange = new("Convective heat transfer coefficient", 0.1, 300, "W/(m2 K)");

    /// <summary>
    /// Lewis number of water vapour in air, thermal over vapour diffusivity: 0.845 to 0.87 in textbooks.
    /// </summary>
    public const double LewisNumber = 0.845;

    /// <summary>
    /// Coefficient of vapour transfer beside a surface from that of heat, by the analogy of heat and mass:
    /// hm = hc / (rho cp Le^(2/3)) in m/s (Lewis), beta = hm / (Rv T).
    /// </summary>
    /// <param name="convection">Convective part alone, without radiation; within <see cref="ConvectionRange"/>.</param>
    /// <param name="air">Temperature of the air, within <see cref="MoistAir.TemperatureRange"/>.</param>
    /// <param name="density">Density of the air, 0.5 to 2 kg/m3.</param>
    /// <returns>beta, kg/(m2 s Pa).</returns>
    public static double Coefficient(HeatTransferCoefficient convection, Temperature air, Density density) =>
        CoefficientKgPerM2SPa(
            ConvectionRange.Check(convection.WattsPerSquareMeterKelvin, nameof(convection)),
            MoistAir.TemperatureRange.Check(air.DegreesCelsius, nameof(air)),
            new ValidRange("Density of the air", 0.5, 2, "kg/m3").Check(density.KilogramsPerCubicMeter, nameof(density)));

    /// <summary>Mass transfer coefficient, m/s, of a convective coefficient in W/(m2 K) and a density in kg/m3.</summary>
    internal static double MassTransferMPerS(double convectionWPerM2K, double densityKgPerM3) =>
        convectionWPerM2K / (densityKgPerM3 * MoistAir.DryAirHeatCapacity * LewisToTwoThirds);

    /// <summary>beta, kg/(m2 s Pa).</summary>
    internal static double CoefficientKgPerM2SPa(double convectionWPerM2K, double airC, double densityKgPerM3) =>
        ByAirExchangeKgPerM2SPa(MassTransferMPerS(convectionWPerM2K, densityKgPerM3), airC);

    /// <summary>
    /// Coefficient of air passing to and fro at a volume flow per area in m3/(s m2), which is a velocity: the edge of a
    /// cover or the gaps of a lining. w / (Rv T), kg/(m2 s Pa).
    /// </summary>
    internal static double ByAirExchangeKgPerM2SPa(double exchangeMPerS, double airC) =>
        exchangeMPerS / (MoistAir.VapourGasConstant * (airC + MoistAir.ZeroCelsiusK));

    /// <summary>Two ways after one another: 1/(1/a + 1/b).</summary>
    internal static double InSeries(double a, double b) => a * b / (a + b);

    private static readonly double LewisToTwoThirds = Math.Pow(LewisNumber, 2.0 / 3.0);
}
