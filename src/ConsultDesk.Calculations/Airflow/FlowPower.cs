using System.Runtime.CompilerServices;
using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Airflow;

/// <summary>
/// The power x^((n-1)/2) of <see cref="FlowLaw"/>, which the network asks for a million times a year: 2 to h times the logarithm of x to base 2,
/// both by polynomials, without a branch or a table, so that lanes do as one. Within 5e-11 of <see cref="Math.Pow"/>.
/// </summary>
internal static class FlowPower
{
    /// <summary>h of <see cref="Of{TLane}"/> for a flow exponent: (n - 1)/2.</summary>
    public static double Half(double exponent) => (exponent - 1) / 2;

    /// <summary>x^h.</summary>
    /// <param name="x">Positive, from 1e-300 to 1e300.</param>
    /// <param name="h">From -1 to 1.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static TLane Of<TLane>(TLane x, TLane h)
        where TLane : struct, ILane<TLane>
    {
        TLane power = TLane.PowerOfTwo(x, out TLane mantissa);
        TLane y = h * (power + Log2(mantissa - TLane.Of(1)));
        TLane rounded = y + TLane.Of(DoubleBits.Round);
        return TLane.TimesTwoTo(rounded, TwoTo(y - (rounded - TLane.Of(DoubleBits.Round))));
    }

    // Logarithm to base 2 of 1 + f, f from root 1/2 - 1 to root 2 - 1: through log2(1 + f)/f at twelve Chebyshev nodes; off by 6e-11 at most.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static TLane Log2<TLane>(TLane f)
        where TLane : struct, ILane<TLane>
    {
        TLane square = f * f;
        TLane fourth = square * square;
        TLane a = Line(f, 1.4426950409582302, -0.7213475248945522);
        TLane b = Line(f, 0.4808983110824002, -0.360672845348936);
        TLane c = Line(f, 0.28854145553597715, -0.24050279825001172);
        TLane d = Line(f, 0.20607165109914127, -0.17905123203322462);
        TLane e = Line(f, 0.15931300522348446, -0.15722652971153048);
        TLane g = Line(f, 0.1534528693745451, -0.08433521045800584);
        TLane low = TLane.MultiplyAdd(b, square, a);
        TLane middle = TLane.MultiplyAdd(d, square, c);
        TLane high = TLane.MultiplyAdd(g, square, e);
        return f * TLane.MultiplyAdd(TLane.MultiplyAdd(high, fourth, middle), fourth, low);
    }

    // 2 to f, f from -1/2 to 1/2: through nine Chebyshev nodes, 1e-12.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static TLane TwoTo<TLane>(TLane f)
        where TLane : struct, ILane<TLane>
    {
        TLane square = f * f;
        TLane fourth = square * square;
        TLane low = TLane.MultiplyAdd(Line(f, 0.2402265069581299, 0.05550410941205933), square, Line(f, 1.0, 0.6931471805459335));
        TLane high = TLane.MultiplyAdd(Line(f, 0.00015403455852453838, 1.5310079402249296e-05), square, Line(f, 0.009618129159402558, 0.0013333450568000645));
        return TLane.MultiplyAdd(TLane.MultiplyAdd(TLane.Of(1.3255224878668817e-06), fourth, high), fourth, low);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static TLane Line<TLane>(TLane x, double constant, double slope)
        where TLane : struct, ILane<TLane> => TLane.MultiplyAdd(x, TLane.Of(slope), TLane.Of(constant));
}
