using System.Collections.Immutable;

namespace ConsultDesk.Calculations.Search;

/// <summary>One look at candidates that is cheaper than a year.</summary>
/// <param name="Name">What it is, in words.</param>
/// <param name="Most">Most candidates that may go on from it.</param>
/// <param name="Look">Numbers of some candidates, in their order; null where nothing can be calculated.</param>
internal sealed record Rung(string Name, int Most, Func<IReadOnlyList<int>, double[]?[]> Look);

/// <summary>How far the estimates of a rung lie off, in one objective.</summary>
/// <param name="Rung">The rung.</param>
/// <param name="Objective">The objective.</param>
/// <param name="Typical">Root of the mean square of what a year that is left out of the fit is missed by, in boxes.</param>
/// <param name="Bound">By how much estimates are taken to be too high at most, all objectives at once, in boxes.</param>
public sealed record EstimateError(string Rung, Objective Objective, double Typical, double Bound);

/// <summary>How a race went.</summary>
public sealed record RaceReport
{
    /// <summary>Candidates that entered.</summary>
    public required int Candidates { get; init; }

    /// <summary>Candidates that could not be calculated.</summary>
    public required int NotCalculated { get; init; }

    /// <summary>Years calculated.</summary>
    public required int Years { get; init; }

    /// <summary>Candidates that went through each rung, in order.</summary>
    public required ImmutableArray<int> Looked { get; init; }

    /// <summary>Calculated, and nothing a consultant would propose: a mouldy van made wetter.</summary>
    public required int NotProposed { get; init; }

    /// <summary>Dropped because a calculated design beats them even if the estimate is as much too high as its bound.</summary>
    public required int DroppedSurely { get; init; }

    /// <summary>Dropped because others came first and the work was bounded: never compared by a year.</summary>
    public required int DroppedForWork { get; init; }

    /// <summary>Dropped candidates drawn at random and calculated all the same.</summary>
    public required int Audited { get; init; }

    /// <summary>Of those, how many belonged on the front; they are on it now.</summary>
    public required int AuditedWrong { get; init; }

    /// <summary>
    /// Share of the dropped that belong on the front at most, with 95 % confidence, 0 to 1: the upper limit of Clopper and Pearson (1934, Biometrika 26:404),
    /// near 3 / n when none of n was wrong. 1 without an audit; 0 when nothing was dropped.
    /// </summary>
    public required double WrongShareAtMost { get; init; }

    /// <summary>How far the estimates lay off.</summary>
    public required ImmutableArray<EstimateError> Errors { get; init; }

    /// <summary>True when every candidate's year was calculated: the front is that of the whole space.</summary>
    public bool Exhaustive => Years + NotCalculated >= Candidates;
}

/// <summary>
/// The race for the trade-off front. Every candidate is looked at cheaply, those that can still win are looked at more closely, those that can still win then are
/// calculated over the year, round by round. What is kept of successive halving (Karnin, Koren and Somekh 2013, ICML; Jamieson and Talwalkar 2016, AISTATS):
/// rungs of rising cost and falling numbers, places given by rank. What is another: in place of one loss the rank of non-dominated sorting, and before work runs
/// out a candidate is dropped only when a calculated one beats it beyond the measured error of its estimate. How large that error may be is measured on what
/// matters: by how much the members of the front would have had to be better than their estimates.
/// </summary>
internal sealed class Race
{
    // Estimates are lowered by so many times what any member of the front would have needed to be kept, and by no less than so many typical errors. Our judgement;
    // docs/method/search.md has what it led to.
    private const double Careful = 3;

    // So many of those next in the draw are looked at for the one that shows most. Our judgement.
    private const int DrawnFrom = 64;

    private readonly int _count;
    private readonly TradeOff _tradeOff;
    private readonly SearchEffort _effort;
    private readonly ImmutableArray<Rung> _rungs;
    private readonly Func<IReadOnlyList<int>, ObjectiveNumbers?[]> _years;
    private readonly Func<int, double[]> _known;
    private readonly Func<double[], bool> _proposed;
    private readonly Action<Race>? _told;
    private readonly CancellationToken _cancellation;
    private readonly Dictionary<int, double[]> _features = [];
    private readonly Dictionary<int, int> _seen = [];
    private readonly HashSet<int> _failed = [];
    private readonly HashSet<int> _droppedForWork = [];
    private readonly List<EstimateError> _errors = [];
    private readonly int[] _looked;
    private readonly int[] _width;
    private readonly Func<int, ImmutableArray<int>>? _choices;
    private int[] _shuffled = [];
    private int _audited;
    private int _auditedWrong;

    /// <summary>Prepares a race.</summary>
    /// <param name="count">Candidates, numbered from 0.</param>
    /// <param name="tradeOff">Who beats whom.</param>
    /// <param name="effort">Bounds of the work.</param>
    /// <param name="rungs">The cheap looks, the cheapest first.</param>
    /// <param name="known">Values of a candidate in the order of <see cref="Objective"/>, right for what is known without a year; asked for after the first look.</param>
    /// <param name="years">Numbers of years, in the order asked for; null where one does not balance.</param>
    /// <param name="proposed">
    /// False for numbers, counted in boxes, no consultant would propose: such a design is never on the front. What it refuses it must refuse too when any number is
    /// higher.
    /// </param>
    /// <param name="told">Called after each piece of work, on the thread that runs the race.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <param name="choices">What a candidate is made of, a choice for each thing to choose, so that those drawn show many of them together; null to draw at random.</param>
    public Race(
        int count,
        TradeOff tradeOff,
        SearchEffort effort,
        ImmutableArray<Rung> rungs,
        Func<int, double[]> known,
        Func<IReadOnlyList<int>, ObjectiveNumbers?[]> years,
        Func<double[], bool> proposed,
        Action<Race>? told,
        CancellationToken cancellation,
        Func<int, ImmutableArray<int>>? choices = null)
    {
        _choices = choices;
        (_count, _tradeOff, _effort, _rungs, _known, _years, _proposed, _told, _cancellation) = (count, tradeOff, effort, rungs, known, years, proposed, told, cancellation);
        _looked = new int[rungs.Length];
        _width = new int[rungs.Length];
    }

    /// <summary>Every candidate whose year is known.</summary>
    public Dictionary<int, ObjectiveNumbers> Numbers { get; } = [];

    /// <summary>Candidates that went through the first rung.</summary>
    public int Screened => _rungs.IsEmpty ? 0 : _looked[0];

    /// <summary>Candidates that went through a rung.</summary>
    public ImmutableArray<int> Looked => [.. _looked];

    /// <summary>Runs it. What is known by then stays when it is stopped.</summary>
    /// <param name="seed">Seed of the draws.</param>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public RaceReport Run(int seed)
    {
        _shuffled = new SplitMix((ulong)seed).Shuffled(_count);
        if (_effort.CalculatesSmallSpacesWhole && _count <= _effort.MostYears)
        {
            Calculate([.. Enumerable.Range(0, _count)], _effort.MostYears);
            return Report();
        }

        List<int> alive = [.. Enumerable.Range(0, _count)];
        for (int rung = 0; rung < _rungs.Length; rung++)
        {
            Look(rung, alive);
            if (rung == 0)
            {
                Calculate(Drawn(Math.Min(_effort.Drawn, _effort.MostYears)), _effort.MostYears);
            }

            // The years known by now measure the new look too.
            Look(rung, [.. Numbers.Keys.Order()]);
            alive = StillOpen(alive);
            if (alive.Count > _rungs[rung].Most)
            {
                List<double[]> estimates = Estimates(alive, optimistic: false);
                int[] kept = [.. _tradeOff.Best(estimates, _rungs[rung].Most).Select(at => alive[at]).Order()];
                _droppedForWork.UnionWith(alive.Except(kept));
                alive = [.. kept];
            }
        }

        do
        {
            while (alive.Count > 0 && Numbers.Count < _effort.MostYears)
            {
                List<double[]> estimates = Estimates(alive, optimistic: false);
                Calculate([.. _tradeOff.Best(estimates, Math.Min(_effort.YearsARound, _effort.MostYears - Numbers.Count)).Select(at => alive[at])], _effort.YearsARound);

                // From all that may race, not from those left: what was dropped by a bound that turned out too small comes back.
                alive = StillOpen(Enumerable.Range(0, _count));
            }

            _droppedForWork.UnionWith(alive);
            Audit();
            alive = _auditedWrong > 0 ? StillOpen(Enumerable.Range(0, _count)) : [];
        }
        while (alive.Count > 0 && Numbers.Count < _effort.MostYears);
        _droppedForWork.UnionWith(alive);
        return Report();
    }

    /// <summary>Calculated designs no consultant would propose.</summary>
    public int NotProposed => Numbers.Values.Count(numbers => !_proposed(TradeOff.InBoxes(numbers)));

    /// <summary>The front of what is known.</summary>
    public List<(int Candidate, List<int> Ties)> Front() => _tradeOff.Front(Numbers.Where(pair => _proposed(TradeOff.InBoxes(pair.Value))));

    // In the order of the draw, of the next so many the one that shows the most pairs of choices not shown yet (greedy pairwise covering: Cohen, Dalal, Fredman and
    // Patton 1997, IEEE Transactions on Software Engineering 23:437): what two choices do only together is seen before anything is dropped by it.
    private List<int> Drawn(int count)
    {
        List<int> open = [.. _shuffled.Where(candidate => !_failed.Contains(candidate))];
        if (_choices is null)
        {
            return [.. open.Take(count)];
        }

        List<int> drawn = [];
        HashSet<(int Axis, int Choice, int OtherAxis, int Other)> shown = [];
        while (drawn.Count < count && open.Count > 0)
        {
            int best = open.Take(DrawnFrom).MaxBy(candidate => Pairs(candidate).Count(pair => !shown.Contains(pair)));
            shown.UnionWith(Pairs(best));
            drawn.Add(best);
            open.Remove(best);
        }

        return drawn;

        IEnumerable<(int Axis, int Choice, int OtherAxis, int Other)> Pairs(int candidate)
        {
            ImmutableArray<int> own = _choices(candidate);
            for (int axis = 0; axis < own.Length; axis++)
            {
                for (int other = axis + 1; other < own.Length; other++)
                {
                    yield return (axis, own[axis], other, own[other]);
                }
            }
        }
    }

    private void Look(int rung, IReadOnlyList<int> candidates)
    {
        int[] open = [.. candidates.Where(candidate => !_failed.Contains(candidate) && Looks(candidate) == rung)];
        int chunk = Math.Max(1, 16 * _effort.Threads);
        for (int from = 0; from < open.Length; from += chunk)
        {
            _cancellation.ThrowIfCancellationRequested();
            int[] some = open[from..Math.Min(open.Length, from + chunk)];
            double[]?[] seen = _rungs[rung].Look(some);
            for (int at = 0; at < some.Length; at++)
            {
                if (seen[at] is not double[] features)
                {
                    _failed.Add(some[at]);
                    continue;
                }

                _features[some[at]] = _features.TryGetValue(some[at], out double[]? before) ? [.. before, .. features] : features;
                _seen[some[at]] = rung + 1;
                _width[rung] = _features[some[at]].Length;
            }

            _looked[rung] += some.Length;
            _told?.Invoke(this);
        }
    }

    private int Looks(int candidate) => _seen.GetValueOrDefault(candidate);

    private void Calculate(IReadOnlyList<int> candidates, int aRound)
    {
        int chunk = Math.Max(1, Math.Min(aRound, 8 * _effort.Threads));
        int[] open = [.. candidates.Where(candidate => !Numbers.ContainsKey(candidate) && !_failed.Contains(candidate))];
        for (int from = 0; from < open.Length; from += chunk)
        {
            _cancellation.ThrowIfCancellationRequested();
            int[] some = open[from..Math.Min(open.Length, from + chunk)];
            ObjectiveNumbers?[] numbers = _years(some);
            for (int at = 0; at < some.Length; at++)
            {
                if (numbers[at] is ObjectiveNumbers found)
                {
                    Numbers[some[at]] = found;
                }
                else
                {
                    _failed.Add(some[at]);
                }
            }

            _told?.Invoke(this);
        }
    }

    // Those a calculated design does not beat even when their estimate is too high by its whole bound.
    private List<int> StillOpen(IEnumerable<int> candidates)
    {
        List<int> open = [.. candidates.Where(candidate => !_failed.Contains(candidate) && !Numbers.ContainsKey(candidate) && !_droppedForWork.Contains(candidate))];
        if (Numbers.Count == 0)
        {
            return open;
        }

        (int Candidate, double[] InBoxes, long[] Boxes)[] front =
        [
            .. Front().Select(member => (member.Candidate, InBoxes: TradeOff.InBoxes(Numbers[member.Candidate])))
                .Select(member => (member.Candidate, member.InBoxes, _tradeOff.Boxes(member.InBoxes))),
        ];
        List<double[]> best = Estimates(open, optimistic: true);
        return
        [
            .. Enumerable.Range(0, open.Count).Where(at =>
            {
                long[] boxes = _tradeOff.Boxes(best[at]);
                return _proposed(best[at]) && !Array.Exists(front, member => IsSurelyBetter(member.Candidate, member.InBoxes, member.Boxes, open[at], boxes, best[at]));
            }).Select(at => open[at]),
        ];
    }

    private static bool IsSurelyBetter(int member, double[] inBoxes, long[] of, int candidate, long[] boxes, double[] best)
    {
        bool better = false;
        for (int k = 0; k < of.Length; k++)
        {
            if (of[k] > boxes[k])
            {
                return false;
            }

            better |= of[k] < boxes[k];
        }

        // In the same boxes it would be a tie at best; the order of a tie needs no year.
        return better || TradeOff.Stands(inBoxes, member, best, candidate);
    }

    // Each candidate by the closest look it had, counted in boxes.
    private List<double[]> Estimates(IReadOnlyList<int> candidates, bool optimistic)
    {
        Dictionary<int, List<(Objective Objective, StraightFit Fit, double Bound)>> fits = [];
        List<double[]> estimates = [];
        foreach (int candidate in candidates)
        {
            int rung = Looks(candidate) - 1;
            if (!fits.TryGetValue(rung, out List<(Objective Objective, StraightFit Fit, double Bound)>? of))
            {
                fits[rung] = of = Fits(rung);
            }

            double[] values = TradeOff.InBoxes(_known(candidate));
            foreach ((Objective objective, StraightFit fit, double bound) in of)
            {
                values[(int)objective] = Math.Max(0, fit.At(_features[candidate]) - (optimistic ? bound : 0));
            }

            estimates.Add(values);
        }

        return estimates;
    }

    // With fewer than three years there is nothing to fit: every estimate is then the best there could be.
    private List<(Objective Objective, StraightFit Fit, double Bound)> Fits(int rung)
    {
        int[] measured = [.. Numbers.Keys.Where(candidate => Looks(candidate) > rung).Order()];
        if (measured.Length < 3)
        {
            return [];
        }

        // Those looked at more closely are known by the numbers of this look here.
        double[][] rows = [.. measured.Select(candidate => _features[candidate][.._width[rung]])];
        double[][] truth = [.. measured.Select(candidate => TradeOff.InBoxes(Numbers[candidate]))];
        (Objective Objective, StraightFit Fit, double Typical)[] fits =
        [
            .. Enum.GetValues<Objective>().Where(objective => !Objectives.IsKnownAtOnce(objective)).Select(objective =>
            {
                StraightFit fit = StraightFit.Of(rows, [.. truth.Select(values => values[(int)objective])]);
                return (objective, fit, Math.Sqrt(fit.Missed.Average(missed => missed * missed)));
            }),
        ];
        double times = Careful * Math.Max(1, Needed(measured, truth, fits));
        string name = _rungs[rung].Name;
        _errors.RemoveAll(error => error.Rung == name);
        _errors.AddRange(fits.Where(fit => _tradeOff.Counted.Contains(fit.Objective)).Select(fit => new EstimateError(name, fit.Objective, fit.Typical, times * fit.Typical)));
        return [.. fits.Select(fit => (fit.Objective, fit.Fit, times * fit.Typical))];
    }

    // By how many typical errors, all objectives at once, the estimates of the members of the front would have had to be lowered so that none would have been
    // dropped, each estimated by the fit that does not know it.
    private double Needed(int[] measured, double[][] truth, (Objective Objective, StraightFit Fit, double Typical)[] fits)
    {
        HashSet<int> members = [.. Front().Select(member => member.Candidate)];
        int[] front = [.. Enumerable.Range(0, measured.Length).Where(at => members.Contains(measured[at]))];
        double needed = 0;
        foreach (int own in front)
        {
            foreach (int other in front.Where(other => other != own))
            {
                if (_tradeOff.Counted.Where(Objectives.IsKnownAtOnce).Any(objective => TradeOff.Box(truth[other][(int)objective]) > TradeOff.Box(truth[own][(int)objective])))
                {
                    continue;
                }

                // The other stops beating it as soon as one lowered estimate lies in a cheaper box than the other's.
                double least = double.PositiveInfinity;
                foreach ((Objective objective, StraightFit fit, double typical) in fits.Where(fit => _tradeOff.Counted.Contains(fit.Objective)))
                {
                    double over = truth[own][(int)objective] + fit.Missed[own] - TradeOff.Box(truth[other][(int)objective]);
                    least = Math.Min(least, over <= 0 ? 0 : typical > 0 ? over / typical : double.PositiveInfinity);
                }

                // Infinite where nothing estimated differs at all: a tie, which no estimate decides.
                needed = double.IsInfinity(least) ? needed : Math.Max(needed, least);
            }
        }

        return needed;
    }

    // What was dropped, drawn at random, calculated all the same.
    private void Audit()
    {
        int[] dropped = [.. _shuffled.Where(candidate => !Numbers.ContainsKey(candidate) && !_failed.Contains(candidate)).Take(_effort.Audited)];
        Calculate(dropped, _effort.YearsARound);
        HashSet<int> front = [.. Front().Select(member => member.Candidate)];
        _audited = dropped.Count(Numbers.ContainsKey);
        _auditedWrong = dropped.Count(front.Contains);
    }

    private RaceReport Report()
    {
        int open = _count - Numbers.Count - _failed.Count;
        return new RaceReport
        {
            Candidates = _count,
            NotCalculated = _failed.Count,
            Years = Numbers.Count,
            Looked = Looked,
            NotProposed = NotProposed,
            DroppedForWork = _droppedForWork.Count(IsOpen),
            DroppedSurely = open - _droppedForWork.Count(IsOpen),
            Audited = _audited,
            AuditedWrong = _auditedWrong,
            WrongShareAtMost = open == 0 ? 0 : _audited == 0 ? 1 : UpperLimit(_auditedWrong, _audited),
            Errors = [.. _errors.OrderBy(error => error.Rung, StringComparer.Ordinal).ThenBy(error => error.Objective)],
        };
    }

    private bool IsOpen(int candidate) => !Numbers.ContainsKey(candidate) && !_failed.Contains(candidate);

    /// <summary>Upper 95 % limit of a share of which so many of n were found: the p at which finding no more has a chance of 5 %.</summary>
    internal static double UpperLimit(int found, int n)
    {
        if (found >= n)
        {
            return 1;
        }

        double low = (double)found / n;
        double high = 1;
        for (int step = 0; step < 60; step++)
        {
            double p = (low + high) / 2;
            double chance = 0;
            double term = Math.Pow(1 - p, n);
            for (int k = 0; k <= found; k++)
            {
                chance += term;
                term *= p / (1 - p) * (n - k) / (k + 1);
            }

            (low, high) = chance > 0.05 ? (p, high) : (low, p);
        }

        return high;
    }
}

/// <summary>Draws from a seed: SplitMix64 (Steele, Lea and Flood 2014, "Fast splittable pseudorandom number generators", OOPSLA).</summary>
internal sealed class SplitMix(ulong seed)
{
    private ulong _state = seed;

    /// <summary>The next number, 0 to less than 1.</summary>
    public double Next()
    {
        _state += 0x9E3779B97F4A7C15;
        ulong z = _state;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return ((z ^ (z >> 31)) >> 11) * (1.0 / (1UL << 53));
    }

    /// <summary>The numbers from 0 in an order drawn anew (Fisher and Yates).</summary>
    public int[] Shuffled(int count)
    {
        int[] order = [.. Enumerable.Range(0, count)];
        for (int at = count - 1; at > 0; at--)
        {
            int other = (int)(Next() * (at + 1));
            (order[at], order[other]) = (order[other], order[at]);
        }

        return order;
    }
}
