using System.Diagnostics;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Web.Shell;

namespace ConsultDesk.Web.Workspace;

/// <summary>What is known about the stored design.</summary>
public abstract record SaveState;

/// <summary>The store holds what is on the screen.</summary>
/// <param name="At">When it was committed here, or null when nothing was edited yet.</param>
public sealed record AllSaved(DateTimeOffset? At) : SaveState;

/// <summary>Edits wait for a quiet moment.</summary>
public sealed record EditsWaiting : SaveState;

/// <summary>A save is under way.</summary>
public sealed record SaveRunning : SaveState;

/// <summary>The last attempt failed; it is tried again by itself and with the next edit.</summary>
/// <param name="Reason">Why, for the consultant.</param>
public sealed record NotSaved(string Reason) : SaveState;

/// <summary>Somebody else saved in the meantime, nothing of theirs is overwritten; the consultant decides.</summary>
public sealed record Overtaken(SaveConflict By) : SaveState;

/// <summary>The option was closed for changes in the meantime, nothing of it is overwritten; the consultant decides.</summary>
public sealed record ClosedMeanwhile(OptionKept By) : SaveState;

/// <summary>Writes a design if the stored version is still the given one.</summary>
/// <param name="design">What is written.</param>
/// <param name="version">Version it was loaded or saved last with.</param>
/// <param name="label">The edit, for the history.</param>
public delegate Task<SaveResult> SaveDesign(Design design, Guid version, string label);

/// <summary>
/// Saves the edited design by itself: at the end of a gesture or a moment after the last edit, one save at a time, each
/// against the version that was loaded or saved last. "Saved" is said only after the store has committed.
/// </summary>
/// <remarks><see cref="StateChanged"/> is raised on any thread: a component goes through <c>InvokeAsync</c>.</remarks>
public sealed partial class Autosave : IAsyncDisposable
{
    /// <summary>Quiet time after the last edit before it is saved.</summary>
    public static readonly TimeSpan Quiet = TimeSpan.FromMilliseconds(400);

    /// <summary>Time after a failed save before it is tried again.</summary>
    public static readonly TimeSpan RetryAfter = TimeSpan.FromSeconds(5);

    private readonly SaveDesign _save;
    private readonly TimeProvider _time;
    private readonly ILogger _log;
    private readonly ITimer _timer;
    private readonly Lock _gate = new();
    private (Design Design, string Label)? _unsaved;
    private Guid _version;
    private Task? _saving;
    private bool _due;
    private bool _disposed;

    /// <param name="save">Writes a design if the stored version is still the given one.</param>
    /// <param name="version">Version that was loaded.</param>
    /// <param name="time">Clock and timers.</param>
    /// <param name="log">Gets what the consultant is told only in plain words.</param>
    public Autosave(SaveDesign save, Guid version, TimeProvider time, ILogger log)
    {
        _save = save;
        _version = version;
        _time = time;
        _log = log;
        _timer = time.CreateTimer(_ => Start(), null, Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
        State = new AllSaved(null);
    }

    /// <summary>What is known about the stored design.</summary>
    public SaveState State { get; private set; }

    /// <summary>After <see cref="State"/> changed, on any thread.</summary>
    public event Action? StateChanged;

    /// <summary>Version the next save is written against.</summary>
    public Guid Version
    {
        get
        {
            lock (_gate)
            {
                return _version;
            }
        }
    }

    private bool Undecided => State is Overtaken or ClosedMeanwhile;

    /// <summary>A new design waits to be saved. While the consultant has something to decide, it waits for the decision.</summary>
    /// <param name="design">The design.</param>
    /// <param name="label">The edit, for the history.</param>
    public void Edited(Design design, string label)
    {
        lock (_gate)
        {
            ObjectDisposedException.ThrowIf(_disposed, this);
            _unsaved = (design, label);
            if (Undecided)
            {
                return;
            }

            _due = false;
            _timer.Change(Quiet, Timeout.InfiniteTimeSpan);
            if (_saving is null)
            {
                State = new EditsWaiting();
            }
        }

        StateChanged?.Invoke();
    }

    /// <summary>Saves what waits now and comes back when it is stored, refused or failed. <see cref="State"/> tells which.</summary>
    public Task FlushAsync() => Start();

    /// <summary>
    /// Changes something of the stored option other than its design, for example its name. What waits is saved before;
    /// edits made meanwhile are saved after it, against the version the change left.
    /// </summary>
    /// <param name="change">Writes the change if the stored version is still the given one, and returns the new version.</param>
    /// <returns>False when the design could not be saved before, in which case nothing was changed.</returns>
    public async Task<bool> BetweenSavesAsync(Func<Guid, Task<Guid>> change)
    {
        await FlushAsync().ConfigureAwait(false);
        var done = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        SaveState before;
        Guid version;
        lock (_gate)
        {
            ObjectDisposedException.ThrowIf(_disposed, this);
            if (State is not AllSaved)
            {
                return false;
            }

            // Stands for a save under way: the next one starts when it is over.
            _saving = done.Task;
            before = State;
            version = _version;
            State = new SaveRunning();
        }

        StateChanged?.Invoke();
        try
        {
            version = await change(version).ConfigureAwait(false);
            before = new AllSaved(_time.GetUtcNow());
            return true;
        }
        finally
        {
            bool due;
            lock (_gate)
            {
                _version = version;
                _saving = null;
                State = _unsaved is null ? before : new EditsWaiting();
                due = _due;
            }

            StateChanged?.Invoke();
            // Who flushed meanwhile waits for the edit to be stored.
            _ = (due ? Start() : Task.CompletedTask).ContinueWith(_ => done.SetResult(), TaskScheduler.Default);
        }
    }

    /// <summary>Ends a conflict by keeping what is stored; edits made here are given up.</summary>
    public void TakeTheirs()
    {
        lock (_gate)
        {
            _version = StoredVersion();
            _unsaved = null;
            State = new AllSaved(null);
        }

        StateChanged?.Invoke();
    }

    /// <summary>Ends a conflict by storing this design in place of what is stored.</summary>
    /// <param name="design">What is written.</param>
    /// <param name="label">The edit, for the history.</param>
    /// <param name="version">Version it is written over when it is another than the conflict told, as after the option was opened again.</param>
    public Task WriteOverAsync(Design design, string label, Guid? version = null)
    {
        lock (_gate)
        {
            _version = version ?? StoredVersion();
            _unsaved = (design, label);
            State = new EditsWaiting();
        }

        return Start();
    }

    /// <summary>Saves what still waits, then stops.</summary>
    public async ValueTask DisposeAsync()
    {
        if (_disposed)
        {
            return;
        }

        await FlushAsync().ConfigureAwait(false);
        lock (_gate)
        {
            _disposed = true;
        }

        await _timer.DisposeAsync().ConfigureAwait(false);
    }

    [LoggerMessage(LogLevel.Error, "A design could not be saved; it is tried again.")]
    private static partial void LogFailedSave(ILogger log, Exception error);

    private Guid StoredVersion() => State switch
    {
        Overtaken overtaken => overtaken.By.TheirVersion,
        ClosedMeanwhile closed => closed.By.Version,
        _ => throw new InvalidOperationException("There is no conflict to decide."),
    };

    private Task Start()
    {
        lock (_gate)
        {
            if (_unsaved is null || Undecided || _disposed)
            {
                return _saving ?? Task.CompletedTask;
            }

            _due = true;
            _timer.Change(Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);

            // Off the caller's thread: SQLite works synchronously behind its asynchronous face.
            return _saving ??= Task.Run(SaveAllAsync);
        }
    }

    private async Task SaveAllAsync()
    {
        while (true)
        {
            (Design Design, string Label) edit;
            Guid version;
            lock (_gate)
            {
                if (_unsaved is null || !_due || Undecided)
                {
                    _saving = null;
                    return;
                }

                edit = _unsaved.Value;
                version = _version;
                _unsaved = null;
                _due = false;
                State = new SaveRunning();
            }

            StateChanged?.Invoke();
            SaveResult? result = null;
            string? failure = null;
            var began = Stopwatch.GetTimestamp();
            using var span = DeskSignals.Spans.StartActivity("save");
            try
            {
                result = await _save(edit.Design, version, edit.Label).ConfigureAwait(false);
            }
            catch (Exception error)
            {
                // A save that fails in whatever way is shown and tried again; the edit is kept.
                LogFailedSave(_log, error);
                failure = error is RecordNotFoundException or RecordChangedException or InvalidInputException
                    ? error.Message
                    : StoreFault.Sentence(error) ?? "The store could not be written.";
            }

            DeskSignals.Saved(began, result switch { Saved => "saved", SaveConflict => "overtaken", OptionKept => "closed", _ => "failed" });
            bool more;
            lock (_gate)
            {
                switch (result)
                {
                    case Saved saved:
                        _version = saved.Version;
                        State = _unsaved is null ? new AllSaved(_time.GetUtcNow()) : new EditsWaiting();
                        break;
                    case SaveConflict conflict:
                        _unsaved ??= edit;
                        State = new Overtaken(conflict);
                        break;
                    case OptionKept kept:
                        _unsaved ??= edit;
                        State = new ClosedMeanwhile(kept);
                        break;
                    default:
                        State = new NotSaved(failure ?? "The store gave no answer.");
                        if (_unsaved is null)
                        {
                            _unsaved = edit;
                            _timer.Change(RetryAfter, Timeout.InfiniteTimeSpan);
                        }

                        break;
                }

                more = _unsaved is not null && _due && !Undecided;
                if (!more)
                {
                    _saving = null;
                }
            }

            StateChanged?.Invoke();
            if (!more)
            {
                return;
            }
        }
    }
}
