using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Web.Workspace;

/// <summary>An answer to what helps most, with what it was asked for.</summary>
/// <param name="Revision">The edit it belongs to.</param>
/// <param name="Design">The design it belongs to.</param>
/// <param name="Basis">Prices and wishes it belongs to.</param>
/// <param name="Help">The answer.</param>
public sealed record HelpAnswer(long Revision, Design Design, CostBasis Basis, WhatHelps Help);

/// <summary>Searches what helps most in the shared queue; a new question takes the one before back.</summary>
/// <param name="queue">Where it runs.</param>
/// <param name="circuit">Whose turn in the queue it takes.</param>
/// <param name="hours">Hours of the weather files that are there when it is asked.</param>
/// <param name="log">Gets what the consultant is told only in plain words.</param>
/// <param name="changed">Called after each change, on any thread.</param>
public sealed partial class HelpRunner(ComputeQueue queue, object circuit, Func<Calculations.Climate.WeatherHours> hours, ILogger log, Action changed) : IDisposable
{
    // Steps in which progress is told.
    private const double ProgressStep = 0.05;

    private CancellationTokenSource? _asked;

    /// <summary>The last answer; null before the first.</summary>
    public HelpAnswer? Latest { get; private set; }

    /// <summary>True while it searches.</summary>
    public bool IsRunning => _asked is not null;

    /// <summary>How far the search is, 0 to 1.</summary>
    public double Progress { get; private set; }

    /// <summary>Why the last search failed; null when it did not.</summary>
    public string? Failure { get; private set; }

    /// <summary>True when the answer belongs to other inputs, prices or wishes.</summary>
    public bool IsOld(long revision, CostBasis basis) => Latest is { } latest && (latest.Revision != revision || latest.Basis != basis);

    /// <summary>Searches.</summary>
    public async Task RunAsync(Design design, long revision, CostBasis basis)
    {
        ArgumentNullException.ThrowIfNull(basis);
        _asked?.Cancel();
        using var asked = new CancellationTokenSource();
        (_asked, Progress, Failure) = (asked, 0, null);
        changed();
        var weather = hours();
        try
        {
            var help = await queue.RunAsync(
                circuit, Urgency.InTheEnd, token => HelpSearch.Of(design, weather, basis.Book, basis.Wishes, new Steps(this, asked.Token), token), asked.Token);
            if (ReferenceEquals(_asked, asked))
            {
                Latest = new HelpAnswer(revision, design, basis, help);
            }
        }
        catch (OperationCanceledException) when (asked.IsCancellationRequested)
        {
            // Taken back: the answer before stays.
        }
        catch (Exception error)
        {
            // Whatever went wrong in the search belongs on the screen, beside the last good answer.
            LogFailure(log, error);
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

    /// <summary>Takes the search back; the answer before stays.</summary>
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

    [LoggerMessage(LogLevel.Error, "What helps most could not be searched.")]
    private static partial void LogFailure(ILogger log, Exception error);

    /// <summary>Unlike <see cref="Progress{T}"/> it captures no context and posts nothing.</summary>
    private sealed class Steps(HelpRunner runner, CancellationToken token) : IProgress<double>
    {
        public void Report(double value) => runner.Tell(value, token);
    }
}
