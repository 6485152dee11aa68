using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Vehicle;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Costs;

/// <summary>Which wishes an option breaks.</summary>
public sealed class WishCheckTests
{
    private static readonly Design Empty = Presets.Build(BodyClasses.All[0].Key, Layout.RearPlatformBed) with { Openings = [] };

    [Fact]
    public void A_budget_is_broken_by_what_lies_above_it_and_kept_at_exactly_it()
    {
        CostSheet cost = new([], 1200, 300, 0);
        Assert.Empty(WishCheck.Broken(Empty, cost, new Wishes { BudgetNow = 1200, BudgetLater = 300 }));
        Assert.Empty(WishCheck.Broken(Empty, cost, new Wishes()));
        Assert.Equal([200m, 50m], WishCheck.Broken(Empty, cost, new Wishes { BudgetNow = 1000, BudgetLater = 250 }).Select(broken => broken.Over!.Value));
    }

    [Fact]
    public void A_second_roof_hole_is_one_that_is_cut_beside_the_first()
    {
        Design one = With(Empty, "roof-fan-350");
        Design two = With(one, "roof-vent-280");
        Assert.Empty(WishCheck.PartsBreaking(one, WontHave.SecondRoofHole));
        Assert.Single(WishCheck.PartsBreaking(two, WontHave.SecondRoofHole));
        // Two that are there already are nobody's new hole.
        Assert.Empty(WishCheck.PartsBreaking(Fitted(two), WontHave.SecondRoofHole));
        Assert.Single(WishCheck.PartsBreaking(With(Fitted(two), "roof-vent-280"), WontHave.SecondRoofHole));
    }

    [Theory]
    [InlineData("window-sliding-600", WontHave.AddedWindow)]
    [InlineData("window-sliding-600", WontHave.VisibleOutside)]
    [InlineData("roof-vent-280", WontHave.VisibleOutside)]
    [InlineData("floor-vent-100", WontHave.FloorHole)]
    [InlineData("roof-fan-350", WontHave.FanAtNight)]
    public void A_part_breaks_what_the_client_will_not_have(string key, WontHave wont)
    {
        Assert.Empty(WishCheck.PartsBreaking(Empty, wont));
        Design with = With(Empty, key);
        Assert.Equal(with.Openings[0].Name, Assert.Single(WishCheck.PartsBreaking(with, wont)));
        BrokenWish broken = Assert.Single(WishCheck.Broken(with, new CostSheet([], 0, 0, 0), new Wishes { WontHaves = [wont] }));
        Assert.Equal(wont, broken.WontHave);
    }

    [Fact]
    public void Gas_is_bottles_a_gas_cooker_or_a_gas_heater()
    {
        Design dry = Empty with { Equipment = Empty.Equipment with { GasBottles = false }, Household = Empty.Household with { CookingFuel = CookingFuel.Electric }, Heater = Empty.Heater with { Kind = HeaterKind.RoomSealedLiquidFuel } };
        Assert.Empty(WishCheck.PartsBreaking(dry, WontHave.Gas));
        Assert.Single(WishCheck.PartsBreaking(dry with { Household = dry.Household with { CookingFuel = CookingFuel.Gas } }, WontHave.Gas));
        Assert.Single(WishCheck.PartsBreaking(dry with { Heater = dry.Heater with { Kind = HeaterKind.RoomSealedGas } }, WontHave.Gas));
        Assert.Single(WishCheck.PartsBreaking(dry with { Equipment = dry.Equipment with { GasBottles = true } }, WontHave.Gas));
    }

    [Theory]
    // Fan laws: sound power rises with the fifth power of speed, 50 lg of the ratio (ASHRAE Handbook, HVAC Applications,
    // fan sound; recalled): half speed 15.05 dB less, a tenth 50 dB less.
    [InlineData(1.0, 64.0)]
    [InlineData(0.5, 48.949)]
    [InlineData(0.1, 14.0)]
    public void A_fan_turned_down_is_quieter_by_the_fan_law(double speed, double dba)
    {
        Design van = With(Empty, "roof-fan-350");
        Opening fan = van.Openings[0] with { Fan = van.Openings[0].Fan! with { Speed = speed } };
        Assert.Equal(dba, WishCheck.NightSoundDba(van, fan)!.Value, 3);
        Design set = van with { Openings = [fan] };
        Assert.Empty(WishCheck.Broken(set, new CostSheet([], 0, 0, 0), new Wishes { LoudestAtBedDba = dba + 0.1 }));
        Assert.Equal(BrokenWishKind.NoiseAtBed, Assert.Single(WishCheck.Broken(set, new CostSheet([], 0, 0, 0), new Wishes { LoudestAtBedDba = dba - 0.1 })).Kind);
    }

    [Fact]
    public void Looks_and_order_break_nothing() =>
        Assert.Empty(WishCheck.Broken(With(Empty, "roof-fan-350"), new CostSheet([], 1, 1, 0), new Wishes { Looks = "No black plastic", Order = [Priority.Looks, Priority.Dry] }));

    private static Design With(Design design, string key)
    {
        PriceItem item = PriceBooks.Default.Items.Single(item => item.Key == key);
        return Openings.Add(design, BookedParts.OpeningOf(design, item));
    }

    private static Design Fitted(Design design) => design with { Openings = [.. design.Openings.Select(opening => opening with { State = PartState.Fitted })] };
}
