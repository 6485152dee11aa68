using System.Diagnostics;
using System.Diagnostics.CodeAnalysis;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Records;

namespace ConsultDesk.Web.Workspace.Designs;

/// <summary>What an option's search belongs to.</summary>
/// <param name="FirmId">The firm.</param>
/// <param name="OptionId">The option.</param>
public readonly record struct SearchOf(Guid FirmId, Guid OptionId);

/// <summary>One search of an option's designs: waiting, at work, or ended. Its members are read by any number of pages.</summary>
[SuppressMessage("Design", "CA1001", Justification = "The source has no timer and no wait handle to free, and pages may stop a search as long as they show it.")]
public sealed class DesignSearchRun
{
    private readonly Lock _gate = new();
    private readonly CancellationTokenSource _stop = new();
    private long _told;

    internal DesignSearchRun(SearchOf of, Guid by, SearchOrder order, string fingerprint, DateTime askedAt) =>
        (Of, By, Order, Fingerprint, AskedAt) = (of, by, order, fingerprint, askedAt);

    /// <summary>How often at most pages hear of progress.</summary>
    public static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(400);

    /// <summary>Whose it is.</summary>
    public SearchOf Of { get; }

    /// <summary>Who asked.</summary>
    public Guid By { get; }

    /// <summary>What is searched.</summary>
    public SearchOrder Order { get; }

    /// <summary>Tells inputs, prices and wishes of one search from those of another.</summary>
    public string Fingerprint { get; }

    /// <summary>When it was asked for, UTC.</summary>
    public DateTime AskedAt { get; }

    /// <summary>How far it is; null while it waits.</summary>
    public SearchProgress? Progress { get; private set; }

    /// <summary>What it found, also when it was stopped or broke off; null before its end.</summary>
    public SearchResult? Result { get; private set; }

    /// <summary>Why it broke off; null when it did not.</summary>
    public string? Failure { get; private set; }

    /// <summary>True until it ended.</summary>
    public bool IsRunning => Result is null;

    /// <summary>After something changed, on any thread.</summary>
    public event Action? Changed;

    internal CancellationToken Stopped => _stop.Token;

    /// <summary>Stops it; what it has found by then stays.</summary>
    public void Stop() => _stop.Cancel();

    internal void Tell(SearchProgress progress)
    {
        lock (_gate)
        {
            Progress = progress;
            if (Stopwatch.GetElapsedTime(_told) < Pause && progress.Stage != SearchStage.Done)
            {
                return;
            }

            _told = Stopwatch.GetTimestamp();
        }

        Changed?.Invoke();
    }

    internal void End(SearchResult result, string? failure = null)
    {
        (Failure, Result) = (failure, result);
        Changed?.Invoke();
    }
}

/// <summary>
/// Searches of all consultants, which go on when the page that asked is read again or left. So many work at once and never more; the others wait, those of a
/// person whose last began longest ago first, so that one who asks for many holds nobody up. Kept in memory only: a desk that is started again has forgotten
/// them.
/// </summary>
public sealed partial class DesignSearches(ILogger<DesignSearches> log, TimeProvider time) : IDisposable
{
    /// <summary>Searches one person may have waiting or at work.</summary>
    public const int MostOfOne = 3;

    /// <summary>Ended searches that are kept.</summary>
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

    /// <summary>The last search of an option; null when none was asked for.</summary>
    public DesignSearchRun? Last(SearchOf of)
    {
        lock (_gate)
        {
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
        var of = new SearchOf(who.FirmId, optionId);
        lock (_gate)
        {
            ObjectDisposedException.ThrowIf(_disposed, this);
            _runs.GetValueOrDefault(of)?.Stop();
            if (_runs.Values.Count(run => run.IsRunning && run.By == who.UserId && run.Of != of) >= MostOfOne)
            {
                return null;
            }

            var run = new DesignSearchRun(of, who.UserId, order, fingerprint, time.GetUtcNow().UtcDateTime);
            foreach (var old in _runs.Values.Where(other => !other.IsRunning).OrderByDescending(other => other.AskedAt).Skip(Kept - 1).ToList())
            {
                _runs.Remove(old.Of);
            }

            _runs[of] = run;
            _waiting.Add(run);
            if (_working < _atOnce)
            {
                _working++;
                _ = Task.Factory.StartNew(Work, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);
            }

            return run;
        }
    }

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

    private IEnumerable<DesignSearchRun> Order() => _waiting.OrderBy(run => _began.GetValueOrDefault(run.By));

    private void Work()
    {
        while (Next() is { } run)
        {
            try
            {
                run.End(DesignSearch.Run(run.Order, years: null, new Told(run), run.Stopped));
            }
            catch (Exception error)
            {
                // Whatever went wrong belongs on the screen, beside what was found by then.
                LogFailed(log, run.Of.OptionId, error);
                run.End(SearchResult.Unfinished(run.Progress, SearchEnd.Failed) with { Currency = run.Order.Currency }, AssessmentRunner.Say(error));
            }
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
            _began[next.By] = ++_turn;
            return next;
        }
    }

    /// <summary>Unlike <see cref="Progress{T}"/> it captures no context and posts nothing.</summary>
    private sealed class Told(DesignSearchRun run) : IProgress<SearchProgress>
    {
        public void Report(SearchProgress value) => run.Tell(value);
    }

    [LoggerMessage(LogLevel.Error, "A search of designs broke off (option {Option}).")]
    private static partial void LogFailed(ILogger log, Guid option, Exception error);
}
