using System.Runtime.CompilerServices;
using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Air;

/// <summary>
/// Saturation pressure and its slope by cubic pieces of half a kelvin through <see cref="MoistAir.SaturationPressurePa"/>
/// and its derivative, for loops that need it millions of times. The pieces join at the triple point, so the kink there
/// is kept. Within 5e-8 of the equations (slope 3e-6) from -60 to 90 degrees Celsius; the equations themselves outside.
/// </summary>
internal static class SaturationTable
{
    private const double LowestC = -60;
    private const double HighestC = 90;
    internal const double PiecesPerK = 2;

    // The first piece starts so that one piece starts at the triple point.
    internal const double OriginC = LowestC + MoistAir.TriplePointC;
    private const int Count = (int)((HighestC - LowestC) * PiecesPerK);

    // Value, slope and two more coefficients of each piece, in powers of kelvin from its start.
    private static readonly double[] Pieces = Build();

    /// <summary>Saturation pressure, Pa, over ice below 0.01 degrees Celsius, and its slope, Pa/K.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double Pa(double temperatureC, out double slopePaPerK)
    {
        double place = (temperatureC - OriginC) * PiecesPerK;
        int piece = (int)place;
        if (!(place >= 0) || piece >= Count)
        {
            slopePaPerK = MoistAir.SaturationPressureSlopePaPerK(temperatureC);
            return MoistAir.SaturationPressurePa(temperatureC);
        }

        double x = (place - piece) / PiecesPerK;
        ReadOnlySpan<double> c = Pieces.AsSpan(4 * piece, 4);
        slopePaPerK = Math.FusedMultiplyAdd(x, Math.FusedMultiplyAdd(x, 3 * c[3], 2 * c[2]), c[1]);
        return Math.FusedMultiplyAdd(x, Math.FusedMultiplyAdd(x, Math.FusedMultiplyAdd(x, c[3], c[2]), c[1]), c[0]);
    }

    /// <summary>The same for lanes, with the same bits.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static TLane Pa<TLane>(TLane temperatureC, out TLane slopePaPerK)
        where TLane : struct, ILane<TLane>
    {
        TLane place = (temperatureC - TLane.Of(OriginC)) * TLane.Of(PiecesPerK);
        if (!TLane.AllLessOrEqual(TLane.Zero, place) || !TLane.AllLess(place, TLane.Of(Count)))
        {
            return Beyond(temperatureC, out slopePaPerK);
        }

        TLane piece = TLane.Truncate(place);
        TLane x = (place - piece) * TLane.Of(1 / PiecesPerK);
        TLane.Row(Pieces, piece, out TLane c0, out TLane c1, out TLane c2, out TLane c3);
        slopePaPerK = TLane.MultiplyAdd(x, TLane.MultiplyAdd(x, TLane.Of(3) * c3, TLane.Of(2) * c2), c1);
        return TLane.MultiplyAdd(x, TLane.MultiplyAdd(x, TLane.MultiplyAdd(x, c3, c2), c1), c0);
    }

    private static TLane Beyond<TLane>(TLane temperatureC, out TLane slopePaPerK)
        where TLane : struct, ILane<TLane>
    {
        TLane pa = TLane.Zero;
        slopePaPerK = TLane.Zero;
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            pa = TLane.With(pa, lane, Pa(temperatureC[lane], out double slope));
            slopePaPerK = TLane.With(slopePaPerK, lane, slope);
        }

        return pa;
    }

    /// <summary>The coefficients anew, four a piece: Hermite's cubic of value and slope of the equations at both ends of each piece.</summary>
    internal static double[] Build()
    {
        double[] pieces = new double[4 * Count];
        double width = 1 / PiecesPerK;
        for (int i = 0; i < Count; i++)
        {
            double startC = OriginC + (i * width);
            double endC = startC + width;
            bool ice = startC + (width / 2) < MoistAir.TriplePointC;
            (double y0, double s0) = Exact(startC, ice);
            (double y1, double s1) = Exact(endC, ice);
            double rise = (y1 - y0) / width;
            pieces[4 * i] = y0;
            pieces[(4 * i) + 1] = s0;
            pieces[(4 * i) + 2] = ((3 * rise) - (2 * s0) - s1) / width;
            pieces[(4 * i) + 3] = (s0 + s1 - (2 * rise)) / (width * width);
        }

        return pieces;
    }

    private static (double Pa, double Slope) Exact(double temperatureC, bool ice)
    {
        double pa = ice ? MoistAir.SaturationPressureOverIcePa(temperatureC) : MoistAir.SaturationPressureOverWaterPa(temperatureC);
        return (pa, pa * MoistAir.LogSlopePerK(temperatureC, ice));
    }
}
