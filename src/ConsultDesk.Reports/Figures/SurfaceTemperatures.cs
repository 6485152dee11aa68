using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Figures;

/// <summary>Each glass and bare-metal surface's temperature against the dew point of the air before it.</summary>
public static class SurfaceTemperatures
{
    private const double Width = 640;
    private const double Left = 214;
    private const double Right = 86;
    private const double RowHeight = 24;
    private const double Top = 22;

    /// <summary>Draws a row for each surface, the wettest first.</summary>
    public static Figure Of(Design design, Assessment assessment, DisplayUnits units)
    {
        var surfaces = assessment.Surfaces
            .OrderByDescending(surface => surface.CondensedPerNight.Grams)
            .ThenBy(surface => (surface.Temperature - surface.DewPoint).Kelvins)
            .ToImmutableArray();
        var canvas = new FigureCanvas(Width, Top + (surfaces.Length * RowHeight) + 40);
        var axis = new TemperatureAxis(
            surfaces.SelectMany(surface => new[] { surface.Temperature, surface.DewPoint }),
            units,
            Left,
            Width - Right);
        var bottom = Top + (surfaces.Length * RowHeight);
        foreach (var (value, x) in axis.Ticks())
        {
            canvas.Line(Ink.Rule, 0.3, false, new(x, Top - 4), new(x, bottom + 4));
            canvas.Write(x, bottom + 16, value, TextAnchor.Middle, Ink.Muted);
        }

        canvas.Write((Left + Width - Right) / 2, bottom + 32, $"Temperature, {units.Symbol(Measure.Temperature)}", TextAnchor.Middle, Ink.Muted);
        canvas.Write(Width, 12, "In one night", TextAnchor.End, Ink.Muted);
        for (var row = 0; row < surfaces.Length; row++)
        {
            var surface = surfaces[row];
            var y = Top + ((row + 0.5) * RowHeight);
            var wet = surface.Temperature.DegreesCelsius < surface.DewPoint.DegreesCelsius || surface.CondensedPerNight.Grams >= 0.5;
            var (at, dew) = (axis.X(surface.Temperature), axis.X(surface.DewPoint));
            var hint = $"{surface.Name}: {units.Format(surface.Temperature)}, dew point {units.Format(surface.DewPoint)}";
            canvas.Write(Left - 12, y + 3.6, FigureCanvas.Fit(surface.Name, Left - 16), TextAnchor.End, subject: surface.Id);
            canvas.Add(new Polyline([new(at, y), new(dew, y)]) { Stroke = wet ? Ink.Wet : Ink.Dry, StrokeWidth = 2, Dashed = !wet, Subject = surface.Id });
            canvas.Add(new Polyline([new(dew, y - 8), new(dew, y + 8)]) { Stroke = Ink.Text, StrokeWidth = 2, Subject = surface.Id, Hint = hint });
            canvas.Add(new Circle(at, y, 5)
            {
                Stroke = wet ? Ink.Wet : Ink.Dry,
                StrokeWidth = 1.6,
                Fill = wet ? Ink.Wet : Ink.Paper,
                Subject = surface.Id,
                Hint = hint,
            });
            var grams = surface.CondensedPerNight.Grams > 0
                ? units.Format(surface.CondensedPerNight) + (surface.Frost ? " frost" : "")
                : "dry";
            canvas.Write(Width, y + 3.6, grams, TextAnchor.End, wet ? Ink.Wet : Ink.Muted, wet, subject: surface.Id);
        }

        var wetOnes = surfaces.Where(surface => surface.CondensedPerNight.Grams > 0).ToList();
        var words = string.Join("; ", surfaces.Select(surface =>
            $"{surface.Name} {units.Format(surface.Temperature)} against {units.Format(surface.DewPoint)}, {(surface.CondensedPerNight.Grams > 0 ? units.Format(surface.CondensedPerNight) : "dry")}"));
        return new Figure
        {
            Id = "surface-temperatures",
            Title = "Glass and bare metal against the dew point",
            AltText = $"{wetOnes.Count.ToString(CultureInfo.InvariantCulture)} of {surfaces.Length.ToString(CultureInfo.InvariantCulture)} surfaces are colder than the dew point of the air before them. Temperature against dew point, and water in one night: {words}.",
            Width = canvas.Width,
            Height = canvas.Height,
            Elements = canvas.Elements,
            Legend =
            [
                new(LegendMark.Dot, Ink.Wet, "Surface below the dew point: it gets wet"),
                new(LegendMark.Ring, Ink.Dry, "Surface above the dew point: it stays dry"),
                new(LegendMark.Line, Ink.Text, "Upright mark: dew point (frost point below freezing) of the air before it"),
            ],
            Table = new DataTable
            {
                Caption = "Glass and bare metal",
                Heads = ["Surface", "Zone", "Area", "U-value", "Temperature", "Dew point", "Water in one night"],
                NumberColumns = [2, 3, 4, 5, 6],
                Rows =
                [
                    .. surfaces.Select(surface => ImmutableArray.Create(
                        surface.Name,
                        design.Zones.First(zone => zone.Id == surface.ZoneId).Name,
                        units.Format(Measure.LargeArea, surface.Area),
                        units.Format(surface.UValue),
                        units.Format(surface.Temperature),
                        units.Format(surface.DewPoint),
                        units.Format(surface.CondensedPerNight) + (surface.Frost && surface.CondensedPerNight.Grams > 0 ? " frost" : ""))),
                ],
            },
        };
    }
}

/// <summary>A temperature axis with round ticks in the reader's unit.</summary>
internal sealed class TemperatureAxis
{
    private static readonly double[] Steps = [1, 2, 5, 10, 20];

    private readonly DisplayUnits _units;
    private readonly double _from;
    private readonly double _to;
    private readonly double _step;
    private readonly double _left;
    private readonly double _right;

    /// <summary>An axis that holds all the temperatures between two places of the drawing.</summary>
    public TemperatureAxis(IEnumerable<Temperature> temperatures, DisplayUnits units, double left, double right)
    {
        (_units, _left, _right) = (units, left, right);
        var values = temperatures.Select(temperature => units.Value(Measure.Temperature, temperature)).DefaultIfEmpty(0).ToList();
        var (low, high) = (values.Min() - 0.5, values.Max() + 0.5);
        _step = Steps.FirstOrDefault(step => (high - low) / step <= 9, Steps[^1]);
        _from = Math.Floor(low / _step) * _step;
        _to = Math.Ceiling(high / _step) * _step;
    }

    public double X(Temperature temperature) => Place(_units.Value(Measure.Temperature, temperature));

    public IEnumerable<(string Text, double X)> Ticks()
    {
        for (var value = _from; value <= _to + 1e-9; value += _step)
        {
            yield return (value.ToString("0", CultureInfo.InvariantCulture).Replace("-", "\u2212", StringComparison.Ordinal), Place(value));
        }
    }

    private double Place(double value) => _left + ((value - _from) / (_to - _from) * (_right - _left));
}
