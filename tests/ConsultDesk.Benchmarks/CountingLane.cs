using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Benchmarks;

/// <summary>A lane of one that counts what is done with it: the work of a year in operations, which no clock and no neighbour changes.</summary>
internal readonly struct CountingLane : ILane<CountingLane>
{
    private readonly ScalarLane _value;

    private CountingLane(ScalarLane value) => _value = value;

    /// <summary>Sums, differences and products.</summary>
    public static long Simple { get; private set; }

    /// <summary>Quotients and square roots.</summary>
    public static long Divisions { get; private set; }

    /// <summary>Comparisons, choices and whole numbers.</summary>
    public static long Others { get; private set; }

    public static int Count => 1;

    public static CountingLane Zero => new(ScalarLane.Zero);

    public static CountingLane AllBits => new(ScalarLane.AllBits);

    public double this[int lane] => _value[lane];

    public static void Clear() => Simple = Divisions = Others = 0;

    public static CountingLane Of(double value) => new(ScalarLane.Of(value));

    public static CountingLane Load(ReadOnlySpan<double> values) => new(ScalarLane.Load(values));

    public void Store(Span<double> values) => _value.Store(values);

    public static CountingLane With(CountingLane value, int lane, double number) => new(ScalarLane.With(value._value, lane, number));

    public static CountingLane operator +(CountingLane left, CountingLane right) => Did(left._value + right._value);

    public static CountingLane operator -(CountingLane left, CountingLane right) => Did(left._value - right._value);

    public static CountingLane operator *(CountingLane left, CountingLane right) => Did(left._value * right._value);

    public static CountingLane operator /(CountingLane left, CountingLane right) => Divided(left._value / right._value);

    public static CountingLane operator -(CountingLane value) => Other(-value._value);

    public static CountingLane Abs(CountingLane value) => Other(ScalarLane.Abs(value._value));

    public static CountingLane Sqrt(CountingLane value) => Divided(ScalarLane.Sqrt(value._value));

    public static CountingLane Truncate(CountingLane value) => Other(ScalarLane.Truncate(value._value));

    public static CountingLane Min(CountingLane a, CountingLane b) => Other(ScalarLane.Min(a._value, b._value));

    public static CountingLane Max(CountingLane a, CountingLane b) => Other(ScalarLane.Max(a._value, b._value));

    public static CountingLane Less(CountingLane a, CountingLane b) => Other(ScalarLane.Less(a._value, b._value));

    public static CountingLane LessOrEqual(CountingLane a, CountingLane b) => Other(ScalarLane.LessOrEqual(a._value, b._value));

    public static CountingLane Equal(CountingLane a, CountingLane b) => Other(ScalarLane.Equal(a._value, b._value));

    public static CountingLane Select(CountingLane mask, CountingLane set, CountingLane clear) => Other(ScalarLane.Select(mask._value, set._value, clear._value));

    public static CountingLane And(CountingLane a, CountingLane b) => Other(ScalarLane.And(a._value, b._value));

    public static CountingLane Or(CountingLane a, CountingLane b) => Other(ScalarLane.Or(a._value, b._value));

    public static CountingLane Xor(CountingLane a, CountingLane b) => Other(ScalarLane.Xor(a._value, b._value));

    public static CountingLane AndNot(CountingLane a, CountingLane b) => Other(ScalarLane.AndNot(a._value, b._value));

    public static bool Any(CountingLane mask) => ScalarLane.Any(mask._value);

    public static bool All(CountingLane mask) => ScalarLane.All(mask._value);

    public static bool AnyLess(CountingLane a, CountingLane b) => Any(Less(a, b));

    public static bool AllLess(CountingLane a, CountingLane b) => All(Less(a, b));

    public static bool AllLessOrEqual(CountingLane a, CountingLane b) => All(LessOrEqual(a, b));

    public static uint Bits(CountingLane mask) => ScalarLane.Bits(mask._value);

    public static CountingLane Mask(uint bits) => new(ScalarLane.Mask(bits));

    public static CountingLane MultiplyAdd(CountingLane a, CountingLane b, CountingLane c)
    {
        // Two operations in one.
        Simple++;
        return Did(ScalarLane.MultiplyAdd(a._value, b._value, c._value));
    }

    public static CountingLane SubtractProduct(CountingLane c, CountingLane a, CountingLane b)
    {
        Simple++;
        return Did(ScalarLane.SubtractProduct(c._value, a._value, b._value));
    }

    public static CountingLane PowerOfTwo(CountingLane value, out CountingLane mantissa)
    {
        CountingLane power = Other(ScalarLane.PowerOfTwo(value._value, out ScalarLane rest));
        mantissa = new(rest);
        return power;
    }

    public static CountingLane TimesTwoTo(CountingLane power, CountingLane value) => Other(ScalarLane.TimesTwoTo(power._value, value._value));

    public static void Row(
        ReadOnlySpan<double> table, CountingLane row, out CountingLane first, out CountingLane second, out CountingLane third, out CountingLane fourth)
    {
        ScalarLane.Row(table, row._value, out ScalarLane a, out ScalarLane b, out ScalarLane c, out ScalarLane d);
        (first, second, third, fourth) = (new(a), new(b), new(c), new(d));
    }

    private static CountingLane Did(ScalarLane value)
    {
        Simple++;
        return new(value);
    }

    private static CountingLane Divided(ScalarLane value)
    {
        Divisions++;
        return new(value);
    }

    private static CountingLane Other(ScalarLane value)
    {
        Others++;
        return new(value);
    }
}
