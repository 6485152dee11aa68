using System.Collections.Immutable;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;
using CsCheck;
using UnitsNet;
using Xunit;
using static ConsultDesk.Calculations.Tests.Envelope.Assemblies;

namespace ConsultDesk.Calculations.Tests.Envelope;

/// <summary>Limits, refusals with their words, and cases worked by hand from the standards' own equations.</summary>
public sealed class EnvelopeLimitTests
{
    private static double R(ThermalResistance resistance) => resistance.SquareMeterKelvinsPerWatt;

    private static ThermalResistance Resistance(double m2KPerW) => ThermalResistance.FromSquareMeterKelvinsPerWatt(m2KPerW);

    private static MonthClimate Month(double roomC, double roomPa, double outdoorC, double outdoorPa) => new(
        Temperature.FromDegreesCelsius(roomC), Pressure.FromPascals(roomPa), Temperature.FromDegreesCelsius(outdoorC), Pressure.FromPascals(outdoorPa), Duration.FromDays(30));

    private static ImmutableArray<MonthClimate> AllYear(MonthClimate month) => [.. Enumerable.Repeat(month, 12)];

    [Theory]
    [InlineData(25, HeatFlow.Horizontal, 0.18)]
    [InlineData(25, HeatFlow.Upwards, 0.16)]
    [InlineData(25, HeatFlow.Downwards, 0.19)]
    [InlineData(15, HeatFlow.Horizontal, 0.17)]
    public void A_slightly_ventilated_layer_has_half_the_published_resistance_of_a_still_one(double millimetres, HeatFlow flow, double still)
    {
        // ISO 6946, table of unventilated air layers (read in several countries' guides).
        Assert.Equal(still, R(AirLayers.Unventilated(Length.FromMillimeters(millimetres), flow)), 9);
        Assert.Equal(still / 2, R(AirLayers.SlightlyVentilated(Length.FromMillimeters(millimetres), flow)), 9);
    }

    [Fact]
    public void Between_two_foils_a_deep_layer_under_a_warm_floor_insulates_as_the_standards_annex_works_out()
    {
        // ISO 6946 annex (recalled), by hand for 0.3 m downwards at 10 C, emissivity 0.05 on both sides:
        // ha = 0.12 x 0.3^-0.44 = 0.20382, E = 1/(20 + 20 - 1) = 0.025641, 4 x 5.67e-8 x 283.15^3 = 5.1486.
        Assert.Equal(
            1 / (0.20382 + (0.025641 * 5.1486)),
            R(AirLayers.Unventilated(Length.FromMillimeters(300), HeatFlow.Downwards, 0.05, 0.05, Temperature.FromDegreesCelsius(10))),
            3);
        // A thin one conducts: 0.025/0.002 = 12.5 exceeds any convection, whatever the direction.
        foreach (HeatFlow flow in Enum.GetValues<HeatFlow>())
        {
            Assert.Equal(
                1 / (12.5 + (0.025641 * 5.1486)),
                R(AirLayers.Unventilated(Length.FromMillimeters(2), flow, 0.05, 0.05, Temperature.FromDegreesCelsius(10))),
                4);
        }
    }

    [Fact]
    public void Twenty_layers_can_be_calculated_and_twenty_one_cannot()
    {
        Assert.Empty(AssemblyRules.Problems(Of([.. Enumerable.Repeat(Solid("plywood-500", 1), 20)])));
        AssemblyProblem problem = Assert.Single(AssemblyRules.Problems(Of([.. Enumerable.Repeat(Solid("plywood-500", 1), 21)])));
        Assert.Equal("There are 21 layers; expected at most 20.", problem.Message);
        Assert.Null(problem.LayerId);
    }

    [Fact]
    public void Ids_that_are_empty_or_there_twice_are_each_named_once()
    {
        LayeredAssembly Raw(params string[] ids) => new() { Name = "Wall", Layers = [.. ids.Select(id => (Layer)Solid("plywood-500", 6, id))] };

        Assert.Equal(["The id of a layer is empty; expected a short name."], AssemblyRules.Problems(Raw("", "a")).Select(problem => problem.Message));
        Assert.Equal(["The id of a layer is empty; expected a short name."], AssemblyRules.Problems(Raw("", "")).Select(problem => problem.Message));
        AssemblyProblem twins = Assert.Single(AssemblyRules.Problems(Raw("a", "b", "a")));
        Assert.Equal(("a", "Id", "2 layers have the id 'a'; expected each id once."), (twins.LayerId, twins.Field, twins.Message));
    }

    [Fact]
    public void An_assembly_of_nothing_but_membranes_and_one_of_an_unknown_kind_are_refused()
    {
        Assert.Contains("only membranes", Assert.Single(AssemblyRules.Problems(Of(Membrane(1), Membrane(2)))).Message, StringComparison.Ordinal);
        Assert.Empty(AssemblyRules.Problems(Of(Membrane(1), Solid("plywood-500", 6))));
        Assert.Contains("Odd", Assert.Throws<ArgumentException>(() => AssemblyRules.Problems(Of(new Odd { Id = "odd" }))).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentNullException>(() => AssemblyRules.Problems(null!));
        Assert.Equal(
            "Ventilation",
            Assert.Single(AssemblyRules.Problems(Of(Assemblies.Air(20, (AirLayerVentilation)7), Solid("mild-steel", 1)))).Field);
    }

    [Fact]
    public void A_refusal_names_the_layer_where_there_is_one_and_the_assembly_where_there_is_none()
    {
        Assert.StartsWith(
            "Assembly 'Wall': There are 21 layers",
            Assert.Throws<ArgumentException>(() => AssemblyRules.Check(Of([.. Enumerable.Repeat(Solid("plywood-500", 1), 21)]))).Message,
            StringComparison.Ordinal);
        Assert.StartsWith(
            "Assembly 'Wall', layer 'core': ",
            Assert.Throws<ArgumentException>(() => AssemblyRules.Check(Of(Solid("plywood-500", 400, "core")))).Message,
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0.05 - 1e-7, true)]
    [InlineData(0.05 - 1e-5, false)]
    [InlineData(300 + 1e-7, true)]
    [InlineData(300 + 1e-5, false)]
    public void A_thickness_may_miss_its_range_by_the_rounding_of_its_unit_and_no_more(double millimetres, bool accepted) =>
        Assert.Equal(accepted, AssemblyRules.Problems(Of(Solid("plywood-500", millimetres))).IsEmpty);

    [Fact]
    public void What_a_cover_would_add_is_not_asked_for_without_one()
    {
        SurfacePath bare = Glass.Path(Resistance(0.004), Cover.None, Resistance(99), Resistance(0.04));
        Assert.Equal(Glass.Path(Resistance(0.004), Cover.None, Resistance(0), Resistance(0.04)), bare);
        Assert.Throws<ArgumentOutOfRangeException>(() => Glass.Path(Resistance(0.004), Cover.Outside, Resistance(99), Resistance(0.04)));
    }

    [Fact]
    public void Two_sheets_of_acrylic_with_a_still_gap_insulate_as_their_parts_do() =>
        // 2 x 3 mm at 0.18 W/(m K) (EN ISO 10456, from memory) and the published 0.17 of 15 mm of still air (ISO 6946).
        Assert.Equal(0.0333 + 0.17, Glass.PaneResistanceM2KPerW(GlassKind.AcrylicDouble, 0.003, 0.015), 4);

    [Theory]
    [InlineData(0, 0.04, "room air")]
    [InlineData(-1, 0.04, "room air")]
    [InlineData(double.NaN, 0.04, "room air")]
    [InlineData(0.13, 0, "outdoor air")]
    [InlineData(0.13, double.NaN, "outdoor air")]
    public void A_surface_without_resistance_to_one_side_has_no_temperature_of_its_own(double inside, double outside, string side) =>
        Assert.Contains(side, Assert.Throws<ArgumentOutOfRangeException>(() => new SurfacePath(inside, outside)).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(-0.1)]
    public void Ribs_take_more_than_nothing_and_less_than_all_of_the_area(double share)
    {
        ArgumentOutOfRangeException refused = Assert.Throws<ArgumentOutOfRangeException>(() => ThermalTransmittance.WithRibs(
            Of(Solid("sheeps-wool", 40, "core"), Solid("mild-steel", 1)), HeatFlow.Horizontal, new Ribs("core", "softwood-boards", Ratio.FromDecimalFractions(share))));
        Assert.Contains("above 0 and below 1", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Ribs_need_a_layer_they_can_cross()
    {
        Ratio tenth = Ratio.FromPercent(10);
        LayeredAssembly wall = Of(Membrane(1, "sheet"), Solid("sheeps-wool", 40, "core"), Assemblies.Air(20, AirLayerVentilation.WellVentilated), Solid("plywood-500", 6, "behind"), Solid("mild-steel", 1));

        Assert.Throws<ArgumentNullException>(() => ThermalTransmittance.WithRibs(wall, HeatFlow.Horizontal, null!));
        Assert.Contains("no layer 'elsewhere'", Refused("elsewhere"), StringComparison.Ordinal);
        Assert.Contains("no thickness", Refused("sheet"), StringComparison.Ordinal);
        Assert.Contains("outside a well ventilated air layer", Refused("behind"), StringComparison.Ordinal);

        string Refused(string layer) => Assert.Throws<ArgumentException>(
            () => ThermalTransmittance.WithRibs(wall, HeatFlow.Horizontal, new Ribs(layer, "softwood-boards", tenth))).Message;
    }

    [Fact]
    public void The_limits_of_a_ribbed_layer_are_those_of_the_standards_equations()
    {
        // ISO 6946 by hand: wool 40 mm at 0.040 (R = 1.0), softwood rib at 0.13 (R = 0.3077) on a fifth of the area, steel 1 mm at 50 (R = 0.00002),
        // surfaces 0.13 and 0.04.
        CombinedResistance result = ThermalTransmittance.WithRibs(
            Of(Solid("sheeps-wool", 40, "core"), Solid("mild-steel", 1)), HeatFlow.Horizontal, new Ribs("core", "softwood-boards", Ratio.FromPercent(20)));

        double upper = 1 / ((0.8 / 1.17002) + (0.2 / (0.17002 + (0.04 / 0.13))));
        double lower = 0.17002 + (1 / ((0.8 / 1.0) + (0.2 / (0.04 / 0.13))));
        Assert.Equal(upper, R(result.Upper), 6);
        Assert.Equal(lower, R(result.Lower), 6);
        Assert.Equal((upper + lower) / 2, R(result.Total), 6);
        Assert.Equal((upper - lower) / (upper + lower), result.MaximumError.DecimalFractions, 6);
        Assert.True(result.WithinScope);
    }

    [Fact]
    public void Limits_too_far_apart_and_metal_ribs_lie_outside_the_method()
    {
        // A rib of glass through thick foam: no metal, yet the limits lie more than 1.5 apart, where the standard's method ends.
        CombinedResistance glass = ThermalTransmittance.WithRibs(
            Of(Solid("pir-board", 100, "core"), Solid("mild-steel", 1)), HeatFlow.Horizontal, new Ribs("core", "glass", Ratio.FromPercent(10)));
        Assert.True(R(glass.Upper) / R(glass.Lower) > 1.5);
        Assert.False(glass.WithinScope);
        CombinedResistance metal = ThermalTransmittance.WithRibs(
            Of(Solid("plywood-500", 6, "core"), Solid("mild-steel", 1)), HeatFlow.Horizontal, new Ribs("core", "mild-steel", Ratio.FromPercent(0.1)));
        Assert.True(R(metal.Upper) / R(metal.Lower) < 1.5);
        Assert.False(metal.WithinScope);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void All_that_lies_outside_a_slightly_ventilated_layer_counts_015_together(bool layerBefore)
    {
        // DIN EN ISO 6946 as quoted in German planning tables: at most 0.15 m2 K/W outside. Wool and cork have 1.0 and 0.5.
        Layer[] behind = [Assemblies.Air(25, AirLayerVentilation.SlightlyVentilated), Solid("sheeps-wool", 40), Solid("cork-board", 20)];
        AssemblyResistance wall = ThermalTransmittance.Of(
            Of(layerBefore ? [Solid("plywood-500", 6), .. behind] : behind), HeatFlow.Horizontal);

        double before = layerBefore ? 0.006 / 0.13 : 0;
        Assert.Equal(0.13 + before + 0.09 + 0.15 + 0.04, 1 / wall.UValue.WattsPerSquareMeterKelvin, 9);
        double[] layers = [.. wall.Layers.Select(R)];
        Assert.Equal(0.10, layers[^2], 9);
        Assert.Equal(0.05, layers[^1], 9);
    }

    [Fact]
    public void The_vapours_way_through_a_wall_is_as_long_as_its_layers_say()
    {
        // mu d of each core, foils of 1500 m on either side of the board, 0.01 m of an air layer whatever its thickness, the sheet's own, steel at a million metres.
        LayeredAssembly wall = Of(
            Solid("plywood-500", 6), Membrane(2.5), Solid("pir-foil", 30), Assemblies.Air(20), Solid("sheeps-wool", 40), Solid("mild-steel", 1));
        ImmutableArray<VapourPoint> points = MonthlyDewPoint.Profiles(wall, HeatFlow.Horizontal, AllYear(Month(20, 1200, 0, 500)))[0];

        double Thickness(int layer) => points.Last(point => point.Layer == layer).VapourThickness.Meters;
        Assert.Equal(200 * 0.006, Thickness(0), 9);
        Assert.Equal(1.2 + 2.5, Thickness(1), 9);
        Assert.Equal(3.7 + 3000 + (60 * 0.03), Thickness(2), 6);
        Assert.Equal(3005.5 + 0.01, Thickness(3), 6);
        Assert.Equal(3005.51 + (1.5 * 0.04), Thickness(4), 6);
        Assert.Equal(3005.57 + 1e6, Thickness(5), 3);
        // The first foil lies before the board's core, which begins warm: half the foils' resistance before any of the board's warmth.
        VapourPoint first = points.First(point => point.Layer == 2);
        Assert.Equal(3.7 + 1500, first.VapourThickness.Meters, 6);
        Assert.Equal(points.Last(point => point.Layer == 1).Temperature.DegreesCelsius, first.Temperature.DegreesCelsius, 9);
    }

    [Theory]
    [InlineData(10, 1)]
    [InlineData(11, 2)]
    [InlineData(40, 4)]
    [InlineData(41, 5)]
    public void A_thick_layer_is_divided_until_no_part_has_more_than_a_quarter(double millimetres, int parts)
    {
        // Wool at 0.040 W/(m K): 10 mm have 0.25 m2 K/W, the largest slice of ISO 13788:2012 (recalled).
        LayeredAssembly wall = Of(Solid("sheeps-wool", millimetres), Solid("mild-steel", 1));
        ImmutableArray<VapourPoint> points = MonthlyDewPoint.Profiles(wall, HeatFlow.Horizontal, AllYear(Month(20, 1000, 0, 500)))[0];

        Assert.Equal(1 + parts + 1, points.Length);
        // The division changes no temperature: the steel is as cold as by the whole layers.
        ImmutableArray<Temperature> whole = ThermalTransmittance.Of(wall, HeatFlow.Horizontal).Temperatures(Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(0));
        Assert.Equal(whole[1].DegreesCelsius, points[^2].Temperature.DegreesCelsius, 9);
        Assert.Equal(whole[2].DegreesCelsius, points[^1].Temperature.DegreesCelsius, 9);
    }

    [Fact]
    public void A_year_is_refused_with_the_number_of_months_it_has()
    {
        LayeredAssembly wall = Of(Solid("mild-steel", 1));
        string Said(ImmutableArray<MonthClimate> months) => Assert.Throws<ArgumentException>(() => MonthlyDewPoint.Year(wall, HeatFlow.Horizontal, months)).Message;
        string Drawn(ImmutableArray<MonthClimate> months) => Assert.Throws<ArgumentException>(() => MonthlyDewPoint.Profiles(wall, HeatFlow.Horizontal, months)).Message;

        MonthClimate month = Month(20, 1000, 0, 500);
        foreach (Func<ImmutableArray<MonthClimate>, string> refused in new[] { Said, Drawn })
        {
            Assert.StartsWith("There are 0 months", refused(default), StringComparison.Ordinal);
            Assert.StartsWith("There are 11 months", refused([.. AllYear(month).Take(11)]), StringComparison.Ordinal);
            Assert.StartsWith("There are 13 months", refused([.. AllYear(month), month]), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Water_inside_a_thick_layer_is_said_to_be_inside_it()
    {
        // Wool alone, open to the outside: in hard frost the dew point lies within the wool.
        MonthlyCondensation year = MonthlyDewPoint.Year(
            Of(Solid("sheeps-wool", 80), Membrane(30), Solid("plywood-500", 6)), HeatFlow.Horizontal, AllYear(Month(20, 1900, -20, 60)));

        Assert.Contains(year.Planes, plane => plane.Place == "inside the Sheep's wool");
        Assert.Contains(year.Planes, plane => plane.Place == "between Sheep's wool and Vapour control layer");
        Assert.True(year.Planes.Length > 1);
        for (int month = 0; month < 12; month++)
        {
            Assert.Equal(year.Planes.Sum(plane => plane.ByMonth[month].Kilograms), year.ByMonth[month].Kilograms, 12);
        }
    }

    [Fact]
    public void Where_water_only_adds_up_the_year_is_one_year_long()
    {
        // Steel behind wool and always condensing: each of twelve equal months adds the same, and the first began dry.
        LayeredAssembly wall = Of(Solid("plywood-500", 6), Solid("sheeps-wool", 40), Solid("mild-steel", 1));
        MonthlyCondensation year = MonthlyDewPoint.Year(wall, HeatFlow.Horizontal, AllYear(Month(20, 1600, -10, 200)));

        double each = year.ByMonth[0].Kilograms;
        Assert.True(each > 0);
        Assert.False(year.Dries);
        for (int month = 0; month < 12; month++)
        {
            Assert.Equal((month + 1) * each, year.ByMonth[month].Kilograms, 9);
        }
    }

    [Fact]
    public void It_does_not_matter_in_which_month_a_year_that_dries_is_begun() =>
        // Two cold seasons with gaps of one to four months between them; the longest gap is the one that surely dries.
        Gen.Select(Gen.Int[1, 11], Gen.Int[1, 4], Gen.Int[1, 3]).Sample((turn, between, second) =>
        {
            LayeredAssembly wall = Of(Solid("plywood-500", 6), Solid("sheeps-wool", 40), Solid("mild-steel", 1));
            MonthClimate cold = Month(18, 1300, -8, 250);
            MonthClimate mild = Month(22, 900, 22, 900);
            ImmutableArray<MonthClimate> months =
            [
                cold, cold, .. Enumerable.Repeat(mild, between), .. Enumerable.Repeat(cold, second), .. Enumerable.Repeat(mild, 10 - between - second),
            ];
            MonthlyCondensation year = MonthlyDewPoint.Year(wall, HeatFlow.Horizontal, months);
            Assert.True(year.Dries && year.ByMonth[0].Kilograms > 0);
            MonthlyCondensation turned = MonthlyDewPoint.Year(wall, HeatFlow.Horizontal, [.. months.Skip(turn), .. months.Take(turn)]);
            for (int month = 0; month < 12; month++)
            {
                Assert.Equal(year.ByMonth[month].Kilograms, turned.ByMonth[(month - turn + 12) % 12].Kilograms, 12);
            }
        });

    [Fact]
    public void A_short_mild_gap_does_not_dry_what_the_first_cold_left()
    {
        // Four cold months, one mild month that cannot dry them, one cold month, then summer: the year begins with the first of the four, and the
        // cold month after the gap adds to what was left.
        LayeredAssembly wall = Of(Solid("plywood-500", 6), Solid("sheeps-wool", 40), Solid("mild-steel", 1));
        MonthClimate cold = Month(18, 1500, -10, 200);
        MonthClimate mild = Month(18, 1000, 10, 900);
        MonthClimate summer = Month(22, 1100, 22, 1100);
        MonthlyCondensation year = MonthlyDewPoint.Year(
            wall, HeatFlow.Horizontal, [cold, cold, cold, cold, mild, cold, .. Enumerable.Repeat(summer, 6)]);

        Assert.True(year.Dries);
        double each = year.ByMonth[0].Kilograms;
        Assert.Equal(4 * each, year.ByMonth[3].Kilograms, 9);
        Assert.InRange(year.ByMonth[4].Kilograms, 1e-6, (4 * each) - 1e-6);
        Assert.Equal(year.ByMonth[4].Kilograms + each, year.ByMonth[5].Kilograms, 9);
    }

    // Common practice, no source: in a cooled room on a hot humid coast a sheet behind the lining is on the wrong side.
    [Theory]
    [InlineData(32, 3600, 20, 1300, true)]
    [InlineData(32, 3600, 32, 3600, false)]
    [InlineData(0, 500, 20, 1300, false)]
    public void In_a_cooled_room_on_a_humid_coast_the_walls_cold_side_is_the_inside(
        double outdoorC, double outdoorPa, double roomC, double roomPa, bool wetBehindTheSheet)
    {
        LayeredAssembly open = Of(Membrane(30), Solid("sheeps-wool", 40), Solid("plywood-500", 6));
        ImmutableArray<MonthClimate> months = AllYear(Month(roomC, roomPa, outdoorC, outdoorPa));
        MonthlyCondensation year = MonthlyDewPoint.Year(open, HeatFlow.Horizontal, months);

        Assert.Equal(wetBehindTheSheet, year.Planes.Any(plane => plane.Place == "between Vapour control layer and Sheep's wool"));
        // Behind a skin of steel the vapour of the outdoor air never arrives, however hot the coast; only a colder outside lets the room's own condense.
        LayeredAssembly steel = Of(Membrane(30), Solid("sheeps-wool", 40), Solid("mild-steel", 1));
        Assert.Equal(outdoorC < roomC, !MonthlyDewPoint.Year(steel, HeatFlow.Horizontal, months).Planes.IsEmpty);
    }

    // ISO 6946 by hand with a membrane between the layers: it resists in no section and changes neither limit.
    [Fact]
    public void A_membrane_changes_neither_limit_of_a_ribbed_wall()
    {
        Ribs ribs = new("core", "softwood-boards", Ratio.FromPercent(20));
        CombinedResistance bare = ThermalTransmittance.WithRibs(Of(Solid("sheeps-wool", 40, "core"), Solid("mild-steel", 1)), HeatFlow.Horizontal, ribs);
        CombinedResistance sheeted = ThermalTransmittance.WithRibs(Of(Membrane(5), Solid("sheeps-wool", 40, "core"), Solid("mild-steel", 1)), HeatFlow.Horizontal, ribs);

        Assert.Equal(R(bare.Upper), R(sheeted.Upper), 12);
        Assert.Equal(R(bare.Lower), R(sheeted.Lower), 12);
    }

    // Limits a little apart at resistances far from 1, where their ratio and their product differ.
    [Fact]
    public void The_scope_is_judged_by_the_ratio_of_the_limits_and_not_by_their_size()
    {
        CombinedResistance thick = ThermalTransmittance.WithRibs(
            Of(Solid("pir-board", 100, "core"), Solid("plywood-500", 6)), HeatFlow.Horizontal, new Ribs("core", "softwood-boards", Ratio.FromPercent(2)));

        Assert.InRange(R(thick.Upper) / R(thick.Lower), 1, 1.5);
        Assert.True(R(thick.Upper) * R(thick.Lower) > 1.5);
        Assert.True(thick.WithinScope);
    }

    [Fact]
    public void Layers_of_no_material_gap_or_direction_there_is_are_refused_with_those_there_are()
    {
        Assert.Contains("upwards, horizontal or downwards", Said(() => AirLayers.UnventilatedM2KPerW(0.02, (HeatFlow)9)), StringComparison.Ordinal);
        Assert.Contains("upwards, horizontal or downwards", Said(() => AirLayers.Unventilated(Length.FromMillimeters(20), (HeatFlow)9, 0.9, 0.9, Temperature.FromDegreesCelsius(10))), StringComparison.Ordinal);
        Assert.Contains("upwards, horizontal or downwards", Said(() => SurfaceFilms.InsideM2KPerW((HeatFlow)9)), StringComparison.Ordinal);
        Assert.Contains("single pane, double pane or acrylic double", Said(() => Glass.PaneResistanceM2KPerW((GlassKind)9, 0.004, 0.012)), StringComparison.Ordinal);
        Assert.Contains("class of EN 13125", Said(() => Glass.CoverResistance(Resistance(0.1), (CoverPermeability)9)), StringComparison.Ordinal);
        Assert.NotEmpty(Said(() => Glass.Path(0.004, (Cover)9, 0.1, 0.04)));
        Assert.Contains("'unobtainium'", Assert.Throws<ArgumentException>(() => Materials.Get("unobtainium")).Message, StringComparison.Ordinal);

        static string Said(Func<object> refused) => Assert.Throws<ArgumentOutOfRangeException>(refused).Message.Split(" (Parameter")[0];
    }

    private sealed record Odd : Layer;
}
