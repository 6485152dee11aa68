using ConsultDesk.Calculations.Airflow;
using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Calculations.Simulation;
using CsCheck;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

public sealed class SmallMatrixTests
{
    // Diagonals that dominate, as zones have them, against Gaussian elimination with pivoting.
    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(6)]
    public void Factors_inverse_and_elimination_give_one_answer(int size) => Gen.Double[-1, 1].Array[(size * size) + size].Sample(numbers =>
    {
        double[] matrix = numbers[..(size * size)];
        double[] right = numbers[(size * size)..];
        for (int i = 0; i < size; i++)
        {
            matrix[(i * size) + i] = size + Math.Abs(matrix[(i * size) + i]);
        }

        double[] expected = [.. right];
        LinearSystem.Solve([.. matrix], expected, size);
        Check<ScalarLane>(matrix, right, expected);
        Check<FourLanes>(matrix, right, expected);
        Check<EightLanes>(matrix, right, expected);
    });

    private static void Check<TLane>(double[] matrix, double[] right, double[] expected)
        where TLane : struct, ILane<TLane>
    {
        int size = right.Length;
        TLane[] factors = [.. matrix.Select(TLane.Of)];
        SmallMatrix.Factorise<TLane>(factors, size);
        TLane[] solved = [.. right.Select(TLane.Of)];
        SmallMatrix.Solve<TLane>(factors, solved, size);
        TLane[] inverse = new TLane[size * size];
        SmallMatrix.Invert<TLane>(factors, inverse, new TLane[size], size);
        TLane[] multiplied = new TLane[size];
        SmallMatrix.Multiply<TLane>(inverse, [.. right.Select(TLane.Of)], multiplied, size);
        for (int i = 0; i < size; i++)
        {
            Assert.Equal(expected[i], solved[i][TLane.Count - 1], 1e-13);
            Assert.Equal(expected[i], multiplied[i][0], 1e-13);
        }
    }

    [Theory]
    [InlineData(0.5)]
    [InlineData(0.6)]
    [InlineData(0.65)]
    [InlineData(1)]
    public void Quick_powers_are_those_of_the_library(double exponent)
    {
        Gen.Double[-120, 120].Sample(magnitude =>
        {
            double x = Math.Pow(10, magnitude / 4) * 1.234;
            Assert.Equal(1, Quick(x) / Math.Pow(x, (exponent - 1) / 2), 5e-11);
        });
        Assert.Equal(1, Quick(1));

        double Quick(double x) => FlowPower.Of(new ScalarLane(x), new ScalarLane(FlowPower.Half(exponent))).Value;
    }
}
