using System.Globalization;

namespace ConsultDesk.Calculations.Airflow;

/// <summary>The pressure network was given up before every zone balanced.</summary>
public sealed class NonConvergenceException : CalculationFailedException
{
    /// <summary>Creates the exception with what was reached.</summary>
    /// <param name="iterations">Newton steps taken.</param>
    /// <param name="largestImbalanceKgPerS">Largest mass imbalance left in any zone, kg/s.</param>
    public NonConvergenceException(int iterations, double largestImbalanceKgPerS)
        : base(string.Create(
            CultureInfo.InvariantCulture,
            $"The pressure network did not balance in {iterations} iterations: {largestImbalanceKgPerS:g3} kg/s is left over in one zone."))
    {
        Iterations = iterations;
        LargestImbalanceKgPerS = largestImbalanceKgPerS;
    }

    /// <summary>Newton steps taken.</summary>
    public int Iterations { get; }

    /// <summary>Largest mass imbalance left in any zone, kg/s.</summary>
    public double LargestImbalanceKgPerS { get; }
}
