using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings;

/// <summary>
/// Remedies tried in the year, when they are applied: each way costs a calculated year, so there are few. What a steady
/// night calls better can be worse over a year.
/// </summary>
internal static class YearTrial
{
    /// <summary>
    /// The first way that is enough, or else the best; one that betters nothing or brings a danger is never taken: then the
    /// design stays as it is. Without a year to try in, the first way.
    /// </summary>
    /// <param name="context">The design to better.</param>
    /// <param name="badness">What shall fall, from a design and its year.</param>
    /// <param name="enough">Badness at which to stop.</param>
    /// <param name="ways">The ways in order.</param>
    public static Design First(
        FindingContext context, Func<Design, YearAssessment, double> badness, double enough, IEnumerable<Func<Design, Design>> ways)
    {
        ImmutableHashSet<string> had = context.DangerCodes(context.Design);
        IEnumerable<Design> allowed = ways.Select(way => way(context.Design))
            .Where(changed => DesignCheck.Errors(changed).IsEmpty && context.DangerCodes(changed).Except(had).IsEmpty);
        if (context.ReassessYear is not { } year)
        {
            return allowed.FirstOrDefault() ?? context.Design;
        }

        // The design may have been edited since it was assessed, so even the start is calculated anew.
        Design best = context.Design;
        double least = badness(best, year(best));
        foreach (Design changed in allowed)
        {
            double now = badness(changed, year(changed));
            (best, least) = now < least ? (changed, now) : (best, least);
            if (least <= enough)
            {
                break;
            }
        }

        return best;
    }
}
