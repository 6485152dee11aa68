namespace ConsultDesk.Calculations.Unknowns;

/// <summary>What is read out of some samples.</summary>
internal static class Statistics
{
    // Two-sided 95 % of the normal distribution.
    private const double Z = 1.959963984540054;

    /// <summary>
    /// The value below which a share of what the samples stand for lies: straight between the middles of the samples' stripes, (k - 1/2)/n (Hazen 1914; definition 5 of
    /// Hyndman and Fan 1996, The American Statistician 50:361), which is exact for a line of points with one in each stripe's middle.
    /// </summary>
    /// <param name="sorted">The samples from the lowest to the highest, at least one.</param>
    /// <param name="share">0 to 1.</param>
    public static double Quantile(double[] sorted, double share)
    {
        double at = (sorted.Length * share) - 0.5;
        int below = Math.Clamp((int)Math.Floor(at), 0, sorted.Length - 1);
        int above = Math.Min(below + 1, sorted.Length - 1);
        return sorted[below] + (Math.Clamp(at - below, 0, 1) * (sorted[above] - sorted[below]));
    }

    /// <summary>
    /// Where the share lies of which so many of some samples are an observation, 95 % (the score interval of Wilson 1927, Journal of the American Statistical
    /// Association 22:209). It takes the samples as drawn independently; points spread more evenly scatter less.
    /// </summary>
    public static (double Least, double Most) ShareOf(int holds, int of)
    {
        if (of == 0)
        {
            return (0, 1);
        }

        double share = (double)holds / of;
        double z2 = Z * Z / of;
        double middle = share + (z2 / 2);
        double half = Z * Math.Sqrt((share * (1 - share) / of) + (z2 / (4 * of)));
        // At the ends the root and the middle are the same but for rounding.
        return (holds == 0 ? 0 : (middle - half) / (1 + z2), holds == of ? 1 : (middle + half) / (1 + z2));
    }

    /// <summary>Ranks from 1, those of equals their mean.</summary>
    public static double[] Ranks(double[] values)
    {
        int[] order = [.. Enumerable.Range(0, values.Length).OrderBy(index => values[index])];
        double[] ranks = new double[values.Length];
        for (int from = 0; from < order.Length;)
        {
            int to = from;
            while (to < order.Length && values[order[to]] == values[order[from]])
            {
                to++;
            }

            for (int at = from; at < to; at++)
            {
                ranks[order[at]] = (from + to + 1) / 2.0;
            }

            from = to;
        }

        return ranks;
    }

    /// <summary>Correlation of two rows of ranks, -1 to 1 (Spearman 1904); 0 where one of them is all equal.</summary>
    public static double Correlation(double[] a, double[] b)
    {
        double middle = (a.Length + 1) / 2.0;
        double ab = 0;
        double aa = 0;
        double bb = 0;
        for (int index = 0; index < a.Length; index++)
        {
            double da = a[index] - middle;
            double db = b[index] - middle;
            ab += da * db;
            aa += da * da;
            bb += db * db;
        }

        return aa > 0 && bb > 0 ? ab / Math.Sqrt(aa * bb) : 0;
    }
}
