using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Unknowns;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Reports.Tests.Figures;

public sealed class ScoreAndBandFigureTests
{
    private static readonly Heater Heater = SampleDesign.Design.Heater;
    private static readonly Assessment Assessment = SampleYear.Assessment;

    [Fact]
    public void A_danger_is_named_above_the_bars_and_none_without_one()
    {
        var danger = Assert.Single(Assessment.Findings, finding => finding.Severity == Calculations.Findings.Severity.Danger);
        var figure = ScoreFigure.Of(Assessment.Scores!, Assessment.Findings, DisplayUnits.Metric);
        var words = figure.Elements.OfType<Label>().Where(label => label.Subject == "dangers").ToList();
        Assert.Contains(danger.Title, string.Join(' ', words.Select(label => label.Text)), StringComparison.Ordinal);
        Assert.True(words.Max(label => label.Y) < figure.Elements.OfType<Label>().Where(label => label.Subject != "dangers").Min(label => label.Y));
        Assert.StartsWith("A danger stands", figure.AltText, StringComparison.Ordinal);

        var without = ScoreFigure.Of(Assessment.Scores!, [], DisplayUnits.Metric);
        Assert.DoesNotContain(without.Elements.OfType<Label>(), label => label.Subject == "dangers");
        Assert.StartsWith("Scores of", without.AltText, StringComparison.Ordinal);
    }

    [Fact]
    public void The_number_that_decides_a_score_stands_before_its_points()
    {
        foreach (var units in DisplayUnits.All)
        {
            var figure = ScoreFigure.Of(Assessment.Scores!, Assessment.Findings, units);
            var labels = figure.Elements.OfType<Label>().Select(label => label.Text).ToList();
            foreach (var score in Assessment.Scores!.All)
            {
                var name = labels.IndexOf(score.Name);
                Assert.Equal(units.Format(score.Parts[0].Evidence.Value), labels[name + 1]);
                var points = labels.IndexOf($"{score.Points:0} of 100");
                Assert.True(points > name + 1);
                Assert.Contains($"{score.Name}: {labels[name + 1]} ", figure.AltText, StringComparison.Ordinal);
            }
        }
    }

    [Fact]
    public void A_bar_is_as_long_as_its_points()
    {
        var figure = ScoreFigure.Of(Assessment.Scores!, Assessment.Findings, DisplayUnits.Metric);
        var full = figure.Elements.OfType<Box>().First(box => box.Fill == Ink.Paper).Width;
        var bars = figure.Elements.OfType<Box>().Where(box => box.Fill == Ink.Accent).Select(box => box.Width / full).ToList();
        Assert.Equal([0.43, 0.78, 0.06, 1], bars.Select(share => Math.Round(share, 9)));
    }

    [Fact]
    public void The_table_of_scores_has_every_part_with_its_source()
    {
        var table = ScoreFigure.Of(Assessment.Scores!, Assessment.Findings, DisplayUnits.Metric).Table;
        Assert.Equal(Assessment.Scores!.All.Sum(score => score.Parts.Length), table.Rows.Length);
        Assert.Contains(table.Rows, row => row.SequenceEqual(["Breathability", "Largest water on the skin", "118\u00A0g/m²", "20", "our judgement"]));
    }

    [Fact]
    public void A_band_reaches_from_low_to_high_with_the_likely_mark_between()
    {
        var figure = BandFigure.Of(Assessment.Bands, Heater, DisplayUnits.Metric);
        var boxes = figure.Elements.OfType<Box>().ToDictionary(box => box.Subject!);
        var marks = figure.Elements.OfType<Polyline>().Where(line => line.Stroke == Ink.Text).Select(line => line.Points[0].X).ToList();
        Assert.Equal(Assessment.Bands.Length, marks.Count);
        foreach (var (band, mark) in Assessment.Bands.Zip(marks))
        {
            var box = boxes[band.Key];
            var (low, likely, high) = (band.Low.Value, band.Likely.Value, band.High.Value);
            Assert.Equal(((double)likely - (double)low) / ((double)high - (double)low), (mark - box.X) / box.Width, 1e-6);
        }

        // An amount's bar begins at nothing: 61 of 176 mornings is the share of the axis left of the bar.
        var axis = figure.Elements.OfType<Polyline>().First(line => line.Stroke == Ink.Rule);
        var length = axis.Points[1].X - axis.Points[0].X;
        Assert.Equal(61.0 / 176, (boxes["wet-mornings"].X - axis.Points[0].X) / length, 1e-6);
    }

    [Fact]
    public void Samples_are_drawn_as_bands_and_told_with_their_shares_also_where_the_likely_value_lies_outside()
    {
        var sure = new Sureness
        {
            Samples = 64,
            NotCalculated = ["It did not settle."],
            Numbers =
            [
                new("wet-mornings", "Wet mornings in a year", Scalar.FromAmount(12), Scalar.FromAmount(14), Scalar.FromAmount(20), Scalar.FromAmount(30), 63, "sleepers"),
                new("days-to-dry", "Longest time for a skin to dry", Duration.FromDays(3), Duration.FromDays(3), Duration.FromDays(3), Duration.FromDays(3), 63, ""),
            ],
            Findings = [new("damp", "The air is damp", Calculations.Findings.Severity.Warning, 52, 63, 0.71, 0.9, "")],
            Hidden = [new("short", "Too little air", Calculations.Findings.Severity.Danger, 9, 63, 0.08, 0.25, "leakage of the body")],
            Varied = [],
            MadeYear = false,
        };
        var figure = BandFigure.Sampled(sure, Heater, DisplayUnits.Metric);
        var box = figure.Elements.OfType<Box>().First();
        var mark = figure.Elements.OfType<Polyline>().First(line => line.Stroke == Ink.Text).Points[0].X;
        Assert.True(mark < box.X && box.Width > 0);
        Assert.Equal(["Wet mornings in a year", "14", "12", "30", "sleepers"], figure.Table.Rows[0]);
        Assert.Equal(DataTable.Nothing, figure.Table.Rows[1][4]);
        Assert.Contains("63 samples", figure.Table.Caption, StringComparison.Ordinal);

        var table = HowSureTables.Sampled(sure);
        Assert.Equal(["The air is damp", "warning", "52", "71 to 90", DataTable.Nothing], table.Rows[0]);
        Assert.Equal(["Too little air", "not found", "9", "8 to 25", "leakage of the body"], table.Rows[1]);
    }

    [Fact]
    public void Fuel_is_told_as_it_is_bought()
    {
        var row = BandFigure.Of(Assessment.Bands, Heater, DisplayUnits.Metric).Table.Rows.Single(row => row[0] == "Fuel in a year");
        Assert.Equal(["Fuel in a year", "297\u00A0L", "375\u00A0L", "481\u00A0L", "outdoor air by night"], row);
        var gas = BandFigure.Of(Assessment.Bands, Heater with { Kind = HeaterKind.RoomSealedGas }, DisplayUnits.Metric).Table.Rows.Single(row => row[0] == "Fuel in a year");
        Assert.Equal("313\u00A0kg", gas[2]);

        // NIST SP 811 (2008), B.8: a US gallon is 3.785 412 L.
        Assert.Equal($"{313 / 0.835 / 3.785412:0.0}\u00A0gal", FuelWords.Of(Mass.FromKilograms(313), HeaterKind.RoomSealedLiquidFuel, DisplayUnits.Imperial));
    }

    [Fact]
    public void A_band_without_width_and_a_score_without_parts_are_drawn()
    {
        var one = Scalar.FromAmount(0);
        var figure = BandFigure.Of([new HeadlineBand("wet-mornings", "Wet mornings in a year", one, one, one, "")], Heater, DisplayUnits.Metric);
        Assert.All(figure.Elements.OfType<Box>(), box => Assert.True(double.IsFinite(box.X) && box.Width == 0));
        var score = new Score("Hot nights", 100, []);
        var scores = ScoreFigure.Of(new Scores(score, score, score, score), [], DisplayUnits.Metric);
        Assert.Contains(scores.Elements.OfType<Label>(), label => label.Text == "nothing to score");
    }
}
