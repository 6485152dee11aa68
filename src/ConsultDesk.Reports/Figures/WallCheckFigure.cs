using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Figures;

/// <summary>
/// Water behind a lining through the months, counted twice: on the skin hour by hour with the air that passes the lining,
/// and in the layers by the monthly dew-point method, which knows diffusion only.
/// </summary>
public static class WallCheckFigure
{
    private const double Top = 10;
    private const double Bottom = 128;
    private const double Left = 40;
    private const double Right = NarrowRows.Width - 4;

    /// <summary>Draws one lined part.</summary>
    public static Figure Of(WallCheck check, DisplayUnits units)
    {
        var skin = OnSkin(check);
        var monthly = InLayers(check);
        var axis = new ValueAxis(Math.Max(1, skin.Concat(monthly).Max()), Top, Bottom);
        var canvas = new FigureCanvas(NarrowRows.Width, Bottom + 34);
        var nothing = skin.Concat(monthly).All(grams => grams <= 0);
        foreach (var (text, y) in nothing ? [] : axis.Ticks())
        {
            canvas.Line(Ink.Rule, 0.4, false, new(Left, y), new(Right, y));
            canvas.Write(Left - 5, y + 3.6, text, TextAnchor.End, Ink.Muted);
        }

        const double MonthWidth = (Right - Left) / 12;
        const double BarWidth = 8;
        for (var month = 0; month < 12; month++)
        {
            canvas.Write(MonthLeft(month) + (MonthWidth / 2), Bottom + 14, MonthName(month)[..1], TextAnchor.Middle, Ink.Muted);
        }

        for (var month = 0; month < skin.Length; month++)
        {
            Bar(MonthLeft(month) + 2, skin[month], Ink.Wet, 0.75, "on the skin, hour by hour", month);
        }

        for (var month = 0; month < 12; month++)
        {
            Bar(MonthLeft(month) + 3 + BarWidth, monthly[month], Ink.None, 1, "in the layers, monthly method", month);
        }

        canvas.Line(Ink.Rule, 1, false, new(Left, Bottom), new(Right, Bottom));
        canvas.Write((Left + Right) / 2, Bottom + 28, $"Largest of each month, {units.Symbol(Measure.WaterPerArea)}", TextAnchor.Middle, Ink.Muted);
        if (nothing)
        {
            canvas.Write((Left + Right) / 2, (Top + Bottom) / 2, "Nothing condenses here", TextAnchor.Middle, bold: true, size: NarrowRows.TextSize);
        }

        return new Figure
        {
            Id = "wall-check-" + check.Part.ToLowerInvariant(),
            Title = $"{check.Part}: water behind the lining",
            AltText = $"{check.Part}, {check.Name}. {Words(check, units)}",
            Width = canvas.Width,
            Height = canvas.Height,
            Elements = canvas.Elements,
            Legend =
            [
                .. skin.Length > 0 ? new[] { new LegendEntry(LegendMark.Area, Ink.Wet, "Filled: on the skin, hour by hour, air through gaps counted", 0.75) } : [],
                new(LegendMark.Area, Ink.Paper, "Open: in the layers, monthly method (vapour through the layers only)"),
            ],
            Table = new DataTable
            {
                Caption = $"{check.Part}: water behind the lining by months, {units.Symbol(Measure.WaterPerArea)}, with the room’s mean humidity, {units.Symbol(Measure.RelativeHumidity)}",
                Heads = ["What", .. MonthHeads],
                NumberColumns = [.. Enumerable.Range(1, 12)],
                Rows = [.. Rows(check, "", units)],
            },
        };

        static double MonthLeft(int month) => Left + (month * MonthWidth);

        void Bar(double x, double grams, Ink fill, double opacity, string what, int month)
        {
            if (grams <= 0)
            {
                return;
            }

            canvas.Add(new Box(x, axis.Y(grams), BarWidth, Bottom - axis.Y(grams))
            {
                Fill = fill,
                FillOpacity = opacity,
                Stroke = Ink.Wet,
                StrokeWidth = 1,
                Hint = $"{MonthName(month)}: {units.FormatPerArea(Mass.FromGrams(grams))} {what}",
            });
        }
    }

    /// <summary>The months of several parts, in one table: the numbers their figures would show.</summary>
    public static DataTable MonthTable(IEnumerable<WallCheck> checks, DisplayUnits units) => new()
    {
        Caption = $"The other parts: water behind the lining by months, {units.Symbol(Measure.WaterPerArea)}, with the room’s mean humidity, {units.Symbol(Measure.RelativeHumidity)}",
        Heads = ["What", .. MonthHeads],
        NumberColumns = [.. Enumerable.Range(1, 12)],
        Rows = [.. checks.SelectMany(check => Rows(check, check.Part + ": ", units))],
    };

    /// <summary>The most water a part holds at any time, on its skin or in its layers, to find the wettest one.</summary>
    public static double MostGrams(WallCheck check) =>
        Math.Max(check.PeakPerSquareMetre.Grams, check.Skin?.PeakPerSquareMetre.Grams ?? 0);

    private static IEnumerable<string> MonthHeads => Enumerable.Range(0, 12).Select(month => MonthName(month)[..3]);

    private static double[] OnSkin(WallCheck check) =>
        check.Skin is { PeakByMonth.Length: 12 } lined ? [.. lined.PeakByMonth.Select(mass => mass.Grams)] : [];

    private static double[] InLayers(WallCheck check) => [.. check.ByMonth.Select(mass => mass.Grams)];

    private static IEnumerable<ImmutableArray<string>> Rows(WallCheck check, string part, DisplayUnits units)
    {
        if (OnSkin(check) is { Length: > 0 } skin)
        {
            yield return Row("on the skin", skin.Select(OnArea));
        }

        yield return Row("in the layers", InLayers(check).Select(OnArea));
        yield return Row("humidity", check.RoomHumidity.Select(humidity => units.Number(Measure.RelativeHumidity, humidity)));

        ImmutableArray<string> Row(string what, IEnumerable<string> cells) =>
            [part.Length == 0 ? char.ToUpperInvariant(what[0]) + what[1..] : part + what, .. cells];

        string OnArea(double grams) => units.Number(Measure.WaterPerArea, AreaDensity.FromGramsPerSquareMeter(grams));
    }

    /// <summary>True when there is something to draw: a gram a square metre is a breath.</summary>
    public static bool GetsWet(WallCheck check) => MostGrams(check) >= 1;

    /// <summary>All parts side by side: the numbers that say whether a wall can dry.</summary>
    public static DataTable Table(ImmutableArray<WallCheck> checks, DisplayUnits units) => new()
    {
        Caption = "Can it dry? Walls, roof and floor through the year",
        Heads = ["Part", "Most on the skin", "Hours wet", "Hours above 80 % humidity", "Longest time to dry", "Most in the layers", "Dries within the year", "Months above 80 % on the room side"],
        NumberColumns = [1, 2, 3, 4, 5, 7],
        Rows =
        [
            .. checks.Select(check => ImmutableArray.Create(
                $"{check.Part}: {check.Name}",
                check.Skin is { } wet ? units.FormatPerArea(wet.PeakPerSquareMetre) : DataTable.Nothing,
                check.Skin is { } hours ? Count(hours.WetHours) : DataTable.Nothing,
                check.Skin is { } damp ? Count(damp.HoursAbove80) : DataTable.Nothing,
                check.Skin is { } skin ? DryTime(skin, units) : DataTable.Nothing,
                units.FormatPerArea(check.PeakPerSquareMetre),
                check is { DriesWithinYear: true, Skin: null or { Accumulates: false } } ? "yes" : "no",
                Count(check.MouldMonths))),
        ],
    };

    private static string Words(WallCheck check, DisplayUnits units)
    {
        var monthly = check.PeakMonth is { } peak
            ? $"By the monthly method at most {units.FormatPerArea(check.PeakPerSquareMetre)}, in {MonthName(peak - 1)}, {check.WorstPlane}; {(check.DriesWithinYear ? "it dries within the year" : "it does not dry within the year")}."
            : "By the monthly method nothing condenses in the layers.";
        return check.Skin is { } skin
            ? $"On the skin at most {units.FormatPerArea(skin.PeakPerSquareMetre)}, wet for {Count(skin.WetHours)} hours of the year, longest time to dry {DryTime(skin, units)}. {monthly}"
            : monthly;
    }

    internal static string DryTime(SkinYear skin, DisplayUnits units) => skin switch
    {
        { WetHours: 0 } => "never wet",
        { DaysToDry.Days: >= 365 } => "never dry",
        _ => units.Format(skin.DaysToDry),
    };

    private static string MonthName(int month) => CultureInfo.InvariantCulture.DateTimeFormat.GetMonthName(month + 1);

    private static string Count(int number) => number.ToString(CultureInfo.InvariantCulture);
}
