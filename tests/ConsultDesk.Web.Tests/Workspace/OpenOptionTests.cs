using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Web.Workspace;
using Microsoft.Extensions.Logging.Abstractions;
using Xunit;

namespace ConsultDesk.Web.Tests.Workspace;

public sealed class OpenOptionTests : IAsyncDisposable
{
    private static readonly DateTime At = new(2031, 2, 3, 20, 0, 0, DateTimeKind.Utc);

    private readonly List<(string Label, int Sleepers)> _written = [];
    private readonly OpenOption _option;
    private SaveResult? _answer;

    public OpenOptionTests()
    {
        _option = new OpenOption(
            new LoadedOption(Guid.NewGuid(), Guid.NewGuid(), "A", "The client's idea", Samples.Design(), Guid.NewGuid(), At),
            (design, _, label) =>
            {
                _written.Add((label, design.Household.Sleepers));
                return Task.FromResult(_answer ?? new Saved(Guid.NewGuid(), At));
            },
            new AssessmentRunner(
                (_, _, _, _) => Samples.Assessment(), AssessmentDepth.Night, DesignJson.Hash, new ComputeQueue(1), new AssessmentCache(), new object(), new ManualTime(), NullLogger.Instance),
            new ManualTime(),
            NullLogger.Instance,
            () => { });
    }

    public ValueTask DisposeAsync() => _option.DisposeAsync();

    private static Func<Design, Design> SleepersTo(int count) => d => d with { Household = d.Household with { Sleepers = count } };

    [Fact]
    public async Task A_single_edit_is_saved_at_once_under_its_own_words_and_so_is_its_undo()
    {
        _option.Editor.Apply("sleepers", SleepersTo(4));
        await _option.Autosave.FlushAsync();
        _option.Editor.Undo();
        await _option.Autosave.FlushAsync();

        Assert.Equal([("sleepers", 4), ("undo: sleepers", 2)], _written);
    }

    [Fact]
    public async Task Every_edit_asks_for_its_own_assessment()
    {
        _option.Editor.Apply("sleepers", SleepersTo(4));
        Assert.True(SpinWait.SpinUntil(() => _option.Runner.Latest?.Revision == _option.Editor.Revision, TimeSpan.FromSeconds(30)));
        await _option.Autosave.FlushAsync();

        Assert.Same(_option.Editor.Design, _option.Runner.Latest!.Design);
    }

    [Fact]
    public async Task Taking_over_what_somebody_else_saved_ends_saved_with_a_line_in_the_history()
    {
        _answer = new SaveConflict("Noor", At, Samples.Design(sleepers: 6), Guid.NewGuid());
        _option.Editor.Apply("sleepers", SleepersTo(4));
        await _option.Autosave.FlushAsync();
        Assert.IsType<Overtaken>(_option.Autosave.State);
        _answer = null;

        _option.Autosave.TakeTheirs();
        _option.Editor.Load("took over what Noor saved", Samples.Design(sleepers: 6));
        await _option.Autosave.FlushAsync();

        Assert.IsType<AllSaved>(_option.Autosave.State);
        Assert.Equal(("took over what Noor saved", 6), _written[^1]);
    }
}
