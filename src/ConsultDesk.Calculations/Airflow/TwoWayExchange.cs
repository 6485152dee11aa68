using ConsultDesk.Calculations.Lanes;
using UnitsNet;

namespace ConsultDesk.Calculations.Airflow;

/// <summary>Air that passes both ways through a single opening at once.</summary>
public static class TwoWayExchange
{
    /// <summary>
    /// Coefficient of Epstein (1988, Journal of Heat Transfer 110, 885-893) for a horizontal opening that is thin
    /// for its width: Q = 0.055 sqrt(g drho/rho D^5). Recalled from memory.
    /// </summary>
    public const double EpsteinCoefficient = 0.055;

    /// <summary>Net densimetric Froude number u / sqrt(g drho/rho D) at which a net flow has purged the exchange. Our judgement.</summary>
    public const double PurgingFroudeNumber = 0.2;

    /// <summary>Highest accepted share of area times wind speed exchanged by gusts.</summary>
    public const double MaximumWindExchange = 0.1;

    /// <summary>
    /// Height of each half's flow below and above the centre of a tall opening, as a share of its height: 2/9 makes
    /// the two halves exchange what Brown and Solvason (1962) give with no net flow:
    /// Cd (A/2) sqrt(2 g' (2/9) H) = (Cd/3) A sqrt(g' H).
    /// </summary>
    internal const double HalfOffset = 2.0 / 9;

    /// <summary>
    /// Net flow, in multiples of the undisturbed exchange, that purges it: the Froude number above divided by that of
    /// Epstein's exchange itself, 0.055 * 4/pi.
    /// </summary>
    internal const double PurgingMultiple = PurgingFroudeNumber / (EpsteinCoefficient * 4 / Math.PI);

    internal const double GravityMPerS2 = 9.80665;

    /// <summary>
    /// Exchange through a horizontal opening under denser air, with no net flow and no wind (Epstein 1988). The
    /// opening counts as a circle of the same area.
    /// </summary>
    /// <param name="freeArea">Free area.</param>
    /// <param name="below">Density of the air below.</param>
    /// <param name="above">Density of the air above; no exchange unless it is the denser.</param>
    /// <returns>Flow in each direction.</returns>
    public static VolumeFlow Horizontal(Area freeArea, Density below, Density above) =>
        VolumeFlow.FromCubicMetersPerSecond(
            HorizontalM3PerS(freeArea.SquareMeters, below.KilogramsPerCubicMeter, above.KilogramsPerCubicMeter));

    /// <summary>
    /// Exchange through a vertical opening with no net flow, (Cd/3) W H^1.5 sqrt(g dT/T) (Brown and Solvason 1962,
    /// recalled from memory).
    /// </summary>
    /// <param name="dischargeCoefficient">Discharge coefficient, about 0.6.</param>
    /// <param name="width">Width.</param>
    /// <param name="height">Height.</param>
    /// <param name="oneSide">Temperature on one side.</param>
    /// <param name="otherSide">Temperature on the other side.</param>
    /// <returns>Flow in each direction.</returns>
    public static VolumeFlow Vertical(double dischargeCoefficient, Length width, Length height, Temperature oneSide, Temperature otherSide)
    {
        double differenceK = Math.Abs(oneSide.Kelvins - otherSide.Kelvins);
        double meanK = (oneSide.Kelvins + otherSide.Kelvins) / 2;
        return VolumeFlow.FromCubicMetersPerSecond(
            dischargeCoefficient / 3 * width.Meters * Math.Pow(height.Meters, 1.5) * Math.Sqrt(GravityMPerS2 * differenceK / meanK));
    }

    internal static double HorizontalM3PerS(double areaM2, double belowKgPerM3, double aboveKgPerM3) => HorizontalM3PerS<ScalarLane>(
        new(areaM2), new(aboveKgPerM3 - belowKgPerM3), new((aboveKgPerM3 + belowKgPerM3) / 2)).Value;

    /// <summary>Epstein's exchange in lanes.</summary>
    /// <param name="areaM2">Free area.</param>
    /// <param name="surplusKgPerM3">Density of the air above less that below; no exchange unless it is more than 0.</param>
    /// <param name="meanKgPerM3">Mean of the two.</param>
    internal static TLane HorizontalM3PerS<TLane>(TLane areaM2, TLane surplusKgPerM3, TLane meanKgPerM3)
        where TLane : struct, ILane<TLane>
    {
        if (!TLane.AnyLess(TLane.Zero, surplusKgPerM3))
        {
            return TLane.Zero;
        }

        TLane reducedGravity = TLane.Of(GravityMPerS2) * TLane.Max(surplusKgPerM3, TLane.Zero) / meanKgPerM3;
        TLane diameterSquared = TLane.Of(4 / Math.PI) * areaM2;
        // sqrt(g' D^5) = D^2 sqrt(g' sqrt(D^2))
        return TLane.Of(EpsteinCoefficient) * diameterSquared * TLane.Sqrt(reducedGravity * TLane.Sqrt(diameterSquared));
    }

    /// <summary>
    /// Exchange left over: buoyancy and gusts added in quadrature, taken down in a straight line by the net flow and
    /// gone at <see cref="PurgingMultiple"/> times its undisturbed size.
    /// </summary>
    internal static double LeftOverM3PerS(double buoyantM3PerS, double gustM3PerS, double netM3PerS) =>
        LeftOverKgPerS<ScalarLane>(new(buoyantM3PerS), new(gustM3PerS), new(1), new(netM3PerS)).Value;

    /// <summary>The same as mass, in lanes.</summary>
    internal static TLane LeftOverKgPerS<TLane>(TLane buoyantM3PerS, TLane gustM3PerS, TLane densityKgPerM3, TLane netKgPerS)
        where TLane : struct, ILane<TLane>
    {
        TLane undisturbed = densityKgPerM3 * TLane.Sqrt((buoyantM3PerS * buoyantM3PerS) + (gustM3PerS * gustM3PerS));
        return TLane.Max(undisturbed - (TLane.Abs(netKgPerS) * TLane.Of(1 / PurgingMultiple)), TLane.Zero);
    }
}
