using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Fonts;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Figures;

/// <summary>The roof seen from above: lids, ribs, panels and racks, the area left free, and what meets.</summary>
internal sealed class VanRoofSheet(Design design, DisplayUnits units)
    : VanSheet(design, null, units, null, RightMargin, scale => Top + (design.Body.InteriorWidth.Meters * scale) + Below)
{
    private const double RightMargin = 74;
    private const double Top = 40;
    private const double Below = 66;

    private readonly ImmutableArray<PlaceClash> _clashes = [.. RoofPlan.Clashes(design).Where(clash => clash.Face == Face.Roof)];
    private readonly ImmutableArray<RoofItem> _items = [.. ItemsOf(design)];

    private double Bottom => Top + (WidthM * Scale);

    public Figure Draw()
    {
        DrawRoof();
        FreeArea();
        foreach (var item in _items)
        {
            DrawItem(item);
        }

        ClashMarks();
        Dimensions();
        Foot(Canvas.Height - 8);
        foreach (var item in _items)
        {
            Name(item);
        }

        var free = Area.FromSquareMeters(FreeM2());
        return new Figure
        {
            Id = "van-roof",
            Title = "The roof from above",
            AltText = Alt(free),
            Width = Canvas.Width,
            Height = Canvas.Height,
            Scale = new DrawingScale(Scale, X(0), Y(0)),
            Elements = Canvas.Elements,
            Legend = [.. RoofLegend()],
            Table = new DataTable
            {
                Caption = $"What takes up the roof; {Units.Format(Measure.LargeArea, free)} is free for a lid",
                Heads = ["No.", "Part", "Behind the windscreen’s foot", "From the left wall", "Along", "Across", "Stage", "Meets"],
                NumberColumns = [2, 3, 4, 5],
                Rows = [.. _items.Select(Row)],
            },
        };
    }

    /// <summary>Roof that nothing takes up, m2: what is left of the outline inside the walls.</summary>
    internal double FreeM2()
    {
        // Between any two neighbouring edges the roof is either taken or free all over.
        var alongs = Edges(_items.SelectMany(item => new[] { item.FromM, item.ToM }), LengthM);
        var acrosses = Edges(_items.SelectMany(item => new[] { item.LowM, item.HighM }), WidthM);
        double free = 0;
        foreach (var (from, to) in alongs.Zip(alongs.Skip(1)))
        {
            foreach (var (low, high) in acrosses.Zip(acrosses.Skip(1)))
            {
                if (IsFree((from + to) / 2, (low + high) / 2))
                {
                    free += (to - from) * (high - low);
                }
            }
        }

        return free;

        static List<double> Edges(IEnumerable<double> edges, double end) =>
            [.. edges.Select(edge => Math.Clamp(edge, 0, end)).Append(0).Append(end).Distinct().Order()];
    }

    private static IEnumerable<RoofItem> ItemsOf(Design design)
    {
        foreach (var (index, opening) in design.Openings.Index().Where(pair => pair.Item.Face == Face.Roof))
        {
            yield return Item(opening.Id, NumberOf(index), opening.Name, opening.X, opening.Y, opening.Length, opening.Width, opening.State, RoofItemKind.Lid);
        }

        var letter = 0;
        foreach (var part in design.Body.RoofParts)
        {
            yield return Item(part.Id, LetterOf(letter++), part.Name, part.X, part.Y, part.Length, part.Width, part.State, RoofItemKind.Part);
        }

        foreach (var part in design.Body.HiddenParts.Where(part => part.Face == Face.Roof))
        {
            yield return Item(part.Id, LetterOf(letter++), part.Name, part.X, part.Y, part.Length, part.Width, null, RoofItemKind.Hidden);
        }

        static RoofItem Item(string id, string mark, string name, Length x, Length y, Length length, Length width, PartState? stage, RoofItemKind kind) => new(
            id,
            mark,
            name,
            (x - (length / 2)).Meters,
            (x + (length / 2)).Meters,
            (y - (width / 2)).Meters,
            (y + (width / 2)).Meters,
            stage,
            kind);
    }

    private double Y(double metresFromLeft) => Bottom - (metresFromLeft * Scale);

    // What reaches beyond the roof is drawn as far as the sheet goes.
    private Area2 AreaOf(RoofItem item)
    {
        var (from, to) = (Math.Max(1, X(item.FromM)), Math.Min(SheetWidth - 1, X(item.ToM)));
        var (top, bottom) = (Math.Max(1, Y(item.HighM)), Math.Min(Canvas.Height - 1, Y(item.LowM)));
        return new(from, top, Math.Max(1, to - from), Math.Max(1, bottom - top));
    }

    private void DrawRoof()
    {
        var half = WidthM / 2;
        FigurePoint P(double x, double y) => new(X(x), Y(y));
        Canvas.Add(new Polyline(
            Rounded(
                (P(LengthM + ShellM, -ShellM), 0.10 * Scale),
                (P(LengthM + ShellM, WidthM + ShellM), 0.10 * Scale),
                (P(-0.35, WidthM + ShellM), 0.25 * Scale),
                (P(-NoseM, half + (0.80 * half)), 0.35 * Scale),
                (P(-NoseM, half - (0.80 * half)), 0.35 * Scale),
                (P(-0.35, -ShellM), 0.25 * Scale)),
            Closed: true)
        {
            Stroke = Ink.Body,
            StrokeWidth = 1.6,
            Fill = Ink.Body,
            FillOpacity = 0.10,
        });
        Canvas.Add(new Box(X(0), Top, LengthM * Scale, WidthM * Scale, 3) { Stroke = Ink.Body, StrokeWidth = 0.8, Fill = Ink.Paper, FillOpacity = 0.9 });
        Canvas.Write(X(-NoseM) + 8, Top + (WidthM * Scale / 2) + 3.6, FigureCanvas.Fit("Front", NoseM * Scale - 12), ink: Ink.Muted);
    }

    // Slanting lines wherever nothing lies.
    private void FreeArea()
    {
        const double Spacing = 9;
        const double Step = 1.5;
        var (width, height) = (LengthM * Scale, WidthM * Scale);
        for (var offset = -height + Spacing; offset < width; offset += Spacing)
        {
            FigurePoint? start = null;
            FigurePoint last = default;
            for (var along = Math.Max(0, offset); along <= Math.Min(width, offset + height); along += Step)
            {
                var point = new FigurePoint(X(0) + along, Bottom - (along - offset));
                if (IsFree(along / Scale, (along - offset) / Scale))
                {
                    start ??= point;
                    last = point;
                }
                else if (start is not null)
                {
                    Line(start.Value, last);
                    start = null;
                }
            }

            if (start is { } open)
            {
                Line(open, last);
            }
        }

        void Line(FigurePoint from, FigurePoint to)
        {
            if (to.X - from.X > 2)
            {
                Canvas.Add(new Polyline([from, to]) { Stroke = Ink.Rule, StrokeWidth = 0.7, Subject = "free-roof" });
            }
        }
    }

    private bool IsFree(double alongM, double acrossM) => !_items.Any(item => item.Holds(alongM, acrossM));

    private void DrawItem(RoofItem item)
    {
        var area = AreaOf(item);
        var ink = item.Kind == RoofItemKind.Lid ? Ink.Opening : item.Kind == RoofItemKind.Part ? Ink.Furniture : Ink.Body;
        Canvas.Add(new Box(area.X, area.Y, area.Width, area.Height, item.Kind == RoofItemKind.Lid ? 3 : 0)
        {
            Stroke = ink,
            StrokeWidth = item.Kind == RoofItemKind.Hidden ? 0.8 : 1.6,
            Dashed = item.Stage == PartState.Later,
            Fill = item.Kind == RoofItemKind.Lid ? Ink.Paper : ink,
            FillOpacity = item.Kind switch { RoofItemKind.Lid => 0.8, RoofItemKind.Part => 0.25, _ => 0.4 },
            Subject = item.Id,
            Hint = Hint(item),
        });
        Canvas.Take(area, item.Kind == RoofItemKind.Lid ? 2 : 0.05);
        if (item.Kind == RoofItemKind.Lid)
        {
            Canvas.Add(new Polyline([new(area.Right, area.Y), new(area.X, area.CentreY), new(area.Right, area.Bottom)]) { Stroke = Ink.Opening, StrokeWidth = 0.8, Subject = item.Id });
        }
    }

    private static string Hint(RoofItem item) => item.Stage is { } stage ? $"{item.Name}, {StageOf(stage)}" : item.Name;

    private void ClashMarks()
    {
        foreach (var (index, clash) in _clashes.Index())
        {
            if (_items.FirstOrDefault(item => item.Id == clash.IdA) is not { } one)
            {
                continue;
            }

            var area = AreaOf(one);
            if (_items.FirstOrDefault(item => item.Id == clash.IdB) is { } other)
            {
                var b = AreaOf(other);
                var (left, top) = (Math.Max(area.X, b.X), Math.Max(area.Y, b.Y));
                area = new(left, top, Math.Max(2, Math.Min(area.Right, b.Right) - left), Math.Max(2, Math.Min(area.Bottom, b.Bottom) - top));
            }

            foreach (var points in new ImmutableArray<FigurePoint>[] { [new(area.X, area.Y), new(area.Right, area.Bottom)], [new(area.Right, area.Y), new(area.X, area.Bottom)] })
            {
                Canvas.Add(new Polyline(points) { Stroke = Ink.Text, StrokeWidth = 2, Subject = clash.IdA, Hint = clash.Reason });
            }

            var text = $"clash {NumberOf(index)}";
            var width = ReportFonts.Width(text, FigureCanvas.TextSize, bold: true);
            if (Canvas.Find(area.CentreX, area.CentreY, width, FigureCanvas.TextSize, 8, leader: true) is { } place)
            {
                Canvas.Add(new Box(place.X - 1, place.Y - 1, place.Width + 2, place.Height + 2, 3) { Fill = Ink.Paper, FillOpacity = 0.9, Subject = clash.IdA });
                Canvas.Add(new Label(place.X, place.Y + 8, text, FigureCanvas.TextSize, Bold: true) { Fill = Ink.Text, Subject = clash.IdA });
            }
        }
    }

    private void Name(RoofItem item)
    {
        var area = AreaOf(item);
        if (item.Kind == RoofItemKind.Lid)
        {
            const double Radius = 8;
            var mark = Canvas.Find(area.CentreX, area.CentreY, 2 * Radius, 2 * Radius, -Radius, leader: true)
                ?? throw new InvalidOperationException($"The roof has no room for the number of {item.Name}.");
            NumberMark(Design.Openings.IndexOf(Design.Openings.First(opening => opening.Id == item.Id)), new(mark.CentreX, mark.CentreY), Radius);
            return;
        }

        // Letter and name where both fit, else the letter, which the table explains.
        foreach (var text in new[] { $"{item.Mark} {item.Name}", item.Mark })
        {
            var width = ReportFonts.Width(text, FigureCanvas.TextSize);
            var inside = area.Width > width + 4 && area.Height > FigureCanvas.TextSize + 4;
            if (Canvas.Find(area.CentreX, area.CentreY, width + 2, FigureCanvas.TextSize + 2, inside ? -width / 2 : 3, inside ? area : null, worst: text == item.Mark ? double.PositiveInfinity : 60, leader: !inside) is { } place)
            {
                Canvas.Add(new Box(place.X, place.Y, place.Width, place.Height, 2) { Fill = Ink.Paper, FillOpacity = 0.85, Subject = item.Id });
                Canvas.Add(new Label(place.X + 1, place.Y + 9, text, FigureCanvas.TextSize) { Fill = Ink.Text, Subject = item.Id });
                return;
            }
        }
    }

    private void Dimensions()
    {
        var y = Canvas.Height - 30;
        Canvas.Line(Ink.Rule, 0.5, false, new(X(0), Bottom + 8), new(X(0), y + 5));
        Canvas.Line(Ink.Rule, 0.5, false, new(X(LengthM), Bottom + 8), new(X(LengthM), y + 5));
        Dimension(new(X(0), y), new(X(LengthM), y), Units.Format(Measure.LargeLength, Design.Body.InteriorLength));
        var x = SheetWidth - 46;
        Dimension(new(x, Top), new(x, Bottom), Units.Format(Measure.LargeLength, Design.Body.InteriorWidth));
    }

    private IEnumerable<LegendEntry> RoofLegend()
    {
        foreach (var state in _items.Where(item => item.Kind == RoofItemKind.Lid).Select(item => item.Stage!.Value).Distinct().Order())
        {
            yield return new(MarkOf(state), Ink.Opening, $"Lid, numbered as in the other drawings: {StageOf(state)}");
        }

        if (_items.Any(item => item.Kind == RoofItemKind.Part))
        {
            yield return new(LegendMark.Area, Ink.Furniture, "Lies on the roof; dashed when it comes later", 0.25);
        }

        if (_items.Any(item => item.Kind == RoofItemKind.Hidden))
        {
            yield return new(LegendMark.Area, Ink.Body, "Behind the skin: never cut", 0.4);
        }

        yield return new(LegendMark.Hatch, Ink.Rule, "Free as far as anybody knows: look for ribs and wiring before a cut");
        foreach (var (index, clash) in _clashes.Index())
        {
            yield return new(LegendMark.Cross, Ink.Text, $"Clash {NumberOf(index)}: {clash.Reason}");
        }
    }

    private ImmutableArray<string> Row(RoofItem item) =>
    [
        item.Mark,
        item.Name,
        Units.Format(Measure.LargeLength, Length.FromMeters((item.FromM + item.ToM) / 2)),
        Units.Format(Measure.LargeLength, Length.FromMeters((item.LowM + item.HighM) / 2)),
        Units.Format(Measure.SmallLength, Length.FromMeters(item.ToM - item.FromM)),
        Units.Format(Measure.SmallLength, Length.FromMeters(item.HighM - item.LowM)),
        item.Stage is { } stage ? StageOf(stage) : DataTable.Nothing,
        string.Join(" ", _clashes.Where(clash => clash.IdA == item.Id || clash.IdB == item.Id).Select(clash => clash.Reason)) is { Length: > 0 } reasons
            ? reasons
            : DataTable.Nothing,
    ];

    private string Alt(Area free)
    {
        var parts = _items.IsEmpty
            ? "Nothing lies on it."
            : string.Join(" ", _items.Select(item => $"{item.Mark} {Hint(item)}, {Units.Format(Measure.LargeLength, Length.FromMeters((item.FromM + item.ToM) / 2))} behind the windscreen’s foot."));
        var clashes = _clashes.IsEmpty ? "Nothing that is known meets." : "Clashes: " + string.Join(" ", _clashes.Select(clash => clash.Reason));
        return string.Create(
            CultureInfo.InvariantCulture,
            $"The roof from above, nose to the left, at a scale of 1:{Denominator}. {parts} {Units.Format(Measure.LargeArea, free)} is free for a lid. {clashes}");
    }

    private enum RoofItemKind
    {
        Lid,
        Part,
        Hidden,
    }

    /// <summary>A rectangle of the roof, m from the windscreen and from the left wall.</summary>
    private sealed record RoofItem(string Id, string Mark, string Name, double FromM, double ToM, double LowM, double HighM, PartState? Stage, RoofItemKind Kind)
    {
        public bool Holds(double alongM, double acrossM) => alongM > FromM && alongM < ToM && acrossM > LowM && acrossM < HighM;
    }
}
