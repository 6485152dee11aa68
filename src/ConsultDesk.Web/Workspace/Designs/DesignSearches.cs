using System.Collections.Immutable;
using System.Diagnostics;
using System.Diagnostics.CodeAnalysis;
using ConsultDesk.Calculations;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Records;

namespace ConsultDesk.Web.Workspace.Designs;

/// <summary>What an option's search belongs to.</summary>
/// <param name="FirmId">The firm.</param>
/// <param name="OptionId">The option.</param>
public readonly record struct SearchOf(Guid FirmId, Guid OptionId);

/// <summary>
/// One search of an option's designs: waiting, at work, or ended, perhaps before this desk was started. Its members are read by any number of pages.
/// </summary>
[SuppressMessage("Design", "CA1001", Justification = "The source has no timer and no wait handle to free, and pages may stop a search as long as they show it.")]
public sealed class DesignSearchRun
{
    private readonly Lock _gate = new();
    private readonly CancellationTokenSource _stop = new();
    private long _told;

    internal DesignSearchRun(SignedIn who, Guid optionId, SearchOrder order, string fingerprint, DateTime askedAt) =>
        (Who, Of, Order, Fingerprint, AskedAt) = (who, new(who.FirmId, optionId), order, fingerprint, askedAt);

    internal DesignSearchRun(SearchOf of, StoredSearch stored)
    {
        (Of, Fingerprint, AskedAt, FoundAt, Found, IsRunning) = (of, stored.Fingerprint, stored.AskedAt, stored.FoundAt, stored.Found, false);
        Failure = stored.Damage is { } damage ? $"{damage} Search again: the new result takes its place." : stored.Found?.Failure;
    }

    /// <summary>How often at most pages hear of progress.</summary>
    public static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(400);

    /// <summary>Whose it is.</summary>
    public SearchOf Of { get; }

    /// <summary>Tells inputs, prices and wishes of one search from those of another.</summary>
    public string Fingerprint { get; }

    /// <summary>When it was asked for, UTC.</summary>
    public DateTime AskedAt { get; }

    /// <summary>How far it is; null while it waits and when it has ended.</summary>
    public SearchProgress? Progress { get; private set; }

    /// <summary>
    /// What it found, also when it was stopped or broke off; null until its race is over, and when what is stored cannot be read. Chances in other worlds come
    /// while it goes on.
    /// </summary>
    public KeptSearch? Found { get; private set; }

    /// <summary>When what it found was found, UTC; null with it. What becomes known of chances later leaves it as it is.</summary>
    public DateTime? FoundAt { get; private set; }

    /// <summary>The same as a result; null with it.</summary>
    public SearchResult? Result => Found?.Result;

    /// <summary>Why it broke off, or why what is stored cannot be read; null when nothing went wrong.</summary>
    public string? Failure { get; private set; }

    /// <summary>Why what it found could not be stored; null when it could.</summary>
    public string? NotKept { get; private set; }

    /// <summary>True until it ended.</summary>
    public bool IsRunning { get; private set; } = true;

    /// <summary>After something changed, on any thread.</summary>
    public event Action? Changed;

    /// <summary>Who asked; null for one of before this desk was started.</summary>
    internal SignedIn? Who { get; }

    /// <summary>What is searched; null for one of before this desk was started.</summary>
    internal SearchOrder? Order { get; }

    /// <summary>Ends when all that was to be stored by now is stored, or could not be.</summary>
    internal Task Writing { get; set; } = Task.CompletedTask;

    internal CancellationToken Stopped => _stop.Token;

    /// <summary>Stops it; what it has found by then stays.</summary>
    public void Stop() => _stop.Cancel();

    internal void Tell(SearchProgress progress, bool atOnce = false)
    {
        lock (_gate)
        {
            Progress = progress;
            if (Stopwatch.GetElapsedTime(_told) < Pause && progress.Stage != SearchStage.Done && !atOnce)
            {
                return;
            }

            _told = Stopwatch.GetTimestamp();
        }

        Changed?.Invoke();
    }

    /// <summary>What was found when the race was over, and each time more is known of its chances.</summary>
    /// <returns>True the first time.</returns>
    internal bool Publish(SearchResult found, DateTime at)
    {
        if (Found is { } before)
        {
            Found = before.With(found);
            return false;
        }

        (Found, FoundAt) = (KeptSearch.Of(Order!, found), at);
        return true;
    }

    internal void End(KeptSearch found, DateTime at)
    {
        // Its progress holds the whole space, which nobody needs any more.
        (Failure, Found, FoundAt, Progress, IsRunning) = (found.Failure, found, at, null, false);
        Changed?.Invoke();
    }

    internal void CannotKeep(string? why)
    {
        if (NotKept != why)
        {
            NotKept = why;
            Changed?.Invoke();
        }
    }
}

/// <summary>
/// Searches of all consultants, which go on when the page that asked is read again or left. So many work at once and never more; the others wait, those of a
/// person whose last began longest ago first, so that one who asks for many holds nobody up. What each found last is stored, every few seconds while it is at
/// work: a desk that is started again shows it.
/// </summary>
/// <param name="log">Where what goes wrong is written.</param>
/// <param name="time">The clock.</param>
/// <param name="book">Where they are stored; null keeps them in memory only.</param>
public sealed partial class DesignSearches(ILogger<DesignSearches> log, TimeProvider time, SearchBook? book = null) : IDisposable
{
    /// <summary>Searches one person may have waiting or at work.</summary>
    public const int MostOfOne = 3;

    /// <summary>Ended searches that are kept in memory.</summary>
    public const int Kept = 40;

    // One core is left to edits and years whatever is searched.
    private readonly int _atOnce = Math.Max(1, (Environment.ProcessorCount / 2) - 1);
    private readonly Lock _gate = new();
    private readonly Dictionary<SearchOf, DesignSearchRun> _runs = [];
    private readonly Dictionary<Guid, long> _began = [];
    private readonly List<DesignSearchRun> _waiting = [];
    private long _turn;
    private int _working;
    private bool _disposed;

    /// <summary>How often at most a search that is at work is stored.</summary>
    internal TimeSpan StoreEvery { get; init; } = TimeSpan.FromSeconds(5);

    /// <summary>The last search of an option in memory; null when none is.</summary>
    public DesignSearchRun? Last(SearchOf of)
    {
        lock (_gate)
        {
            return _runs.GetValueOrDefault(of);
        }
    }

    /// <summary>The last search of an option, also one of before this desk was started; null when none was asked for.</summary>
    public async Task<DesignSearchRun?> FindAsync(SignedIn who, Guid optionId, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(who);
        var of = new SearchOf(who.FirmId, optionId);
        if (Last(of) is { } known)
        {
            return known;
        }

        if (book is null)
        {
            return null;
        }

        // Reading unpacks and checks every design: not on the thread of a page.
        var stored = await Task.Run(() => book.Of(who, optionId, cancellation), cancellation);
        lock (_gate)
        {
            if (stored is not null && _runs.TryAdd(of, new DesignSearchRun(of, stored)))
            {
                Forget(of);
            }

            return _runs.GetValueOrDefault(of);
        }
    }

    /// <summary>How many searches are before one that waits; 0 for one at work.</summary>
    public int Before(DesignSearchRun run)
    {
        lock (_gate)
        {
            return _waiting.Contains(run) ? Order().TakeWhile(other => other != run).Count() + 1 : 0;
        }
    }

    /// <summary>Asks for a search; one of the same option that still runs is stopped.</summary>
    /// <param name="who">Who asks.</param>
    /// <param name="optionId">The option.</param>
    /// <param name="order">What is searched.</param>
    /// <param name="fingerprint">Of inputs, prices and wishes.</param>
    /// <returns>The search; null when this person has <see cref="MostOfOne"/> already.</returns>
    public DesignSearchRun? Ask(SignedIn who, Guid optionId, SearchOrder order, string fingerprint)
    {
        ArgumentNullException.ThrowIfNull(who);
        ArgumentNullException.ThrowIfNull(order);
        var run = new DesignSearchRun(who, optionId, order, fingerprint, Now());
        lock (_gate)
        {
            ObjectDisposedException.ThrowIf(_disposed, this);
            var before = _runs.GetValueOrDefault(run.Of);
            before?.Stop();
            if (_runs.Values.Count(other => other.IsRunning && other.Who?.UserId == who.UserId && other.Of != run.Of) >= MostOfOne)
            {
                return null;
            }

            // After what is still being stored of the one before, whose place it takes. What that one found of the same inputs stays until
            // there is more.
            run.Writing = before?.Writing ?? Task.CompletedTask;
            if (before?.Fingerprint != fingerprint)
            {
                Store(run, SearchState.Running, run.AskedAt, () => KeptSearch.Of(order, SearchResult.Unfinished(null, SearchEnd.Interrupted)));
            }

            _runs[run.Of] = run;
            Forget(run.Of);
            _waiting.Add(run);
            if (_working < _atOnce)
            {
                _working++;
                QuietThread.Start("designs", Work);
            }

            return run;
        }
    }

    /// <summary>True when they are stored, so that one can stand in a plan.</summary>
    public bool AreKept => book is not null;

    /// <summary>Which search stands in the plan of an option's van; null when none does.</summary>
    public Task<(Guid OptionId, DateTime FoundAt)?> InPlanAsync(SignedIn who, Guid optionId) =>
        book is null ? Task.FromResult<(Guid, DateTime)?>(null) : book.InPlanBeside(who, optionId);

    /// <summary>Lets what an ended search found stand in the plan of its van.</summary>
    /// <exception cref="RecordNotFoundException">It could not be stored.</exception>
    public async Task ShowInPlanAsync(SignedIn who, DesignSearchRun run)
    {
        ArgumentNullException.ThrowIfNull(run);
        await run.Writing;
        await (run.NotKept is null && book is not null ? book.ShowInPlan(who, run.Of.OptionId) : throw new RecordNotFoundException("search", run.Of.OptionId));
    }

    /// <summary>Takes what stands in the plan of an option's van out of it.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such option.</exception>
    public Task TakeOutOfPlanAsync(SignedIn who, Guid optionId) => book?.TakeOutOfPlan(who, optionId) ?? Task.CompletedTask;

    /// <summary>Ends all of them. What is stored of those at work stays as it is and is marked by the next start.</summary>
    public void Dispose()
    {
        lock (_gate)
        {
            _disposed = true;
            foreach (var run in _runs.Values)
            {
                run.Stop();
            }
        }
    }

    private DateTime Now()
    {
        // PostgreSQL keeps microseconds.
        var now = time.GetUtcNow().UtcDateTime;
        return now.AddTicks(-(now.Ticks % TimeSpan.TicksPerMicrosecond));
    }

    private IEnumerable<DesignSearchRun> Order() => _waiting.OrderBy(run => _began.GetValueOrDefault(run.Who!.UserId));

    // Its user holds the lock. The one just used stays.
    private void Forget(SearchOf used)
    {
        foreach (var old in _runs.Values.Where(other => !other.IsRunning && other.Of != used).OrderByDescending(other => other.AskedAt).Skip(Kept - 1).ToList())
        {
            _runs.Remove(old.Of);
        }
    }

    private void Work()
    {
        while (Next() is { } run)
        {
            var order = run.Order!;
            KeptSearch found;
            try
            {
                var result = DesignSearch.Run(order, years: null, new Told(this, run), run.Stopped);
                found = KeptSearch.Of(order, result, run.Progress?.Years ?? 0);
            }
            catch (Exception error)
            {
                // Whatever went wrong belongs on the screen, beside what was found by then.
                LogFailed(log, run.Of.OptionId, error);
                found = Broken(run, order) with { Failure = AssessmentRunner.Say(error) };
            }

            var at = run.FoundAt ?? Now();
            var state = found.Result.End switch
            {
                SearchEnd.Finished => SearchState.Finished,
                SearchEnd.Cancelled => SearchState.Stopped,
                _ => SearchState.Failed,
            };
            lock (_gate)
            {
                // One that another took the place of leaves the store to it, and one that ended with the program to the next start.
                if (!_disposed && ReferenceEquals(_runs.GetValueOrDefault(run.Of), run))
                {
                    Store(run, state, at, () => found);
                }
            }

            run.End(found, at);
        }
    }

    // What it published last; no exception may leave the thread, also where the designs of that are what cannot be made.
    private static KeptSearch Broken(DesignSearchRun run, SearchOrder order)
    {
        try
        {
            return KeptSearch.Of(order, SearchResult.Unfinished(run.Progress, SearchEnd.Failed) with { Currency = order.Currency }, run.Progress?.Years ?? 0);
        }
        catch (Exception error) when (error is InvalidOperationException or ArgumentException or CalculationFailedException)
        {
            return KeptSearch.Of(order, SearchResult.Unfinished(null, SearchEnd.Failed));
        }
    }

    private DesignSearchRun? Next()
    {
        lock (_gate)
        {
            if (Order().FirstOrDefault() is not { } next)
            {
                _working--;
                return null;
            }

            _waiting.Remove(next);
            _began[next.Who!.UserId] = ++_turn;
            return next;
        }
    }

    // Stores after what is being stored already, beside the search and not in it.
    private void Store(DesignSearchRun run, SearchState state, DateTime at, Func<KeptSearch> found)
    {
        if (book is not null)
        {
            run.Writing = StoreAfter(run.Writing, run, state, at, found);
        }
    }

    private async Task StoreAfter(Task before, DesignSearchRun run, SearchState state, DateTime at, Func<KeptSearch> found)
    {
        await before.ConfigureAwait(false);
        await Task.Yield();
        try
        {
            await Task.Run(() => book!.Keep(run.Who!, run.Of.OptionId, new SearchToKeep(state, run.AskedAt, at, run.Fingerprint, found()))).ConfigureAwait(false);
            run.CannotKeep(null);
        }
        catch (RecordNotFoundException)
        {
            // The client was erased meanwhile: nothing of the search may stay.
            run.Stop();
            lock (_gate)
            {
                if (ReferenceEquals(_runs.GetValueOrDefault(run.Of), run))
                {
                    _runs.Remove(run.Of);
                }
            }
        }
        catch (Exception error)
        {
            // The search goes on; whoever reads it is told that it would be lost.
            LogNotKept(log, run.Of.OptionId, error);
            run.CannotKeep(StoreFault.Sentence(error) ?? "Why is in the log.");
        }
    }

    /// <summary>Unlike <see cref="Progress{T}"/> it captures no context and posts nothing. Told on the thread of its search alone.</summary>
    private sealed class Told(DesignSearches searches, DesignSearchRun run) : IProgress<SearchProgress>
    {
        private long _stored = Stopwatch.GetTimestamp();
        private ImmutableArray<FrontMember> _front = [];
        private SearchResult? _found;

        public void Report(SearchProgress value)
        {
            var first = false;
            if (value.Found is { } found && !ReferenceEquals(found, _found))
            {
                _found = found;
                first = run.Publish(found, searches.Now());
            }

            run.Tell(value, atOnce: first);
            if (value.Front.IsDefaultOrEmpty || (!first && (value.Front == _front || Stopwatch.GetElapsedTime(_stored) < searches.StoreEvery || !run.Writing.IsCompleted)))
            {
                return;
            }

            (_stored, _front) = (Stopwatch.GetTimestamp(), value.Front);
            lock (searches._gate)
            {
                if (!run.Stopped.IsCancellationRequested)
                {
                    var order = run.Order!;
                    searches.Store(run, SearchState.Running, run.FoundAt ?? searches.Now(), () =>
                        KeptSearch.Of(order, SearchResult.Unfinished(value, SearchEnd.Interrupted) with { Currency = order.Currency }, value.Years));
                }
            }
        }
    }

    [LoggerMessage(LogLevel.Error, "A search of designs broke off (option {Option}).")]
    private static partial void LogFailed(ILogger log, Guid option, Exception error);

    [LoggerMessage(LogLevel.Error, "What a search of designs found could not be stored (option {Option}).")]
    private static partial void LogNotKept(ILogger log, Guid option, Exception error);
}
