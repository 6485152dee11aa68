using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Records;
using ConsultDesk.Web.Workspace.Designs;
using Microsoft.AspNetCore.Components;
using MudBlazor;
using Severity = ConsultDesk.Calculations.Findings.Severity;

namespace ConsultDesk.Web.Workspace;

// What is done with options: compared, copied, named, chosen, published.
public sealed partial class WorkspacePage
{
    private void CompareWith(string? optionId)
    {
        if (!string.IsNullOrEmpty(optionId))
        {
            // On a small screen one part shows at a time; the comparison stands where the drawing does.
            _section = "drawing";
        }

        Navigation.NavigateTo($"vans/{VanId}/options/{_open!.Id}" + (string.IsNullOrEmpty(optionId) ? "" : "?compare=" + optionId));
    }

    private async Task CopyAsync()
    {
        if (await AskNameAsync("Copy this option", "A copy can be changed while this one stays as it is.", "Copy", $"{_open!.Name}, copy") is { } name)
        {
            await AddOptionAsync(_open, name, _open.Editor.Design);
        }
    }

    private async Task TryAsync(Finding finding)
    {
        // The remedy belongs to the design the finding was made for; finding it may take several assessments.
        var from = _open!;
        var design = Result!.Design;
        Calculations.Vehicle.Design? remedied = null;
        await WorkAsync(async () => remedied = await Queue.RunAsync(this, Urgency.Soon, _ => finding.Apply!(design), CancellationToken.None));
        if (remedied is not null)
        {
            await AddOptionAsync(from, $"{from.Letter} with remedy: {finding.Title}", remedied, withBefore: true);
        }
    }

    /// <summary>Makes a copy of the option the search was asked for with one of its changes.</summary>
    private async Task TakeAsync(SingleChange change)
    {
        if (_searches?.Help.Latest is { } answer)
        {
            var name = $"{_open!.Letter}: {change.Words}";
            await AddOptionAsync(_open, name.Length <= TextLimits.Name ? name : name[..TextLimits.Name], change.Apply(answer.Design));
        }
    }

    /// <summary>Makes an option of a design that the search found.</summary>
    private Task TakeFoundAsync(FoundDesign found) => AddOptionAsync(_open!, found.Name, found.Design);

    private async Task AddOptionAsync(OpenOption from, string name, Calculations.Vehicle.Design design, bool withBefore = false)
    {
        await WorkAsync(async () =>
        {
            await from.Autosave.FlushAsync();
            var copy = await Options.KeepAsNew(Who, from.Id, name, design);
            _options = await Options.OptionsOf(Who, VanId);
            _beforeOf = withBefore ? copy.Id : _beforeOf;
            Navigation.NavigateTo($"vans/{VanId}/options/{copy.Id}");
        });
    }

    private async Task RenameAsync()
    {
        var open = _open!;
        if (await AskNameAsync($"Rename option {open.Letter}", "Published plans keep the old name.", "Rename", open.Name) is { } name)
        {
            await WorkAsync(async () =>
            {
                if (!await open.Autosave.BetweenSavesAsync(version => Options.Rename(Who, open.Id, version, name)))
                {
                    _trouble = "The option is not saved yet, so it keeps its name for now.";
                    return;
                }

                open.Name = name;
                _options = await Options.OptionsOf(Who, VanId);
            });
        }
    }

    /// <summary>Notes why there is this option, or why it was left.</summary>
    private async Task GiveReasonAsync()
    {
        var open = _open!;
        if (await AskNameAsync($"Why option {open.Letter}", "What it tries, or why it was left. Empty takes the note away.", "Note it", ReasonOf(open.Id), "Reason") is { } reason)
        {
            await WorkAsync(async () =>
            {
                if (!await open.Autosave.BetweenSavesAsync(version => Options.GiveReason(Who, open.Id, version, reason)))
                {
                    _trouble = "The option is not saved yet, so its reason is not noted.";
                    return;
                }

                _options = await Options.OptionsOf(Who, VanId);
            });
        }
    }

    /// <summary>Marks the option as what the van is going to be built as. Never while a danger stands.</summary>
    private async Task ChooseAsync()
    {
        _menu++;
        var open = _open!;
        if (await YearAsync("chosen") is not { } result)
        {
            return;
        }

        var dangers = result.Assessment.Findings.Where(finding => finding.Severity == Severity.Danger).ToList();
        if (dangers.Count > 0)
        {
            _trouble = $"Option {open.Letter} cannot be chosen while a danger stands: {string.Join("; ", dangers.Select(danger => danger.Title))}. Change the option, or try a remedy on a copy and choose that.";
            return;
        }

        await WorkAsync(async () =>
        {
            if (!await open.Autosave.BetweenSavesAsync(version => Options.MarkChosen(Who, open.Id, version)))
            {
                _trouble = "The option is not saved yet; only what is stored can be chosen.";
            }

            _options = await Options.OptionsOf(Who, VanId);
        });
    }

    private Task TakeBackChoiceAsync()
    {
        _menu++;
        return WorkAsync(async () =>
        {
            await Options.TakeBackChoice(Who, VanId);
            _options = await Options.OptionsOf(Who, VanId);
        });
    }

    /// <summary>Waits for the year of what is stored; says on the page why there is none.</summary>
    private async Task<AssessedDesign?> YearAsync(string what)
    {
        var open = _open!;
        _trouble = null;
        _busy = true;
        try
        {
            open.Editor.Collect();
            await open.Autosave.FlushAsync();
            _waiting = !open.Runner.AnsweredTo(AssessmentDepth.Year).IsCompleted;
            await open.Runner.AnsweredTo(AssessmentDepth.Year);
        }
        finally
        {
            _busy = _waiting = false;
        }

        _trouble = (open.Autosave.State, open.Runner) switch
        {
            (not AllSaved, _) => $"The option is not saved yet; only what is stored can be {what}.",
            (_, { Failure.Depth: AssessmentDepth.Night or AssessmentDepth.Year }) => $"This option cannot be calculated, so it cannot be {what}: {open.Runner.Failure.Message}",
            (_, { Latest: null } or { IsOld: true } or { LatestYear: null } or { YearIsOld: true }) => $"There is no result for these inputs yet, so nothing can be {what}. Try again in a moment.",
            _ => null,
        };
        return _trouble is null ? open.Runner.Latest : null;
    }

    private async Task PublishAsync()
    {
        if (await YearAsync("published") is not { } result)
        {
            return;
        }

        var open = _open!;
        var version = open.Autosave.Version;
        var own = _options.FirstOrDefault(option => option.Id != open.Id && PlanPublication.IsOwnIdea(option));
        var publication = new PlanPublication(Options, Press, Queue, Who, _weather!.Hours, Log);
        await Dialogs.ShowAsync<PublishDialog>(
            "Publish",
            new DialogParameters<PublishDialog>
            {
                { d => d.Who, Who },
                { d => d.VanId, VanId },
                { d => d.ClientName, _clientName },
                { d => d.VanName, _van!.Name },
                { d => d.Letter, open.Letter },
                { d => d.Name, open.Name },
                { d => d.AllFindings, result.Assessment.Findings },
                { d => d.Others, _options.Where(option => option.Id != open.Id && !PlanPublication.IsOwnIdea(option)).ToList() },
                { d => d.Own, own },
                { d => d.Preview, () => Press.PreviewAsync(Who, new(open.Id, version, result.Design, result.Assessment)) },
                { d => d.SourceId, CompareIds is [var first, ..] ? first : _source?.Id },
                { d => d.PlanAddress, Navigation.BaseUri + "plan/" },
                { d => d.Publish, choice => publication.PublishAsync(open, result, version, choice, own?.Id, _options) },
                { d => d.Withdraw, EventCallback.Factory.Create<Guid>(this, linkId => Plans.RevokeLink(Who, linkId)) },
            },
            new DialogOptions { CloseOnEscapeKey = true, BackdropClick = false, MaxWidth = MaxWidth.Small, FullWidth = true });
    }

    /// <summary>Asks for a name, or for a text of another kind that may be empty.</summary>
    private async Task<string?> AskNameAsync(string title, string hint, string action, string start, string? instead = null)
    {
        // Another key is another menu, a shut one.
        _menu++;
        var dialog = await Dialogs.ShowAsync<NameDialog>(
            title,
            new DialogParameters<NameDialog> { { d => d.Title, title }, { d => d.Hint, hint }, { d => d.Action, action }, { d => d.Start, start }, { d => d.Label, instead ?? "Name" }, { d => d.Longest, instead is null ? TextLimits.Name : TextLimits.Line }, { d => d.MayBeEmpty, instead is not null } },
            new DialogOptions { CloseOnEscapeKey = true, MaxWidth = MaxWidth.ExtraSmall, FullWidth = true });
        var answer = await dialog.Result;
        return answer is { Canceled: false, Data: string name } ? name : null;
    }
}
