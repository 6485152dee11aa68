using ConsultDesk.Calculations;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using Microsoft.AspNetCore.Components;
using UnitsNet;

namespace ConsultDesk.Web.Workspace;

/// <summary>
/// A field for one quantity of the design. What is typed is read a moment later, while the typing goes on; what cannot
/// be read or is refused stays in the field with the reason, and the design keeps its last valid value.
/// </summary>
public sealed partial class QuantityField : IDisposable
{
    /// <summary>Quiet time in the typing before the number is taken.</summary>
    public static readonly TimeSpan Quiet = TimeSpan.FromMilliseconds(300);

    private readonly string _id = Ids.Next();
    private string? _typed;
    private string? _error;

    // The design's value as this field knows it: the page says it anew only a moment after an edit.
    private string? _seen;
    private CancellationTokenSource? _waiting;

    [CascadingParameter]
    public required OptionEditor Editor { get; set; }

    [CascadingParameter]
    public required DisplayUnits Units { get; set; }

    [Inject]
    private TimeProvider Time { get; set; } = default!;

    /// <summary>What the number is.</summary>
    [Parameter, EditorRequired]
    public required string Label { get; set; }

    /// <summary>Kind of number, which gives its unit.</summary>
    [Parameter, EditorRequired]
    public required Measure Measure { get; set; }

    /// <summary>Value in the design; null when it is not known.</summary>
    [Parameter, EditorRequired]
    public required IQuantity? Value { get; set; }

    /// <summary>Values accepted.</summary>
    [Parameter, EditorRequired]
    public required ValidRange Accepted { get; set; }

    /// <summary>The design with another value.</summary>
    [Parameter, EditorRequired]
    public required Func<Design, IQuantity, Design> Change { get; set; }

    /// <summary>The design without the value, for one that need not be known; null when it must be.</summary>
    [Parameter]
    public Func<Design, Design>? Clear { get; set; }

    /// <summary>What the edit is called on the undo button; the label in small letters when not set.</summary>
    [Parameter]
    public string? Edit { get; set; }

    /// <summary>Name of the control, for tests and for the drawing that leads to it.</summary>
    [Parameter]
    public string? Name { get; set; }

    /// <summary>Path of the fact in the stored text, which gives it a mark of its origin; null for what is no fact.</summary>
    [Parameter]
    public string? Path { get; set; }

    /// <summary>It can be read and not changed; the reason stands beside it.</summary>
    [Parameter]
    public bool Locked { get; set; }

    private string? OriginWord => Path is null ? null : Words.Of(FactOrigins.Of(Editor.Design, Path)).ToLowerInvariant();

    private string Shown => _typed ?? _seen ?? Now;

    private string Now => Value is null ? "" : Units.Entry(Measure, Value);

    private IQuantity Minimum => Limit(Accepted.Minimum);

    private IQuantity Maximum => Limit(Accepted.Maximum);

    // "Expected 5 to 200 Pa." without the first word and the full stop: the message and the label say the same range.
    private string Range => Units.Expected(Measure, Minimum, Maximum)["Expected ".Length..^1] + (Clear is null ? "" : "; empty: not known");

    public void Dispose()
    {
        Editor.Collecting -= TakeWaiting;
        TakeWaiting();
    }

    protected override void OnInitialized() => Editor.Collecting += TakeWaiting;

    protected override void OnParametersSet()
    {
        // Changed by undo, a remedy or another field: what was typed no longer stands for the value.
        var now = Now;
        if (_seen is not null && _seen != now)
        {
            _typed = null;
            _error = null;
        }

        _seen = now;
    }

    private async Task TypedAsync(string? text)
    {
        _typed = text ?? "";
        StopWaiting();
        _waiting = new CancellationTokenSource();
        var stopped = _waiting.Token;
        await Task.Delay(Quiet, Time, stopped).ConfigureAwait(ConfigureAwaitOptions.ContinueOnCapturedContext | ConfigureAwaitOptions.SuppressThrowing);
        if (!stopped.IsCancellationRequested)
        {
            TakeWaiting();
        }
    }

    /// <summary>Takes what is typed without waiting for the typing to pause, unless it was taken already.</summary>
    private void TakeWaiting()
    {
        if (_waiting is not null)
        {
            StopWaiting();
            Take();
        }
    }

    private void StopWaiting()
    {
        _waiting?.Cancel();
        _waiting?.Dispose();
        _waiting = null;
    }

    private void Settle()
    {
        StopWaiting();
        Take();
        if (_error is null)
        {
            _typed = null;
        }

        Editor.EndGesture();
    }

    private void Take()
    {
        if (_typed is null)
        {
            return;
        }

        if (Clear is not null && string.IsNullOrWhiteSpace(_typed))
        {
            Put("", Clear);
            return;
        }

        var read = Units.Parse(Measure, _typed, Minimum, Maximum);
        if (!read.IsRead)
        {
            _error = read.Error;
            return;
        }

        var value = read.Value;
        Put(Units.Entry(Measure, value), design => Change(design, value));
    }

    private void Put(string entry, Func<Design, Design> change)
    {
        // The same digits are no edit: a value converted there and back must not creep.
        if (entry == _seen)
        {
            _error = null;
            return;
        }

        var before = _seen;
        // Seen first: the edit may render this field before Apply returns.
        _seen = entry;
        var refused = Editor.Apply(Edit ?? Label.ToLowerInvariant(), design => FactOrigins.Told(design, change(design), Path), gesture: _id);
        _error = refused.IsEmpty ? null : Words.Of(refused[0], Units);
        if (_error is not null)
        {
            _seen = before;
        }
    }

    private IQuantity Limit(double limit) => (Accepted.Unit, Measure) switch
    {
        ("m", _) => Length.FromMeters(limit),
        ("mm", _) => Length.FromMillimeters(limit),
        ("cm²", _) => Area.FromSquareCentimeters(limit),
        ("m²", _) => Area.FromSquareMeters(limit),
        ("m³", _) => Volume.FromCubicMeters(limit),
        ("m³/h", _) => VolumeFlow.FromCubicMetersPerHour(limit),
        ("m³/s", _) => VolumeFlow.FromCubicMetersPerSecond(limit),
        ("Pa", _) => Pressure.FromPascals(limit),
        ("L", _) => Volume.FromLiters(limit),
        ("W", _) => Power.FromWatts(limit),
        ("kW", _) => Power.FromKilowatts(limit),
        ("kWh", _) => Energy.FromKilowattHours(limit),
        ("°C", _) => Temperature.FromDegreesCelsius(limit),
        ("", Measure.Share) => Ratio.FromDecimalFractions(limit),
        ("", _) => Scalar.FromAmount(limit),
        _ => throw new ArgumentException($"No field takes a number in {Accepted.Unit}."),
    };
}
