using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace ConsultDesk.Calculations.Lanes;

/// <summary>Four numbers side by side, a register of 256 bits.</summary>
internal readonly struct FourLanes : ILane<FourLanes>
{
    private readonly Vector256<double> _value;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public FourLanes(Vector256<double> value) => _value = value;

    public static int Count => 4;

    public static FourLanes Zero
    {
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        get => new(Vector256<double>.Zero);
    }

    public static FourLanes AllBits
    {
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        get => new(Vector256<double>.AllBitsSet);
    }

    public double this[int lane] => _value[lane];

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes Of(double value) => new(Vector256.Create(value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes Load(ReadOnlySpan<double> values) => new(Vector256.Create(values));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Store(Span<double> values) => _value.CopyTo(values);

    public static FourLanes With(FourLanes value, int lane, double number) => new(value._value.WithElement(lane, number));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes operator +(FourLanes left, FourLanes right) => new(left._value + right._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes operator -(FourLanes left, FourLanes right) => new(left._value - right._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes operator *(FourLanes left, FourLanes right) => new(left._value * right._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes operator /(FourLanes left, FourLanes right) => new(left._value / right._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes operator -(FourLanes value) => new(-value._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes Abs(FourLanes value) => new(Vector256.Abs(value._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes Sqrt(FourLanes value) => new(Vector256.Sqrt(value._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes Truncate(FourLanes value) => new(Vector256.Truncate(value._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes Min(FourLanes a, FourLanes b) => new(Vector256.ConditionalSelect(Vector256.LessThan(a._value, b._value), a._value, b._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes Max(FourLanes a, FourLanes b) => new(Vector256.ConditionalSelect(Vector256.GreaterThan(a._value, b._value), a._value, b._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes Less(FourLanes a, FourLanes b) => new(Vector256.LessThan(a._value, b._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes LessOrEqual(FourLanes a, FourLanes b) => new(Vector256.LessThanOrEqual(a._value, b._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes Equal(FourLanes a, FourLanes b) => new(Vector256.Equals(a._value, b._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes Select(FourLanes mask, FourLanes set, FourLanes clear) => new(Vector256.ConditionalSelect(mask._value, set._value, clear._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes And(FourLanes a, FourLanes b) => new(a._value & b._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes Or(FourLanes a, FourLanes b) => new(a._value | b._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes Xor(FourLanes a, FourLanes b) => new(a._value ^ b._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes AndNot(FourLanes a, FourLanes b) => new(Vector256.AndNot(a._value, b._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool Any(FourLanes mask) => Bits(mask) != 0;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool All(FourLanes mask) => Bits(mask) == 0xF;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool AnyLess(FourLanes a, FourLanes b) => Vector256.LessThanAny(a._value, b._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool AllLess(FourLanes a, FourLanes b) => Vector256.LessThanAll(a._value, b._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool AllLessOrEqual(FourLanes a, FourLanes b) => Vector256.LessThanOrEqualAll(a._value, b._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static uint Bits(FourLanes mask) => (uint)mask._value.ExtractMostSignificantBits();

    public static FourLanes Mask(uint bits) => new(Vector256.Equals(
        Vector256.Create((long)bits) & Vector256.Create(1L, 2, 4, 8),
        Vector256.Create(1L, 2, 4, 8)).AsDouble());

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes MultiplyAdd(FourLanes a, FourLanes b, FourLanes c) => new(Vector256.FusedMultiplyAdd(a._value, b._value, c._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes SubtractProduct(FourLanes c, FourLanes a, FourLanes b) => new(
        Fma.IsSupported ? Fma.MultiplyAddNegated(a._value, b._value, c._value) : Vector256.FusedMultiplyAdd(-a._value, b._value, c._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes PowerOfTwo(FourLanes value, out FourLanes mantissa)
    {
        Vector256<long> bits = value._value.AsInt64() + Vector256.Create(DoubleBits.FromRoot);
        mantissa = new(((bits & Vector256.Create(DoubleBits.MantissaMask)) + Vector256.Create(DoubleBits.Root)).AsDouble());
        Vector256<long> power = Vector256.ShiftRightLogical(bits, DoubleBits.Mantissa) | Vector256.Create(DoubleBits.WholeNumbers);
        return new(power.AsDouble() - Vector256.Create(DoubleBits.RaisedBy));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static FourLanes TimesTwoTo(FourLanes rounded, FourLanes value) => new(
        (value._value.AsInt64() + Vector256.ShiftLeft(rounded._value.AsInt64(), DoubleBits.Mantissa)).AsDouble());

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Row(
        ReadOnlySpan<double> table, FourLanes row, out FourLanes first, out FourLanes second, out FourLanes third, out FourLanes fourth)
    {
        TableRows.Four(table, row._value, out Vector256<double> a, out Vector256<double> b, out Vector256<double> c, out Vector256<double> d);
        first = new(a);
        second = new(b);
        third = new(c);
        fourth = new(d);
    }
}
