using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Envelope;
using UnitsNet;

namespace ConsultDesk.Calculations.Moisture;

/// <summary>What condenses on a surface, or would evaporate from a wet one.</summary>
/// <param name="Flux">Onto the surface; negative for what a wet surface would give off.</param>
/// <param name="SurfaceTemperature">Temperature with the heat that condensing sets free.</param>
/// <param name="Frost">True when the dry surface lies below 0.01 degrees Celsius.</param>
public sealed record SurfaceCondensation(MassFlux Flux, Temperature SurfaceTemperature, bool Frost);

/// <summary>
/// Condensation on a surface with the warming by its own latent heat:
/// g = beta (pv - psat(Ts)), Ts = Ts0 + L g / H, where Ts0 is the dry surface temperature and H what pulls it back.
/// </summary>
/// <remarks>
/// Below 0.01 degrees Celsius (dry surface) psat is taken over ice and L is the heat of sublimation, 2.83 MJ/kg
/// (ASHRAE 2017 ch. 1 eq. 35); otherwise over water and 2.50 MJ/kg. A surface that its own frost would thaw stays frost here.
/// </remarks>
public static class Condensation
{
    /// <summary>The steady state of a surface between room and outdoor air.</summary>
    /// <param name="path">Heat's way through the surface.</param>
    /// <param name="room">Room air, within <see cref="MoistAir.TemperatureRange"/>.</param>
    /// <param name="outdoor">Outdoor air, within <see cref="MoistAir.TemperatureRange"/>.</param>
    /// <param name="vapourPressure">Of the air at the surface, 0 to saturation at 80 degrees Celsius.</param>
    /// <param name="coefficient">beta, kg/(m2 s Pa), above 0; see <see cref="VapourTransfer"/>.</param>
    public static SurfaceCondensation Steady(
        SurfacePath path, Temperature room, Temperature outdoor, Pressure vapourPressure, double coefficient)
    {
        double roomC = MoistAir.TemperatureRange.Check(room.DegreesCelsius, nameof(room));
        double outdoorC = MoistAir.TemperatureRange.Check(outdoor.DegreesCelsius, nameof(outdoor));
        double vapourPressurePa = new ValidRange("Vapour pressure", 0, MoistAir.VapourPressureRange.Maximum, "Pa")
            .Check(vapourPressure.Pascals, nameof(vapourPressure));
        if (!(coefficient > 0))
        {
            throw new ArgumentOutOfRangeException(nameof(coefficient), coefficient, "Coefficient of vapour transfer is expected above 0 kg/(m2 s Pa).");
        }

        double dryC = path.SurfaceTemperatureC(roomC, outdoorC);
        double conductance = path.SurfaceConductanceWPerM2K;
        double flux = SteadyFluxKgPerM2S(vapourPressurePa, dryC, coefficient, conductance);
        return new SurfaceCondensation(
            MassFlux.FromKilogramsPerSecondPerSquareMeter(flux),
            Temperature.FromDegreesCelsius(WetSurfaceC(dryC, flux, conductance)),
            IsFrost(dryC));
    }

    /// <summary>True when what forms on a surface of this dry temperature is frost.</summary>
    internal static bool IsFrost(double drySurfaceC) => drySurfaceC < MoistAir.TriplePointC;

    /// <summary>Heat set free by condensing or freezing out, J/kg.</summary>
    internal static double LatentHeatJPerKg(double drySurfaceC) =>
        IsFrost(drySurfaceC) ? MoistAir.SublimationHeat : MoistAir.EvaporationHeat;

    /// <summary>
    /// Coefficient with the latent heat eliminated, psat made linear at the dry surface temperature:
    /// beta / (1 + beta psat' L / H), kg/(m2 s Pa). One step, unconditionally stable: for time steps.
    /// </summary>
    /// <param name="coefficient">beta, kg/(m2 s Pa).</param>
    /// <param name="drySurfaceC">Dry surface temperature, degrees Celsius.</param>
    /// <param name="conductanceWPerM2K">H: conductances from the surface to both sides, and heat capacity over time step.</param>
    internal static double EffectiveCoefficientKgPerM2SPa(double coefficient, double drySurfaceC, double conductanceWPerM2K) =>
        coefficient / (1 + (coefficient * MoistAir.SaturationPressureSlopePaPerK(drySurfaceC)
            * LatentHeatJPerKg(drySurfaceC) / conductanceWPerM2K));

    /// <summary>
    /// Flux onto the surface in kg/(m2 s) by <see cref="EffectiveCoefficientKgPerM2SPa"/>; negative is what a wet surface
    /// gives off, to be limited to the water that is there. Exact to second order in the warming, about 0.3 % at 1 K.
    /// </summary>
    internal static double FluxKgPerM2S(double vapourPressurePa, double drySurfaceC, double coefficient, double conductanceWPerM2K) =>
        EffectiveCoefficientKgPerM2SPa(coefficient, drySurfaceC, conductanceWPerM2K)
        * (vapourPressurePa - MoistAir.SaturationPressurePa(drySurfaceC));

    /// <summary>Surface temperature in degrees Celsius with the latent heat of a flux.</summary>
    internal static double WetSurfaceC(double drySurfaceC, double fluxKgPerM2S, double conductanceWPerM2K) =>
        drySurfaceC + (LatentHeatJPerKg(drySurfaceC) * fluxKgPerM2S / conductanceWPerM2K);

    /// <summary>Flux onto the surface in kg/(m2 s) with the full saturation curve, by Newton's method to 1e-9 K.</summary>
    internal static double SteadyFluxKgPerM2S(double vapourPressurePa, double drySurfaceC, double coefficient, double conductanceWPerM2K)
    {
        bool frost = IsFrost(drySurfaceC);
        double warmingPerFlux = LatentHeatJPerKg(drySurfaceC) / conductanceWPerM2K;
        double surfaceC = drySurfaceC;
        for (int step = 0; step < 30; step++)
        {
            double saturationPa = frost
                ? MoistAir.SaturationPressureOverIcePa(surfaceC)
                : MoistAir.SaturationPressureOverWaterPa(surfaceC);
            double slope = saturationPa * MoistAir.LogSlopePerK(surfaceC, frost);
            double flux = coefficient * (vapourPressurePa - saturationPa);
            double change = (drySurfaceC + (warmingPerFlux * flux) - surfaceC) / (1 + (warmingPerFlux * coefficient * slope));
            surfaceC += change;
            if (Math.Abs(change) < 1e-9)
            {
                return (surfaceC - drySurfaceC) / warmingPerFlux;
            }
        }

        throw new ArithmeticException(
            $"The temperature of a wet surface was not found: {vapourPressurePa} Pa beside {drySurfaceC} °C.");
    }
}
