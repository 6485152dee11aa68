using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>Years of many vans at once: each as it is alone, in its place, with its own failure, whatever shape the others have.</summary>
public sealed class YearBatchTests
{
    private static readonly Design Long = Presets.Build("long-high", Layout.RearPlatformBed);

    // Two layouts, two households, two weathers, one that fails: five groups, none of them full.
    private static YearOrder[] Mixed()
    {
        Design lounge = Presets.Build("long-high", Layout.FrontLounge);
        YearWeather weather = YearWeather.Of(Long);
        Design cold = Long with { Stop = Presets.StopAt("fairbanks", 1) };
        return
        [
            new(Long, weather, Assumptions.Likely),
            new(lounge, weather, Assumptions.Likely),
            new(Hot, weather, Assumptions.Likely),
            new(Long with { Household = Long.Household with { Presence = Presence.AllDay } }, weather, Assumptions.Likely),
            new(Long with { BareMetal = [] }, weather, Assumptions.Likely),
            new(cold, YearWeather.Of(cold), Assumptions.Likely),
            new(Long, weather, Assumptions.Likely.With("buffer-capacity", 2)),
        ];
    }

    private static Design Hot => Long with
    {
        Heater = Long.Heater with
        {
            RatedOutput = Power.FromKilowatts(60),
            DaySetPoint = Temperature.FromDegreesCelsius(300),
            NightSetPoint = Temperature.FromDegreesCelsius(300),
            RunsWhenAway = true,
        },
    };

    [Theory]
    [InlineData(1)]
    [InlineData(4)]
    [InlineData(8)]
    public void Each_van_has_the_year_it_has_alone(int width)
    {
        YearOrder[] orders = Mixed();
        ImmutableArray<YearOutcome<double[]>> outcomes = YearBatch.Run(orders, Read, threads: 2, width, cancellation: TestContext.Current.CancellationToken);

        Assert.Equal(orders.Length, outcomes.Length);
        for (int index = 0; index < orders.Length; index++)
        {
            VanModel van = new(orders[index].Design, orders[index].Assumed);
            if (index == 2)
            {
                Assert.IsType<AirOutOfRangeException>(outcomes[index].Failure);
                Assert.Null(outcomes[index].Result);
                continue;
            }

            Assert.Null(outcomes[index].Failure);
            Assert.Equal(Read(index, van, YearRun.Of(van, orders[index].Weather, null, 0, YearWeather.Days, cancellation: TestContext.Current.CancellationToken)), outcomes[index].Result);
        }
    }

    private static double[] Read(int index, VanModel van, YearSeries series) =>
    [
        index, van.FirstLining, .. series.ZoneC, .. series.SurfaceCondensedKgPerM2, .. series.SkinFilmKgPerM2, .. series.HeaterW, .. series.BedAirSpeedMPerS,
        series.WaterInKg, series.FurnishingRanOffKg, series.Steps, series.MostFilmRounds,
    ];

    // Rooms are lent to one van after the other: nothing of the one before may be left.
    [Fact]
    public void A_room_written_over_holds_nothing_of_the_year_before()
    {
        YearWeather weather = YearWeather.Of(Long);
        Design wet = Long with { Household = Long.Household with { ShowersPerDay = 3, WipesGlass = true }, Openings = [.. Long.Openings.Select(opening => opening with { Position = Position.Shut })] };
        YearOrder[] orders = [new(wet, weather, Assumptions.Likely), new(Long, weather, Assumptions.Likely), new(wet, weather, Assumptions.Likely), new(Long, weather, Assumptions.Likely)];
        ImmutableArray<YearOutcome<double[]>> outcomes = YearBatch.Run(
            orders, (_, van, series) => Read(0, van, series), threads: 1, width: 1, cancellation: TestContext.Current.CancellationToken);

        Assert.Equal(outcomes[0].Result, outcomes[2].Result);
        Assert.Equal(outcomes[1].Result, outcomes[3].Result);
        Assert.NotEqual(outcomes[0].Result, outcomes[1].Result);
    }

    [Fact]
    public void A_batch_cancelled_stops_and_tells_how_far_it_was()
    {
        using CancellationTokenSource source = new();
        YearOrder[] orders = [.. Enumerable.Repeat(new YearOrder(Long, YearWeather.Of(Long), Assumptions.Likely), 12)];
        Steps told = new(done =>
        {
            if (done >= 4)
            {
                source.Cancel();
            }
        });

        Assert.Throws<OperationCanceledException>(() => YearBatch.Run(orders, (_, _, _) => 0, threads: 1, width: 4, told, source.Token));
        Assert.Equal([4], told.Told);
    }

    private sealed class Steps(Action<int> report) : IProgress<int>
    {
        public List<int> Told { get; } = [];

        public void Report(int value)
        {
            Told.Add(value);
            report(value);
        }
    }

    [Fact]
    public void What_reading_throws_stops_the_batch_but_for_a_year_that_does_not_balance()
    {
        YearOrder[] orders = [.. Enumerable.Repeat(new YearOrder(Long, YearWeather.Of(Long), Assumptions.Likely), 2)];
        ImmutableArray<YearOutcome<string>> outcomes = YearBatch.Run(
            orders, (index, _, _) => index == 0 ? throw new AirOutOfRangeException("too hot") : "read", threads: 1, cancellation: TestContext.Current.CancellationToken);

        Assert.Equal("too hot", outcomes[0].Failure!.Message);
        Assert.Equal("read", outcomes[1].Result);
        Assert.Throws<InvalidOperationException>(() => YearBatch.Run<string>(
            orders, (_, _, _) => throw new InvalidOperationException(), threads: 2, cancellation: TestContext.Current.CancellationToken));
        Assert.Throws<ArgumentOutOfRangeException>(() => YearBatch.Run(orders, (_, _, _) => 0, threads: 1, width: 3, cancellation: TestContext.Current.CancellationToken));
    }

    [Fact]
    public void An_assessment_is_the_same_from_years_side_by_side()
    {
        YearWeather weather = YearWeather.Of(Long);
        YearOrder[] orders = [new(Long, weather, Assumptions.Likely), new(Hot, weather, Assumptions.Likely), new(Long with { BareMetal = [] }, weather, Assumptions.Likely)];
        static string Read(YearAssessment year) => string.Join(' ', year.GetType().GetProperties()
            .Where(property => property.PropertyType.IsValueType && !property.PropertyType.Name.StartsWith("ImmutableArray", StringComparison.Ordinal))
            .Select(property => $"{property.Name} {property.GetValue(year)}"));
        ImmutableArray<YearOutcome<string>> beside = YearBatch.Run(
            orders, (_, van, series) => Read(Assessor.AssessYear(van, series, weather, CancellationToken.None)), threads: 2, cancellation: TestContext.Current.CancellationToken);

        foreach (int index in new[] { 0, 2 })
        {
            Assert.Equal(
                Read(Assessor.AssessYear(orders[index].Design, weather, Assumptions.Likely, progress: null, TestContext.Current.CancellationToken)), beside[index].Result);
        }

        Assert.NotNull(beside[1].Failure);
        Assert.Contains("Condensed", beside[0].Result, StringComparison.Ordinal);
    }

    // What a search reads of hours as they come, against what the assessment of each van by itself says: wet and mouldy, hot and breezy, electric,
    // without heat, with other assumptions, and one that fails.
    [Fact]
    public void The_search_reads_of_hours_what_the_assessment_of_each_van_says()
    {
        Design hot = Long with { Stop = Presets.StopAt("miami", 7), Household = Long.Household with { Presence = Presence.AllDay } };
        YearWeather[] weathers = [YearWeather.Of(Long), YearWeather.Of(hot)];
        Design[] changes =
        [
            Long,
            Hot,
            Long with { BareMetal = [] },
            Long with { Leakage = Long.Leakage with { EffectiveArea = Area.FromSquareCentimeters(20) }, Household = Long.Household with { DriesClothes = true } },
            Long with { Heater = Long.Heater with { Kind = HeaterKind.Electric } },
            Long with { Heater = Long.Heater with { Kind = HeaterKind.None } },
            Long with { Walls = Long.Walls with { Layers = [Long.Walls.Layers[^1]] } },
        ];
        YearTask[] tasks =
        [
            .. changes.Select(design => new YearTask(design, weathers[0], Assumptions.Likely)),
            new(Long, weathers[0], Assumptions.Likely.With("buffer-capacity", 2).With("mould-decline", 0.1)),
            new(hot, weathers[1], Assumptions.Likely),
            new(hot with { Heater = Long.Heater with { Kind = HeaterKind.None } }, weathers[1], Assumptions.Likely.With("hot-night-threshold", 28)),
        ];
        ImmutableArray<ComparedYear?> alone = new SingleYears().Each(tasks, threads: 2, TestContext.Current.CancellationToken);
        ImmutableArray<ComparedYear?> beside = new SideBySideYears().Each(tasks, threads: 2, TestContext.Current.CancellationToken);
        TestContext.Current.TestOutputHelper!.WriteLine(string.Join('\n', alone.Select(year => year?.ToString() ?? "failed")));

        Assert.Equal(alone, beside);
        Assert.Equal([1], Enumerable.Range(0, tasks.Length).Where(index => beside[index] is null));
        Assert.Contains(beside, year => year?.MouldThirdYear > 5);
        Assert.Contains(beside, year => year?.MouldThirdYear < 3);
        Assert.Contains(beside, year => year?.HotHours > 100);
        Assert.Contains(beside, year => year?.ColdHours > 100);
        Assert.Contains(beside, year => year is { Fuel: null, Electric.KilowattHours: > 100 });
    }

    [Fact]
    public void The_best_width_is_one_the_processor_has() => Assert.Contains(LaneWidth.Best, LaneWidth.Possible);

    // Each width is made out to be the fastest in turn.
    [Fact]
    public void Whatever_width_the_measurement_finds_best_every_year_is_the_same()
    {
        YearWeather weather = YearWeather.Of(Long);
        YearOrder[] orders =
        [
            .. new[] { 50, 90, 140, 200, 260 }.Select(area => new YearOrder(
                Long with { Leakage = Long.Leakage with { EffectiveArea = Area.FromSquareCentimeters(area) } }, weather, Assumptions.Likely)),
        ];
        double[]?[]? first = null;
        for (int best = 0; best < LaneWidth.Possible.Length; best++)
        {
            LaneChoice choice = LaneWidth.Measure(new OneIsFastest(best, LaneWidth.Possible.Length), LaneWidth.Possible);
            Assert.Equal(LaneWidth.Possible[best], choice.Width);
            Assert.Equal(LaneWidth.Possible, choice.Measured.Select(time => time.Width));
            double[]?[] years =
            [
                .. YearBatch.Run(orders, (_, van, series) => Read(0, van, series), threads: 1, choice.Width, cancellation: TestContext.Current.CancellationToken)
                    .Select(outcome => outcome.Result),
            ];
            Assert.All(years, Assert.NotNull);
            Assert.Equal(first ??= years, years);
        }
    }

    [Fact]
    public void A_width_is_measured_with_the_clock_it_is_given_and_of_equals_the_wider_is_taken()
    {
        LaneChoice choice = LaneWidth.Measure(new StandsStill(), LaneWidth.Possible);
        Assert.Equal(LaneWidth.Possible[^1], choice.Width);
        Assert.All(choice.Measured, time => Assert.Equal(0, time.Nanoseconds));
        Assert.All(LaneWidth.Measure(TimeProvider.System, LaneWidth.Possible).Measured, time => Assert.True(time.Nanoseconds > 0));
    }

    private sealed class StandsStill : TimeProvider
    {
        public override long GetTimestamp() => 0;
    }

    // Asked before and after each piece of work, the widths in turn.
    private sealed class OneIsFastest(int best, int widths) : TimeProvider
    {
        private long _asked;
        private long _now;

        public override long GetTimestamp()
        {
            bool after = _asked % 2 == 1;
            long piece = _asked++ / 2;
            return after ? _now += piece % widths == best ? 1_000 : 1_000_000_000 : _now;
        }
    }

    // A search holds thousands of candidates as choices.
    [Fact]
    public void A_design_is_asked_for_twice_and_not_kept()
    {
        MadeWhenAsked orders = new(Long, YearWeather.Of(Long), count: 11);
        ImmutableArray<YearOutcome<int>> outcomes = YearBatch.Run(
            orders, (_, van, _) => (int)Math.Round(van.Night.Design.Leakage.EffectiveArea.SquareCentimeters), threads: 2, cancellation: TestContext.Current.CancellationToken);

        Assert.Equal(Enumerable.Range(100, 11), outcomes.Select(outcome => outcome.Result));
        Assert.All(orders.Asked, asked => Assert.Equal(2, asked));
    }

    private sealed class MadeWhenAsked(Design design, YearWeather weather, int count) : IReadOnlyList<YearOrder>
    {
        public int[] Asked { get; } = new int[count];

        public int Count => count;

        public YearOrder this[int index]
        {
            get
            {
                Interlocked.Increment(ref Asked[index]);
                return new(design with { Leakage = design.Leakage with { EffectiveArea = Area.FromSquareCentimeters(100 + index) } }, weather, Assumptions.Likely);
            }
        }

        public IEnumerator<YearOrder> GetEnumerator() => Enumerable.Range(0, count).Select(index => this[index]).GetEnumerator();

        System.Collections.IEnumerator System.Collections.IEnumerable.GetEnumerator() => GetEnumerator();
    }
}
