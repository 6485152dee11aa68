using System.Globalization;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using UnitsNet;

namespace ConsultDesk.Web.Workspace;

/// <summary>Edits the layers of one assembly of the design.</summary>
public sealed partial class LayersEditor : IAsyncDisposable
{
    private ElementReference _list;
    private IJSObjectReference? _script;
    private IJSObjectReference? _listener;
    private DotNetObjectReference<LayersEditor>? _self;
    private string? _error;

    [Inject]
    private IJSRuntime Scripts { get; set; } = default!;

    [CascadingParameter]
    public required OptionEditor Editor { get; set; }

    [CascadingParameter]
    public DisplayUnits? Units { get; set; }

    /// <summary>Walls, roof or floor, as the undo button says it.</summary>
    [Parameter, EditorRequired]
    public required string Part { get; set; }

    /// <summary>The assembly in the design.</summary>
    [Parameter, EditorRequired]
    public required LayeredAssembly Assembly { get; set; }

    /// <summary>The assembly of a design.</summary>
    [Parameter, EditorRequired]
    public required Func<Design, LayeredAssembly> Get { get; set; }

    /// <summary>The design with another assembly.</summary>
    [Parameter, EditorRequired]
    public required Func<Design, LayeredAssembly, Design> Put { get; set; }

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (firstRender)
        {
            _script = await Scripts.InvokeAsync<IJSObjectReference>("import", "/" + Assets["scripts/layers.js"]);
            _self = DotNetObjectReference.Create(this);
            _listener = await _script.InvokeAsync<IJSObjectReference>("listen", _list, _self);
        }
    }

    /// <summary>A layer was drawn to the place of another, from the script.</summary>
    [JSInvokable]
    public void MoveTo(int from, int to)
    {
        if (from != to && from >= 0 && to >= 0 && Math.Max(from, to) < Assembly.Layers.Length)
        {
            Move(from, to - from);
            StateHasChanged();
        }
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

    private static string NameOf(Layer layer) => layer switch
    {
        SolidLayer solid => Materials.Find(solid.Material)?.Name ?? solid.Material,
        AirLayer => "Air layer",
        MembraneLayer membrane => membrane.Name,
        _ => throw new ArgumentException($"No field for a {layer.GetType().Name}.", nameof(layer)),
    };

    // What is only planned is no fact of the van.
    private string? Fact(Layer layer, string member) => layer.State == PartState.Fitted ? $"{Part}.layers[{layer.Id}].{member}" : null;

    private Design Set(Design design, string id, Func<Layer, Layer> change)
    {
        var assembly = Get(design);
        return Put(design, assembly with { Layers = [.. assembly.Layers.Select(layer => layer.Id == id ? change(layer) : layer)] });
    }

    private void Apply(string edit, Func<LayeredAssembly, LayeredAssembly> change)
    {
        var refused = Editor.Apply($"{Part} {edit}", design => Put(design, change(Get(design))));
        _error = refused.IsEmpty ? null : Words.Of(refused[0], Units);
    }

    private void Move(int index, int by) => Apply("order", assembly =>
        assembly with { Layers = assembly.Layers.RemoveAt(index).Insert(index + by, assembly.Layers[index]) });

    private void Remove(Layer layer) => Apply("layer removed", assembly =>
        assembly with { Layers = [.. assembly.Layers.Where(other => other.Id != layer.Id)] });

    // New layers come on the room side of the outermost one, which is the van's skin.
    private void Add(string edit, Func<string, Layer> layer) => Apply(edit, assembly =>
        assembly with { Layers = assembly.Layers.Insert(assembly.Layers.Length - 1, layer(NewId(assembly))) });

    private void AddSolid() => Add("layer added", id => new SolidLayer { Id = id, Material = "sheeps-wool", Thickness = Length.FromMillimeters(20) });

    private void AddAir() => Add("air layer added", id => new AirLayer
    {
        Id = id,
        Thickness = Length.FromMillimeters(10),
        Ventilation = AirLayerVentilation.Unventilated,
    });

    // A control layer belongs on the warm side, behind the lining.
    private void AddMembrane() => Apply("vapour control layer added", assembly => assembly with
    {
        Layers = assembly.Layers.Insert(Math.Min(1, assembly.Layers.Length - 1), new MembraneLayer
        {
            Id = NewId(assembly),
            Name = "Vapour control layer",
            VapourEquivalentThickness = Length.FromMeters(10),
        }),
    });

    private static string NewId(LayeredAssembly assembly) => Enumerable.Range(1, assembly.Layers.Length + 1)
        .Select(number => string.Create(CultureInfo.InvariantCulture, $"layer-{number}"))
        .First(id => assembly.Layers.All(layer => layer.Id != id));
}
