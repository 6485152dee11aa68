namespace ConsultDesk.Web.Tests.Workspace;

/// <summary>A clock that moves only when told, and fires its timers while it moves.</summary>
internal sealed class ManualTime : TimeProvider
{
    private readonly Lock _gate = new();
    private readonly List<ManualTimer> _timers = [];

    public DateTimeOffset Now { get; private set; } = new(2031, 2, 3, 20, 0, 0, TimeSpan.Zero);

    public override DateTimeOffset GetUtcNow() => Now;

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public override long GetTimestamp() => Now.Ticks;

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
    {
        var timer = new ManualTimer(this, () => callback(state));
        timer.Change(dueTime, period);
        lock (_gate)
        {
            _timers.Add(timer);
        }

        return timer;
    }

    public void Advance(double milliseconds)
    {
        Now += TimeSpan.FromMilliseconds(milliseconds);
        ManualTimer[] timers;
        lock (_gate)
        {
            timers = [.. _timers];
        }

        foreach (var timer in timers)
        {
            timer.FireWhenDue();
        }
    }

    private void Forget(ManualTimer timer)
    {
        lock (_gate)
        {
            _timers.Remove(timer);
        }
    }

    private sealed class ManualTimer(ManualTime time, Action fire) : ITimer
    {
        private DateTimeOffset? _due;
        private TimeSpan _period = Timeout.InfiniteTimeSpan;

        public bool Change(TimeSpan dueTime, TimeSpan period)
        {
            _period = period;
            _due = dueTime == Timeout.InfiniteTimeSpan ? null : time.Now + dueTime;
            return true;
        }

        public void FireWhenDue()
        {
            if (_due is { } due && due <= time.Now)
            {
                _due = _period == Timeout.InfiniteTimeSpan ? null : time.Now + _period;
                fire();
            }
        }

        public void Dispose() => time.Forget(this);

        public ValueTask DisposeAsync()
        {
            Dispose();
            return ValueTask.CompletedTask;
        }
    }
}
