using System.Diagnostics.CodeAnalysis;

namespace ConsultDesk.Web.Workspace;

/// <summary>
/// The one place in the process where calculations run off the circuits' threads: a few workers, one core left to the
/// web server, and circuits served in turn, so that one consultant's heavy job never holds up another's slider.
/// </summary>
[SuppressMessage("Naming", "CA1711", Justification = "It is a queue of jobs, not a collection.")]
public sealed class ComputeQueue
{
    /// <summary>Jobs one circuit may have waiting. A runner cancels what it no longer wants, so more is a fault.</summary>
    public const int MaximumWaitingPerCircuit = 16;

    private readonly Lock _gate = new();
    private readonly Dictionary<object, LinkedList<Job>> _waiting = [];

    // Circuits with waiting jobs, the next to be served first.
    private readonly LinkedList<object> _turns = [];
    private readonly int _workers;
    private int _running;

    public ComputeQueue()
        : this(Math.Max(1, Environment.ProcessorCount - 1))
    {
    }

    /// <param name="workers">Jobs that run at once, at least 1.</param>
    public ComputeQueue(int workers)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(workers, 1);
        _workers = workers;
    }

    /// <summary>Runs <paramref name="work"/> when it is the circuit's turn. A job cancelled while it waits never starts.</summary>
    /// <param name="circuit">Whose job it is: the page of the circuit, which its runners and its own jobs share.</param>
    /// <param name="work">The job; it looks at the token.</param>
    /// <param name="cancellation">Takes the job back.</param>
    /// <exception cref="InvalidOperationException">The circuit has <see cref="MaximumWaitingPerCircuit"/> jobs waiting.</exception>
    public Task<T> RunAsync<T>(object circuit, Func<CancellationToken, T> work, CancellationToken cancellation)
    {
        if (cancellation.IsCancellationRequested)
        {
            return Task.FromCanceled<T>(cancellation);
        }

        // Continuations must not run on a worker's time.
        var completion = new TaskCompletionSource<T>(TaskCreationOptions.RunContinuationsAsynchronously);
        var job = new Job(() => Complete(completion, work, cancellation));
        lock (_gate)
        {
            if (!_waiting.TryGetValue(circuit, out var jobs))
            {
                _waiting[circuit] = jobs = [];
                _turns.AddLast(circuit);
            }

            if (jobs.Count >= MaximumWaitingPerCircuit)
            {
                throw new InvalidOperationException($"This page already has {jobs.Count} calculations waiting.");
            }

            jobs.AddLast(job);
            if (_running < _workers)
            {
                _running++;
                _ = Task.Run(Work, CancellationToken.None);
            }
        }

        var registration = cancellation.Register(() =>
        {
            if (TakeBack(circuit, job))
            {
                completion.TrySetCanceled(cancellation);
            }
        });
        completion.Task.ContinueWith(
            _ => registration.Dispose(), CancellationToken.None, TaskContinuationOptions.None, TaskScheduler.Default);
        return completion.Task;
    }

    private static void Complete<T>(TaskCompletionSource<T> completion, Func<CancellationToken, T> work, CancellationToken cancellation)
    {
        try
        {
            cancellation.ThrowIfCancellationRequested();
            completion.TrySetResult(work(cancellation));
        }
        catch (OperationCanceledException canceled) when (cancellation.IsCancellationRequested)
        {
            completion.TrySetCanceled(canceled.CancellationToken);
        }
        catch (Exception failure)
        {
            // Whoever awaits the job gets it.
            completion.TrySetException(failure);
        }
    }

    private void Work()
    {
        while (true)
        {
            Job job;
            lock (_gate)
            {
                if (_turns.First is not { } turn)
                {
                    _running--;
                    return;
                }

                var circuit = turn.Value;
                var jobs = _waiting[circuit];
                job = jobs.First!.Value;
                jobs.RemoveFirst();
                _turns.RemoveFirst();
                if (jobs.Count == 0)
                {
                    _waiting.Remove(circuit);
                }
                else
                {
                    _turns.AddLast(turn);
                }
            }

            job.Run();
        }
    }

    private bool TakeBack(object circuit, Job job)
    {
        lock (_gate)
        {
            if (!_waiting.TryGetValue(circuit, out var jobs) || !jobs.Remove(job))
            {
                return false;
            }

            if (jobs.Count == 0)
            {
                _waiting.Remove(circuit);
                _turns.Remove(circuit);
            }

            return true;
        }
    }

    private sealed class Job(Action run)
    {
        public void Run() => run();
    }
}
