namespace ConsultDesk.Calculations.Simulation;

/// <summary>Small dense systems of linear equations.</summary>
internal static class LinearSystem
{
    /// <summary>Gaussian elimination with partial pivoting; overwrites the matrix, leaves the answer in the right side.</summary>
    /// <exception cref="NightNotConvergedException">The matrix has no inverse.</exception>
    public static void Solve(Span<double> matrix, Span<double> right, int size)
    {
        if (!TrySolve(matrix, right, size))
        {
            throw new NightNotConvergedException("The balance of the zones has no single answer.");
        }
    }

    /// <summary>The same; false when the matrix has no inverse.</summary>
    public static bool TrySolve(Span<double> matrix, Span<double> right, int size)
    {
        for (int k = 0; k < size; k++)
        {
            int pivot = k;
            for (int row = k + 1; row < size; row++)
            {
                if (Math.Abs(matrix[(row * size) + k]) > Math.Abs(matrix[(pivot * size) + k]))
                {
                    pivot = row;
                }
            }

            if (!(Math.Abs(matrix[(pivot * size) + k]) > 0))
            {
                return false;
            }

            if (pivot != k)
            {
                for (int column = k; column < size; column++)
                {
                    (matrix[(k * size) + column], matrix[(pivot * size) + column]) = (matrix[(pivot * size) + column], matrix[(k * size) + column]);
                }

                (right[k], right[pivot]) = (right[pivot], right[k]);
            }

            for (int row = k + 1; row < size; row++)
            {
                double factor = matrix[(row * size) + k] / matrix[(k * size) + k];
                if (factor == 0)
                {
                    continue;
                }

                for (int column = k + 1; column < size; column++)
                {
                    matrix[(row * size) + column] -= factor * matrix[(k * size) + column];
                }

                right[row] -= factor * right[k];
            }
        }

        for (int row = size - 1; row >= 0; row--)
        {
            double sum = right[row];
            for (int column = row + 1; column < size; column++)
            {
                sum -= matrix[(row * size) + column] * right[column];
            }

            right[row] = sum / matrix[(row * size) + row];
        }

        return true;
    }
}
