using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using Xunit;

namespace ConsultDesk.Reports.Tests.Figures;

/// <summary>The days of the year over the itinerary, and the hours around one of them.</summary>
public sealed class YearStripFigureTests
{
    private static readonly YearOf Own = new("B", SampleDesign.Design, SampleYear.Assessment.Year!);

    private static YearOf Warmer => Own with
    {
        Letter = "C",
        Year = Own.Year with { Hours = Own.Year.Hours with { WettestSurfaceC = [.. Own.Year.Hours.WettestSurfaceC.Select(celsius => celsius + 40)] } },
    };

    public static TheoryData<DayQuantity> Quantities => [.. Enum.GetValues<DayQuantity>().Where(quantity => YearStripFigure.Has(Own.Year, quantity))];

    [Theory]
    [MemberData(nameof(Quantities))]
    public void A_day_is_a_step_of_the_silhouette_and_the_highest_is_named(DayQuantity quantity)
    {
        var figure = YearStripFigure.Days(Own, other: null, quantity, day: 31, DisplayUnits.Metric, YearStripFigure.Wide);

        var outline = Assert.Single(figure.Elements.OfType<Polyline>(), line => line.Closed && line.Points.Length > 100);
        Assert.Equal(quantity == DayQuantity.Humidity ? 4 * 365 : (2 * 365) + 2, outline.Points.Length);
        Assert.All(outline.Points, point => Assert.True(point.X >= 0 && point.X <= figure.Width && point.Y >= 0 && point.Y <= figure.Height));
        Assert.Contains("on 1 February", figure.AltText, StringComparison.Ordinal);
        Assert.DoesNotContain(figure.Elements, element => element is Cells);
    }

    // Derived from the hours themselves: the day's largest film.
    [Fact]
    public void The_step_of_a_day_stands_as_high_as_its_number()
    {
        var film = Own.Year.Hours.FilmGPerM2;
        var most = Enumerable.Range(0, 365).Select(day => Enumerable.Range(24 * day, 24).Max(hour => film[hour])).ToArray();
        var wettest = Array.IndexOf(most, most.Max());
        var figure = YearStripFigure.Days(Own, other: null, DayQuantity.Film, wettest, DisplayUnits.Metric, YearStripFigure.Wide);

        var steps = figure.Elements.OfType<Polyline>().Single(line => line.Closed && line.Points.Length > 100).Points;
        var bottom = steps[^1].Y;
        Assert.Equal(steps.Min(point => point.Y), steps[2 * wettest].Y);
        for (var day = 0; day < 365; day += 13)
        {
            Assert.Equal(most[day] / most[wettest], (bottom - steps[2 * day].Y) / (bottom - steps[2 * wettest].Y), 6);
        }
    }

    [Fact]
    public void Another_option_is_a_broken_line_so_that_colour_is_not_all_that_tells_them_apart()
    {
        var figure = YearStripFigure.Days(Own, Warmer, DayQuantity.Heat, 0, DisplayUnits.Metric, YearStripFigure.Wide);

        Assert.Single(figure.Elements.OfType<Polyline>(), line => line is { Closed: false, Dashed: true, Points.Length: 2 * 365 });
        Assert.Contains(figure.Legend, entry => entry is { Mark: LegendMark.Dashed } && entry.Text.StartsWith('C'));
    }

    [Fact]
    public void Every_stay_of_the_itinerary_stands_under_its_days()
    {
        var figure = YearStripFigure.Days(Own, other: null, DayQuantity.Film, 0, DisplayUnits.Metric, YearStripFigure.Wide);

        var stays = figure.Elements.OfType<Box>().Where(box => box.Fill == Ink.Furniture).ToList();
        Assert.NotEmpty(stays);
        Assert.Equal(figure.Width - 42, stays.Sum(stay => stay.Width), 6);
        Assert.All(stays, stay => Assert.False(string.IsNullOrEmpty(stay.Hint)));
    }

    [Fact]
    public void The_hours_show_where_the_surface_lies_below_the_dew_point_and_nowhere_else()
    {
        var hours = Own.Year.Hours;
        var day = Enumerable.Range(1, 363).First(one => Enumerable.Range((24 * one) - 24, 72).Any(hour => hours.WettestSurfaceC[hour] < hours.LivingDewPointC[hour]));
        var below = Enumerable.Range((24 * day) - 24, 72).Count(hour => hours.WettestSurfaceC[hour] < hours.LivingDewPointC[hour]);

        var figure = YearStripFigure.Hours(Own, other: null, day, DisplayUnits.Metric, YearStripFigure.Wide);
        Assert.Equal(below, figure.Elements.OfType<Box>().Count(box => box.Fill == Ink.Wet));
        Assert.Contains($"in {below} of 72 hours", figure.AltText, StringComparison.Ordinal);
        Assert.DoesNotContain(
            YearStripFigure.Hours(Warmer, other: null, day, DisplayUnits.Metric, YearStripFigure.Narrow).Elements.OfType<Box>(), box => box.Fill == Ink.Wet);
    }

    [Theory]
    [InlineData(0, "31 December, 00:00", "2 January, 23:00")]
    [InlineData(364, "30 December, 00:00", "1 January, 23:00")]
    public void At_the_ends_of_the_year_the_hours_go_round(int day, string first, string last)
    {
        var table = YearStripFigure.HourTable(Own, Warmer, day, DisplayUnits.Metric, DisplayUnits.Metric.Number);

        Assert.Equal((72, first, last), (table.Rows.Length, table.Rows[0][0], table.Rows[^1][0]));
        Assert.All(table.Rows, row => Assert.Equal(table.Heads.Length, row.Length));
        Assert.Contains("C: dew point, °C", table.Heads);
        _ = YearStripFigure.Hours(Own, Warmer, day, DisplayUnits.Imperial, YearStripFigure.Narrow);
    }

    [Fact]
    public void The_table_of_days_has_the_numbers_of_the_strip_for_both_options()
    {
        var table = YearStripFigure.DayTable(Own, Warmer, DisplayUnits.Metric, DisplayUnits.Metric.Entry);

        Assert.Equal(365, table.Rows.Length);
        Assert.All(table.Rows, row => Assert.Equal(table.Heads.Length, row.Length));
        var heat = table.Heads.IndexOf("B: heat, kWh");
        Assert.Equal(Own.Year.Days.Sum(day => (double)day.HeatKwh), table.Rows.Sum(row => double.Parse(row[heat], System.Globalization.CultureInfo.InvariantCulture)), 2);
        Assert.Contains("C: heat, kWh", table.Heads);
    }
}
