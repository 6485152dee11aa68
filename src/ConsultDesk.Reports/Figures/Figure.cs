using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace ConsultDesk.Reports.Figures;

/// <summary>
/// A drawing made of primitives, with everything a reader who cannot see it needs. Defined once per subject and
/// drawn twice: as SVG by the page, as vector graphics by the PDF. The origin is the top left corner, y runs down,
/// and one unit is one CSS pixel or three quarters of a point at natural size.
/// </summary>
public sealed record Figure
{
    /// <summary>Unique within a page; also the anchor.</summary>
    public required string Id { get; init; }

    /// <summary>What it shows, in one line.</summary>
    public required string Title { get; init; }

    /// <summary>Alternative text: what a reader should take from it, with the main numbers.</summary>
    public required string AltText { get; init; }

    /// <summary>Width in units.</summary>
    public required double Width { get; init; }

    /// <summary>Height in units.</summary>
    public required double Height { get; init; }

    /// <summary>Primitives, drawn in this order.</summary>
    public required ImmutableArray<FigureElement> Elements { get; init; }

    /// <summary>Legend, drawn by the drawers below the figure.</summary>
    public required ImmutableArray<LegendEntry> Legend { get; init; }

    /// <summary>The same facts as a table.</summary>
    public required DataTable Table { get; init; }

    /// <summary>Where the van lies in it; null for what is no drawing of the van. Not kept with a plan: nothing is moved there.</summary>
    [JsonIgnore]
    public DrawingScale? Scale { get; init; }

    /// <summary>True for a drawing of the van whose lengths can be measured on paper.</summary>
    [JsonIgnore]
    public bool IsToScale => Id.StartsWith("van-", StringComparison.Ordinal);

    /// <summary>True when it fits a phone held upright and half the width of an A4 page.</summary>
    [JsonIgnore]
    public bool IsNarrow => Width <= NarrowRows.Width;
}

/// <summary>What a mark means; each drawer has one colour (and theme) for it. Colour is never the only carrier of meaning.</summary>
public enum Ink
{
    /// <summary>Nothing is drawn.</summary>
    None,

    /// <summary>The van's body.</summary>
    Body,

    /// <summary>Furniture.</summary>
    Furniture,

    /// <summary>Bed.</summary>
    Bed,

    /// <summary>Glass.</summary>
    Glass,

    /// <summary>Frame or lid of an opening.</summary>
    Opening,

    /// <summary>Outdoor air coming in.</summary>
    AirIn,

    /// <summary>Inside air going out.</summary>
    AirOut,

    /// <summary>Air from zone to zone.</summary>
    AirWithin,

    /// <summary>A surface below the dew point.</summary>
    Wet,

    /// <summary>A surface above the dew point.</summary>
    Dry,

    /// <summary>Axes, grid and dimension lines.</summary>
    Rule,

    /// <summary>Ordinary text.</summary>
    Text,

    /// <summary>Text of less weight.</summary>
    Muted,

    /// <summary>The firm's colour.</summary>
    Accent,

    /// <summary>The page behind the figure.</summary>
    Paper,

    /// <summary>Shade of a zone by a quantity of its air.</summary>
    Shade,
}

/// <summary>A primitive. <see cref="Subject"/> names the part of the design it stands for, <see cref="Hint"/> its numbers.</summary>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "kind")]
[JsonDerivedType(typeof(Box), "box")]
[JsonDerivedType(typeof(Circle), "circle")]
[JsonDerivedType(typeof(Polyline), "polyline")]
[JsonDerivedType(typeof(Arrow), "arrow")]
[JsonDerivedType(typeof(Label), "label")]
[JsonDerivedType(typeof(Cells), "cells")]
public abstract record FigureElement
{
    /// <summary>Id of the opening, zone or surface it stands for, or null.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)]
    public string? Subject { get; init; }

    /// <summary>Short text shown on hover and focus, or null.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)]
    public string? Hint { get; init; }

    /// <summary>Ink of the line.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)]
    public Ink Stroke { get; init; }

    /// <summary>Ink of the area.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)]
    public Ink Fill { get; init; }

    /// <summary>Width of the line in units.</summary>
    public double StrokeWidth { get; init; } = 1;

    /// <summary>True for a dashed line.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)]
    public bool Dashed { get; init; }

    /// <summary>Opacity of the fill, 0 to 1.</summary>
    public double FillOpacity { get; init; } = 1;
}

/// <summary>A rectangle.</summary>
public sealed record Box(double X, double Y, double Width, double Height, double Corner = 0) : FigureElement;

/// <summary>A circle.</summary>
public sealed record Circle(double X, double Y, double Radius) : FigureElement;

/// <summary>An open or closed line through points.</summary>
public sealed record Polyline(ImmutableArray<FigurePoint> Points, bool Closed = false) : FigureElement;

/// <summary>A line that ends in a filled arrow head.</summary>
public sealed record Arrow(ImmutableArray<FigurePoint> Points, double HeadSize) : FigureElement
{
    /// <summary>The filled head: its tip, then the two corners of its base. A line of no length has no head.</summary>
    public ImmutableArray<FigurePoint> Head()
    {
        const double HalfWidthShare = 0.45;
        var tip = Points[^1];
        var (dx, dy) = (tip.X - Points[^2].X, tip.Y - Points[^2].Y);
        var length = Math.Sqrt((dx * dx) + (dy * dy));
        if (length == 0)
        {
            return [tip, tip, tip];
        }

        var (alongX, alongY) = (dx / length * HeadSize, dy / length * HeadSize);
        return
        [
            tip,
            new(tip.X - alongX - (alongY * HalfWidthShare), tip.Y - alongY + (alongX * HalfWidthShare)),
            new(tip.X - alongX + (alongY * HalfWidthShare), tip.Y - alongY - (alongX * HalfWidthShare)),
        ];
    }
}

/// <summary>
/// Filled cells of a grid whose top left corner is X, Y: one primitive for thousands of hours, small as text and
/// without seams between neighbours.
/// </summary>
public sealed record Cells(double X, double Y, double CellWidth, double CellHeight, ImmutableArray<CellRun> Runs) : FigureElement
{
    /// <summary>The cells that hold, as runs within columns or within rows, whichever are fewer.</summary>
    /// <param name="columns">Columns of the grid.</param>
    /// <param name="rows">Rows of the grid.</param>
    /// <param name="holds">Whether the cell of a column and a row is filled.</param>
    public static ImmutableArray<CellRun> RunsOf(int columns, int rows, Func<int, int, bool> holds)
    {
        var upright = Sweep(columns, rows, holds);
        var level = Sweep(rows, columns, (row, column) => holds(column, row));
        return upright.Count <= level.Count
            ? [.. upright]
            : [.. level.Select(run => new CellRun(run.Row, run.Column, run.Rows, run.Columns))];
    }

    private static List<CellRun> Sweep(int columns, int rows, Func<int, int, bool> holds)
    {
        var runs = new List<CellRun>();
        for (var column = 0; column < columns; column++)
        {
            for (var row = 0; row < rows; row++)
            {
                var from = row;
                while (row < rows && holds(column, row))
                {
                    row++;
                }

                if (row > from)
                {
                    runs.Add(new CellRun(column, from, 1, row - from));
                }
            }
        }

        return runs;
    }
}

/// <summary>A filled rectangle of a grid, in cells.</summary>
[JsonConverter(typeof(CellRunConverter))]
public readonly record struct CellRun(int Column, int Row, int Columns, int Rows);

/// <summary>Writes a run as four numbers: a year has a thousand of them.</summary>
internal sealed class CellRunConverter : JsonConverter<CellRun>
{
    public override CellRun Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        JsonSerializer.Deserialize<int[]>(ref reader) is [var column, var row, var columns, var rows]
            ? new CellRun(column, row, columns, rows)
            : throw new JsonException("A run of cells is not four numbers.");

    public override void Write(Utf8JsonWriter writer, CellRun value, JsonSerializerOptions options)
    {
        writer.WriteStartArray();
        writer.WriteNumberValue(value.Column);
        writer.WriteNumberValue(value.Row);
        writer.WriteNumberValue(value.Columns);
        writer.WriteNumberValue(value.Rows);
        writer.WriteEndArray();
    }
}

/// <summary>Text at a point on its baseline.</summary>
public sealed record Label(double X, double Y, string Text, double Size, TextAnchor Anchor = TextAnchor.Start, bool Bold = false) : FigureElement;

/// <summary>Which point of a text its coordinates name.</summary>
public enum TextAnchor
{
    /// <summary>Its left end.</summary>
    Start,

    /// <summary>Its middle.</summary>
    Middle,

    /// <summary>Its right end.</summary>
    End,
}

/// <summary>A point of a line.</summary>
public readonly record struct FigurePoint(double X, double Y);

/// <summary>How a legend entry is drawn.</summary>
public enum LegendMark
{
    /// <summary>A small filled box.</summary>
    Area,

    /// <summary>A short line.</summary>
    Line,

    /// <summary>A dashed line.</summary>
    Dashed,

    /// <summary>An arrow.</summary>
    Arrow,

    /// <summary>A filled circle.</summary>
    Dot,

    /// <summary>An open circle.</summary>
    Ring,

    /// <summary>A dashed circle.</summary>
    DashedRing,

    /// <summary>An open box.</summary>
    Square,

    /// <summary>A thin line.</summary>
    Thin,

    /// <summary>A cross.</summary>
    Cross,

    /// <summary>Slanting lines.</summary>
    Hatch,
}

/// <summary>One line of a legend; the opacity is that of the area it explains.</summary>
public sealed record LegendEntry(LegendMark Mark, Ink Ink, string Text, double Opacity = 1);

/// <summary>A table: heads, rows, and which columns hold numbers (set right).</summary>
public sealed record DataTable
{
    /// <summary>What stands in a cell that has nothing to say.</summary>
    public const string Nothing = "–";

    /// <summary>What the table shows.</summary>
    public required string Caption { get; init; }

    /// <summary>Column heads.</summary>
    public required ImmutableArray<string> Heads { get; init; }

    /// <summary>Rows, each as long as <see cref="Heads"/>; the first cell is the row's head.</summary>
    public required ImmutableArray<ImmutableArray<string>> Rows { get; init; }

    /// <summary>Indices of the columns that hold numbers.</summary>
    public ImmutableArray<int> NumberColumns { get; init; } = [];

    /// <summary>True when all columns but the first hold numbers.</summary>
    [JsonIgnore]
    public bool AllNumbers => NumberColumns.Length == Heads.Length - 1 && !NumberColumns.Contains(0);

    /// <summary>
    /// True for a table of words rather than numbers: its columns have like widths on paper, and on a phone each row
    /// becomes a list of its cells under their heads.
    /// </summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)]
    public bool Wordy { get; init; }
}
