namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// Linear systems of the zones, whose matrices dominate by their diagonal: L U without pivoting, in place, the inverse of
/// U's diagonal on the diagonal.
/// </summary>
internal static class SmallMatrix
{
    /// <summary>Factorises a matrix of size x size numbers by rows.</summary>
    public static void Factorise(double[] matrix, int size)
    {
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
}
