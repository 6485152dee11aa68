using System.Collections.Immutable;
using System.Globalization;
using System.Runtime.ExceptionServices;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>A van whose year is to be run.</summary>
/// <param name="Design">A valid design without parts that come later.</param>
/// <param name="Weather">Its year.</param>
/// <param name="Assumed">What is assumed.</param>
internal readonly record struct YearOrder(Design Design, YearWeather Weather, Assumptions Assumed);

/// <summary>What became of a year.</summary>
/// <typeparam name="T">What was read of it.</typeparam>
/// <param name="Result">What was read of it; the default where it failed.</param>
/// <param name="Failure">Why it could not be run through; null where it was.</param>
internal readonly record struct YearOutcome<T>(T? Result, CalculationFailedException? Failure);

/// <summary>What is read of the years of many vans while they run.</summary>
/// <typeparam name="T">What is read of each.</typeparam>
internal interface IYearReading<T>
{
    /// <summary>The days that are run, as <see cref="YearRun"/> takes them: the whole year, or some spells one after the other.</summary>
    IReadOnlyList<(int FromDay, int Days)> Spells { get; }

    /// <summary>Begins with vans side by side; called from several threads.</summary>
    /// <param name="batch">The vans.</param>
    /// <param name="indices">The place of each among all of them.</param>
    ILaneReading<TLane, T> Of<TLane>(VanBatch<TLane> batch, int[] indices)
        where TLane : struct, ILane<TLane>;
}

/// <summary>What is read of vans side by side; let go when every result was asked for.</summary>
/// <typeparam name="TLane">The vans of a batch.</typeparam>
/// <typeparam name="T">What is read of each.</typeparam>
internal interface ILaneReading<TLane, T> : IHourReader<TLane>, IDisposable
    where TLane : struct, ILane<TLane>
{
    /// <summary>What was read of the van of a lane, which has not failed; asked for once at most.</summary>
    /// <exception cref="CalculationFailedException">It cannot be worked out.</exception>
    T Result(int lane);
}

/// <summary>
/// The years of many vans: as many side by side as the processor has lanes for, and as many of those at a time as there are threads. Each year is that
/// of <see cref="YearRun"/> for the van alone, to the bit, however they are put together; one that fails takes no other with it.
/// </summary>
internal sealed class YearBatch
{
    private readonly int _width;
    private readonly int _threads;
    private readonly CancellationToken _cancellation;

    private YearBatch(int width, int threads, CancellationToken cancellation)
    {
        _width = width;
        _threads = threads;
        _cancellation = cancellation;
    }

    /// <summary>Runs years and keeps what is read of each.</summary>
    /// <param name="orders">
    /// The vans. Each is looked at twice, to see which others it can run beside and when its turn has come, and not kept: a list may make its
    /// designs when they are asked for, from several threads, the same each time, so that thousands of them need not be held at once.
    /// </param>
    /// <param name="read">
    /// Takes what is needed out of a year, by its index; called from several threads. The series are written over by other years once it returns, so
    /// nothing of them may be kept. What it throws stops the whole batch, but for <see cref="CalculationFailedException"/>, which is that year's outcome.
    /// </param>
    /// <param name="threads">Batches at the same time.</param>
    /// <param name="width">Vans side by side: 1, 4 or 8; null for <see cref="LaneWidth.Best"/>.</param>
    /// <param name="progress">Told how many years are done.</param>
    /// <param name="cancellation">Stops the work within a day of each year under way.</param>
    /// <returns>In the order of the vans.</returns>
    public static ImmutableArray<YearOutcome<T>> Run<T>(
        IReadOnlyList<YearOrder> orders,
        Func<int, VanModel, YearSeries, T> read,
        int threads,
        int? width = null,
        IProgress<int>? progress = null,
        CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(read);
        return Run(orders, new WholeYears<T>(read), threads, width, progress, cancellation);
    }

    /// <summary>The same, read while the years run, without room for any.</summary>
    /// <param name="orders">The vans, as above.</param>
    /// <param name="reading">Reads what is needed.</param>
    /// <param name="threads">Batches at the same time.</param>
    /// <param name="width">Vans side by side: 1, 4 or 8; null for <see cref="LaneWidth.Best"/>.</param>
    /// <param name="progress">Told how many years are done.</param>
    /// <param name="cancellation">Stops the work within a day of each year under way.</param>
    /// <returns>In the order of the vans.</returns>
    public static ImmutableArray<YearOutcome<T>> Run<T>(
        IReadOnlyList<YearOrder> orders,
        IYearReading<T> reading,
        int threads,
        int? width = null,
        IProgress<int>? progress = null,
        CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(orders);
        ArgumentNullException.ThrowIfNull(reading);
        ArgumentOutOfRangeException.ThrowIfLessThan(threads, 1);
        int lanes = width ?? LaneWidth.Best;
        if (lanes is not (1 or 4 or 8))
        {
            throw new ArgumentOutOfRangeException(nameof(width), lanes, "Expected 1, 4 or 8 vans side by side.");
        }

        return new YearBatch(lanes, threads, cancellation).Run(orders, reading, progress);
    }

    private ImmutableArray<YearOutcome<T>> Run<T>(IReadOnlyList<YearOrder> orders, IYearReading<T> reading, IProgress<int>? progress)
    {
        YearOutcome<T>[] outcomes = new YearOutcome<T>[orders.Count];
        int done = 0;
        try
        {
            Parallel.ForEach(
                Parties(orders),
                new ParallelOptions { MaxDegreeOfParallelism = _threads, CancellationToken = _cancellation },
                party =>
                {
                    RunParty(orders, party, reading, outcomes);
                    progress?.Report(Interlocked.Add(ref done, party.Length));
                });
        }
        catch (AggregateException failed)
        {
            // What fails is told as it would be alone.
            ExceptionDispatchInfo.Throw(failed.Flatten().InnerExceptions[0]);
        }

        return ImmutableArray.Create(outcomes);
    }

    // Vans that can go together, those with like openings and glass beside each other, because the one with most of them decides the work, and so that one finds the room the one before left.
    private List<int[]> Parties(IReadOnlyList<YearOrder> orders)
    {
        Dictionary<(string Kind, YearWeather Weather), List<(int Index, int Openings, int Glass, int Metal)>> groups = [];
        for (int index = 0; index < orders.Count; index++)
        {
            YearOrder order = orders[index];
            (string, YearWeather) kind = (Kind(order.Design), order.Weather);
            if (!groups.TryGetValue(kind, out List<(int Index, int Openings, int Glass, int Metal)>? group))
            {
                groups.Add(kind, group = []);
            }

            int glass = order.Design.Glazings.Length + order.Design.Openings.Count(opening => opening.Pane is not null);
            group.Add((index, order.Design.Openings.Length, glass, order.Design.BareMetal.Length));
        }

        return
        [
            .. groups.Values.SelectMany(group => group.OrderBy(one => one.Openings).ThenBy(one => one.Glass).ThenBy(one => one.Metal).Select(one => one.Index).Chunk(_width)),
        ];
    }

    // What two designs must share to be run side by side, as far as it is seen without compiling them; the rest is looked at then.
    private static string Kind(Design design) => string.Join(
        '|',
        [
            .. design.Zones.Select(zone => string.Create(CultureInfo.InvariantCulture, $"{zone.Id}:{zone.Kind}")),
            design.Heater.ZoneId,
            design.CabDivider.ToString(),
            design.Household.Presence.ToString(),
            design.Household.Sleepers > 0 ? "slept in" : "empty",
        ]);

    private void RunParty<T>(IReadOnlyList<YearOrder> orders, int[] party, IYearReading<T> reading, YearOutcome<T>[] outcomes)
    {
        List<(int Index, VanModel Van, HouseholdDay Day)> left = [];
        YearWeather? weather = null;
        foreach (int index in party)
        {
            try
            {
                YearOrder order = orders[index];
                weather = order.Weather;
                VanModel van = new(order.Design, order.Assumed);
                left.Add((index, van, HouseholdDay.Of(van.Night.Design, van.Night.Assumed)));
            }
            catch (CalculationFailedException failure)
            {
                outcomes[index] = new(default, failure);
            }
        }

        while (left.Count > 0)
        {
            (int Index, VanModel Van, HouseholdDay Day)[] together =
                [.. left.Where(other => VanBatch<ScalarLane>.SameShape(left[0].Van, other.Van) && YearRun.SameActivities(left[0].Day, other.Day))];
            left.RemoveAll(together.Contains);
            VanModel[] vans = [.. together.Select(one => one.Van)];
            int[] indices = [.. together.Select(one => one.Index)];
            switch (vans.Length)
            {
                case 1:
                    RunLanes<ScalarLane, T>(vans, indices, weather!, reading, outcomes);
                    break;
                case <= 4:
                    RunLanes<FourLanes, T>(vans, indices, weather!, reading, outcomes);
                    break;
                default:
                    RunLanes<EightLanes, T>(vans, indices, weather!, reading, outcomes);
                    break;
            }
        }
    }

    private void RunLanes<TLane, T>(VanModel[] vans, int[] indices, YearWeather weather, IYearReading<T> reading, YearOutcome<T>[] outcomes)
        where TLane : struct, ILane<TLane>
    {
        VanBatch<TLane> batch = new(vans);
        using ILaneReading<TLane, T> hours = reading.Of(batch, indices);
        CalculationFailedException?[] failures = new CalculationFailedException?[vans.Length];
        foreach ((int fromDay, int days) in reading.Spells)
        {
            CalculationFailedException?[] more = Failures(batch, hours, weather, fromDay, days);
            failures = [.. failures.Zip(more, (before, now) => before ?? now)];
        }

        for (int lane = 0; lane < vans.Length; lane++)
        {
            _cancellation.ThrowIfCancellationRequested();
            outcomes[indices[lane]] = failures[lane] is CalculationFailedException failure ? new(default, failure) : Read(hours, lane);
        }
    }

    // A single van tells its failure by throwing it.
    private CalculationFailedException?[] Failures<TLane>(VanBatch<TLane> batch, IHourReader<TLane> hours, YearWeather weather, int fromDay, int days)
        where TLane : struct, ILane<TLane>
    {
        try
        {
            return YearRun.Of(batch, hours, weather, options: null, fromDay, days, progress: null, _cancellation);
        }
        catch (CalculationFailedException failure) when (TLane.Count == 1)
        {
            return [failure];
        }
    }

    private static YearOutcome<T> Read<TLane, T>(ILaneReading<TLane, T> hours, int lane)
        where TLane : struct, ILane<TLane>
    {
        try
        {
            return new(hours.Result(lane), null);
        }
        catch (CalculationFailedException failure)
        {
            return new(default, failure);
        }
    }
}
