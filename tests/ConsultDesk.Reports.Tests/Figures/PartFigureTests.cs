using System.Collections.Immutable;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Reports.Tests.Figures;

/// <summary>Zones, heater, walls, situations and running card: figures and tables say what the assessment says.</summary>
public sealed class PartFigureTests
{
    private static readonly Design Design = SampleDesign.Design;
    private static readonly Assessment Assessment = SampleYear.Assessment;
    private static readonly DisplayUnits Units = DisplayUnits.Metric;

    private static YearAssessment Year => Assessment.Year!;

    public static TheoryData<string> Figures => ["scores", "bands", "damp", "heat", "zones", "fit", "walls", "roof", "floor", "vapour", "vapour-roof"];

    [Theory]
    [MemberData(nameof(Figures))]
    public void Every_label_stays_inside_and_no_two_lie_on_each_other(string name)
    {
        foreach (var units in DisplayUnits.All)
        {
            var figure = Draw(name, units);
            Assert.NotEmpty(figure.AltText);
            Assert.NotEmpty(figure.Title);
            var labels = figure.Elements.OfType<Label>().ToList();
            var areas = labels.Select(label => FigureCanvas.TextArea(label.X, label.Y, label.Text, label.Anchor, label.Bold, label.Size)).ToList();
            for (var one = 0; one < areas.Count; one++)
            {
                Assert.True(
                    areas[one].X >= -0.01 && areas[one].Right <= figure.Width + 0.01 && areas[one].Y >= -0.01 && areas[one].Bottom <= figure.Height,
                    $"'{labels[one].Text}' {areas[one]} outside {figure.Width} by {figure.Height}");
                for (var other = one + 1; other < areas.Count; other++)
                {
                    Assert.True(areas[one].Overlap(areas[other]) < 1, $"'{labels[one].Text}' and '{labels[other].Text}' overlap");
                }
            }

            foreach (var row in figure.Table.Rows)
            {
                Assert.Equal(figure.Table.Heads.Length, row.Length);
            }
        }
    }

    [Fact]
    public void Bars_of_the_zones_are_as_long_as_their_air_is_old()
    {
        var figure = ZoneAirFigure.Of(Design, Assessment, Units);
        var longest = Year.Zones.Max(zone => zone.NightAge.Seconds);
        foreach (var zone in Year.Zones)
        {
            var bar = figure.Elements.OfType<Box>().Single(box => box.Subject == zone.ZoneId);
            Assert.Equal(zone.NightAge.Seconds / longest * figure.Width, bar.Width, 1e-6);
            var name = Design.Zones.First(candidate => candidate.Id == zone.ZoneId).Name;
            Assert.Contains($"{name} {Units.Format(zone.NightAge)}", figure.AltText, StringComparison.Ordinal);
            Assert.Contains(figure.Table.Rows, row => row.SequenceEqual([name, Units.Format(zone.NightAge), Units.Format(zone.NightCarbonDioxide)]));
        }

        // Without a year the one night stands in.
        var night = ZoneAirFigure.Of(Design, SampleDesign.Assessment, Units);
        Assert.Contains("the calculated night", night.AltText, StringComparison.Ordinal);
        Assert.Contains(night.Table.Rows, row => row[1] == "14\u00A0min");
    }

    [Fact]
    public void The_heaters_curve_falls_and_its_lines_stand_at_their_outputs()
    {
        var figure = HeaterFitFigure.Of(Design, Assessment, Units)!;
        var curve = figure.Elements.OfType<Polyline>().Single(line => line is { Closed: false, Stroke: Ink.Accent }).Points;
        Assert.All(curve.Zip(curve.Skip(1)), pair => Assert.True(pair.Second.Y >= pair.First.Y - 1e-9));

        // Three lines on one axis: heights differ as outputs do.
        var gives = Line(Ink.Text);
        var lowest = Line(Ink.Muted);
        var needed = Line(Ink.AirOut);
        Assert.Equal((1940.0 - 800) / (2790 - 800), (lowest - gives) / (lowest - needed), 1e-6);
        Assert.Contains(figure.Table.Rows, row => row.SequenceEqual(["Needed to hold the day’s temperature", "2790\u00A0W"]));

        // A kilowatt-hour is 1000 / 12 Ah at 12 V.
        Assert.Contains(figure.Table.Rows, row => row[1] == "0.42\u00A0kWh (35\u00A0Ah at 12\u00A0V)");
        Assert.Null(HeaterFitFigure.Of(Design, SampleDesign.Assessment, Units));

        double Line(Ink ink) => figure.Elements.OfType<Polyline>().Single(line => line.Stroke == ink && !line.Closed).Points[0].Y;
    }

    [Fact]
    public void A_van_without_a_heater_is_told_what_it_would_need()
    {
        var cold = Design with { Heater = Design.Heater with { Kind = HeaterKind.None, RatedOutput = Power.Zero } };
        var year = Year with
        {
            Hours = Year.Hours with { HeaterW = [.. Year.Hours.HeaterW.Select(_ => 0f)] },
            HeaterFit = Year.HeaterFit! with { Gives = Power.Zero, LowestOutput = Power.Zero },
        };
        var figure = HeaterFitFigure.Of(cold, Assessment with { Year = year }, Units)!;
        Assert.Contains("it would need 2790\u00A0W", figure.AltText, StringComparison.Ordinal);
        Assert.Contains(figure.Elements.OfType<Label>(), label => label.Text == "never on");
        Assert.DoesNotContain(figure.Table.Rows, row => row[0].Contains("can give", StringComparison.Ordinal));
    }

    [Fact]
    public void Bars_of_a_wall_stand_for_both_methods_month_by_month()
    {
        var check = Year.Walls[1];
        var figure = WallCheckFigure.Of(check, Units);
        var skin = figure.Elements.OfType<Box>().Where(box => box.Fill == Ink.Wet).ToList();
        var layers = figure.Elements.OfType<Box>().Where(box => box.Fill == Ink.None).ToList();
        Assert.Equal((12, 12), (skin.Count, layers.Count));
        for (var month = 0; month < 12; month++)
        {
            Assert.Equal(check.Skin!.PeakByMonth[month].Grams / check.ByMonth[month].Grams, skin[month].Height / layers[month].Height, 1e-6);
        }

        Assert.Equal("118", figure.Table.Rows.Single(row => row[0] == "On the skin")[2]);
        Assert.Contains("longest time to dry never dry", figure.AltText, StringComparison.Ordinal);
        Assert.Contains("it does not dry within the year", figure.AltText, StringComparison.Ordinal);
    }

    [Fact]
    public void Layers_are_as_wide_as_they_resist_vapour_and_the_vapour_stays_below_what_the_temperature_can_hold()
    {
        var wall = new LayeredAssembly
        {
            Name = "Lined wall",
            Layers =
            [
                new SolidLayer { Id = "lining", Material = "plywood-500", Thickness = Length.FromMillimeters(6) },
                new MembraneLayer { Id = "control", Name = "Vapour control layer", VapourEquivalentThickness = Length.FromMeters(1.05) },
                new SolidLayer { Id = "wool", Material = "sheeps-wool", Thickness = Length.FromMillimeters(40) },
                new SolidLayer { Id = "skin", Material = "mild-steel", Thickness = Length.FromMillimeters(1) },
            ],
        };
        var profiles = Profiles(wall);
        var worst = VapourSection.WorstMonth(profiles);
        var figure = VapourSection.Of("Walls", wall, profiles, worst, Units);

        var board = figure.Elements.OfType<Box>().First(box => box.Subject == "lining");
        var wool = figure.Elements.OfType<Box>().First(box => box.Subject == "wool");
        double Sd(int layer) => profiles[0].Last(point => point.Layer == layer).VapourThickness.Meters - profiles[0].Last(point => point.Layer < layer).VapourThickness.Meters;
        Assert.Equal(profiles[0].Last(point => point.Layer == 0).VapourThickness.Meters / Sd(2), board.Width / wool.Width, 1e-6);
        Assert.Contains("lets no vapour through", string.Concat(figure.Elements.OfType<Label>().Select(label => label.Text)), StringComparison.Ordinal);

        var vapour = figure.Elements.OfType<Polyline>().Single(line => line is { Stroke: Ink.Wet, Closed: false }).Points;
        var saturation = figure.Elements.OfType<Polyline>().Single(line => line is { Stroke: Ink.Body, Dashed: true }).Points;
        Assert.All(vapour, point => Assert.True(point.Y >= saturation.Where(other => Math.Abs(other.X - point.X) < 0.01).Min(other => other.Y) - 1e-6));

        // What condenses on the tight skin is drawn where it is and said in words and in the table.
        var wet = profiles[worst].Single(point => point.Held.Grams > 0);
        Assert.Equal(2, wet.Layer);
        Assert.Contains(figure.Elements.OfType<Circle>(), drop => drop.Fill == Ink.Wet && Math.Abs(drop.X - (wool.X + wool.Width)) < 0.01);
        Assert.Contains(Units.FormatPerArea(wet.Held), figure.AltText, StringComparison.Ordinal);
        Assert.Equal(["Room’s side", "Plywood of softwood or poplar", "Vapour control layer", "Sheep's wool", "Mild steel sheet"], figure.Table.Rows.Select(row => row[1]));
        Assert.Equal("0", figure.Table.Rows[1][6]);
        Assert.Equal(Units.FormatPerArea(wet.Held), figure.Table.Rows[3][6] + "\u00A0g/m²");
    }

    [Fact]
    public void Parts_that_are_not_drawn_have_the_same_months_in_one_table()
    {
        var drawn = WallCheckFigure.Of(Year.Walls[1], Units).Table;
        var table = WallCheckFigure.MonthTable([Year.Walls[0], Year.Walls[1]], Units);

        Assert.Equal(drawn.Heads, table.Heads);
        Assert.Equal(
            ["Walls: on the skin", "Walls: in the layers", "Walls: humidity", "Roof: on the skin", "Roof: in the layers", "Roof: humidity"],
            table.Rows.Select(row => row[0]));
        Assert.Equal(drawn.Rows.SelectMany(row => row.Skip(1)), table.Rows.Skip(3).SelectMany(row => row.Skip(1)));
        Assert.Equal(Year.Walls[1], Year.Walls.MaxBy(WallCheckFigure.MostGrams));
    }

    [Fact]
    public void A_wall_in_which_nothing_condenses_says_so()
    {
        var figure = WallCheckFigure.Of(Year.Walls[2], Units);
        Assert.False(WallCheckFigure.GetsWet(Year.Walls[2]));
        Assert.True(WallCheckFigure.GetsWet(Year.Walls[0]));
        Assert.Empty(figure.Elements.OfType<Box>());
        Assert.Contains(figure.Elements.OfType<Label>(), label => label.Text == "Nothing condenses here");
        var table = WallCheckFigure.Table(Year.Walls, Units);
        Assert.Equal(["Walls: Insulated wall", "61\u00A0g/m²", "940", "2310", "23\u00A0days", "14\u00A0g/m²", "yes", "0"], table.Rows[0]);
        Assert.Equal(["Roof: Insulated roof", "118\u00A0g/m²", "2050", "4120", "never dry", "38\u00A0g/m²", "no", "2"], table.Rows[1]);
        Assert.Equal("never wet", table.Rows[2][4]);
    }

    [Fact]
    public void The_running_card_has_a_row_for_each_moment_and_a_column_for_each_weather()
    {
        var card = Assessment.Card!;
        var table = RunningCardTable.Of(Design, card);
        Assert.True(table.Wordy);
        Assert.Equal(["When", "Rain", "Damp and mild", "Frost", "Heat", "Snow on the roof"], table.Heads);
        Assert.Equal(["Cooking", "Going to bed", "Morning", "Driving off", "Leaving it locked"], table.Rows.Select(row => row[0]));
        Assert.Equal("•\u00A0Roof fan: half open, fan at 10\u00A0%\n•\u00A0Roof lid over the galley: ajar", table.Rows[1][1]);
        Assert.Equal("•\u00A0Half-slider window: ajar\n•\u00A0Clear the roof before you sleep.", table.Rows[1][5]);
        Assert.Equal("Leave all as it is", table.Rows[4][2]);
        Assert.Equal(DataTable.Nothing, table.Rows[4][1]);
        foreach (var cell in card.Cells)
        {
            var said = table.Rows.Single(row => row[0] == CardWords.Of(cell.Moment))[table.Heads.IndexOf(CardWords.Of(cell.Weather))];
            Assert.Equal(string.Join('\n', CardWords.Of(cell, Design)), said);
        }

        // What never happens on the route has no column.
        var dry = new RunningCard([.. card.Cells.Where(cell => cell.Weather == CardWeather.Damp)]);
        Assert.Equal(["When", "Damp and mild"], RunningCardTable.Of(Design, dry).Heads);
    }

    [Fact]
    public void An_opening_keeps_its_whole_name_where_another_begins_alike()
    {
        var twice = Design with { Openings = [.. Design.Openings, Design.Openings[0] with { Id = "second-fan", Name = "Roof fan, at the bed" }] };
        Assert.Equal("Roof fan, 350 mm, rain hood: shut", CardWords.Of(new CardInstruction("roof-fan", Design.Openings[0].Name, Position.Shut, null), twice));
        Assert.Equal("Roof fan: ajar, fan off", CardWords.Of(new CardInstruction("roof-fan", Design.Openings[0].Name, Position.Ajar, null), Design));
    }

    [Fact]
    public void Each_situation_has_its_weather_its_numbers_and_the_cards_advice()
    {
        var table = SituationsTable.Of(Design, Assessment, Units);
        Assert.Equal(Assessment.Situations.Length, table.Rows.Length);
        var cooking = table.Rows[0];
        Assert.Equal("Cooking in rain\n8.0\u00A0°C, 93\u00A0% humidity, rain, for 45\u00A0min\nHas to be shut: Hinged window at the bed", cooking[0]);
        Assert.Equal(["88\u00A0m³/h", "18.4\u00A0°C", "81\u00A0%", "1480\u00A0ppm", "41\u00A0g", "310\u00A0W"], cooking.AsSpan()[1..7].ToArray());
        Assert.Equal(RunningCardTable.Of(Design, Assessment.Card!).Rows[0][1], cooking[7]);
        Assert.EndsWith("Clear the roof before you sleep.", table.Rows.Single(row => row[0].StartsWith("Night with snow", StringComparison.Ordinal))[7], StringComparison.Ordinal);
        Assert.Equal(7, SituationsTable.Of(Design, Assessment with { Card = null }, Units).Heads.Length);
    }

    private static Figure Draw(string name, DisplayUnits units) => name switch
    {
        "scores" => ScoreFigure.Of(Assessment.Scores!, Assessment.Findings, units),
        "bands" => BandFigure.Of(Assessment.Bands, Design.Heater, units),
        "damp" => YearFigure.Condensation(Design, Assessment, units),
        "heat" => YearFigure.Heat(Design, Assessment, units),
        "zones" => ZoneAirFigure.Of(Design, Assessment, units),
        "fit" => HeaterFitFigure.Of(Design, Assessment, units)!,
        "walls" => WallCheckFigure.Of(Year.Walls[0], units),
        "roof" => WallCheckFigure.Of(Year.Walls[1], units),
        "floor" => WallCheckFigure.Of(Year.Walls[2], units),
        "vapour" => Vapour(Design.Walls, 1, units),
        _ => Vapour(Design.Roof with { Layers = Design.Roof.Layers.Insert(1, new MembraneLayer { Id = "control", Name = "Vapour control layer", VapourEquivalentThickness = Length.FromMeters(20) }) }, 6, units),
    };

    private static Figure Vapour(LayeredAssembly assembly, int month, DisplayUnits units) => VapourSection.Of("Walls", assembly, Profiles(assembly), month, units);

    private static ImmutableArray<ImmutableArray<VapourPoint>> Profiles(LayeredAssembly assembly) =>
        MonthlyDewPoint.Profiles(assembly, Year.Walls[0].Flow, Year.Walls[0].Months);
}
