using System.Globalization;
using ConsultDesk.Calculations;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Records;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Consultancy;
using ConsultDesk.Web.Plans;
using ConsultDesk.Web.Workspace.Results;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Routing;
using Microsoft.JSInterop;
using MudBlazor;
using Severity = ConsultDesk.Calculations.Findings.Severity;

namespace ConsultDesk.Web.Workspace;

/// <summary>The consultant's live workspace on one option of a van: inputs, drawing and results side by side.</summary>
public sealed partial class WorkspacePage : IAsyncDisposable
{
    private const int NotesShown = 3;
    private const string PartMemory = "desk-results-part";

    private static readonly (string Key, string Text)[] Sections = [("inputs", "Inputs"), ("drawing", "Drawing"), ("results", "Results")];

    private DisplayUnits _units = DisplayUnits.Metric;
    private PriceBook _book = PriceBooks.Default;
    private Van? _van;
    private string _clientName = "";
    private IReadOnlyList<OptionLine> _options = [];
    private OpenOption? _open;
    private OpenOption? _against;
    private LoadedOption? _source;
    private IReadOnlyList<InputDifference> _conflict = [];
    private InputsPanel? _inputs;
    private Calculations.Vehicle.Design? _drawn;
    private Figure? _side;
    private Figure? _plan;
    private IReadOnlyList<LegendEntry> _legend = [];
    private string _section = "inputs";
    private ResultPart _part;
    private string? _problem;
    private string? _trouble;
    private string? _note;
    private string? _leaveTo;
    private string? _showAnchor;
    private int _menu;
    private bool _leaving;
    private bool _busy;
    private bool _waiting;
    private bool _loading;
    private bool _loadAgain;
    private bool _gone;
    private TimeSpan _clockOffset;
    private IJSObjectReference? _script;
    private IJSObjectReference? _keys;
    private DotNetObjectReference<WorkspacePage>? _self;

    [Inject]
    private VanBook Vans { get; set; } = default!;

    [Inject]
    private ClientBook Clients { get; set; } = default!;

    [Inject]
    private VanOptions Options { get; set; } = default!;

    [Inject]
    private FirmPrices Prices { get; set; } = default!;

    [Inject]
    private Records.Plans Plans { get; set; } = default!;

    [Inject]
    private PlanPress Press { get; set; } = default!;

    [Inject]
    private ComputeQueue Queue { get; set; } = default!;

    [Inject]
    private AssessmentCache Cache { get; set; } = default!;

    [Inject]
    private NavigationManager Navigation { get; set; } = default!;

    [Inject]
    private IDialogService Dialogs { get; set; } = default!;

    [Inject]
    private IJSRuntime Scripts { get; set; } = default!;

    [Inject]
    private TimeProvider Time { get; set; } = default!;

    [Inject]
    private ILogger<WorkspacePage> Log { get; set; } = default!;

    [CascadingParameter]
    private SignedIn Who { get; set; } = default!;

    [CascadingParameter]
    private Firm Firm { get; set; } = default!;

    /// <summary>The van.</summary>
    [Parameter]
    public Guid VanId { get; set; }

    /// <summary>The option; the one that changed last when the address names none.</summary>
    [Parameter]
    public Guid? OptionId { get; set; }

    /// <summary>The option it is compared with, or null.</summary>
    [SupplyParameterFromQuery(Name = "compare")]
    private Guid? CompareId { get; set; }

    /// <summary>Letter of the option to open, when the address names none by its id.</summary>
    [SupplyParameterFromQuery(Name = "option")]
    private string? Letter { get; set; }

    private AssessedDesign? Result => _open?.Runner.Latest;

    private string? OldWord => _open is { Runner.IsOld: true } ? "old" : null;

    private bool Unsaved => _open is not null && _open.Autosave.State is not AllSaved && !_leaving;

    private string CompareChoice => CompareId?.ToString() ?? "";

    private bool IsKept => _open!.Editor.ClosedBecause is not null;

    // The client's own idea, copied before, and open all the same.
    private bool IsReopened => !IsKept && _open!.Letter == VanOptions.FirstLetter && _options.Any(option => option.CopiedFrom == _open.Id);

    private string SaveWord => _open!.Autosave.State switch
    {
        AllSaved => "saved",
        EditsWaiting or SaveRunning => "saving",
        _ => "not-saved",
    };

    private string SaveText => _open!.Autosave.State switch
    {
        AllSaved { At: { } at } => "Saved " + TimeOf(at.UtcDateTime),
        AllSaved => "No unsaved edits",
        EditsWaiting or SaveRunning => "Saving…",
        Overtaken => "Not saved: somebody else saved",
        ClosedMeanwhile => "Not saved: it was closed",
        _ => "Not saved",
    };

    /// <summary>What a screen reader hears after each new result.</summary>
    private string Announcement
    {
        get
        {
            if (Result is not { } result || _open!.Runner.IsOld)
            {
                return "";
            }

            var findings = result.Assessment.Findings;
            string Count(Severity severity, string one, string many) => findings.Count(f => f.Severity == severity) switch
            {
                0 => "",
                1 => $"1 {one}, ",
                var count => string.Create(CultureInfo.InvariantCulture, $"{count} {many}, "),
            };
            return $"Calculated: {Count(Severity.Danger, "danger", "dangers")}{Count(Severity.Warning, "warning", "warnings")}" +
                $"{_units.Format(result.Assessment.Water.CondensedPerNight)} condensed, {_units.Format(result.Assessment.Air.OutdoorAir)} outdoor air.";
        }
    }

    protected override async Task OnParametersSetAsync()
    {
        _units = Firm.DisplayUnits();

        // One load at a time: the address may change again while one is awaited, and the last address wins.
        _loadAgain = true;
        if (_loading)
        {
            return;
        }

        _loading = true;
        bool found = true;
        try
        {
            while (_loadAgain && !_gone)
            {
                _loadAgain = false;
                found = await LoadAsync();
            }
        }
        finally
        {
            _loading = false;
        }

        if (_gone)
        {
            await CloseAsync();
        }
        else if (!found)
        {
            Navigation.NotFound();
        }
    }

    /// <summary>Opens what the address asks for.</summary>
    /// <returns>False when there is no such van or option.</returns>
    private async Task<bool> LoadAsync()
    {
        if (_van?.Id != VanId && !await LoadVanAsync())
        {
            return false;
        }

        var wanted = OptionId
            ?? _options.FirstOrDefault(option => option.Letter == Letter)?.Id
            ?? _options.MaxBy(option => option.UpdatedAt)!.Id;
        if (_open?.Id != wanted && !await OpenAsync(wanted))
        {
            // A damaged option is told on the page.
            return _problem is not null;
        }

        await OpenComparedAsync();
        return true;
    }

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (firstRender)
        {
            _script = await Scripts.InvokeAsync<IJSObjectReference>("import", "/" + Assets["scripts/workspace.js"]);
            _self = DotNetObjectReference.Create(this);
            _keys = await _script.InvokeAsync<IJSObjectReference>("listen", _self);
            _part = ResultParts.Named(await _script.InvokeAsync<string?>("recall", PartMemory));
            _clockOffset = TimeSpan.FromMinutes(await _script.InvokeAsync<int>("minutesFromUtc"));
        }

        if (_showAnchor is { } anchor && _script is not null)
        {
            _showAnchor = null;
            await _script.InvokeVoidAsync("show", anchor);
        }
    }

    /// <summary>Ctrl+Z, from the script.</summary>
    [JSInvokable]
    public void Undo() => _open?.Editor.Undo();

    /// <summary>Ctrl+Shift+Z, from the script.</summary>
    [JSInvokable]
    public void Redo() => _open?.Editor.Redo();

    public async ValueTask DisposeAsync()
    {
        // What a load still under way opens is closed at its end.
        _gone = true;
        await CloseAsync();
        try
        {
            if (_keys is not null)
            {
                await _keys.InvokeVoidAsync("stop");
                await _keys.DisposeAsync();
            }

            if (_script is not null)
            {
                await _script.DisposeAsync();
            }
        }
        catch (JSDisconnectedException)
        {
            // The browser is gone, and its listeners with it.
        }

        _self?.Dispose();
    }

    private async Task CloseAsync()
    {
        if (_open is not null)
        {
            await CloseAsync(_open);
        }

        if (_against is not null)
        {
            await _against.DisposeAsync();
        }
    }

    /// <summary>
    /// Shuts an option. Edits nobody decided about, because the browser went away during a conflict, are kept as a new
    /// option: they are somebody's work, and nothing of the stored option is touched.
    /// </summary>
    private async Task CloseAsync(OpenOption option)
    {
        await option.DisposeAsync();
        if (_leaving || Stored(option) is null)
        {
            return;
        }

        try
        {
            await Options.KeepAsNew(Who, option.Id, NameOfMine(option), option.Editor.Design);
        }
        catch (RecordNotFoundException)
        {
            // The van was erased meanwhile, and all that was known of it with it.
        }
    }

    private string TimeOf(DateTime utc) => (utc + _clockOffset).ToString("HH:mm:ss", CultureInfo.InvariantCulture);

    private async Task<bool> LoadVanAsync()
    {
        _van = await Vans.Van(Who, VanId);
        if (_van is null)
        {
            return false;
        }

        _clientName = (await Clients.Client(Who, _van.ClientId))?.Name ?? "";
        _book = (await Prices.Load(Who)).Book;
        _options = await Options.OptionsOf(Who, VanId);
        return _options.Count > 0;
    }

    private async Task<bool> OpenAsync(Guid optionId)
    {
        if (_open is { } before)
        {
            _open = null;
            await CloseAsync(before);
        }

        _problem = null;
        _leaving = false;
        _trouble = null;
        try
        {
            if (await Options.Load(Who, optionId) is not { } loaded || loaded.VanId != VanId)
            {
                return false;
            }

            _source = _options.FirstOrDefault(option => option.Id == optionId)?.CopiedFrom is { } from ? await LoadBesideAsync(from) : null;
            _open = Open(loaded, AssessmentDepth.Bands);
            // A result from the cache was there before this page could hear of it.
            Draw();
            Note();
            return true;
        }
        catch (DesignTextException damaged)
        {
            _problem = damaged.Message;
            return false;
        }
    }

    private OpenOption Open(LoadedOption loaded, AssessmentDepth deepest) => new(
        loaded,
        (design, version, label) => SaveAsync(loaded.Id, version, design, label),
        new AssessmentRunner(Assess, deepest, design => Assessor.MethodVersion + DesignJson.Hash(design), Queue, Cache, this, Time, Log),
        Time,
        Log,
        () => _ = InvokeAsync(RefreshAsync));

    private async Task<SaveResult> SaveAsync(Guid optionId, Guid version, Calculations.Vehicle.Design design, string label)
    {
        var result = await Options.Save(Who, optionId, version, design, label);
        if (result is Saved saved && _options.Any(option => option.Id == optionId && option.Choice != OptionChoice.None))
        {
            _ = InvokeAsync(() => ChoiceChangedAsync(saved.ChoiceTakenBack));
        }

        return result;
    }

    /// <summary>After the chosen option was saved: it is another design now, or may not be chosen any more. Nobody awaits it.</summary>
    private async Task ChoiceChangedAsync(bool takenBack)
    {
        try
        {
            if (_gone)
            {
                return;
            }

            _options = await Options.OptionsOf(Who, VanId);
            if (takenBack)
            {
                _trouble = "This option was chosen. A danger stands in it now, so it no longer is.";
            }

            StateHasChanged();
        }
        catch (Exception failed)
        {
            await DispatchExceptionAsync(failed);
        }
    }

    private static Assessment Assess(Calculations.Vehicle.Design design, AssessmentDepth depth, IProgress<double> progress, CancellationToken cancellation) =>
        Assessor.Assess(design, depth, progress, cancellation);

    private async Task OpenComparedAsync()
    {
        if (_against?.Id == CompareId)
        {
            return;
        }

        if (_against is not null)
        {
            await _against.DisposeAsync();
            _against = null;
        }

        if (CompareId is { } other && other != _open!.Id && await LoadBesideAsync(other) is { } loaded && loaded.VanId == VanId)
        {
            _against = Open(loaded, AssessmentDepth.Year);
        }
    }

    /// <summary>An option that only stands beside the open one: damage of it must not shut this one.</summary>
    private async Task<LoadedOption?> LoadBesideAsync(Guid optionId)
    {
        try
        {
            return await Options.Load(Who, optionId);
        }
        catch (DesignTextException damaged)
        {
            _trouble = "The option to compare with cannot be read: " + damaged.Message;
            return null;
        }
    }

    /// <summary>Nobody awaits this, so what goes wrong is handed to the page's boundary instead of being lost.</summary>
    private async Task RefreshAsync()
    {
        try
        {
            Refresh();
        }
        catch (Exception failed)
        {
            await DispatchExceptionAsync(failed);
        }
    }

    /// <summary>After an edit, a result or a save.</summary>
    private void Refresh()
    {
        if (_open is null)
        {
            return;
        }

        Draw();
        if (Stored(_open) is { } stored)
        {
            _conflict = DifferenceWords.Of(stored, _open.Editor.Design, _units);
        }

        if (_leaveTo is { } target && _open.Autosave.State is AllSaved)
        {
            _leaveTo = null;
            Navigation.NavigateTo(target);
        }

        Note();
        StateHasChanged();
    }

    private void Draw()
    {
        // The year brings no other drawing of the night than the night did.
        if (_open?.Runner.Latest is { } latest && !ReferenceEquals(latest.Design, _drawn))
        {
            _drawn = latest.Design;
            _side = VanDrawing.Side(latest.Design, latest.Assessment, _units);
            _plan = VanDrawing.Plan(latest.Design, latest.Assessment, _units);
            _legend = [.. _side.Legend.Union(_plan.Legend)];
        }
    }

    /// <summary>What the option changes against the one it was copied from.</summary>
    private void Note()
    {
        if (_source is null || _open is null)
        {
            _note = null;
            return;
        }

        var differences = DifferenceWords.Of(_source.Design, _open.Editor.Design, _units);
        var shown = string.Join("; ", differences.Take(NotesShown).Select(d => $"{d.Field} {d.First} → {d.Second}"));
        _note = differences.Count switch
        {
            0 => $"Copied from {_source.Letter}; nothing differs yet.",
            <= NotesShown => $"Against {_source.Letter}: {shown}.",
            _ => string.Create(CultureInfo.InvariantCulture, $"Against {_source.Letter}: {shown}; and {differences.Count - NotesShown} more."),
        };
    }

    private void ShowPart(string partId)
    {
        if (_inputs?.Show(partId) is { } anchor)
        {
            _section = "inputs";
            _showAnchor = anchor;
        }
    }

    private async Task ShowPartAsync(ResultPart part)
    {
        _part = part;
        if (_script is not null)
        {
            await _script.InvokeVoidAsync("toTop", ".pane-results");
            await _script.InvokeVoidAsync("remember", PartMemory, ResultParts.Name(part));
        }
    }

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
            await AddOptionAsync(from, $"{from.Letter} with remedy: {finding.Title}", remedied);
        }
    }

    private async Task AddOptionAsync(OpenOption from, string name, Calculations.Vehicle.Design design)
    {
        await WorkAsync(async () =>
        {
            await from.Autosave.FlushAsync();
            var copy = await Options.KeepAsNew(Who, from.Id, name, design);
            _options = await Options.OptionsOf(Who, VanId);
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

        var version = _open!.Autosave.Version;
        await Dialogs.ShowAsync<PublishDialog>(
            "Publish",
            new DialogParameters<PublishDialog>
            {
                { d => d.ClientName, _clientName },
                { d => d.VanName, _van!.Name },
                { d => d.Letter, _open.Letter },
                { d => d.Name, _open.Name },
                { d => d.AllFindings, result.Assessment.Findings },
                { d => d.Others, _options.Where(option => option.Id != _open.Id && !IsOwnIdea(option)).ToList() },
                { d => d.Own, _options.FirstOrDefault(option => option.Id != _open.Id && IsOwnIdea(option)) },
                { d => d.Preview, () => Press.PreviewAsync(Who, new(_open.Id, version, result.Design, result.Assessment)) },
                { d => d.SourceId, CompareId ?? _source?.Id },
                { d => d.PlanAddress, Navigation.BaseUri + "plan/" },
                { d => d.Publish, choice => PublishAsync(result, version, choice) },
                { d => d.Withdraw, linkId => Plans.RevokeLink(Who, linkId) },
            },
            new DialogOptions { CloseOnEscapeKey = true, BackdropClick = false, MaxWidth = MaxWidth.Small, FullWidth = true });
    }

    private async Task<PublishedPlan> PublishAsync(AssessedDesign result, Guid version, PublishChoice choice)
    {
        // The bands came while the reason was typed, or nearly so. A plan without them is one too.
        await _open!.Runner.AnsweredTo(AssessmentDepth.Bands);
        result = _open.Runner.LatestBands is { } bands && bands.Revision == result.Revision ? bands : result;
        var other = choice.OtherId is { } otherId ? await AssessOtherAsync(otherId) : null;
        var own = _options.FirstOrDefault(option => option.Id != _open.Id && IsOwnIdea(option)) is { } idea ? await AssessOtherAsync(idea.Id) : null;
        return await Press.PublishAsync(Who, new(
            _open.Id,
            version,
            result.Design,
            result.Assessment,
            other is null ? null : PlanPress.Beside(result.Design, other.Option, other.Assessment, _units),
            choice.DangerReason,
            choice.LinkLife,
            own));
    }

    private static bool IsOwnIdea(OptionLine option) => option.Letter == PlanPress.OwnLetter;

    private async Task<AssessedOption> AssessOtherAsync(Guid optionId)
    {
        LoadedOption other;
        try
        {
            other = await Options.Load(Who, optionId) ?? throw new PublishRefusedException("The option to compare with is gone.");
        }
        catch (DesignTextException damaged)
        {
            throw new PublishRefusedException("The option to compare with cannot be read: " + damaged.Message);
        }

        try
        {
            var assessment = await Queue.RunAsync(
                this, Urgency.Soon, cancellation => Assessor.Assess(other.Design, AssessmentDepth.Year, cancellation: cancellation), CancellationToken.None);
            return new AssessedOption(other, assessment);
        }
        catch (Exception failed) when (failed is CalculationFailedException or ArgumentException)
        {
            throw new PublishRefusedException($"Option {other.Letter} cannot be calculated, so it cannot be compared with: {failed.Message}");
        }
    }

    private async Task<string?> AskNameAsync(string title, string hint, string action, string start)
    {
        // Another key is another menu, a shut one.
        _menu++;
        var dialog = await Dialogs.ShowAsync<NameDialog>(
            title,
            new DialogParameters<NameDialog> { { d => d.Title, title }, { d => d.Hint, hint }, { d => d.Action, action }, { d => d.Start, start } },
            new DialogOptions { CloseOnEscapeKey = true, MaxWidth = MaxWidth.ExtraSmall, FullWidth = true });
        var answer = await dialog.Result;
        return answer is { Canceled: false, Data: string name } ? name : null;
    }

    /// <summary>Runs a command of the records; what it refuses is said on the page.</summary>
    private async Task WorkAsync(Func<Task> command)
    {
        _busy = true;
        _trouble = null;
        try
        {
            await command();
        }
        catch (InvalidInputException refused)
        {
            _trouble = string.Join(" ", refused.Errors.Select(error => error.Message));
        }
        catch (OptionInDangerException refused)
        {
            _trouble = refused.Message + " Change the option, or try a remedy on a copy and choose that.";
        }
        catch (Exception failed) when (failed is CalculationFailedException or ArgumentException)
        {
            _trouble = "This could not be worked out: " + failed.Message;
        }
        catch (Exception failed) when (failed is RecordChangedException or RecordNotFoundException)
        {
            _trouble = failed.Message + " Load the page again to see how it stands.";
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
