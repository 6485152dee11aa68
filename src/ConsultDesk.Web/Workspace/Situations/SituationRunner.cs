using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using Position = ConsultDesk.Calculations.Vehicle.Position;

namespace ConsultDesk.Web.Workspace.Situations;

/// <summary>A situation worked out for a design.</summary>
/// <param name="Revision">The edit it belongs to.</param>
/// <param name="Design">The design it belongs to.</param>
/// <param name="Situation">Weather and use.</param>
/// <param name="State">What they come to.</param>
public sealed record SituationAnswer(long Revision, Design Design, Situation Situation, SituationState State)
{
    /// <summary>The design with what had to be shut here shut: what a drawing of the situation shows.</summary>
    public Design Standing { get; } = State.Result.ShutHere.Aggregate(Design, (design, id) => Openings.SetPosition(design, id, Position.Shut));
}

/// <summary>What the card says to a situation of a design.</summary>
/// <param name="Design">The design it belongs to.</param>
/// <param name="Situation">Weather and use.</param>
/// <param name="Advice">What it says.</param>
public sealed record SituationCard(Design Design, Situation Situation, SituationAdvice Advice);

/// <summary>
/// The situation the workspace shows in place of the design night: which one, what was set by hand of it, and what it
/// comes to for the design as it stands. The answer follows the finger; what the card says comes a moment later.
/// </summary>
/// <param name="queue">Where it is worked out.</param>
/// <param name="circuit">Whose turn in the queue it takes.</param>
/// <param name="time">Clock of the pause before the card is asked.</param>
/// <param name="log">Gets what the consultant is told only in plain words.</param>
/// <param name="changed">Called after each answer, on any thread.</param>
public sealed partial class SituationRunner(ComputeQueue queue, object circuit, TimeProvider time, ILogger log, Action changed) : IDisposable
{
    /// <summary>Quiet time before the card is asked: a finger on a slider starts no search at every step.</summary>
    public static readonly TimeSpan PauseBeforeCard = TimeSpan.FromMilliseconds(150);

    private readonly Dictionary<string, Func<Situation, Situation>> _byHand = [];
    private Func<Design, Situation>? _from;
    private Design? _design;
    private long _revision;
    private CancellationTokenSource? _asked;

    /// <summary>Key of the situation that is chosen; null for the design night.</summary>
    public string? Key { get; private set; }

    /// <summary>The situation as it was chosen, before anything was set by hand; null for the design night.</summary>
    public Situation? Chosen { get; private set; }

    /// <summary>The situation with what was set by hand; null for the design night.</summary>
    public Situation? Asked { get; private set; }

    /// <summary>The last answer; null for the design night and before the first.</summary>
    public SituationAnswer? Latest { get; private set; }

    /// <summary>What the card says; null before it was asked.</summary>
    public SituationCard? Card { get; private set; }

    /// <summary>Why the situation has no answer; null when it has or waits for one.</summary>
    public string? Failure { get; private set; }

    /// <summary>True when the answer belongs to other inputs or another situation than are on the screen.</summary>
    public bool IsOld => Latest is { } latest && !(ReferenceEquals(latest.Design, _design) && latest.Situation == Asked);

    /// <summary>True when what the card says belongs to other inputs or another situation.</summary>
    public bool CardIsOld => Card is { } card && !(ReferenceEquals(card.Design, _design) && card.Situation == Asked);

    /// <summary>True when the number of that name was set by hand.</summary>
    public bool IsByHand(string name) => _byHand.ContainsKey(name);

    /// <summary>True when anything was set by hand.</summary>
    public bool IsChanged => _byHand.Count > 0;

    /// <summary>Shows a situation in place of what was shown; what was set by hand of the one before goes with it.</summary>
    /// <param name="key">Its key.</param>
    /// <param name="from">Weather and use for a design: called again whenever the design changes.</param>
    public void Show(string key, Func<Design, Situation> from)
    {
        ArgumentNullException.ThrowIfNull(from);
        _byHand.Clear();
        (Key, _from, Latest, Card, Failure) = (key, from, null, null, null);
        Ask(always: true);
    }

    /// <summary>The same situation from another year of weather, or as it was kept since.</summary>
    public void Take(Func<Design, Situation> from) => _from = from;

    /// <summary>Shows the design night again.</summary>
    public void ShowNight()
    {
        _asked?.Cancel();
        _byHand.Clear();
        (Key, _from, Chosen, Asked, Latest, Card, Failure) = (null, null, null, null, null, null, null);
        changed();
    }

    /// <summary>Sets one number by hand; it stays so while design and itinerary change.</summary>
    public void Set(string name, Func<Situation, Situation> change)
    {
        _byHand[name] = change;
        Ask(always: false);
    }

    /// <summary>Takes back all that was set by hand.</summary>
    public void TakeBack()
    {
        _byHand.Clear();
        Ask(always: false);
    }

    /// <summary>Works it out for a design, unless that is what was worked out last.</summary>
    public void Follow(Design design, long revision)
    {
        var before = _design;
        (_design, _revision) = (design, revision);
        Ask(always: !ReferenceEquals(before, design));
    }

    public void Dispose()
    {
        _asked?.Cancel();
        _asked = null;
    }

    private void Ask(bool always)
    {
        if (_design is not { } design || _from is null)
        {
            return;
        }

        Chosen = _from(design);
        var asked = Chosen;
        foreach (var change in _byHand.Values)
        {
            asked = change(asked);
        }

        asked = _byHand.Count == 0 ? Chosen : Calculations.Simulation.Situations.UnderItsSky(asked, Chosen);
        if (!always && asked == Asked)
        {
            return;
        }

        Asked = asked;
        _ = AnswerAsync(design, _revision, asked);
    }

    private async Task AnswerAsync(Design design, long revision, Situation situation)
    {
        _asked?.Cancel();
        using var mine = new CancellationTokenSource();
        _asked = mine;
        var token = mine.Token;
        changed();
        try
        {
            var state = await queue.RunAsync(circuit, Urgency.AtOnce, stop => SituationRun.State(design, situation, Assumptions.Likely, stop), token);
            if (!ReferenceEquals(_asked, mine))
            {
                return;
            }

            (Latest, Failure) = (new SituationAnswer(revision, design, situation, state), null);
            changed();
            await Task.Delay(PauseBeforeCard, time, token);
            var advice = await queue.RunAsync(circuit, Urgency.Soon, stop => RunningCards.For(design, situation, Assumptions.Likely, stop), token);
            if (ReferenceEquals(_asked, mine))
            {
                Card = new SituationCard(design, situation, advice);
            }
        }
        catch (OperationCanceledException) when (token.IsCancellationRequested)
        {
            // Something newer was asked, or the page was left.
            return;
        }
        catch (Exception error)
        {
            // Whatever went wrong belongs on the screen, beside the last good answer.
            LogFailure(log, situation.Key, error);
            if (ReferenceEquals(_asked, mine))
            {
                Failure = AssessmentRunner.Say(error);
            }
        }
        finally
        {
            if (ReferenceEquals(_asked, mine))
            {
                _asked = null;
            }
        }

        changed();
    }

    [LoggerMessage(LogLevel.Error, "The situation {Situation} could not be worked out.")]
    private static partial void LogFailure(ILogger log, string situation, Exception error);
}
