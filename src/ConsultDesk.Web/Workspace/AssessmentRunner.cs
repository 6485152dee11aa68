using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Web.Workspace;

/// <summary>An assessment with the design and the revision it belongs to.</summary>
public sealed record AssessedDesign(long Revision, Design Design, Assessment Assessment);

/// <summary>
/// Keeps the assessment of the design being edited. Each request cancels the one before; the last good result stays
/// until a newer one is there, and <see cref="IsOld"/> says when it no longer belongs to what is on the screen.
/// </summary>
/// <remarks>
/// Requests come from the circuit, results from a worker. <see cref="Changed"/> is raised on whichever thread it is:
/// a component goes through <c>InvokeAsync</c>.
/// </remarks>
public sealed partial class AssessmentRunner : IDisposable
{
    private readonly Func<Design, CancellationToken, Assessment> _assess;
    private readonly Func<Design, string> _key;
    private readonly ComputeQueue _queue;
    private readonly AssessmentCache _cache;
    private readonly object _circuit;
    private readonly ILogger _log;
    private readonly Lock _gate = new();
    private CancellationTokenSource? _asked;
    private long _revision = -1;
    private bool _disposed;

    /// <param name="assess">The calculation; it looks at the token.</param>
    /// <param name="key">Hash of all that decides the result: design, weather, version of the method.</param>
    /// <param name="queue">Where it runs.</param>
    /// <param name="cache">Results to reuse.</param>
    /// <param name="circuit">Whose turn in the queue it takes: the same for all runners of a page.</param>
    /// <param name="log">Gets what the consultant is told only in plain words.</param>
    public AssessmentRunner(
        Func<Design, CancellationToken, Assessment> assess,
        Func<Design, string> key,
        ComputeQueue queue,
        AssessmentCache cache,
        object circuit,
        ILogger log)
    {
        _assess = assess;
        _key = key;
        _queue = queue;
        _cache = cache;
        _circuit = circuit;
        _log = log;
    }

    /// <summary>The last good result, or null before the first.</summary>
    public AssessedDesign? Latest { get; private set; }

    /// <summary>Why the newest revision has no result, or null.</summary>
    public string? Failure { get; private set; }

    /// <summary>True while the newest revision waits or is being calculated.</summary>
    public bool IsRunning { get; private set; }

    /// <summary>True when <see cref="Latest"/> belongs to an earlier revision than the one asked for.</summary>
    public bool IsOld => Latest is { } latest && latest.Revision != _revision;

    /// <summary>After a request was made or answered, on any thread.</summary>
    public event Action? Changed;

    /// <summary>Asks for the assessment of a revision and gives up the one asked for before.</summary>
    /// <returns>Completes when this revision is answered or given up; it never throws for a failed calculation.</returns>
    public Task RequestAsync(Design design, long revision)
    {
        CancellationToken token;
        var key = _key(design);
        lock (_gate)
        {
            ObjectDisposedException.ThrowIf(_disposed, this);
            GiveUp();
            _revision = revision;
            if (_cache.TryGet(key, out var known))
            {
                Latest = new AssessedDesign(revision, design, known);
                Failure = null;
                IsRunning = false;
                token = CancellationToken.None;
            }
            else
            {
                _asked = new CancellationTokenSource();
                token = _asked.Token;
                IsRunning = true;
            }
        }

        Changed?.Invoke();
        return token.CanBeCanceled ? AnswerAsync(design, revision, key, token) : Task.CompletedTask;
    }

    public void Dispose()
    {
        lock (_gate)
        {
            _disposed = true;
            GiveUp();
            IsRunning = false;
        }
    }

    private async Task AnswerAsync(Design design, long revision, string key, CancellationToken token)
    {
        Assessment? assessment = null;
        string? failure = null;
        try
        {
            assessment = await _queue.RunAsync(_circuit, cancellation => _assess(design, cancellation), token).ConfigureAwait(false);
            _cache.Keep(key, assessment);
        }
        catch (OperationCanceledException) when (token.IsCancellationRequested)
        {
            return;
        }
        catch (Exception error)
        {
            // Whatever went wrong in the calculation belongs on the screen, beside the last good result.
            LogFailure(_log, error);
            failure = error is NightNotConvergedException or ArgumentException
                ? error.Message
                : "The calculation failed for a reason that is now in the log. Your inputs are kept; change one or load the page again to try once more.";
        }

        lock (_gate)
        {
            if (_revision != revision || _disposed)
            {
                return;
            }

            IsRunning = false;
            Failure = failure;
            if (assessment is not null)
            {
                Latest = new AssessedDesign(revision, design, assessment);
            }
        }

        Changed?.Invoke();
    }

    [LoggerMessage(LogLevel.Error, "A design could not be assessed.")]
    private static partial void LogFailure(ILogger log, Exception error);

    private void GiveUp()
    {
        _asked?.Cancel();
        _asked?.Dispose();
        _asked = null;
    }
}
