using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Lanes;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Lanes;

/// <summary>Every operation of the lanes gives, lane by lane, the bits of the same operation on a double.</summary>
public sealed class LaneTests
{
    private static readonly double[] Special =
    [
        0, -0.0, 1, -1, double.Epsilon, -double.Epsilon, double.MaxValue, double.MinValue, double.PositiveInfinity, double.NegativeInfinity, double.NaN,
        1e-310, -1e-310, 0.1, 1 / 3.0, 2.5, -2.5, 1e15, 4.5e15, -4.5e15,
    ];

    [Fact]
    public void One_lane_computes_as_a_double() => Check<ScalarLane>();

    [Fact]
    public void Four_lanes_compute_as_doubles() => Check<FourLanes>();

    [Fact]
    public void Eight_lanes_compute_as_doubles() => Check<EightLanes>();

    private static void Check<TLane>()
        where TLane : struct, ILane<TLane>
    {
        var random = new Random(20261130);
        for (int turn = 0; turn < 4000; turn++)
        {
            double[] a = Numbers<TLane>(random);
            double[] b = Numbers<TLane>(random);
            TLane left = TLane.Load(a);
            TLane right = TLane.Load(b);
            Same(left + right, a, b, (x, y) => x + y);
            Same(left - right, a, b, (x, y) => x - y);
            Same(left * right, a, b, (x, y) => x * y);
            Same(left / right, a, b, (x, y) => x / y);
            Same(-left, a, b, (x, _) => -x);
            Same(TLane.Abs(left), a, b, (x, _) => Math.Abs(x));
            Same(TLane.Sqrt(left), a, b, (x, _) => Math.Sqrt(x));
            Same(TLane.Truncate(left), a, b, (x, _) => Math.Truncate(x));
            Same(TLane.Min(left, right), a, b, (x, y) => x < y ? x : y);
            Same(TLane.Max(left, right), a, b, (x, y) => x > y ? x : y);
            Same(TLane.Of(a[0]), a, b, (_, _) => a[0]);
            CheckMasks<TLane>(left, right, a, b);
        }
    }

    private static void CheckMasks<TLane>(TLane left, TLane right, double[] a, double[] b)
        where TLane : struct, ILane<TLane>
    {
        TLane less = TLane.Less(left, right);
        TLane atMost = TLane.LessOrEqual(left, right);
        TLane equal = TLane.Equal(left, right);
        Masked(less, a, b, (x, y) => x < y);
        Masked(atMost, a, b, (x, y) => x <= y);
        Masked(equal, a, b, (x, y) => x == y);
        Masked(TLane.And(less, atMost), a, b, (x, y) => x < y);
        Masked(TLane.Or(less, equal), a, b, (x, y) => x <= y);
        Masked(TLane.Xor(atMost, equal), a, b, (x, y) => x < y);
        Masked(TLane.AndNot(atMost, less), a, b, (x, y) => x == y);
        Masked(TLane.AndNot(TLane.AllBits, less), a, b, (x, y) => !(x < y));
        Masked(TLane.Mask(TLane.Bits(less)), a, b, (x, y) => x < y);
        Same(TLane.Select(less, left, right), a, b, (x, y) => x < y ? x : y);
        Same(TLane.And(less, left), a, b, (x, y) => x < y ? x : 0);
    }

    private static void Masked<TLane>(TLane mask, double[] a, double[] b, Func<double, double, bool> of)
        where TLane : struct, ILane<TLane>
    {
        bool[] set = [.. a.Zip(b, of)];
        Same(mask, a, b, (x, y) => of(x, y) ? BitConverter.Int64BitsToDouble(-1) : 0);
        Assert.Equal(set.Any(bit => bit), TLane.Any(mask));
        Assert.Equal(set.All(bit => bit), TLane.All(mask));
        uint bits = 0;
        for (int lane = 0; lane < set.Length; lane++)
        {
            bits |= set[lane] ? 1u << lane : 0;
        }

        Assert.Equal(bits, TLane.Bits(mask));
    }

    // What is not a number may carry any payload.
    private static void Same<TLane>(TLane lanes, double[] a, double[] b, Func<double, double, double> of)
        where TLane : struct, ILane<TLane>
    {
        double[] stored = new double[TLane.Count];
        lanes.Store(stored);
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            double expected = of(a[lane], b[lane]);
            Assert.Equal(BitConverter.DoubleToInt64Bits(stored[lane]), BitConverter.DoubleToInt64Bits(lanes[lane]));
            Assert.True(
                double.IsNaN(expected) ? double.IsNaN(stored[lane]) : BitConverter.DoubleToInt64Bits(expected) == BitConverter.DoubleToInt64Bits(stored[lane]),
                $"{a[lane]:R}, {b[lane]:R}: {stored[lane]:R} instead of {expected:R}");
        }
    }

    private static double[] Numbers<TLane>(Random random)
        where TLane : struct, ILane<TLane> =>
        [.. Enumerable.Range(0, TLane.Count).Select(_ => random.Next(3) switch
        {
            0 => Special[random.Next(Special.Length)],
            1 => random.NextDouble() - 0.5,
            _ => BitConverter.Int64BitsToDouble(random.NextInt64(long.MinValue, long.MaxValue)),
        })];

    [Fact]
    public void A_number_is_its_mantissa_times_a_power_of_two_in_any_number_of_lanes()
    {
        var random = new Random(7);
        for (int turn = 0; turn < 2000; turn++)
        {
            double[] numbers = [.. Enumerable.Range(0, 8).Select(_ => Math.Pow(2, (random.NextDouble() * 2000) - 1000))];
            numbers[0] = Math.Sqrt(0.5) * (turn % 2 == 0 ? 1 : 1 - 2e-16);
            Split<ScalarLane>(numbers);
            Split<FourLanes>(numbers);
            Split<EightLanes>(numbers);
        }

        static void Split<TLane>(double[] numbers)
            where TLane : struct, ILane<TLane>
        {
            TLane power = TLane.PowerOfTwo(TLane.Load(numbers), out TLane mantissa);
            TLane back = TLane.TimesTwoTo(power + TLane.Of(DoubleBits.Round), mantissa);
            TLane one = TLane.MultiplyAdd(mantissa, power, TLane.Of(1 / 3.0));
            TLane less = TLane.SubtractProduct(TLane.Of(1 / 3.0), mantissa, power);
            for (int lane = 0; lane < TLane.Count; lane++)
            {
                Assert.Equal(numbers[lane], back[lane]);
                Assert.Equal(Math.Round(power[lane]), power[lane]);
                Assert.InRange(mantissa[lane], 0.70710678118654746, 1.4142135623730951);
                Assert.Equal(Math.FusedMultiplyAdd(mantissa[lane], power[lane], 1 / 3.0), one[lane]);
                Assert.Equal(Math.FusedMultiplyAdd(-mantissa[lane], power[lane], 1 / 3.0), less[lane]);
            }
        }
    }

    [Fact]
    public void A_number_is_put_into_one_lane_only()
    {
        Put<ScalarLane>();
        Put<FourLanes>();
        Put<EightLanes>();

        static void Put<TLane>()
            where TLane : struct, ILane<TLane>
        {
            for (int lane = 0; lane < TLane.Count; lane++)
            {
                TLane put = TLane.With(TLane.Of(3), lane, 7);
                for (int other = 0; other < TLane.Count; other++)
                {
                    Assert.Equal(other == lane ? 7 : 3, put[other]);
                }
            }
        }
    }

    [Fact]
    public void Rows_of_a_table_are_found_for_each_lane()
    {
        double[] table = [.. Enumerable.Range(0, 400).Select(number => number + 0.25)];
        var random = new Random(5);
        for (int turn = 0; turn < 200; turn++)
        {
            Look<ScalarLane>();
            Look<FourLanes>();
            Look<EightLanes>();
        }

        void Look<TLane>()
            where TLane : struct, ILane<TLane>
        {
            double[] rows = [.. Enumerable.Range(0, TLane.Count).Select(_ => (double)random.Next(100))];
            TLane.Row(table, TLane.Load(rows), out TLane first, out TLane second, out TLane third, out TLane fourth);
            for (int lane = 0; lane < TLane.Count; lane++)
            {
                int at = 4 * (int)rows[lane];
                Assert.Equal((table[at], table[at + 1], table[at + 2], table[at + 3]), (first[lane], second[lane], third[lane], fourth[lane]));
            }
        }
    }

    // Equal numbers, what is no number, and each lane alone on the other side.
    [Fact]
    public void Comparisons_without_a_mask_are_those_of_their_masks()
    {
        double[] numbers = [0, -0.0, 1, -1, double.NaN, double.PositiveInfinity, double.NegativeInfinity, 5e-324];
        Compared<ScalarLane>();
        Compared<FourLanes>();
        Compared<EightLanes>();

        void Compared<TLane>()
            where TLane : struct, ILane<TLane>
        {
            foreach ((double left, double right, double odd) in from left in numbers from right in numbers from odd in numbers select (left, right, odd))
            {
                for (int lane = 0; lane < TLane.Count; lane++)
                {
                    TLane a = TLane.With(TLane.Of(left), lane, odd);
                    TLane b = TLane.Of(right);
                    bool[] less = [.. Enumerable.Range(0, TLane.Count).Select(at => a[at] < b[at])];
                    bool[] lessOrEqual = [.. Enumerable.Range(0, TLane.Count).Select(at => a[at] <= b[at])];
                    Assert.Equal(Array.Exists(less, holds => holds), TLane.AnyLess(a, b));
                    Assert.Equal(Array.TrueForAll(less, holds => holds), TLane.AllLess(a, b));
                    Assert.Equal(Array.TrueForAll(lessOrEqual, holds => holds), TLane.AllLessOrEqual(a, b));
                }
            }
        }
    }

    // Places are looked at together before any is read.
    [Theory]
    [InlineData(100)]
    [InlineData(-1)]
    [InlineData(1e9)]
    public void A_row_that_is_not_in_the_table_is_refused(double row)
    {
        double[] table = new double[400];
        Refused<ScalarLane>();
        Refused<FourLanes>();
        Refused<EightLanes>();

        void Refused<TLane>()
            where TLane : struct, ILane<TLane>
        {
            for (int lane = 0; lane < TLane.Count; lane++)
            {
                TLane rows = TLane.With(TLane.Of(99), lane, row);
                Assert.ThrowsAny<ArgumentException>(() => TLane.Row(table, rows, out _, out _, out _, out _));
            }
        }
    }

    // Inside the table, at its ends and beyond them, all in one register.
    [Fact]
    public void Saturation_of_lanes_is_that_of_a_number()
    {
        double[] temperaturesC = [.. Enumerable.Range(0, 4000).Select(step => -75 + (step * 0.0437)), -60, 0.01, 90, double.NaN, 1e300, -273];
        Look<ScalarLane>();
        Look<FourLanes>();
        Look<EightLanes>();

        void Look<TLane>()
            where TLane : struct, ILane<TLane>
        {
            for (int from = 0; from + TLane.Count <= temperaturesC.Length; from++)
            {
                TLane pa = SaturationTable.Pa(TLane.Load(temperaturesC.AsSpan(from)), out TLane slope);
                for (int lane = 0; lane < TLane.Count; lane++)
                {
                    Assert.Equal(SaturationTable.Pa(temperaturesC[from + lane], out double expected), pa[lane]);
                    Assert.Equal(expected, slope[lane]);
                }
            }
        }
    }
}
