using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Reports.Tests.Figures;

public sealed class YearFigureTests
{
    private const double Left = 44;
    private const double Top = 20;
    private const double DayWidth = 1.6;
    private const double HourHeight = 4;

    private static readonly Design Design = SampleDesign.Design;
    private static readonly Assessment Assessment = SampleYear.Assessment;

    private static YearAssessment Year => Assessment.Year!;

    [Fact]
    public void Bars_of_the_months_fit_a_phone_and_are_as_long_as_their_counts()
    {
        var figure = YearFigure.CondensationByMonth(Design, Assessment, DisplayUnits.Metric);
        Assert.True(figure.IsNarrow);
        var bars = figure.Elements.OfType<Box>().Where(box => box.Fill == Ink.Wet).ToList();
        Assert.Equal(12, bars.Count);
        var wet = new int[12];
        for (var day = 0; day < 365; day++)
        {
            if (Year.Days[day] is { Slept: true, WetMorning: true })
            {
                wet[new DateTime(2001, 1, 1).AddDays(day).Month - 1]++;
            }
        }

        Assert.NotEqual(0, wet.Sum());
        var unit = bars.Sum(bar => bar.Width) / wet.Sum();
        Assert.All(bars.Zip(wet), pair => Assert.Equal(pair.Second * unit, pair.First.Width, 6));
        Assert.True(YearFigure.HeatByMonth(Design, Assessment, DisplayUnits.Metric).IsNarrow);
    }

    [Fact]
    public void Every_hour_stands_in_the_column_of_the_morning_its_night_ends_on()
    {
        var levels = YearFigure.Condensation(Design, Assessment, DisplayUnits.Metric).Elements.OfType<Cells>()
            .Where(cells => cells.CellHeight == HourHeight).ToList();
        double[] steps = [0.5, 5, 20];
        Assert.Equal(steps.Length, levels.Count);
        for (var step = 0; step < steps.Length; step++)
        {
            var filled = Filled(levels[step]);
            Assert.Equal((Left, Top, DayWidth), (levels[step].X, levels[step].Y, levels[step].CellWidth));
            for (var hour = 0; hour < 8760; hour++)
            {
                // From noon on an hour belongs to the next day's column; midnight is the thirteenth row.
                var day = (hour / 24 + (hour % 24 >= 12 ? 1 : 0)) % 365;
                var row = (hour % 24 + 12) % 24;
                Assert.Equal(Year.Hours.FilmGPerM2[hour] >= steps[step], filled.Contains((day, row)));
            }
        }
    }

    [Fact]
    public void Cells_laid_over_one_another_have_the_shade_of_the_legend()
    {
        var figure = YearFigure.Heat(Design, Assessment, DisplayUnits.Metric);
        var levels = figure.Elements.OfType<Cells>().Where(cells => cells.CellHeight == HourHeight).ToList();
        double through = 1;
        foreach (var (cells, entry) in levels.Zip(figure.Legend))
        {
            through *= 1 - cells.FillOpacity;
            Assert.Equal(entry.Opacity, 1 - through, 1e-9);
        }
    }

    [Fact]
    public void Nights_and_wet_mornings_are_marked_by_day()
    {
        var rows = YearFigure.Condensation(Design, Assessment, DisplayUnits.Metric).Elements.OfType<Cells>()
            .Where(cells => cells.CellHeight != HourHeight).ToList();
        Assert.Equal(2, rows.Count);
        var (slept, wet) = (Filled(rows[0]), Filled(rows[1]));
        for (var day = 0; day < 365; day++)
        {
            Assert.Equal(Year.Days[day].Slept, slept.Contains((day, 0)));
            Assert.Equal(Year.Days[day] is { Slept: true, WetMorning: true }, wet.Contains((day, 0)));
        }
    }

    [Fact]
    public void The_months_add_up_to_the_year()
    {
        var water = YearFigure.Condensation(Design, Assessment, DisplayUnits.Metric).Table;
        var heat = YearFigure.Heat(Design, Assessment, DisplayUnits.Metric).Table;
        Assert.All(new[] { water, heat }, table => Assert.Equal(("What", "Jan", "Dec", "Year", 14), (table.Heads[0], table.Heads[1], table.Heads[12], table.Heads[13], table.Heads.Length)));
        foreach (var row in water.Rows.Where(row => row[0] is "Wet mornings" or "Nights in the van"))
        {
            Assert.Equal(Number(row[13]), row.AsSpan()[1..13].ToArray().Sum(Number));
        }

        Assert.Equal(Year.Days.Count(day => day is { Slept: true, WetMorning: true }), Number(Row(water, "Wet mornings")[13]));
        Assert.Equal("31", Row(water, "Nights in the van")[1]);
        Assert.Equal(DisplayUnits.Metric.Number(Measure.Energy, Energy.FromKilowattHours(Year.Days.Sum(day => (double)day.HeatKwh))), Row(heat, "Heat, kWh")[13]);
        Assert.Equal("6", Row(heat, "Hot hours asleep")[13]);

        // 313 kg of liquid fuel at 835 kg/m3.
        Assert.Equal("375", Row(heat, "Fuel, L")[13]);
        var imperial = YearFigure.Heat(Design, Assessment, DisplayUnits.Imperial).Table;
        Assert.Contains(imperial.Rows, row => row[0] == "Fuel, gal");
        Assert.Contains(imperial.Rows, row => row[0] == "Outside, mean °F");

        static ImmutableArray<string> Row(DataTable table, string head) => table.Rows.Single(row => row[0] == head);

        static int Number(string text) => int.Parse(text, CultureInfo.InvariantCulture);
    }

    [Fact]
    public void A_year_without_heater_nights_or_water_says_so()
    {
        var bare = Assessment with
        {
            Year = Year with
            {
                WetMornings = new WetMornings(0, 0, "", "", Mass.Zero),
                Heat = Year.Heat with { Fuel = null },
                Days = [.. Year.Days.Select(day => day with { Slept = false, WetMorning = false, CondensedG = 0, HeatKwh = 0 })],
                Hours = Year.Hours with { FilmGPerM2 = [.. Year.Hours.FilmGPerM2.Select(_ => 0f)], HeaterW = [.. Year.Hours.HeaterW.Select(_ => 0f)] },
            },
        };
        var cold = Design with { Heater = Design.Heater with { Kind = HeaterKind.None, RatedOutput = Power.Zero } };
        Assert.Contains("Nobody sleeps in the van", YearFigure.Condensation(cold, bare, DisplayUnits.Metric).AltText, StringComparison.Ordinal);
        var heat = YearFigure.Heat(cold, bare, DisplayUnits.Metric);
        Assert.Equal("The van has no heater.", heat.AltText);
        Assert.All(heat.Elements.OfType<Cells>(), cells => Assert.Empty(cells.Runs));
        Assert.DoesNotContain(heat.Table.Rows, row => row[0].StartsWith("Fuel", StringComparison.Ordinal));
        Assert.Throws<ArgumentException>(() => YearFigure.Heat(Design, SampleDesign.Assessment, DisplayUnits.Metric));
    }

    [Fact]
    public void Runs_cover_the_cells_that_hold_and_no_others()
    {
        var random = new Random(7);
        for (var trial = 0; trial < 200; trial++)
        {
            var (columns, rows) = (random.Next(1, 30), random.Next(1, 12));
            var share = random.NextDouble();
            var grid = new bool[columns, rows];
            for (var column = 0; column < columns; column++)
            {
                for (var row = 0; row < rows; row++)
                {
                    grid[column, row] = random.NextDouble() < share;
                }
            }

            var runs = Cells.RunsOf(columns, rows, (column, row) => grid[column, row]);
            var filled = Filled(new Cells(0, 0, 1, 1, runs));
            Assert.Equal(runs.Sum(run => run.Columns * run.Rows), filled.Count);
            for (var column = 0; column < columns; column++)
            {
                for (var row = 0; row < rows; row++)
                {
                    Assert.Equal(grid[column, row], filled.Contains((column, row)));
                }
            }
        }
    }

    private static HashSet<(int Column, int Row)> Filled(Cells cells) =>
    [
        .. cells.Runs.SelectMany(run => Enumerable.Range(run.Column, run.Columns)
            .SelectMany(column => Enumerable.Range(run.Row, run.Rows).Select(row => (column, row)))),
    ];
}
