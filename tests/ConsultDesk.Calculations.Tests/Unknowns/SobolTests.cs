using ConsultDesk.Calculations.Unknowns;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Unknowns;

/// <summary>Points of the Sobol sequence against what is published of them, and what scrambling may not change.</summary>
public sealed class SobolTests
{
    // Joe and Kuo's program for ten points in three dimensions: memory. The first two coordinates are also those of Bratley and Fox 1988 (ACM TOMS 14:88), memory; the third
    // follows by hand from its direction numbers 1/2, 3/4, ... of the polynomial x^2 + x + 1: derived.
    [Fact]
    public void The_first_points_in_three_dimensions_are_the_published_ones() => Assert.Equal(
        [
            [0, 0, 0],
            [0.5, 0.5, 0.5],
            [0.75, 0.25, 0.25],
            [0.25, 0.75, 0.75],
            [0.375, 0.375, 0.625],
            [0.875, 0.875, 0.125],
            [0.625, 0.125, 0.875],
            [0.125, 0.625, 0.375],
            [0.1875, 0.3125, 0.9375],
            [0.6875, 0.8125, 0.4375],
        ],
        Sobol.Points(10, 3));

    // The table itself: the first lines of new-joe-kuo-6.21201 as three public programs carry them, read. Here what must hold of any such table: primitive polynomials, every
    // initial number odd and below its power of two, and (property A of Sobol) of the first 2^d points one in every half of all d coordinates together.
    [Fact]
    public void The_direction_numbers_are_those_of_primitive_polynomials_and_tell_all_halves_apart()
    {
        string[][] rows = [.. EmbeddedTable.Rows("Unknowns.sobol.csv", columns: 5)];
        HashSet<(int, uint)> polynomials = [];
        foreach (string[] row in rows)
        {
            (int degree, uint inner) = (int.Parse(row[1], null), uint.Parse(row[2], null));
            Assert.True(polynomials.Add((degree, inner)));
            Assert.True(IsPrimitive(degree, (1U << degree) | (inner << 1) | 1), $"dimension {row[0]}");
            uint[] initial = [.. row[3].Split(' ').Select(cell => uint.Parse(cell, null))];
            Assert.All(initial.Select((m, k) => (m, k)), pair => Assert.True(pair.m % 2 == 1 && pair.m < 2U << pair.k));
        }

        const int Together = 12;
        double[][] points = Sobol.Points(1 << Together, Together);
        Assert.Equal(1 << Together, points.Select(point => point.Aggregate(0, (halves, at) => (2 * halves) + (at < 0.5 ? 0 : 1))).Distinct().Count());
    }

    [Theory]
    [InlineData(16)]
    [InlineData(64)]
    [InlineData(128)]
    public void Every_coordinate_has_one_point_in_each_stripe_scrambled_or_not(int count)
    {
        foreach (double[][] points in new[] { Sobol.Points(count, Sobol.Dimensions), Sobol.Scrambled(count, Sobol.Dimensions, 1), Sobol.Scrambled(count, Sobol.Dimensions, -5) })
        {
            for (int k = 0; k < Sobol.Dimensions; k++)
            {
                Assert.Equal(Enumerable.Range(0, count), points.Select(point => (int)(point[k] * count)).Order());
            }
        }
    }

    // A (0, 6, 2)-net: of 64 points one in each box of every shape 2^-a by 2^-(6-a) (Sobol 1967), and scrambling keeps it one (Owen 1995).
    [Fact]
    public void The_first_two_coordinates_have_one_point_in_every_box()
    {
        foreach (double[][] points in new[] { Sobol.Points(64, 2), Sobol.Scrambled(64, 2, 7) })
        {
            for (int a = 0; a <= 6; a++)
            {
                Assert.Equal(64, points.Select(point => ((int)(point[0] * (1 << a)), (int)(point[1] * (1 << (6 - a))))).Distinct().Count());
            }
        }
    }

    [Fact]
    public void A_seed_gives_the_same_points_every_time_and_another_seed_others()
    {
        double[][] first = Sobol.Scrambled(64, 21, 3);
        Assert.Equal(first, Sobol.Scrambled(64, 21, 3));
        Assert.NotEqual(first, Sobol.Scrambled(64, 21, 4));
        Assert.All(first, point => Assert.All(point, at => Assert.InRange(at, double.Epsilon, 1 - double.Epsilon)));
        // More points are more of the same: the first are kept.
        Assert.Equal(first, Sobol.Scrambled(128, 21, 3)[..64]);
    }

    // Mean of exp(x1 + ... + x5) over the cube, (e - 1)^5: derived. Scrambled points miss by less than the root of their number alone would let them, and less with more.
    [Fact]
    public void A_smooth_mean_is_met_the_better_the_more_points()
    {
        double exact = Math.Pow(Math.E - 1, 5);
        double Miss(int count) => Enumerable.Range(0, 20).Average(seed => Math.Abs((Sobol.Scrambled(count, 5, seed).Average(point => Math.Exp(point.Sum())) / exact) - 1));
        double[] misses = [Miss(64), Miss(256), Miss(1024)];
        Assert.True(misses[1] < misses[0] / 2 && misses[2] < misses[1] / 2, string.Join(" ", misses));
        // Of random points the standard deviation is 0.59 of the mean over the root of their number, their mean miss 0.8 of that: derived.
        Assert.True(misses[0] < 0.8 * 0.59 / Math.Sqrt(64) / 2, string.Join(" ", misses));
    }

    [Theory]
    [InlineData(0, 1)]
    [InlineData(4, 0)]
    [InlineData(4, 22)]
    public void What_cannot_be_drawn_is_refused(int count, int dimensions) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Sobol.Scrambled(count, dimensions, 1));

    // x has order 2^degree - 1 in the field of the polynomial and no smaller one.
    private static bool IsPrimitive(int degree, uint polynomial)
    {
        uint power = 1;
        for (int order = 1; order < (1 << degree); order++)
        {
            power <<= 1;
            power ^= (power >> degree) == 1 ? polynomial : 0;
            if (power == 1)
            {
                return order == (1 << degree) - 1;
            }
        }

        return false;
    }
}
