using System.Collections.Immutable;
using System.Globalization;

namespace ConsultDesk.Calculations.Unknowns;

/// <summary>
/// Points spread more evenly over a cube than chance would: the sequence of Sobol (1967, USSR Computational Mathematics and Mathematical Physics 7:86) with
/// the direction numbers of Joe and Kuo (2008, SIAM Journal on Scientific Computing 30:2635; <c>sobol.csv</c>) in the order of Gray's code, scrambled as Owen
/// (1995, Randomly permuted (t,m,s)-nets and (t,s)-sequences) has it: each digit turned or not by what a seed draws for the digits before it. Of 2^k points
/// every coordinate has one in each of 2^k stripes, scrambled or not.
/// </summary>
internal static class Sobol
{
    private const int Bits = 32;
    private const double PerUnit = 1.0 / (1UL << Bits);

    private static readonly ImmutableArray<ImmutableArray<uint>> Directions = [First(), .. EmbeddedTable.Rows("Unknowns.sobol.csv", columns: 5).Select(Read)];

    /// <summary>Coordinates there are direction numbers for.</summary>
    public static int Dimensions => Directions.Length;

    /// <summary>So many points of the sequence as it is published, the first of them 0; each coordinate from 0 to less than 1.</summary>
    /// <param name="count">How many.</param>
    /// <param name="dimensions">Coordinates, 1 to <see cref="Dimensions"/>.</param>
    public static double[][] Points(int count, int dimensions) => [.. Digits(count, dimensions).Select(point => Array.ConvertAll(point, digits => digits * PerUnit))];

    /// <summary>The same scrambled from a seed; each coordinate more than 0 and less than 1.</summary>
    /// <param name="count">How many.</param>
    /// <param name="dimensions">Coordinates, 1 to <see cref="Dimensions"/>.</param>
    /// <param name="seed">Where the scrambling begins.</param>
    public static double[][] Scrambled(int count, int dimensions, int seed) =>
    [
        .. Digits(count, dimensions).Select(point =>
        {
            double[] scrambled = new double[dimensions];
            for (int k = 0; k < dimensions; k++)
            {
                // The middle of the finest cell, so that none is 0.
                scrambled[k] = (Turned(point[k], Mixed(((ulong)(uint)seed << 32) + (ulong)k)) + 0.5) * PerUnit;
            }

            return scrambled;
        }),
    ];

    private static uint[][] Digits(int count, int dimensions)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(dimensions, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(dimensions, Dimensions);
        uint[][] points = new uint[count][];
        points[0] = new uint[dimensions];
        for (int i = 1; i < count; i++)
        {
            // Gray's code of i differs from that of i - 1 in the lowest digit of i that is 1.
            int digit = int.TrailingZeroCount(i);
            points[i] = new uint[dimensions];
            for (int k = 0; k < dimensions; k++)
            {
                points[i][k] = points[i - 1][k] ^ Directions[k][digit];
            }
        }

        return points;
    }

    private static uint Turned(uint digits, ulong coordinate)
    {
        uint turned = 0;
        for (int bit = Bits - 1; bit >= 0; bit--)
        {
            // A 1 before the digits that were: none of two prefixes of different lengths are the same number.
            ulong prefix = ((ulong)digits | (1UL << Bits)) >> (bit + 1);
            turned |= ((digits >> bit) ^ ((uint)Mixed(coordinate ^ Mixed(prefix)) & 1)) << bit & (1U << bit);
        }

        return turned;
    }

    // The finaliser of SplitMix64 (Steele, Lea and Flood 2014).
    private static ulong Mixed(ulong z)
    {
        z += 0x9E3779B97F4A7C15;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }

    // The first coordinate halves and halves again.
    private static ImmutableArray<uint> First() => [.. Enumerable.Range(1, Bits).Select(k => 1U << (Bits - k))];

    // v of k = a_1 v of k-1 + ... + a_(s-1) v of k-s+1 + v of k-s + v of k-s shifted by s, sums without carry; v = m / 2^k.
    private static ImmutableArray<uint> Read(string[] row)
    {
        int degree = int.Parse(row[1], CultureInfo.InvariantCulture);
        uint coefficients = uint.Parse(row[2], CultureInfo.InvariantCulture);
        uint[] initial = [.. row[3].Split(' ').Select(cell => uint.Parse(cell, CultureInfo.InvariantCulture))];
        if (initial.Length != degree)
        {
            throw new InvalidOperationException($"sobol.csv has {initial.Length} initial numbers instead of {degree} in dimension {row[0]}.");
        }

        uint[] v = new uint[Bits];
        for (int k = 0; k < Bits; k++)
        {
            if (k < degree)
            {
                v[k] = initial[k] << (Bits - 1 - k);
                continue;
            }

            v[k] = v[k - degree] ^ (v[k - degree] >> degree);
            for (int j = 1; j < degree; j++)
            {
                v[k] ^= ((coefficients >> (degree - 1 - j)) & 1) * v[k - j];
            }
        }

        return [.. v];
    }
}
