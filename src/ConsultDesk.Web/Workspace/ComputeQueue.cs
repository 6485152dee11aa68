using System.Diagnostics;
using System.Diagnostics.CodeAnalysis;
using ConsultDesk.Web.Shell;

namespace ConsultDesk.Web.Workspace;

/// <summary>How long an answer may take, which decides where its job waits.</summary>
public enum Urgency
{
    /// <summary>Somebody's finger is on the control: about a millisecond of work.</summary>
    AtOnce,

    /// <summary>Somebody watches for it: about a tenth of a second of work.</summary>
    Soon,

    /// <summary>It comes when it comes: a second of work or more.</summary>
    InTheEnd,
}

/// <summary>
/// The one place in the process where calculations run off the circuits' threads. Short jobs and long ones have workers
/// of their own, so that an edit never waits behind anybody's year, and the long ones take what processor time the rest leaves
/// (<see cref="QuietThread"/>); within each, circuits are served in turn, so that one consultant's heavy job never holds up another's.
/// </summary>
[SuppressMessage("Naming", "CA1711", Justification = "It is a queue of jobs, not a collection.")]
public sealed class ComputeQueue
{
    /// <summary>Jobs of one urgency one circuit may have waiting. A runner cancels what it no longer wants, so more is a fault.</summary>
    public const int MaximumWaitingPerCircuit = 16;

    private readonly Workers _short;
    private readonly Workers _long;

    public ComputeQueue()
        : this(Math.Max(1, Environment.ProcessorCount - 1))
    {
    }

    /// <param name="workers">Short jobs that run at once, and long ones that run at once beside them; at least 1.</param>
    public ComputeQueue(int workers)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(workers, 1);
        _short = new Workers(workers, work => Task.Run(work, CancellationToken.None));
        _long = new Workers(workers, work => QuietThread.Start("years", work));
    }

    /// <summary>Runs <paramref name="work"/> when it is the circuit's turn. A job cancelled while it waits never starts.</summary>
    /// <param name="circuit">Whose job it is: the page of the circuit, which its runners and its own jobs share.</param>
    /// <param name="urgency">How long the answer may take.</param>
    /// <param name="work">The job; it looks at the token.</param>
    /// <param name="cancellation">Takes the job back.</param>
    /// <exception cref="InvalidOperationException">The circuit has <see cref="MaximumWaitingPerCircuit"/> jobs waiting.</exception>
    public Task<T> RunAsync<T>(object circuit, Urgency urgency, Func<CancellationToken, T> work, CancellationToken cancellation)
    {
        if (cancellation.IsCancellationRequested)
        {
            return Task.FromCanceled<T>(cancellation);
        }

        var workers = urgency == Urgency.AtOnce ? _short : _long;
        // Continuations must not run on a worker's time.
        var completion = new TaskCompletionSource<T>(TaskCreationOptions.RunContinuationsAsynchronously);
        var (name, queued) = (NameOf(urgency), Stopwatch.GetTimestamp());
        var job = new Job(() =>
        {
            DeskSignals.Left(name, queued);
            Complete(completion, work, name, cancellation);
        });
        workers.Add(circuit, urgency, job);
        DeskSignals.Queued(name);

        var registration = cancellation.Register(() =>
        {
            if (workers.TakeBack(circuit, urgency, job))
            {
                DeskSignals.Left(name, queued);
                completion.TrySetCanceled(cancellation);
            }
        });
        completion.Task.ContinueWith(
            _ => registration.Dispose(), CancellationToken.None, TaskContinuationOptions.None, TaskScheduler.Default);
        return completion.Task;
    }

    private static string NameOf(Urgency urgency) => urgency switch
    {
        Urgency.AtOnce => "at-once",
        Urgency.Soon => "soon",
        _ => "in-the-end",
    };

    private static void Complete<T>(TaskCompletionSource<T> completion, Func<CancellationToken, T> work, string urgency, CancellationToken cancellation)
    {
        try
        {
            cancellation.ThrowIfCancellationRequested();
            var began = Stopwatch.GetTimestamp();
            T result;
            using (var span = DeskSignals.Spans.StartActivity("calculate"))
            {
                span?.SetTag("urgency", urgency);
                result = work(cancellation);
            }

            DeskSignals.Calculated(urgency, began);
            completion.TrySetResult(result);
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

    private sealed class Job(Action run)
    {
        public void Run() => run();
    }

    /// <summary>A few workers and the jobs that wait for them: the more urgent first, circuits of one urgency in turn.</summary>
    private sealed class Workers(int count, Action<Action> start)
    {
        private readonly Lock _gate = new();
        private readonly SortedDictionary<Urgency, Turns> _waiting = [];
        private int _running;

        public void Add(object circuit, Urgency urgency, Job job)
        {
            lock (_gate)
            {
                if (!_waiting.TryGetValue(urgency, out var turns))
                {
                    _waiting[urgency] = turns = new Turns();
                }

                turns.Add(circuit, job);
                if (_running < count)
                {
                    _running++;
                    start(Work);
                }
            }
        }

        public bool TakeBack(object circuit, Urgency urgency, Job job)
        {
            lock (_gate)
            {
                return _waiting.TryGetValue(urgency, out var turns) && turns.Remove(circuit, job);
            }
        }

        private void Work()
        {
            while (true)
            {
                Job? job = null;
                lock (_gate)
                {
                    foreach (var turns in _waiting.Values)
                    {
                        job ??= turns.Next();
                    }

                    if (job is null)
                    {
                        _running--;
                        return;
                    }
                }

                job.Run();
            }
        }
    }

    /// <summary>Jobs of one urgency by circuit. Its user holds the lock.</summary>
    private sealed class Turns
    {
        private readonly Dictionary<object, LinkedList<Job>> _jobs = [];

        // Circuits with waiting jobs, the next to be served first.
        private readonly LinkedList<object> _circuits = [];

        public void Add(object circuit, Job job)
        {
            if (!_jobs.TryGetValue(circuit, out var jobs))
            {
                _jobs[circuit] = jobs = [];
                _circuits.AddLast(circuit);
            }

            if (jobs.Count >= MaximumWaitingPerCircuit)
            {
                throw new InvalidOperationException($"This page already has {jobs.Count} calculations waiting.");
            }

            jobs.AddLast(job);
        }

        public Job? Next()
        {
            if (_circuits.First is not { } turn)
            {
                return null;
            }

            var jobs = _jobs[turn.Value];
            var job = jobs.First!.Value;
            jobs.RemoveFirst();
            _circuits.RemoveFirst();
            if (jobs.Count == 0)
            {
                _jobs.Remove(turn.Value);
            }
            else
            {
                _circuits.AddLast(turn);
            }

            return job;
        }

        public bool Remove(object circuit, Job job)
        {
            if (!_jobs.TryGetValue(circuit, out var jobs) || !jobs.Remove(job))
            {
                return false;
            }

            if (jobs.Count == 0)
            {
                _jobs.Remove(circuit);
                _circuits.Remove(circuit);
            }

            return true;
        }
    }
}
