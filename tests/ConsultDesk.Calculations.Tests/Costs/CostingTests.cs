using System.Collections.Immutable;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Tests.Findings;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Costs;

/// <summary>What a design still costs. Expected sums are worked by hand from the prices given here.</summary>
public sealed class CostingTests
{
    private static readonly Design Van = Presets.Build(BodyClasses.All[0].Key, Layout.RearPlatformBed);

    [Fact]
    public void Totals_are_the_sums_of_their_lines_over_a_thousand_vans()
    {
        foreach (Design van in RandomOption.Row(1000))
        {
            CostSheet sheet = Costing.Of(van, PriceBooks.Default);
            Assert.Equal(sheet.Lines.Where(line => line.State == PartState.Proposed).Sum(line => (line.Price ?? 0) + (line.Fitting ?? 0)), sheet.Now);
            Assert.Equal(sheet.Lines.Where(line => line.State == PartState.Later).Sum(line => (line.Price ?? 0) + (line.Fitting ?? 0)), sheet.Later);
            Assert.Equal(sheet.Lines.Length, sheet.Lines.Select(line => line.PartId).Distinct().Count());
            Assert.All(sheet.Lines, line => Assert.True(line.Price >= 0 && line.Fitting >= 0 || line.Item is null));
        }
    }

    [Fact]
    public void One_more_proposed_part_never_lowers_the_cost()
    {
        foreach (Design van in RandomOption.Row(200))
        {
            decimal before = Costing.Of(van, PriceBooks.Default).Now;
            foreach (PriceItem item in PriceBooks.Default.Items.Where(item => item.Kind is PriceKind.RoofFan or PriceKind.RoofVent))
            {
                Design more = Openings.Add(van, BookedParts.OpeningOf(van, item));
                Assert.Equal(before + item.Price + item.Fitting, Costing.Of(more, PriceBooks.Default).Now);
            }
        }
    }

    [Fact]
    public void A_part_costs_now_when_proposed_later_when_later_and_nothing_when_owned_or_fitted()
    {
        PriceItem fan = Item("roof-fan-350");
        foreach ((PartState state, bool now, bool later) in new[]
        {
            (PartState.Fitted, false, false), (PartState.Owned, false, false), (PartState.Proposed, true, false), (PartState.Later, false, true),
        })
        {
            CostSheet without = Costing.Of(Van, PriceBooks.Default);
            CostSheet with = Costing.Of(Openings.Add(Van, BookedParts.OpeningOf(Van, fan) with { State = state }), PriceBooks.Default);
            Assert.Equal(now ? fan.Price + fan.Fitting : 0, with.Now - without.Now);
            Assert.Equal(later ? fan.Price + fan.Fitting : 0, with.Later - without.Later);
            Assert.Contains(with.Lines, line => line.State == state && line.Item == fan);
        }
    }

    [Fact]
    public void A_part_is_priced_by_its_key_else_by_the_nearest_size_of_its_kind_and_says_which()
    {
        Opening fan = BookedParts.OpeningOf(Van, Item("roof-fan-350-sensor"));
        Design one = Van with { Openings = [fan, fan with { Id = "b", PriceKey = null }, fan with { Id = "c", PriceKey = "gone", Length = Length.FromMillimeters(290), Width = Length.FromMillimeters(285) }] };
        ImmutableArray<CostLine> lines = Costing.Of(one, PriceBooks.Default).Lines;
        Assert.Equal(("roof-fan-350-sensor", PriceMatch.ByKey), Found(lines[0]));
        // Of three fans with the same frame the one with a rain sensor has the same facts.
        Assert.Equal(("roof-fan-350-sensor", PriceMatch.SameSize), Found(lines[1]));
        Assert.Equal(("roof-fan-280", PriceMatch.NearestSize), Found(lines[2]));

        static (string? Key, PriceMatch Match) Found(CostLine line) => (line.Item?.Key, line.Match);
    }

    [Fact]
    public void A_layer_costs_its_area_times_its_price_and_the_vans_own_skin_costs_nothing()
    {
        PriceBook book = new([Item("wool-sheep-40"), Item("plywood-poplar-6")]);
        ImmutableArray<CostLine> lines = Costing.Of(Van with { Openings = [], Glazings = [] }, book).Lines;
        CostLine roof = lines.Single(line => line.PartId == "roof.layers[insulation]");
        // The roof of a box is length times width, with nothing cut out.
        double areaM2 = Van.Body.InteriorLength.Meters * Van.Body.InteriorWidth.Meters;
        Assert.Equal(areaM2, roof.Quantity, 9);
        Assert.Equal(decimal.Round((decimal)areaM2 * 13m, 2), roof.Price);
        Assert.DoesNotContain(lines, line => line.PartId.Contains("[skin]", StringComparison.Ordinal));
    }

    [Fact]
    public void What_the_book_does_not_have_is_counted_and_not_priced()
    {
        CostSheet sheet = Costing.Of(Van, new PriceBook([]));
        Assert.Equal((0m, 0m), (sheet.Now, sheet.Later));
        Assert.Equal(sheet.Lines.Count(line => line.ToBuy), sheet.Unpriced);
        Assert.True(sheet.Unpriced > 0);
    }

    [Fact]
    public void The_cab_windows_and_flaps_the_van_came_with_cost_nothing()
    {
        Opening window = Van.Openings[0] with { Kind = OpeningKind.CabWindow, Facts = new OpeningFacts() };
        Assert.Null(Costing.KindOf(window));
        Assert.Null(Costing.KindOf(window with { Kind = OpeningKind.PressureReliefFlap }));
        Assert.Equal(PriceKind.CabWindowDeflector, Costing.KindOf(window with { Facts = new OpeningFacts { UsableInRain = true } }));
    }

    private static PriceItem Item(string key) => PriceBooks.Default.Items.Single(item => item.Key == key);
}
