using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Figures;

/// <summary>
/// A cut through walls, roof or floor in a month in which each layer is as wide as it resists vapour: the vapour in the layers
/// below the most that the temperature there can hold, and the water where the two meet. The right scale gives the temperature
/// that belongs to a height. docs/method/walls.md.
/// </summary>
public static class VapourSection
{
    // Drawn at one width from here on: it would leave nothing of the rest, and more changes nothing.
    private const double TightSdM = 100;
    private const double TightWidth = 26;
    private const double VentilatedWidth = 16;
    private const double LayersWidth = 262;
    private const double Bottom = WallSection.Top + WallSection.SectionHeight;
    private const double StripTop = Bottom + 34;
    private const double StripBottom = StripTop + 34;

    // Points between two that are known, so that saturation is drawn as the curve it is.
    private const int Between = 6;

    /// <summary>Draws a part in a month.</summary>
    /// <param name="part">Walls, roof or floor, as the assessment names it.</param>
    /// <param name="assembly">Its layers.</param>
    /// <param name="profiles">Its year, as <see cref="MonthlyDewPoint.Profiles"/> gives it.</param>
    /// <param name="month">The month, 0 for January.</param>
    /// <param name="units">Units of labels and table.</param>
    public static Figure Of(string part, LayeredAssembly assembly, ImmutableArray<ImmutableArray<VapourPoint>> profiles, int month, DisplayUnits units)
    {
        ArgumentNullException.ThrowIfNull(assembly);
        ArgumentNullException.ThrowIfNull(units);
        var points = profiles[month];
        var canvas = new FigureCanvas(WallSection.Width, Math.Max(StripBottom + 30, WallSection.Top + (assembly.Layers.Length * WallSection.KeyRow) + 20));
        var widths = new Widths(assembly, points);
        canvas.Write(WallSection.Left - 8, 17.4, "Room", TextAnchor.End, Ink.Muted);
        canvas.Write(widths.Faces[^1] + 8, WallSection.Top - 4, "Outside", TextAnchor.Start, Ink.Muted);
        WallSection.DrawLayers(canvas, assembly, widths.Faces, layer => $"{WallSection.NameOf(layer)}, {Width(widths, assembly.Layers.IndexOf(layer), units)}");

        // One scale for the whole year, so that the months can be compared.
        var largestPa = profiles.SelectMany(all => all).Max(point => point.Saturation.Pascals);
        var axis = new ValueAxis(units.Value(Measure.Pressure, Pressure.FromPascals(largestPa)), WallSection.Top + 4, Bottom);
        double Y(Pressure pressure) => axis.Y(units.Value(Measure.Pressure, pressure));
        DrawVapour(canvas, points, widths, Y);
        Scales(canvas, axis, widths, largestPa, Y, units);
        Drops(canvas, points, widths, Y, units);
        Months(canvas, profiles, month, units);

        var name = MonthName(month);
        var held = points.Sum(point => point.Held.Grams);
        return new Figure
        {
            Id = "vapour-" + part.ToLowerInvariant(),
            Title = $"{part} by vapour resistance, {name}",
            AltText = $"{part}, {assembly.Name}, in {name}. Vapour pressure from {units.Format(Measure.Pressure, points[0].Vapour)} at the room’s side to {units.Format(Measure.Pressure, points[^1].Vapour)} outside. {Where(points, assembly, held, units)}",
            Width = canvas.Width,
            Height = canvas.Height,
            Elements = canvas.Elements,
            Legend =
            [
                new(LegendMark.Dashed, Ink.Body, "The most vapour the temperature there can hold"),
                new(LegendMark.Area, Ink.Wet, "Vapour in the layers; a drop where it meets the dashed line: water", 0.35),
            ],
            Table = Table(part, assembly, points, name, units),
        };
    }

    /// <summary>The month with the most water in the layers, 0 for January; the coldest when all stay dry.</summary>
    public static int WorstMonth(ImmutableArray<ImmutableArray<VapourPoint>> profiles)
    {
        var worst = Enumerable.Range(0, profiles.Length).MaxBy(month => profiles[month].Sum(point => point.Held.Kilograms));
        return profiles[worst].Any(point => point.Held.Kilograms > 0)
            ? worst
            : Enumerable.Range(0, profiles.Length).MinBy(month => profiles[month][^1].Temperature.DegreesCelsius);
    }

    private static string Where(ImmutableArray<VapourPoint> points, LayeredAssembly assembly, double heldG, DisplayUnits units)
    {
        var wet = points.Where(point => point.Held.Grams > 0).ToList();
        return wet.Count == 0
            ? "No water stands in the layers at the month’s end."
            : $"{units.FormatPerArea(Mass.FromGrams(heldG))} stand in the layers at the month’s end: {string.Join("; ", wet.Select(point => $"{units.FormatPerArea(point.Held)} at the outer face of layer {WallSection.Number(point.Layer)}, {WallSection.NameOf(assembly.Layers[point.Layer])}"))}.";
    }

    private static string Width(Widths widths, int layer, DisplayUnits units) => widths.SdM[layer] switch
    {
        0 => "outdoor air",
        >= TightSdM => "lets no vapour through",
        var sdM => "sd " + units.Format(Measure.VapourEquivalentThickness, Length.FromMeters(sdM)),
    };

    private static void DrawVapour(FigureCanvas canvas, ImmutableArray<VapourPoint> points, Widths widths, Func<Pressure, double> y)
    {
        ImmutableArray<FigurePoint> vapour = [.. points.Select((point, index) => new FigurePoint(widths.X(index), y(point.Vapour)))];
        canvas.Add(new Polyline([new(vapour[0].X, Bottom), .. vapour, new(vapour[^1].X, Bottom)], Closed: true) { Fill = Ink.Wet, FillOpacity = 0.35 });
        canvas.Add(new Polyline(vapour) { Stroke = Ink.Wet, StrokeWidth = 2 });

        var saturation = ImmutableArray.CreateBuilder<FigurePoint>();
        saturation.Add(new(widths.X(0), y(points[0].Saturation)));
        for (var index = 1; index < points.Length; index++)
        {
            var (from, to) = (points[index - 1].Temperature.DegreesCelsius, points[index].Temperature.DegreesCelsius);
            for (var step = 1; step <= Between; step++)
            {
                var share = (double)step / Between;
                saturation.Add(new(
                    widths.X(index - 1) + (share * (widths.X(index) - widths.X(index - 1))),
                    y(MonthlyDewPoint.Saturation(Temperature.FromDegreesCelsius(from + (share * (to - from)))))));
            }
        }

        canvas.Add(new Polyline(saturation.ToImmutable()) { Stroke = Ink.Body, StrokeWidth = 1.6, Dashed = true });
    }

    private static void Scales(FigureCanvas canvas, ValueAxis axis, Widths widths, double largestPa, Func<Pressure, double> y, DisplayUnits units)
    {
        var right = widths.Faces[^1];
        foreach (var (text, height) in axis.Ticks())
        {
            canvas.Line(Ink.Rule, 0.5, false, new(WallSection.Left - 4, height), new(WallSection.Left, height));
            canvas.Write(WallSection.Left - 7, height + 3.6, text, TextAnchor.End, Ink.Muted);
        }

        canvas.Write(WallSection.Left - 7, Bottom + 14, units.Symbol(Measure.Pressure), TextAnchor.End, Ink.Muted);
        canvas.Line(Ink.Rule, 1, false, new(right, WallSection.Top), new(right, Bottom));

        // Round temperatures at the height of the pressure at which their air is full.
        const int Step = 5;
        var warmest = (int)Math.Floor(units.Value(Measure.Temperature, Temperature.FromDegreesCelsius(40)) / Step) * Step;
        var coldest = (int)Math.Ceiling(units.Value(Measure.Temperature, Temperature.FromDegreesCelsius(-40)) / Step) * Step;
        var last = double.NegativeInfinity;
        for (var degrees = warmest; degrees >= coldest; degrees -= Step)
        {
            var full = MonthlyDewPoint.Saturation((Temperature)units.Quantity(Measure.Temperature, degrees));
            if (full.Pascals <= largestPa * 1.02 && y(full) > last + 10 && y(full) < Bottom - 3)
            {
                last = y(full);
                canvas.Line(Ink.Rule, 0.5, false, new(right, last), new(right + 4, last));
                canvas.Write(right + 7, last + 3.6, degrees.ToString(CultureInfo.InvariantCulture).Replace('-', '−'), TextAnchor.Start, Ink.Muted);
            }
        }

        canvas.Write(right + 7, Bottom + 14, units.Symbol(Measure.Temperature), TextAnchor.Start, Ink.Muted);
        canvas.Line(Ink.Rule, 1, false, new(WallSection.Left, Bottom), new(right, Bottom));
        canvas.Write((WallSection.Left + right) / 2, Bottom + 14, "Width: resistance to vapour", TextAnchor.Middle, Ink.Muted);
    }

    private static void Drops(FigureCanvas canvas, ImmutableArray<VapourPoint> points, Widths widths, Func<Pressure, double> y, DisplayUnits units)
    {
        for (var index = 0; index < points.Length; index++)
        {
            var point = points[index];
            if (point.Held.Grams <= 0 && point.Gathers.Grams >= 0)
            {
                continue;
            }

            var (x, height) = (widths.X(index), y(point.Vapour));
            var words = $"{units.FormatPerArea(point.Held)} at the month’s end, {(point.Gathers.Grams < 0 ? "drying" : "gathering")}";
            canvas.Add(new Circle(x, height, 4.5) { Fill = point.Held.Grams > 0 ? Ink.Wet : Ink.Paper, Stroke = Ink.Wet, StrokeWidth = 1.4, Hint = words });
            var text = units.FormatPerArea(point.Held);
            var area = FigureCanvas.TextArea(0, 0, text, TextAnchor.Start, bold: true, FigureCanvas.TextSize);
            if (canvas.Find(x, height, area.Width * NarrowRows.WidestLetters, area.Height, 8, new Area2(WallSection.Left + 2, WallSection.Top + 2, widths.Faces[^1] - WallSection.Left - 4, WallSection.SectionHeight - 4)) is { } place)
            {
                canvas.Add(new Box(place.X - 2, place.Y - 1, place.Width + 4, place.Height + 2, 2) { Fill = Ink.Paper, FillOpacity = 0.85 });
                canvas.Add(new Label(place.X, place.Y + (0.78 * FigureCanvas.TextSize), text, FigureCanvas.TextSize, TextAnchor.Start, Bold: true) { Fill = Ink.Wet });
            }
        }
    }

    // Water in the layers at the end of each month; the month shown is named in bold.
    private static void Months(FigureCanvas canvas, ImmutableArray<ImmutableArray<VapourPoint>> profiles, int shown, DisplayUnits units)
    {
        var held = profiles.Select(points => points.Sum(point => point.Held.Grams)).ToList();
        var most = held.Max();
        const double MonthWidth = (LayersWidth + WallSection.Left) / 12;
        for (var month = 0; month < 12; month++)
        {
            var left = 8 + (month * MonthWidth);
            var height = most > 0 ? held[month] / most * (StripBottom - StripTop) : 0;
            if (height > 0)
            {
                canvas.Add(new Box(left + 5, StripBottom - height, MonthWidth - 10, height)
                {
                    Fill = Ink.Wet,
                    FillOpacity = month == shown ? 1 : 0.35,
                    Stroke = Ink.Wet,
                    StrokeWidth = 1,
                    Hint = $"{MonthName(month)}: {units.FormatPerArea(Mass.FromGrams(held[month]))} in the layers",
                });
            }

            canvas.Write(left + (MonthWidth / 2), StripBottom + 13, MonthName(month)[..3], TextAnchor.Middle, month == shown ? Ink.Text : Ink.Muted, bold: month == shown);
        }

        canvas.Line(Ink.Rule, 1, false, new(8, StripBottom), new(8 + (12 * MonthWidth), StripBottom));
        canvas.Write(8, StripBottom + 27, most > 0 ? $"Water in the layers at each month’s end, at most {units.FormatPerArea(Mass.FromGrams(most))}" : "No water in the layers in any month", ink: Ink.Muted);
    }

    private static DataTable Table(string part, LayeredAssembly assembly, ImmutableArray<VapourPoint> points, string month, DisplayUnits units) => new()
    {
        Caption = $"{part}, {month}: at the outer face of each layer",
        Heads =
        [
            "No.", "Layer", $"Resistance to vapour from the room, {units.Symbol(Measure.VapourEquivalentThickness)}", "Temperature",
            $"Most vapour, {units.Symbol(Measure.Pressure)}", $"Vapour, {units.Symbol(Measure.Pressure)}", $"Water, {units.Symbol(Measure.WaterPerArea)}",
        ],
        NumberColumns = [2, 3, 4, 5, 6],
        Rows =
        [
            Row(points[0], "", "Room’s side", points[0].Held, units),
            .. points.Skip(1).GroupBy(point => point.Layer).Select(layer => Row(
                layer.Last(), WallSection.Number(layer.Key), WallSection.NameOf(assembly.Layers[layer.Key]), Mass.FromGrams(layer.Sum(point => point.Held.Grams)), units)),
        ],
    };

    private static ImmutableArray<string> Row(VapourPoint point, string number, string name, Mass held, DisplayUnits units) =>
    [
        number,
        name,
        point.VapourThickness.Meters >= TightSdM ? ">" + TightSdM.ToString(CultureInfo.InvariantCulture) : units.Number(Measure.VapourEquivalentThickness, point.VapourThickness),
        units.Format(point.Temperature),
        units.Number(Measure.Pressure, point.Saturation),
        units.Number(Measure.Pressure, point.Vapour),
        units.Number(Measure.WaterPerArea, AreaDensity.FromGramsPerSquareMeter(held.Grams)),
    ];

    private static string MonthName(int month) => CultureInfo.InvariantCulture.DateTimeFormat.GetMonthName(month + 1);

    /// <summary>Where layers and points lie on the drawing.</summary>
    private sealed class Widths
    {
        private readonly double[] _x;

        public Widths(LayeredAssembly assembly, ImmutableArray<VapourPoint> points)
        {
            var layers = assembly.Layers.Length;
            SdM = new double[layers];
            for (var index = 1; index < points.Length; index++)
            {
                SdM[points[index].Layer] += points[index].VapourThickness.Meters - points[index - 1].VapourThickness.Meters;
            }

            var known = SdM.Where(sd => sd is > 0 and < TightSdM).Sum();
            var rest = LayersWidth - SdM.Sum(sd => sd switch { 0 => VentilatedWidth, >= TightSdM => TightWidth, _ => 0 });
            Faces = new double[layers + 1];
            Faces[0] = WallSection.Left;
            for (var layer = 0; layer < layers; layer++)
            {
                Faces[layer + 1] = Faces[layer] + SdM[layer] switch
                {
                    0 => VentilatedWidth,
                    >= TightSdM => TightWidth,
                    var sd => sd / known * rest,
                };
            }

            _x = new double[points.Length];
            _x[0] = Faces[0];
            for (var index = 1; index < points.Length; index++)
            {
                var layer = points[index].Layer;
                var step = points[index].VapourThickness.Meters - points[index - 1].VapourThickness.Meters;
                _x[index] = _x[index - 1] + (step / SdM[layer] * (Faces[layer + 1] - Faces[layer]));
            }
        }

        /// <summary>Vapour-equivalent thickness of each layer; 0 behind a well-ventilated one, where outdoor air stands.</summary>
        public double[] SdM { get; }

        /// <summary>Faces of the layers, from the room outwards.</summary>
        public double[] Faces { get; }

        /// <summary>Where a point lies.</summary>
        public double X(int point) => _x[point];
    }
}
