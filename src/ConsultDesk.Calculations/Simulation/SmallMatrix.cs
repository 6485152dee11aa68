namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// Linear systems of the zones, whose matrices dominate by their diagonal: L U without pivoting, in place, the inverse of
/// U's diagonal on the diagonal. Four zones, as most vans have, are written out; the order of operations is the same.
/// </summary>
internal static class SmallMatrix
{
    private const int Four = 4;

    /// <summary>Factorises a matrix of size x size numbers by rows.</summary>
    public static void Factorise(double[] matrix, int size)
    {
        if (size == Four)
        {
            FactoriseFour(matrix.AsSpan(0, Four * Four));
            return;
        }

        for (int k = 0; k < size; k++)
        {
            int pivotRow = k * size;
            double inverse = 1 / matrix[pivotRow + k];
            matrix[pivotRow + k] = inverse;
            for (int row = pivotRow + size; row < matrix.Length; row += size)
            {
                double factor = matrix[row + k] * inverse;
                matrix[row + k] = factor;
                for (int j = k + 1; j < size; j++)
                {
                    matrix[row + j] -= factor * matrix[pivotRow + j];
                }
            }
        }
    }

    /// <summary>Solves in place with the factors of <see cref="Factorise"/>.</summary>
    public static void Solve(double[] factors, double[] right, int size)
    {
        if (size == Four)
        {
            SolveFour(factors.AsSpan(0, Four * Four), right.AsSpan(0, Four));
            return;
        }

        for (int i = 1; i < size; i++)
        {
            double sum = right[i];
            for (int j = 0; j < i; j++)
            {
                sum -= factors[(i * size) + j] * right[j];
            }

            right[i] = sum;
        }

        for (int i = size - 1; i >= 0; i--)
        {
            double sum = right[i];
            for (int j = i + 1; j < size; j++)
            {
                sum -= factors[(i * size) + j] * right[j];
            }

            right[i] = sum * factors[(i * size) + i];
        }
    }

    /// <summary>The inverse of a matrix from the factors of <see cref="Factorise"/>.</summary>
    /// <param name="factors">The factors.</param>
    /// <param name="inverse">Receives it by rows.</param>
    /// <param name="column">Room for a column.</param>
    /// <param name="size">Rows and columns.</param>
    public static void Invert(double[] factors, double[] inverse, double[] column, int size)
    {
        for (int j = 0; j < size; j++)
        {
            Array.Clear(column);
            column[j] = 1;
            Solve(factors, column, size);
            for (int i = 0; i < size; i++)
            {
                inverse[(i * size) + j] = column[i];
            }
        }
    }

    /// <summary>A matrix by rows times a vector.</summary>
    public static void Multiply(double[] matrix, double[] vector, double[] answer, int size)
    {
        if (size == Four)
        {
            MultiplyFour(matrix.AsSpan(0, Four * Four), vector.AsSpan(0, Four), answer.AsSpan(0, Four));
            return;
        }

        for (int i = 0; i < size; i++)
        {
            double sum = 0;
            for (int j = 0; j < size; j++)
            {
                sum += matrix[(i * size) + j] * vector[j];
            }

            answer[i] = sum;
        }
    }

    private static void FactoriseFour(Span<double> m)
    {
        double p0 = 1 / m[0];
        double l10 = m[4] * p0;
        double l20 = m[8] * p0;
        double l30 = m[12] * p0;
        double p1 = 1 / (m[5] - (l10 * m[1]));
        double u12 = m[6] - (l10 * m[2]);
        double u13 = m[7] - (l10 * m[3]);
        double l21 = (m[9] - (l20 * m[1])) * p1;
        double l31 = (m[13] - (l30 * m[1])) * p1;
        double p2 = 1 / (m[10] - (l20 * m[2]) - (l21 * u12));
        double u23 = m[11] - (l20 * m[3]) - (l21 * u13);
        double l32 = (m[14] - (l30 * m[2]) - (l31 * u12)) * p2;
        double p3 = 1 / (m[15] - (l30 * m[3]) - (l31 * u13) - (l32 * u23));
        m[0] = p0;
        m[4] = l10;
        m[8] = l20;
        m[12] = l30;
        m[5] = p1;
        m[6] = u12;
        m[7] = u13;
        m[9] = l21;
        m[13] = l31;
        m[10] = p2;
        m[11] = u23;
        m[14] = l32;
        m[15] = p3;
    }

    private static void SolveFour(ReadOnlySpan<double> f, Span<double> right)
    {
        double y0 = right[0];
        double y1 = right[1] - (f[4] * y0);
        double y2 = right[2] - (f[8] * y0) - (f[9] * y1);
        double x3 = (right[3] - (f[12] * y0) - (f[13] * y1) - (f[14] * y2)) * f[15];
        double x2 = (y2 - (f[11] * x3)) * f[10];
        double x1 = (y1 - (f[6] * x2) - (f[7] * x3)) * f[5];
        right[0] = (y0 - (f[1] * x1) - (f[2] * x2) - (f[3] * x3)) * f[0];
        right[1] = x1;
        right[2] = x2;
        right[3] = x3;
    }

    private static void MultiplyFour(ReadOnlySpan<double> m, ReadOnlySpan<double> vector, Span<double> answer)
    {
        double v0 = vector[0];
        double v1 = vector[1];
        double v2 = vector[2];
        double v3 = vector[3];
        answer[0] = (m[0] * v0) + (m[1] * v1) + (m[2] * v2) + (m[3] * v3);
        answer[1] = (m[4] * v0) + (m[5] * v1) + (m[6] * v2) + (m[7] * v3);
        answer[2] = (m[8] * v0) + (m[9] * v1) + (m[10] * v2) + (m[11] * v3);
        answer[3] = (m[12] * v0) + (m[13] * v1) + (m[14] * v2) + (m[15] * v3);
    }
}
