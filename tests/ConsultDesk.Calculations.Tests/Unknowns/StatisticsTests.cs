using ConsultDesk.Calculations.Unknowns;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Unknowns;

/// <summary>Quantiles, shares and rank correlations against published examples and exact values.</summary>
public sealed class StatisticsTests
{
    // Newcombe 1998 (Statistics in Medicine 17:857), table I, score method without continuity correction: memory.
    [Theory]
    [InlineData(81, 263, 0.2553, 0.3662)]
    [InlineData(15, 148, 0.0624, 0.1605)]
    [InlineData(0, 20, 0.0000, 0.1611)]
    [InlineData(1, 29, 0.0061, 0.1718)]
    public void The_interval_of_a_share_is_the_published_one(int holds, int of, double least, double most)
    {
        (double low, double high) = Statistics.ShareOf(holds, of);
        Assert.Equal(least, low, 0.00005);
        Assert.Equal(most, high, 0.00005);
    }

    // The ends are where the share observed is just 1.96 standard errors off (Wilson 1927): derived.
    [Fact]
    public void At_the_ends_of_the_interval_the_observation_is_two_standard_errors_off()
    {
        for (int holds = 1; holds < 64; holds++)
        {
            (double least, double most) = Statistics.ShareOf(holds, 64);
            double share = holds / 64.0;
            Assert.Equal(1.959964, (share - least) / Math.Sqrt(least * (1 - least) / 64), 1e-6);
            Assert.Equal(1.959964, (most - share) / Math.Sqrt(most * (1 - most) / 64), 1e-6);
        }

        Assert.Equal(0, Statistics.ShareOf(0, 64).Least);
        Assert.Equal(1, Statistics.ShareOf(64, 64).Most);
        Assert.Equal((0, 1), Statistics.ShareOf(0, 0));
    }

    // Definition 5 of Hyndman and Fan: through (k - 1/2)/n, derived.
    [Fact]
    public void A_quantile_lies_straight_between_the_middles_of_the_stripes()
    {
        double[] five = [10, 20, 30, 40, 50];
        Assert.Equal(10, Statistics.Quantile(five, 0.1), 1e-12);
        Assert.Equal(30, Statistics.Quantile(five, 0.5), 1e-12);
        Assert.Equal(22.5, Statistics.Quantile(five, 0.35), 1e-12);
        Assert.Equal(50, Statistics.Quantile(five, 0.9), 1e-12);
        Assert.Equal(10, Statistics.Quantile(five, 0), 1e-12);
        Assert.Equal(50, Statistics.Quantile(five, 1), 1e-12);
        Assert.Equal(7, Statistics.Quantile([7], 0.9));
    }

    // A sum of two triangular densities on -1 to 1 has its 90 % point where 1 - (2 - x)^4/24 = 0.9, x = 2 - 2.4^(1/4): derived, the density near the end being (2 - x)^3/6.
    [Fact]
    public void A_linear_toy_has_the_quantiles_it_has_exactly_the_nearer_the_more_samples()
    {
        double exact = 2 - Math.Pow(2.4, 0.25);
        double Miss(int count) => Enumerable.Range(0, 16).Average(seed =>
        {
            double[] sums = [.. Sobol.Scrambled(count, 2, seed).Select(point => point.Sum(Triangle)).Order()];
            return Math.Max(Math.Abs(Statistics.Quantile(sums, 0.9) - exact), Math.Abs(Statistics.Quantile(sums, 0.1) + exact));
        });

        double[] misses = [Miss(32), Miss(64), Miss(256), Miss(1024)];
        Assert.True(misses[0] > misses[1] && misses[1] > misses[2] && misses[2] > misses[3], string.Join(" ", misses));
        Assert.InRange(misses[1], 0, 0.08);
        Assert.InRange(misses[3], 0, 0.015);
    }

    private static double Triangle(double chance) => ConsultDesk.Calculations.Search.Worlds.Triangular(chance, 0.5, 0.5);

    [Fact]
    public void Ranks_of_equals_are_their_mean()
    {
        Assert.Equal([2.5, 1, 2.5, 4], Statistics.Ranks([5, 3, 5, 9]));
        Assert.Equal([2, 2, 2], Statistics.Ranks([1, 1, 1]));
    }

    // Without ties 1 - 6 sum(d^2)/(n(n^2 - 1)) (Spearman 1904): here d = 1, -1, 1, -1, 0 and 1 - 6 x 4/120 = 0.8, derived.
    [Fact]
    public void The_correlation_of_ranks_is_Spearmans()
    {
        Assert.Equal(0.8, Statistics.Correlation([1, 2, 3, 4, 5], [2, 1, 4, 3, 5]), 1e-12);
        Assert.Equal(-1, Statistics.Correlation([1, 2, 3], [3, 2, 1]), 1e-12);
        Assert.Equal(0, Statistics.Correlation([2, 2, 2], [3, 2, 1]));
    }
}
