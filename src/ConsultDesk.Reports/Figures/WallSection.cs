using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Figures;

/// <summary>A cut through walls, roof or floor: the layers to scale, and the temperature from room to outside.</summary>
public static class WallSection
{
    internal const double Width = 640;
    internal const double Top = 38;
    internal const double SectionHeight = 150;
    internal const double Left = 60;
    private const double LargestSection = 250;
    private const double LargestScale = 4;
    internal const double KeyLeft = 400;
    internal const double KeyRow = 17;

    // ISO 9229 calls insulation what is made to slow heat; at most 0.065 W/(m K) is common practice, no source.
    private const double LargestInsulationConductivity = 0.065;

    /// <summary>True when two assemblies have the same layers, so that one drawing shows both.</summary>
    public static bool IsSame(LayeredAssembly one, LayeredAssembly other) =>
        one.Layers.Select(layer => Words(layer, DisplayUnits.Metric)).SequenceEqual(other.Layers.Select(layer => Words(layer, DisplayUnits.Metric)));

    /// <summary>Draws an assembly.</summary>
    /// <param name="part">Walls, roof or floor, as the assessment names it.</param>
    /// <param name="assembly">Its layers.</param>
    /// <param name="assessment">Gives temperatures and dew point; null draws the layers alone.</param>
    /// <param name="units">Units of labels and table.</param>
    public static Figure Of(string part, LayeredAssembly assembly, Assessment? assessment, DisplayUnits units)
    {
        var state = assessment?.Assemblies.First(candidate => candidate.Part == part);
        var thicknesses = assembly.Layers.Select(layer => ThicknessOf(layer)?.Millimeters ?? 0).ToArray();
        var total = thicknesses.Sum();
        var scale = Math.Min(LargestScale, LargestSection / total);
        var canvas = new FigureCanvas(Width, Math.Max(Top + SectionHeight + 52, Top + (assembly.Layers.Length * KeyRow) + 20));

        canvas.Write(Left - 8, Top + 12, "Room", TextAnchor.End, Ink.Muted);
        canvas.Write(Left + (total * scale) + 8, Top + 12, "Outside", TextAnchor.Start, Ink.Muted);
        var faces = new double[assembly.Layers.Length + 1];
        faces[0] = Left;
        for (var index = 0; index < assembly.Layers.Length; index++)
        {
            faces[index + 1] = faces[index] + (thicknesses[index] * scale);
        }

        DrawLayers(canvas, assembly, faces, layer => Words(layer, units));

        if (state is not null && assessment is not null)
        {
            DrawTemperatures(canvas, state, assessment, faces, units);
        }

        ScaleBar(canvas, scale, units);
        var thickness = units.Format(Measure.SmallLength, Length.FromMillimeters(total));
        var uValue = state is null ? "" : $" U-value {units.Format(state.UValue)}.";
        var temperatures = state is null
            ? ""
            : $" From the room side to the outside: {string.Join(", ", state.Temperatures.Select(temperature => units.Format(temperature)))}.";
        return new Figure
        {
            Id = "section-" + part.ToLowerInvariant(),
            Title = $"{part}: {assembly.Name}",
            AltText = $"{part}, {assembly.Name}, {thickness} thick.{uValue} Layers from the room to the outside: {string.Join("; ", assembly.Layers.Select(layer => Words(layer, units)))}.{temperatures}",
            Width = Width,
            Height = canvas.Height,
            Elements = canvas.Elements,
            Legend = state is null
                ? []
                :
                [
                    new(LegendMark.Line, Ink.AirOut, "Temperature through the layers"),
                    new(LegendMark.Dashed, Ink.Wet, "Highest dew point of the air inside; layers below it can collect water that gets in"),
                ],
            Table = new DataTable
            {
                Caption = $"{part}: layers from the room to the outside",
                Heads = state is null ? ["No.", "Layer", "Thickness"] : ["No.", "Layer", "Thickness", "Room side", "Far side"],
                NumberColumns = state is null ? [2] : [2, 3, 4],
                Rows = [.. assembly.Layers.Select((layer, index) => Row(layer, index, state, units))],
            },
        };
    }

    /// <summary>Draws layers between their faces, with numbers above and the key of the numbers beside them.</summary>
    internal static void DrawLayers(FigureCanvas canvas, LayeredAssembly assembly, double[] faces, Func<Layer, string> words)
    {
        double lastNumber = double.NegativeInfinity;
        for (var index = 0; index < assembly.Layers.Length; index++)
        {
            var layer = assembly.Layers[index];
            DrawLayer(canvas, layer, faces[index], faces[index + 1], index);

            // Numbers above the section; where layers are thin they move apart, with a leader each.
            const double Radius = 7.5;
            var middle = (faces[index] + faces[index + 1]) / 2;
            var x = Math.Max(middle, lastNumber + (2 * Radius) + 3);
            lastNumber = x;
            canvas.Line(Ink.Rule, 0.6, false, new(x, 14 + Radius), new(middle, Top - 1));
            canvas.Add(new Circle(x, 14, Radius) { Stroke = Ink.Text, Fill = Ink.Paper, StrokeWidth = 1, Subject = layer.Id });
            canvas.Write(x, 17.4, Number(index), TextAnchor.Middle, bold: true, subject: layer.Id);
            canvas.Write(KeyLeft, Top + 8 + (index * KeyRow), Number(index), bold: true);
            canvas.Write(KeyLeft + 18, Top + 8 + (index * KeyRow), FigureCanvas.Fit(words(layer), Width - KeyLeft - 20));
        }
    }

    /// <summary>Name of a layer as a client would say it.</summary>
    internal static string NameOf(Layer layer) => layer switch
    {
        SolidLayer solid => Materials.Find(solid.Material)?.Name ?? solid.Material,
        AirLayer air => air.Ventilation switch
        {
            AirLayerVentilation.Unventilated => "Still air",
            AirLayerVentilation.SlightlyVentilated => "Air, slightly ventilated",
            AirLayerVentilation.WellVentilated => "Air, well ventilated",
            _ => throw new ArgumentOutOfRangeException(nameof(layer), air.Ventilation, "Expected a class of ISO 6946."),
        },
        MembraneLayer membrane => membrane.Name,
        _ => throw new ArgumentException($"No name for a {layer.GetType().Name}.", nameof(layer)),
    };

    internal static string Number(int index) => (index + 1).ToString(CultureInfo.InvariantCulture);

    private static Length? ThicknessOf(Layer layer) => layer switch
    {
        SolidLayer solid => solid.Thickness,
        AirLayer air => air.Thickness,
        MembraneLayer => null,
        _ => throw new ArgumentException($"No thickness for a {layer.GetType().Name}.", nameof(layer)),
    };

    private static string Words(Layer layer, DisplayUnits units) => layer is MembraneLayer membrane
        ? $"{NameOf(layer)}, sd {units.Format(Measure.VapourEquivalentThickness, membrane.VapourEquivalentThickness)}"
        : $"{NameOf(layer)}, {units.Format(Measure.SmallLength, ThicknessOf(layer)!.Value)}";

    private static ImmutableArray<string> Row(Layer layer, int index, AssemblyState? state, DisplayUnits units)
    {
        var thickness = layer is MembraneLayer membrane
            ? "sd " + units.Format(Measure.VapourEquivalentThickness, membrane.VapourEquivalentThickness)
            : units.Format(Measure.SmallLength, ThicknessOf(layer)!.Value);
        ImmutableArray<string> cells = [Number(index), NameOf(layer), thickness];
        return state is null ? cells : [.. cells, units.Format(state.Temperatures[index]), units.Format(state.Temperatures[index + 1])];
    }

    private static void DrawLayer(FigureCanvas canvas, Layer layer, double from, double to, int index)
    {
        switch (layer)
        {
            case MembraneLayer:
                canvas.Add(new Polyline([new(from, Top), new(from, Top + SectionHeight)]) { Stroke = Ink.Accent, StrokeWidth = 2.4, Subject = layer.Id, Hint = NameOf(layer) });
                return;
            case AirLayer:
                canvas.Add(new Box(from, Top, to - from, SectionHeight) { Stroke = Ink.Body, StrokeWidth = 0.8, Fill = Ink.Paper, Subject = layer.Id, Hint = NameOf(layer) });
                return;
            case SolidLayer solid:
                var material = Materials.Find(solid.Material);
                var metal = material?.IsMetal == true;
                var insulates = material?.Conductivity.WattsPerMeterKelvin <= LargestInsulationConductivity;
                canvas.Add(new Box(from, Top, Math.Max(to - from, 0.8), SectionHeight)
                {
                    Stroke = Ink.Body,
                    StrokeWidth = 0.8,
                    Fill = metal ? Ink.Body : insulates ? Ink.Bed : Ink.Furniture,
                    FillOpacity = metal ? 0.9 : insulates ? 0.22 : 0.45,
                    Subject = layer.Id,
                    Hint = NameOf(layer),
                });
                if (insulates)
                {
                    Insulation(canvas, from, to, layer.Id);
                }

                return;
            default:
                throw new ArgumentException($"No drawing for layer {Number(index)}, a {layer.GetType().Name}.", nameof(layer));
        }
    }

    // The usual sign of insulation in a section: a wave from face to face, six points to each.
    private static void Insulation(FigureCanvas canvas, double from, double to, string id)
    {
        var points = ImmutableArray.CreateBuilder<FigurePoint>();
        const double Wave = 18.75;
        for (var y = 0.0; y <= SectionHeight; y += Wave / 3)
        {
            var swing = Math.Sin(Math.PI * y / Wave);
            points.Add(new(((from + to) / 2) + (swing * ((to - from) / 2 - 3)), Top + y));
        }

        canvas.Add(new Polyline(points.ToImmutable()) { Stroke = Ink.Bed, StrokeWidth = 0.8, Subject = id });
    }

    private static void DrawTemperatures(FigureCanvas canvas, AssemblyState state, Assessment assessment, double[] faces, DisplayUnits units)
    {
        var dewPoint = assessment.Zones.MaxBy(zone => zone.DewPoint.DegreesCelsius)!.DewPoint;
        var values = state.Temperatures.Select(temperature => temperature.DegreesCelsius).Append(dewPoint.DegreesCelsius).ToList();
        var (low, high) = (values.Min(), Math.Max(values.Max(), values.Min() + 1));
        double Y(Temperature temperature) => Top + SectionHeight - 14 - ((temperature.DegreesCelsius - low) / (high - low) * (SectionHeight - 44));

        canvas.Line(Ink.Wet, 1.2, true, new(faces[0] - 34, Y(dewPoint)), new(faces[^1] + 34, Y(dewPoint)));
        ImmutableArray<FigurePoint> line = [.. faces.Select((x, index) => new FigurePoint(x, Y(state.Temperatures[index])))];
        canvas.Add(new Polyline(line) { Stroke = Ink.AirOut, StrokeWidth = 2 });
        foreach (var point in line)
        {
            canvas.Add(new Circle(point.X, point.Y, 2.6) { Fill = Ink.AirOut });
        }

        canvas.Write(faces[0] - 8, line[0].Y + 3.6, units.Format(state.Temperatures[0]), TextAnchor.End);
        canvas.Write(faces[^1] + 8, line[^1].Y + 3.6, units.Format(state.Temperatures[^1]));
        var dewText = $"dew point {units.Format(dewPoint)}";
        var dewY = Y(dewPoint);
        var below = Math.Abs(dewY - 5 - line[^1].Y) < 14;
        canvas.Write(faces[^1] + 8, below ? dewY - 16 : dewY - 5, dewText, ink: Ink.Wet);
    }

    private static void ScaleBar(FigureCanvas canvas, double scale, DisplayUnits units)
    {
        var symbol = units.Symbol(Measure.SmallLength);
        var count = symbol switch { "in" => 1, "cm" => 2, _ => 20 };
        var length = ((Length)units.Quantity(Measure.SmallLength, count)).Millimeters * scale;
        var y = Top + SectionHeight + 30;
        canvas.Add(new Polyline([new(Left, y - 4), new(Left, y), new(Left + length, y), new(Left + length, y - 4)])
        {
            Stroke = Ink.Text,
            StrokeWidth = 1.2,
            Subject = "scale-bar",
        });
        canvas.Write(Left + length + 8, y, string.Create(CultureInfo.InvariantCulture, $"{count}{DisplayUnits.NoBreakSpace}{symbol}"), ink: Ink.Muted);
    }
}
