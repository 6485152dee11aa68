using System.Collections.Immutable;
using System.Numerics;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>An axis while its choices are thinned.</summary>
internal sealed class ThinnedAxis(string key, string name, int listed, List<SingleChange> possible, string standing)
{
    public string Key { get; } = key;

    public string Name { get; } = name;

    public int Listed { get; } = listed;

    /// <summary>The family of what the van has there as it stands; empty where it has none.</summary>
    public string Standing { get; } = standing;

    /// <summary>Choices that may be taken, besides "as it stands".</summary>
    public List<SingleChange> Kept { get; } = possible;
}

/// <summary>
/// Takes choices off the axes until what they make together can be looked at. Each choice is looked at alone in the screening situations. How little is lost
/// by leaving one out is the additive epsilon of Zitzler, Thiele, Laumanns, Fonseca and da Fonseca (2003, "Performance assessment of multiobjective
/// optimizers", IEEE Transactions on Evolutionary Computation 7:117): the most boxes by which it betters the best stand-in on its axis in any number.
/// Of each family that the van does not have already one choice stays, whatever stands in for it: the one that is itself the best stand-in for its family.
/// </summary>
internal static class AxisThinning
{
    // Boxes of what is known at once, in which choices are told apart: money, parts, dB. Our judgement; those of the situations stand with them.
    private static readonly ImmutableArray<double> Boxes = [100, 1, 3, .. Screen.FeatureNames.Select(feature => feature.Box)];

    // More outdoor air at night is better; of everything else less is.
    private const int AirFeature = 3 + 6;

    /// <summary>Thins.</summary>
    /// <returns>Families that could not be kept because one choice of each already made too many combinations, in words of the choice that stood for them.</returns>
    public static ImmutableArray<string> Thin(Design start, List<ThinnedAxis> axes, Screen screen, SearchEffort effort, SpaceTally tally, CancellationToken cancellation)
    {
        SingleChange[] changes = [.. axes.SelectMany(axis => axis.Kept).DistinctBy(change => change.Key)];
        ScreenNumbers?[] numbers = new ScreenNumbers?[changes.Length];
        InOrder.Each(changes.Length, effort.Threads, index => numbers[index] = screen.Of(changes[index].Apply(start), cancellation), cancellation);
        double[]? stands = screen.Of(start, cancellation) is ScreenNumbers found ? Vector(found) : null;
        Dictionary<string, double[]> of = [];
        HashSet<(string Axis, string Change)> standFor = [];
        for (int index = 0; index < changes.Length; index++)
        {
            if (numbers[index] is ScreenNumbers at)
            {
                of[changes[index].Key] = Vector(at);
            }
        }

        foreach (ThinnedAxis axis in axes)
        {
            foreach (SingleChange failed in axis.Kept.Where(change => !of.ContainsKey(change.Key)).ToList())
            {
                tally.Choice("not-calculated", failed.Words);
                axis.Kept.Remove(failed);
            }

            if (effort.KeepsFamilies)
            {
                standFor.UnionWith(Representatives(axis, of).Select(change => (axis.Key, change.Key)));
            }

            while (axis.Kept.Where(change => !standFor.Contains((axis.Key, change.Key)) && Loss(change, axis.Kept, null, of) <= 0).Select(change => change.Key).LastOrDefault() is string worse)
            {
                Remove(axis, worse, "not-better", tally);
            }
        }

        List<string> lost = [];
        while (axes.Aggregate(BigInteger.One, (product, axis) => product * (axis.Kept.Count + 1)) > effort.MostCombinations)
        {
            (ThinnedAxis axis, SingleChange least, bool stoodForFamily, _) = axes
                .SelectMany(axis => axis.Kept.Select(change => (Axis: axis, Change: change, StandsForFamily: standFor.Contains((axis.Key, change.Key)), Loss: Loss(change, axis.Kept, stands, of))))
                .OrderBy(choice => choice.StandsForFamily).ThenBy(choice => choice.Loss)
                .ThenByDescending(choice => choice.Change.Key, StringComparer.Ordinal).ThenBy(choice => choice.Axis.Key, StringComparer.Ordinal)
                .First();
            Remove(axis, least.Key, "alike", tally);
            if (stoodForFamily)
            {
                lost.Add(least.Words);
            }
        }

        return [.. lost];
    }

    // Of each family the choice that leaves the least to wish for when it stands in for all others of it.
    private static IEnumerable<SingleChange> Representatives(ThinnedAxis axis, Dictionary<string, double[]> of) => axis.Kept
        .Where(change => change.Family.Length > 0 && change.Family != axis.Standing)
        .GroupBy(change => change.Family, StringComparer.Ordinal)
        .Select(family => family
            .OrderBy(change => family.Max(other => Bettered(of[change.Key], of[other.Key])))
            .ThenBy(change => of[change.Key].Select((value, k) => value / Boxes[k]).Sum())
            .ThenBy(change => change.Key, StringComparer.Ordinal)
            .First());

    private static void Remove(ThinnedAxis axis, string key, string rule, SpaceTally tally)
    {
        SingleChange removed = axis.Kept.First(change => change.Key == key);
        tally.Choice(rule, removed.Words);
        axis.Kept.Remove(removed);
    }

    // By how many boxes, at most in one number, the choice betters the stand-in that comes nearest; infinite without a stand-in.
    private static double Loss(SingleChange change, List<SingleChange> kept, double[]? stands, Dictionary<string, double[]> of)
    {
        double[] own = of[change.Key];
        double least = double.PositiveInfinity;
        foreach (double[] other in kept.Where(other => other.Key != change.Key).Select(other => of[other.Key]).Concat(stands is null ? [] : [stands]))
        {
            least = Math.Min(least, Bettered(other, own));
        }

        return least;
    }

    // By how many boxes the second betters the first where it does most.
    private static double Bettered(double[] standIn, double[] own)
    {
        double most = double.NegativeInfinity;
        for (int k = 0; k < own.Length; k++)
        {
            most = Math.Max(most, (standIn[k] - own[k]) / Boxes[k]);
        }

        return most;
    }

    private static double[] Vector(ScreenNumbers numbers)
    {
        double[] vector = [numbers.MoneyNow, numbers.Parts, numbers.NoiseDba, .. numbers.Features];
        vector[AirFeature] = -vector[AirFeature];
        return vector;
    }
}
