using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Tests.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Testing;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Findings;

public sealed class TonightTests
{
    private const int Vans = 10;
    private const int NightsAVan = 50;
    private const int Seed = 20261130;

    private static readonly Design Van = Presets.Build("long-high", Layout.RearPlatformBed);

    /// <summary>
    /// The rule of the table: it answers with what a fresh calculation finds for the night of the grid the night belongs to.
    /// Against a fresh calculation for the very night it may lose what one instruction of the running card is worth; more in
    /// at most one night of twenty.
    /// </summary>
    [Fact]
    public void Five_hundred_random_nights_agree_with_a_fresh_calculation()
    {
        Random random = new(Seed);
        int differing = 0;
        int dearer = 0;
        int nights = 0;
        Dictionary<string, (int Count, double Sum, double Most)> lost = [];
        foreach (Design van in RandomVan.Row(Vans))
        {
            YearWeather year = YearWeather.Of(van);
            TonightTable table = TonightTable.Of(van, year, Assumptions.Likely, TestContext.Current.CancellationToken);
            for (int number = 0; number < NightsAVan; number++)
            {
                nights++;
                TonightNight night = Any(random, table);
                TonightNight ofGrid = TonightTable.Nearest(night);
                TonightSearch fresh = new(van, year, Assumptions.Likely, TestContext.Current.CancellationToken);
                string where = $"{night} of {RandomVan.Describe(van)}";
                TonightSetting told = table[ofGrid]!;
                Assert.True(told.Openings.SequenceEqual(fresh.Of(ofGrid).Openings), where);
                Assert.True(Math.Abs(ofGrid.Outdoor.DegreesCelsius - night.Outdoor.DegreesCelsius) <= TonightTable.Step.Kelvins / 2, where);

                CardCellSearch exact = fresh.SearchFor(night);
                CardCell best = exact.Find();
                OpeningSetting[] followed = Settings(told);
                KeepsFacts(van, followed, fresh.Situation(night), exact, where);
                double loss = exact.Measure(followed) - Value(best.WithCard);
                CardAim aim = CardAim.Of(best.Moment, best.Weather);
                differing += followed.SequenceEqual(exact.Chosen) ? 0 : 1;
                dearer += loss > aim.Price ? 1 : 0;
                (int count, double sum, double most) = lost.GetValueOrDefault(aim.Unit);
                lost[aim.Unit] = (count + 1, sum + loss, Math.Max(most, loss));
            }
        }

        TestContext.Current.TestOutputHelper!.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{nights} nights: {differing} settings differ from those of the very night, {dearer} lose more than an instruction is worth; ")
            + string.Join("; ", lost.Select(unit => string.Create(CultureInfo.InvariantCulture, $"{unit.Key}: {unit.Value.Count} nights, mean loss {unit.Value.Sum / unit.Value.Count:0.###}, most {unit.Value.Most:0.###}"))));
        Assert.Equal(Vans * NightsAVan, nights);
        Assert.True(dearer <= 0.05 * nights, $"{dearer} of {nights} nights lose more than an instruction is worth");
    }

    [Fact]
    public void Every_night_of_the_table_keeps_facts_quiet_and_three_instructions()
    {
        YearWeather year = YearWeather.Of(Van);
        TonightTable table = TonightTable.Of(Van, year, Assumptions.Likely, TestContext.Current.CancellationToken);
        TonightSearch search = new(Van, year, Assumptions.Likely, TestContext.Current.CancellationToken);
        Assert.Equal(2, table.MostSleepers);
        foreach (TonightNight night in table.Nights)
        {
            TonightSetting setting = table[night]!;
            Assert.InRange(setting.Cell.Instructions.Length, 0, 3);
            Assert.True(Value(setting.Cell.WithCard) <= Math.Min(Value(setting.Cell.AllShut), Value(setting.Cell.AllOpen)));
            KeepsFacts(Van, Settings(setting), search.Situation(night), search.SearchFor(night), night.ToString());
        }
    }

    [Fact]
    public void No_flame_that_takes_room_air_burns_while_people_sleep()
    {
        Design unflued = Van with { Heater = Van.Heater with { Kind = HeaterKind.UnfluedGas } };
        TonightTable table = TonightTable.Of(unflued, YearWeather.Of(unflued), Assumptions.Likely, TestContext.Current.CancellationToken);
        foreach (TonightNight night in table.Nights.Where(night => night.Sleepers > 0))
        {
            Assert.False(table[night]!.Heated);
            Assert.Contains("No flame", table[night]!.Cell.Caution, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void With_snow_on_the_roof_nothing_in_the_roof_stands_open()
    {
        TonightTable table = TonightTable.Of(Van, YearWeather.Of(Van), Assumptions.Likely, TestContext.Current.CancellationToken);
        TonightNight[] snowy = [.. table.Nights.Where(night => night.Weather == TonightWeather.Snow)];
        Assert.NotEmpty(snowy);
        foreach (TonightNight night in snowy)
        {
            for (int index = 0; index < Van.Openings.Length; index++)
            {
                Assert.True(Van.Openings[index].Face != Face.Roof || table[night]!.Openings[index].Position == Position.Shut);
            }

            Assert.Contains("Clear the snow", table[night]!.Cell.Caution + (night.Sleepers == 0 ? " Clear the snow" : ""), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_van_nobody_sleeps_in_has_nights_that_only_leave_it_locked()
    {
        Design empty = Van with { Household = Van.Household with { Sleepers = 0 } };
        TonightTable table = TonightTable.Of(empty, YearWeather.Of(empty), Assumptions.Likely, TestContext.Current.CancellationToken);
        Assert.NotEmpty(table.Nights);
        Assert.All(table.Nights, night => Assert.Equal((0, TonightMeal.Nothing), (night.Sleepers, night.Meal)));
        Assert.All(table.Nights, night => Assert.Equal(Moment.LeavingItLocked, table[night]!.Cell.Moment));
    }

    [Fact]
    public void A_van_without_openings_or_heater_gets_an_answer_and_is_told_that_the_air_goes_stale()
    {
        Design shut = Van with { Openings = [], Heater = Van.Heater with { Kind = HeaterKind.None } };
        TonightTable table = TonightTable.Of(shut, YearWeather.Of(shut), Assumptions.Likely, TestContext.Current.CancellationToken);
        Assert.All(table.Nights, night =>
        {
            Assert.Empty(table[night]!.Cell.Instructions);
            Assert.False(table[night]!.Heated);
            Assert.False(table[night]!.HeaterAtLimit);
        });
        Assert.All(table.Nights.Where(night => night.Sleepers > 0), night => Assert.Contains("goes stale", table[night]!.Cell.Caution, StringComparison.Ordinal));
    }

    [Fact]
    public void A_long_meal_before_bed_leaves_more_water_on_the_glass_of_a_shut_van_than_none()
    {
        // Order only: water that is added must lie somewhere where nothing takes it out.
        Design shut = Van with { Openings = [] };
        TonightSearch search = new(shut, YearWeather.Of(shut), Assumptions.Likely, TestContext.Current.CancellationToken);
        double Condensed(TonightMeal meal) => search.Of(new TonightNight(Temperature.FromDegreesCelsius(2), TonightWeather.Dry, 2, meal)).Cell.Outcome!.Condensed.Grams;
        Assert.True(Condensed(TonightMeal.Nothing) < Condensed(TonightMeal.Light));
        Assert.True(Condensed(TonightMeal.Light) < Condensed(TonightMeal.Heavy));
    }

    [Fact]
    public void More_people_than_the_van_is_made_for_and_a_meal_without_a_cooker_are_refused()
    {
        YearWeather year = YearWeather.Of(Van);
        TonightSearch search = new(Van, year, Assumptions.Likely, TestContext.Current.CancellationToken);
        TonightNight night = new(Temperature.FromDegreesCelsius(2), TonightWeather.Dry, 3, TonightMeal.Nothing);
        Assert.Throws<ArgumentOutOfRangeException>(() => search.Of(night));
        Assert.Throws<ArgumentException>(() => search.Of(night with { Sleepers = 0, Meal = TonightMeal.Heavy }));
        TonightSearch cold = new(Van with { Household = Van.Household with { CookingFuel = CookingFuel.None } }, year, Assumptions.Likely, TestContext.Current.CancellationToken);
        Assert.False(cold.CanCook);
        Assert.Throws<ArgumentException>(() => cold.Of(night with { Sleepers = 2, Meal = TonightMeal.Light }));
    }

    [Theory]
    [InlineData(-45, -30)]
    [InlineData(-1.01, -2)]
    [InlineData(-1, 0)]
    [InlineData(0.99, 0)]
    [InlineData(1, 2)]
    [InlineData(50, 36)]
    public void A_night_belongs_to_the_nearest_of_the_grid_and_from_the_middle_on_to_the_warmer(double outdoorC, double ofGridC)
    {
        TonightNight night = new(Temperature.FromDegreesCelsius(outdoorC), TonightWeather.Dry, 1, TonightMeal.Nothing);
        Assert.Equal(ofGridC, TonightTable.Nearest(night).Outdoor.DegreesCelsius);
    }

    [Fact]
    public void An_opening_beside_the_exhaust_stays_shut_wherever_the_heater_may_run()
    {
        Design van = DangerVans.All.Single(danger => danger.Code == "intake-beside-exhaust").Van;
        van = van with { Heater = van.Heater with { NightSetPoint = Temperature.FromDegreesCelsius(23) } };
        int window = van.Openings.ToList().FindIndex(opening => opening.Id == Presets.WindowId);
        TonightTable table = TonightTable.Of(van, YearWeather.Of(van), Assumptions.Likely, TestContext.Current.CancellationToken);
        foreach (TonightNight night in table.Nights.Where(night => night.Outdoor <= Temperature.FromDegreesCelsius(22)))
        {
            Assert.Equal(Position.Shut, table[night]!.Openings[window].Position);
        }
    }

    private static TonightNight Any(Random random, TonightTable table)
    {
        while (true)
        {
            double halfK = TonightTable.Step.Kelvins / 2;
            double coldest = TonightTable.Temperatures[0].DegreesCelsius - halfK;
            double hottest = TonightTable.Temperatures[^1].DegreesCelsius + halfK;
            int sleepers = random.Next(table.MostSleepers + 1);
            TonightNight night = new(
                Temperature.FromDegreesCelsius(coldest + (random.NextDouble() * (hottest - coldest))),
                (TonightWeather)random.Next(3),
                sleepers,
                sleepers > 0 && table.CanCook ? (TonightMeal)random.Next(3) : TonightMeal.Nothing);
            if (TonightTable.Occurs(TonightTable.Nearest(night).Outdoor, night.Weather))
            {
                return night;
            }
        }
    }

    private static OpeningSetting[] Settings(TonightSetting told) => [.. told.Openings.Select(opening => new OpeningSetting(opening.Position, opening.FanSpeed ?? 0))];

    private static void KeepsFacts(Design van, OpeningSetting[] settings, Situation situation, CardCellSearch search, string where)
    {
        double quiet = situation.Activity == Activity.Asleep ? Defaults.Likely("quiet-fan-speed") : 1;
        for (int index = 0; index < settings.Length; index++)
        {
            Opening opening = van.Openings[index];
            OpeningSetting setting = settings[index];
            Assert.True(setting.Position == Position.Shut || OpeningUse.MayStandOpen(opening, situation), $"{opening.Id} {where}");
            Assert.True(!opening.Facts.Fixed || setting.Position == Position.Full, $"{opening.Id} {where}");
            Assert.True(setting.FanSpeed == 0 || (opening.Fan is not null && setting.Position != Position.Shut), $"{opening.Id} {where}");
            Assert.True(setting.FanSpeed <= quiet + 1e-9, $"{opening.Id} {where}");
            // What the very night allows: nothing beside an exhaust that runs.
            Assert.Contains(setting, search.Choices[index]);
        }
    }

    private static double Value(IQuantity quantity) => quantity switch
    {
        Mass mass => mass.Grams,
        Power power => (double)power.Watts,
        Temperature temperature => temperature.DegreesCelsius,
        _ => throw new ArgumentOutOfRangeException(nameof(quantity), quantity, "Expected a measure of a night."),
    };
}
