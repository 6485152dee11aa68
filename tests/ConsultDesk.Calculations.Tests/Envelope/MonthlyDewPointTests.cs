using System.Collections.Immutable;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Envelope;
using CsCheck;
using UnitsNet;
using Xunit;
using static ConsultDesk.Calculations.Envelope.MonthlyDewPoint;
using static ConsultDesk.Calculations.Tests.Envelope.Assemblies;

namespace ConsultDesk.Calculations.Tests.Envelope;

public sealed class MonthlyDewPointTests
{
    private static readonly Gen<double> Unit = Gen.Double.Unit;

    private static Gen<Slice> AnySlice =>
        from resistance in Unit
        from sd in Unit
        select new Slice("slice", 0.25 * resistance, Math.Pow(10, (5 * sd) - 2));

    private static Gen<ImmutableArray<Slice>> AnySlices => AnySlice.Array[2, 9].Select(slices => ImmutableArray.Create(slices));

    private static Gen<MonthAir> AnyMonth =>
        from room in Unit
        from roomShare in Unit
        from fall in Unit
        from outdoorShare in Unit
        let roomC = 25 * room
        let outdoorC = roomC - (50 * fall) + 10
        select new MonthAir(roomC, roomShare * SaturationPressurePa(roomC), outdoorC, outdoorShare * SaturationPressurePa(outdoorC), 30 * 86_400);

    private static Gen<ImmutableArray<MonthAir>> AnyYear => AnyMonth.Array[12].Select(months => ImmutableArray.Create(months));

    [Fact]
    public void What_enters_and_does_not_leave_stays_on_the_planes() =>
        (from slices in AnySlices
         from month in AnyMonth
         from wet in Unit.Array[slices.Length - 1]
         select (slices, month, held: wet.Select(share => share < 0.3 ? share : 0).ToArray()))
        .Sample(x =>
        {
            Section section = new(x.slices, 0.13, 0.04);
            double[] vapourPa = section.VapourPa(x.month, x.held);

            double stays = section.Rates(x.month, x.held).Sum();

            double enters = section.Flux(vapourPa, 0);
            double leaves = section.Flux(vapourPa, x.slices.Length - 1);
            Assert.Equal(enters - leaves, stays, 1e-9 * (Math.Abs(enters) + Math.Abs(leaves) + 1e-15));
        });

    [Fact]
    public void Nowhere_does_the_vapour_exceed_saturation_and_a_dry_plane_never_gives_water() =>
        (from slices in AnySlices from month in AnyMonth select (slices, month)).Sample(x =>
        {
            Section section = new(x.slices, 0.13, 0.04);
            double[] dry = new double[x.slices.Length - 1];
            double[] vapourPa = section.VapourPa(x.month, dry);
            double[] saturationPa = section.SaturationPa(x.month);

            Assert.All(Enumerable.Range(0, vapourPa.Length), k => Assert.True(vapourPa[k] <= saturationPa[k] * (1 + 1e-9)));
            Assert.All(section.Rates(x.month, dry), rate => Assert.True(rate >= -1e-20));
        });

    [Fact]
    public void More_resistance_to_vapour_on_the_warm_side_never_condenses_more_in_a_month_and_more_on_the_cold_side_never_less() =>
        (from slices in AnySlices from month in AnyMonth from more in Unit select (slices, month, sd: 0.01 + (20 * more)))
        .Where(x => x.month.RoomPa > x.month.OutdoorPa && x.month.RoomC > x.month.OutdoorC)
        .Sample(x =>
        {
            Slice membrane = new("membrane", 0, x.sd);
            double plain = Condensed(x.slices, x.month);

            Assert.True(Condensed(x.slices.Insert(0, membrane), x.month) <= (plain * (1 + 1e-9)) + 1e-18);
            Assert.True(Condensed(x.slices.Add(membrane), x.month) >= (plain * (1 - 1e-9)) - 1e-18);
        });

    [Fact]
    public void More_vapour_in_the_room_never_condenses_less_over_a_year() =>
        (from slices in AnySlices from year in AnyYear from more in Unit select (slices, year, more)).Sample(x =>
        {
            ImmutableArray<MonthAir> damper =
            [
                .. x.year.Select(month => month with { RoomPa = month.RoomPa + (x.more * (SaturationPressurePa(month.RoomC) - month.RoomPa)) }),
            ];
            double plain = Largest(MonthlyDewPoint.Year(x.slices, 0.13, 0.04, x.year));
            double more = Largest(MonthlyDewPoint.Year(x.slices, 0.13, 0.04, damper));

            Assert.True(plain == 0 || more > 0);
        });

    [Fact]
    public void Water_is_never_less_than_none_and_a_year_without_condensation_dries() =>
        (from slices in AnySlices from year in AnyYear select (slices, year)).Sample(x =>
        {
            MonthlyCondensation year = MonthlyDewPoint.Year(x.slices, 0.13, 0.04, x.year);

            Assert.All(year.Planes.SelectMany(plane => plane.ByMonth), mass => Assert.True(mass.Kilograms >= 0));
            Assert.True(year.Dries || Largest(year) > 0);
            Assert.Equal(year.Planes.IsEmpty, Largest(year) == 0);
            for (int month = 0; month < 12; month++)
            {
                Assert.Equal(year.ByMonth[month].Kilograms, year.Planes.Sum(plane => plane.ByMonth[month].Kilograms), 12);
            }
        });

    [Fact]
    public void The_layers_turned_round_get_wetter()
    {
        ImmutableArray<MonthClimate> winter = Climate(roomShare: 0.5, outdoorC: -5);
        LayeredAssembly right = Of(Solid("plywood-700", 12), Solid("sheeps-wool", 50), Solid("softwood-boards", 6));
        LayeredAssembly wrong = Of(Solid("softwood-boards", 6), Solid("sheeps-wool", 50), Solid("plywood-700", 12));

        Assert.True(Peak(wrong, winter) > Peak(right, winter) + 0.1);
    }

    [Fact]
    public void A_steel_skin_dries_only_inwards_and_adds_up_where_the_room_is_always_damper_than_it()
    {
        LayeredAssembly wall = Of(Solid("plywood-500", 6), Solid("sheeps-wool", 40), Solid("mild-steel", 1));

        Assert.False(MonthlyDewPoint.Year(wall, HeatFlow.Horizontal, Climate(0.6, 0)).Dries);
        MonthlyCondensation seasons = MonthlyDewPoint.Year(
            wall, HeatFlow.Horizontal, [.. Climate(0.6, 0).Take(4), .. Climate(0.5, 20).Take(6), .. Climate(0.6, 0).Take(2)]);

        Assert.True(seasons.Dries);
        Assert.Equal("between Sheep's wool and Mild steel sheet", Assert.Single(seasons.Planes).Place);
        Assert.Equal(3, seasons.ByMonth.IndexOf(seasons.ByMonth.MaxBy(mass => mass.Kilograms)));
    }

    [Fact]
    public void A_well_ventilated_layer_lets_outdoor_air_stand_behind_what_lies_before_it()
    {
        LayeredAssembly sealedWall = Of(Solid("plywood-500", 6), Solid("sheeps-wool", 40), Solid("mild-steel", 1));
        LayeredAssembly ventilated = Of(
            Solid("plywood-500", 6), Solid("sheeps-wool", 40), Assemblies.Air(20, AirLayerVentilation.WellVentilated), Solid("mild-steel", 1));

        Assert.True(Peak(sealedWall, Climate(0.5, 0)) > 0);
        Assert.Equal(0, Peak(ventilated, Climate(0.5, 0)));
    }

    [Fact]
    public void Two_planes_can_be_wet_at_once()
    {
        // Two tight sheets with insulation between them and before them: vapour stops at both.
        ImmutableArray<Slice> slices =
        [
            new("lining", 0.05, 0.1), new("wool", 0.25, 0.01), new("wool", 0.25, 0.01), new("foil", 0, 5),
            new("wool", 0.25, 0.01), new("wool", 0.25, 0.01), new("skin", 0, 1e6),
        ];
        Section section = new(slices, 0.13, 0.04);

        double[] rates = section.Rates(new MonthAir(15, 0.85 * SaturationPressurePa(15), -10, 200, 30 * 86_400), new double[6]);

        Assert.Equal(2, rates.Count(rate => rate > 0));
        Assert.True(rates[2] > 0 && rates[5] > 0);
    }

    [Fact]
    public void The_standards_saturation_pressure_agrees_with_that_of_the_handbook() =>
        Unit.Select(share => 30 * share).Sample(celsius =>
            Assert.Equal(MoistAir.SaturationPressurePa(celsius), SaturationPressurePa(celsius), 0.002 * SaturationPressurePa(celsius)));

    [Fact]
    public void The_profile_of_each_month_runs_from_the_rooms_air_to_the_outdoor_air_and_holds_the_water_of_the_year()
    {
        LayeredAssembly wall = Of(Solid("plywood-500", 6), Membrane(0.5), Solid("sheeps-wool", 40), Solid("mild-steel", 1));
        ImmutableArray<MonthClimate> months = [.. Climate(0.6, 0).Take(4), .. Climate(0.5, 20).Take(6), .. Climate(0.6, 0).Take(2)];

        ImmutableArray<ImmutableArray<VapourPoint>> profiles = Profiles(wall, HeatFlow.Horizontal, months);

        MonthlyCondensation year = MonthlyDewPoint.Year(wall, HeatFlow.Horizontal, months);
        for (int month = 0; month < 12; month++)
        {
            ImmutableArray<VapourPoint> points = profiles[month];
            Assert.Equal(months[month].RoomVapour.Pascals, points[0].Vapour.Pascals, 1e-6);
            Assert.Equal(months[month].OutdoorVapour.Pascals, points[^1].Vapour.Pascals, 1e-6);
            Assert.All(points, point => Assert.True(point.Vapour.Pascals <= point.Saturation.Pascals * (1 + 1e-9)));
            Assert.All(points, point => Assert.Equal(SaturationPressurePa(point.Temperature.DegreesCelsius), point.Saturation.Pascals, 1e-6));
            Assert.All(points.Zip(points.Skip(1)), pair => Assert.True(pair.Second.VapourThickness > pair.First.VapourThickness && pair.Second.Layer >= pair.First.Layer));
            Assert.Equal(year.ByMonth[month].Kilograms, points.Sum(point => point.Held.Kilograms), 12);
            Assert.Equal(
                year.ByMonth[month].Kilograms - year.ByMonth[(month + 11) % 12].Kilograms, points.Sum(point => point.Gathers.Kilograms), 12);
        }

        // The steel is as tight as the standard lets it be: the wool's outer face is where the water is.
        VapourPoint wettest = profiles[3].MaxBy(point => point.Held.Kilograms)!;
        Assert.Equal(2, wettest.Layer);
        Assert.Equal(wettest.Saturation.Pascals, wettest.Vapour.Pascals, 1e-9);
    }

    [Fact]
    public void Behind_a_well_ventilated_layer_the_profile_ends() => Assert.Equal(
        1,
        Profiles(
            Of(Solid("plywood-500", 6), Solid("sheeps-wool", 40), Assemblies.Air(20, AirLayerVentilation.WellVentilated), Solid("mild-steel", 1)),
            HeatFlow.Horizontal, Climate(0.5, 0))[0][^1].Layer);

    [Fact]
    public void With_outdoor_air_before_the_first_layer_nothing_condenses_inside()
    {
        LayeredAssembly open = Of(Assemblies.Air(20, AirLayerVentilation.WellVentilated), Solid("sheeps-wool", 40), Solid("mild-steel", 1));

        Assert.Equal(0, Peak(open, Climate(0.9, -10)));
        Assert.All(Profiles(open, HeatFlow.Horizontal, Climate(0.9, -10)), points => Assert.Single(points));
    }

    [Fact]
    public void A_year_of_profiles_has_twelve_months() => Assert.Throws<ArgumentException>(() =>
        Profiles(Of(Solid("mild-steel", 1)), HeatFlow.Horizontal, [.. Climate(0.5, 0).Take(11)]));

    [Fact]
    public void A_year_has_twelve_months() => Assert.Throws<ArgumentException>(() =>
        MonthlyDewPoint.Year(Of(Solid("mild-steel", 1)), HeatFlow.Horizontal, [.. Climate(0.5, 0).Take(11)]));

    private static double Condensed(ImmutableArray<Slice> slices, MonthAir month) =>
        new Section(slices, 0.13, 0.04).Rates(month, new double[slices.Length - 1]).Sum();

    private static double Largest(MonthlyCondensation year) => year.ByMonth.Max(mass => mass.Kilograms);

    private static double Peak(LayeredAssembly assembly, ImmutableArray<MonthClimate> months) =>
        Largest(MonthlyDewPoint.Year(assembly, HeatFlow.Horizontal, months));

    private static ImmutableArray<MonthClimate> Climate(double roomShare, double outdoorC) =>
    [
        .. Enumerable.Repeat(
            new MonthClimate(
                Temperature.FromDegreesCelsius(20),
                Pressure.FromPascals(roomShare * SaturationPressurePa(20)),
                Temperature.FromDegreesCelsius(outdoorC),
                Pressure.FromPascals(0.4 * SaturationPressurePa(outdoorC)),
                Duration.FromDays(30)),
            12),
    ];
}
