using UnitsNet;

namespace ConsultDesk.Calculations.Envelope;

/// <summary>
/// Heat's way through a thin part of the envelope, divided at the surface that room air can wet: the resistance
/// between room air and that surface, and between that surface and outdoor air. No heat storage, no latent heat.
/// </summary>
/// <remarks>
/// The film sits on the room side of the inner pane, so a second pane and its gap belong to the outside part, and a
/// cover hung inside belongs to the inside part: that is why it makes the glass colder.
/// </remarks>
public readonly record struct SurfacePath
{
    /// <summary>From the two resistances, each above 0.</summary>
    public SurfacePath(ThermalResistance inside, ThermalResistance outside)
        : this(inside.SquareMeterKelvinsPerWatt, outside.SquareMeterKelvinsPerWatt)
    {
    }

    internal SurfacePath(double insideM2KPerW, double outsideM2KPerW)
    {
        if (!(insideM2KPerW > 0))
        {
            throw new ArgumentOutOfRangeException(nameof(insideM2KPerW), insideM2KPerW, "Resistance to the room air is expected above 0 m2 K/W.");
        }

        if (!(outsideM2KPerW > 0))
        {
            throw new ArgumentOutOfRangeException(nameof(outsideM2KPerW), outsideM2KPerW, "Resistance to the outdoor air is expected above 0 m2 K/W.");
        }

        InsideM2KPerW = insideM2KPerW;
        OutsideM2KPerW = outsideM2KPerW;
    }

    /// <summary>Room air to surface, m2 K/W.</summary>
    internal double InsideM2KPerW { get; }

    /// <summary>Surface to outdoor air, m2 K/W.</summary>
    internal double OutsideM2KPerW { get; }

    /// <summary>U-value, W/(m2 K).</summary>
    internal double UValueWPerM2K => 1 / (InsideM2KPerW + OutsideM2KPerW);

    /// <summary>Conductance that pulls the surface back to its dry temperature when latent heat warms it, W/(m2 K).</summary>
    internal double SurfaceConductanceWPerM2K => (1 / InsideM2KPerW) + (1 / OutsideM2KPerW);

    /// <summary>Temperature of the surface in degrees Celsius while nothing condenses.</summary>
    internal double SurfaceTemperatureC(double roomC, double outdoorC) =>
        outdoorC + ((roomC - outdoorC) * OutsideM2KPerW / (InsideM2KPerW + OutsideM2KPerW));

    /// <summary>Room air to surface.</summary>
    public ThermalResistance Inside => ThermalResistance.FromSquareMeterKelvinsPerWatt(InsideM2KPerW);

    /// <summary>Surface to outdoor air.</summary>
    public ThermalResistance Outside => ThermalResistance.FromSquareMeterKelvinsPerWatt(OutsideM2KPerW);

    /// <summary>U = 1/(inside + outside).</summary>
    public HeatTransferCoefficient UValue() => HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(UValueWPerM2K);

    /// <summary>Temperature of the surface while nothing condenses: Ti - U Rinside (Ti - Te).</summary>
    public Temperature SurfaceTemperature(Temperature room, Temperature outdoor) =>
        Temperature.FromDegreesCelsius(SurfaceTemperatureC(room.DegreesCelsius, outdoor.DegreesCelsius));
}
