using System.Globalization;
using System.Text;
using ConsultDesk.Reports.Figures;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Rendering;

namespace ConsultDesk.Web.Figures;

/// <summary>Draws a <see cref="Reports.Figures.Figure"/> as SVG with its legend and its numbers as a table.</summary>
public partial class FigureView
{
    private (Figure? Figure, IReadOnlyCollection<LegendEntry>? Legend, bool ShowTitle, bool ShowTable, bool Moving) _drawn;
    private bool _changed;

    /// <summary>What is drawn.</summary>
    [Parameter, EditorRequired]
    public required Figure Figure { get; set; }

    /// <summary>Shows the figure's title below it; screen readers hear it either way.</summary>
    [Parameter]
    public bool ShowTitle { get; set; } = true;

    /// <summary>Legend in place of the figure's own, where two figures share one.</summary>
    [Parameter]
    public IReadOnlyCollection<LegendEntry>? Legend { get; set; }

    /// <summary>Offers the figure's data table.</summary>
    [Parameter]
    public bool ShowTable { get; set; } = true;

    /// <summary>
    /// Says what a part is when it is pointed at, and names it to scripts, which hear of its clicks. A published page does without: it is
    /// read on phones, and its tables have all the numbers.
    /// </summary>
    [Parameter]
    public bool Pointing { get; set; } = true;

    /// <summary>Air runs along its arrows, where the reader's system does not ask for still pictures.</summary>
    [Parameter]
    public bool Moving { get; set; }

    /// <summary>Drawn over it in the same box. It hears of changes by cascading values: the figure below is not drawn again for them.</summary>
    [Parameter]
    public RenderFragment? Over { get; set; }

    private IReadOnlyCollection<LegendEntry> Entries => Legend ?? Figure.Legend;

    /// <summary>A year is a long path: it is drawn again only when it is another one.</summary>
    protected override bool ShouldRender() => _changed;

    // Here and not where it is asked: the first drawing is not asked about.
    protected override void OnParametersSet()
    {
        var now = (Figure, Legend, ShowTitle, ShowTable, Moving);
        _changed = _drawn != now;
        _drawn = now;
    }

    private string TitleId => Figure.Id + "-title";

    private string DescriptionId => Figure.Id + "-text";

    // Nobody points at a single line of these: what looks alike is one path, and texts of one look are one group. Texts are
    // never covered on purpose, so that they can stand last.
    private IEnumerable<FigureElement> Shown(IReadOnlyCollection<FigureElement> elements) => Pointing
        ? elements
        : Merged(elements.Where(element => element is not Label && !OnlySeenByPointing(element)).SelectMany(Apart)).Concat(Gathered(elements.OfType<Label>()));

    // That of the style sheet.
    private const double UsualTextSize = 10;

    // A tenth of a unit is finer than a screen.
    private static string Number(double value) => Math.Round(value, 1).ToString(CultureInfo.InvariantCulture);

    private static string Fine(double value) => Math.Round(value, 2).ToString(CultureInfo.InvariantCulture);

    private static bool OnlySeenByPointing(FigureElement element) =>
        element is not Label && element.Stroke == Ink.None && (element.Fill == Ink.None || element.FillOpacity <= 0);

    // An arrow nobody points at needs no group around its shaft and head.
    private static IEnumerable<FigureElement> Apart(FigureElement element)
    {
        if (element is not Arrow arrow)
        {
            return [element];
        }

        var (shaft, head) = Parts(arrow);
        return
        [
            new Polyline([.. shaft]) { Stroke = arrow.Stroke, StrokeWidth = arrow.StrokeWidth, Dashed = arrow.Dashed },
            new Polyline([.. head], Closed: true) { Fill = arrow.Stroke, FillOpacity = arrow.FillOpacity },
        ];
    }

    // A shape joins the last path of its look that nothing drawn since lies over, so that what hides what stays as it is.
    private static List<FigureElement> Merged(IEnumerable<FigureElement> elements)
    {
        var drawn = new List<FigureElement>();
        foreach (var element in elements)
        {
            if (element is not (Polyline or Box { Corner: 0 }))
            {
                drawn.Add(element);
                continue;
            }

            var area = Extent.Of(element);
            var place = drawn.Count - 1;
            while (place >= 0 && !Takes(drawn[place], element, area) && !Covers(drawn[place], area))
            {
                place--;
            }

            if (place >= 0 && drawn[place] is Alike alike && Takes(alike, element, area))
            {
                alike.Parts.Add(element);
            }
            else
            {
                drawn.Add(new Alike([element])
                {
                    Stroke = element.Stroke,
                    Fill = element.Fill,
                    StrokeWidth = element.StrokeWidth,
                    Dashed = element.Dashed,
                    FillOpacity = element.FillOpacity,
                });
            }
        }

        return drawn;

        static bool Covers(FigureElement drawn, Extent area) =>
            drawn is Alike alike ? alike.Parts.Any(part => Extent.Of(part).Meets(area)) : Extent.Of(drawn).Meets(area);

        // Filled outlines that overlap would cut holes into one another as one path, or hide no line of the one below.
        static bool Takes(FigureElement drawn, FigureElement element, Extent area) =>
            drawn is Alike alike && alike.Looks(element) && (element.Fill == Ink.None || alike.Parts.All(part => !Extent.Of(part).Meets(area)));
    }

    private static IEnumerable<FigureElement> Gathered(IEnumerable<Label> labels) => labels
        .GroupBy(label => (label.Fill is Ink.None ? Ink.Text : label.Fill, label.Anchor, label.Bold, label.Size))
        .Select(alike => alike.Count() == 1 ? alike.First() : (FigureElement)new Texts([.. alike]));

    private static string InkName(Ink ink) => ink switch
    {
        Ink.None => "none",
        Ink.Body => "body",
        Ink.Furniture => "furniture",
        Ink.Bed => "bed",
        Ink.Glass => "glass",
        Ink.Opening => "opening",
        Ink.AirIn => "air-in",
        Ink.AirOut => "air-out",
        Ink.AirWithin => "air-within",
        Ink.Wet => "wet",
        Ink.Dry => "dry",
        Ink.Rule => "rule",
        Ink.Text => "text",
        Ink.Muted => "muted",
        Ink.Accent => "accent",
        Ink.Paper => "paper",
        Ink.Shade => "shade",
        _ => throw new ArgumentOutOfRangeException(nameof(ink), ink, "Expected an ink with a colour."),
    };

    // A part keeps its element from one drawing to the next, however many come and go before it: only what changed is sent.
    private RenderFragment Parts(IEnumerable<FigureElement> elements) => builder =>
    {
        var alike = new Dictionary<(Type, string?), int>();
        foreach (var element in elements)
        {
            var kind = (element.GetType(), element.Subject);
            alike[kind] = alike.GetValueOrDefault(kind) + 1;
            Draw(element, (kind, alike[kind]))(builder);
        }
    };

    // Written by hand because <text> means something else to Razor.
    private RenderFragment Draw(FigureElement element, object? key = null) => builder =>
    {
        if (!Pointing && Shape(element) is { } shape)
        {
            builder.AddMarkupContent(95, shape);
            return;
        }

        switch (element)
        {
            case Box box:
                builder.OpenElement(0, "rect");
                builder.AddAttribute(1, "x", Number(box.X));
                builder.AddAttribute(2, "y", Number(box.Y));
                builder.AddAttribute(3, "width", Number(box.Width));
                builder.AddAttribute(4, "height", Number(box.Height));
                if (box.Corner > 0)
                {
                    builder.AddAttribute(5, "rx", Number(box.Corner));
                }

                AddInk(builder, element.Stroke, element.Fill, element);
                break;
            case Circle circle:
                builder.OpenElement(10, "circle");
                builder.AddAttribute(11, "cx", Number(circle.X));
                builder.AddAttribute(12, "cy", Number(circle.Y));
                builder.AddAttribute(13, "r", Number(circle.Radius));
                AddInk(builder, element.Stroke, element.Fill, element);
                break;
            case Alike alike:
                builder.OpenElement(25, "path");
                builder.AddAttribute(26, "d", Outlines(alike.Parts));
                AddInk(builder, element.Stroke, element.Fill, element);
                break;
            case Polyline line:
                builder.OpenElement(20, line.Closed ? "polygon" : "polyline");
                builder.AddAttribute(21, "points", Points(line.Points.AsSpan()));
                AddInk(builder, element.Stroke, element.Fill, element);
                break;
            case Arrow arrow:
                DrawArrow(builder, arrow, key);
                return;
            case Cells cells:
                // Strokes one cell wide: a third of the text that rectangles would take.
                builder.OpenElement(80, "path");
                var upright = cells.Runs.All(run => run.Columns == 1);
                var (left, top) = (cells.X + (upright ? cells.CellWidth / 2 : 0), cells.Y + (upright ? 0 : cells.CellHeight / 2));
                builder.AddAttribute(81, "transform", $"translate({Fine(left)} {Fine(top)}) scale({Fine(cells.CellWidth)} {Fine(cells.CellHeight)})");
                builder.AddAttribute(82, "d", Strokes(cells, upright));
                builder.AddAttribute(83, "class", $"s-{InkName(cells.Fill)}");
                if (cells.FillOpacity < 1)
                {
                    builder.AddAttribute(84, "stroke-opacity", Fine(cells.FillOpacity));
                }

                AddSubject(builder, element);

                break;
            case Texts texts:
                builder.OpenElement(100, "g");
                AddLook(builder, texts.Labels[0]);
                foreach (var label in texts.Labels)
                {
                    builder.OpenElement(101, "text");
                    AddPlace(builder, label);
                    builder.AddContent(102, label.Text);
                    builder.CloseElement();
                }

                break;
            case Label label:
                builder.OpenElement(30, "text");
                AddPlace(builder, label);
                AddLook(builder, label);
                AddSubject(builder, element);
                builder.AddContent(90, label.Text);
                break;
            default:
                throw new ArgumentException($"No drawing for a {element.GetType().Name}.", nameof(element));
        }

        builder.SetKey(key);
        AddHint(builder, element);
        builder.CloseElement();
    };

    // Half a unit off is not seen in a letter nobody points at.
    private void AddPlace(RenderTreeBuilder builder, Label label)
    {
        builder.AddAttribute(31, "x", Number(Pointing ? label.X : Math.Round(label.X)));
        builder.AddAttribute(32, "y", Number(Pointing ? label.Y : Math.Round(label.Y)));
    }

    private void AddLook(RenderTreeBuilder builder, Label label)
    {
        var size = Pointing ? null : SizeClass(label.Size);
        if (label.Size != UsualTextSize && size is null)
        {
            builder.AddAttribute(33, "font-size", Number(label.Size));
        }

        builder.AddAttribute(35, "class", Join(
            size,
            label.Fill is Ink.None or Ink.Text ? null : $"f-{InkName(label.Fill)}",
            label.Anchor switch
            {
                TextAnchor.Start => null,
                TextAnchor.Middle => "a-middle",
                TextAnchor.End => "a-end",
                _ => throw new ArgumentOutOfRangeException(nameof(label), label.Anchor, "Expected start, middle or end."),
            },
            label.Bold ? "bold" : null));
    }

    // A shape nobody points at as one piece of text, closed in itself: numbers and class names only, nothing to escape.
    private string? Shape(FigureElement element)
    {
        var start = element switch
        {
            Box box => $"<rect x=\"{Number(box.X)}\" y=\"{Number(box.Y)}\" width=\"{Number(box.Width)}\" height=\"{Number(box.Height)}\"{(box.Corner > 0 ? $" rx=\"{Number(box.Corner)}\"" : "")}",
            Circle circle => $"<circle cx=\"{Number(circle.X)}\" cy=\"{Number(circle.Y)}\" r=\"{Number(circle.Radius)}\"",
            Alike alike => $"<path d=\"{Outlines(alike.Parts)}\"",
            _ => null,
        };
        return start is null ? null : $"{start}{string.Concat(InkOf(element.Stroke, element.Fill, element).Select(attribute => $" {attribute.Name}=\"{attribute.Value}\""))}/>";
    }

    private void DrawArrow(RenderTreeBuilder builder, Arrow arrow, object? key)
    {
        var (shaft, head) = Parts(arrow);
        builder.OpenElement(40, "g");
        builder.SetKey(key);
        AddSubject(builder, arrow);
        AddHint(builder, arrow);
        builder.OpenElement(41, "polyline");
        builder.AddAttribute(42, "points", Points(shaft));
        AddInk(builder, arrow.Stroke, Ink.None, arrow, subject: false);
        builder.CloseElement();
        builder.OpenElement(43, "polygon");
        builder.AddAttribute(44, "points", Points(head));
        AddInk(builder, Ink.None, arrow.Stroke, arrow, subject: false);
        builder.CloseElement();
        if (Moving && arrow is { Dashed: false, Subject: not null })
        {
            // Gaps that run along the shaft: a strong flow has wide ones.
            builder.OpenElement(45, "polyline");
            builder.AddAttribute(46, "points", Points(shaft));
            builder.AddAttribute(47, "class", "flow s-paper");
            builder.AddAttribute(48, "stroke-width", Fine(Math.Max(0.8, arrow.StrokeWidth - 1.6)));
            builder.CloseElement();
        }

        builder.CloseElement();
    }

    // The shaft ends where the head begins, or a thick one would blunt its tip.
    private static (FigurePoint[] Shaft, FigurePoint[] Head) Parts(Arrow arrow)
    {
        if (arrow.Points.Length < 2)
        {
            throw new ArgumentException("An arrow needs at least two points.", nameof(arrow));
        }

        FigurePoint[] head = [.. arrow.Head()];
        FigurePoint[] shaft = [.. arrow.Points];
        shaft[^1] = new FigurePoint((head[1].X + head[2].X) / 2, (head[1].Y + head[2].Y) / 2);
        return (shaft, head);
    }

    private void AddInk(RenderTreeBuilder builder, Ink stroke, Ink fill, FigureElement element, bool subject = true)
    {
        builder.AddMultipleAttributes(50, InkOf(stroke, fill, element).Select(attribute => KeyValuePair.Create(attribute.Name, (object)attribute.Value)));

        if (subject)
        {
            AddSubject(builder, element);
        }
    }

    private IEnumerable<(string Name, string Value)> InkOf(Ink stroke, Ink fill, FigureElement element)
    {
        var width = Pointing || stroke == Ink.None ? null : WidthClass(element.StrokeWidth);
        var opacity = Pointing || fill == Ink.None ? null : OpacityClass(element.FillOpacity);
        if (Join(stroke == Ink.None ? null : $"s-{InkName(stroke)}", fill == Ink.None ? null : $"f-{InkName(fill)}", width, width is not null && element.Dashed ? "d" : null, opacity) is { } classes)
        {
            yield return ("class", classes);
        }

        if (stroke != Ink.None && element.StrokeWidth != 1 && width is null)
        {
            yield return ("stroke-width", Fine(element.StrokeWidth));
        }

        if (stroke != Ink.None && element.Dashed && width is null)
        {
            yield return ("stroke-dasharray", $"{Number(element.StrokeWidth * 4)} {Number(element.StrokeWidth * 3)}");
        }

        if (fill != Ink.None && element.FillOpacity < 1 && opacity is null)
        {
            yield return ("fill-opacity", Fine(element.FillOpacity));
        }
    }

    // The style sheet has a class for each of these: a third of the bytes of the attribute. What it lacks is an attribute.
    internal static readonly int[] WidthClasses = [3, 4, 5, 6, 7, 8, 9, 11, 12, 14, 16, 18, 20, 22, 24];
    internal static readonly int[] OpacityClasses = [8, 10, 22, 25, 30, 35, 40, 45, 60, 70, 75, 80, 85, 90];
    internal static readonly int[] SizeClasses = [105, 11, 12];

    private static string? WidthClass(double width) => ClassOf('w', width * 10, WidthClasses);

    private static string? OpacityClass(double opacity) => ClassOf('o', opacity * 100, OpacityClasses);

    private static string? SizeClass(double size) => ClassOf('z', size, SizeClasses) ?? ClassOf('z', size * 10, SizeClasses);

    private static string? ClassOf(char name, double value, int[] known) =>
        Math.Abs(value - Math.Round(value)) < 1e-6 && known.Contains((int)Math.Round(value)) ? name + ((int)Math.Round(value)).ToString(CultureInfo.InvariantCulture) : null;

    // No class, no attribute.
    private static string? Join(params ReadOnlySpan<string?> classes)
    {
        var text = new StringBuilder();
        foreach (var name in classes)
        {
            if (name is not null)
            {
                text.Append(text.Length == 0 ? "" : " ").Append(name);
            }
        }

        return text.Length == 0 ? null : text.ToString();
    }

    private void AddSubject(RenderTreeBuilder builder, FigureElement element)
    {
        if (!Pointing || element.Subject is not { } name)
        {
            return;
        }

        builder.AddAttribute(60, "data-subject", name);
    }

    private void AddHint(RenderTreeBuilder builder, FigureElement element)
    {
        if (Pointing && element.Hint is { } hint)
        {
            builder.OpenElement(70, "title");
            builder.AddContent(71, hint);
            builder.CloseElement();
        }
    }

    private static string Points(ReadOnlySpan<FigurePoint> points)
    {
        var text = new StringBuilder();
        foreach (var point in points)
        {
            if (text.Length > 0)
            {
                text.Append(' ');
            }

            text.Append(Number(point.X)).Append(',').Append(Number(point.Y));
        }

        return text.ToString();
    }

    // Strokes through the middle of the cells, down the columns where all runs are one column wide, along the rows
    // otherwise; each move is told from where the last stroke ended.
    private static string Strokes(Cells cells, bool upright)
    {
        var text = new StringBuilder();
        var (x, y) = (0, 0);
        foreach (var run in cells.Runs)
        {
            for (var line = 0; line < (upright ? run.Columns : run.Rows); line++)
            {
                var (column, row) = upright ? (run.Column + line, run.Row) : (run.Column, run.Row + line);
                text.Append(CultureInfo.InvariantCulture, $"m{column - x}{(row < y ? "" : " ")}{row - y}");
                text.Append(upright ? 'v' : 'h').Append(CultureInfo.InvariantCulture, $"{(upright ? run.Rows : run.Columns)}");
                (x, y) = upright ? (column, row + run.Rows) : (column + run.Columns, row);
            }
        }

        return text.ToString();
    }

    private static FigureElement Mark(LegendEntry entry) => entry.Mark switch
    {
        LegendMark.Area => new Box(2, 1, 14, 10) { Fill = entry.Ink, FillOpacity = entry.Opacity, Stroke = Ink.Rule, StrokeWidth = 0.5 },
        LegendMark.Line => new Polyline([new(0, 6), new(18, 6)]) { Stroke = entry.Ink, StrokeWidth = 2 },
        LegendMark.Dashed => new Polyline([new(0, 6), new(18, 6)]) { Stroke = entry.Ink, StrokeWidth = 2, Dashed = true },
        LegendMark.Arrow => new Arrow([new(0, 6), new(18, 6)], 8) { Stroke = entry.Ink, StrokeWidth = 2 },
        LegendMark.Dot => new Circle(9, 6, 4.5) { Fill = entry.Ink },
        LegendMark.Ring => new Circle(9, 6, 4) { Stroke = entry.Ink, StrokeWidth = 2 },
        LegendMark.DashedRing => new Circle(9, 6, 4.5) { Stroke = entry.Ink, StrokeWidth = 1.2, Dashed = true },
        LegendMark.Square => new Box(4, 1, 10, 10) { Stroke = entry.Ink, StrokeWidth = 2 },
        LegendMark.Thin => new Polyline([new(0, 6), new(18, 6)]) { Stroke = entry.Ink, StrokeWidth = 0.8 },
        LegendMark.Cross => new Polyline([new(4, 1), new(14, 11), new(9, 6), new(14, 1), new(4, 11)]) { Stroke = entry.Ink, StrokeWidth = 1.8 },
        LegendMark.Hatch => new Polyline([new(0, 11), new(6, 1), new(6, 11), new(12, 1), new(12, 11), new(18, 1)]) { Stroke = entry.Ink },
        _ => throw new ArgumentOutOfRangeException(nameof(entry), entry.Mark, "Expected a known mark."),
    };

    // Each step is told from the point before it, in tenths of a unit so that no rounding adds up: half the bytes of a
    // list of points.
    private static string Outlines(IEnumerable<FigureElement> parts)
    {
        var text = new StringBuilder();
        var (x, y) = (0, 0);
        foreach (var part in parts)
        {
            IReadOnlyList<FigurePoint> points = part switch
            {
                Polyline line => line.Points,
                Box box =>
                [
                    new(box.X, box.Y),
                    new(box.X + box.Width, box.Y),
                    new(box.X + box.Width, box.Y + box.Height),
                    new(box.X, box.Y + box.Height),
                ],
                _ => throw new ArgumentException($"No outline of a {part.GetType().Name}.", nameof(parts)),
            };
            var first = true;
            var start = (x, y);
            foreach (var point in points)
            {
                var (nextX, nextY) = (Tenths(point.X), Tenths(point.Y));
                Step(first, nextX - x, nextY - y);
                (x, y) = (nextX, nextY);
                if (first)
                {
                    (start, first) = ((x, y), false);
                }
            }

            if (part is Box or Polyline { Closed: true })
            {
                text.Append('z');
                (x, y) = start;
            }
        }

        return text.ToString();

        void Step(bool move, int right, int down)
        {
            if (!move && down == 0)
            {
                text.Append('h').Append(OfTenths(right));
            }
            else if (!move && right == 0)
            {
                text.Append('v').Append(OfTenths(down));
            }
            else
            {
                text.Append(move ? 'm' : 'l').Append(OfTenths(right)).Append(down < 0 ? "" : " ").Append(OfTenths(down));
            }
        }

        static int Tenths(double value) => (int)Math.Round(value * 10);

        static string OfTenths(int tenths) => (tenths / 10m).ToString("0.#", CultureInfo.InvariantCulture);
    }

    /// <summary>Texts of one look.</summary>
    private sealed record Texts(IReadOnlyList<Label> Labels) : FigureElement;

    /// <summary>The area a shape covers with its line, in units of the figure.</summary>
    private readonly record struct Extent(double Left, double Top, double Right, double Bottom)
    {
        private static readonly Extent Everywhere = new(double.MinValue, double.MinValue, double.MaxValue, double.MaxValue);

        public static Extent Of(FigureElement element) => element switch
        {
            Box box => new Extent(box.X, box.Y, box.X + box.Width, box.Y + box.Height).Grown(element),
            Circle circle => new Extent(circle.X - circle.Radius, circle.Y - circle.Radius, circle.X + circle.Radius, circle.Y + circle.Radius).Grown(element),
            Polyline { Points.IsEmpty: false } line => new Extent(
                line.Points.Min(point => point.X), line.Points.Min(point => point.Y), line.Points.Max(point => point.X), line.Points.Max(point => point.Y)).Grown(element),
            _ => Everywhere,
        };

        public bool Meets(Extent other) => Left < other.Right && other.Left < Right && Top < other.Bottom && other.Top < Bottom;

        // A sharp corner reaches further than half the line's width.
        private Extent Grown(FigureElement element)
        {
            var by = element.Stroke == Ink.None ? 0 : element.StrokeWidth;
            return new(Left - by, Top - by, Right + by, Bottom + by);
        }
    }

    /// <summary>Lines and boxes of one style.</summary>
    private sealed record Alike(List<FigureElement> Parts) : FigureElement
    {
        public bool Looks(FigureElement other) =>
            (other.Stroke, other.Fill, other.StrokeWidth, other.Dashed, other.FillOpacity) == (Stroke, Fill, StrokeWidth, Dashed, FillOpacity);
    }
}
