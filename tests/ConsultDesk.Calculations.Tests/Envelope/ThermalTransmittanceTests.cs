using ConsultDesk.Calculations.Envelope;
using CsCheck;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Envelope;

public sealed class ThermalTransmittanceTests
{
    private static readonly Gen<string> AnyMaterial = Gen.OneOf(Materials.All.Select(material => material.Key).ToArray());
    private static readonly Gen<HeatFlow> AnyFlow = Gen.OneOf(HeatFlow.Upwards, HeatFlow.Horizontal, HeatFlow.Downwards);

    [Fact]
    public void A_thicker_layer_never_raises_the_U_value() =>
        Gen.Select(AnyMaterial, Gen.Double[0.05, 150], Gen.Double[0.1, 150], AnyFlow).Sample((material, thickness, more, flow) =>
        {
            double U(double millimetres) => ThermalTransmittance
                .Of(Assemblies.Of(Assemblies.Solid(material, millimetres), Assemblies.Solid("mild-steel", 1)), flow)
                .UValue.WattsPerSquareMeterKelvin;
            Assert.True(U(thickness + more) < U(thickness));
        });

    [Fact]
    public void A_wider_still_air_layer_never_insulates_less() =>
        Gen.Select(Gen.Double[1, 299], Gen.Double[0, 1], AnyFlow).Sample((millimetres, more, flow) =>
            Assert.True(
                AirLayers.UnventilatedM2KPerW((millimetres + more) / 1000, flow)
                >= AirLayers.UnventilatedM2KPerW(millimetres / 1000, flow) - 1e-12));

    [Fact]
    public void Temperatures_fall_from_room_to_outdoors_and_close_the_sum() =>
        Gen.Select(AnyMaterial.Array[1, 6], Gen.Double[0.5, 60], Gen.Double[-40, 10], AnyFlow).Sample((materials, millimetres, outdoorC, flow) =>
        {
            AssemblyResistance wall = ThermalTransmittance.Of(
                Assemblies.Of([.. materials.Select(material => Assemblies.Solid(material, millimetres))]), flow);
            double[] temperatures = [.. wall
                .Temperatures(Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(outdoorC))
                .Select(temperature => temperature.DegreesCelsius)];
            Assert.Equal(materials.Length + 1, temperatures.Length);
            Assert.All(temperatures.Zip(temperatures.Skip(1)), pair => Assert.True(pair.Second < pair.First));
            double heat = wall.UValue.WattsPerSquareMeterKelvin * (20 - outdoorC);
            Assert.Equal(outdoorC + (heat * 0.04), temperatures[^1], 1e-9);
        });

    [Fact]
    public void The_upper_limit_lies_above_the_lower_and_both_around_the_result() =>
        Gen.Select(AnyMaterial, AnyMaterial, Gen.Double[0.01, 0.99], AnyFlow).Sample((insulation, rib, share, flow) =>
        {
            CombinedResistance result = ThermalTransmittance.WithRibs(
                Assemblies.Of(Assemblies.Solid("plywood-500", 6), Assemblies.Solid(insulation, 40, "core"), Assemblies.Solid("mild-steel", 1)),
                flow, new Ribs("core", rib, Ratio.FromDecimalFractions(share)));
            double upper = result.Upper.SquareMeterKelvinsPerWatt;
            double lower = result.Lower.SquareMeterKelvinsPerWatt;
            Assert.True(upper >= lower - 1e-12);
            Assert.InRange(result.Total.SquareMeterKelvinsPerWatt, lower - 1e-12, upper + 1e-12);
            Assert.InRange(result.MaximumError.DecimalFractions, -1e-12, 1);
        });

    [Fact]
    public void Ribs_of_the_same_material_change_nothing()
    {
        LayeredAssembly wall = Assemblies.Of(Assemblies.Solid("softwood-boards", 45, "core"), Assemblies.Solid("mild-steel", 1));
        double plain = ThermalTransmittance.Of(wall, HeatFlow.Horizontal).UValue.WattsPerSquareMeterKelvin;

        CombinedResistance ribbed = ThermalTransmittance.WithRibs(
            wall, HeatFlow.Horizontal, new Ribs("core", "softwood-boards", Ratio.FromPercent(12)));

        Assert.Equal(plain, ribbed.UValue.WattsPerSquareMeterKelvin, 1e-12);
        Assert.Equal(0, ribbed.MaximumError.DecimalFractions, 1e-12);
        Assert.True(ribbed.WithinScope);
    }

    [Fact]
    public void Metal_ribs_are_said_to_be_outside_the_standard()
    {
        CombinedResistance ribbed = ThermalTransmittance.WithRibs(
            Assemblies.Of(Assemblies.Solid("plywood-500", 6), Assemblies.Solid("pet-batt", 40, "core"), Assemblies.Solid("mild-steel", 1)),
            HeatFlow.Horizontal, new Ribs("core", "mild-steel", Ratio.FromPercent(1)));

        Assert.False(ribbed.WithinScope);
        Assert.True(ribbed.Upper.SquareMeterKelvinsPerWatt > 1.5 * ribbed.Lower.SquareMeterKelvinsPerWatt);
    }

    [Fact]
    public void Everything_outside_a_well_ventilated_layer_counts_for_nothing()
    {
        LayeredAssembly wall = Assemblies.Of(
            Assemblies.Solid("xps", 30), Assemblies.Air(20, AirLayerVentilation.WellVentilated), Assemblies.Solid("xps", 100));

        AssemblyResistance resistance = ThermalTransmittance.Of(wall, HeatFlow.Horizontal);

        // By hand: Rsi 0.13 at both sides, 0.030/0.033 between them.
        Assert.Equal(0.13 + (0.030 / 0.033) + 0.13, resistance.Total.SquareMeterKelvinsPerWatt, 1e-9);
        Assert.Equal(0, resistance.Layers[1].SquareMeterKelvinsPerWatt);
        Assert.Equal(0, resistance.Layers[2].SquareMeterKelvinsPerWatt);
    }

    [Fact]
    public void A_slightly_ventilated_layer_counts_half_and_little_outside_it_counts()
    {
        LayeredAssembly wall = Assemblies.Of(
            Assemblies.Solid("xps", 30), Assemblies.Air(25, AirLayerVentilation.SlightlyVentilated), Assemblies.Solid("xps", 100));

        AssemblyResistance resistance = ThermalTransmittance.Of(wall, HeatFlow.Horizontal);

        // By hand: half of 0.18, and 0.15 instead of 0.100/0.033.
        Assert.Equal(0.13 + (0.030 / 0.033) + 0.09 + 0.15 + 0.04, resistance.Total.SquareMeterKelvinsPerWatt, 1e-9);
    }

    [Fact]
    public void A_membrane_resists_vapour_but_not_heat()
    {
        AssemblyResistance resistance = ThermalTransmittance.Of(
            Assemblies.Of(Assemblies.Membrane(50), Assemblies.Solid("xps", 30)), HeatFlow.Horizontal);

        Assert.Equal(0.17 + (0.030 / 0.033), resistance.Total.SquareMeterKelvinsPerWatt, 1e-9);
        Assert.Equal(3, resistance.Temperatures(Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(0)).Length);
    }

    [Fact]
    public void More_wind_takes_more_heat() =>
        Gen.Select(Gen.Double[0, 50], Gen.Double[0.01, 10]).Sample((wind, more) =>
            Assert.True(SurfaceFilms.OutsideByWindM2KPerW(wind + more, 5) < SurfaceFilms.OutsideByWindM2KPerW(wind, 5)));
}
