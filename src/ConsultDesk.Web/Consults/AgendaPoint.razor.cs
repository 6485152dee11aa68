using ConsultDesk.Calculations.Findings;
using ConsultDesk.Records;
using ConsultDesk.Web.Shell;
using ConsultDesk.Web.Workspace;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Routing;

namespace ConsultDesk.Web.Consults;

/// <summary>One point of a van's agenda.</summary>
public sealed partial class AgendaPoint(DecisionBook book, ThisBrowser browser)
{
    private const int Shown = 2;

    private readonly string _id = Ids.Next();
    private DecisionPoint? _loaded;
    private DecisionState _state;
    private string _what = "";
    private string _why = "";
    private string _who = "";
    private DateTime? _savedAt;
    private DecisionConflict? _conflict;
    private IReadOnlyList<FieldError> _errors = [];
    private string? _reason;
    private Task? _saving;
    private bool _open;

    /// <summary>The van.</summary>
    [Parameter, EditorRequired]
    public Guid VanId { get; set; }

    /// <summary>The point as it was loaded.</summary>
    [Parameter, EditorRequired]
    public required DecisionPoint Point { get; set; }

    /// <summary>Findings of the current assessment that belong to the point, the gravest first.</summary>
    [Parameter]
    public IReadOnlyList<Finding> Findings { get; set; } = [];

    /// <summary>Opens a group of inputs beside the agenda; without it the buttons lead to the workspace.</summary>
    [Parameter]
    public EventCallback<string> OnInputs { get; set; }

    /// <summary>After the point was stored.</summary>
    [Parameter]
    public EventCallback<DecisionPoint> OnSaved { get; set; }

    [CascadingParameter]
    private SignedIn Who { get; set; } = default!;

    private ThisBrowser Browser => browser;

    private DecisionInput Input => new(_state, _what, _why, _who);

    private bool Unsaved => _loaded is { } point && (_state != point.State || _what != point.What || _why != point.Why || _who != point.Who);

    private string SaveWord => _conflict is not null || _reason is not null || _errors.Count > 0 ? "not-saved" : Unsaved ? "saving" : "saved";

    private string SaveText => SaveWord switch
    {
        "not-saved" => _reason is null ? "Not saved yet" : "Not saved: " + _reason,
        "saving" => "Saving…",
        _ => _savedAt is { } at ? "Saved " + browser.TimeOf(at) : "",
    };

    protected override void OnParametersSet()
    {
        // What is being typed is not replaced by a list that was read again.
        if (!ReferenceEquals(_loaded, Point) && !Unsaved && _conflict is null)
        {
            Show(Point);
        }
    }

    private static string Said(DecisionPoint point) =>
        string.Join("; ", new[] { point.What, point.Why, point.Who }.Where(text => text.Length > 0));

    private void Show(DecisionPoint point) =>
        (_loaded, _state, _what, _why, _who) = (point, point.State, point.What, point.Why, point.Who);

    private Task SetAsync(DecisionState state)
    {
        _state = state;
        return SaveAsync();
    }

    private Task ChangeAsync(Action<string> take, ChangeEventArgs change)
    {
        take(change.Value?.ToString()?.Trim() ?? "");
        return SaveAsync();
    }

    private async Task SaveAsync()
    {
        while (_saving is { IsCompleted: false } running)
        {
            await running;
        }

        _saving = SaveOnceAsync();
        await _saving;
    }

    private async Task SaveOnceAsync()
    {
        if (!Unsaved || _conflict is not null)
        {
            _errors = [];
            return;
        }

        (_errors, _reason) = ([], null);
        try
        {
            switch (await book.Save(Who, VanId, Point.Topic, _loaded!.Version, Input))
            {
                case DecisionSaved saved:
                    // Another field may have been left while this was stored.
                    (_loaded, _savedAt) = (saved.Point, saved.Point.ChangedAt);
                    await OnSaved.InvokeAsync(saved.Point);
                    break;
                case DecisionConflict told:
                    _conflict = told;
                    break;
            }
        }
        catch (InvalidInputException refused)
        {
            _errors = refused.Errors;
        }
        catch (RecordNotFoundException gone)
        {
            _reason = gone.Message;
        }
    }

    private void TakeTheirs()
    {
        Show(_conflict!.Theirs);
        (_conflict, _errors) = (null, []);
    }

    private Task WriteOverAsync()
    {
        _loaded = _conflict!.Theirs;
        _conflict = null;
        return SaveAsync();
    }

    private async Task BeforeLeavingAsync(LocationChangingContext context)
    {
        if (!Unsaved)
        {
            return;
        }

        await SaveAsync();
        if (Unsaved)
        {
            context.PreventNavigation();
            _open = true;
            StateHasChanged();
        }
    }
}
