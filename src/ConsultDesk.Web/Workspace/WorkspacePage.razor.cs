using System.Globalization;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Records;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Consultancy;
using ConsultDesk.Web.Plans;
using ConsultDesk.Web.Workspace.Results;
using ConsultDesk.Web.Workspace.Situations;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using MudBlazor;

namespace ConsultDesk.Web.Workspace;

/// <summary>The consultant's live workspace on one option of a van: inputs, drawing and results side by side.</summary>
public sealed partial class WorkspacePage : IAsyncDisposable
{
    private static readonly TimeSpan WaitForNight = TimeSpan.FromMilliseconds(25);

    private const string PartMemory = "desk-results-part";

    private static readonly (string Key, string Text)[] Sections = [("agenda", "Agenda"), ("inputs", "Inputs"), ("situation", "Situation"), ("drawing", "Drawing"), ("results", "Results")];

    private DisplayUnits _units = DisplayUnits.Metric;
    private PriceBook _book = PriceBooks.Default;
    private Van? _van;
    private string _clientName = "";
    private IReadOnlyList<OptionLine> _options = [];
    private OpenOption? _open;
    private LoadedPrices? _prices;
    private WishesKeeper? _wishes;
    private CostBasis? _basis;
    private Searches? _searches;
    private WeatherShelf? _weather;
    private List<OpenOption> _against = [];
    private LoadedOption? _source;
    private IReadOnlyList<InputDifference> _conflict = [];
    private InputsPanel? _inputs;
    private readonly VanDrawings _drawings = new();
    private readonly InputGroups _groups = new();
    private DeclinedKeeper? _declined;
    private SituationRunner? _situations;
    private IReadOnlyList<OwnSituation> _own = [];
    private IReadOnlyList<SituationChoice> _choices = [];
    private AssessmentRunner? _before;
    private Guid? _beforeOf;
    private AssessmentRunner? _besideRunner;
    private OptionLine? _beside;
    private YearBeside? _yearBeside;
    private string _section = "inputs";
    private string _left = "inputs";
    private bool _agendaAsked;
    private string? _asked;
    private string? _inputsToShow;
    private ResultPart _part;
    private string? _problem;
    private string? _trouble;
    private string? _note;
    private (LoadedOption? Source, Calculations.Vehicle.Design? Design, DisplayUnits? Units) _notedOf;
    private string? _leaveTo;
    private string? _showAnchor;
    private int _menu;
    private bool _leaving;
    private bool _busy;
    private bool _waiting;
    private bool _loading;
    private bool _loadAgain;
    private bool _gone;
    private int _waitsForNight;
    private WorkspaceScript? _script;

    [Inject]
    private AuditTrail Audit { get; set; } = default!;

    [Inject]
    private VanBook Vans { get; set; } = default!;

    [Inject]
    private ClientBook Clients { get; set; } = default!;

    [Inject]
    private VanOptions Options { get; set; } = default!;

    [Inject]
    private DeclinedAdviceBook Declined { get; set; } = default!;

    [Inject]
    private OwnSituations OwnSituations { get; set; } = default!;

    [Inject]
    private FirmPrices Prices { get; set; } = default!;

    [Inject]
    private Records.Plans Plans { get; set; } = default!;

    [Inject]
    private WeatherFiles WeatherFiles { get; set; } = default!;

    [Inject]
    private WishesBook WishesBook { get; set; } = default!;

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

    [CascadingParameter]
    private DisplayUnits UnitsShown { get; set; } = default!;

    [Inject]
    private UnitsInUse UnitsInUse { get; set; } = default!;

    /// <summary>The van.</summary>
    [Parameter]
    public Guid VanId { get; set; }

    /// <summary>The option; the one that changed last when the address names none.</summary>
    [Parameter]
    public Guid? OptionId { get; set; }

    /// <summary>Ids of the options it is compared with, with commas between them, or null.</summary>
    [SupplyParameterFromQuery(Name = "compare")]
    private string? Compare { get; set; }

    /// <summary>Letter of the option to open, when the address names none by its id.</summary>
    [SupplyParameterFromQuery(Name = "option")]
    private string? Letter { get; set; }

    /// <summary>Anchor of the group of inputs to open.</summary>
    [SupplyParameterFromQuery(Name = "inputs")]
    private string? InputsAnchor { get; set; }

    /// <summary>"agenda" opens the agenda in place of the inputs.</summary>
    [SupplyParameterFromQuery(Name = "panel")]
    private string? Panel { get; set; }

    private AssessedDesign? Result => _open?.Runner.Latest;

    /// <summary>What the drawing shows: the design night, or the situation worked out last in its place.</summary>
    private AssessedDesign? Drawn => Result is { } night && _situations?.Latest is { } answer
        ? new AssessedDesign(answer.Revision, answer.Standing, answer.State.InPlaceOfNight(night.Assessment))
        : Result;

    private bool ShowsBefore => _source is not null && _open is not null && _beforeOf == _open.Id;

    private string Reason => _open is null ? "" : ReasonOf(_open.Id);

    private string ReasonOf(Guid optionId) => _options.FirstOrDefault(option => option.Id == optionId)?.Reason ?? "";

    private SituationChoice? ShownChoice => _choices.FirstOrDefault(choice => choice.Key == _situations?.Key);

    private string LeftName => _left switch
    {
        "agenda" => "Agenda",
        "situation" => "Situation",
        _ => "Inputs",
    };

    private string Heard => (_situations, _open, Result) switch
    {
        ({ Latest: { } answer, IsOld: false }, _, _) => SituationWords.Spoken(answer, _units),
        (_, { Runner.IsOld: false }, { } result) => SpokenResult.Of(result, _units),
        _ => "",
    };

    private string? OldWord => _situations is { Latest: not null } ? (_situations.IsOld ? "old" : null) : _open is { Runner.IsOld: true } ? "old" : null;

    private static string ToolTitle(string keys, string? label) => label is null ? keys : $"{keys}: {label}";

    private bool Unsaved => _open is not null && _open.Autosave.State is not AllSaved && !_leaving;

    private CostBasis? Basis => _prices is null || _wishes is null
        ? null
        : _basis = CostBasis.Of(_prices, Firm.Currency, _wishes.Wishes, Web.Prices.FirmTax.Of(Firm), _basis);

    private IReadOnlyList<Guid> CompareIds => CompareChoice.Read(Compare, _open?.Id, _options);

    private bool Comparing => CompareIds.Count > 0;

    private bool IsKept => _open!.Editor.ClosedBecause is not null;

    // The client's own idea, copied before, and open all the same.
    private bool IsReopened => !IsKept && _open!.Letter == VanOptions.FirstLetter && _options.Any(option => option.CopiedFrom == _open.Id);

    protected override async Task OnParametersSetAsync()
    {
        if (!ReferenceEquals(_units, UnitsShown))
        {
            _units = UnitsShown;
            Show();
        }

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
        _trouble = null;
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
        // Once for each address, so that what was opened by hand since stays open.
        if (_asked != Navigation.Uri)
        {
            _asked = Navigation.Uri;
            if (Panel == "agenda")
            {
                ShowSection("agenda");
            }

            _inputsToShow = InputsAnchor;
        }

        return true;
    }

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (firstRender)
        {
            _script = await WorkspaceScript.LoadAsync(Scripts, "/" + Assets["scripts/workspace.js"], this);
            // Somebody who was quicker than the script has chosen already.
            var remembered = ResultParts.Named(await _script.RecallAsync(PartMemory));
            _part = _part == default ? remembered : _part;
        }

        if (_inputsToShow is { } wanted && _inputs is not null)
        {
            _inputsToShow = null;
            ShowInputs(wanted);
            StateHasChanged();
        }

        if (_showAnchor is { } anchor && _script is not null)
        {
            _showAnchor = null;
            await _script.ShowAsync(anchor);
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
        UnitsInUse.Leave();
        _searches?.Dispose();
        _situations?.Dispose();
        _before?.Dispose();
        _besideRunner?.Dispose();
        await CloseAsync();
        if (_script is not null)
        {
            await _script.DisposeAsync();
        }
    }

    private async Task CloseAsync()
    {
        if (_open is not null)
        {
            await CloseAsync(_open);
        }

        foreach (var other in _against)
        {
            await other.DisposeAsync();
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

    private string TimeOf(DateTime utc) => (utc + (_script?.ClockOffset ?? TimeSpan.Zero)).ToString("HH:mm:ss", CultureInfo.InvariantCulture);

    private async Task<bool> LoadVanAsync()
    {
        _van = await Vans.Van(Who, VanId);
        if (_van is null)
        {
            return false;
        }

        await Audit.Seen(Who, "van", VanId);
        _clientName = (await Clients.Client(Who, _van.ClientId))?.Name ?? "";
        await UnitsInUse.OpenAsync(_van.ClientId, _clientName);
        var van = VanId;
        _weather = new WeatherShelf(await WeatherFiles.Hours(Who, van), (name, hours) => WeatherFiles.Keep(Who, van, name, hours));
        _options = await Options.OptionsOf(Who, VanId);
        _own = await OwnSituations.All(Who);
        await LoadWishesAsync();
        _book = _prices?.Book ?? PriceBooks.Default;
        _declined = new DeclinedKeeper(Declined, Who, VanId, DeclinedChanged);
        await _declined.ReadAsync();
        return _options.Count > 0;
    }

    /// <summary>Prices and wishes stand beside the option: damage of them must not shut it.</summary>
    private async Task LoadWishesAsync()
    {
        var van = VanId;
        (_prices, _wishes) = (null, null);
        try
        {
            _prices = await Prices.Load(Who);
            _wishes = new WishesKeeper(
                await WishesBook.Load(Who, van),
                (version, wishes) => WishesBook.Save(Who, van, version, wishes),
                () => WishesBook.Load(Who, van),
                () => _ = InvokeAsync(StateHasChanged));
        }
        catch (Exception damaged) when (damaged is PriceTableException or WishesTextException)
        {
            _trouble = damaged.Message;
        }
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
        _searches?.Dispose();
        _searches = new Searches(Queue, this, Log, () => _ = InvokeAsync(StateHasChanged));
        // Another option is seen in the same weather and use: that is what it is compared by.
        _situations ??= new SituationRunner(Queue, this, Time, Log, RefreshSoon);
        try
        {
            if (await Options.Load(Who, optionId) is not { } loaded || loaded.VanId != VanId)
            {
                return false;
            }

            _source = _options.FirstOrDefault(option => option.Id == optionId)?.CopiedFrom is { } from ? await LoadBesideAsync(from) : null;
            _before?.Dispose();
            _before = null;
            LayBeside(null, null);
            _open = Open(loaded, AssessmentDepth.Bands);
            RunBefore();
            // A result from the cache was there before this page could hear of it.
            Show();
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
        NewRunner(deepest),
        Time,
        Log,
        () => _ = InvokeAsync(RefreshAsync));

    private AssessmentRunner NewRunner(AssessmentDepth deepest) =>
        new(Assess, deepest, design => Assessor.MethodVersion + DesignJson.Hash(design) + _weather!.KeyOf(design), Queue, Cache, this, Time, Log)
        {
            Behind = new SampledInTurns(Queue, this, () => _weather!.Hours).OfAsync,
        };

    /// <summary>An option that only stands beside: assessed to its year, never edited here.</summary>
    private AssessmentRunner RunBeside(LoadedOption option)
    {
        var runner = NewRunner(AssessmentDepth.Year);
        runner.Changed += () => _ = InvokeAsync(RefreshAsync);
        _ = runner.RequestAsync(option.Design, 0);
        return runner;
    }

    private void RunBefore()
    {
        if (ShowsBefore)
        {
            _before ??= RunBeside(_source!);
        }
    }

    private void ToggleBefore()
    {
        _beforeOf = ShowsBefore ? null : _open!.Id;
        // On a small screen it stands where the drawing does.
        _section = ShowsBefore ? "drawing" : _section;
        RunBefore();
    }

    /// <summary>Lays the year of another option over that of the open one.</summary>
    private async Task ChooseBesideAsync(Guid? optionId)
    {
        var line = _options.FirstOrDefault(option => option.Id == optionId && option.Id != _open?.Id);
        LayBeside(line, line is null ? null : await LoadBesideAsync(line.Id));
        Refresh();
    }

    private void LayBeside(OptionLine? line, LoadedOption? loaded)
    {
        _besideRunner?.Dispose();
        (_beside, _besideRunner) = (loaded is null ? null : line, loaded is null ? null : RunBeside(loaded));
    }

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

    private Assessment Assess(Calculations.Vehicle.Design design, AssessmentDepth depth, IProgress<double> progress, CancellationToken cancellation) =>
        Assessor.Assess(design, _weather!.Hours, depth, progress, cancellation);

    private async Task OpenComparedAsync()
    {
        var wanted = CompareIds;
        if (_against.Select(other => other.Id).SequenceEqual(wanted))
        {
            return;
        }

        var before = _against;
        var now = new List<OpenOption>();
        foreach (var id in wanted)
        {
            if (before.Find(other => other.Id == id) is { } open)
            {
                now.Add(open);
            }
            else if (await LoadBesideAsync(id) is { } loaded && loaded.VanId == VanId)
            {
                now.Add(Open(loaded, AssessmentDepth.Year));
            }
        }

        _against = now;
        foreach (var other in before.Except(now))
        {
            await other.DisposeAsync();
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

    /// <summary>
    /// After an edit, a result or a save, on any thread. While the night of an edit is being calculated the page waits a moment for it: drawn once
    /// with the new numbers it is faster than drawn twice, and a night that takes longer is waited for with the old numbers marked as old.
    /// </summary>
    private void RefreshSoon()
    {
        if (_open?.Runner is not { Pending: AssessmentDepth.Night, Latest: not null })
        {
            _ = InvokeAsync(RefreshAsync);
        }
        else if (Interlocked.Exchange(ref _waitsForNight, 1) == 0)
        {
            _ = RefreshLateAsync();
        }
    }

    private async Task RefreshLateAsync()
    {
        await Task.Delay(WaitForNight, Time);
        Interlocked.Exchange(ref _waitsForNight, 0);
        if (!_gone && _open?.Runner.Pending is AssessmentDepth.Night)
        {
            await InvokeAsync(RefreshAsync);
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

        Show();
        if (Stored(_open) is { } stored)
        {
            _conflict = DifferenceWords.Of(stored, _open.Editor.Design, _units);
        }

        if (_leaveTo is { } target && _open.Autosave.State is AllSaved)
        {
            _leaveTo = null;
            Navigation.NavigateTo(target);
        }

        StateHasChanged();
    }

    private void Show()
    {
        FollowSituation();
        _yearBeside = _open is null ? null : new YearBeside(
            [.. _options.Where(option => option.Id != _open.Id)], _beside, _besideRunner?.LatestYear, _besideRunner?.Failure?.Message, ChooseBesideAsync);
        if (Drawn is { } drawn)
        {
            _drawings.Show(drawn, _units, _situations?.Latest?.State);
        }

        Note();
    }

    /// <summary>Says what the option changes, unless that is what stands there: two designs are compared member by member.</summary>
    private void Note()
    {
        if (_source is null || _open is null)
        {
            (_note, _notedOf) = (null, default);
        }
        else if (!ReferenceEquals(_notedOf.Source, _source) || !ReferenceEquals(_notedOf.Design, _open.Editor.Design) || !ReferenceEquals(_notedOf.Units, _units))
        {
            _notedOf = (_source, _open.Editor.Design, _units);
            _note = CopyNote.Of(_source, _open.Editor.Design, _units);
        }
    }

    private void ShowPart(string partId)
    {
        if (_inputs?.Show(partId) is { } anchor)
        {
            ShowSection("inputs");
            _showAnchor = anchor;
        }
    }

    private void ShowSection(string section)
    {
        _section = section;
        if (section is "inputs" or "agenda" or "situation")
        {
            _left = section;
            _agendaAsked |= section == "agenda";
        }
    }

    /// <summary>Opens a group of inputs by its anchor and goes there.</summary>
    private void ShowInputs(string anchor)
    {
        if (_groups.Open(anchor))
        {
            ShowSection("inputs");
            _showAnchor = anchor;
        }
    }

    private void DeclinedChanged(string? trouble)
    {
        _trouble = trouble;
        StateHasChanged();
    }

    private async Task ShowPartAsync(ResultPart part)
    {
        _part = part;
        if (_script is not null)
        {
            await _script.ToTopAsync(".pane-results");
            await _script.RememberAsync(PartMemory, ResultParts.Name(part));
        }
    }
}
