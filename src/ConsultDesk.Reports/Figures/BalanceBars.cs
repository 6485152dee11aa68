using System.Collections.Immutable;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Figures;

/// <summary>One bar: what it is and how much.</summary>
internal sealed record BalanceBar(string Name, IQuantity Amount, double Size, Ink Ink);

/// <summary>Two groups of horizontal bars on one scale: what comes in above, what goes out below.</summary>
internal sealed class BalanceBars(Measure measure, DisplayUnits units)
{
    private const double Width = 640;
    private const double NamesWidth = 210;
    private const double ValueWidth = 96;
    private const double RowHeight = 22;
    private const double HeadHeight = 24;

    /// <summary>Draws both groups, each with its sum.</summary>
    public (ImmutableArray<FigureElement> Elements, double Height) Draw(params ReadOnlySpan<(string Head, ImmutableArray<BalanceBar> Bars)> groups)
    {
        double rows = 0;
        double largest = 1e-12;
        foreach (var (_, bars) in groups)
        {
            rows += bars.Length;
            largest = Math.Max(largest, bars.Select(bar => bar.Size).DefaultIfEmpty(0).Max());
        }

        var canvas = new FigureCanvas(Width, (groups.Length * (HeadHeight + 8)) + (rows * RowHeight) + 4);
        var scale = (Width - NamesWidth - ValueWidth) / largest;
        double y = 4;
        foreach (var (head, bars) in groups)
        {
            canvas.Write(0, y + 14, head, bold: true, size: 11);
            y += HeadHeight;
            var top = y;
            foreach (var bar in bars)
            {
                var name = FigureCanvas.Fit(bar.Name, NamesWidth - 12);
                canvas.Write(NamesWidth - 8, y + 14, name, TextAnchor.End);
                var length = Math.Max(0, bar.Size) * scale;
                canvas.Add(new Box(NamesWidth, y + 3, length, RowHeight - 7)
                {
                    Fill = bar.Ink,
                    FillOpacity = 0.75,
                    Stroke = bar.Ink,
                    StrokeWidth = 0.8,
                    Hint = $"{bar.Name}: {units.Format(measure, bar.Amount)}",
                });
                canvas.Write(NamesWidth + length + 6, y + 14, units.Format(measure, bar.Amount), bold: true);
                y += RowHeight;
            }

            canvas.Line(Ink.Rule, 1, false, new(NamesWidth, top - 1), new(NamesWidth, y + 1));
            y += 8;
        }

        return (canvas.Elements, canvas.Height);
    }
}
