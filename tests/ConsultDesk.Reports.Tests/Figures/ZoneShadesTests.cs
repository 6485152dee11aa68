using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Reports.Tests.Figures;

public sealed class ZoneShadesTests
{
    private static readonly Design Design = SampleDesign.Design;
    private static readonly Assessment Assessment = SampleDesign.Assessment;

    public static TheoryData<ZoneQuantity> Quantities => [.. ZoneShades.All];

    // 80 % at a surface is where mould begins to grow by ISO 13788 (read in its abstract and many guides): the last step begins there.
    [Theory]
    [InlineData(0, 0)]
    [InlineData(39.9, 0)]
    [InlineData(40, 1)]
    [InlineData(69.9, 2)]
    [InlineData(79.9, 3)]
    [InlineData(80, 4)]
    [InlineData(100, 4)]
    public void A_value_at_an_end_belongs_to_the_step_above(double percent, int step) =>
        Assert.Equal(step, ZoneShades.StepOf(ZoneQuantity.Humidity, RelativeHumidity.FromPercent(percent)));

    [Theory]
    [MemberData(nameof(Quantities))]
    public void Steps_rise_and_each_has_a_pattern_of_its_own_beside_its_darkness(ZoneQuantity quantity)
    {
        var ends = ZoneShades.Ends(quantity).Select(end => (double)end.Value).ToList();
        Assert.Equal(ZoneShades.Steps - 1, ends.Count);
        Assert.Equal(ends.Order().Distinct(), ends);
        var looks = Enumerable.Range(0, ZoneShades.Steps)
            .Select(step => ZoneShades.Shade(new Area2(0, 0, 60, 40), step, "zone", null).ToList())
            .ToList();
        var patterns = looks.Select(look => string.Join('|', look.OfType<Cells>().Select(cells => string.Join(',', cells.Runs)))).ToList();
        Assert.Equal(ZoneShades.Steps, patterns.Distinct().Count());
        var darkness = looks.Select(look => look.OfType<Box>().Last().FillOpacity).ToList();
        Assert.Equal(darkness.Order().Distinct(), darkness);
        Assert.Equal(ZoneShades.Darkest, darkness[^1]);
    }

    [Theory]
    [MemberData(nameof(Quantities))]
    public void A_zone_is_as_dark_as_its_own_air_says(ZoneQuantity quantity)
    {
        foreach (var drawing in new[] { VanDrawing.Side(Design, Assessment, DisplayUnits.Metric, quantity), VanDrawing.Plan(Design, Assessment, DisplayUnits.Metric, quantity) })
        {
            foreach (var state in Assessment.Zones)
            {
                var shade = drawing.Elements.OfType<Box>().SingleOrDefault(box => box.Subject == state.ZoneId && box.Fill == Ink.Shade);
                if (shade is null)
                {
                    // A cupboard is not shaded from the side.
                    Assert.Equal(ZoneKind.Cupboard, Design.Zones.First(zone => zone.Id == state.ZoneId).Kind);
                    continue;
                }

                var step = ZoneShades.StepOf(quantity, ZoneShades.Of(quantity, state));
                Assert.Equal(ZoneShades.Shade(new Area2(0, 0, 1, 1), step, null, null).OfType<Box>().Last().FillOpacity, shade.FillOpacity);
                Assert.Contains(DisplayUnits.Metric.Format(state.AgeOfAir), shade.Hint, StringComparison.Ordinal);
                Assert.Contains(DisplayUnits.Metric.Format(state.CarbonDioxide), shade.Hint, StringComparison.Ordinal);
            }
        }
    }

    [Fact]
    public void A_plan_and_its_pdf_have_no_shade()
    {
        Assert.DoesNotContain(VanDrawing.Side(Design, Assessment, DisplayUnits.Metric).Elements, element => element.Fill == Ink.Shade);
        Assert.DoesNotContain(VanDrawing.Plan(Design, Assessment, DisplayUnits.Metric).Elements, element => element.Fill == Ink.Shade);
    }

    [Theory]
    [MemberData(nameof(Quantities))]
    public void The_scale_tells_every_step_in_the_readers_units(ZoneQuantity quantity)
    {
        foreach (var units in DisplayUnits.All)
        {
            var scale = ZoneShades.Scale(quantity, units);
            var words = ZoneShades.Words(quantity, units);
            Assert.Equal(ZoneShades.Ends(quantity).Select(units.Format), scale.Elements.OfType<Label>().Select(label => label.Text));
            Assert.All(words, text => Assert.Contains(text, scale.AltText, StringComparison.Ordinal));
            Assert.Equal(ZoneShades.Steps, words.Distinct().Count());
        }
    }

    [Fact]
    public void The_whole_legend_has_every_sign_a_drawing_of_the_van_shows()
    {
        var whole = VanDrawing.WholeLegend(Design);
        Assert.Empty(VanDrawing.Side(Design, Assessment, DisplayUnits.Metric).Legend.Except(whole));
        Assert.Empty(VanDrawing.Plan(Design, Assessment, DisplayUnits.Metric).Legend.Except(whole));
    }
}
