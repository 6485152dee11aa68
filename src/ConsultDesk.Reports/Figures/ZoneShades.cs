using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Figures;

/// <summary>What the zones of a van are shaded by.</summary>
public enum ZoneQuantity
{
    /// <summary>Local mean age of the air.</summary>
    AirAge,

    /// <summary>Relative humidity.</summary>
    Humidity,

    /// <summary>Air temperature.</summary>
    Temperature,

    /// <summary>Carbon dioxide by volume.</summary>
    CarbonDioxide,
}

/// <summary>
/// Five steps of shade for the air of a zone, each with a pattern of its own beside its darkness. Where a step ends is our
/// judgement, made for telling zones apart: only 80 % relative humidity is a limit of a source (mould growth, ISO 13788).
/// </summary>
public static class ZoneShades
{
    /// <summary>Steps from light to dark.</summary>
    public const int Steps = 5;

    // Of the pattern's grid, in units.
    private const double Cell = 2;

    private static readonly double[] Opacities = [0.06, 0.14, 0.23, 0.32, 0.41];

    /// <summary>All, in the order of their buttons.</summary>
    public static ImmutableArray<ZoneQuantity> All { get; } = [.. Enum.GetValues<ZoneQuantity>()];

    /// <summary>Darkness of the darkest step: text and lines keep their contrast over it.</summary>
    public static double Darkest => Opacities[^1];

    /// <summary>The quantity in a few words.</summary>
    public static string Name(ZoneQuantity quantity) => quantity switch
    {
        ZoneQuantity.AirAge => "Age of the air",
        ZoneQuantity.Humidity => "Relative humidity",
        ZoneQuantity.Temperature => "Temperature",
        ZoneQuantity.CarbonDioxide => "Carbon dioxide",
        _ => throw Unknown(quantity),
    };

    /// <summary>Where each step ends and the next begins; the last has no end.</summary>
    public static ImmutableArray<IQuantity> Ends(ZoneQuantity quantity) => quantity switch
    {
        ZoneQuantity.AirAge => [.. new[] { 15.0, 30, 60, 120 }.Select(minutes => (IQuantity)Duration.FromMinutes(minutes))],
        ZoneQuantity.Humidity => [.. new[] { 40.0, 60, 70, 80 }.Select(percent => (IQuantity)RelativeHumidity.FromPercent(percent))],
        ZoneQuantity.Temperature => [.. new[] { 5.0, 12, 18, 24 }.Select(celsius => (IQuantity)Temperature.FromDegreesCelsius(celsius))],
        ZoneQuantity.CarbonDioxide => [.. new[] { 800.0, 1200, 2000, 5000 }.Select(ppm => (IQuantity)VolumeConcentration.FromPartsPerMillion(ppm))],
        _ => throw Unknown(quantity),
    };

    /// <summary>Value of a zone.</summary>
    public static IQuantity Of(ZoneQuantity quantity, ZoneState state) => quantity switch
    {
        ZoneQuantity.AirAge => state.AgeOfAir,
        ZoneQuantity.Humidity => state.RelativeHumidity,
        ZoneQuantity.Temperature => state.Temperature,
        ZoneQuantity.CarbonDioxide => state.CarbonDioxide,
        _ => throw Unknown(quantity),
    };

    /// <summary>Step of a value, 0 for the lightest; a value at an end belongs to the step above.</summary>
    public static int StepOf(ZoneQuantity quantity, IQuantity value) =>
        Ends(quantity).Count(end => value.As(end.Unit) >= (double)end.Value);

    /// <summary>The scale as a figure: the steps with their patterns side by side, and under each border its value.</summary>
    public static Figure Scale(ZoneQuantity? quantity, DisplayUnits units)
    {
        const double Width = NarrowRows.Width;
        const double Height = 28;
        const double Each = Width / Steps;
        var elements = ImmutableArray.CreateBuilder<FigureElement>();
        var words = quantity is { } chosen ? Words(chosen, units) : [];
        if (quantity is { } shown)
        {
            var ends = Ends(shown);
            for (var step = 0; step < Steps; step++)
            {
                var area = new Area2((step * Each) + 0.5, 1.5, Each - 1, 13);
                elements.AddRange(Shade(area, step, null, null));
                elements.Add(new Box(area.X, area.Y, area.Width, area.Height) { Stroke = Ink.Rule, StrokeWidth = 0.8 });
                if (step > 0)
                {
                    elements.Add(new Label(step * Each, Height - 3, units.Format(ends[step - 1]), FigureCanvas.TextSize, TextAnchor.Middle) { Fill = Ink.Text });
                }
            }
        }

        var name = quantity is { } named ? $"Shade of the zones: {Name(named).ToLowerInvariant()}" : "The zones are not shaded";
        return new Figure
        {
            Id = "zone-scale",
            Title = name,
            AltText = quantity is null ? name + "." : $"From light to dark: {string.Join("; ", words)}.",
            Width = Width,
            Height = Height,
            Elements = elements.ToImmutable(),
            Legend = [],
            Table = new DataTable { Caption = name, Heads = ["Step", "Values"], Rows = [.. words.Select((text, step) => ImmutableArray.Create($"{step + 1}", text))] },
        };
    }

    /// <summary>Values of each step in words.</summary>
    public static ImmutableArray<string> Words(ZoneQuantity quantity, DisplayUnits units)
    {
        var ends = Ends(quantity);
        return
        [
            $"below {units.Format(ends[0])}",
            .. ends.Skip(1).Select((end, index) => end is Duration
                ? $"{units.Format(ends[index])} to {units.Format(end)}"
                : $"{units.Number(DisplayUnits.MeasureOf(end), ends[index])} to {units.Format(end)}"),
            $"{units.Format(ends[^1])} or more",
        ];
    }

    /// <summary>An area in the shade and the pattern of a step.</summary>
    internal static IEnumerable<FigureElement> Shade(Area2 area, int step, string? subject, string? hint)
    {
        // Opaque below: where two zones lie over one another only the nearer one's shade counts.
        yield return new Box(area.X, area.Y, area.Width, area.Height) { Fill = Ink.Paper, Subject = subject };
        yield return new Box(area.X, area.Y, area.Width, area.Height) { Fill = Ink.Shade, FillOpacity = Opacities[step], Subject = subject, Hint = hint };
        var columns = (int)(area.Width / Cell);
        var rows = (int)(area.Height / Cell);
        ImmutableArray<CellRun> runs = step switch
        {
            0 => [],
            1 => Dots(columns, rows, 8),
            2 => Dots(columns, rows, 5),
            _ => Lines(columns, rows),
        };
        if (!runs.IsEmpty)
        {
            yield return Pattern(runs);
        }

        if (step == Steps - 1)
        {
            yield return Pattern(Uprights(columns, rows));
        }

        Cells Pattern(ImmutableArray<CellRun> cells) => new(area.X, area.Y, Cell, Cell, cells) { Fill = Ink.Shade, FillOpacity = 0.3, Subject = subject };
    }

    // Every second row is moved by half a step.
    private static ImmutableArray<CellRun> Dots(int columns, int rows, int apart)
    {
        var runs = ImmutableArray.CreateBuilder<CellRun>();
        for (int row = apart / 2, line = 0; row < rows; row += apart, line++)
        {
            for (var column = line % 2 == 0 ? apart / 2 : apart; column < columns; column += apart)
            {
                runs.Add(new CellRun(column, row, 1, 1));
            }
        }

        return runs.ToImmutable();
    }

    private static ImmutableArray<CellRun> Lines(int columns, int rows) =>
        [.. Enumerable.Range(0, rows).Where(row => row % 6 == 3).Select(row => new CellRun(0, row, columns, 1))];

    private static ImmutableArray<CellRun> Uprights(int columns, int rows) =>
        [.. Enumerable.Range(0, columns).Where(column => column % 6 == 3).Select(column => new CellRun(column, 0, 1, rows))];

    private static ArgumentOutOfRangeException Unknown(ZoneQuantity quantity) => new(nameof(quantity), quantity, "Expected a quantity zones are shaded by.");
}
