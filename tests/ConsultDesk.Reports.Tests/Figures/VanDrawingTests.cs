using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Reports.Tests.Figures;

public sealed class VanDrawingTests
{
    private static readonly Design Design = SampleDesign.Design;
    private static readonly Assessment Assessment = SampleDesign.Assessment;

    public static TheoryData<string> Drawings => [.. All().Select(pair => pair.Name)];

    [Fact]
    public void A_lid_of_350_mm_is_drawn_as_long_as_the_scale_bar_says()
    {
        var plan = VanDrawing.Plan(Design, Assessment, DisplayUnits.Metric);
        var bar = Assert.IsType<Polyline>(plan.Elements.Single(element => element.Subject == "scale-bar"));
        var unitsPerMetre = bar.Points[2].X - bar.Points[1].X;
        var lid = plan.Elements.OfType<Box>().First(box => box.Subject == "roof-fan");
        Assert.Equal(0.350 * unitsPerMetre, lid.Width, 6);
        Assert.Equal(0.350 * unitsPerMetre, lid.Height, 6);

        var side = VanDrawing.Side(Design, Assessment, DisplayUnits.Metric);
        var sideBar = Assert.IsType<Polyline>(side.Elements.Single(element => element.Subject == "scale-bar"));
        var window = side.Elements.OfType<Box>().First(box => box.Subject == "side-window");
        Assert.Equal(0.7 * (sideBar.Points[2].X - sideBar.Points[1].X), window.Width, 6);
        Assert.Equal(0.4 * (sideBar.Points[2].X - sideBar.Points[1].X), window.Height, 6);
    }

    // 1 m at 1:45 is 22.22 mm on paper; a CSS pixel is 1/96 inch of 25.4 mm (CSS Values and Units, section 6.2).
    [Fact]
    public void The_scale_that_is_named_is_the_scale_that_is_drawn()
    {
        var plan = VanDrawing.Plan(Design, Assessment, DisplayUnits.Metric);
        var bar = Assert.IsType<Polyline>(plan.Elements.Single(element => element.Subject == "scale-bar"));
        Assert.Contains(plan.Elements.OfType<Label>(), label => label.Text.Contains("1:45", StringComparison.Ordinal));
        Assert.Equal(22.2222, (bar.Points[2].X - bar.Points[1].X) / 96 * 25.4, 3);
        Assert.Contains("1:45", plan.AltText, StringComparison.Ordinal);
    }

    [Fact]
    public void Places_in_the_drawing_are_places_in_the_van()
    {
        var plan = VanDrawing.Plan(Design, Assessment, DisplayUnits.Metric);
        var bar = (Polyline)plan.Elements.Single(element => element.Subject == "scale-bar");
        var unitsPerMetre = bar.Points[2].X - bar.Points[1].X;
        var fan = plan.Elements.OfType<Box>().First(box => box.Subject == "roof-fan");
        var lid = plan.Elements.OfType<Box>().First(box => box.Subject == "front-lid");
        var right = plan.Elements.OfType<Box>().First(box => box.Subject == "side-window");
        var left = plan.Elements.OfType<Box>().First(box => box.Subject == "bed-window");

        // The fan is 4.20 m behind the windscreen, the lid 1.95 m.
        Assert.Equal((4.2 - 1.95) * unitsPerMetre, fan.X + (fan.Width / 2) - lid.X - (lid.Width / 2), 6);

        // Forward is left on the sheet, so that the right wall is at the top of it.
        Assert.True(right.Y < fan.Y && fan.Y < left.Y);
        Assert.Equal(1.78 * unitsPerMetre, left.Y - right.Y, 6);
    }

    [Theory]
    [MemberData(nameof(Drawings))]
    public void Every_opening_is_drawn_numbered_and_listed(string name)
    {
        var figure = Get(name);
        Assert.Equal(Design.Openings.Length, figure.Table.Rows.Count(row => char.IsAsciiDigit(row[0][0])));
        for (var index = 0; index < Design.Openings.Length; index++)
        {
            var opening = Design.Openings[index];
            var number = (index + 1).ToString(System.Globalization.CultureInfo.InvariantCulture);
            var own = figure.Elements.Where(element => element.Subject == opening.Id).ToList();
            Assert.NotEmpty(own.OfType<Box>());
            Assert.Contains(own.OfType<Label>(), label => label.Text == number);
            Assert.Equal([number, opening.Name], figure.Table.Rows[index][..2]);
            Assert.All(figure.Table.Rows[index], cell => Assert.NotEqual("", cell));
            Assert.Contains($"{number} {opening.Name}", figure.AltText, StringComparison.Ordinal);
        }
    }

    [Theory]
    [MemberData(nameof(Drawings))]
    public void Air_going_out_starts_at_its_opening_and_air_coming_in_ends_there(string name)
    {
        var figure = Get(name);
        foreach (var flow in Assessment.Air.Openings)
        {
            var arrows = figure.Elements.OfType<Arrow>().Where(arrow => arrow.Subject == flow.OpeningId).ToList();
            var frame = figure.Elements.OfType<Box>().First(box => box.Subject == flow.OpeningId);
            if (!name.StartsWith("assessed", StringComparison.Ordinal))
            {
                Assert.Empty(arrows);
                continue;
            }

            Assert.Equal(flow.In.CubicMetersPerHour > 0 ? 1 : 0, arrows.Count(arrow => arrow.Stroke == Ink.AirIn));
            Assert.Equal(flow.Out.CubicMetersPerHour > 0 ? 1 : 0, arrows.Count(arrow => arrow.Stroke == Ink.AirOut));
            foreach (var arrow in arrows)
            {
                var tail = Distance(arrow.Points[0], frame);
                var tip = Distance(arrow.Points[^1], frame);
                Assert.True(arrow.Stroke == Ink.AirIn ? tip < tail : tail < tip, $"{name}: {flow.OpeningId} {arrow.Stroke}");
            }
        }
    }

    [Fact]
    public void More_air_is_a_wider_arrow()
    {
        var plan = VanDrawing.Plan(Design, Assessment, DisplayUnits.Metric);
        double Width(string id, Ink ink) => plan.Elements.OfType<Arrow>().Single(arrow => arrow.Subject == id && arrow.Stroke == ink).StrokeWidth;
        Assert.True(Width("roof-fan", Ink.AirOut) > Width("side-window", Ink.AirIn));
        Assert.True(Width("side-window", Ink.AirIn) > Width("floor-vent", Ink.AirIn));
        Assert.True(Width("front-lid", Ink.AirIn) > Width("front-lid", Ink.AirOut));
    }

    [Fact]
    public void Air_between_zones_points_the_way_it_flows()
    {
        var plan = VanDrawing.Plan(Design, Assessment, DisplayUnits.Metric);
        var arrow = Net(plan, "bed-opening");
        Assert.True(arrow.Points[^1].X > arrow.Points[0].X);

        var reversed = Assessment with
        {
            Air = Assessment.Air with
            {
                Passages = [.. Assessment.Air.Passages.Select(flow => flow with { Net = -flow.Net })],
            },
        };
        var back = Net(VanDrawing.Plan(Design, reversed, DisplayUnits.Metric), "bed-opening");
        Assert.True(back.Points[^1].X < back.Points[0].X);

        // From the space under the bed up to the bed, against the passage's order.
        var rising = Net(VanDrawing.Side(Design, Assessment, DisplayUnits.Metric), "bed-platform");
        Assert.True(rising.Points[^1].Y < rising.Points[0].Y);

        static Arrow Net(Figure figure, string id) => figure.Elements.OfType<Arrow>().First(arrow => arrow.Subject == id && !arrow.Dashed);
    }

    [Fact]
    public void Wet_surfaces_carry_their_grams_and_dry_ones_carry_none()
    {
        var plan = VanDrawing.Plan(Design, Assessment, DisplayUnits.Metric);
        foreach (var surface in Assessment.Surfaces)
        {
            var marks = plan.Elements.OfType<Label>().Where(label => label.Subject == surface.Id && label.Fill == Ink.Wet).ToList();
            if (surface.CondensedPerNight.Grams > 0)
            {
                Assert.StartsWith(DisplayUnits.Metric.Format(surface.CondensedPerNight), Assert.Single(marks).Text, StringComparison.Ordinal);
                Assert.Contains($"{surface.Name} {DisplayUnits.Metric.Format(surface.CondensedPerNight)}", plan.AltText, StringComparison.Ordinal);
            }
            else
            {
                Assert.Empty(marks);
            }
        }

        Assert.Contains(plan.Elements.OfType<Polyline>(), line => line.Subject == "windscreen" && line.Stroke == Ink.Wet);
        Assert.Contains(plan.Legend, entry => entry.Ink == Ink.Wet);
    }

    [Theory]
    [MemberData(nameof(Drawings))]
    public void The_alternative_text_tells_the_flows(string name)
    {
        var figure = Get(name);
        var assessed = name.StartsWith("assessed", StringComparison.Ordinal);
        var imperial = name.EndsWith("imperial", StringComparison.Ordinal);
        Assert.Equal(assessed, figure.AltText.Contains(imperial ? "out 184\u00A0cfm" : "out 312\u00A0m³/h", StringComparison.Ordinal));
        Assert.Equal(assessed, figure.AltText.Contains("Cracks let in", StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Drawings))]
    public void Every_label_stays_inside_the_figure(string name)
    {
        var figure = Get(name);
        foreach (var label in figure.Elements.OfType<Label>())
        {
            var area = AreaOf(label);
            Assert.True(
                area.X >= 0 && area.Right <= figure.Width && area.Y >= 0 && area.Bottom <= figure.Height,
                $"'{label.Text}' lies at {area} outside {figure.Width} by {figure.Height}");
        }
    }

    [Theory]
    [MemberData(nameof(Drawings))]
    public void No_two_labels_lie_on_each_other(string name)
    {
        var labels = Get(name).Elements.OfType<Label>().ToList();
        for (var one = 0; one < labels.Count; one++)
        {
            for (var other = one + 1; other < labels.Count; other++)
            {
                Assert.True(
                    AreaOf(labels[one]).Overlap(AreaOf(labels[other])) < 1,
                    $"{name}: '{labels[one].Text}' and '{labels[other].Text}' overlap");
            }
        }
    }

    public static TheoryData<string, Layout> Presets => [.. BodyClasses.All
        .SelectMany(body => Enum.GetValues<Layout>().Select(layout => new TheoryDataRow<string, Layout>(body.Key, layout)))];

    [Theory]
    [MemberData(nameof(Presets))]
    public void No_two_labels_of_a_calculated_preset_lie_on_each_other(string bodyClass, Layout layout)
    {
        foreach (var design in new[] { Calculations.Vehicle.Presets.Build(bodyClass, layout), Crowded(Calculations.Vehicle.Presets.Build(bodyClass, layout)) })
        {
            var assessment = Assessor.Assess(design, TestContext.Current.CancellationToken);
            foreach (var figure in new[]
            {
                VanDrawing.Plan(design, assessment, DisplayUnits.Metric),
                VanDrawing.Side(design, assessment, DisplayUnits.Metric),
                VanDrawing.Roof(design, DisplayUnits.Metric),
            })
            {
                var labels = figure.Elements.OfType<Label>().ToList();
                for (var one = 0; one < labels.Count; one++)
                {
                    for (var other = one + 1; other < labels.Count; other++)
                    {
                        Assert.True(
                            AreaOf(labels[one]).Overlap(AreaOf(labels[other])) < 1,
                            $"{figure.Id}: '{labels[one].Text}' and '{labels[other].Text}' overlap");
                    }

                    var area = AreaOf(labels[one]);
                    Assert.True(
                        area.X >= 0 && area.Right <= figure.Width && area.Y >= 0 && area.Bottom <= figure.Height,
                        $"{figure.Id}: '{labels[one].Text}' lies outside the sheet");
                }
            }
        }
    }

    [Theory]
    [InlineData(PartState.Fitted, LegendMark.Dot, "fitted")]
    [InlineData(PartState.Owned, LegendMark.Square, "owned")]
    [InlineData(PartState.Proposed, LegendMark.Ring, "proposed")]
    [InlineData(PartState.Later, LegendMark.DashedRing, "later")]
    public void How_far_a_part_has_come_shows_by_a_mark_of_its_own_and_by_a_word(PartState state, LegendMark mark, string word)
    {
        var design = Design with { Openings = [.. Design.Openings.Select(opening => opening with { State = state })] };
        foreach (var figure in new[] { VanDrawing.Plan(design, null, DisplayUnits.Metric), VanDrawing.Side(design, null, DisplayUnits.Metric), VanDrawing.Roof(design, DisplayUnits.Metric) })
        {
            Assert.EndsWith(word, Assert.Single(figure.Legend, entry => entry.Ink == Ink.Opening && entry.Mark == mark).Text, StringComparison.Ordinal);
            Assert.Contains(word, figure.AltText, StringComparison.Ordinal);
            Assert.Equal(state == PartState.Later, figure.Elements.OfType<Box>().First(box => box.Subject == "roof-fan").Dashed);
        }
    }

    [Fact]
    public void A_covered_opening_is_crossed_out_and_says_so()
    {
        var design = Design with { Openings = [.. Design.Openings.Select((opening, index) => opening with { Covered = index == 0 })] };
        foreach (var figure in new[] { VanDrawing.Plan(design, null, DisplayUnits.Metric), VanDrawing.Side(design, null, DisplayUnits.Metric) })
        {
            Assert.Contains(figure.Legend, entry => entry.Mark == LegendMark.Cross);
            Assert.Contains("covered", figure.AltText, StringComparison.Ordinal);
            Assert.Equal(2, figure.Elements.OfType<Polyline>().Count(line => line.Subject == design.Openings[0].Id && line.Stroke == Ink.Text));
        }
    }

    [Fact]
    public void Whatever_stands_in_the_van_has_a_letter_a_name_and_a_row()
    {
        var design = Crowded(Calculations.Vehicle.Presets.Build("long-high", Layout.RearPlatformBed));
        var figure = VanDrawing.Plan(design, null, DisplayUnits.Metric);
        foreach (var name in new[] { "Heater", "Desiccant dryer", "Bed fan", "House battery", "Water", "Gas locker", "Heater exhaust" })
        {
            var row = figure.Table.Rows.Single(row => row[1] == name);
            Assert.Contains(figure.Elements.OfType<Label>(), label => label.Text == row[0]);
            Assert.Contains(figure.Legend, entry => entry.Text.StartsWith($"{row[0]} {name}", StringComparison.Ordinal));
            Assert.Contains($"{row[0]} {name}", figure.AltText, StringComparison.Ordinal);
        }
    }

    // Every state there is, and every part that is drawn by a letter.
    private static Design Crowded(Design design)
    {
        var zone = design.Zones[^1].Id;
        return design with
        {
            Openings = [.. design.Openings.Select((opening, index) => opening with { State = (PartState)(index % 4), Covered = index == 1 })],
            Dryers =
            [
                new Dryer
                {
                    Id = "dryer", Name = "Desiccant dryer", Kind = DryerKind.Desiccant, ZoneId = zone,
                    RemovedPerDay = Mass.FromKilograms(5), ElectricDraw = Power.FromWatts(300), Running = true, State = PartState.Later,
                },
            ],
            CirculationFans =
            [
                new CirculationFan
                {
                    Id = "bed-fan", Name = "Bed fan", ZoneA = design.Zones[0].Id, ZoneB = zone,
                    Flow = VolumeFlow.FromCubicMetersPerHour(30), ElectricDraw = Power.FromWatts(3), Running = true,
                },
            ],
            Equipment = design.Equipment with
            {
                Battery = BatteryKind.Lithium,
                BatteryZoneId = zone,
                BatteryUsable = Energy.FromKilowattHours(2),
                WaterCarried = true,
                GasLocker = new BodyPoint(Face.Left, Length.FromMeters(2), Length.Zero, Length.FromMeters(0.3)),
                HeaterExhaust = new BodyPoint(Face.Floor, Length.FromMeters(1.5), Length.FromMeters(0.4), Length.Zero),
            },
        };
    }

    [Fact]
    public void A_shut_van_without_openings_is_drawn()
    {
        var shut = Design with { Openings = [], Passages = [] };
        var air = Assessment.Air with { Openings = [], Passages = [], Fans = [] };
        var figure = VanDrawing.Plan(shut, Assessment with { Air = air }, DisplayUnits.Metric);
        Assert.Contains("no opening", figure.AltText, StringComparison.Ordinal);
        Assert.Empty(figure.Elements.OfType<Arrow>());
        Assert.DoesNotContain(figure.Table.Rows, row => char.IsAsciiDigit(row[0][0]));
    }

    [Fact]
    public void The_longest_and_the_smallest_van_of_the_accepted_range_are_drawn_inside_the_sheet()
    {
        foreach (var (length, width, height) in new[] { (9.0, 2.5, 2.6), (2.0, 1.2, 1.0) })
        {
            var body = Design.Body with
            {
                InteriorLength = Length.FromMeters(length),
                InteriorWidth = Length.FromMeters(width),
                InteriorHeight = Length.FromMeters(height),
                Furniture = [],
            };
            var zone = Design.Zones[1] with { From = Length.Zero, To = body.InteriorLength, Top = body.InteriorHeight };
            var van = Design with { Body = body, Zones = [zone], Passages = [], Openings = [], Glazings = [], BareMetal = [] };
            foreach (var figure in new[] { VanDrawing.Plan(van, null, DisplayUnits.Metric), VanDrawing.Side(van, null, DisplayUnits.Metric) })
            {
                Assert.All(figure.Elements.OfType<Polyline>().SelectMany(line => line.Points), point =>
                {
                    Assert.InRange(point.X, 0, figure.Width);
                    Assert.InRange(point.Y, 0, figure.Height);
                });
            }
        }
    }

    private static IEnumerable<(string Name, Figure Figure)> All()
    {
        foreach (var units in DisplayUnits.All)
        {
            foreach (var assessment in new[] { Assessment, null })
            {
                var kind = $"{(assessment is null ? "plain" : "assessed")}";
                yield return ($"{kind} plan {units.Name.ToLowerInvariant()}", VanDrawing.Plan(Design, assessment, units));
                yield return ($"{kind} side {units.Name.ToLowerInvariant()}", VanDrawing.Side(Design, assessment, units));
            }
        }
    }

    private static Figure Get(string name) => All().First(pair => pair.Name == name).Figure;

    private static double Distance(FigurePoint point, Box box) =>
        Math.Sqrt(Math.Pow(point.X - box.X - (box.Width / 2), 2) + Math.Pow(point.Y - box.Y - (box.Height / 2), 2));

    private static Area2 AreaOf(Label label) =>
        FigureCanvas.TextArea(label.X, label.Y, label.Text, label.Anchor, label.Bold, label.Size);
}
