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
        double[] factors = [.. matrix];
        SmallMatrix.Factorise(factors, size);
        double[] solved = [.. right];
        SmallMatrix.Solve(factors, solved, size);
        double[] inverse = new double[size * size];
        SmallMatrix.Invert(factors, inverse, new double[size], size);
        double[] multiplied = new double[size];
        SmallMatrix.Multiply(inverse, right, multiplied, size);
        for (int i = 0; i < size; i++)
        {
            Assert.Equal(expected[i], solved[i], 1e-13);
            Assert.Equal(expected[i], multiplied[i], 1e-13);
        }
    });

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
