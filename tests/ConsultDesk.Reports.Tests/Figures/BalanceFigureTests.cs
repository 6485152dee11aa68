using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Reports.Tests.Figures;

public sealed class BalanceFigureTests
{
    private static readonly Design Design = SampleDesign.Design;
    private static readonly Assessment Assessment = SampleDesign.Assessment;

    public static TheoryData<string> Figures => ["surfaces", "water", "heat", "walls", "floor"];

    [Theory]
    [MemberData(nameof(Figures))]
    public void Every_label_stays_inside_and_no_two_lie_on_each_other(string name)
    {
        foreach (var units in DisplayUnits.All)
        {
            var figure = Draw(name, Assessment, units);
            var labels = figure.Elements.OfType<Label>().ToList();
            var areas = labels.Select(label => FigureCanvas.TextArea(label.X, label.Y, label.Text, label.Anchor, label.Bold, label.Size)).ToList();
            Assert.All(areas, area => Assert.True(
                area.X >= -0.01 && area.Right <= figure.Width + 0.01 && area.Y >= 0 && area.Bottom <= figure.Height,
                $"{area} outside {figure.Width} by {figure.Height}"));
            for (var one = 0; one < areas.Count; one++)
            {
                for (var other = one + 1; other < areas.Count; other++)
                {
                    Assert.True(areas[one].Overlap(areas[other]) < 1, $"'{labels[one].Text}' and '{labels[other].Text}' overlap");
                }
            }
        }
    }

    [Fact]
    public void A_wet_surface_is_drawn_left_of_its_dew_point_and_filled_a_dry_one_right_of_it_and_open()
    {
        var figure = SurfaceTemperatures.Of(Design, Assessment, DisplayUnits.Metric);
        foreach (var surface in Assessment.Surfaces)
        {
            var own = figure.Elements.Where(element => element.Subject == surface.Id).ToList();
            var dot = own.OfType<Circle>().Single();
            var mark = own.OfType<Polyline>().Single(line => line.Stroke == Ink.Text);
            var wet = surface.CondensedPerNight.Grams > 0;
            Assert.Equal(wet, dot.X < mark.Points[0].X);
            Assert.Equal(wet ? Ink.Wet : Ink.Paper, dot.Fill);
            Assert.Contains(own.OfType<Label>(), label => label.Text == (wet ? DisplayUnits.Metric.Format(surface.CondensedPerNight) : "dry"));
        }

        Assert.StartsWith("4 of 7 surfaces", figure.AltText, StringComparison.Ordinal);
        Assert.Contains("Windscreen 1.1\u00A0°C against 3.4\u00A0°C, 124\u00A0g", figure.AltText, StringComparison.Ordinal);
    }

    [Fact]
    public void The_temperature_axis_is_to_scale()
    {
        var figure = SurfaceTemperatures.Of(Design, Assessment, DisplayUnits.Metric);
        double X(string id) => figure.Elements.OfType<Circle>().Single(circle => circle.Subject == id).X;

        // 1.1, 4.4 and 9.8 degrees.
        Assert.Equal((4.4 - 1.1) / (9.8 - 1.1), (X("metal-cab") - X("windscreen")) / (X("side-window") - X("windscreen")), 9);
    }

    [Fact]
    public void Bars_of_the_water_balance_are_as_long_as_their_amounts()
    {
        var figure = WaterFigure.Of(Assessment, DisplayUnits.Metric);
        var bars = figure.Elements.OfType<Box>().ToDictionary(bar => bar.Hint!.Split(':')[0], bar => bar.Width);
        Assert.Equal(80 / 37.5, bars["Two sleepers"] / bars["Cooking"], 6);
        Assert.Equal(103.9 / 23.2, bars["Carried out by air"] / bars["Condensing on glass and bare metal"], 6);

        // What comes in is what goes out.
        Assert.Equal(
            bars["Two sleepers"] + bars["Cooking"] + bars["Gas flame"],
            bars["Carried out by air"] + bars["Condensing on glass and bare metal"],
            6);
        Assert.Contains("Cooking 38\u00A0g/h", figure.AltText, StringComparison.Ordinal);
        Assert.Contains("186\u00A0g of condensed water", figure.AltText, StringComparison.Ordinal);
    }

    [Fact]
    public void Water_that_outdoor_air_brings_in_is_a_source()
    {
        var humid = Assessment with
        {
            Water = Assessment.Water with { CarriedOut = MassFlow.FromGramsPerHour(-12), Condensing = MassFlow.FromGramsPerHour(139.1) },
        };
        var figure = WaterFigure.Of(humid, DisplayUnits.Metric);
        Assert.Contains(figure.Table.Rows, row => row[0] == "Brought in by outdoor air" && row[1] == "in" && row[2] == "12\u00A0g/h");
        Assert.DoesNotContain(figure.Table.Rows, row => row[0] == "Carried out by air");
    }

    [Fact]
    public void Heat_losses_stand_in_order_with_their_shares()
    {
        var figure = HeatFigure.Of(Assessment, DisplayUnits.Metric);
        Assert.Equal(
            ["Air exchange", "Walls, roof and floor", "Glass", "Bare metal"],
            figure.Table.Rows.Where(row => row[1] == "out").Select(row => row[0]));

        // 1290 of 1972 W.
        Assert.Contains(figure.Table.Rows, row => row[0] == "Air exchange" && row[3] == "65\u00A0%");
        Assert.Contains("design night the heater would have to give 3370\u00A0W", figure.AltText, StringComparison.Ordinal);
    }

    [Fact]
    public void Layers_are_drawn_in_order_and_to_scale()
    {
        var figure = WallSection.Of("Walls", Design.Walls, Assessment, DisplayUnits.Metric);
        var bar = Assert.IsType<Polyline>(figure.Elements.Single(element => element.Subject == "scale-bar"));
        var unitsPerMillimetre = (bar.Points[2].X - bar.Points[1].X) / 20;
        var ply = figure.Elements.OfType<Box>().Single(box => box.Subject == "ply");
        var wool = figure.Elements.OfType<Box>().Single(box => box.Subject == "wool");
        var skin = figure.Elements.OfType<Box>().Single(box => box.Subject == "skin");
        Assert.Equal(6 * unitsPerMillimetre, ply.Width, 6);
        Assert.Equal(40 * unitsPerMillimetre, wool.Width, 6);
        Assert.Equal(ply.X + ply.Width, wool.X, 6);
        Assert.Equal(wool.X + wool.Width, skin.X, 6);
        Assert.Contains(figure.Elements.OfType<Polyline>(), line => line.Subject == "vcl");
        Assert.Contains("Sheep's wool, 40\u00A0mm", figure.AltText, StringComparison.Ordinal);
        Assert.Contains("U-value 0.87\u00A0W/(m²·K)", figure.AltText, StringComparison.Ordinal);
    }

    [Fact]
    public void The_temperature_line_meets_each_face_at_its_temperature()
    {
        var figure = WallSection.Of("Walls", Design.Walls, Assessment, DisplayUnits.Metric);
        var line = figure.Elements.OfType<Polyline>().Single(line => line.Stroke == Ink.AirOut);
        var state = Assessment.Assemblies[0];
        Assert.Equal(state.Temperatures.Length, line.Points.Length);

        // 13.6, 13.0, 12.8, 3.9: equal steps of temperature are equal steps downwards.
        Assert.Equal((13.6 - 13.0) / (13.6 - 3.9), (line.Points[1].Y - line.Points[0].Y) / (line.Points[3].Y - line.Points[0].Y), 6);
    }

    [Theory]
    [MemberData(nameof(Figures))]
    public void Every_table_is_rectangular_and_full(string name)
    {
        var table = Draw(name, Assessment, DisplayUnits.Imperial).Table;
        Assert.NotEmpty(table.Rows);
        Assert.All(table.Rows, row => Assert.Equal(table.Heads.Length, row.Length));
        Assert.All(table.Rows.SelectMany(row => row), cell => Assert.NotEqual("", cell));
    }

    private static Figure Draw(string name, Assessment assessment, DisplayUnits units) => name switch
    {
        "surfaces" => SurfaceTemperatures.Of(Design, assessment, units),
        "water" => WaterFigure.Of(assessment, units),
        "heat" => HeatFigure.Of(assessment, units),
        "walls" => WallSection.Of("Walls", Design.Walls, assessment, units),
        "floor" => WallSection.Of("Floor", Design.Floor, assessment, units),
        _ => throw new ArgumentException($"No figure '{name}'.", nameof(name)),
    };
}
