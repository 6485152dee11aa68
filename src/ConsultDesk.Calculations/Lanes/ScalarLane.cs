using System.Runtime.CompilerServices;

namespace ConsultDesk.Calculations.Lanes;

/// <summary>A single number as a lane of one: what runs when one van is simulated alone.</summary>
internal readonly struct ScalarLane : ILane<ScalarLane>
{
    private readonly double _value;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public ScalarLane(double value) => _value = value;

    /// <summary>The number.</summary>
    public double Value => _value;

    public static int Count => 1;

    public static ScalarLane Zero => new(0);

    public static ScalarLane AllBits => new(BitConverter.Int64BitsToDouble(-1));

    public double this[int lane]
    {
        get
        {
            ArgumentOutOfRangeException.ThrowIfNotEqual(lane, 0);
            return _value;
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane Of(double value) => new(value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane Load(ReadOnlySpan<double> values) => new(values[0]);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Store(Span<double> values) => values[0] = _value;

    public static ScalarLane With(ScalarLane value, int lane, double number)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(lane, 0);
        return new(number);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane operator +(ScalarLane left, ScalarLane right) => new(left._value + right._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane operator -(ScalarLane left, ScalarLane right) => new(left._value - right._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane operator *(ScalarLane left, ScalarLane right) => new(left._value * right._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane operator /(ScalarLane left, ScalarLane right) => new(left._value / right._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane operator -(ScalarLane value) => new(-value._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane Abs(ScalarLane value) => new(Math.Abs(value._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane Sqrt(ScalarLane value) => new(Math.Sqrt(value._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane Truncate(ScalarLane value) => new(Math.Truncate(value._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane Min(ScalarLane a, ScalarLane b) => a._value < b._value ? a : b;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane Max(ScalarLane a, ScalarLane b) => a._value > b._value ? a : b;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane Less(ScalarLane a, ScalarLane b) => Of(a._value < b._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane LessOrEqual(ScalarLane a, ScalarLane b) => Of(a._value <= b._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane Equal(ScalarLane a, ScalarLane b) => Of(a._value == b._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane Select(ScalarLane mask, ScalarLane set, ScalarLane clear) => Bits64(mask) != 0 ? set : clear;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane And(ScalarLane a, ScalarLane b) => OfBits(Bits64(a) & Bits64(b));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane Or(ScalarLane a, ScalarLane b) => OfBits(Bits64(a) | Bits64(b));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane Xor(ScalarLane a, ScalarLane b) => OfBits(Bits64(a) ^ Bits64(b));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane AndNot(ScalarLane a, ScalarLane b) => OfBits(Bits64(a) & ~Bits64(b));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool Any(ScalarLane mask) => Bits64(mask) != 0;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool All(ScalarLane mask) => Bits64(mask) != 0;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool AnyLess(ScalarLane a, ScalarLane b) => a._value < b._value;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool AllLess(ScalarLane a, ScalarLane b) => a._value < b._value;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool AllLessOrEqual(ScalarLane a, ScalarLane b) => a._value <= b._value;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static uint Bits(ScalarLane mask) => (uint)Bits64(mask) & 1;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane Mask(uint bits) => Of((bits & 1) != 0);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane MultiplyAdd(ScalarLane a, ScalarLane b, ScalarLane c) => new(Math.FusedMultiplyAdd(a._value, b._value, c._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane SubtractProduct(ScalarLane c, ScalarLane a, ScalarLane b) => new(Math.FusedMultiplyAdd(-a._value, b._value, c._value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane PowerOfTwo(ScalarLane value, out ScalarLane mantissa)
    {
        long bits = Bits64(value) + DoubleBits.FromRoot;
        mantissa = OfBits((bits & DoubleBits.MantissaMask) + DoubleBits.Root);
        return OfBits((bits >>> DoubleBits.Mantissa) | DoubleBits.WholeNumbers) - new ScalarLane(DoubleBits.RaisedBy);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ScalarLane TimesTwoTo(ScalarLane rounded, ScalarLane value) => OfBits(Bits64(value) + (Bits64(rounded) << DoubleBits.Mantissa));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Row(
        ReadOnlySpan<double> table, ScalarLane row, out ScalarLane first, out ScalarLane second, out ScalarLane third, out ScalarLane fourth)
    {
        ReadOnlySpan<double> numbers = table.Slice(4 * (int)row._value, 4);
        first = new(numbers[0]);
        second = new(numbers[1]);
        third = new(numbers[2]);
        fourth = new(numbers[3]);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static ScalarLane Of(bool set) => OfBits(set ? -1L : 0L);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static long Bits64(ScalarLane mask) => BitConverter.DoubleToInt64Bits(mask._value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static ScalarLane OfBits(long bits) => new(BitConverter.Int64BitsToDouble(bits));
}
