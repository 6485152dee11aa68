using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Web.Workspace;

/// <summary>
/// The design being edited, with undo and redo. Every form, drag and remedy changes it through <see cref="Apply"/>,
/// which refuses what makes the design wrong; it knows nothing of screens. Not thread safe: one circuit owns it.
/// </summary>
public sealed class OptionEditor
{
    /// <summary>Steps kept for undo; the oldest is forgotten first. A step shares all it did not change with its neighbours.</summary>
    public const int MaximumSteps = 500;

    private readonly List<Step> _undo = [];
    private readonly List<Step> _redo = [];
    private string? _gesture;

    public OptionEditor(Design design)
    {
        Design = design;
    }

    /// <summary>The design as it stands. What <see cref="DesignCheck"/> refuses never gets here.</summary>
    public Design Design { get; private set; }

    /// <summary>Why nothing may be changed, in words for the field that asked; null while edits are taken.</summary>
    public string? ClosedBecause { get; private set; }

    /// <summary>Grows by one with every edit, undo and redo included, and never falls.</summary>
    public long Revision { get; private set; }

    /// <summary>What an undo would take back, or null when there is nothing.</summary>
    public string? UndoLabel => _undo.Count == 0 || ClosedBecause is not null ? null : _undo[^1].Label;

    /// <summary>What a redo would bring back, or null when there is nothing.</summary>
    public string? RedoLabel => _redo.Count == 0 || ClosedBecause is not null ? null : _redo[^1].Label;

    /// <summary>The last edit in words, for the history; empty before the first.</summary>
    public string LastEdit { get; private set; } = "";

    /// <summary>After every edit.</summary>
    public event Action? Changed;

    /// <summary>After a gesture ended or a single edit was made: a good moment to save.</summary>
    public event Action? Settled;

    /// <summary>Before the design is left: a field takes what is typed in it and was not taken yet.</summary>
    public event Action? Collecting;

    /// <summary>
    /// Makes one edit. Edits that follow each other with the same <paramref name="gesture"/> (a finger on a slider,
    /// a number being typed) are one undo step until <see cref="EndGesture"/>.
    /// </summary>
    /// <param name="label">What the edit does, for the undo button: <c>fan speed</c>.</param>
    /// <param name="change">The edit. A throw leaves the design as it was; returning its argument is no edit.</param>
    /// <param name="gesture">Names the gesture the edit is part of, or null for an edit of its own.</param>
    /// <returns>What the edit would have made wrong, in which case the design stays as it was; empty when it was made.</returns>
    public ImmutableArray<DesignError> Apply(string label, Func<Design, Design> change, string? gesture = null)
    {
        if (ClosedBecause is { } closed)
        {
            return [new DesignError("", closed)];
        }

        var next = change(Design);
        if (ReferenceEquals(next, Design))
        {
            return [];
        }

        next = FactOrigins.Pruned(next);

        // A design that was wrong before (stored by an earlier release) can still be put right step by step.
        var errors = DesignCheck.Errors(next).Except(DesignCheck.Errors(Design)).ToImmutableArray();
        if (!errors.IsEmpty)
        {
            return errors;
        }

        if (Placement.Refusal(Design, next) is { } stands)
        {
            return [new DesignError("", stands)];
        }

        if (gesture is null || gesture != _gesture)
        {
            Remember(_undo, new Step(label, Design));
            _redo.Clear();
        }

        _gesture = gesture;
        LastEdit = label;
        Move(next);
        if (gesture is null)
        {
            Settled?.Invoke();
        }

        return [];
    }

    /// <summary>The finger has left the control: the next edit is a new undo step.</summary>
    public void EndGesture()
    {
        if (_gesture is null)
        {
            return;
        }

        _gesture = null;
        Settled?.Invoke();
    }

    /// <summary>Refuses every edit from now on, undo included.</summary>
    /// <param name="because">Why, in words for the field that asks.</param>
    public void Close(string because) => ClosedBecause = because;

    /// <summary>Takes edits again.</summary>
    public void Reopen() => ClosedBecause = null;

    /// <summary>Has the fields take what is typed in them: call it before the design is saved for the last time.</summary>
    public void Collect() => Collecting?.Invoke();

    /// <summary>
    /// Takes the last step back. An edit like any other: it has a revision of its own and is saved. What is typed in a
    /// field and was not taken yet is the last step, so that it does not come back a moment later.
    /// </summary>
    public void Undo()
    {
        Collect();
        Swap(_undo, _redo, "undo");
    }

    /// <summary>Brings the last undone step back; nothing when something was typed since.</summary>
    public void Redo()
    {
        Collect();
        Swap(_redo, _undo, "redo");
    }

    /// <summary>Starts over with another design, for example the one somebody else saved. What came before cannot be undone.</summary>
    /// <param name="label">What happened, for the history.</param>
    /// <param name="design">The other design.</param>
    public void Load(string label, Design design)
    {
        _undo.Clear();
        _redo.Clear();
        _gesture = null;
        LastEdit = label;
        Move(design);
    }

    private void Swap(List<Step> from, List<Step> to, string what)
    {
        _gesture = null;
        if (from.Count == 0 || ClosedBecause is not null)
        {
            return;
        }

        var step = from[^1];
        from.RemoveAt(from.Count - 1);
        Remember(to, step with { Before = Design });
        LastEdit = $"{what}: {step.Label}";
        Move(step.Before);
        Settled?.Invoke();
    }

    private static void Remember(List<Step> steps, Step step)
    {
        steps.Add(step);
        if (steps.Count > MaximumSteps)
        {
            steps.RemoveAt(0);
        }
    }

    private void Move(Design design)
    {
        Design = design;
        Revision++;
        Changed?.Invoke();
    }

    private sealed record Step(string Label, Design Before);
}
