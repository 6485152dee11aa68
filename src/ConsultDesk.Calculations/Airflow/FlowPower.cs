using System.Runtime.CompilerServices;

namespace ConsultDesk.Calculations.Airflow;

/// <summary>
/// The power x^((n-1)/2) of <see cref="FlowLaw"/> for one exponent n, by Hermite's cubic pieces of the mantissa and a table of the
/// powers of two: the network asks for it a million times a year. Within 1e-10 of <see cref="Math.Pow"/>, and that itself far outside of pressures.
/// </summary>
internal sealed class FlowPower
{
    private const int PieceBits = 7;
    private const int Pieces = 1 << PieceBits;
    private const int MantissaBits = 52;
    private const int Bias = 1023;

    // Squares of pressures from 1e-10 to 1e9 Pa.
    private const int LowestPower = -66;
    private const int HighestPower = 60;

    private readonly double _half;
    private readonly double[] _twos = new double[HighestPower - LowestPower + 1];
    private readonly double[] _pieces = new double[4 * Pieces];

    public FlowPower(double exponent)
    {
        _half = (exponent - 1) / 2;
        for (int power = LowestPower; power <= HighestPower; power++)
        {
            _twos[power - LowestPower] = Math.Pow(2, power * _half);
        }

        const double Width = 1.0 / Pieces;
        for (int i = 0; i < Pieces; i++)
        {
            double from = 1 + (i * Width);
            double to = from + Width;
            (double y0, double y1) = (Math.Pow(from, _half), Math.Pow(to, _half));
            (double s0, double s1) = (_half * y0 / from, _half * y1 / to);
            double rise = (y1 - y0) / Width;
            _pieces[4 * i] = y0;
            _pieces[(4 * i) + 1] = s0;
            _pieces[(4 * i) + 2] = ((3 * rise) - (2 * s0) - s1) / Width;
            _pieces[(4 * i) + 3] = (s0 + s1 - (2 * rise)) / (Width * Width);
        }
    }

    /// <summary>x^((n-1)/2) of a positive x.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public double Of(double x)
    {
        long bits = BitConverter.DoubleToInt64Bits(x);
        int power = (int)(bits >> MantissaBits) - Bias - LowestPower;
        double[] twos = _twos;
        if ((uint)power >= (uint)twos.Length)
        {
            return Math.Pow(x, _half);
        }

        int piece = (int)(bits >> (MantissaBits - PieceBits)) & (Pieces - 1);
        // What is left of the mantissa beyond the piece's start, as a number below the piece's width.
        double rest = BitConverter.Int64BitsToDouble(((bits & ((1L << (MantissaBits - PieceBits)) - 1)) | ((long)Bias << MantissaBits))) - 1;
        ReadOnlySpan<double> c = _pieces.AsSpan(4 * piece, 4);
        return twos[power] * (c[0] + (rest * (c[1] + (rest * (c[2] + (rest * c[3]))))));
    }
}
