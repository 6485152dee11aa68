namespace ConsultDesk.Web.Workspace;

/// <summary>
/// Works out in the shared queue what somebody asked for by a button and keeps the last answer; a new question takes the one
/// before back.
/// </summary>
/// <typeparam name="T">The answer, with what it was asked for.</typeparam>
/// <param name="queue">Where it runs.</param>
/// <param name="circuit">Whose turn in the queue it takes.</param>
/// <param name="log">Gets what the consultant is told only in plain words.</param>
/// <param name="changed">Called after each change, on any thread.</param>
public sealed class AskedRunner<T>(ComputeQueue queue, object circuit, ILogger log, Action changed) : IDisposable
    where T : class
{
    // Steps in which progress is told.
    private const double ProgressStep = 0.05;

    private CancellationTokenSource? _asked;

    /// <summary>The last answer; null before the first.</summary>
    public T? Latest { get; private set; }

    /// <summary>True while it works.</summary>
    public bool IsRunning => _asked is not null;

    /// <summary>How far it is, 0 to 1.</summary>
    public double Progress { get; private set; }

    /// <summary>Why the last question has no answer; null when it has.</summary>
    public string? Failure { get; private set; }

    /// <summary>Works an answer out.</summary>
    /// <param name="work">Looks at the token and tells how far it is.</param>
    public async Task RunAsync(Func<IProgress<double>, CancellationToken, T> work)
    {
        ArgumentNullException.ThrowIfNull(work);
        _asked?.Cancel();
        using var asked = new CancellationTokenSource();
        (_asked, Progress, Failure) = (asked, 0, null);
        changed();
        try
        {
            var answer = await queue.RunAsync(circuit, Urgency.InTheEnd, token => work(new Steps(this, asked.Token), token), asked.Token);
            if (ReferenceEquals(_asked, asked))
            {
                Latest = answer;
            }
        }
        catch (OperationCanceledException) when (asked.IsCancellationRequested)
        {
            // Taken back: the answer before stays.
        }
        catch (Exception error)
        {
            // Whatever went wrong belongs on the screen, beside the last good answer.
            AskedLog.Failed(log, typeof(T).Name, error);
            if (ReferenceEquals(_asked, asked))
            {
                Failure = AssessmentRunner.Say(error);
            }
        }
        finally
        {
            if (ReferenceEquals(_asked, asked))
            {
                _asked = null;
            }
        }

        changed();
    }

    /// <summary>Takes the question back; the answer before stays.</summary>
    public void Cancel()
    {
        _asked?.Cancel();
        _asked = null;
        changed();
    }

    public void Dispose()
    {
        _asked?.Cancel();
        _asked = null;
    }

    private void Tell(double progress, CancellationToken token)
    {
        if (!token.IsCancellationRequested && progress >= Progress + ProgressStep)
        {
            Progress = Math.Floor(progress / ProgressStep) * ProgressStep;
            changed();
        }
    }

    /// <summary>Unlike <see cref="Progress{T}"/> it captures no context and posts nothing.</summary>
    private sealed class Steps(AskedRunner<T> runner, CancellationToken token) : IProgress<double>
    {
        public void Report(double value) => runner.Tell(value, token);
    }
}

internal static partial class AskedLog
{
    [LoggerMessage(LogLevel.Error, "A question could not be answered ({Answer}).")]
    public static partial void Failed(ILogger log, string answer, Exception error);
}
