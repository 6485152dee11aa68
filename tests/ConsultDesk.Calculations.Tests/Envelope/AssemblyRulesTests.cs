using System.Collections.Immutable;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Envelope;

public sealed class AssemblyRulesTests
{
    [Fact]
    public void A_wall_that_can_be_calculated_has_no_problem() =>
        Assert.Empty(AssemblyRules.Problems(Assemblies.Of(
            Assemblies.Solid("plywood-500", 6), Assemblies.Membrane(10), Assemblies.Solid("pet-batt", 50), Assemblies.Air(20), Assemblies.Solid("mild-steel", 1))));

    [Fact]
    public void The_limits_themselves_are_accepted() =>
        Assert.Empty(AssemblyRules.Problems(Assemblies.Of(
            Assemblies.Solid("vinyl-floor", 0.05), Assemblies.Solid("xps", 300), Assemblies.Air(1), Assemblies.Air(300),
            Assemblies.Membrane(0.001), Assemblies.Membrane(10_000))));

    [Fact]
    public void An_unknown_material_is_named_at_its_layer()
    {
        AssemblyProblem problem = Assert.Single(AssemblyRules.Problems(Assemblies.Of(Assemblies.Solid("unobtainium", 20, "core"))));

        Assert.Equal(("core", "Material"), (problem.LayerId, problem.Field));
        Assert.Contains("unobtainium", problem.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-20)]
    [InlineData(300.1)]
    public void A_thickness_out_of_range_is_named_with_value_and_range(double millimetres)
    {
        AssemblyProblem problem = Assert.Single(AssemblyRules.Problems(Assemblies.Of(Assemblies.Solid("xps", millimetres, "core"))));

        Assert.Equal(("core", "Thickness"), (problem.LayerId, problem.Field));
        Assert.Contains(FormattableString.Invariant($"is {millimetres} mm; expected 0.05 to 300 mm"), problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_problem_is_reported_at_once()
    {
        ImmutableArray<AssemblyProblem> problems = AssemblyRules.Problems(Assemblies.Of(
            Assemblies.Solid("xps", 900, "a"), Assemblies.Air(0.5, id: "b"), Assemblies.Membrane(0, "c"), Assemblies.Membrane(1, "c")));

        Assert.Equal(["c", "a", "b", "c"], problems.Select(problem => problem.LayerId));
    }

    [Fact]
    public void An_assembly_without_layers_is_refused() =>
        Assert.Equal("Layers", Assert.Single(AssemblyRules.Problems(Assemblies.Of())).Field);

    [Fact]
    public void A_wall_with_an_unknown_material_is_reported_by_the_check_of_the_whole_design()
    {
        Design design = Presets.Build(BodyClasses.All[0].Key, Enum.GetValues<Layout>()[0]) with
        {
            Walls = Assemblies.Of(Assemblies.Solid("unobtainium", 20, "core"), Assemblies.Solid("mild-steel", 1, "skin")),
        };

        DesignError error = Assert.Single(DesignCheck.Errors(design));

        Assert.Equal("walls.layers[core].material", error.Path);
        Assert.Contains("unobtainium", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Calculating_a_wall_with_a_problem_names_the_layer()
    {
        ArgumentException refusal = Assert.Throws<ArgumentException>(
            () => ThermalTransmittance.Of(Assemblies.Of(Assemblies.Solid("xps", 900, "core")), HeatFlow.Horizontal));

        Assert.Contains("layer 'core': Layer thickness is 900 mm", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_material_has_sensible_values_a_source_and_a_confidence()
    {
        Assert.True(Materials.All.Length >= 25);
        Assert.All(Materials.All, material =>
        {
            Assert.InRange(material.Conductivity.WattsPerMeterKelvin, 0.015, 250);
            Assert.InRange(material.Density.KilogramsPerCubicMeter, 10, 8000);
            Assert.InRange(material.HeatCapacity.JoulesPerKilogramKelvin, 400, 2500);
            Assert.True(material.VapourResistanceFactor >= 1, material.Key);
            Assert.False(string.IsNullOrWhiteSpace(material.Source), material.Key);
            Assert.Contains(material.Confidence, new[] { "read", "memory" });
        });
    }

    [Fact]
    public void A_foil_facing_adds_its_resistance_once_whatever_the_thickness()
    {
        Material board = Materials.Get("pir-foil");

        double thin = board.VapourEquivalentThicknessM(UnitsNet.Length.FromMillimeters(20));
        double thick = board.VapourEquivalentThicknessM(UnitsNet.Length.FromMillimeters(40));

        Assert.Equal(60 * 0.020, thick - thin, 1e-9);
        Assert.True(thin > 3000);
    }
}
