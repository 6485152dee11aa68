using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Web.Workspace;
using Microsoft.Extensions.Logging.Abstractions;
using Xunit;

namespace ConsultDesk.Web.Tests.Workspace;

public sealed class AutosaveTests : IAsyncDisposable
{
    private static readonly Guid Loaded = Guid.Parse("00000000-0000-0000-0000-000000000001");
    private static readonly Guid Second = Guid.Parse("00000000-0000-0000-0000-000000000002");
    private static readonly Guid Third = Guid.Parse("00000000-0000-0000-0000-000000000003");

    private static readonly DateTime At = new(2031, 2, 3, 19, 59, 0, DateTimeKind.Utc);

    private readonly ManualTime _time = new();
    private readonly List<(int Sleepers, Guid Version)> _written = [];
    private Func<Design, Guid, Task<SaveResult>> _store = (_, _) => Task.FromResult<SaveResult>(new Saved(Second, At));
    private readonly Autosave _autosave;

    public AutosaveTests()
    {
        _autosave = new Autosave(
            (design, version, label) =>
            {
                lock (_written)
                {
                    Assert.Equal("sleepers", label);
                    _written.Add((design.Household.Sleepers, version));
                }

                return _store(design, version);
            },
            Loaded,
            _time,
            NullLogger.Instance);
    }

    public ValueTask DisposeAsync() => _autosave.DisposeAsync();

    /// <summary>Waits for the save the timer started, if it did.</summary>
    private async Task AdvanceAsync(double milliseconds)
    {
        _time.Advance(milliseconds);
        if (_autosave.State is not EditsWaiting || _time.Now - _edited >= Autosave.Quiet)
        {
            await _autosave.FlushAsync();
        }
    }

    private DateTimeOffset _edited;

    private void Edit(int sleepers)
    {
        _edited = _time.Now;
        _autosave.Edited(Samples.Design(sleepers), "sleepers");
    }

    [Fact]
    public async Task An_edit_is_saved_a_moment_after_the_last_one()
    {
        Edit(3);
        await AdvanceAsync(399);
        Edit(4);
        await AdvanceAsync(399);
        Assert.Empty(_written);
        Assert.IsType<EditsWaiting>(_autosave.State);

        await AdvanceAsync(1);

        Assert.Equal([(4, Loaded)], _written);
        Assert.Equal(new AllSaved(_time.Now), _autosave.State);
    }

    [Fact]
    public async Task Each_save_is_written_against_the_version_of_the_one_before()
    {
        Edit(3);
        await _autosave.FlushAsync();
        _store = (_, _) => Task.FromResult<SaveResult>(new Saved(Third, At));
        Edit(4);
        await _autosave.FlushAsync();

        Assert.Equal([(3, Loaded), (4, Second)], _written);
        Assert.Equal(Third, _autosave.Version);
    }

    [Fact]
    public async Task One_save_is_in_flight_and_saved_is_said_only_after_the_commit()
    {
        var commit = new TaskCompletionSource<SaveResult>(TaskCreationOptions.RunContinuationsAsynchronously);
        var started = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        _store = (_, _) =>
        {
            started.TrySetResult();
            return commit.Task;
        };
        Edit(3);
        var flushed = _autosave.FlushAsync();
        await started.Task;
        Edit(4);
        var second = _autosave.FlushAsync();

        Assert.IsType<SaveRunning>(_autosave.State);
        Assert.Equal([(3, Loaded)], _written);

        _store = (_, _) => Task.FromResult<SaveResult>(new Saved(Third, At));
        commit.SetResult(new Saved(Second, At));
        await flushed;
        await second;

        Assert.Equal([(3, Loaded), (4, Second)], _written);
        Assert.IsType<AllSaved>(_autosave.State);
    }

    [Fact]
    public async Task A_failed_save_says_so_in_plain_words_keeps_the_edit_and_is_tried_again()
    {
        _store = (_, _) => throw new InvalidOperationException("SQLITE_FULL");
        Edit(3);
        await _autosave.FlushAsync();
        Assert.Equal(new NotSaved("The store could not be written."), _autosave.State);

        _store = (_, _) => Task.FromResult<SaveResult>(new Saved(Second, At));
        _time.Advance(Autosave.RetryAfter.TotalMilliseconds);
        await _autosave.FlushAsync();

        Assert.Equal([(3, Loaded), (3, Loaded)], _written);
        Assert.IsType<AllSaved>(_autosave.State);
    }

    [Fact]
    public async Task A_save_the_records_refuse_says_their_reason()
    {
        var gone = new RecordNotFoundException("option", Loaded);
        _store = (_, _) => throw gone;
        Edit(3);
        await _autosave.FlushAsync();

        Assert.Equal(new NotSaved(gone.Message), _autosave.State);
    }

    private static SaveConflict Theirs() => new("Noor", At, Samples.Design(sleepers: 5), Third);

    [Fact]
    public async Task A_conflict_waits_for_a_decision_and_writes_nothing_over()
    {
        var theirs = Theirs();
        _store = (_, _) => Task.FromResult<SaveResult>(theirs);
        Edit(3);
        await _autosave.FlushAsync();
        Assert.Equal(new Overtaken(theirs), _autosave.State);

        Edit(4);
        await AdvanceAsync(10_000);

        Assert.Single(_written);
        Assert.IsType<Overtaken>(_autosave.State);
    }

    [Fact]
    public async Task An_option_closed_meanwhile_waits_for_a_decision_and_saves_over_what_reopening_left()
    {
        var kept = new OptionKept(At, Samples.Design(), Third);
        _store = (_, _) => Task.FromResult<SaveResult>(kept);
        Edit(3);
        await _autosave.FlushAsync();
        Edit(4);
        await AdvanceAsync(10_000);
        Assert.Equal(new ClosedMeanwhile(kept), _autosave.State);
        Assert.Single(_written);

        _store = (_, _) => Task.FromResult<SaveResult>(new Saved(Guid.NewGuid(), At));
        var reopened = Guid.NewGuid();
        await _autosave.WriteOverAsync(Samples.Design(sleepers: 4), "sleepers", reopened);

        Assert.IsType<AllSaved>(_autosave.State);
        Assert.Equal(2, _written.Count);
        Assert.Equal(reopened, _written[1].Version);
    }

    [Fact]
    public async Task Taking_theirs_gives_up_the_own_edit_and_goes_on_from_their_version()
    {
        _store = (_, _) => Task.FromResult<SaveResult>(Theirs());
        Edit(3);
        await _autosave.FlushAsync();

        _autosave.TakeTheirs();
        await _autosave.FlushAsync();

        Assert.Single(_written);
        Assert.Equal(Third, _autosave.Version);
        Assert.IsType<AllSaved>(_autosave.State);
    }

    [Fact]
    public async Task Writing_over_saves_the_own_design_against_their_version()
    {
        _store = (_, _) => Task.FromResult<SaveResult>(Theirs());
        Edit(3);
        await _autosave.FlushAsync();
        _store = (_, _) => Task.FromResult<SaveResult>(new Saved(Second, At));

        await _autosave.WriteOverAsync(Samples.Design(sleepers: 4), "sleepers");

        Assert.Equal([(3, Loaded), (4, Third)], _written);
        Assert.IsType<AllSaved>(_autosave.State);
    }

    [Fact]
    public async Task Leaving_the_page_saves_what_still_waits()
    {
        Edit(3);
        await _autosave.DisposeAsync();

        Assert.Equal([(3, Loaded)], _written);
    }

    [Fact]
    public async Task A_rename_waits_for_the_save_before_and_an_edit_made_during_it_is_saved_against_its_version()
    {
        var named = new TaskCompletionSource<Guid>(TaskCreationOptions.RunContinuationsAsynchronously);
        var started = new TaskCompletionSource<Guid>(TaskCreationOptions.RunContinuationsAsynchronously);
        Edit(3);
        var renamed = _autosave.BetweenSavesAsync(version =>
        {
            started.SetResult(version);
            return named.Task;
        });
        Assert.Equal(Second, await started.Task);

        Edit(4);
        var flushed = _autosave.FlushAsync();
        Assert.IsType<SaveRunning>(_autosave.State);
        Assert.Equal([(3, Loaded)], _written);
        named.SetResult(Third);
        Assert.True(await renamed);
        await flushed;

        Assert.Equal([(3, Loaded), (4, Third)], _written);
        Assert.IsType<AllSaved>(_autosave.State);
    }

    [Fact]
    public async Task A_rename_that_is_refused_leaves_the_version_and_the_edit_made_during_it()
    {
        await Assert.ThrowsAsync<RecordNotFoundException>(() => _autosave.BetweenSavesAsync(_ =>
        {
            Edit(3);
            throw new RecordNotFoundException("option", Loaded);
        }));
        Assert.IsType<EditsWaiting>(_autosave.State);

        await _autosave.FlushAsync();

        Assert.Equal([(3, Loaded)], _written);
        Assert.IsType<AllSaved>(_autosave.State);
    }

    [Fact]
    public async Task Nothing_is_renamed_while_the_design_cannot_be_saved()
    {
        _store = (_, _) => Task.FromResult<SaveResult>(Theirs());
        Edit(3);

        Assert.False(await _autosave.BetweenSavesAsync(_ => throw new InvalidOperationException("Must not be called.")));
        Assert.IsType<Overtaken>(_autosave.State);
    }

    [Fact]
    public async Task Nothing_edited_is_nothing_written()
    {
        await AdvanceAsync(10_000);
        await _autosave.DisposeAsync();

        Assert.Empty(_written);
        Assert.Equal(new AllSaved(null), _autosave.State);
    }
}
