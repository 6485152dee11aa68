namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// Linear systems of the zones, whose matrices dominate by their diagonal: L U without pivoting, in place, the inverse of
/// U's diagonal on the diagonal.
/// </summary>
internal static class SmallMatrix
{
    /// <summary>Factorises a matrix of size x size numbers by rows.</summary>
    public static void Factorise(Span<double> matrix, int size)
    {
        for (int k = 0; k < size; k++)
        {
            Span<double> pivotRow = matrix.Slice(k * size, size);
            double inverse = 1 / pivotRow[k];
            pivotRow[k] = inverse;
            for (int i = k + 1; i < size; i++)
            {
                Span<double> row = matrix.Slice(i * size, size);
                double factor = row[k] * inverse;
                row[k] = factor;
                for (int j = k + 1; j < size; j++)
                {
                    row[j] -= factor * pivotRow[j];
                }
            }
        }
    }

    /// <summary>Solves in place with the factors of <see cref="Factorise"/>.</summary>
    public static void Solve(ReadOnlySpan<double> factors, Span<double> right, int size)
    {
        for (int i = 1; i < size; i++)
        {
            double sum = right[i];
            ReadOnlySpan<double> row = factors.Slice(i * size, i);
            for (int j = 0; j < row.Length; j++)
            {
                sum -= row[j] * right[j];
            }

            right[i] = sum;
        }

        for (int i = size - 1; i >= 0; i--)
        {
            double sum = right[i];
            ReadOnlySpan<double> row = factors.Slice(i * size, size);
            for (int j = i + 1; j < size; j++)
            {
                sum -= row[j] * right[j];
            }

            right[i] = sum * row[i];
        }
    }
}
