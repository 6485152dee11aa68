using System.Collections.Immutable;
using ConsultDesk.Calculations;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Web.Workspace;

/// <summary>An assessment with the design and the revision it belongs to.</summary>
public sealed record AssessedDesign(long Revision, Design Design, Assessment Assessment);

/// <summary>Why a depth of the newest revision has no result, in plain words.</summary>
public sealed record AssessmentFailure(AssessmentDepth Depth, string Message);

/// <summary>Calculates a design to a depth; it looks at the token and tells how far it is, 0 to 1.</summary>
public delegate Assessment AssessDesign(Design design, AssessmentDepth depth, IProgress<double> progress, CancellationToken cancellation);

/// <summary>Adds to a year what comes behind it; it takes its own turns in the queue, looks at the token and tells how far it is, 0 to 1.</summary>
public delegate Task<Assessment> AssessBehind(Design design, Assessment year, IProgress<double> progress, CancellationToken cancellation);

/// <summary>
/// Keeps the assessment of the design being edited: the night at once, the year and its bands behind it. Each request
/// cancels the one before; the last good result of each depth stays until a newer one is there, and
/// <see cref="IsOld"/>, <see cref="YearIsOld"/> and <see cref="BandsAreOld"/> say which no longer belong to what is on
/// the screen.
/// </summary>
/// <remarks>
/// Requests come from the circuit, results from a worker. <see cref="Changed"/> is raised on whichever thread it is:
/// a component goes through <c>InvokeAsync</c>.
/// </remarks>
public sealed partial class AssessmentRunner : IDisposable
{
    // Share of the way after which there is progress again.
    private const double ProgressStep = 0.1;

    /// <summary>Least time between two words of progress: each renders the page, and a year is there in less.</summary>
    public static readonly TimeSpan ProgressPause = TimeSpan.FromMilliseconds(250);

    private readonly AssessDesign _assess;
    private readonly AssessmentDepth _deepest;
    private readonly Func<Design, string> _key;
    private readonly ComputeQueue _queue;
    private readonly AssessmentCache _cache;
    private readonly object _circuit;
    private readonly TimeProvider _time;
    private readonly ILogger _log;
    private readonly Lock _gate = new();
    private CancellationTokenSource? _asked;
    private AssessedDesign? _night;
    private AssessedDesign? _nightOfYear;
    private TaskCompletionSource[] _answered = NewAnswers();
    private long _revision = -1;
    private long _begunOrTold;
    private bool _disposed;

    /// <param name="assess">The calculation.</param>
    /// <param name="deepest">How deep it goes.</param>
    /// <param name="key">Hash of all that decides the result: design, weather, version of the method.</param>
    /// <param name="queue">Where it runs.</param>
    /// <param name="cache">Results to reuse.</param>
    /// <param name="circuit">Whose turn in the queue it takes: the same for all runners of a page.</param>
    /// <param name="time">Clock of the pauses.</param>
    /// <param name="log">Gets what the consultant is told only in plain words.</param>
    public AssessmentRunner(
        AssessDesign assess,
        AssessmentDepth deepest,
        Func<Design, string> key,
        ComputeQueue queue,
        AssessmentCache cache,
        object circuit,
        TimeProvider time,
        ILogger log)
    {
        _assess = assess;
        _deepest = deepest;
        _key = key;
        _queue = queue;
        _cache = cache;
        _circuit = circuit;
        _time = time;
        _log = log;
    }

    /// <summary>How what comes behind the year is had; null where the calculation does it in one turn.</summary>
    public AssessBehind? Behind { get; init; }

    /// <summary>How deep it goes.</summary>
    public AssessmentDepth Deepest => _deepest;

    /// <summary>The last good result, of whatever depth is there; null before the first.</summary>
    public AssessedDesign? Latest { get; private set; }

    /// <summary>The last good result with a year; null before the first.</summary>
    public AssessedDesign? LatestYear { get; private set; }

    /// <summary>The last good result with bands; null before the first.</summary>
    public AssessedDesign? LatestBands { get; private set; }

    /// <summary>Why the newest revision is not assessed to the end, or null.</summary>
    public AssessmentFailure? Failure { get; private set; }

    /// <summary>The depth the newest revision waits for; null when it is answered or failed.</summary>
    public AssessmentDepth? Pending { get; private set; }

    /// <summary>How far <see cref="Pending"/> is, 0 to 1, in steps of a tenth; <see cref="Changed"/> tells of it no more often than <see cref="ProgressPause"/>.</summary>
    public double Progress { get; private set; }

    /// <summary>True while something of the newest revision waits or is being calculated.</summary>
    public bool IsRunning => Pending is not null;

    /// <summary>True when <see cref="Latest"/> belongs to an earlier revision than the one asked for.</summary>
    public bool IsOld => BelongsToBefore(Latest);

    /// <summary>True when <see cref="LatestYear"/> belongs to an earlier revision than the one asked for.</summary>
    public bool YearIsOld => BelongsToBefore(LatestYear);

    /// <summary>True when <see cref="LatestBands"/> belongs to an earlier revision than the one asked for.</summary>
    public bool BandsAreOld => BelongsToBefore(LatestBands);

    /// <summary>
    /// What the year before this one found and its night alone did not, until the year of the newest revision is there:
    /// a danger that only the year shows must not vanish because the year is being calculated again.
    /// </summary>
    public ImmutableArray<Finding> FindingsOfYearBefore => YearIsOld && _nightOfYear is { } night
        ? [.. LatestYear!.Assessment.Findings.ExceptBy(night.Assessment.Findings.Select(finding => finding.Code), finding => finding.Code)]
        : [];

    /// <summary>Completes when the newest request is answered to a depth, has failed or was given up.</summary>
    public Task AnsweredTo(AssessmentDepth depth)
    {
        lock (_gate)
        {
            return _answered[(int)depth].Task;
        }
    }

    /// <summary>After a request was made or answered, on any thread.</summary>
    public event Action? Changed;

    /// <summary>Quiet time before a depth is started: a finger on a slider starts no year at every tenth.</summary>
    public static TimeSpan PauseBefore(AssessmentDepth depth) => depth switch
    {
        AssessmentDepth.Night => TimeSpan.Zero,
        AssessmentDepth.Year => TimeSpan.FromMilliseconds(120),
        AssessmentDepth.Bands => TimeSpan.FromMilliseconds(400),
        _ => throw new ArgumentOutOfRangeException(nameof(depth), depth, "Expected night, year or bands."),
    };

    /// <summary>Asks for the assessment of a revision and gives up the one asked for before.</summary>
    /// <returns>Completes when this revision is answered to the last depth or given up; it never throws for a failed calculation.</returns>
    public Task RequestAsync(Design design, long revision)
    {
        AssessmentDepth? first;
        var token = CancellationToken.None;
        Assessment? known = null;
        var key = _key(design);
        lock (_gate)
        {
            ObjectDisposedException.ThrowIf(_disposed, this);
            GiveUp();
            _answered = NewAnswers();
            _revision = revision;
            Failure = Failure is { Depth: AssessmentDepth.Night } ? Failure : null;
            (Progress, _begunOrTold) = (0, _time.GetTimestamp());
            Pending = first = TakeKnown(key, design);
            if (first is not null)
            {
                _asked = new CancellationTokenSource();
                token = _asked.Token;
                known = first == AssessmentDepth.Bands ? Latest!.Assessment : null;
            }
        }

        Changed?.Invoke();
        return first is { } depth ? AnswerAsync(design, revision, key, depth, known, token) : Task.CompletedTask;
    }

    public void Dispose()
    {
        lock (_gate)
        {
            _disposed = true;
            GiveUp();
            Pending = null;
        }
    }

    private bool BelongsToBefore(AssessedDesign? result) => result is not null && result.Revision != _revision;

    /// <summary>Takes what the cache knows of the newest revision.</summary>
    /// <returns>The first depth it does not know; null when it knows all.</returns>
    private AssessmentDepth? TakeKnown(string key, Design design)
    {
        for (var depth = AssessmentDepth.Night; depth <= _deepest; depth++)
        {
            if (!_cache.TryGet(key, depth, out var known))
            {
                return depth;
            }

            Take(depth, new AssessedDesign(_revision, design, known));
        }

        return null;
    }

    private static TaskCompletionSource[] NewAnswers() =>
        [.. Enum.GetValues<AssessmentDepth>().Select(_ => new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously))];

    private void Complete(AssessmentDepth upTo)
    {
        for (var depth = AssessmentDepth.Night; depth <= upTo; depth++)
        {
            _answered[(int)depth].TrySetResult();
        }
    }

    private void Take(AssessmentDepth depth, AssessedDesign result)
    {
        Complete(depth == _deepest ? AssessmentDepth.Bands : depth);
        Latest = result;
        Failure = null;
        switch (depth)
        {
            case AssessmentDepth.Night:
                _night = result;
                break;
            case AssessmentDepth.Year:
                LatestYear = result;
                _nightOfYear = _night;
                break;
            case AssessmentDepth.Bands:
                LatestYear = result;
                LatestBands = result;
                break;
        }
    }

    private async Task AnswerAsync(Design design, long revision, string key, AssessmentDepth first, Assessment? before, CancellationToken token)
    {
        Assessment? assessment = before;
        for (var depth = first; depth <= _deepest; depth++)
        {
            var shallower = assessment;
            assessment = null;
            AssessmentFailure? failure = null;
            try
            {
                assessment = await AssessAsync(design, depth, key, shallower, token).ConfigureAwait(false);
            }
            catch (OperationCanceledException) when (token.IsCancellationRequested)
            {
                return;
            }
            catch (Exception error)
            {
                // Whatever went wrong in the calculation belongs on the screen, beside the last good result.
                LogFailure(_log, depth, error);
                failure = new AssessmentFailure(depth, Say(error));
            }

            lock (_gate)
            {
                if (_revision != revision || _disposed)
                {
                    return;
                }

                (Progress, _begunOrTold) = (0, _time.GetTimestamp());
                Pending = failure is null && depth < _deepest ? depth + 1 : null;
                if (assessment is not null)
                {
                    Take(depth, new AssessedDesign(revision, design, assessment));
                }

                Failure = failure;
                if (failure is not null)
                {
                    Complete(AssessmentDepth.Bands);
                }
            }

            Changed?.Invoke();
            if (failure is not null)
            {
                return;
            }
        }
    }

    /// <summary>What a failed calculation tells the consultant.</summary>
    public static string Say(Exception error) => error is CalculationFailedException or ArgumentException
        ? error.Message
        : "The calculation failed for a reason that is now in the log. Your inputs are kept; change one or load the page again to try once more.";

    private async Task<Assessment> AssessAsync(Design design, AssessmentDepth depth, string key, Assessment? shallower, CancellationToken token)
    {
        if (PauseBefore(depth) is var pause && pause > TimeSpan.Zero)
        {
            await Task.Delay(pause, _time, token).ConfigureAwait(false);
        }

        // Another page may have asked for the same in the meantime.
        if (_cache.TryGet(key, depth, out var known))
        {
            return known;
        }

        var urgency = depth switch
        {
            AssessmentDepth.Night => Urgency.AtOnce,
            AssessmentDepth.Year => Urgency.Soon,
            _ => Urgency.InTheEnd,
        };
        var assessment = depth == AssessmentDepth.Bands && Behind is not null
            ? await Behind(design, shallower!, new Steps(this, token), token).ConfigureAwait(false)
            : await _queue.RunAsync(
                _circuit, urgency, cancellation => _assess(design, depth, new Steps(this, token), cancellation), token).ConfigureAwait(false);
        _cache.Keep(key, depth, assessment);
        return assessment;
    }

    private void Tell(double progress, CancellationToken token)
    {
        lock (_gate)
        {
            if (token.IsCancellationRequested || progress < Progress + ProgressStep)
            {
                return;
            }

            Progress = Math.Floor(progress / ProgressStep) * ProgressStep;
            if (_time.GetElapsedTime(_begunOrTold) < ProgressPause)
            {
                return;
            }

            _begunOrTold = _time.GetTimestamp();
        }

        Changed?.Invoke();
    }

    [LoggerMessage(LogLevel.Error, "A design could not be assessed ({Depth}).")]
    private static partial void LogFailure(ILogger log, AssessmentDepth depth, Exception error);

    private void GiveUp()
    {
        Complete(AssessmentDepth.Bands);
        _asked?.Cancel();
        _asked?.Dispose();
        _asked = null;
    }

    /// <summary>Progress of one request. Unlike <see cref="Progress{T}"/> it captures no context and posts nothing.</summary>
    private sealed class Steps(AssessmentRunner runner, CancellationToken token) : IProgress<double>
    {
        public void Report(double value) => runner.Tell(value, token);
    }
}
