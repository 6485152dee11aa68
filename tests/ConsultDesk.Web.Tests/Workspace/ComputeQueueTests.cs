using ConsultDesk.Web.Workspace;
using Xunit;

namespace ConsultDesk.Web.Tests.Workspace;

public sealed class ComputeQueueTests
{
    private readonly ComputeQueue _queue = new(workers: 1);
    private readonly List<string> _order = [];

    private Task<int> Enqueue(object circuit, string name, CancellationToken? cancellation = null, Urgency urgency = Urgency.AtOnce) =>
        _queue.RunAsync(circuit, urgency, _ =>
        {
            lock (_order)
            {
                _order.Add(name);
                return _order.Count;
            }
        }, cancellation ?? TestContext.Current.CancellationToken);

    /// <summary>Keeps the only worker busy until the returned event is set.</summary>
    private async Task<(ManualResetEventSlim Release, Task Done)> HoldTheWorkerAsync(Urgency urgency = Urgency.AtOnce)
    {
        var release = new ManualResetEventSlim();
        var started = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var done = _queue.RunAsync<int>(new object(), urgency, _ =>
        {
            started.SetResult();
            release.Wait(TestContext.Current.CancellationToken);
            return 0;
        }, TestContext.Current.CancellationToken);
        await started.Task;
        return (release, done);
    }

    [Fact]
    public async Task Circuits_are_served_in_turn_however_many_jobs_one_of_them_has()
    {
        var (release, _) = await HoldTheWorkerAsync();
        object busy = new(), quiet = new();
        Task[] jobs =
        [
            Enqueue(busy, "busy 1"), Enqueue(busy, "busy 2"), Enqueue(busy, "busy 3"),
            Enqueue(quiet, "quiet 1"), Enqueue(quiet, "quiet 2"),
        ];

        release.Set();
        await Task.WhenAll(jobs);

        Assert.Equal(["busy 1", "quiet 1", "busy 2", "quiet 2", "busy 3"], _order);
    }

    [Fact]
    public async Task A_job_taken_back_while_it_waits_never_starts()
    {
        var (release, _) = await HoldTheWorkerAsync();
        using var cancellation = new CancellationTokenSource();
        var circuit = new object();
        var job = Enqueue(circuit, "taken back", cancellation.Token);
        var other = Enqueue(circuit, "kept");

        await cancellation.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => job);
        release.Set();
        await other;

        Assert.Equal(["kept"], _order);
    }

    [Fact]
    public async Task No_more_jobs_run_at_once_than_there_are_workers()
    {
        var queue = new ComputeQueue(workers: 2);
        int running = 0, most = 0;
        using var both = new CountdownEvent(2);
        await Task.WhenAll(Enumerable.Range(0, 12).Select(number => queue.RunAsync(number % 5, Urgency.AtOnce, _ =>
        {
            int now = Interlocked.Increment(ref running);
            lock (_order)
            {
                most = Math.Max(most, now);
            }

            if (both.CurrentCount > 0)
            {
                both.Signal();
                both.Wait(TestContext.Current.CancellationToken);
            }

            Interlocked.Decrement(ref running);
            return 0;
        }, TestContext.Current.CancellationToken)));

        Assert.Equal(2, most);
    }

    [Fact]
    public async Task A_circuit_with_too_many_waiting_jobs_is_refused()
    {
        var (release, _) = await HoldTheWorkerAsync();
        var circuit = new object();
        var jobs = Enumerable.Range(0, ComputeQueue.MaximumWaitingPerCircuit).Select(n => Enqueue(circuit, $"{n}")).ToArray();

        await Assert.ThrowsAsync<InvalidOperationException>(() => Enqueue(circuit, "one too many"));
        release.Set();
        await Task.WhenAll(jobs);

        Assert.Equal(ComputeQueue.MaximumWaitingPerCircuit, _order.Count);
    }

    [Theory]
    [InlineData(Urgency.AtOnce, false)]
    [InlineData(Urgency.Soon, true)]
    [InlineData(Urgency.InTheEnd, true)]
    public async Task Long_jobs_take_the_processor_time_that_others_leave(Urgency urgency, bool gives)
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "niceness of a thread is read from /proc");
        var own = NicenessOf("/proc/self/stat");

        var (niceness, pooled) = await _queue.RunAsync(
            new object(), urgency, _ => (NicenessOf("/proc/thread-self/stat"), Thread.CurrentThread.IsThreadPoolThread), TestContext.Current.CancellationToken);

        // 19 is the most there is.
        Assert.Equal(gives ? Math.Min(19, own + QuietThread.Niceness) : own, niceness);
        Assert.Equal(!gives, pooled);
    }

    // proc(5): the 19th field, counted after the name in brackets, which may hold blanks.
    private static int NicenessOf(string file)
    {
        var line = File.ReadAllText(file);
        return int.Parse(line[(line.LastIndexOf(')') + 2)..].Split(' ')[16], System.Globalization.CultureInfo.InvariantCulture);
    }

    [Fact]
    public async Task A_failure_reaches_whoever_asked_and_the_worker_goes_on()
    {
        var failing = _queue.RunAsync<int>(new object(), Urgency.AtOnce, _ => throw new ArithmeticException("no convergence"), TestContext.Current.CancellationToken);

        var failure = await Assert.ThrowsAsync<ArithmeticException>(() => failing);
        Assert.Equal("no convergence", failure.Message);
        Assert.Equal(1, await Enqueue(new object(), "after"));
    }

    [Fact]
    public async Task An_edit_does_not_wait_behind_anybodys_year()
    {
        var (release, year) = await HoldTheWorkerAsync(Urgency.Soon);

        await Enqueue(new object(), "edit");

        Assert.False(year.IsCompleted);
        Assert.Equal(["edit"], _order);
        release.Set();
        await year;
    }

    [Fact]
    public async Task Years_come_before_bands_whoever_asked_first()
    {
        var (release, _) = await HoldTheWorkerAsync(Urgency.InTheEnd);
        object first = new(), second = new();
        Task[] jobs =
        [
            Enqueue(first, "bands 1", urgency: Urgency.InTheEnd), Enqueue(first, "bands 2", urgency: Urgency.InTheEnd),
            Enqueue(second, "year 1", urgency: Urgency.Soon), Enqueue(first, "year 2", urgency: Urgency.Soon),
        ];

        release.Set();
        await Task.WhenAll(jobs);

        Assert.Equal(["year 1", "year 2", "bands 1", "bands 2"], _order);
    }
}
