using System.Collections.Immutable;
using System.Numerics;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>
/// What each choice and each two choices together do, found once, from which every combination is judged without making its design: the first rule two choices
/// break together, and money, fans and inlets as sums of what single choices and pairs add.
/// </summary>
internal sealed class PairTable
{
    private readonly SearchOrder _order;
    private readonly ImmutableArray<SpaceAxis> _axes;
    private readonly int[] _first;
    private readonly Metrics _stands;
    private readonly Metrics[] _alone;
    private readonly Metrics[,] _together;
    private readonly string?[,] _rule;
    private readonly int[] _mirror;
    private readonly int _direction;

    public PairTable(SearchOrder order, ImmutableArray<SpaceAxis> axes, CancellationToken cancellation)
    {
        (_order, _axes) = (order, axes);
        _first = new int[axes.Length];
        for (int axis = 1; axis < axes.Length; axis++)
        {
            _first[axis] = _first[axis - 1] + axes[axis - 1].Choices.Length;
        }

        int count = axes.Sum(axis => axis.Choices.Length);
        _alone = new Metrics[count];
        _together = new Metrics[count, count];
        _rule = new string?[count, count];
        _direction = Index("direction");
        _mirror = [.. axes.Select(axis => axis.Key.EndsWith("-2", StringComparison.Ordinal) ? Index(axis.Key[..^2]) : -1)];
        _stands = Of(order.Design);
        Design[] alone = new Design[count];
        ForEachChoice(0, (at, choice) =>
        {
            alone[at] = choice.Apply(order.Design);
            _alone[at] = Of(alone[at]) - _stands;
        });
        for (int axis = 0; axis < axes.Length; axis++)
        {
            for (int chosen = 1; chosen < axes[axis].Choices.Length; chosen++)
            {
                cancellation.ThrowIfCancellationRequested();
                int a = _first[axis] + chosen;
                ForEachChoice(axis + 1, (b, choice) =>
                {
                    Design both = choice.Apply(alone[a]);
                    _together[a, b] = Of(both) - _stands - _alone[a] - _alone[b];
                    _rule[a, b] = IsDirection(b) ? null
                        : ReferenceEquals(both, alone[a]) ? (choice.Places ? "no-room" : "no-effect")
                        : DesignSpaces.Removal(order, alone[a], both);
                });
            }
        }

        int Index(string key) => axes.Select((axis, index) => (axis.Key, index)).Where(pair => pair.Key == key).Select(pair => pair.index).DefaultIfEmpty(-1).First();
    }

    /// <summary>Counts and numbers the combinations no rule removes.</summary>
    public DesignSpace Space(BigInteger listed, SpaceTally tally, ImmutableArray<string> notes, CancellationToken cancellation)
    {
        Walk walk = new(this, [], cancellation);
        walk.From(0);
        foreach ((string rule, long count) in walk.Removed)
        {
            tally.Combinations(rule, count);
        }

        ImmutableArray<RemovedByRule> removed = tally.Removed();
        return new DesignSpace(
            _order.Design, _axes, new SpaceSize(listed, _axes.Aggregate(1L, (product, axis) => product * axis.Choices.Length), walk.Codes.Count), [.. walk.Codes], [.. walk.Money])
        {
            Removed = removed,
            Notes = _axes.IsEmpty ? [.. notes, NothingToChoose(removed)] : notes,
            Emptied = walk.Codes.Count == 0 ? Emptied(walk, cancellation) : null,
        };
    }

    private static string NothingToChoose(ImmutableArray<RemovedByRule> removed) => removed.MaxBy(rule => rule.Choices) is RemovedByRule most
        ? $"Nothing is left to choose, so only the van as it stands is looked at. Most was removed by: {most.Rule.Title} ({most.Choices}). {most.Rule.Relax}."
        : "Nothing is left to choose, so only the van as it stands is looked at: everything is fitted, or the price book has nothing for it.";

    // Rules are switched off one after another, each time the one without which most would be left, until something is.
    private EmptiedSpace Emptied(Walk walk, CancellationToken cancellation)
    {
        List<SpaceRule> blamed = [];
        Walk at = walk;
        while (at.Codes.Count == 0)
        {
            (SpaceRule rule, Walk relaxed) = at.Removed.Keys
                .Select(key =>
                {
                    Walk without = new(this, [.. blamed.Select(rule => rule.Key), key], cancellation);
                    without.From(0);
                    return (Rule: SpaceRule.Get(key), Walk: without);
                })
                .OrderByDescending(pair => pair.Walk.Codes.Count).ThenByDescending(pair => at.Removed[pair.Rule.Key]).ThenBy(pair => pair.Rule.Key, StringComparer.Ordinal)
                .First();
            blamed.Add(rule);
            at = relaxed;
        }

        string cheapest = blamed.Exists(rule => rule.Key == "over-budget") ? $" The cheapest combination costs {ObjectiveWords.Value(Objective.MoneyNow, Math.Ceiling(at.CheapestCents / 100.0), _order.Currency)}." : "";
        string relax = string.Join(". ", blamed.Select(rule => rule.Relax));
        string message = blamed.Count == 1
            ? $"No design is left. {blamed[0].Title}: {blamed[0].Reason}. Without this rule {ObjectiveWords.Count(at.Codes.Count)} would be left.{cheapest} {relax}."
            : $"No design is left, and no single rule is to blame. These contradict each other: {string.Join("; ", blamed.Select(rule => rule.Title))}. Without them {ObjectiveWords.Count(at.Codes.Count)} would be left.{cheapest} {relax}.";
        return new EmptiedSpace([.. blamed], at.Codes.Count, message);
    }

    private bool IsDirection(int choice) => _direction >= 0 && choice >= _first[_direction];

    private void ForEachChoice(int fromAxis, Action<int, SpaceChoice> each)
    {
        for (int axis = fromAxis; axis < _axes.Length; axis++)
        {
            for (int chosen = 1; chosen < _axes[axis].Choices.Length; chosen++)
            {
                each(_first[axis] + chosen, _axes[axis].Choices[chosen]);
            }
        }
    }

    private Metrics Of(Design design)
    {
        Design now = LaterParts.Without(design);
        return new Metrics(
            (long)(100 * Costing.Of(design, _order.Book).Now),
            now.Openings.Count(DesignSpaces.BlowsOut),
            now.Openings.Count(opening => !opening.Covered && opening.Position != Position.Shut && opening.Kind != OpeningKind.PressureReliefFlap && !DesignSpaces.BlowsOut(opening)));
    }

    /// <summary>Money in hundredths, fans that blow out, openings that stand open without such a fan.</summary>
    private readonly record struct Metrics(long Cents, int FansOut, int Inlets)
    {
        public static Metrics operator +(Metrics a, Metrics b) => new(a.Cents + b.Cents, a.FansOut + b.FansOut, a.Inlets + b.Inlets);

        public static Metrics operator -(Metrics a, Metrics b) => new(a.Cents - b.Cents, a.FansOut - b.FansOut, a.Inlets - b.Inlets);
    }

    /// <summary>One walk through the combinations, axis by axis; what a rule refuses is counted without being walked.</summary>
    private sealed class Walk(PairTable table, ImmutableHashSet<string> without, CancellationToken cancellation)
    {
        private readonly int[] _chosen = new int[table._axes.Length];

        public List<long> Codes { get; } = [];

        public List<double> Money { get; } = [];

        public SortedDictionary<string, long> Removed { get; } = new(StringComparer.Ordinal);

        /// <summary>Least money of any combination that reached the budget, in hundredths.</summary>
        public long CheapestCents { get; private set; } = long.MaxValue;

        public void From(int axis) => From(axis, 0, table._stands);

        private void From(int axis, long code, Metrics sum)
        {
            if (axis == table._axes.Length)
            {
                Leaf(code, sum);
                return;
            }

            cancellation.ThrowIfCancellationRequested();
            int choices = table._axes[axis].Choices.Length;
            for (int chosen = 0; chosen < choices; chosen++)
            {
                _chosen[axis] = chosen;
                int b = table._first[axis] + chosen;
                Metrics with = sum;
                string? rule = null;
                if (chosen > 0)
                {
                    with += table._alone[b];
                    for (int before = 0; before < axis && rule is null; before++)
                    {
                        int a = table._first[before] + _chosen[before];
                        if (_chosen[before] > 0)
                        {
                            with += table._together[a, b];
                            rule = table._rule[a, b] is string broken && !without.Contains(broken) ? broken : null;
                        }
                    }

                    rule ??= IsTheOtherWayRound(axis, chosen) && !without.Contains("same-pair") ? "same-pair"
                        : axis == table._direction && sum.FansOut == 0 && !without.Contains("no-effect") ? "no-effect"
                        : null;
                }

                if (rule is not null)
                {
                    Remove(rule, table._axes.Skip(axis + 1).Aggregate(1L, (product, rest) => product * rest.Choices.Length));
                }
                else
                {
                    From(axis + 1, (code * choices) + chosen, with);
                }
            }
        }

        private void Leaf(long code, Metrics sum)
        {
            CheapestCents = Math.Min(CheapestCents, sum.Cents);
            string? rule = sum is { FansOut: >= 2, Inlets: <= 0 } && !without.Contains("no-inlet") ? "no-inlet"
                : table._order.Wishes?.BudgetNow is decimal budget && sum.Cents > 100 * budget && !without.Contains("over-budget") ? "over-budget"
                : null;
            if (rule is not null)
            {
                Remove(rule, 1);
                return;
            }

            Codes.Add(code);
            Money.Add(sum.Cents / 100.0);
        }

        private void Remove(string rule, long count) => Removed[rule] = Removed.GetValueOrDefault(rule) + count;

        // True where the same two openings stand on the two axes the other way round, and that way is walked too and comes first.
        private bool IsTheOtherWayRound(int axis, int chosen)
        {
            int mirror = table._mirror[axis];
            if (mirror < 0)
            {
                return false;
            }

            ImmutableArray<SpaceChoice> firsts = table._axes[mirror].Choices;
            ImmutableArray<SpaceChoice> seconds = table._axes[axis].Choices;
            string second = seconds[chosen].Key;
            if (!firsts.Any(choice => choice.Key == second))
            {
                return false;
            }

            string first = firsts[_chosen[mirror]].Key;
            return first.Length == 0 || (string.CompareOrdinal(second, first) < 0 && seconds.Any(choice => choice.Key == first));
        }
    }
}
