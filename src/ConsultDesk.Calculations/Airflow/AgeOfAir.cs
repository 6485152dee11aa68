using System.Runtime.InteropServices;
using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Airflow;

/// <summary>
/// Local mean age of air of well-mixed zones (Sandberg 1981): (sum of inflow_i) age_i = M_i + sum over j of F_ij age_j,
/// the balance of a tracer that every kg of air gains at one unit a second while it is inside.
/// </summary>
public static class AgeOfAir
{
    // Flows the solver's tolerance could have made are no flows: a dead end has only those.
    private const double NegligibleKgPerS = AirNetwork.ToleranceKgPerS;

    /// <summary>The same for a single network.</summary>
    internal static void Solve(ReadOnlySpan<double> transportKgPerS, ReadOnlySpan<double> airMassKg, Span<double> ageS)
    {
        int zones = airMassKg.Length;
        Solve(
            MemoryMarshal.Cast<double, ScalarLane>(transportKgPerS),
            MemoryMarshal.Cast<double, ScalarLane>(airMassKg),
            MemoryMarshal.Cast<double, ScalarLane>(ageS),
            new ScalarLane[zones * zones],
            new ScalarLane[zones + 1]);
    }

    /// <summary>Solves the balance by elimination without pivoting, which its row-dominant matrix allows.</summary>
    /// <param name="transportKgPerS">
    /// Air from node j into node i at [i * (zones + 1) + j], the last node being outside; diagonal 0.
    /// </param>
    /// <param name="airMassKg">Mass of the air in each zone.</param>
    /// <param name="ageS">Receives the age of each zone, s; infinite where no outdoor air arrives, or less than the solver can tell from none.</param>
    /// <param name="matrix">Room for zones x zones numbers.</param>
    /// <param name="reached">Room for zones + 1 masks.</param>
    internal static void Solve<TLane>(
        ReadOnlySpan<TLane> transportKgPerS,
        ReadOnlySpan<TLane> airMassKg,
        Span<TLane> ageS,
        Span<TLane> matrix,
        Span<TLane> reached)
        where TLane : struct, ILane<TLane>
    {
        int zones = airMassKg.Length;
        int nodes = zones + 1;
        MarkReached(transportKgPerS, nodes, reached);
        for (int i = 0; i < zones; i++)
        {
            TLane inflow = TLane.Select(reached[i], Arriving(transportKgPerS[(i * nodes) + zones]), TLane.Of(1));
            for (int j = 0; j < zones; j++)
            {
                // Air of zones that no outdoor air reaches has no age; mass balance lets none of it out.
                TLane flow = TLane.And(TLane.And(reached[i], reached[j]), Arriving(transportKgPerS[(i * nodes) + j]));
                inflow += flow;
                matrix[(i * zones) + j] = -flow;
            }

            matrix[(i * zones) + i] = inflow;
            ageS[i] = TLane.And(reached[i], airMassKg[i]);
        }

        Eliminate(matrix, ageS);
        for (int i = 0; i < zones; i++)
        {
            ageS[i] = TLane.Select(reached[i], ageS[i], TLane.Of(double.PositiveInfinity));
        }
    }

    private static void Eliminate<TLane>(Span<TLane> matrix, Span<TLane> ageS)
        where TLane : struct, ILane<TLane>
    {
        int zones = ageS.Length;
        for (int k = 0; k < zones; k++)
        {
            TLane inverse = TLane.Of(1) / matrix[(k * zones) + k];
            matrix[(k * zones) + k] = inverse;
            for (int i = k + 1; i < zones; i++)
            {
                TLane factor = matrix[(i * zones) + k] * inverse;
                if (TLane.All(TLane.Equal(factor, TLane.Zero)))
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
            TLane sum = ageS[i];
            for (int j = i + 1; j < zones; j++)
            {
                sum -= matrix[(i * zones) + j] * ageS[j];
            }

            ageS[i] = sum * matrix[(i * zones) + i];
        }
    }

    private static TLane Arriving<TLane>(TLane flowKgPerS)
        where TLane : struct, ILane<TLane> => TLane.And(TLane.Less(TLane.Of(NegligibleKgPerS), flowKgPerS), flowKgPerS);

    private static void MarkReached<TLane>(ReadOnlySpan<TLane> transportKgPerS, int nodes, Span<TLane> reached)
        where TLane : struct, ILane<TLane>
    {
        reached.Clear();
        reached[nodes - 1] = TLane.AllBits;
        bool more = true;
        while (more)
        {
            more = false;
            for (int i = 0; i < nodes - 1; i++)
            {
                if (TLane.All(reached[i]))
                {
                    continue;
                }

                TLane before = reached[i];
                TLane now = before;
                for (int j = 0; j < nodes; j++)
                {
                    now = TLane.Or(now, TLane.And(reached[j], TLane.Less(TLane.Of(NegligibleKgPerS), transportKgPerS[(i * nodes) + j])));
                }

                reached[i] = now;
                more |= TLane.Any(TLane.AndNot(now, before));
            }
        }
    }
}
