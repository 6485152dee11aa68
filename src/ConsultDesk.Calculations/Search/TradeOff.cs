using System.Collections.Immutable;

namespace ConsultDesk.Calculations.Search;

/// <summary>
/// Who beats whom. Numbers are put into boxes as wide as a client would tell apart; a design beats another when it is in no dearer box and in one cheaper box
/// (box dominance: Laumanns, Thiele, Deb and Zitzler 2002, Evolutionary Computation 10:263). Designs in the same boxes are a tie, and the one with less
/// money now, fewer parts, lower number stands for them.
/// </summary>
public sealed class TradeOff
{
    // Rounding of a sum must not move a number into another box.
    private const double Slack = 1e-9;

    private readonly ImmutableArray<Objective> _counted;

    /// <summary>Counts some objectives.</summary>
    /// <exception cref="ArgumentException">None is counted.</exception>
    public TradeOff(IEnumerable<Objective> counted)
    {
        _counted = [.. counted.Distinct().Order()];
        if (_counted.IsEmpty)
        {
            throw new ArgumentException("Expected at least one objective to compare by.", nameof(counted));
        }
    }

    /// <summary>The objectives that count.</summary>
    public ImmutableArray<Objective> Counted => _counted;

    /// <summary>The boxes of a design's numbers, in the order of <see cref="Counted"/>.</summary>
    public ImmutableArray<long> Boxes(ObjectiveNumbers numbers)
    {
        ArgumentNullException.ThrowIfNull(numbers);
        return [.. Boxes(InBoxes(numbers))];
    }

    /// <summary>True when the first is in no dearer box and in one cheaper box than the second.</summary>
    public static bool Beats(ReadOnlySpan<long> a, ReadOnlySpan<long> b)
    {
        bool better = false;
        for (int k = 0; k < a.Length; k++)
        {
            if (a[k] > b[k])
            {
                return false;
            }

            better |= a[k] < b[k];
        }

        return better;
    }

    /// <summary>Every number of a design counted in boxes, in the order of <see cref="Objective"/>.</summary>
    internal static double[] InBoxes(ObjectiveNumbers numbers) => InBoxes(numbers.Values);

    /// <summary>Values in the order of <see cref="Objective"/>, counted in boxes.</summary>
    internal static double[] InBoxes(IReadOnlyList<double> values) => [.. values.Select((value, k) => Objectives.All[k].InBoxes(value))];

    /// <summary>The box of a value that is counted in boxes.</summary>
    internal static long Box(double inBoxes) => (long)Math.Floor(inBoxes + Slack);

    /// <summary>The boxes of the counted objectives.</summary>
    /// <param name="inBoxes">Numbers counted in boxes, in the order of <see cref="Objective"/>.</param>
    internal long[] Boxes(double[] inBoxes)
    {
        long[] boxes = new long[_counted.Length];
        for (int k = 0; k < boxes.Length; k++)
        {
            boxes[k] = Box(inBoxes[(int)_counted[k]]);
        }

        return boxes;
    }

    /// <summary>True when the first stands for both in a tie.</summary>
    internal static bool Stands(double[] a, int indexA, double[] b, int indexB)
    {
        int money = a[(int)Objective.MoneyNow].CompareTo(b[(int)Objective.MoneyNow]);
        int parts = a[(int)Objective.Parts].CompareTo(b[(int)Objective.Parts]);
        return money != 0 ? money < 0 : parts != 0 ? parts < 0 : indexA < indexB;
    }

    /// <summary>Those nobody beats, one for each tie, by number; with the others of its tie.</summary>
    internal List<(int Candidate, List<int> Ties)> Front(IEnumerable<KeyValuePair<int, ObjectiveNumbers>> known)
    {
        Dictionary<int, double[]> inBoxes = known.ToDictionary(pair => pair.Key, pair => InBoxes(pair.Value));
        List<(int Candidate, long[] Boxes)> all = [.. inBoxes.Select(pair => (pair.Key, Boxes(pair.Value))).OrderBy(pair => pair.Key)];
        List<(int Candidate, List<int> Ties)> front = [];
        foreach (IGrouping<string, (int Candidate, long[] Boxes)> tie in all.GroupBy(pair => string.Join(',', pair.Boxes)))
        {
            long[] boxes = tie.First().Boxes;
            if (all.Exists(other => Beats(other.Boxes, boxes)))
            {
                continue;
            }

            int stands = tie.Select(pair => pair.Candidate).Aggregate((a, b) => Stands(inBoxes[a], a, inBoxes[b], b) ? a : b);
            front.Add((stands, [.. tie.Select(pair => pair.Candidate).Where(candidate => candidate != stands)]));
        }

        return [.. front.OrderBy(member => member.Candidate)];
    }

    /// <summary>
    /// The best so many by front after front, and within the last by how alone they stand (non-dominated sorting with crowding distance: Deb, Pratap, Agarwal
    /// and Meyarivan 2002, IEEE Transactions on Evolutionary Computation 6:182).
    /// </summary>
    /// <param name="values">Numbers counted in boxes, in the order of <see cref="Objective"/>.</param>
    /// <param name="count">How many to keep.</param>
    /// <returns>Positions in the list, the best first.</returns>
    internal List<int> Best(IReadOnlyList<double[]> values, int count)
    {
        long[][] boxes = [.. values.Select(Boxes)];
        List<int> left = [.. Enumerable.Range(0, values.Count)];
        List<int> best = [];
        while (left.Count > 0 && best.Count < count)
        {
            // In the order of the sums of their boxes nobody is beaten by one that comes later, and what is beaten is beaten by a member.
            List<int> front = [];
            List<int> rest = [];
            foreach (int at in left.OrderBy(at => boxes[at].Sum()).ThenBy(at => at))
            {
                (front.Exists(member => Beats(boxes[member], boxes[at])) ? rest : front).Add(at);
            }

            best.AddRange(Alone(front, values).Take(count - best.Count));
            left = rest;
        }

        return best;
    }

    private IEnumerable<int> Alone(List<int> front, IReadOnlyList<double[]> values)
    {
        double[] distance = new double[front.Count];
        foreach (Objective objective in _counted)
        {
            int k = (int)objective;
            int[] order = [.. Enumerable.Range(0, front.Count).OrderBy(at => values[front[at]][k]).ThenBy(at => front[at])];
            double range = values[front[order[^1]]][k] - values[front[order[0]]][k];
            if (range <= 0)
            {
                continue;
            }

            distance[order[0]] = distance[order[^1]] = double.PositiveInfinity;
            for (int at = 1; at < order.Length - 1; at++)
            {
                distance[order[at]] += (values[front[order[at + 1]]][k] - values[front[order[at - 1]]][k]) / range;
            }
        }

        return Enumerable.Range(0, front.Count).OrderByDescending(at => distance[at]).ThenBy(at => front[at]).Select(at => front[at]);
    }
}
