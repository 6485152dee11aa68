using System.Globalization;
using Bunit;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Web.Figures;
using Xunit;

namespace ConsultDesk.Web.Tests.Figures;

public sealed class FigureViewTests : IAsyncDisposable
{
    private readonly BunitContext _page = new();

    public ValueTask DisposeAsync() => _page.DisposeAsync();

    private static Figure Sample(params FigureElement[] elements) => new()
    {
        Id = "van-plan",
        Title = "Plan of the van",
        AltText = "Air enters at the window and leaves by the roof fan, 42 m3/h.",
        Width = 400.5,
        Height = 200,
        Elements = [.. elements],
        Legend = [new LegendEntry(LegendMark.Arrow, Ink.AirIn, "Outdoor air in"), new LegendEntry(LegendMark.Ring, Ink.Wet, "Wet")],
        Table = new DataTable { Caption = "Air through the openings", Heads = ["Opening", "In, m3/h"], Rows = [["Window", "42"]], NumberColumns = [1] },
    };

    private IRenderedComponent<FigureView> Render(params FigureElement[] elements) =>
        _page.Render<FigureView>(p => p.Add(v => v.Figure, Sample(elements)));

    [Fact]
    public void A_figure_is_an_image_with_a_title_and_a_text_for_those_who_cannot_see_it()
    {
        var svg = Render().Find("svg.figure-drawing");

        Assert.Equal("img", svg.GetAttribute("role"));
        Assert.Equal("0 0 400.5 200", svg.GetAttribute("viewBox"));
        var view = Render();
        Assert.Equal("Plan of the van", view.Find("#" + svg.GetAttribute("aria-labelledby")).TextContent);
        Assert.Contains("42 m3/h", view.Find("#" + svg.GetAttribute("aria-describedby")).TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_primitive_is_drawn_with_its_inks_as_classes()
    {
        var view = Render(
            new Box(1, 2, 3, 4, 5) { Stroke = Ink.Body, Fill = Ink.Paper, FillOpacity = 0.25 },
            new Circle(10, 11, 2.125) { Fill = Ink.Wet },
            new Polyline([new(0, 0), new(1.5, 2)]) { Stroke = Ink.Rule, StrokeWidth = 2, Dashed = true },
            new Polyline([new(0, 0), new(1, 0), new(1, 1)], Closed: true) { Fill = Ink.Bed },
            new Label(5, 6, "1 < 2", 12, TextAnchor.Middle, Bold: true) { Fill = Ink.Muted });

        var box = view.Find("svg.figure-drawing rect");
        Assert.Equal("s-body f-paper", box.GetAttribute("class"));
        Assert.Equal("0.25", box.GetAttribute("fill-opacity"));
        Assert.Equal("5", box.GetAttribute("rx"));
        Assert.Equal("2.1", view.Find("svg.figure-drawing circle").GetAttribute("r"));
        Assert.Equal("8 6", view.Find("svg.figure-drawing > polyline").GetAttribute("stroke-dasharray"));
        Assert.Equal("0,0 1,0 1,1", view.Find("svg.figure-drawing > polygon").GetAttribute("points"));
        var text = view.Find("svg.figure-drawing text");
        Assert.Equal("1 < 2", text.TextContent);
        Assert.Equal("f-muted a-middle bold", text.GetAttribute("class"));
        Assert.Equal("12", text.GetAttribute("font-size"));
    }

    [Fact]
    public void A_page_that_is_only_read_draws_lines_and_boxes_of_one_style_as_one_path_and_nothing_that_cannot_be_seen()
    {
        FigureElement[] elements =
        [
            new Box(0, 0, 9, 9) { Fill = Ink.Paper, FillOpacity = 0, Subject = "living", Hint = "Living" },
            new Polyline([new(0, 0), new(5, 0)]) { Stroke = Ink.Rule, Subject = "a", Hint = "A" },
            new Polyline([new(0, 2), new(5, 2)], Closed: true) { Stroke = Ink.Rule },
            new Box(1, 2, 3, 4) { Stroke = Ink.Rule },
            new Box(1, 2, 3, 4) { Stroke = Ink.Wet },
        ];
        var view = _page.Render<FigureView>(p => p.Add(v => v.Figure, Sample(elements)).Add(v => v.Pointing, false));

        var paths = view.FindAll("svg.figure-drawing path");
        Assert.Equal(["m0 0h5m-5 2h5zm1 0h3v4h-3z", "m1 2h3v4h-3z"], paths.Select(path => path.GetAttribute("d")));
        Assert.Empty(view.FindAll("svg.figure-drawing rect, [data-subject], svg.figure-drawing > * > title"));
    }

    [Fact]
    public void A_page_that_is_only_read_tells_outlines_from_point_to_point_without_adding_up_roundings()
    {
        FigureElement[] elements =
        [
            new Polyline([new(0.04, 0), new(0.08, 1.5), new(0.12, -0.25), new(0.16, 0)], Closed: true) { Fill = Ink.Bed },
            new Polyline([new(5, 5), new(6, 5), new(6, 6)], Closed: true) { Fill = Ink.Bed },
            new Polyline([new(5.5, 5), new(6.5, 5), new(6.5, 6)], Closed: true) { Fill = Ink.Bed },
            new Arrow([new(0, 0), new(20, 0)], 10) { Stroke = Ink.AirIn, StrokeWidth = 3 },
        ];
        var view = _page.Render<FigureView>(p => p.Add(v => v.Figure, Sample(elements)).Add(v => v.Pointing, false));

        // Filled outlines that overlap stay apart, or they would cut holes into one another.
        var paths = view.FindAll("svg.figure-drawing path");
        Assert.Equal(
            ["m0 0l0.1 1.5v-1.7l0.1 0.2zm5 5h1v1z", "m5.5 5h1v1z", "m0 0h10", "m20 0l-10 4.5v-9z"],
            paths.Select(path => path.GetAttribute("d")));
        Assert.Equal(["f-bed", "f-bed", "s-air-in", "f-air-in"], paths.Select(path => path.GetAttribute("class")));
        Assert.Equal("3", paths[2].GetAttribute("stroke-width"));
    }

    [Fact]
    public void What_hides_what_stays_as_it_is_when_shapes_of_one_look_become_one_path()
    {
        FigureElement[] elements =
        [
            new Polyline([new(0, 0), new(9, 0)]) { Stroke = Ink.Rule },
            new Box(20, 20, 9, 9) { Fill = Ink.Paper },
            new Polyline([new(0, 5), new(9, 5)]) { Stroke = Ink.Rule },
            new Polyline([new(15, 24), new(30, 24)]) { Stroke = Ink.Rule },
        ];
        var view = _page.Render<FigureView>(p => p.Add(v => v.Figure, Sample(elements)).Add(v => v.Pointing, false));

        Assert.Equal(["m0 0h9m-9 5h9", "m20 20h9v9h-9z", "m15 24h15"], view.FindAll("svg.figure-drawing path").Select(path => path.GetAttribute("d")));
    }

    [Fact]
    public void Texts_of_one_look_stand_last_in_one_group_on_a_page_that_is_only_read()
    {
        FigureElement[] elements =
        [
            new Label(1, 2, "Nose", 10, TextAnchor.Middle) { Fill = Ink.Muted },
            new Label(3, 4, "Rear", 12) { Fill = Ink.Text },
            new Label(5, 6, "Left", 10, TextAnchor.Middle) { Fill = Ink.Muted },
            new Box(0, 0, 9, 9) { Fill = Ink.Bed },
        ];
        var view = _page.Render<FigureView>(p => p.Add(v => v.Figure, Sample(elements)).Add(v => v.Pointing, false));

        Assert.Equal(["title", "desc", "path", "g", "text"], view.Find("svg.figure-drawing").Children.Select(child => child.LocalName));
        var group = view.Find("svg.figure-drawing g");
        Assert.Equal("f-muted a-middle", group.ClassName);
        Assert.Equal([("1", "2", "Nose"), ("5", "6", "Left")], group.Children.Select(text => (text.GetAttribute("x")!, text.GetAttribute("y")!, text.TextContent)));
        Assert.Equal("z12", view.Find("svg.figure-drawing > text").ClassName);
    }

    [Fact]
    public void Cells_are_strokes_through_their_middle()
    {
        var upright = Render(new Cells(10, 20, 2, 4, [new(0, 3, 1, 5), new(2, 1, 1, 2)]) { Fill = Ink.Wet, FillOpacity = 0.5 }).Find("svg.figure-drawing path");
        Assert.Equal("translate(11 20) scale(2 4)", upright.GetAttribute("transform"));
        Assert.Equal("m0 3v5m2-7v2", upright.GetAttribute("d"));
        Assert.Equal("0.5", upright.GetAttribute("stroke-opacity"));
        Assert.Equal("s-wet", upright.GetAttribute("class"));

        var level = Render(new Cells(10, 20, 2, 4, [new(1, 0, 3, 2)]) { Fill = Ink.Wet }).Find("svg.figure-drawing path");
        Assert.Equal("translate(10 22) scale(2 4)", level.GetAttribute("transform"));
        Assert.Equal("m1 0h3m-3 1h3", level.GetAttribute("d"));
    }

    [Fact]
    public void An_arrow_ends_in_a_head_at_its_last_point()
    {
        var view = Render(new Arrow([new(0, 0), new(20, 0)], 10) { Stroke = Ink.AirIn, StrokeWidth = 3 });

        Assert.Equal("20,0 10,4.5 10,-4.5", view.Find("svg.figure-drawing g polygon").GetAttribute("points"));
        Assert.Equal("0,0 10,0", view.Find("svg.figure-drawing g polyline").GetAttribute("points"));
        Assert.Equal("f-air-in", view.Find("svg.figure-drawing g polygon").GetAttribute("class"));
    }

    [Fact]
    public void The_legend_and_the_numbers_stand_below_as_html()
    {
        var view = Render();

        Assert.Equal(["Outdoor air in", "Wet"], view.FindAll(".figure-legend li span").Select(e => e.TextContent));
        Assert.Equal("Air through the openings", view.Find("details caption").TextContent);
        Assert.Equal("row", view.Find("tbody th").GetAttribute("scope"));
        Assert.Equal("numbers all-numbers", view.Find("details table").ClassName);
    }

    [Fact]
    public void A_part_is_named_to_scripts_and_says_what_it_is()
    {
        var view = Render(new Box(0, 0, 9, 9) { Subject = "roof-vent-1", Hint = "Roof vent, shut" });

        Assert.Equal("Roof vent, shut", view.Find("svg.figure-drawing rect title").TextContent);
        Assert.Equal("roof-vent-1", view.Find("svg.figure-drawing rect").GetAttribute("data-subject"));
    }

    [Fact]
    public void Air_runs_along_the_arrows_of_flows_only_where_it_is_asked_for()
    {
        var flow = new Arrow([new(0, 0), new(0, 40)], 8) { Stroke = Ink.AirOut, StrokeWidth = 3, Subject = "lid" };
        var mixing = new Arrow([new(9, 0), new(9, 40)], 8) { Stroke = Ink.AirWithin, Dashed = true, Subject = "door" };
        var still = Render(flow, mixing);
        var moving = _page.Render<FigureView>(p => p.Add(v => v.Figure, Sample(flow, mixing)).Add(v => v.Moving, true));

        Assert.Empty(still.FindAll(".flow"));
        var gaps = Assert.Single(moving.FindAll(".flow"));
        // From tail to tip, as the shaft below: the gaps run that way.
        Assert.Equal(moving.Find("g polyline").GetAttribute("points"), gaps.GetAttribute("points"));
        Assert.StartsWith("0,0 ", gaps.GetAttribute("points"), StringComparison.Ordinal);
    }

    [Fact]
    public void Numbers_keep_their_decimal_point_where_the_culture_writes_a_comma()
    {
        var before = CultureInfo.CurrentCulture;
        try
        {
            var comma = (CultureInfo)CultureInfo.InvariantCulture.Clone();
            comma.NumberFormat.NumberDecimalSeparator = ",";
            CultureInfo.CurrentCulture = comma;
            Assert.Equal("1.5", Render(new Box(1.5, 0, 1, 1)).Find("svg.figure-drawing rect").GetAttribute("x"));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Fact]
    public void Every_ink_and_every_mark_can_be_drawn_and_nothing_carries_a_style()
    {
        var figure = Sample([.. Enum.GetValues<Ink>().Select(ink => new Box(0, 0, 1, 1) { Stroke = ink, Fill = ink })]) with
        {
            Legend = [.. Enum.GetValues<LegendMark>().Select(mark => new LegendEntry(mark, Ink.Accent, mark.ToString()))],
        };
        var view = _page.Render<FigureView>(p => p.Add(v => v.Figure, figure));

        Assert.Equal(Enum.GetValues<Ink>().Length, view.FindAll("svg.figure-drawing rect").Count);
        Assert.Equal(Enum.GetValues<LegendMark>().Length, view.FindAll(".figure-legend li").Count);
        Assert.DoesNotContain("style=", view.Markup, StringComparison.Ordinal);
    }
}
