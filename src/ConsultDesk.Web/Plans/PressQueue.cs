using System.Diagnostics;
using ConsultDesk.Web.Shell;

namespace ConsultDesk.Web.Plans;

/// <summary>As many PDFs are being made, and as many wait, as the machine can bear.</summary>
public sealed class PressBusyException() : Exception("Too many PDFs are being made at once.");

/// <summary>
/// Work that keeps one core busy, so much of it at a time; a few wait their turn, the rest is turned away at once instead of
/// piling up behind readers who have long gone.
/// </summary>
/// <param name="presses">How many work at the same time.</param>
/// <param name="mostWaiting">How many may wait.</param>
internal sealed class PressQueue(int presses, int mostWaiting) : IDisposable
{
    private readonly SemaphoreSlim _free = new(presses);
    private int _inside;

    /// <summary>Does the work on a thread of the pool when its turn comes.</summary>
    /// <exception cref="PressBusyException">As many wait already as may.</exception>
    /// <exception cref="OperationCanceledException">Cancelled before it began.</exception>
    public async Task<T> RunAsync<T>(Func<T> work, CancellationToken cancellation)
    {
        if (Interlocked.Increment(ref _inside) > presses + mostWaiting)
        {
            Interlocked.Decrement(ref _inside);
            throw new PressBusyException();
        }

        try
        {
            await _free.WaitAsync(cancellation);
            try
            {
                var began = Stopwatch.GetTimestamp();
                using var span = DeskSignals.Spans.StartActivity("pdf");
                var made = await Task.Run(work, cancellation);
                DeskSignals.Printed(began);
                return made;
            }
            finally
            {
                _free.Release();
            }
        }
        finally
        {
            Interlocked.Decrement(ref _inside);
        }
    }

    public void Dispose() => _free.Dispose();
}
