namespace ConsultDesk.Calculations.Airflow;

/// <summary>
/// The one law of every path: m = c rho^n dp (dp^2 + e^2)^((n-1)/2), which is c rho^n dp^n away from zero, straight
/// through zero, and strictly rising everywhere. rho is the density of the air that flows, that of the upstream node.
/// </summary>
/// <remarks>
/// Orifice: c = Cd A sqrt(2), n = 1/2 (Bernoulli). Crack: Q = C dp^n at the reference density, and
/// c = C rho0^(1-n), which keeps the turbulent end (n = 1/2) an orifice and the laminar end (n = 1) a fixed volume flow
/// at any density; the change of viscosity with temperature is left out (about 5 % at -30 C and n = 0.65).
/// Fan: a pressure source s^2 P0 rho/rho0 in series with the orifice c = Q0 sqrt(rho0/P0), n = 1/2, which is the
/// parabola dp = P0 s^2 (1 - (Q/(s Q0))^2) with the fan laws Q ~ s, dp ~ s^2 rho. No published pressure curve of a
/// 12 V roof fan was found; the parabola is the usual estimate for a propeller fan.
/// </remarks>
public static class FlowLaw
{
    /// <summary>Pressure e below which a flow turns straight, Pa. Our choice: at 0.01 Pa it costs 0.25 % of the flow, at 0.1 Pa 0.003 %.</summary>
    public const double SmoothingPressurePa = 0.001;

    /// <summary>Density fan ratings and leakage areas are stated for, kg/m3 (standard air).</summary>
    public const double ReferenceDensityKgPerM3 = 1.2;

    /// <summary>Pressure effective leakage areas are stated at, Pa (ASHRAE convention, with Cd 1; recalled from memory).</summary>
    public const double LeakageReferencePressurePa = 4;

    /// <summary>Flow exponent of an orifice.</summary>
    public const double OrificeExponent = 0.5;

    private const double SmoothingSquared = SmoothingPressurePa * SmoothingPressurePa;

    /// <summary>c of an orifice.</summary>
    internal static double OrificeCoefficient(double dischargeCoefficient, double areaM2) =>
        dischargeCoefficient * areaM2 * Math.Sqrt(2);

    /// <summary>c of a crack, from its effective leakage area at 4 Pa and Cd 1.</summary>
    internal static double CrackCoefficient(double effectiveLeakageAreaM2, double exponent) =>
        effectiveLeakageAreaM2
        * Math.Sqrt(2 * LeakageReferencePressurePa / ReferenceDensityKgPerM3)
        / Math.Pow(LeakageReferencePressurePa, exponent)
        * Math.Pow(ReferenceDensityKgPerM3, 1 - exponent);

    /// <summary>c of a fan.</summary>
    internal static double FanCoefficient(double freeAirFlowM3PerS, double shutOffPressurePa) =>
        freeAirFlowM3PerS * Math.Sqrt(ReferenceDensityKgPerM3 / shutOffPressurePa);

    /// <summary>Mass flow over c rho^n, and its slope with pressure.</summary>
    internal static double Unit(double pressurePa, double exponent, out double slope)
    {
        double square = (pressurePa * pressurePa) + SmoothingSquared;
        double power = exponent == OrificeExponent
            ? 1 / Math.Sqrt(Math.Sqrt(square))
            : Math.Pow(square, (exponent - 1) / 2);
        slope = power * ((exponent * pressurePa * pressurePa) + SmoothingSquared) / square;
        return power * pressurePa;
    }
}
