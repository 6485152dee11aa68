using System.Collections.Immutable;
using ConsultDesk.Reports.Fonts;

namespace ConsultDesk.Reports.Figures;

/// <summary>An area of a figure in its units.</summary>
internal readonly record struct Area2(double X, double Y, double Width, double Height)
{
    public double Right => X + Width;

    public double Bottom => Y + Height;

    public double CentreX => X + (Width / 2);

    public double CentreY => Y + (Height / 2);

    public Area2 Grown(double by) => new(X - by, Y - by, Width + (2 * by), Height + (2 * by));

    public double Overlap(Area2 other) =>
        Math.Max(0, Math.Min(Right, other.Right) - Math.Max(X, other.X))
        * Math.Max(0, Math.Min(Bottom, other.Bottom) - Math.Max(Y, other.Y));

    public bool Contains(Area2 other) => other.X >= X && other.Y >= Y && other.Right <= Right && other.Bottom <= Bottom;
}

/// <summary>
/// A figure being drawn: collects primitives and remembers what is already taken, so that a label finds a free place.
/// </summary>
internal sealed class FigureCanvas(double width, double height)
{
    /// <summary>Size of ordinary text in a figure: 7.5 pt on paper.</summary>
    public const double TextSize = 10;

    private const double TextWeight = 20;

    private readonly ImmutableArray<FigureElement>.Builder _elements = ImmutableArray.CreateBuilder<FigureElement>();
    private readonly List<(Area2 Area, double Weight)> _taken = [];

    public double Width { get; } = width;

    public double Height { get; } = height;

    public ImmutableArray<FigureElement> Elements => _elements.ToImmutable();

    public void Add(FigureElement element) => _elements.Add(element);

    /// <summary>Marks an area that labels should keep out of; the greater the weight, the more so.</summary>
    public void Take(Area2 area, double weight = 1) => _taken.Add((area, weight));

    /// <summary>Adds text and takes its area.</summary>
    public void Write(
        double x,
        double baseline,
        string text,
        TextAnchor anchor = TextAnchor.Start,
        Ink ink = Ink.Text,
        bool bold = false,
        double size = TextSize,
        string? subject = null)
    {
        Add(new Label(x, baseline, text, size, anchor, bold) { Fill = ink, Subject = subject });
        Take(TextArea(x, baseline, text, anchor, bold, size), TextWeight);
    }

    public void Line(Ink ink, double strokeWidth, bool dashed, params ReadOnlySpan<FigurePoint> points) =>
        Add(new Polyline([.. points]) { Stroke = ink, StrokeWidth = strokeWidth, Dashed = dashed });

    /// <summary>The area a text covers.</summary>
    public static Area2 TextArea(double x, double baseline, string text, TextAnchor anchor, bool bold, double size)
    {
        var width = ReportFonts.Width(text, size, bold);
        var left = anchor switch
        {
            TextAnchor.Start => x,
            TextAnchor.Middle => x - (width / 2),
            TextAnchor.End => x - width,
            _ => throw new ArgumentOutOfRangeException(nameof(anchor), anchor, "Expected start, middle or end."),
        };
        return new(left, baseline - (0.78 * size), width, size);
    }

    /// <summary>The text, shortened with an ellipsis to fit a width; the figure's table has it in full.</summary>
    public static string Fit(string text, double width, double size = TextSize, bool bold = false)
    {
        if (ReportFonts.Width(text, size, bold) <= width)
        {
            return text;
        }

        var shortened = text;
        while (shortened.Length > 1 && ReportFonts.Width(shortened + "…", size, bold) > width)
        {
            shortened = shortened[..^(char.IsLowSurrogate(shortened[^1]) ? 2 : 1)].TrimEnd();
        }

        return shortened + "…";
    }

    /// <summary>How much of what is taken an area covers, by weight.</summary>
    public double Crowding(Area2 area) => _taken.Sum(taken => taken.Weight * taken.Area.Overlap(area));

    /// <summary>
    /// The best free place for a label of a size near a point, which it takes. Nearer is better, overlapping what is
    /// taken is much worse, and outside the figure or <paramref name="within"/> is never chosen. Null when nothing
    /// costs less than <paramref name="worst"/>. With a <paramref name="leader"/>, a line back to the point is charged for
    /// the text it would cross.
    /// </summary>
    public Area2? Find(double x, double y, double labelWidth, double labelHeight, double gap, Area2? within = null, double worst = double.PositiveInfinity, bool leader = false)
    {
        const int Directions = 24;
        const double Reach = 150;
        const double Step = 5;
        var bounds = within ?? new Area2(1, 1, Width - 2, Height - 2);
        Area2? best = null;

        // A place costs at least its distance, so that nothing farther off than the best so far can be better.
        for (var distance = gap; distance <= gap + Reach && distance < worst; distance += Step)
        {
            for (var direction = 0; direction < Directions; direction++)
            {
                var (sin, cos) = Math.SinCos(2 * Math.PI * direction / Directions);

                // The label's edge, not its middle, is the distance away: a wide label lies further off sideways.
                var candidate = new Area2(
                    x + (cos * (distance + (labelWidth / 2))) - (labelWidth / 2),
                    y + (sin * (distance + (labelHeight / 2))) - (labelHeight / 2),
                    labelWidth,
                    labelHeight);
                if (!bounds.Contains(candidate))
                {
                    continue;
                }

                var cost = distance;
                foreach (var (area, weight) in _taken)
                {
                    cost += weight * area.Overlap(candidate.Grown(2));
                    if (cost >= worst)
                    {
                        break;
                    }
                }

                if (leader && cost < worst)
                {
                    cost += Crossings(x, y, candidate);
                }

                if (cost < worst)
                {
                    (best, worst) = (candidate, cost);
                }
            }
        }

        if (best is { } place)
        {
            Take(place, TextWeight);
        }

        return best;
    }

    private double Crossings(double x, double y, Area2 label)
    {
        const int Samples = 10;
        const double Cost = 12;
        var (endX, endY) = (Math.Clamp(x, label.X, label.Right), Math.Clamp(y, label.Y, label.Bottom));
        double cost = 0;
        for (var sample = 1; sample < Samples; sample++)
        {
            var (px, py) = (x + ((endX - x) * sample / Samples), y + ((endY - y) * sample / Samples));
            foreach (var (area, weight) in _taken)
            {
                if (weight >= TextWeight && px > area.X && px < area.Right && py > area.Y && py < area.Bottom)
                {
                    cost += Cost;
                }
            }
        }

        return cost;
    }
}
