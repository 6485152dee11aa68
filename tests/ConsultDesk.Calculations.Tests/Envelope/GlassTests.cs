using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;
using CsCheck;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Envelope;

public sealed class GlassTests
{
    private static readonly Gen<GlassKind> AnyGlass = Gen.OneOf(GlassKind.SinglePane, GlassKind.DoublePane, GlassKind.AcrylicDouble);

    [Fact]
    public void A_cover_inside_chills_the_glass_and_a_cover_outside_warms_it() =>
        Gen.Select(AnyGlass, Gen.Double[0.05, 1], Gen.Double[-30, 10]).Sample((kind, resistance, outdoorC) =>
        {
            double pane = Glass.PaneResistanceM2KPerW(kind, 0.004, 0.012);
            double Surface(Cover cover) => Glass.Path(pane, cover, resistance, 0.04).SurfaceTemperatureC(18, outdoorC);
            Assert.True(Surface(Cover.InsideTight) < Surface(Cover.None));
            Assert.True(Surface(Cover.Outside) > Surface(Cover.None));
            Assert.Equal(
                Glass.Path(pane, Cover.InsideTight, resistance, 0.04).UValueWPerM2K,
                Glass.Path(pane, Cover.Outside, resistance, 0.04).UValueWPerM2K, 1e-12);
        });

    [Fact]
    public void Two_panes_are_warmer_than_one_at_the_side_the_room_touches()
    {
        double Surface(GlassKind kind) => Glass.Path(
            Glass.PaneResistanceM2KPerW(kind, 0.004, 0.012), Cover.None, 0, 0.04).SurfaceTemperatureC(18, -5);

        Assert.True(Surface(GlassKind.DoublePane) > Surface(GlassKind.SinglePane) + 5);
    }

    [Fact]
    public void Bare_steel_is_as_cold_as_single_glass_to_half_a_kelvin()
    {
        double glass = Glass.Path(0.004, Cover.None, 0, 0.04).SurfaceTemperatureC(18, 0);
        double steel = BareMetal.Path(0.001, 0.04).SurfaceTemperatureC(18, 0);

        Assert.InRange(glass - steel, 0, 0.5);
    }

    [Fact]
    public void A_pane_out_of_range_is_refused() =>
        Assert.Contains(
            "Thickness of one pane is 0.5 mm; expected 1 to 20 mm.",
            Assert.Throws<ArgumentOutOfRangeException>(() => Glass.PaneResistance(
                GlassKind.SinglePane, Length.FromMillimeters(0.5), Length.Zero)).Message,
            StringComparison.Ordinal);

    [Fact]
    public void The_gap_of_a_single_pane_is_not_asked_for() =>
        Assert.Equal(0.004, Glass.PaneResistance(GlassKind.SinglePane, Length.FromMillimeters(4), Length.Zero).SquareMeterKelvinsPerWatt, 1e-12);
}
