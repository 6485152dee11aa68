using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>
/// What the client's order of what matters weighs in each objective. Weights of an order are its rank-order centroid (Barron and Barrett 1996, Management
/// Science 42:1515): place i of n weighs 1/n times the sum of 1/k for k from i to n. What is not in the order shares the places that are left. How a
/// priority is divided between objectives is our judgement.
/// </summary>
public static class ClientWeights
{
    private static readonly ImmutableArray<Priority> Weighed = [Priority.Dry, Priority.Warm, Priority.Cool, Priority.Cheap, Priority.Simple];

    /// <summary>Weight of each objective, in the order of <see cref="Objective"/>; they sum to 1. Equal priorities without an order.</summary>
    /// <param name="wishes">What the client wants; null when not recorded.</param>
    /// <param name="counted">Objectives that count; the others weigh nothing.</param>
    public static ImmutableArray<double> Of(Wishes? wishes, IReadOnlyCollection<Objective> counted)
    {
        ArgumentNullException.ThrowIfNull(counted);
        Priority[] ordered = [.. (wishes?.Order ?? []).Where(priority => Weighed.Contains(priority))];
        int n = Weighed.Length;
        double[] centroid = [.. Enumerable.Range(1, n).Select(place => Enumerable.Range(place, n - place + 1).Sum(k => 1.0 / k) / n)];
        double rest = ordered.Length < n ? centroid[ordered.Length..].Average() : 0;
        double[] weights = new double[Objectives.Count];
        foreach (Priority priority in Weighed)
        {
            int place = Array.IndexOf(ordered, priority);
            double weight = place >= 0 ? centroid[place] : rest;
            foreach ((Objective objective, double share) in Shares(priority))
            {
                weights[(int)objective] = counted.Contains(objective) ? weight * share : 0;
            }
        }

        double sum = weights.Sum();
        return [.. weights.Select(weight => sum > 0 ? weight / sum : 0)];
    }

    private static (Objective Objective, double Share)[] Shares(Priority priority) => priority switch
    {
        Priority.Dry => [(Objective.WetHours, 0.5), (Objective.Mould, 0.5)],
        Priority.Warm => [(Objective.ColdHours, 1)],
        Priority.Cool => [(Objective.HotHours, 1)],
        Priority.Cheap => [(Objective.MoneyNow, 0.5), (Objective.MoneyAYear, 0.5)],
        Priority.Simple => [(Objective.Parts, 0.5), (Objective.Power, 0.25), (Objective.Noise, 0.25)],
        Priority.Looks => [],
        _ => throw new ArgumentOutOfRangeException(nameof(priority), priority, "Expected a priority."),
    };
}

/// <summary>Scores of some designs: each number between the least and the most of them, 0 to 1, times its weight. Less is better.</summary>
internal sealed class LinearScores
{
    private readonly double[] _least;
    private readonly double[] _range;
    private readonly ImmutableArray<double> _weights;

    public LinearScores(IReadOnlyCollection<ObjectiveNumbers> designs, ImmutableArray<double> weights)
    {
        _weights = weights;
        _least = [.. Enumerable.Range(0, Objectives.Count).Select(k => designs.Select(design => design.Values[k]).DefaultIfEmpty(0).Min())];
        _range = [.. Enumerable.Range(0, Objectives.Count).Select(k => designs.Select(design => design.Values[k]).DefaultIfEmpty(0).Max() - _least[k])];
    }

    /// <summary>Score of a design.</summary>
    public double Of(ObjectiveNumbers numbers) => Enumerable.Range(0, _range.Length).Sum(k => _weights[k] * Share(numbers, k));

    /// <summary>Where a number lies between the least and the most; 0 where all are the same.</summary>
    public double Share(ObjectiveNumbers numbers, int objective) => _range[objective] > 0 ? (numbers.Values[objective] - _least[objective]) / _range[objective] : 0;

    /// <summary>Weight of an objective.</summary>
    public double Weight(int objective) => _weights[objective];

    /// <summary>What a whole score is in the unit of an objective; 0 where it does not count.</summary>
    public double Range(int objective) => _range[objective];
}
