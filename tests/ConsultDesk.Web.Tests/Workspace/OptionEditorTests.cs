using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Web.Workspace;
using Xunit;

namespace ConsultDesk.Web.Tests.Workspace;

public sealed class OptionEditorTests
{
    private readonly OptionEditor _editor = new(Samples.Design(sleepers: 2));

    private int Sleepers => _editor.Design.Household.Sleepers;

    private static Func<Design, Design> SleepersTo(int count) => d => d with { Household = d.Household with { Sleepers = count } };

    [Fact]
    public void An_edit_can_be_taken_back_and_brought_back()
    {
        _editor.Apply("sleepers", SleepersTo(3));
        Assert.Equal("sleepers", _editor.UndoLabel);

        _editor.Undo();
        Assert.Equal(2, Sleepers);
        Assert.Null(_editor.UndoLabel);
        Assert.Equal("sleepers", _editor.RedoLabel);

        _editor.Redo();
        Assert.Equal(3, Sleepers);
        Assert.Equal("sleepers", _editor.UndoLabel);
        Assert.Null(_editor.RedoLabel);
    }

    [Fact]
    public void Undo_is_a_new_edit_with_a_revision_of_its_own()
    {
        _editor.Apply("sleepers", SleepersTo(3));
        var before = _editor.Revision;
        int changes = 0;
        _editor.Changed += () => changes++;

        _editor.Undo();

        Assert.Equal(before + 1, _editor.Revision);
        Assert.Equal(1, changes);
    }

    [Fact]
    public void A_gesture_of_many_edits_is_one_step()
    {
        foreach (var count in new[] { 1, 4, 5 })
        {
            _editor.Apply("sleepers", SleepersTo(count), gesture: "sleepers");
        }

        _editor.EndGesture();
        _editor.Apply("sleepers", SleepersTo(6), gesture: "sleepers");

        _editor.Undo();
        Assert.Equal(5, Sleepers);
        _editor.Undo();
        Assert.Equal(2, Sleepers);
        Assert.Null(_editor.UndoLabel);
    }

    [Fact]
    public void Another_control_begins_another_step_even_when_nobody_ended_the_gesture()
    {
        _editor.Apply("sleepers", SleepersTo(3), gesture: "sleepers");
        _editor.Apply("month", d => d with { Stop = d.Stop with { Month = 1 } }, gesture: "month");

        _editor.Undo();

        Assert.Equal(3, Sleepers);
        Assert.Equal("sleepers", _editor.UndoLabel);
    }

    [Fact]
    public void An_edit_after_an_undo_forgets_what_was_undone()
    {
        _editor.Apply("sleepers", SleepersTo(3));
        _editor.Undo();
        _editor.Apply("sleepers", SleepersTo(4));

        Assert.Null(_editor.RedoLabel);
        _editor.Redo();
        Assert.Equal(4, Sleepers);
    }

    [Fact]
    public void An_edit_that_throws_leaves_everything_as_it_was()
    {
        var before = _editor.Design;

        Assert.Throws<ArgumentException>(() => _editor.Apply("bad", _ => throw new ArgumentException("no such zone")));

        Assert.Same(before, _editor.Design);
        Assert.Equal(0, _editor.Revision);
        Assert.Null(_editor.UndoLabel);
    }

    [Fact]
    public void An_edit_that_makes_the_design_wrong_is_refused_with_the_reason()
    {
        var before = _editor.Design;

        var errors = _editor.Apply("sleepers", SleepersTo(7));

        var error = Assert.Single(errors);
        Assert.Equal("household.sleepers", error.Path);
        Assert.Contains("0 to 6", error.Message, StringComparison.Ordinal);
        Assert.Same(before, _editor.Design);
        Assert.Null(_editor.UndoLabel);
    }

    [Fact]
    public void A_design_that_was_wrong_before_can_be_put_right_step_by_step()
    {
        var wrong = Samples.Design();
        var editor = new OptionEditor(wrong with { Household = wrong.Household with { Sleepers = 9 }, Stop = wrong.Stop with { Month = 13 } });

        Assert.Empty(editor.Apply("month", d => d with { Stop = d.Stop with { Month = 2 } }));
        Assert.Empty(editor.Apply("sleepers", SleepersTo(2)));

        Assert.Empty(DesignCheck.Errors(editor.Design));
    }

    [Fact]
    public void An_edit_that_changes_nothing_is_no_step()
    {
        _editor.Apply("nothing", d => d);

        Assert.Equal(0, _editor.Revision);
        Assert.Null(_editor.UndoLabel);
    }

    [Fact]
    public void It_settles_at_the_end_of_a_gesture_and_after_a_single_edit()
    {
        int settled = 0;
        _editor.Settled += () => settled++;

        _editor.Apply("sleepers", SleepersTo(3), gesture: "g");
        Assert.Equal(0, settled);
        _editor.EndGesture();
        Assert.Equal(1, settled);
        _editor.EndGesture();
        Assert.Equal(1, settled);
        _editor.Apply("sleepers", SleepersTo(4));
        Assert.Equal(2, settled);
    }

    [Fact]
    public void A_closed_design_refuses_every_edit_with_the_way_on_undo_included()
    {
        var editor = new OptionEditor(Samples.Design());
        editor.Apply("month", d => d with { Stop = d.Stop with { Month = 6 } });
        var design = editor.Design;

        editor.Close("Copy it and change the copy.");
        var refused = editor.Apply("month", d => d with { Stop = d.Stop with { Month = 7 } });
        editor.Undo();

        Assert.Equal("Copy it and change the copy.", Assert.Single(refused).Message);
        Assert.Same(design, editor.Design);
        Assert.Null(editor.UndoLabel);

        editor.Reopen();
        Assert.Empty(editor.Apply("month", d => d with { Stop = d.Stop with { Month = 7 } }));
    }

    [Fact]
    public void A_loaded_design_cannot_be_undone_into_the_one_before()
    {
        _editor.Apply("sleepers", SleepersTo(3));
        _editor.Load("took over", Samples.Design(sleepers: 1));
        Assert.Equal("took over", _editor.LastEdit);

        _editor.Undo();

        Assert.Equal(1, Sleepers);
        Assert.Equal(2, _editor.Revision);
    }

    [Fact]
    public void The_oldest_step_is_forgotten_when_there_are_too_many()
    {
        for (int step = 0; step <= OptionEditor.MaximumSteps; step++)
        {
            _editor.Apply("month", d => d with { Stop = d.Stop with { Month = (step % 12) + 1 } });
        }

        while (_editor.UndoLabel is not null)
        {
            _editor.Undo();
        }

        // The first step went from January to January.
        Assert.Equal(1, _editor.Design.Stop.Month);
        Assert.Equal((2 * OptionEditor.MaximumSteps) + 1, _editor.Revision);
    }
}
