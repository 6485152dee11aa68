namespace ConsultDesk.Calculations.Search;

/// <summary>
/// A straight line through many numbers, held back a little (ridge regression: Hoerl and Kennard 1970, Technometrics 12:55), with what each point is missed
/// by when it is left out of the fit (Allen 1974, Technometrics 16:125): r / (1 - h), h the point's own weight in the fit.
/// </summary>
internal sealed class StraightFit
{
    private readonly double[] _mean;
    private readonly double[] _scale;
    private readonly double[] _slope;
    private readonly double _intercept;

    private StraightFit(double[] mean, double[] scale, double[] slope, double intercept, double[] missed) =>
        (_mean, _scale, _slope, _intercept, Missed) = (mean, scale, slope, intercept, missed);

    /// <summary>Estimate less truth of each point when the fit does not know it.</summary>
    public double[] Missed { get; }

    /// <summary>The estimate at a point.</summary>
    public double At(ReadOnlySpan<double> features)
    {
        double sum = _intercept;
        for (int k = 0; k < _slope.Length; k++)
        {
            sum += _slope[k] * (features[k] - _mean[k]) / _scale[k];
        }

        return sum;
    }

    /// <summary>Fits y to rows of features. The ridge is chosen among a few by the least sum of squares left out.</summary>
    public static StraightFit Of(IReadOnlyList<double[]> rows, double[] y)
    {
        StraightFit? best = null;
        double least = double.PositiveInfinity;
        foreach (double ridge in new[] { 0.03, 0.3, 3.0, 30.0 })
        {
            StraightFit fit = Of(rows, y, ridge);
            double sum = fit.Missed.Sum(missed => missed * missed);
            if (sum < least)
            {
                (best, least) = (fit, sum);
            }
        }

        return best!;
    }

    private static StraightFit Of(IReadOnlyList<double[]> rows, double[] y, double ridge)
    {
        int n = rows.Count;
        int p = rows[0].Length;
        double[] mean = new double[p];
        double[] scale = new double[p];
        for (int k = 0; k < p; k++)
        {
            mean[k] = rows.Average(row => row[k]);
            double variance = rows.Average(row => (row[k] - mean[k]) * (row[k] - mean[k]));
            scale[k] = variance > 1e-18 ? Math.Sqrt(variance) : 1;
        }

        double[][] z = [.. rows.Select(row => row.Select((value, k) => (value - mean[k]) / scale[k]).ToArray())];
        double intercept = y.Average();
        double[,] cholesky = new double[p, p];
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                double sum = i == j ? ridge : 0;
                for (int row = 0; row < n; row++)
                {
                    sum += z[row][i] * z[row][j];
                }

                for (int k = 0; k < j; k++)
                {
                    sum -= cholesky[i, k] * cholesky[j, k];
                }

                cholesky[i, j] = i == j ? Math.Sqrt(sum) : sum / cholesky[j, j];
            }
        }

        double[] right = new double[p];
        for (int k = 0; k < p; k++)
        {
            for (int row = 0; row < n; row++)
            {
                right[k] += z[row][k] * (y[row] - intercept);
            }
        }

        double[] slope = Back(cholesky, Forward(cholesky, right));
        double[] missed = new double[n];
        for (int row = 0; row < n; row++)
        {
            double estimate = intercept;
            for (int k = 0; k < p; k++)
            {
                estimate += slope[k] * z[row][k];
            }

            double[] half = Forward(cholesky, z[row]);
            double weight = (1.0 / n) + half.Sum(value => value * value);
            missed[row] = (estimate - y[row]) / Math.Max(1e-9, 1 - weight);
        }

        return new StraightFit(mean, scale, slope, intercept, missed);
    }

    private static double[] Forward(double[,] lower, double[] right)
    {
        double[] solved = new double[right.Length];
        for (int i = 0; i < right.Length; i++)
        {
            double sum = right[i];
            for (int k = 0; k < i; k++)
            {
                sum -= lower[i, k] * solved[k];
            }

            solved[i] = sum / lower[i, i];
        }

        return solved;
    }

    private static double[] Back(double[,] lower, double[] right)
    {
        double[] solved = new double[right.Length];
        for (int i = right.Length - 1; i >= 0; i--)
        {
            double sum = right[i];
            for (int k = i + 1; k < right.Length; k++)
            {
                sum -= lower[k, i] * solved[k];
            }

            solved[i] = sum / lower[i, i];
        }

        return solved;
    }
}
