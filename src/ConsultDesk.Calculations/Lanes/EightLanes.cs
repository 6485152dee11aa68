using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace ConsultDesk.Calculations.Lanes;

/// <summary>Eight numbers side by side, a register of 512 bits or, where the processor has none, two of 256.</summary>
internal readonly struct EightLanes : ILane<EightLanes>
{
    private readonly Vector512<double> _value;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public EightLanes(Vector512<double> value) => _value = value;

    public static int Count => 8;

    public static EightLanes Zero
    {
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        get => new(Vector512<double>.Zero);
    }

    public static EightLanes AllBits
    {
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        get => new(Vector512<double>.AllBitsSet);
    }

    public double this[int lane] => _value[lane];

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes Of(double value) => new(Vector512.Create(value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes Load(ReadOnlySpan<double> values) => new(Vector512.Create(values));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Store(Span<double> values) => _value.CopyTo(values);

    public static EightLanes With(EightLanes value, int lane, double number) => new(value._value.WithElement(lane, number));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes operator +(EightLanes left, EightLanes right) => new(left._value + right._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes operator -(EightLanes left, EightLanes right) => new(left._value - right._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes operator *(EightLanes left, EightLanes right) => new(left._value * right._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes operator /(EightLanes left, EightLanes right) => new(left._value / right._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes operator -(EightLanes value) => new(-value._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes Abs(EightLanes value) => new(Vector512.Abs(value._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes Sqrt(EightLanes value) => new(Vector512.Sqrt(value._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes Truncate(EightLanes value) => new(Vector512.Truncate(value._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes Min(EightLanes a, EightLanes b) => new(Vector512.ConditionalSelect(Vector512.LessThan(a._value, b._value), a._value, b._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes Max(EightLanes a, EightLanes b) => new(Vector512.ConditionalSelect(Vector512.GreaterThan(a._value, b._value), a._value, b._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes Less(EightLanes a, EightLanes b) => new(Vector512.LessThan(a._value, b._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes LessOrEqual(EightLanes a, EightLanes b) => new(Vector512.LessThanOrEqual(a._value, b._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes Equal(EightLanes a, EightLanes b) => new(Vector512.Equals(a._value, b._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes Select(EightLanes mask, EightLanes set, EightLanes clear) => new(Vector512.ConditionalSelect(mask._value, set._value, clear._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes And(EightLanes a, EightLanes b) => new(a._value & b._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes Or(EightLanes a, EightLanes b) => new(a._value | b._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes Xor(EightLanes a, EightLanes b) => new(a._value ^ b._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes AndNot(EightLanes a, EightLanes b) => new(Vector512.AndNot(a._value, b._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool Any(EightLanes mask) => Bits(mask) != 0;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool All(EightLanes mask) => Bits(mask) == 0xFF;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool AnyLess(EightLanes a, EightLanes b) => Vector512.LessThanAny(a._value, b._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool AllLess(EightLanes a, EightLanes b) => Vector512.LessThanAll(a._value, b._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool AllLessOrEqual(EightLanes a, EightLanes b) => Vector512.LessThanOrEqualAll(a._value, b._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static uint Bits(EightLanes mask) => (uint)mask._value.ExtractMostSignificantBits();

    public static EightLanes Mask(uint bits) => new(Vector512.Equals(
        Vector512.Create((long)bits) & Vector512.Create(1L, 2, 4, 8, 16, 32, 64, 128),
        Vector512.Create(1L, 2, 4, 8, 16, 32, 64, 128)).AsDouble());

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes MultiplyAdd(EightLanes a, EightLanes b, EightLanes c) => new(Vector512.FusedMultiplyAdd(a._value, b._value, c._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes SubtractProduct(EightLanes c, EightLanes a, EightLanes b) => new(
        Avx512F.IsSupported ? Avx512F.FusedMultiplyAddNegated(a._value, b._value, c._value) : Vector512.FusedMultiplyAdd(-a._value, b._value, c._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes PowerOfTwo(EightLanes value, out EightLanes mantissa)
    {
        Vector512<long> bits = value._value.AsInt64() + Vector512.Create(DoubleBits.FromRoot);
        mantissa = new(((bits & Vector512.Create(DoubleBits.MantissaMask)) + Vector512.Create(DoubleBits.Root)).AsDouble());
        Vector512<long> power = Vector512.ShiftRightLogical(bits, DoubleBits.Mantissa) | Vector512.Create(DoubleBits.WholeNumbers);
        return new(power.AsDouble() - Vector512.Create(DoubleBits.RaisedBy));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightLanes TimesTwoTo(EightLanes rounded, EightLanes value) => new(
        (value._value.AsInt64() + Vector512.ShiftLeft(rounded._value.AsInt64(), DoubleBits.Mantissa)).AsDouble());

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Row(
        ReadOnlySpan<double> table, EightLanes row, out EightLanes first, out EightLanes second, out EightLanes third, out EightLanes fourth)
    {
        if (Avx512F.IsSupported)
        {
            TableRows.Eight(
                table, row._value, out Vector512<double> one, out Vector512<double> two, out Vector512<double> three, out Vector512<double> four);
            first = new(one);
            second = new(two);
            third = new(three);
            fourth = new(four);
            return;
        }

        TableRows.Four(
            table, row._value.GetLower(), out Vector256<double> a, out Vector256<double> b, out Vector256<double> c, out Vector256<double> d);
        TableRows.Four(
            table, row._value.GetUpper(), out Vector256<double> e, out Vector256<double> f, out Vector256<double> g, out Vector256<double> h);
        first = new(Vector512.Create(a, e));
        second = new(Vector512.Create(b, f));
        third = new(Vector512.Create(c, g));
        fourth = new(Vector512.Create(d, h));
    }
}
