using ConsultDesk.Records;
using Microsoft.AspNetCore.Components;

namespace ConsultDesk.Web.Shell;

/// <summary>
/// What every component starts from. When an act of the person at the page fails because the store cannot work (its disk is full, it
/// is locked, it does not answer), the page stays with all that was typed and <see cref="StoreTrouble"/> says why: the same act
/// can be tried again. Left alone, the exception would take the page down with its fields. All other exceptions still do.
/// </summary>
public abstract class StaysOpen : ComponentBase, IHandleEvent
{
    // An act goes from a child to its parent and back. Only the outermost of them may keep a fault: a child that is told
    // nothing would empty its fields, believing that its parent saved them.
    private static readonly AsyncLocal<bool> Inside = new();

    // A component that is tested alone has no StoreTrouble.
    [Inject]
    private IServiceProvider Around { get; set; } = default!;

    /// <inheritdoc/>
    Task IHandleEvent.HandleEventAsync(EventCallbackWorkItem item, object? arg)
    {
        if (Inside.Value)
        {
            var inner = item.InvokeAsync(arg);
            StateHasChanged();
            return inner.Status is TaskStatus.RanToCompletion or TaskStatus.Canceled ? Task.CompletedTask : AfterInnerAsync(inner);
        }

        // Asked for before the act: while it waits the circuit may end, and its services with it.
        var trouble = Around.GetService<StoreTrouble>();
        Task act;
        Inside.Value = true;
        try
        {
            act = item.InvokeAsync(arg);
        }
        catch (Exception fault) when (Told(trouble, fault))
        {
            StateHasChanged();
            return Task.CompletedTask;
        }
        finally
        {
            Inside.Value = false;
        }

        if (act.Status is not (TaskStatus.RanToCompletion or TaskStatus.Canceled))
        {
            StateHasChanged();
            return AfterAsync(act, arg, trouble);
        }

        WentWell(arg, trouble);
        StateHasChanged();
        return Task.CompletedTask;
    }

    private async Task AfterInnerAsync(Task act)
    {
        try
        {
            await act;
        }
        catch (OperationCanceledException) when (act.IsCanceled)
        {
            return;
        }

        StateHasChanged();
    }

    private async Task AfterAsync(Task act, object? arg, StoreTrouble? trouble)
    {
        try
        {
            await act;
            WentWell(arg, trouble);
        }
        catch (OperationCanceledException) when (act.IsCanceled)
        {
            // As the framework's own components: an act that was taken back has nothing to show.
            return;
        }
        catch (Exception fault) when (Told(trouble, fault))
        {
            // Said above the page.
        }

        StateHasChanged();
    }

    // Typing on says nothing of the store, and what was told may still have to be read.
    private static void WentWell(object? arg, StoreTrouble? trouble)
    {
        if (arg is not ChangeEventArgs)
        {
            trouble?.Clear();
        }
    }

    private static bool Told(StoreTrouble? trouble, Exception fault)
    {
        if (trouble is null || StoreFault.Sentence(fault) is not { } sentence)
        {
            return false;
        }

        trouble.Say(sentence, fault);
        return true;
    }
}
