using UnitsNet;

namespace ConsultDesk.Calculations.Envelope;

/// <summary>Sheet metal of the body that room air touches and weather cools.</summary>
/// <remarks>
/// A rib or door frame joined to the skin is taken as skin: heat spreading along the metal from warmer parts is left
/// out, so the real surface is a little warmer and a little drier.
/// </remarks>
public static class BareMetal
{
    /// <summary>Sheet thicknesses accepted, 0.3 to 5 mm.</summary>
    public static readonly ValidRange ThicknessRange = new("Sheet thickness", 0.3, 5, "mm");

    /// <summary>Conductivity of mild steel, W/(m K) (EN ISO 10456, recalled; CIBSE Guide A has 45).</summary>
    public const double SteelConductivity = 50;

    /// <summary>The path through one sheet of mild steel.</summary>
    /// <param name="thickness">Thickness of the sheet, within <see cref="ThicknessRange"/>.</param>
    /// <param name="outside">Outside surface resistance, see <see cref="SurfaceFilms"/>.</param>
    /// <param name="flow">Direction of the heat.</param>
    public static SurfacePath Path(Length thickness, ThermalResistance outside, HeatFlow flow = HeatFlow.Horizontal) =>
        Path(ThicknessRange.Check(thickness.Millimeters, nameof(thickness)) / 1000, outside.SquareMeterKelvinsPerWatt, flow);

    /// <summary>The path from a thickness in m and a resistance in m2 K/W.</summary>
    internal static SurfacePath Path(double thicknessM, double outsideM2KPerW, HeatFlow flow = HeatFlow.Horizontal) =>
        new(SurfaceFilms.InsideM2KPerW(flow), (thicknessM / SteelConductivity) + outsideM2KPerW);
}
