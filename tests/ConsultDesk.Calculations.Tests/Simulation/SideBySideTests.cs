using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>
/// Vans run side by side against each of them alone: the same year to 1e-12 of each list's greatest number, whoever runs beside it and wherever
/// it stands.
/// </summary>
public sealed class SideBySideTests
{
    private const double Relative = 1e-12;
    private const int Days = 14;

    private static readonly Design Long = Presets.Build("long-high", Layout.RearPlatformBed);

    [Theory]
    [InlineData(BodyClassKeys.Compact, Layout.RearPlatformBed, 0)]
    [InlineData(BodyClassKeys.Long, Layout.FixedBedAcross, 200)]
    [InlineData(BodyClassKeys.Longest, Layout.FrontLounge, 100)]
    public void A_preset_and_its_single_changes_are_those_they_are_alone(string bodyClass, Layout layout, int fromDay)
    {
        Design van = Presets.Build(bodyClass, layout);
        Design[] designs = [van, .. SingleChanges.Of(van, PriceBooks.Default).Select(change => change.Apply(van))];
        YearWeather weather = YearWeather.Of(van);
        int compared = 0;
        foreach (VanModel[] group in Groups(designs))
        {
            foreach (VanModel[] eight in group.Chunk(8))
            {
                Compare(eight, Beside<EightLanes>(eight, weather, fromDay), weather, fromDay);
                compared += eight.Length;
            }
        }

        TestContext.Current.TestOutputHelper!.WriteLine($"{compared} designs");
        Assert.InRange(compared, 30, int.MaxValue);
    }

    // Each random van with seven changes of itself: what differs between lanes is openings, heaters, walls, covers and leakage.
    [Fact]
    public void Random_vans_are_those_they_are_alone()
    {
        int compared = 0;
        foreach (Design van in RandomVan.Row(12))
        {
            YearWeather weather = YearWeather.Of(van);
            VanModel[] models = [.. Changed(van).Where(design => DesignCheck.Errors(design).Length == 0).Select(design => new VanModel(design, Assumptions.Likely))];
            Compare(models, Beside<EightLanes>(models, weather, 350), weather, 350);
            Compare(models[..4], Beside<FourLanes>(models[..4], weather, 350), weather, 350);
            compared += models.Length;
        }

        Assert.InRange(compared, 60, int.MaxValue);
    }

    private static IEnumerable<Design> Changed(Design van)
    {
        yield return van;
        yield return van with { Leakage = van.Leakage with { EffectiveArea = van.Leakage.EffectiveArea * 1.7 } };
        yield return van with { Heater = van.Heater with { Kind = HeaterKind.UnfluedGas, RatedOutput = Power.FromKilowatts(2) } };
        yield return van with { Openings = [.. van.Openings.Select(opening => opening with { Position = Position.Shut })] };
        yield return van with { Glazings = [.. van.Glazings.Select(glazing => glazing with { Pane = glazing.Pane with { Cover = Cover.InsideLoose } })] };
        yield return van with { BareMetal = [] };
        yield return van with { Openings = [.. van.Openings.Where(opening => opening.Pane is null)], BedBase = BedBase.Solid };
        yield return van with { Openings = [.. van.Openings.Select(opening => opening with { Position = opening.Facts.Fixed ? opening.Position : Position.Full })] };
    }

    // Air at saturation repeats heat and water, frost thaws and runs off, glass is wiped, dryers run, the pressure changes between stays.
    [Fact]
    public void The_wettest_vans_are_those_they_are_alone_through_a_year()
    {
        Design shut = Vans.With(Position.Shut, Position.Shut, HeaterKind.UnfluedGas) with { Stop = Presets.StopAt("fairbanks", 1) };
        Dryer dryer = new()
        {
            Id = "dryer",
            Name = "Dryer",
            ZoneId = shut.Zones[1].Id,
            Kind = DryerKind.Compressor,
            RemovedPerDay = Mass.FromKilograms(2),
            ElectricDraw = Power.FromWatts(150),
            Running = true,
        };
        VanModel[] models =
        [
            .. new[]
            {
                shut,
                shut with { Dryers = [dryer] },
                shut with { Household = shut.Household with { WipesGlass = true } },
                shut with { Heater = shut.Heater with { Kind = HeaterKind.None } },
                shut with { Household = shut.Household with { ShowersPerDay = 3, DriesClothes = true, Animals = 2 } },
            }.Select(design => new VanModel(design, Assumptions.Likely)),
        ];
        YearWeather weather = YearWeather.Of(shut);
        YearSeries[] beside = Beside<EightLanes>(models, weather, 0, YearWeather.Days);

        Compare(models, beside, weather, 0, YearWeather.Days);
        Assert.All(beside, year => Assert.True(Math.Abs(year.WaterUnaccountedKg) <= 1e-9 * year.WaterThroughputKg));
        Assert.All(beside, year => Assert.True(Math.Abs(year.HeatUnaccountedJ) <= 1e-9 * year.HeatThroughputJ));
        Assert.Contains(beside, year => year.DriedKg > 0);
    }

    [Fact]
    public void Neither_neighbours_nor_the_place_change_a_van()
    {
        VanModel[] models = [.. Changed(Long).Select(design => new VanModel(design, Assumptions.Likely))];
        YearWeather weather = YearWeather.Of(Long);
        YearSeries alone = Beside<EightLanes>([models[0]], weather, 120)[0];
        for (int place = 0; place < 8; place++)
        {
            VanModel[] moved = [.. models[1..]];
            moved = [.. moved[..place], models[0], .. moved[place..]];
            Same(alone, Beside<EightLanes>(moved, weather, 120)[place], bound: 0);
        }

        Same(alone, Beside<FourLanes>([models[3], models[0]], weather, 120)[1], bound: 0);
    }

    // Every van may come with its own assumptions: samples of what is not known run side by side too.
    [Fact]
    public void Samples_of_what_is_assumed_run_side_by_side()
    {
        VanModel[] models =
        [
            .. new[] { 0.2, 0.5, 0.8, 1.2, 1.6, 2.0, 2.5, 3.0 }.Select(share => new VanModel(
                Long,
                Assumptions.Likely.With("buffer-capacity", share).With("airing-temperature", 20 + share).With("sleeper-water", 30 + (10 * share)).With("film-run-off", 40 * share))),
        ];
        YearWeather weather = YearWeather.Of(Long);
        Compare(models, Beside<EightLanes>(models, weather, 160), weather, 160);
    }

    // Its place matters: lanes without a van of their own follow the last one, and fail with it.
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    public void A_van_that_fails_takes_no_other_with_it(int place)
    {
        VanModel hot = new(Hot, Assumptions.Likely);
        List<VanModel> models = [.. new[] { Long, Long with { BareMetal = [] } }.Select(design => new VanModel(design, Assumptions.Likely))];
        models.Insert(place, hot);
        YearWeather weather = YearWeather.Of(Long);
        YearSeries[] series = [.. models.Select(YearSeries.Of)];
        CalculationFailedException?[] failures = YearRun.Of(
            new VanBatch<EightLanes>(models), series, weather, null, 0, Days, cancellation: TestContext.Current.CancellationToken);

        Assert.Equal(3, failures.Length);
        for (int lane = 0; lane < 3; lane++)
        {
            if (lane == place)
            {
                Assert.Equal(Assert.Throws<AirOutOfRangeException>(() => Alone(hot, weather, 0)).Message, Assert.IsType<AirOutOfRangeException>(failures[lane]).Message);
            }
            else
            {
                Assert.Null(failures[lane]);
                Same(Alone(models[lane], weather, 0), series[lane], Relative);
            }
        }
    }

    [Fact]
    public void Where_all_fail_each_says_why()
    {
        VanModel hot = new(Hot, Assumptions.Likely);
        CalculationFailedException?[] failures = YearRun.Of(
            new VanBatch<FourLanes>([hot, hot]), [YearSeries.Of(hot), YearSeries.Of(hot)], YearWeather.Of(Long), null, 0, Days, cancellation: TestContext.Current.CancellationToken);

        Assert.All(failures, failure => Assert.IsType<AirOutOfRangeException>(failure));
    }

    // A heater far too big that is never off comes past the temperatures air is known for.
    private static Design Hot => Long with
    {
        Heater = Long.Heater with
        {
            Kind = HeaterKind.UnfluedGas,
            RatedOutput = Power.FromKilowatts(60),
            DaySetPoint = Temperature.FromDegreesCelsius(300),
            NightSetPoint = Temperature.FromDegreesCelsius(300),
            RunsWhenAway = true,
        },
    };

    [Fact]
    public void Vans_with_other_zones_or_other_hours_are_refused()
    {
        VanModel other = new(Presets.Build("long-high", Layout.FrontLounge), Assumptions.Likely);
        VanModel long1 = new(Long, Assumptions.Likely);
        if (!VanBatch<FourLanes>.SameShape(long1, other))
        {
            Assert.Throws<ArgumentException>(() => new VanBatch<FourLanes>([long1, other]));
        }

        VanModel allDay = new(Long with { Household = Long.Household with { Presence = Presence.AllDay } }, Assumptions.Likely);
        VanModel nights = new(Long with { Household = Long.Household with { Presence = Presence.Nights } }, Assumptions.Likely);
        Assert.Throws<ArgumentException>(() => YearRun.Of(
            new VanBatch<FourLanes>([allDay, nights]), [YearSeries.Of(allDay), YearSeries.Of(nights)], YearWeather.Of(Long), null, 0, 1, cancellation: TestContext.Current.CancellationToken));
    }

    [Fact]
    public void An_hour_of_lanes_allocates_nothing()
    {
        VanModel[] models = [.. Changed(Long).Select(design => new VanModel(design, Assumptions.Likely))];
        YearWeather weather = YearWeather.Of(Long);
        HouseholdDay[] days = [.. models.Select(model => HouseholdDay.Of(model.Night.Design, model.Night.Assumed))];
        VanRun<EightLanes> run = new(new VanBatch<EightLanes>(models));
        run.Start(Outdoor.Of(weather, 0), EightLanes.Of(16));
        Day(0);
        Day(1);
        long before = GC.GetAllocatedBytesForCurrentThread();
        Day(2);
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());

        void Day(int number)
        {
            for (int hour = 24 * number; hour < 24 * (number + 1); hour++)
            {
                run.Hour(Outdoor.Of(weather, hour - 1), Outdoor.Of(weather, hour), Outdoor.Of(weather, hour + 1), days, hour % 24);
            }
        }
    }

    private static IEnumerable<VanModel[]> Groups(Design[] designs)
    {
        List<List<VanModel>> groups = [];
        foreach (VanModel model in designs.Select(design => new VanModel(design, Assumptions.Likely)))
        {
            List<VanModel>? group = groups.Find(others => VanBatch<EightLanes>.SameShape(others[0], model));
            if (group is null)
            {
                groups.Add(group = []);
            }

            group.Add(model);
        }

        return groups.Select(group => group.ToArray());
    }

    private static YearSeries[] Beside<TLane>(VanModel[] models, YearWeather weather, int fromDay, int days = Days)
        where TLane : struct, ILane<TLane>
    {
        YearSeries[] series = [.. models.Select(YearSeries.Of)];
        CalculationFailedException?[] failures = YearRun.Of(new VanBatch<TLane>(models), series, weather, null, fromDay, days, cancellation: TestContext.Current.CancellationToken);
        Assert.All(failures, Assert.Null);
        return series;
    }

    private static YearSeries Alone(VanModel van, YearWeather weather, int fromDay, int days = Days) =>
        YearRun.Of(van, weather, null, fromDay, days, cancellation: TestContext.Current.CancellationToken);

    private static void Compare(VanModel[] models, YearSeries[] beside, YearWeather weather, int fromDay, int days = Days)
    {
        for (int lane = 0; lane < models.Length; lane++)
        {
            Same(Alone(models[lane], weather, fromDay, days), beside[lane], Relative);
        }
    }

    private static void Same(YearSeries expected, YearSeries actual, double bound)
    {
        foreach ((string name, double[] alone, double[] beside) in Lists(expected).Zip(Lists(actual), (a, b) => (a.Name, a.Numbers, b.Numbers)))
        {
            Assert.Equal(alone.Length, beside.Length);
            double greatest = alone.Max(Math.Abs);
            for (int at = 0; at < alone.Length; at++)
            {
                Assert.True(Math.Abs(alone[at] - beside[at]) <= bound * greatest, $"{name}[{at}]: {beside[at]:R} instead of {alone[at]:R}");
            }
        }

        Assert.Equal(expected.Occupied, actual.Occupied);
        Assert.Equal(expected.Asleep, actual.Asleep);
        Assert.Equal(
            (expected.FirstHour, expected.Steps, expected.NetworkSolves, expected.NewtonSteps, expected.MostFilmRounds),
            (actual.FirstHour, actual.Steps, actual.NetworkSolves, actual.NewtonSteps, actual.MostFilmRounds));
    }

    private static IEnumerable<(string Name, double[] Numbers)> Lists(YearSeries year) =>
    [
        .. typeof(YearSeries).GetProperties().Where(property => property.PropertyType == typeof(double[]))
            .Select(property => (property.Name, (double[])property.GetValue(year)!)),
        .. new[] { nameof(YearSeries.WaterInKg), nameof(YearSeries.HeatInJ), nameof(YearSeries.WaterThroughputKg), nameof(YearSeries.HeatThroughputJ), nameof(YearSeries.FurnishingRanOffKg) }
            .Select(name => (name, new[] { (double)typeof(YearSeries).GetProperty(name)!.GetValue(year)! })),
    ];

    private static class BodyClassKeys
    {
        public const string Compact = "compact-low";
        public const string Long = "long-high";
        public const string Longest = "extra-long-high";
    }
}
