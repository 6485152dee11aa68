using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Figures;

/// <summary>
/// The year as a strip: a column for each day, from noon to noon, so that a night stands in one piece over the morning
/// it ends on; under it the nights slept in the van and the wet mornings. The same strip shows condensation or heat.
/// </summary>
public static class YearFigure
{
    private const double Width = 640;
    private const double Left = 44;
    private const double DayWidth = 1.6;
    private const double HourHeight = 4;
    private const double Top = 20;
    private const double MarkHeight = 8;
    private const int Days = 365;
    private const int HoursADay = 24;
    private const int Noon = 12;

    // A breath on the pane; the weight a morning counts as wet from; four times that, where drops begin to run.
    private static readonly double[] FilmSteps = [0.5, 5, 20];
    private static readonly double[] StepOpacities = [0.3, 0.6, 1];

    /// <summary>Draws the water on the wettest surface, hour by hour.</summary>
    public static Figure Condensation(Design design, Assessment assessment, DisplayUnits units)
    {
        var year = Year(assessment);
        var wet = year.WetMornings;
        var surface = wet.SurfaceName.Length == 0 ? "glass and metal" : wet.SurfaceName;
        var film = year.Hours.FilmGPerM2;
        var steps = FilmSteps.Select(step => units.FormatPerArea(Mass.FromGrams(step))).ToArray();
        return Strip(
            year,
            "year-damp",
            wet.SurfaceName.Length == 0 ? "The year on glass and metal" : $"The year on the wettest surface: {ScoreFigure.Lower(surface)}",
            Words(),
            film.AsSpan(),
            FilmSteps,
            Ink.Wet,
            [$"A film, {steps[0]} or more", $"Wet, {steps[1]} or more", $"Dripping wet, {steps[2]} or more"],
            WholeTable(year, design.Heater.Kind, units));

        string Words()
        {
            if (wet.Nights == 0)
            {
                return "Nobody sleeps in the van in this year, so that no morning counts.";
            }

            var months = Months(year);
            var worst = months.MaxBy(month => month.WetMornings)!;
            var rest = worst.WetMornings == 0
                ? "No morning is wet."
                : $"Most wet mornings, {Count(worst.WetMornings)} of {Count(worst.Nights)}, fall in {worst.Name}.";
            return $"Each day of the year by its hours, noon to noon. After {Count(wet.Count)} of {Count(wet.Nights)} nights in the van {(wet.SurfaceName.Length == 0 ? "" : "the ")}{ScoreFigure.Lower(surface)} is wet at seven in the morning. {rest} "
                + $"Over the year {units.FormatLitres(year.Condensed)} of water condenses on glass and metal.";
        }
    }

    /// <summary>Draws the heat of the heater, hour by hour.</summary>
    public static Figure Heat(Design design, Assessment assessment, DisplayUnits units)
    {
        var year = Year(assessment);
        var rated = (double)design.Heater.RatedOutput.Watts;
        var none = design.Heater.Kind == HeaterKind.None || rated <= 0;

        // Without a heater there is nothing to draw, and no output to measure it by.
        double[] steps = none ? [double.PositiveInfinity] : [0.02 * rated, 0.5 * rated, 0.97 * rated];
        var months = Months(year);
        var most = months.MaxBy(month => month.HeatKwh)!;
        var fuel = year.Heat.Fuel is { } mass ? $" and {FuelWords.Of(mass, design.Heater.Kind, units)} of fuel" : "";
        var words = none
            ? "The van has no heater."
            : $"Each day of the year by its hours, noon to noon. The heater gives {units.Format(year.Heat.Heat)} in the year{fuel}, most of it in {most.Name}. "
                + $"In {Count(year.Heat.HoursShort)} hours it gives all it has and the van still gets too cold.";
        return Strip(
            year,
            "year-heat",
            "The year of the heater",
            words,
            year.Hours.HeaterW.AsSpan(),
            steps,
            Ink.AirOut,
            none ? [] : ["Heater on", $"More than half of its {units.Format(design.Heater.RatedOutput)}", "All it has"],
            HeatTable(year, design.Heater.Kind, units));
    }

    /// <summary>Wet mornings of each month as bars: the strip of <see cref="Condensation"/> for a phone.</summary>
    public static Figure CondensationByMonth(Design design, Assessment assessment, DisplayUnits units)
    {
        var year = Year(assessment);
        return Bars(
            "year-damp-months",
            "Wet mornings by month",
            Months(year),
            month => month.Nights,
            month => month.WetMornings,
            month => month.Nights == 0 ? "not slept in" : $"{Count(month.WetMornings)} of {Count(month.Nights)}",
            Ink.Wet,
            [new(LegendMark.Area, Ink.Wet, "Wet mornings"), new(LegendMark.Square, Ink.Rule, "Nights slept in the van")],
            WholeTable(year, design.Heater.Kind, units));
    }

    /// <summary>Heat of each month as bars: the strip of <see cref="Heat"/> for a phone.</summary>
    public static Figure HeatByMonth(Design design, Assessment assessment, DisplayUnits units)
    {
        var year = Year(assessment);
        return Bars(
            "year-heat-months",
            "Heat by month",
            Months(year),
            _ => 0,
            month => month.HeatKwh,
            month => units.Format(Measure.Energy, Energy.FromKilowattHours(Math.Round(month.HeatKwh))),
            Ink.AirOut,
            [],
            HeatTable(year, design.Heater.Kind, units));
    }

    private static Figure Bars(
        string id,
        string title,
        ImmutableArray<Month> months,
        Func<Month, double> whole,
        Func<Month, double> part,
        Func<Month, string> words,
        Ink ink,
        ImmutableArray<LegendEntry> legend,
        DataTable table)
    {
        const double Row = 18;
        const double BarHeight = 10;
        const double BarLeft = 34;
        const double BarWidth = NarrowRows.Width - BarLeft - 84;
        var canvas = new FigureCanvas(NarrowRows.Width, (12 * Row) + 2);
        var most = Math.Max(1e-9, months.Max(month => Math.Max(whole(month), part(month))));
        foreach (var (index, month) in months.Index())
        {
            var top = (index * Row) + 3;
            canvas.Write(0, top + BarHeight - 1, ShortName(index + 1), size: NarrowRows.TextSize);
            canvas.Add(new Box(BarLeft, top, Math.Max(0.8, BarWidth * whole(month) / most), BarHeight) { Stroke = Ink.Rule, StrokeWidth = 0.8 });
            canvas.Add(new Box(BarLeft, top, BarWidth * part(month) / most, BarHeight) { Fill = ink, Subject = month.Name, Hint = $"{month.Name}: {words(month)}" });
            canvas.Write(NarrowRows.Width, top + BarHeight - 1, words(month), TextAnchor.End, Ink.Muted, size: NarrowRows.TextSize);
        }

        return new Figure
        {
            Id = id,
            Title = title,
            AltText = title + ": " + string.Join("; ", months.Select(month => $"{month.Name} {words(month)}")) + ".",
            Width = canvas.Width,
            Height = canvas.Height,
            Elements = canvas.Elements,
            Legend = legend,
            Table = table,
        };
    }

    /// <summary>The months, a row each: weather, nights, wet mornings, water, heat, fuel and hot hours.</summary>
    public static DataTable MonthTable(Design design, Assessment assessment, DisplayUnits units)
    {
        var year = Year(assessment);
        List<(string Head, Func<Month, string> Cell)> columns = [Outside(units), .. WaterOf(units), .. HeatOf(year, design.Heater.Kind, units)];
        return new DataTable
        {
            Caption = "The year by months: a morning counts as wet when any glass or bare metal is",
            Heads = ["Month", .. columns.Select(column => column.Head)],
            NumberColumns = [.. Enumerable.Range(1, columns.Count)],
            Rows = [.. Months(year).Append(Whole(year)).Select(month => ImmutableArray.Create<string>([month.Name, .. columns.Select(column => column.Cell(month))]))],
        };
    }

    private static DataTable WholeTable(YearAssessment year, HeaterKind heater, DisplayUnits units) => UnderStrip(
        year, "The year by months: a morning counts as wet when any glass or bare metal is", [Outside(units), .. WaterOf(units), .. HeatOf(year, heater, units)]);

    private static DataTable HeatTable(YearAssessment year, HeaterKind heater, DisplayUnits units) => UnderStrip(
        year, "Heat by months", [Outside(units), .. HeatOf(year, heater, units)]);

    private static IEnumerable<(string Head, Func<Month, string> Cell)> WaterOf(DisplayUnits units)
    {
        yield return ("Nights in the van", month => Count(month.Nights));
        yield return ("Wet mornings", month => Count(month.WetMornings));
        yield return (
            $"Water on glass and metal, {units.Symbol(Measure.WaterVolume)}",
            month => units.Number(Measure.WaterVolume, UnitsNet.Volume.FromLiters(month.CondensedG / 1000)));
    }

    private static IEnumerable<(string Head, Func<Month, string> Cell)> HeatOf(YearAssessment year, HeaterKind heater, DisplayUnits units)
    {
        var heat = year.Days.Sum(day => (double)day.HeatKwh);
        yield return ($"Heat, {units.Symbol(Measure.Energy)}", month => units.Number(Measure.Energy, Energy.FromKilowattHours(Math.Round(month.HeatKwh))));
        if (year.Heat.Fuel is { } fuel)
        {
            // One efficiency for all months: fuel goes with heat.
            yield return (
                $"Fuel, {FuelWords.Symbol(heater, units)}",
                month => FuelWords.Number(heat > 0 ? fuel * (month.HeatKwh / heat) : Mass.Zero, heater, units));
        }

        yield return ("Hot hours asleep", month => Count(month.HotHours));
    }

    private static (string Head, Func<Month, string> Cell) Outside(DisplayUnits units) => (
        $"Outside, mean {units.Symbol(Measure.Temperature)}",
        month => units.Number(Measure.Temperature, Temperature.FromDegreesCelsius(month.MeanOutdoorC)));

    // A column for each month, as in the strip above it.
    private static DataTable UnderStrip(YearAssessment year, string caption, IReadOnlyList<(string Head, Func<Month, string> Cell)> rows) => new()
    {
        Caption = caption,
        Heads = ["What", .. Enumerable.Range(1, 12).Select(ShortName), "Year"],
        NumberColumns = [.. Enumerable.Range(1, 13)],
        Rows = [.. rows.Select(row => ImmutableArray.Create<string>([row.Head, .. Months(year).Append(Whole(year)).Select(row.Cell)]))],
    };

    private static Month Whole(YearAssessment year)
    {
        var months = Months(year);
        return new Month(
            "Year",
            months.Sum(month => month.Nights),
            months.Sum(month => month.WetMornings),
            months.Sum(month => month.CondensedG),
            months.Sum(month => month.HeatKwh),
            year.Days.Average(day => (double)day.MeanOutdoorC),
            months.Sum(month => month.HotHours));
    }

    private static Figure Strip(
        YearAssessment year,
        string id,
        string title,
        string words,
        ReadOnlySpan<float> hours,
        double[] steps,
        Ink ink,
        string[] meanings,
        DataTable table)
    {
        const double StripHeight = HoursADay * HourHeight;
        const double Bottom = Top + StripHeight;
        const double SleptTop = Bottom + 10;
        const double WetTop = SleptTop + MarkHeight + 5;
        const double Right = Left + (Days * DayWidth);
        var canvas = new FigureCanvas(Width, WetTop + MarkHeight + 4);
        var values = hours.ToArray();

        var day = 0;
        for (var month = 1; month <= 12; month++)
        {
            var length = DateTime.DaysInMonth(2001, month);
            var x = Left + (day * DayWidth);
            canvas.Line(Ink.Rule, 0.6, false, new(x, Top - 6), new(x, WetTop + MarkHeight));
            canvas.Write(x + (length * DayWidth / 2), 11, ShortName(month), TextAnchor.Middle, Ink.Muted);
            day += length;
        }

        for (var step = 0; step < Math.Min(steps.Length, meanings.Length); step++)
        {
            var least = steps[step];
            canvas.Add(new Cells(Left, Top, DayWidth, HourHeight, Cells.RunsOf(Days, HoursADay, (column, row) => values[HourOf(column, row)] >= least))
            {
                Fill = ink,
                FillOpacity = step == 0 ? StepOpacities[0] : Over(StepOpacities[step - 1], StepOpacities[step]),
            });
        }

        // Midnight is the middle of the strip.
        canvas.Line(Ink.Rule, 0.6, true, new(Left, Top + (StripHeight / 2)), new(Right, Top + (StripHeight / 2)));
        canvas.Add(new Box(Left, Top, Right - Left, StripHeight) { Stroke = Ink.Rule });
        foreach (var (row, hour) in new[] { (0, "12"), (6, "18"), (12, "0 h"), (18, "6"), (24, "12") })
        {
            canvas.Write(Left - 5, Top + (row * HourHeight) + 3.6, hour, TextAnchor.End, Ink.Muted);
        }

        canvas.Write(Left - 5, SleptTop + 7.5, "nights", TextAnchor.End, Ink.Muted);
        canvas.Add(new Cells(Left, SleptTop, DayWidth, MarkHeight, Cells.RunsOf(Days, 1, (column, _) => year.Days[column].Slept)) { Fill = Ink.Dry, FillOpacity = 0.7 });
        canvas.Write(Left - 5, WetTop + 7.5, "wet", TextAnchor.End, Ink.Muted);
        canvas.Add(new Cells(Left, WetTop, DayWidth, MarkHeight, Cells.RunsOf(Days, 1, (column, _) => IsWet(year.Days[column]))) { Fill = Ink.Text });
        return new Figure
        {
            Id = id,
            Title = title,
            AltText = words,
            Width = canvas.Width,
            Height = canvas.Height,
            Elements = canvas.Elements,
            Legend =
            [
                .. meanings.Select((meaning, step) => new LegendEntry(LegendMark.Area, ink, meaning, StepOpacities[step])),
                new(LegendMark.Area, Ink.Dry, "Night slept in the van", 0.7),
                new(LegendMark.Area, Ink.Text, "Wet morning"),
            ],
            Table = table,
        };
    }

    // The opacity that brings an area of one opacity to another when it is laid over it.
    private static double Over(double below, double wanted) => (wanted - below) / (1 - below);

    // The column of a day begins at noon of the day before; the first afternoon is that of the year's end.
    private static int HourOf(int day, int row) => ((day * HoursADay) - Noon + row + (Days * HoursADay)) % (Days * HoursADay);

    private static bool IsWet(DayState day) => day is { Slept: true, WetMorning: true };

    private static YearAssessment Year(Assessment assessment) =>
        assessment.Year ?? throw new ArgumentException("The assessment holds no year; ask for one.", nameof(assessment));

    private static string ShortName(int month) => CultureInfo.InvariantCulture.DateTimeFormat.GetAbbreviatedMonthName(month);

    private static string Count(int number) => number.ToString(CultureInfo.InvariantCulture);

    private static ImmutableArray<Month> Months(YearAssessment year)
    {
        var months = ImmutableArray.CreateBuilder<Month>(12);
        var first = 0;
        for (var month = 1; month <= 12; month++)
        {
            var days = year.Days.AsSpan().Slice(first, DateTime.DaysInMonth(2001, month)).ToArray();
            months.Add(new Month(
                CultureInfo.InvariantCulture.DateTimeFormat.GetMonthName(month),
                days.Count(day => day.Slept),
                days.Count(IsWet),
                days.Sum(day => (double)day.CondensedG),
                days.Sum(day => (double)day.HeatKwh),
                days.Average(day => (double)day.MeanOutdoorC),
                days.Sum(day => day.HotHours)));
            first += days.Length;
        }

        return months.ToImmutable();
    }

    private sealed record Month(string Name, int Nights, int WetMornings, double CondensedG, double HeatKwh, double MeanOutdoorC, int HotHours);
}
