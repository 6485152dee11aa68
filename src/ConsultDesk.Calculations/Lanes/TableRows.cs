using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace ConsultDesk.Calculations.Lanes;

/// <summary>Rows of a table for four lanes: each row is read whole and the four are turned, which costs less than to gather number by number.</summary>
internal static class TableRows
{
    // A whole number added to it stands in the lowest bits: 2^52.
    private const double WholeNumbers = 4_503_599_627_370_496;

    /// <summary>The same for eight lanes, on processors with registers of 512 bits.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Eight(
        ReadOnlySpan<double> table,
        Vector512<double> row,
        out Vector512<double> first,
        out Vector512<double> second,
        out Vector512<double> third,
        out Vector512<double> fourth)
    {
        Vector256<int> index = Avx512F.ConvertToVector256Int32WithTruncation(row);
        // One look at all of them instead of one at each.
        if (Vector256.GreaterThanOrEqualAny(index.AsUInt32(), Vector256.Create((uint)table.Length / 4)))
        {
            throw new ArgumentOutOfRangeException(nameof(row), "A row is not in the table.");
        }

        Vector256<int> at = index << 2;
        ref double numbers = ref MemoryMarshal.GetReference(table);
        Vector512<double> ae = Vector512.Create(At(ref numbers, at[0]), At(ref numbers, at[4]));
        Vector512<double> bf = Vector512.Create(At(ref numbers, at[1]), At(ref numbers, at[5]));
        Vector512<double> cg = Vector512.Create(At(ref numbers, at[2]), At(ref numbers, at[6]));
        Vector512<double> dh = Vector512.Create(At(ref numbers, at[3]), At(ref numbers, at[7]));
        Vector512<double> lowAB = Avx512F.UnpackLow(ae, bf);
        Vector512<double> highAB = Avx512F.UnpackHigh(ae, bf);
        Vector512<double> lowCD = Avx512F.UnpackLow(cg, dh);
        Vector512<double> highCD = Avx512F.UnpackHigh(cg, dh);
        Vector512<long> even = Vector512.Create(0L, 1, 8, 9, 4, 5, 12, 13);
        Vector512<long> odd = Vector512.Create(2L, 3, 10, 11, 6, 7, 14, 15);
        first = Avx512F.PermuteVar8x64x2(lowAB, even, lowCD);
        second = Avx512F.PermuteVar8x64x2(highAB, even, highCD);
        third = Avx512F.PermuteVar8x64x2(lowAB, odd, lowCD);
        fourth = Avx512F.PermuteVar8x64x2(highAB, odd, highCD);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<double> At(ref double numbers, int place) => Vector256.LoadUnsafe(ref numbers, (nuint)place);

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
