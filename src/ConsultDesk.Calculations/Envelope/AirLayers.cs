using ConsultDesk.Calculations.Air;
using UnitsNet;

namespace ConsultDesk.Calculations.Envelope;

/// <summary>Thermal resistance of air layers inside an assembly (ISO 6946).</summary>
public static class AirLayers
{
    /// <summary>Thicknesses accepted, 1 to 300 mm.</summary>
    public static readonly ValidRange ThicknessRange = new("Air layer thickness", 1, 300, "mm");

    /// <summary>
    /// Largest resistance of the layers outside a slightly ventilated air layer that still counts, m2 K/W
    /// (ISO 6946:2007, recalled).
    /// </summary>
    public const double OutsideOfSlightlyVentilatedM2KPerW = 0.15;

    // EN ISO 6946 table of unventilated air layers between surfaces of high emissivity; the row for 0 mm is recalled.
    private static readonly double[] ThicknessesMm = [0, 5, 7, 10, 15, 25, 50, 100, 300];
    private static readonly double[] Upwards = [0, 0.11, 0.13, 0.15, 0.16, 0.16, 0.16, 0.16, 0.16];
    private static readonly double[] Horizontal = [0, 0.11, 0.13, 0.15, 0.17, 0.18, 0.18, 0.18, 0.18];
    private static readonly double[] Downwards = [0, 0.11, 0.13, 0.15, 0.17, 0.19, 0.21, 0.22, 0.23];

    /// <summary>
    /// Resistance of an unventilated layer between ordinary surfaces: the table of ISO 6946, linear between its rows.
    /// </summary>
    public static ThermalResistance Unventilated(Length thickness, HeatFlow flow) =>
        ThermalResistance.FromSquareMeterKelvinsPerWatt(UnventilatedM2KPerW(
            ThicknessRange.Check(thickness.Millimeters, nameof(thickness)) / 1000, flow));

    /// <summary>
    /// Resistance of a slightly ventilated layer: half that of an unventilated one
    /// (DIN EN ISO 6946 as quoted in German planning tables; the 2017 edition interpolates by the opening area instead).
    /// </summary>
    public static ThermalResistance SlightlyVentilated(Length thickness, HeatFlow flow) =>
        ThermalResistance.FromSquareMeterKelvinsPerWatt(
            UnventilatedM2KPerW(ThicknessRange.Check(thickness.Millimeters, nameof(thickness)) / 1000, flow) / 2);

    /// <summary>
    /// Resistance of an unventilated layer between surfaces of any emissivity: R = 1/(ha + E 4 sigma T^3) with
    /// E = 1/(1/e1 + 1/e2 - 1) and ha the larger of conduction 0.025/d and convection: 1.95 upwards, 1.25 horizontal,
    /// 0.12 d^-0.44 downwards, W/(m2 K) (ISO 6946 annex on air layers, for differences up to 5 K; recalled).
    /// </summary>
    /// <remarks>
    /// A reflective foil helps only while it faces a still air layer and stays clean and dry: pressed against the skin
    /// it is worth nothing here, and with dust or condensation on it its emissivity is 0.2 and more.
    /// </remarks>
    public static ThermalResistance Unventilated(
        Length thickness, HeatFlow flow, double emissivityA, double emissivityB, Temperature mean)
    {
        double thicknessM = ThicknessRange.Check(thickness.Millimeters, nameof(thickness)) / 1000;
        double a = SurfaceFilms.EmissivityRange.Check(emissivityA, nameof(emissivityA));
        double b = SurfaceFilms.EmissivityRange.Check(emissivityB, nameof(emissivityB));
        double meanC = MoistAir.TemperatureRange.Check(mean.DegreesCelsius, nameof(mean));
        double convection = flow switch
        {
            HeatFlow.Upwards => 1.95,
            HeatFlow.Horizontal => 1.25,
            HeatFlow.Downwards => 0.12 * Math.Pow(thicknessM, -0.44),
            _ => throw new ArgumentOutOfRangeException(nameof(flow), flow, "Expected upwards, horizontal or downwards."),
        };
        double exchange = 1 / ((1 / a) + (1 / b) - 1);
        return ThermalResistance.FromSquareMeterKelvinsPerWatt(
            1 / (Math.Max(convection, 0.025 / thicknessM) + (exchange * SurfaceFilms.RadiationWPerM2K(meanC))));
    }

    /// <summary>Resistance of an unventilated layer, m2 K/W, for 0 to 0.3 m.</summary>
    internal static double UnventilatedM2KPerW(double thicknessM, HeatFlow flow)
    {
        double[] resistances = flow switch
        {
            HeatFlow.Upwards => Upwards,
            HeatFlow.Horizontal => Horizontal,
            HeatFlow.Downwards => Downwards,
            _ => throw new ArgumentOutOfRangeException(nameof(flow), flow, "Expected upwards, horizontal or downwards."),
        };
        double thicknessMm = 1000 * thicknessM;
        int row = 1;
        while (row < ThicknessesMm.Length - 1 && ThicknessesMm[row] < thicknessMm)
        {
            row++;
        }

        double share = (thicknessMm - ThicknessesMm[row - 1]) / (ThicknessesMm[row] - ThicknessesMm[row - 1]);
        return resistances[row - 1] + (share * (resistances[row] - resistances[row - 1]));
    }
}
