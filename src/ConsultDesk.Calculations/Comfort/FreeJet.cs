namespace ConsultDesk.Calculations.Comfort;

/// <summary>
/// Air speed before an opening: a jet where air comes in, next to nothing where it is drawn out. That is why a fan that
/// blows out cools nobody, and the breeze is at the open window.
/// </summary>
public static class FreeJet
{
    /// <summary>Air coming in or going out through the opening.</summary>
    public static readonly ValidRange FlowRange = new("Air through an opening", 0, 2, "m3/s");

    /// <summary>Free area of the opening.</summary>
    public static readonly ValidRange AreaRange = new("Free area of an opening", 1e-4, 4, "m2");

    /// <summary>Distance from the opening.</summary>
    public static readonly ValidRange DistanceRange = new("Distance from an opening", 0, 10, "m");

    /// <summary>Centre-line constant K of the jet.</summary>
    public static readonly ValidRange DecayRange = new("Centre-line constant of a jet", 1, 10, "");

    /// <summary>Discharge coefficient.</summary>
    public static readonly ValidRange DischargeRange = new("Discharge coefficient", 0.05, 1, "");

    /// <summary>
    /// Speed on the axis of a compact free jet of the room's own temperature, m/s: U0 in its core, beyond it
    /// K U0 sqrt(A0)/x, with U0 = Q/(Cd A) and A0 = Cd A after the contraction (ASHRAE Fundamentals, space air diffusion,
    /// zone 3; the same law as U/U0 = B d/x of turbulence texts with K = 1.13 B).
    /// </summary>
    /// <param name="flowM3PerS">Air coming in.</param>
    /// <param name="areaM2">Free area.</param>
    /// <param name="discharge">Discharge coefficient.</param>
    /// <param name="distanceM">Distance from the opening.</param>
    /// <param name="decay">K.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of range.</exception>
    public static double AxisMPerS(double flowM3PerS, double areaM2, double discharge, double distanceM, double decay) => Axis(
        FlowRange.Check(flowM3PerS, nameof(flowM3PerS)),
        AreaRange.Check(areaM2, nameof(areaM2)) * DischargeRange.Check(discharge, nameof(discharge)),
        DistanceRange.Check(distanceM, nameof(distanceM)),
        DecayRange.Check(decay, nameof(decay)));

    /// <summary>
    /// Speed of the air drawn towards a plain opening in free space, m/s: Q/(10 x^2 + A) (J. M. DallaValle, Exhaust hoods,
    /// 1952; the equation of capture velocity in industrial ventilation).
    /// </summary>
    /// <param name="flowM3PerS">Air going out.</param>
    /// <param name="areaM2">Free area.</param>
    /// <param name="distanceM">Distance from the opening.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of range.</exception>
    public static double DrawnMPerS(double flowM3PerS, double areaM2, double distanceM)
    {
        FlowRange.Check(flowM3PerS, nameof(flowM3PerS));
        AreaRange.Check(areaM2, nameof(areaM2));
        return Drawn(flowM3PerS, areaM2, DistanceRange.Check(distanceM, nameof(distanceM)));
    }

    internal static double Axis(double flowM3PerS, double jetM2, double distanceM, double decay)
    {
        double rootM = Math.Sqrt(jetM2);
        return distanceM <= decay * rootM ? flowM3PerS / jetM2 : decay * flowM3PerS / (rootM * distanceM);
    }

    internal static double Drawn(double flowM3PerS, double areaM2, double distanceM) =>
        flowM3PerS / ((10 * distanceM * distanceM) + areaM2);
}
