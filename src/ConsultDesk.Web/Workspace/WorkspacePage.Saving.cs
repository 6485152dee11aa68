using ConsultDesk.Records;
using Microsoft.AspNetCore.Components.Routing;

namespace ConsultDesk.Web.Workspace;

// What happens when saving meets an obstacle, and on leaving.
public sealed partial class WorkspacePage
{
    /// <summary>Runs a command of the records; what it refuses is said on the page.</summary>
    private async Task WorkAsync(Func<Task> command)
    {
        _busy = true;
        _trouble = null;
        try
        {
            await command();
        }
        catch (Exception refused) when (RefusalWords.Of(refused) is { } words)
        {
            _trouble = words;
        }
        finally
        {
            _busy = false;
        }
    }

    private Task RetryAsync() => _open!.Autosave.FlushAsync();

    /// <summary>What is stored in place of what is on the screen; null while there is nothing to decide.</summary>
    private static Calculations.Vehicle.Design? Stored(OpenOption option) => option.Autosave.State switch
    {
        Overtaken { By: var theirs } => theirs.Theirs,
        ClosedMeanwhile { By: var kept } => kept.Kept,
        _ => null,
    };

    private void TakeTheirs()
    {
        _leaveTo = null;
        if (Stored(_open!) is not { } stored)
        {
            return;
        }

        var (label, closed) = _open!.Autosave.State is Overtaken { By: var theirs }
            ? ($"took over what {theirs.Who} saved", false)
            : ("gave edits up", true);
        _open.Autosave.TakeTheirs();
        _open.Editor.Load(label, stored);
        if (closed)
        {
            _open.Editor.Close(OpenOption.KeptReason(_open.Letter));
        }
    }

    private async Task KeepMineAsNewAsync()
    {
        var target = _leaveTo;
        var mine = _open!.Editor.Design;
        await WorkAsync(async () =>
        {
            var copy = await Options.KeepAsNew(Who, _open.Id, NameOfMine(_open), mine);
            TakeTheirs();
            await _open.Autosave.FlushAsync();
            _options = await Options.OptionsOf(Who, VanId);
            Navigation.NavigateTo(target ?? $"vans/{VanId}/options/{copy.Id}");
        });
    }

    private string NameOfMine(OpenOption option) => $"{option.Name}, {Who.Name}" is var name && name.Length <= TextLimits.Name ? name : $"{option.Letter}, {Who.Name}";

    /// <summary>Opens the client's own idea for changes; what waits of it is saved then.</summary>
    private Task ReopenAsync() => WorkAsync(async () =>
    {
        var open = _open!;
        if (open.Autosave.State is ClosedMeanwhile)
        {
            var version = await Options.Reopen(Who, open.Id);
            open.Editor.Reopen();
            await open.Autosave.WriteOverAsync(open.Editor.Design, "reopened: it was recorded wrongly", version);
        }
        else if (await open.Autosave.BetweenSavesAsync(_ => Options.Reopen(Who, open.Id)))
        {
            open.Editor.Reopen();
        }

        _options = await Options.OptionsOf(Who, VanId);
    });

    private Task KeepAsync() => WorkAsync(async () =>
    {
        var open = _open!;
        open.Editor.Collect();
        if (!await open.Autosave.BetweenSavesAsync(_ => Options.Keep(Who, open.Id)))
        {
            _trouble = "The option is not saved yet, so it stays open for now.";
            return;
        }

        open.Editor.Close(OpenOption.KeptReason(open.Letter));
        _options = await Options.OptionsOf(Who, VanId);
    });

    private Task WriteOverAsync()
    {
        _leaveTo = null;
        return _open!.Autosave.WriteOverAsync(_open.Editor.Design, "written over a newer version");
    }

    private async Task BeforeLeavingAsync(LocationChangingContext context)
    {
        if (_open is null || _leaving)
        {
            return;
        }

        _open.Editor.Collect();
        await _open.Autosave.FlushAsync();
        if (_open.Autosave.State is not AllSaved)
        {
            context.PreventNavigation();
            _leaveTo = context.TargetLocation;
            StateHasChanged();
        }
    }

    private void LeaveWithoutSaving()
    {
        _leaving = true;
        Navigation.NavigateTo(_leaveTo ?? "clients");
    }
}
