using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// Linear systems of the zones, whose matrices dominate by their diagonal: L U without pivoting, in place, the inverse of
/// U's diagonal on the diagonal. Four zones, as most vans have, are written out; the order of operations is the same.
/// </summary>
internal static class SmallMatrix
{
    private const int Four = 4;

    /// <summary>Factorises a matrix of size x size numbers by rows.</summary>
    public static void Factorise<TLane>(Span<TLane> matrix, int size)
        where TLane : struct, ILane<TLane>
    {
        if (size == Four)
        {
            FactoriseFour(matrix[..(Four * Four)]);
            return;
        }

        for (int k = 0; k < size; k++)
        {
            int pivotRow = k * size;
            TLane inverse = TLane.Of(1) / matrix[pivotRow + k];
            matrix[pivotRow + k] = inverse;
            for (int row = pivotRow + size; row < matrix.Length; row += size)
            {
                TLane factor = matrix[row + k] * inverse;
                matrix[row + k] = factor;
                for (int j = k + 1; j < size; j++)
                {
                    matrix[row + j] = TLane.SubtractProduct(matrix[row + j], factor, matrix[pivotRow + j]);
                }
            }
        }
    }

    /// <summary>Solves in place with the factors of <see cref="Factorise"/>.</summary>
    public static void Solve<TLane>(ReadOnlySpan<TLane> factors, Span<TLane> right, int size)
        where TLane : struct, ILane<TLane>
    {
        if (size == Four)
        {
            SolveFour(factors[..(Four * Four)], right[..Four]);
            return;
        }

        for (int i = 1; i < size; i++)
        {
            TLane sum = right[i];
            for (int j = 0; j < i; j++)
            {
                sum = TLane.SubtractProduct(sum, factors[(i * size) + j], right[j]);
            }

            right[i] = sum;
        }

        for (int i = size - 1; i >= 0; i--)
        {
            TLane sum = right[i];
            for (int j = i + 1; j < size; j++)
            {
                sum = TLane.SubtractProduct(sum, factors[(i * size) + j], right[j]);
            }

            right[i] = sum * factors[(i * size) + i];
        }
    }

    /// <summary>The inverse of a matrix from the factors of <see cref="Factorise"/>.</summary>
    /// <param name="factors">The factors.</param>
    /// <param name="inverse">Receives it by rows.</param>
    /// <param name="column">Room for a column.</param>
    /// <param name="size">Rows and columns.</param>
    public static void Invert<TLane>(ReadOnlySpan<TLane> factors, Span<TLane> inverse, Span<TLane> column, int size)
        where TLane : struct, ILane<TLane>
    {
        for (int j = 0; j < size; j++)
        {
            column.Clear();
            column[j] = TLane.Of(1);
            Solve(factors, column, size);
            for (int i = 0; i < size; i++)
            {
                inverse[(i * size) + j] = column[i];
            }
        }
    }

    /// <summary>A matrix by rows times a vector.</summary>
    public static void Multiply<TLane>(ReadOnlySpan<TLane> matrix, ReadOnlySpan<TLane> vector, Span<TLane> answer, int size)
        where TLane : struct, ILane<TLane>
    {
        if (size == Four)
        {
            MultiplyFour(matrix[..(Four * Four)], vector[..Four], answer[..Four]);
            return;
        }

        for (int i = 0; i < size; i++)
        {
            TLane sum = TLane.Zero;
            for (int j = 0; j < size; j++)
            {
                sum = TLane.MultiplyAdd(matrix[(i * size) + j], vector[j], sum);
            }

            answer[i] = sum;
        }
    }

    private static void FactoriseFour<TLane>(Span<TLane> m)
        where TLane : struct, ILane<TLane>
    {
        TLane p0 = TLane.Of(1) / m[0];
        TLane l10 = m[4] * p0;
        TLane l20 = m[8] * p0;
        TLane l30 = m[12] * p0;
        TLane p1 = TLane.Of(1) / TLane.SubtractProduct(m[5], l10, m[1]);
        TLane u12 = TLane.SubtractProduct(m[6], l10, m[2]);
        TLane u13 = TLane.SubtractProduct(m[7], l10, m[3]);
        TLane l21 = TLane.SubtractProduct(m[9], l20, m[1]) * p1;
        TLane l31 = TLane.SubtractProduct(m[13], l30, m[1]) * p1;
        TLane p2 = TLane.Of(1) / TLane.SubtractProduct(TLane.SubtractProduct(m[10], l20, m[2]), l21, u12);
        TLane u23 = TLane.SubtractProduct(TLane.SubtractProduct(m[11], l20, m[3]), l21, u13);
        TLane l32 = TLane.SubtractProduct(TLane.SubtractProduct(m[14], l30, m[2]), l31, u12) * p2;
        TLane p3 = TLane.Of(1) / TLane.SubtractProduct(TLane.SubtractProduct(TLane.SubtractProduct(m[15], l30, m[3]), l31, u13), l32, u23);
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

    private static void SolveFour<TLane>(ReadOnlySpan<TLane> f, Span<TLane> right)
        where TLane : struct, ILane<TLane>
    {
        TLane y0 = right[0];
        TLane y1 = TLane.SubtractProduct(right[1], f[4], y0);
        TLane y2 = TLane.SubtractProduct(TLane.SubtractProduct(right[2], f[8], y0), f[9], y1);
        TLane x3 = TLane.SubtractProduct(TLane.SubtractProduct(TLane.SubtractProduct(right[3], f[12], y0), f[13], y1), f[14], y2) * f[15];
        TLane x2 = TLane.SubtractProduct(y2, f[11], x3) * f[10];
        TLane x1 = TLane.SubtractProduct(TLane.SubtractProduct(y1, f[6], x2), f[7], x3) * f[5];
        right[0] = TLane.SubtractProduct(TLane.SubtractProduct(TLane.SubtractProduct(y0, f[1], x1), f[2], x2), f[3], x3) * f[0];
        right[1] = x1;
        right[2] = x2;
        right[3] = x3;
    }

    private static void MultiplyFour<TLane>(ReadOnlySpan<TLane> m, ReadOnlySpan<TLane> vector, Span<TLane> answer)
        where TLane : struct, ILane<TLane>
    {
        TLane v0 = vector[0];
        TLane v1 = vector[1];
        TLane v2 = vector[2];
        TLane v3 = vector[3];
        answer[0] = TLane.MultiplyAdd(m[3], v3, TLane.MultiplyAdd(m[2], v2, TLane.MultiplyAdd(m[1], v1, m[0] * v0)));
        answer[1] = TLane.MultiplyAdd(m[7], v3, TLane.MultiplyAdd(m[6], v2, TLane.MultiplyAdd(m[5], v1, m[4] * v0)));
        answer[2] = TLane.MultiplyAdd(m[11], v3, TLane.MultiplyAdd(m[10], v2, TLane.MultiplyAdd(m[9], v1, m[8] * v0)));
        answer[3] = TLane.MultiplyAdd(m[15], v3, TLane.MultiplyAdd(m[14], v2, TLane.MultiplyAdd(m[13], v1, m[12] * v0)));
    }
}
