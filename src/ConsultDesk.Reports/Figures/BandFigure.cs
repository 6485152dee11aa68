using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Unknowns;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Figures;

/// <summary>Headline numbers with the band in which what was assumed leaves them: low, likely, high.</summary>
public static class BandFigure
{
    private const double Left = 76;
    private const double Right = NarrowRows.Width - 76;
    private const double BarHeight = 9;
    private const double RowGap = 7;

    /// <summary>Draws a row for each number.</summary>
    public static Figure Of(ImmutableArray<HeadlineBand> bands, Heater heater, DisplayUnits units) =>
        Drawn(bands, heater, units, "From low to high, each on its own scale", "Main numbers with what is assumed at its low, likely and high end", ["Number", "Low", "Likely", "High", "Moved most by"]);

    /// <summary>Draws a row for each number through its samples: from where one in ten lies below to where one in ten lies above.</summary>
    public static Figure Sampled(Sureness sure, Heater heater, DisplayUnits units)
    {
        ArgumentNullException.ThrowIfNull(sure);
        return Drawn(
            [.. sure.Numbers.Select(number => new HeadlineBand(number.Key, number.Label, number.Low, number.Likely, number.High, number.MovedMostBy.Length == 0 ? DataTable.Nothing : number.MovedMostBy))],
            heater,
            units,
            "Eight of ten samples, each number on its own scale",
            $"Main numbers through {sure.Calculated} samples",
            ["Number", "One in ten below", "Likely", "One in ten above", "Hangs most on"]);
    }

    private static Figure Drawn(ImmutableArray<HeadlineBand> bands, Heater heater, DisplayUnits units, string area, string caption, ImmutableArray<string> heads)
    {
        var rows = bands.Select(band => NarrowRows.NumberOf(Words(band, heater, units).Likely, ScoreFigure.Lower(band.Label))).ToArray();
        var canvas = new FigureCanvas(NarrowRows.Width, Math.Max(20, rows.Sum(row => row.Height + BarHeight + 8 + RowGap) - RowGap + 2));
        double y = 0;
        foreach (var (band, row) in bands.Zip(rows))
        {
            var (low, likely, high) = Words(band, heater, units);
            row.Write(canvas, y + 12);
            var top = y + row.Height + 5;
            var middle = top + (BarHeight / 2);
            var scale = Scale(band);
            var (from, at, to) = (scale(band.Low), scale(band.Likely), scale(band.High));
            canvas.Line(Ink.Rule, 0.8, false, new(Left, middle), new(Right, middle));
            canvas.Add(new Box(Math.Min(from, to), top, Math.Abs(to - from), BarHeight)
            {
                Fill = Ink.Muted,
                FillOpacity = 0.4,
                Stroke = Ink.Muted,
                StrokeWidth = 0.8,
                Subject = band.Key,
                Hint = $"{band.Label}: likely {likely}, between {low} and {high}",
            });
            canvas.Line(Ink.Text, 2.4, false, new(at, top - 3), new(at, top + BarHeight + 3));
            canvas.Write(Left - 6, top + BarHeight - 1, low, TextAnchor.End, Ink.Muted);
            canvas.Write(Right + 6, top + BarHeight - 1, high, TextAnchor.Start, Ink.Muted);
            y += row.Height + BarHeight + 8 + RowGap;
        }

        return new Figure
        {
            Id = "bands",
            Title = "The main numbers, and how sure they are",
            AltText = bands.IsEmpty
                ? "No bands were calculated."
                : string.Join(". ", bands.Select(band => Words(band, heater, units) is var (low, likely, high)
                    ? $"{band.Label}: likely {likely}, between {low} and {high}"
                    : "")) + ".",
            Width = canvas.Width,
            Height = canvas.Height,
            Elements = canvas.Elements,
            Legend =
            [
                new(LegendMark.Area, Ink.Muted, area, 0.4),
                new(LegendMark.Line, Ink.Text, "Upright mark: likely"),
            ],
            Table = new DataTable
            {
                Caption = caption,
                Heads = heads,
                NumberColumns = [1, 2, 3],
                Rows =
                [
                    .. bands.Select(band => Words(band, heater, units) is var (low, likely, high)
                        ? ImmutableArray.Create(band.Label, low, likely, high, band.MovedMostBy)
                        : []),
                ],
            },
        };
    }

    private static (string Low, string Likely, string High) Words(HeadlineBand band, Heater heater, DisplayUnits units)
    {
        return (Of(band.Low), Of(band.Likely), Of(band.High));

        string Of(IQuantity quantity) => quantity switch
        {
            Mass fuel when band.Key.Contains("fuel", StringComparison.Ordinal) => FuelWords.Of(fuel, heater.Kind, units),
            Mass onSkin when band.Key.Contains("skin", StringComparison.Ordinal) => units.FormatPerArea(onSkin),
            _ => units.Format(Whole(quantity)),
        };
    }

    // Mornings and nights are counted; the ends of a band are not.
    private static IQuantity Whole(IQuantity end) => end is Scalar count ? Scalar.FromAmount(Math.Round(count.Amount, MidpointRounding.AwayFromZero)) : end;

    // Amounts begin at nothing, so that the length of a bar shows how far apart its ends are. A temperature has no such
    // beginning: its axis is three bands long.
    private static Func<IQuantity, double> Scale(HeadlineBand band)
    {
        var (low, likely, high) = (Value(band.Low), Value(band.Likely), Value(band.High));
        var (least, most) = (Math.Min(low, Math.Min(likely, high)), Math.Max(low, Math.Max(likely, high)));
        var (from, to) = band.Likely is Temperature || least < 0 ? (least - (most - least), most + (most - least)) : (0, most);
        return quantity => to - from < 1e-12 ? Left : Left + ((Value(quantity) - from) / (to - from) * (Right - Left));

        double Value(IQuantity quantity) => Whole(quantity).As(band.Likely.Unit);
    }
}
