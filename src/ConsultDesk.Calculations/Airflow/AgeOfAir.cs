namespace ConsultDesk.Calculations.Airflow;

/// <summary>
/// Local mean age of air of well-mixed zones (Sandberg 1981): (sum of inflow_i) age_i = M_i + sum over j of F_ij age_j,
/// the balance of a tracer that every kg of air gains at one unit a second while it is inside.
/// </summary>
public static class AgeOfAir
{
    // Flows the solver's tolerance could have made are no flows: a dead end has only those.
    private const double NegligibleKgPerS = AirNetwork.ToleranceKgPerS;

    /// <summary>Solves the balance by elimination without pivoting, which its row-dominant matrix allows.</summary>
    /// <param name="transportKgPerS">
    /// Air from node j into node i at [i * (zones + 1) + j], the last node being outside; diagonal 0.
    /// </param>
    /// <param name="airMassKg">Mass of the air in each zone.</param>
    /// <param name="ageS">Receives the age of each zone, s; infinite where no outdoor air arrives, or less than the solver can tell from none.</param>
    /// <param name="matrix">Room for zones x zones numbers.</param>
    /// <param name="reached">Room for zones + 1 flags.</param>
    internal static void Solve(
        ReadOnlySpan<double> transportKgPerS,
        ReadOnlySpan<double> airMassKg,
        Span<double> ageS,
        Span<double> matrix,
        Span<bool> reached)
    {
        int zones = airMassKg.Length;
        int nodes = zones + 1;
        MarkReached(transportKgPerS, nodes, reached);
        for (int i = 0; i < zones; i++)
        {
            double inflow = reached[i] ? Arriving(transportKgPerS[(i * nodes) + zones]) : 1;
            for (int j = 0; j < zones; j++)
            {
                // Air of zones that no outdoor air reaches has no age; mass balance lets none of it out.
                double flow = reached[i] && reached[j] ? Arriving(transportKgPerS[(i * nodes) + j]) : 0;
                inflow += flow;
                matrix[(i * zones) + j] = -flow;
            }

            matrix[(i * zones) + i] = inflow;
            ageS[i] = reached[i] ? airMassKg[i] : double.PositiveInfinity;
        }

        for (int k = 0; k < zones; k++)
        {
            for (int i = k + 1; i < zones; i++)
            {
                double factor = matrix[(i * zones) + k] / matrix[(k * zones) + k];
                if (factor == 0)
                {
                    continue;
                }

                for (int j = k + 1; j < zones; j++)
                {
                    matrix[(i * zones) + j] -= factor * matrix[(k * zones) + j];
                }

                ageS[i] -= factor * ageS[k];
            }
        }

        for (int i = zones - 1; i >= 0; i--)
        {
            double sum = ageS[i];
            for (int j = i + 1; j < zones; j++)
            {
                double entry = matrix[(i * zones) + j];
                if (entry != 0)
                {
                    sum -= entry * ageS[j];
                }
            }

            ageS[i] = sum / matrix[(i * zones) + i];
        }
    }

    private static double Arriving(double flowKgPerS) => flowKgPerS > NegligibleKgPerS ? flowKgPerS : 0;

    private static void MarkReached(ReadOnlySpan<double> transportKgPerS, int nodes, Span<bool> reached)
    {
        reached.Clear();
        reached[nodes - 1] = true;
        bool more = true;
        while (more)
        {
            more = false;
            for (int i = 0; i < nodes - 1; i++)
            {
                for (int j = 0; j < nodes && !reached[i]; j++)
                {
                    if (reached[j] && Arriving(transportKgPerS[(i * nodes) + j]) > 0)
                    {
                        reached[i] = true;
                        more = true;
                    }
                }
            }
        }
    }
}
