using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace ConsultDesk.Calculations.Lanes;

/// <summary>Rows of a table for four lanes: each row is read whole and the four are turned, which costs less than to gather number by number.</summary>
internal static class TableRows
{
    // A whole number added to it stands in the lowest bits: 2^52.
    private const double WholeNumbers = 4_503_599_627_370_496;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Four(
        ReadOnlySpan<double> table,
        Vector256<double> row,
        out Vector256<double> first,
        out Vector256<double> second,
        out Vector256<double> third,
        out Vector256<double> fourth)
    {
        Vector256<int> index = (row + Vector256.Create(WholeNumbers)).AsInt32();
        Vector256<double> a = Vector256.Create(table.Slice(4 * index[0], 4));
        Vector256<double> b = Vector256.Create(table.Slice(4 * index[2], 4));
        Vector256<double> c = Vector256.Create(table.Slice(4 * index[4], 4));
        Vector256<double> d = Vector256.Create(table.Slice(4 * index[6], 4));
        if (Avx.IsSupported)
        {
            Vector256<double> lowAB = Avx.UnpackLow(a, b);
            Vector256<double> highAB = Avx.UnpackHigh(a, b);
            Vector256<double> lowCD = Avx.UnpackLow(c, d);
            Vector256<double> highCD = Avx.UnpackHigh(c, d);
            first = Avx.Permute2x128(lowAB, lowCD, 0x20);
            second = Avx.Permute2x128(highAB, highCD, 0x20);
            third = Avx.Permute2x128(lowAB, lowCD, 0x31);
            fourth = Avx.Permute2x128(highAB, highCD, 0x31);
        }
        else
        {
            first = Vector256.Create(a[0], b[0], c[0], d[0]);
            second = Vector256.Create(a[1], b[1], c[1], d[1]);
            third = Vector256.Create(a[2], b[2], c[2], d[2]);
            fourth = Vector256.Create(a[3], b[3], c[3], d[3]);
        }
    }
}
