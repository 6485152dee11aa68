using System.Collections.Immutable;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Fonts;
using PdfSharp.Drawing;

namespace ConsultDesk.Reports.Pdf;

/// <summary>Draws the primitives of a figure as vector graphics: the paper's twin of the page's SVG.</summary>
internal sealed class PdfFigureDrawer(XGraphics graphics, PdfPalette palette)
{
    /// <summary>Points per figure unit at natural size: a unit is 1/96 inch.</summary>
    public const double NaturalScale = 0.75;

    /// <summary>Draws a figure with its top left corner at a place, in points.</summary>
    public void Draw(Figure figure, double left, double top, double scale)
    {
        foreach (var element in figure.Elements)
        {
            Draw(element, left, top, scale);
        }
    }

    /// <summary>Draws one primitive of a figure whose origin lies at a place.</summary>
    public void Draw(FigureElement element, double left, double top, double scale)
    {
        var pen = Pen(element, scale);
        var brush = Brush(element);
        if (pen is null && brush is null && element is not Label)
        {
            // Something to point at on a page; nothing on paper.
            return;
        }

        switch (element)
        {
            case Box box:
                var area = new XRect(left + (box.X * scale), top + (box.Y * scale), box.Width * scale, box.Height * scale);
                if (box.Corner > 0)
                {
                    var corner = Math.Min(2 * box.Corner * scale, Math.Min(area.Width, area.Height));
                    graphics.DrawRoundedRectangle(pen, brush, area, new XSize(corner, corner));
                }
                else
                {
                    graphics.DrawRectangle(pen, brush, area);
                }

                break;
            case Circle circle:
                graphics.DrawEllipse(
                    pen,
                    brush,
                    new XRect(
                        left + ((circle.X - circle.Radius) * scale),
                        top + ((circle.Y - circle.Radius) * scale),
                        2 * circle.Radius * scale,
                        2 * circle.Radius * scale));
                break;
            case Polyline { Closed: true } polygon:
                graphics.DrawPolygon(pen, brush, Points(polygon.Points), XFillMode.Winding);
                break;
            case Polyline line:
                graphics.DrawLines(pen!, Points(line.Points));
                break;
            case Arrow arrow:
                var head = arrow.Head();
                ImmutableArray<FigurePoint> shaft = [.. arrow.Points[..^1], new((head[1].X + head[2].X) / 2, (head[1].Y + head[2].Y) / 2)];
                graphics.DrawLines(pen!, Points(shaft));
                graphics.DrawPolygon(null, new XSolidBrush(palette.Of(arrow.Stroke)), Points(head), XFillMode.Winding);
                break;
            case Cells cells:
                var outline = new XGraphicsPath { FillMode = XFillMode.Winding };
                foreach (var run in cells.Runs)
                {
                    outline.AddRectangle(
                        left + ((cells.X + (run.Column * cells.CellWidth)) * scale),
                        top + ((cells.Y + (run.Row * cells.CellHeight)) * scale),
                        run.Columns * cells.CellWidth * scale,
                        run.Rows * cells.CellHeight * scale);
                }

                if (brush is not null && !cells.Runs.IsEmpty)
                {
                    graphics.DrawPath(brush, outline);
                }

                break;
            case Label label:
                DrawLabel(label, left, top, scale);
                break;
            default:
                throw new ArgumentException($"No drawing for a {element.GetType().Name}.", nameof(element));
        }

        XPoint[] Points(ImmutableArray<FigurePoint> points) =>
            [.. points.Select(point => new XPoint(left + (point.X * scale), top + (point.Y * scale)))];
    }

    private void DrawLabel(Label label, double left, double top, double scale)
    {
        var width = ReportFonts.Width(label.Text, label.Size * scale, label.Bold);
        var x = left + (label.X * scale) - label.Anchor switch
        {
            TextAnchor.Start => 0,
            TextAnchor.Middle => width / 2,
            TextAnchor.End => width,
            _ => throw new ArgumentOutOfRangeException(nameof(label), label.Anchor, "Expected start, middle or end."),
        };
        var ink = label.Fill == Ink.None ? Ink.Text : label.Fill;
        graphics.DrawString(label.Text, PdfFonts.Font(label.Size * scale, label.Bold), new XSolidBrush(palette.Of(ink)), x, top + (label.Y * scale));
    }

    private XPen? Pen(FigureElement element, double scale)
    {
        if (element.Stroke == Ink.None)
        {
            return null;
        }

        var pen = new XPen(palette.Of(element.Stroke), element.StrokeWidth * scale) { LineJoin = XLineJoin.Round };
        if (element.Dashed)
        {
            // In multiples of the pen's width, as the page draws it.
            pen.DashPattern = [4, 3];
        }

        return pen;
    }

    private XSolidBrush? Brush(FigureElement element)
    {
        if (element.Fill == Ink.None || element.FillOpacity <= 0)
        {
            return null;
        }

        var colour = palette.Of(element.Fill);
        if (element.FillOpacity < 1)
        {
            colour.A = element.FillOpacity;
        }

        return new XSolidBrush(colour);
    }
}
