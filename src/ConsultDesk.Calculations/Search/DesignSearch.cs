using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>
/// Searches the designs of a van: lists the space, looks at every candidate in situations, races those that can still win over the year, compares the front in
/// other worlds, and names a few. docs/method/search.md.
/// </summary>
public sealed class DesignSearch
{
    // Of the candidates that may be calculated over the year, so many times more go from the situations into the weeks. Our judgement.
    private const int WeeksPerYear = 4;

    private const double SeenMould = 3;

    // What share of the work is done when all that can win is looked at, and when it is raced; the rest is the comparison in other worlds. As measured, roughly.
    private const double LookedShare = 0.3;
    private const double RacedShare = 0.5;

    // Designs made and run side by side at a time; each takes some tens of kilobytes.
    private const int DesignsHeld = 256;

    private readonly SearchOrder _order;
    private readonly IYearSource _years;
    private readonly IProgress<SearchProgress>? _progress;
    private readonly CancellationToken _cancellation;
    private readonly Design _now;
    private readonly YearWeather _weather;
    private readonly Screen _screen;
    private readonly double _glassAndMetalM2;
    private readonly TradeOff _tradeOff;
    private readonly ImmutableArray<double> _weights;
    private readonly FindingContext _context;
    private readonly ImmutableHashSet<string> _had;
    private readonly IReadOnlyDictionary<int, ObjectiveNumbers> _knownYears;
    private readonly Dictionary<int, ScreenNumbers> _screened = [];
    private readonly Dictionary<string, int> _removedLate = [];
    private SearchProgress _last = new() { Stage = SearchStage.Counting };

    private DesignSearch(
        SearchOrder order, IYearSource years, IReadOnlyDictionary<int, ObjectiveNumbers> knownYears, IProgress<SearchProgress>? progress, CancellationToken cancellation)
    {
        (_order, _years, _knownYears, _progress, _cancellation) = (order, years, knownYears, progress, cancellation);
        _now = LaterParts.Without(order.Design);
        _weather = YearWeather.Of(_now, hours: order.Hours);
        _screen = new Screen(_now, _weather, order.Book);
        _glassAndMetalM2 = Screen.GlassAndMetalM2(_now);
        bool unpriced = DesignSpaces.HasUnpricedFuel(order.Design, order.Book);
        _tradeOff = new TradeOff(order.Counted.Where(objective => !(unpriced && objective == Objective.MoneyAYear)));
        _weights = ClientWeights.Of(order.Wishes, _tradeOff.Counted);
        NightWeather night = Nights.At(_now);
        _context = new FindingContext(
            _now, Assessor.AssessWithoutFindings(_now, night, cancellation), changed => Assessor.AssessWithoutFindings(changed, night, cancellation));
        _had = _context.DangerCodes(_now);
    }

    private DesignSpace Space => _last.Space!;

    /// <summary>Searches.</summary>
    /// <param name="order">What is searched.</param>
    /// <param name="years">Where years come from; many side by side when left out.</param>
    /// <param name="progress">Told after each piece of work, with the front so far, on the thread that searches. What it was told last stands when the search breaks off.</param>
    /// <param name="cancellation">Stops it: within one day of each year under way, or within one candidate's situations.</param>
    /// <returns>What was found. A cancelled search comes back with what it had, marked as such.</returns>
    /// <exception cref="ArgumentException">The design is wrong, or a bound of the work is; the message names it.</exception>
    /// <exception cref="CalculationFailedException">The van as it stands does not balance.</exception>
    public static SearchResult Run(
        SearchOrder order, IYearSource? years = null, IProgress<SearchProgress>? progress = null, CancellationToken cancellation = default) =>
        Run(order, years, ImmutableDictionary<int, ObjectiveNumbers>.Empty, progress, cancellation);

    /// <summary>The same with years that are known already; they count as calculated when they are asked for.</summary>
    internal static SearchResult Run(
        SearchOrder order, IYearSource? years, IReadOnlyDictionary<int, ObjectiveNumbers> knownYears, IProgress<SearchProgress>? progress, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(order);
        order.Effort.Check();
        Assessor.RequireValid(order.Design);
        DesignSearch? search = null;
        try
        {
            search = new DesignSearch(order, years ?? new SideBySideYears(), knownYears, progress, cancellation);
            return search.Run();
        }
        catch (OperationCanceledException) when (cancellation.IsCancellationRequested)
        {
            return SearchResult.Unfinished(search?._last, SearchEnd.Cancelled) with { Currency = order.Currency };
        }
    }

    private SearchResult Run()
    {
        Tell(_last);
        DesignSpace space = DesignSpaces.Of(_order, _screen, _cancellation);
        Tell(_last with { Stage = SearchStage.Screening, Space = space, MostYears = Math.Min(space.Count, _order.Effort.MostYears + _order.Effort.Audited) });
        ObjectiveNumbers? start = Years([(_order.Design, (double)Costing.Of(_order.Design, _order.Book).Now)])[0];
        Tell(_last with { Start = start });
        if (space.Count == 0)
        {
            return new SearchResult { End = SearchEnd.Finished, Message = space.Emptied!.Message, Space = space, Start = start, Weights = _weights };
        }

        Race race = new(
            space.Count,
            _tradeOff,
            _order.Effort,
            Rungs(),
            Known,
            YearsOf,
            inBoxes => IsProposed(inBoxes, start),
            Told,
            _cancellation,
            space.Choices);
        RaceReport report = race.Run(_order.Seed);
        ImmutableArray<FrontMember> front = Members(race);
        SearchResult found = new()
        {
            End = SearchEnd.Finished,
            Message = front.IsEmpty ? "No design could be calculated, or each one was removed by a rule when it was made." : Coverage.Of(space, report),
            Space = space,
            Start = start,
            Front = front,
            Named = FrontNames.Of(space, front, start, _tradeOff.Counted, _order.Currency),
            Currency = _order.Currency,
            Weights = _weights,
            Race = report,
            Calculated = race.Numbers.ToImmutableSortedDictionary(),
            RemovedLate = [.. SpaceRule.All.Where(rule => _removedLate.ContainsKey(rule.Key)).Select(rule => new RemovedByRule(rule, 0, _removedLate[rule.Key], []))],
        };
        Tell(_last with { Stage = SearchStage.Comparing, Front = front, Found = found, Share = Math.Max(_last.Share, RacedShare) });
        found = Compared(found);
        Tell(_last with { Stage = SearchStage.Done, Front = found.Front, Found = found, Share = 1 });
        return found;
    }

    // Where mould is seen by eye in the third year (index 3, Hukka and Viitanen 1999) nobody proposes what makes the van wetter than it is.
    private static bool IsProposed(double[] inBoxes, ObjectiveNumbers? start) => start is null
        || inBoxes[(int)Objective.Mould] < Objectives.Of(Objective.Mould).InBoxes(SeenMould)
        || TradeOff.Box(inBoxes[(int)Objective.WetHours]) <= TradeOff.Box(Objectives.Of(Objective.WetHours).InBoxes(start[Objective.WetHours]));

    private void Tell(SearchProgress progress)
    {
        _last = progress;
        _progress?.Report(progress);
    }

    private void Told(Race race)
    {
        double screened = Space.Count == 0 ? 1 : (double)race.Looked[0] / Space.Count;
        int years = race.Numbers.Count;
        bool racing = years > _order.Effort.Drawn;
        double share = racing
            ? LookedShare + ((RacedShare - LookedShare) * Math.Min(1, (double)years / Math.Max(1, _last.MostYears)))
            : (LookedShare / 2 * Math.Min(1, screened)) + (LookedShare / 2 * Math.Min(1, (double)InWeeks(race) / Math.Max(1, Math.Min(Space.Count, WeeksPerYear * _order.Effort.MostYears))));
        Tell(_last with
        {
            Stage = racing ? SearchStage.Racing : SearchStage.Screening,
            Screened = race.Looked[0],
            InWeeks = InWeeks(race),
            Years = years,
            Share = Math.Max(_last.Share, share),
            Front = years == _last.Years ? _last.Front : Members(race),
        });
    }

    private static int InWeeks(Race race) => race.Looked.Length > 1 ? race.Looked[1] : 0;

    private ImmutableArray<FrontMember> Members(Race race)
    {
        List<(int Candidate, List<int> Ties)> front = race.Front();
        LinearScores scores = new([.. front.Select(member => race.Numbers[member.Candidate])], _weights);
        return
        [
            .. front.Select(member => new FrontMember
            {
                Candidate = member.Candidate,
                Words = Space.Words(member.Candidate),
                Numbers = race.Numbers[member.Candidate],
                Ties = [.. member.Ties],
                Score = scores.Of(race.Numbers[member.Candidate]),
            }).OrderBy(member => member.Score).ThenBy(member => member.Candidate),
        ];
    }

    // The design of a candidate; null when a rule removes it now that it is made.
    private Design? Made(int candidate, Dictionary<string, int> removed)
    {
        Design design = Space.Start;
        ImmutableArray<int> choices = Space.Choices(candidate);
        string? rule = null;
        for (int axis = 0; axis < choices.Length && rule is null; axis++)
        {
            Design before = design;
            design = Space.Axes[axis].Choices[choices[axis]].Apply(design);
            rule = choices[axis] > 0 && ReferenceEquals(before, design) ? (Space.Axes[axis].Choices[choices[axis]].Places ? "no-room" : "no-effect") : null;
        }

        rule ??= DesignSpaces.Removal(_order, Space.Start, design);
        rule ??= _context.DangerCodes(LaterParts.Without(design)).Except(_had).IsEmpty ? null : "danger";
        if (rule is not null)
        {
            lock (removed)
            {
                removed[rule] = removed.GetValueOrDefault(rule) + 1;
            }
        }

        return rule is null ? design : null;
    }

    // The last look lets as many go on as there may be years: who comes first is asked anew in every round.
    private ImmutableArray<Rung> Rungs() => _order.Effort.LooksAtWeeks
        ? [new Rung("situations", WeeksPerYear * _order.Effort.MostYears, Look), new Rung("weeks", int.MaxValue, LookAtWeeks)]
        : [new Rung("situations", int.MaxValue, Look)];

    private double[]?[] Look(IReadOnlyList<int> candidates)
    {
        ScreenNumbers?[] seen = new ScreenNumbers?[candidates.Count];
        InOrder.Each(
            candidates.Count,
            _order.Effort.Threads,
            at => seen[at] = Made(candidates[at], _removedLate) is Design design ? _screen.Of(design, _cancellation) : null,
            _cancellation);
        double[]?[] features = new double[]?[candidates.Count];
        for (int at = 0; at < candidates.Count; at++)
        {
            if (seen[at] is ScreenNumbers numbers)
            {
                _screened[candidates[at]] = numbers;
                features[at] = [.. Features(numbers), .. Chosen(candidates[at])];
            }
        }

        return features;
    }

    private double[]?[] LookAtWeeks(IReadOnlyList<int> candidates)
    {
        Weeks weeks = new(_weather, _glassAndMetalM2);
        List<double[]?> seen = [];
        // Not all designs are held at once.
        foreach (int[] together in candidates.Chunk(DesignsHeld))
        {
            Design[] designs = new Design[together.Length];
            InOrder.Each(together.Length, _order.Effort.Threads, at => designs[at] = LaterParts.Without(Space.Design(together[at])), _cancellation);
            seen.AddRange(weeks.Of(designs, _order.Effort.Threads, _cancellation));
        }

        return [.. seen];
    }

    // Years bend where films begin to form: the roots of what is wet and the logarithm of air follow them better than the numbers alone.
    private static IEnumerable<double> Features(ScreenNumbers numbers) =>
    [
        .. numbers.Features, Math.Sqrt(numbers.Features[0]), Math.Sqrt(numbers.Features[5]), Math.Log(1 + numbers.Features[6]), numbers.NoiseDba,
    ];

    private IEnumerable<double> Chosen(int candidate) => Space.Choices(candidate)
        .SelectMany((choice, axis) => Enumerable.Range(1, Space.Axes[axis].Choices.Length - 1).Select(other => other == choice ? 1.0 : 0));

    private double[] Known(int candidate)
    {
        double[] values = new double[Objectives.Count];
        ScreenNumbers numbers = _screened[candidate];
        values[(int)Objective.MoneyNow] = numbers.MoneyNow;
        values[(int)Objective.Noise] = numbers.NoiseDba;
        values[(int)Objective.Parts] = numbers.Parts;
        return values;
    }

    private ObjectiveNumbers?[] YearsOf(IReadOnlyList<int> candidates)
    {
        ObjectiveNumbers?[] all = [.. candidates.Select(candidate => _knownYears.GetValueOrDefault(candidate))];
        (int At, Design Design)[] made =
        [
            .. from at in Enumerable.Range(0, candidates.Count)
               where all[at] is null
               let design = _screened.ContainsKey(candidates[at]) ? Space.Design(candidates[at]) : Made(candidates[at], _removedLate)
               where design is not null
               select (at, design),
        ];
        ObjectiveNumbers?[] numbers = Years([.. made.Select(pair => (pair.Design, Space.MoneyNow[candidates[pair.At]]))]);
        for (int at = 0; at < made.Length; at++)
        {
            all[made[at].At] = numbers[at];
        }

        return all;
    }

    private ObjectiveNumbers?[] Years(IReadOnlyList<(Design Design, double MoneyNow)> designs)
    {
        YearTask[] tasks = [.. designs.Select(one => new YearTask(LaterParts.Without(one.Design), _weather, Assumptions.Likely))];
        return
        [
            .. _years.Each(tasks, _order.Effort.Threads, _cancellation).Select((year, at) => year is null
                ? null
                : YearNumbers.Of(tasks[at].Design, year, _order.Book, designs[at].MoneyNow, _screen.Parts(designs[at].Design), _glassAndMetalM2)),
        ];
    }

    // Chances are told after each world, so that what was compared when it is stopped is not lost.
    private SearchResult Compared(SearchResult found)
    {
        int worlds = _order.Effort.Worlds;
        FrontMember[] members = [.. found.Front.Take(_order.Effort.MostCompared)];
        if (worlds == 0 || members.Length == 0)
        {
            return found;
        }

        Tell(_last with { MostCompared = worlds * members.Length, MostWorlds = worlds });
        Design[] designs = [.. members.Select(member => Space.Design(member.Candidate))];
        int[] stayed = new int[members.Length];
        List<ObjectiveNumbers?[]> seen = [];
        foreach (World world in Worlds.Of(_order, worlds))
        {
            YearTask[] tasks = [.. designs.Select(design => new YearTask(LaterParts.Without(world.Move(design)), world.Weather, world.Assumed))];
            ObjectiveNumbers?[] numbers =
            [
                .. _years.Each(tasks, _order.Effort.Threads, _cancellation).Select((year, at) => year is null
                    ? null
                    : YearNumbers.Of(tasks[at].Design, year, world.Book, (double)Costing.Of(designs[at], world.Book).Now, _screen.Parts(designs[at]), _glassAndMetalM2)),
            ];
            seen.Add(numbers);
            for (int index = 0; index < members.Length; index++)
            {
                stayed[index] += IsOnFront(numbers, index) ? 1 : 0;
            }

            found = With(found, [.. members.Select((member, index) => member with
            {
                ChanceOnFront = (double)stayed[index] / seen.Count,
                Bands = [.. Enumerable.Range(0, Objectives.Count).Select(k => Band([.. seen.Select(other => other[index]).OfType<ObjectiveNumbers>().Select(own => own.Values[k]).Order()], member.Numbers.Values[k]))],
            })], seen.Count);
            Tell(_last with
            {
                Front = found.Front,
                Found = found,
                Compared = _last.Compared + members.Length,
                Share = Math.Max(_last.Share, RacedShare + ((1 - RacedShare) * seen.Count / worlds)),
            });
        }

        return found;
    }

    private static SearchResult With(SearchResult found, ImmutableArray<FrontMember> compared, int worlds)
    {
        ImmutableArray<FrontMember> front = [.. compared, .. found.Front.Skip(compared.Length)];
        return found with
        {
            Front = front,
            Named = [.. found.Named.Select(named => named with { Member = front.Single(member => member.Candidate == named.Member.Candidate) })],
            Worlds = worlds,
        };
    }

    // A tie stays on the front; what cannot be calculated in a world is not on its front.
    private bool IsOnFront(ObjectiveNumbers?[] world, int index)
    {
        if (world[index] is not ObjectiveNumbers own)
        {
            return false;
        }

        long[] boxes = _tradeOff.Boxes(TradeOff.InBoxes(own));
        return !world.OfType<ObjectiveNumbers>().Any(other => TradeOff.Beats(_tradeOff.Boxes(TradeOff.InBoxes(other)), boxes));
    }

    private static (double Low, double High) Band(double[] sorted, double likely) => sorted.Length == 0
        ? (likely, likely)
        : (Quantile(sorted, 0.1), Quantile(sorted, 0.9));

    private static double Quantile(double[] sorted, double share)
    {
        double at = share * (sorted.Length - 1);
        int below = (int)at;
        return below + 1 >= sorted.Length ? sorted[below] : sorted[below] + ((at - below) * (sorted[below + 1] - sorted[below]));
    }
}
