using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Reports.Tests.Figures;

public sealed class RoofFigureTests
{
    private static readonly Design Design = SampleDesign.Design;

    [Fact]
    public void An_empty_roof_is_free_all_over()
    {
        var bare = Roof([], [], []);
        Assert.Equal(5.2 * 1.78, new VanRoofSheet(bare, DisplayUnits.Metric).FreeM2(), 1e-9);
        Assert.Contains("Nothing lies on it.", VanDrawing.Roof(bare, DisplayUnits.Metric).AltText, StringComparison.Ordinal);
    }

    // Areas of rectangles that share nothing add up; what they share counts once.
    [Fact]
    public void What_is_free_is_the_roof_without_what_lies_on_it()
    {
        var one = Panel("one", 2, 0.5, 1.0, 0.6);
        var apart = Panel("two", 4, 1.2, 1.2, 0.5);
        Assert.Equal((5.2 * 1.78) - 0.6 - 0.6, new VanRoofSheet(Roof([], [one, apart], []), DisplayUnits.Metric).FreeM2(), 1e-9);

        var onTop = Panel("two", 2.5, 0.5, 1.0, 0.6);
        Assert.Equal((5.2 * 1.78) - 0.6 - 0.6 + (0.5 * 0.6), new VanRoofSheet(Roof([], [one, onTop], []), DisplayUnits.Metric).FreeM2(), 1e-9);
    }

    [Fact]
    public void What_reaches_over_the_edge_takes_no_more_roof_than_there_is()
    {
        var awning = Panel("awning", 2.6, 1.80, 5.2, 0.2);
        Assert.Equal(5.2 * 1.70, new VanRoofSheet(Roof([], [awning], []), DisplayUnits.Metric).FreeM2(), 1e-9);
        var figure = VanDrawing.Roof(Roof([], [awning], []), DisplayUnits.Metric);
        Assert.All(figure.Elements.OfType<Box>(), box => Assert.True(box.X >= 0 && box.Y >= 0 && box.X + box.Width <= figure.Width && box.Y + box.Height <= figure.Height));
    }

    [Fact]
    public void Parts_are_drawn_to_the_scale_of_the_bar_and_listed_with_their_places()
    {
        var figure = VanDrawing.Roof(Roof(Design.Openings, [Panel("panel", 3, 0.6, 1.0, 0.65)], []), DisplayUnits.Metric);
        var bar = Assert.IsType<Polyline>(figure.Elements.Single(element => element.Subject == "scale-bar"));
        var metre = bar.Points[2].X - bar.Points[1].X;
        var panel = figure.Elements.OfType<Box>().First(box => box.Subject == "panel");
        Assert.Equal(1.0 * metre, panel.Width, 6);
        Assert.Equal(0.65 * metre, panel.Height, 6);
        var row = figure.Table.Rows.Single(row => row[1] == "Solar panel panel");
        Assert.Equal("3.00\u00A0m", row[2]);
        Assert.Equal("proposed", row[6]);
        Assert.Equal(Design.Openings.Count(opening => opening.Face == Face.Roof) + 1, figure.Table.Rows.Length);
    }

    [Fact]
    public void A_clash_is_crossed_out_where_it_is_and_told_with_its_reason()
    {
        var lid = Design.Openings.First(opening => opening.Id == "front-lid");
        var over = Panel("panel", lid.X.Meters + 0.3, lid.Y.Meters, 0.5, 0.5);
        var design = Roof([lid], [over], []);
        var clash = Assert.Single(RoofPlan.Clashes(design));
        var figure = VanDrawing.Roof(design, DisplayUnits.Metric);
        var cross = figure.Elements.OfType<Polyline>().First(line => line.Hint == clash.Reason);
        var frame = figure.Elements.OfType<Box>().First(box => box.Subject == "front-lid");
        Assert.All(cross.Points, point => Assert.InRange(point.X, frame.X - 0.001, frame.X + frame.Width + 0.001));
        Assert.Contains(figure.Legend, entry => entry.Text == $"Clash 1: {clash.Reason}");
        Assert.Contains(clash.Reason, figure.AltText, StringComparison.Ordinal);
        Assert.All(figure.Table.Rows, row => Assert.Equal(clash.Reason, row[7]));
        Assert.Contains(figure.Elements.OfType<Label>(), label => label.Text == "clash 1");
    }

    [Fact]
    public void No_hatching_crosses_what_lies_on_the_roof()
    {
        var figure = VanDrawing.Roof(Roof([], [Panel("panel", 3, 0.9, 1.0, 0.65)], []), DisplayUnits.Metric);
        var panel = figure.Elements.OfType<Box>().First(box => box.Subject == "panel");
        var lines = figure.Elements.OfType<Polyline>().Where(line => line.Subject == "free-roof").ToList();
        Assert.NotEmpty(lines);
        Assert.All(lines, line =>
        {
            var (x, y) = ((line.Points[0].X + line.Points[1].X) / 2, (line.Points[0].Y + line.Points[1].Y) / 2);
            Assert.False(x > panel.X + 1 && x < panel.X + panel.Width - 1 && y > panel.Y + 1 && y < panel.Y + panel.Height - 1);
        });
    }

    [Fact]
    public void What_comes_later_is_dashed()
    {
        var later = Panel("panel", 3, 0.6, 1.0, 0.65) with { State = PartState.Later };
        var figure = VanDrawing.Roof(Roof([], [later], []), DisplayUnits.Metric);
        Assert.True(figure.Elements.OfType<Box>().First(box => box.Subject == "panel").Dashed);
        Assert.Equal("later", figure.Table.Rows.Single()[6]);
    }

    private static Design Roof(ImmutableArray<Opening> openings, ImmutableArray<RoofPart> parts, ImmutableArray<HiddenPart> hidden) =>
        Design with { Openings = openings, Body = Design.Body with { RoofParts = parts, HiddenParts = hidden } };

    private static RoofPart Panel(string id, double x, double y, double length, double width) => new()
    {
        Id = id,
        Kind = RoofPartKind.SolarPanel,
        Name = $"Solar panel {id}",
        X = Length.FromMeters(x),
        Y = Length.FromMeters(y),
        Length = Length.FromMeters(length),
        Width = Length.FromMeters(width),
    };
}
