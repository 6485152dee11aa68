using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;

namespace ConsultDesk.Web.Workspace.Board;

/// <summary>The drawings of the van as an input: openings are added, moved, sized, opened and turned on them.</summary>
public sealed partial class DrawingBoard
{
    // One undo step from the moment something is taken hold of until it is let go.
    private const string Gesture = "drawing";
    private const double KeyStepM = 0.01;

    private ElementReference _board;
    private IJSObjectReference? _script;
    private IJSObjectReference? _listener;
    private DotNetObjectReference<DrawingBoard>? _self;
    private string? _chosen;
    private string? _reason;
    private Design? _heldFrom;
    private int _adding;
    private bool _still;
    private (Figure? Of, HashSet<string> Ids) _seenFromTheSide = (null, []);

    [Inject]
    private IJSRuntime Scripts { get; set; } = default!;

    [CascadingParameter]
    public required OptionEditor Editor { get; set; }

    [CascadingParameter]
    public required DisplayUnits Units { get; set; }

    /// <summary>The drawings of the last result.</summary>
    [Parameter, EditorRequired]
    public required VanDrawings Drawings { get; set; }

    /// <summary>The van as it stands in the editor.</summary>
    [Parameter, EditorRequired]
    public required Design Design { get; set; }

    /// <summary>Address of the page that plays the night of this option.</summary>
    [Parameter]
    public string? NightAddress { get; set; }

    /// <summary>Called with a part whose inputs are asked for.</summary>
    [Parameter]
    public EventCallback<string> OnSubject { get; set; }

    private Opening? Chosen => _chosen is { } id ? Openings.Find(Design, id) : null;

    private BoardState State => new(Design, Chosen?.Id);

    private bool Shut => Editor.ClosedBecause is not null;

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (firstRender)
        {
            _script = await Scripts.InvokeAsync<IJSObjectReference>("import", "/" + Assets["scripts/board.js"]);
            _self = DotNetObjectReference.Create(this);
            _listener = await _script.InvokeAsync<IJSObjectReference>("listen", _board, _self);
        }
    }

    /// <summary>An opening was pressed or focused: it is the one the bar sets.</summary>
    [JSInvokable]
    public void Choose(string id)
    {
        if (_chosen != id)
        {
            (_chosen, _reason) = (id, null);
            StateHasChanged();
        }
    }

    /// <summary>A part of a drawing was pressed: its inputs are asked for.</summary>
    [JSInvokable]
    public Task Ask(string id) => OnSubject.InvokeAsync(id);

    /// <summary>An opening is drawn to a point of a view, m. Where it cannot lie it slides along what stands in its way, or stays.</summary>
    /// <returns>Why it could not come to lie there; null where it did.</returns>
    [JSInvokable]
    public string? Drag(string view, string id, double alongM, double upM, bool isGrip)
    {
        var on = Enum.Parse<BoardView>(view);
        if (!double.IsFinite(alongM) || !double.IsFinite(upM) || Openings.Find(Editor.Design, id) is not { } opening)
        {
            return null;
        }

        _heldFrom ??= Editor.Design;
        Func<Design, double?, double?, Design> to = isGrip
            ? (design, along, up) => DrawnOpening.SizedTo(design, id, on, along, up)
            : (design, along, up) => DrawnOpening.MovedTo(design, id, on, along, up);
        var label = isGrip ? $"{opening.Name} size" : $"{opening.Name} moved";
        _reason = Apply(label, design => to(design, alongM, upM), Gesture);
        if (_reason is not null && Apply(label, design => to(design, alongM, null), Gesture) is not null)
        {
            Apply(label, design => to(design, null, upM), Gesture);
        }

        StateHasChanged();
        return _reason;
    }

    /// <summary>It is let go.</summary>
    /// <param name="gaveUp">The way was given up: it goes back to where it was taken from.</param>
    [JSInvokable]
    public void Drop(bool gaveUp)
    {
        Editor.EndGesture();
        if (gaveUp && _heldFrom is { } before && !ReferenceEquals(before, Editor.Design))
        {
            Editor.Undo();
            _reason = null;
        }

        _heldFrom = null;
        StateHasChanged();
    }

    /// <summary>A key was pressed on an opening.</summary>
    /// <param name="view">The view it was pressed in.</param>
    /// <param name="id">The opening.</param>
    /// <param name="key">Name of the key.</param>
    /// <param name="isFar">Ten steps at once.</param>
    [JSInvokable]
    public void Press(string view, string id, string key, bool isFar)
    {
        var on = Enum.Parse<BoardView>(view);
        if (Openings.Find(Editor.Design, id) is not { } opening || DrawnOpening.Of(Editor.Design, opening, on) is not { } drawn)
        {
            return;
        }

        _chosen = id;
        var step = isFar ? 10 * KeyStepM : KeyStepM;
        switch (key)
        {
            case "ArrowLeft":
                Move(-step, null);
                break;
            case "ArrowRight":
                Move(step, null);
                break;
            case "ArrowUp":
                Move(null, step);
                break;
            case "ArrowDown":
                Move(null, -step);
                break;
            case "+" or "=":
                Size(step);
                break;
            case "-":
                Size(-step);
                break;
            case "o" or "O":
                Change($"{opening.Name} position", design => Openings.SetPosition(design, id, opening.Position == Position.Full ? Position.Shut : opening.Position + 1));
                break;
            case "r" or "R" when opening.Fan is not null:
                Turn(opening);
                break;
            case "Delete":
                TakeOut(opening);
                break;
            default:
                break;
        }

        StateHasChanged();

        // Steps of the keys follow each other as one gesture, as those of a slider do.
        void Move(double? along, double? up) =>
            _reason = Apply($"{opening.Name} moved", design => DrawnOpening.MovedTo(design, id, on, drawn.AlongM + along, drawn.UpM + up), $"{Gesture}-{id}");

        void Size(double by) => _reason = Apply(
            $"{opening.Name} size",
            design => DrawnOpening.SizedTo(design, id, on, drawn.AlongM + (drawn.LengthM / 2) + by, drawn.UpM - (drawn.HeightM / 2) - by),
            $"{Gesture}-{id}");
    }

    /// <summary>The key was let go, or the opening left.</summary>
    [JSInvokable]
    public void Rest() => Editor.EndGesture();

    private void ShadeBy(ZoneQuantity? quantity) => Drawings.ShadeBy(quantity);

    // What both drawings show is a stop of the keyboard in one of them.
    private bool OnlyInPlan(string id)
    {
        if (!ReferenceEquals(_seenFromTheSide.Of, Drawings.Side))
        {
            _seenFromTheSide = (Drawings.Side, [.. BoardSpots.Of(Drawings.Side!).Select(spot => spot.Subject)]);
        }

        return !_seenFromTheSide.Ids.Contains(id);
    }

    public async ValueTask DisposeAsync()
    {
        try
        {
            if (_listener is not null)
            {
                await _listener.InvokeVoidAsync("stop");
                await _listener.DisposeAsync();
            }

            if (_script is not null)
            {
                await _script.DisposeAsync();
            }
        }
        catch (Exception gone) when (gone is JSDisconnectedException or OperationCanceledException)
        {
            // The browser is gone, and its listeners with it; a call it was in the middle of is cancelled.
        }

        _self?.Dispose();
    }

    private void Add(string text, Func<Design, Opening> make)
    {
        _adding++;
        string? added = null;
        _reason = Apply($"{text.ToLowerInvariant()} added", design =>
        {
            var opening = make(design);
            if (NewOpenings.Place(design, opening) is not { } placed)
            {
                return design;
            }

            added = opening.Id;
            return placed;
        });
        _reason ??= added is null ? $"There is no free place for a {text.ToLowerInvariant()}. Make room by moving or taking out another opening." : null;
        _chosen = added ?? _chosen;
    }

    private void Open(Opening opening, Position position) => Change($"{opening.Name} position", design => Openings.SetPosition(design, opening.Id, position));

    private void Turn(Opening opening) => Change("fan direction", design => Openings.Change(design, opening.Id, o => o with
    {
        Fan = o.Fan! with { Direction = o.Fan.Direction == FanDirection.Exhaust ? FanDirection.Intake : FanDirection.Exhaust },
    }));

    private void Speed(Opening opening, int tenths) => Change("fan speed", design => Openings.Change(design, opening.Id, o => o with
    {
        Fan = o.Fan! with { Speed = Math.Round(Math.Clamp((o.Fan.Speed * 10) + tenths, 0, 10)) / 10 },
    }));

    private void TakeOut(Opening opening) => Change($"{opening.Name} taken out", design => Openings.Remove(design, opening.Id));

    private void Change(string label, Func<Design, Design> change) => _reason = Apply(label, change);

    private string? Apply(string label, Func<Design, Design> change, string? gesture = null) =>
        Editor.Apply(label, change, gesture) is { IsEmpty: false } refused ? Words.Of(refused[0], Units) : null;
}
