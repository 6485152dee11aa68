namespace ConsultDesk.Calculations.Simulation;

/// <summary>A gas that air carries and nothing absorbs, in steady well-mixed zones.</summary>
internal static class TraceGas
{
    /// <summary>Share of the gas in each zone: (sum of inflow_i) x_i = source_i + sum over j of F_ij x_j.</summary>
    /// <param name="transportKgPerS">Air from node j into zone i at [i * (zones + 1) + j], outside last.</param>
    /// <param name="sources">Gas given off in each zone, in the unit of the air flow (kg/s of air with as many moles).</param>
    /// <param name="outdoorShare">Share in outdoor air.</param>
    /// <param name="zones">Number of zones.</param>
    public static double[] Shares(ReadOnlySpan<double> transportKgPerS, ReadOnlySpan<double> sources, double outdoorShare, int zones)
    {
        double[] matrix = new double[zones * zones];
        double[] shares = new double[zones];
        for (int i = 0; i < zones; i++)
        {
            ReadOnlySpan<double> inflow = transportKgPerS.Slice(i * (zones + 1), zones + 1);
            for (int j = 0; j < zones; j++)
            {
                matrix[(i * zones) + j] -= inflow[j];
                matrix[(i * zones) + i] += inflow[j];
            }

            matrix[(i * zones) + i] += inflow[zones];
            shares[i] = sources[i] + (inflow[zones] * outdoorShare);
        }

        LinearSystem.Solve(matrix, shares, zones);
        return shares;
    }
}
