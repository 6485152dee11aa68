using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Vehicle;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Search;

public sealed class DesignSearchTests(ITestOutputHelper output)
{
    // Calculated once for the tests that ask something of a finished search.
    private static readonly Lazy<(SearchOrder Order, SearchResult Result)> Finished = new(() =>
    {
        SearchOrder order = SearchVans.Order(SearchVans.LivedIn(), 64);
        return (order, DesignSearch.Run(order));
    });

    [Theory]
    [InlineData("compact-medium", Layout.RearPlatformBed, BuildStage.EmptyShell, 100)]
    [InlineData("long-high", Layout.FixedBedAcross, BuildStage.PartlyBuilt, 100)]
    [InlineData("long-high", Layout.RearPlatformBed, BuildStage.LivedIn, 200)]
    public void A_race_over_a_small_space_finds_the_front_of_exhaustive_search(string body, Layout layout, BuildStage stage, int mostCombinations)
    {
        Design van = Presets.Start(body, layout, Presets.DefaultHousehold, Presets.DefaultStop, stage);
        SearchOrder order = SearchVans.Order(van, mostCombinations);
        SearchResult whole = DesignSearch.Run(order, cancellation: TestContext.Current.CancellationToken);
        Assert.True(whole.Race!.Exhaustive);
        Assert.True(whole.Front.Length > 1);

        SearchOrder racing = order with { Effort = order.Effort with { CalculatesSmallSpacesWhole = false, MostYears = 1000, Drawn = 10, YearsARound = 4, Audited = 0, LooksAtWeeks = true } };
        SearchResult raced = DesignSearch.Run(racing, null, whole.Calculated, null, TestContext.Current.CancellationToken);
        output.WriteLine(FormattableString.Invariant(
            $"{whole.Space!.Count} candidates, front {whole.Front.Length}, raced with {raced.Race!.Years} years, {raced.Race.DroppedSurely} dropped for sure"));

        Assert.Equal(whole.Front.Select(member => member.Candidate), raced.Front.Select(member => member.Candidate));
        Assert.Equal(0, raced.Race.DroppedForWork);

        // On one core as on two, and with the same seed again.
        SearchResult alone = DesignSearch.Run(racing with { Effort = racing.Effort with { Threads = 1 } }, null, whole.Calculated, null, TestContext.Current.CancellationToken);
        Assert.Equal(raced.Calculated.Keys, alone.Calculated.Keys);
        Assert.Equal(raced.Front.Select(member => (member.Candidate, member.Score)), alone.Front.Select(member => (member.Candidate, member.Score)));
    }

    [Fact]
    public void A_kind_the_situations_see_nothing_in_is_on_the_front_of_the_year()
    {
        // So few combinations that everything is calculated: what is lost is lost by the thinning alone.
        SearchOrder order = SearchVans.Order(SearchVans.Empty(), 144);
        SearchResult kept = DesignSearch.Run(order, cancellation: TestContext.Current.CancellationToken);
        SearchResult merged = DesignSearch.Run(order with { Effort = order.Effort with { KeepsFamilies = false } }, cancellation: TestContext.Current.CancellationToken);
        Assert.True(kept.Race!.Exhaustive && merged.Race!.Exhaustive);

        TradeOff tradeOff = new(order.Counted);
        static bool IsOfAKind(string words) => words.StartsWith("Heat with", StringComparison.Ordinal) || words.StartsWith("Insulate", StringComparison.Ordinal) || words.StartsWith("Hang on", StringComparison.Ordinal);
        Assert.DoesNotContain(merged.Space!.Axes.SelectMany(axis => axis.Choices), choice => IsOfAKind(choice.Words));
        FrontMember[] lost =
        [
            .. kept.Front.Where(member => member.Words.Any(IsOfAKind)
                && !merged.Calculated.Values.Any(other => tradeOff.Boxes(other).SequenceEqual(tradeOff.Boxes(member.Numbers)) || TradeOff.Beats(tradeOff.Boxes(other).AsSpan(), tradeOff.Boxes(member.Numbers).AsSpan()))),
        ];
        output.WriteLine($"{lost.Length} of {kept.Front.Length}: {string.Join(" | ", lost.Select(member => string.Join("; ", member.Words)))}");
        Assert.NotEmpty(lost);
        double mould = kept.Front.Min(member => member.Numbers[Objective.Mould]);
        output.WriteLine(FormattableString.Invariant($"least mould {mould:0.00} against {merged.Front.Min(member => member.Numbers[Objective.Mould]):0.00}"));
    }

    [Fact]
    public void The_numbers_of_a_member_are_those_of_its_own_year()
    {
        (SearchOrder order, SearchResult result) = Finished.Value;
        FrontMember member = result.Front[0];
        Design design = LaterParts.Without(result.Design(member));
        ConsultDesk.Calculations.Simulation.YearAssessment year = ConsultDesk.Calculations.Simulation.Assessor.Assess(
            design, ConsultDesk.Calculations.Simulation.AssessmentDepth.Year, cancellation: TestContext.Current.CancellationToken).Year!;

        Assert.Equal((double)Costing.Of(design, order.Book).Now, member.Numbers[Objective.MoneyNow]);
        Assert.Equal(year.HotNights.Hours, member.Numbers[Objective.HotHours]);
        Assert.Equal(year.Heat.ElectricWorstDay.KilowattHours, member.Numbers[Objective.Power], 9);
        Assert.Equal(year.Mould.Max(surface => surface.ThirdYear), member.Numbers[Objective.Mould], 9);
        Assert.Equal((double)RunningPrices.Cost(RunningPrices.OfHeater(order.Book, design.Heater.Kind)!, year.Heat.Fuel!.Value), member.Numbers[Objective.MoneyAYear], 6);
        double glassM2 = year.Surfaces.Where(surface => order.Design.Openings.Any(opening => opening.Id == surface.Id) || order.Design.Glazings.Any(glazing => glazing.Id == surface.Id) || order.Design.BareMetal.Any(patch => patch.Id == surface.Id)).Sum(surface => surface.Area.SquareMeters);
        Assert.Equal(year.Surfaces.Sum(surface => surface.WetHours * surface.Area.SquareMeters) / glassM2, member.Numbers[Objective.WetHours], 6);
    }

    [Fact]
    public void At_most_five_are_named_each_another_design_with_a_sentence()
    {
        (_, SearchResult result) = Finished.Value;
        foreach (NamedDesign named in result.Named)
        {
            output.WriteLine($"{named.Name}: {named.Sentence}");
        }

        Assert.InRange(result.Named.Length, 1, 5);
        Assert.Equal(result.Named.Length, result.Named.DistinctBy(named => named.Name).Count());
        Assert.True(result.Named.Count(named => named.HardlyThoughtOf) <= 1);
        Assert.All(result.Named, named => Assert.Contains(" costs ", named.Sentence, StringComparison.Ordinal));
        Assert.All(
            from a in result.Named from b in result.Named where a != b select (a, b),
            pair => Assert.True(result.Space!.Differences(pair.a.Member.Candidate, pair.b.Member.Candidate) >= 2));
        Assert.Equal(result.Front[0].Candidate, result.Named[0].Member.Candidate);
    }

    [Fact]
    public void What_would_have_to_change_makes_a_draw_exactly()
    {
        (_, SearchResult result) = Finished.Value;
        FrontMember better = result.Front[0];
        FrontMember other = result.Front[^1];
        LinearScores scores = new([.. result.Front.Select(member => member.Numbers)], result.Weights);
        ImmutableArray<Turn> turns = SearchAnswers.ToBeat(result, better, other);

        Assert.NotEmpty(turns);
        Assert.Empty(SearchAnswers.ToBeat(result, other, better));
        foreach (Turn turn in turns)
        {
            double own = turn.OfWeight
                ? new LinearScores([.. result.Front.Select(member => member.Numbers)], result.Weights.SetItem((int)turn.Objective, turn.To)) is var moved
                    ? moved.Of(other.Numbers) - moved.Of(better.Numbers) : 0
                : scores.Of(other.Numbers.With(turn.Objective, turn.To)) - scores.Of(better.Numbers);
            Assert.Equal(0, own, 9);
        }
    }

    [Fact]
    public void The_cheapest_that_never_fogs_and_the_best_under_a_budget_come_from_what_was_calculated()
    {
        (_, SearchResult result) = Finished.Value;
        SearchAnswer dry = SearchAnswers.CheapestThatNeverFogs(result);
        if (dry.Candidate is null)
        {
            Assert.All(result.Calculated.Values, numbers => Assert.True(numbers[Objective.WetHours] > 0));
            Assert.Contains("None of the calculated designs stays dry", dry.Sentence, StringComparison.Ordinal);
        }
        else
        {
            Assert.All(result.Calculated.Values.Where(numbers => numbers[Objective.WetHours] == 0), numbers => Assert.True(numbers[Objective.MoneyNow] >= dry.Numbers![Objective.MoneyNow]));
        }

        Assert.Equal(result.Front[0].Candidate, SearchAnswers.BestUnder(result, 1_000_000).Candidate);
        Assert.True(SearchAnswers.BestUnder(result, 300).Numbers is not ObjectiveNumbers under || under[Objective.MoneyNow] <= 300);
        SearchResult made = result with { Calculated = result.Calculated.SetItem(1, result.Calculated[1].With(Objective.WetHours, 0)) };
        Assert.Equal(1, SearchAnswers.CheapestThatNeverFogs(made).Candidate);
    }

    [Fact]
    public void The_next_hundred_can_be_asked_of_any_design()
    {
        (SearchOrder order, SearchResult result) = Finished.Value;
        WhatHelps next = SearchAnswers.NextHundred(order, result.Design(result.Front[^1]), TestContext.Current.CancellationToken);
        Assert.All(next.Ranked, change => Assert.True(change.WetHoursSaved > 0));
    }

    [Fact]
    public void The_driest_of_the_front_for_a_hundred_more_is_told_from_any_of_its_designs()
    {
        SearchResult result = Finished.Value.Result with { Currency = "EUR" };
        FrontMember Member(int at, double money, double wet) => result.Front[0] with
        {
            Candidate = at,
            Numbers = result.Front[0].Numbers.With(Objective.MoneyNow, money).With(Objective.WetHours, wet),
        };
        SearchResult made = result with { Front = [Member(1, 500, 400), Member(2, 590, 300), Member(3, 600, 100), Member(4, 601, 10), Member(5, 400, 390)] };
        SearchAnswer Next(int at) => SearchAnswers.NextHundredFound(made, made.Front[at], member => $"Design {member.Candidate}");

        Assert.Equal(3, Next(0).Candidate);
        Assert.Equal("From “Design 1”: for up to 100 EUR more the driest here is “Design 3”, wet for 100 hours instead of 400; it costs 600 EUR now instead of 500 EUR.", Next(0).Sentence.Replace('\u00A0', ' '));
        Assert.Equal(4, Next(1).Candidate);
        Assert.Null(Next(3).Candidate);
        Assert.Contains("none of the designs here", Next(3).Sentence, StringComparison.Ordinal);
        // Ten hours of four hundred nobody tells apart.
        Assert.Null(SearchAnswers.NextHundredFound(made with { Front = [made.Front[0], made.Front[4]] }, made.Front[0], _ => "").Candidate);
    }

    [Fact]
    public void A_cancelled_search_stops_at_once_and_keeps_its_last_front()
    {
        using CancellationTokenSource stop = new();
        SearchVans.CountedYears years = new()
        {
            Before = asked =>
            {
                if (asked == 15)
                {
                    stop.Cancel();
                }
            },
        };
        SearchVans.Reports reports = new();
        SearchOrder order = SearchVans.Order(SearchVans.LivedIn(), 64);
        SearchResult result = DesignSearch.Run(order with { Effort = order.Effort with { Threads = 1 } }, years, reports, stop.Token);

        Assert.Equal(15, years.Asked);
        Assert.Equal(SearchEnd.Cancelled, result.End);
        Assert.NotEmpty(result.Front);
        Assert.Equal(reports.All[^1].Front, result.Front);
        Assert.Contains("better ones may be missing", result.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Progress_counts_up_publishes_fronts_and_ends_at_one()
    {
        (SearchOrder order, SearchResult finished) = Finished.Value;
        SearchVans.Reports reports = new();
        SearchOrder racing = order with { Effort = order.Effort with { CalculatesSmallSpacesWhole = false, MostYears = 30, Drawn = 8, YearsARound = 8 } };
        SearchResult result = DesignSearch.Run(racing, null, finished.Calculated, reports, TestContext.Current.CancellationToken);

        Assert.Equal(SearchEnd.Finished, result.End);
        Assert.Equal(reports.All.Select(report => report.Share).Order(), reports.All.Select(report => report.Share));
        Assert.Equal(1, reports.All[^1].Share);
        Assert.Equal(SearchStage.Done, reports.All[^1].Stage);
        Assert.Equal(result.Space!.Count, reports.All[^1].Screened);
        Assert.Contains(reports.All, report => report.Stage == SearchStage.Racing && report.Best is not null);
    }

    [Fact]
    public void A_search_that_breaks_off_leaves_what_it_published_last()
    {
        SearchVans.CountedYears years = new() { Before = asked => _ = asked == 15 ? throw new InvalidOperationException("the disk is gone") : 0 };
        SearchVans.Reports reports = new();
        SearchOrder order = SearchVans.Order(SearchVans.LivedIn(), 64);
        Assert.Throws<InvalidOperationException>(() =>
            DesignSearch.Run(order with { Effort = order.Effort with { Threads = 1 } }, years, reports, TestContext.Current.CancellationToken));

        SearchResult left = SearchResult.Unfinished(reports.All[^1], SearchEnd.Failed);
        Assert.NotEmpty(left.Front);
        Assert.StartsWith("The search broke off when of 27 designs 8 had been calculated over the whole year. What it had found by then stands", left.Message, StringComparison.Ordinal);
        Assert.Equal("The search broke off before anything was found.", SearchResult.Unfinished(null, SearchEnd.Failed).Message);
    }

    [Fact]
    public void An_empty_space_is_a_message_and_not_a_failure()
    {
        SearchResult result = DesignSearch.Run(SearchVans.Order(SearchVans.Empty(), 64, new Wishes { BudgetNow = 50 }), cancellation: TestContext.Current.CancellationToken);
        Assert.Equal(SearchEnd.Finished, result.End);
        Assert.Empty(result.Front);
        Assert.NotNull(result.Start);
        Assert.StartsWith("No design is left. Dearer than the budget", result.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Members_carry_their_chance_of_staying_on_the_front()
    {
        (SearchOrder order, SearchResult finished) = Finished.Value;
        SearchOrder compared = order with { Effort = order.Effort with { Worlds = 4, MostCompared = 3 } };
        SearchResult result = DesignSearch.Run(compared, null, finished.Calculated, null, TestContext.Current.CancellationToken);
        SearchResult again = DesignSearch.Run(compared with { Effort = compared.Effort with { Threads = 1 } }, null, finished.Calculated, null, TestContext.Current.CancellationToken);

        Assert.Equal(4, result.Worlds);
        Assert.All(result.Front.Take(3), member => Assert.InRange(member.ChanceOnFront!.Value, 0, 1));
        Assert.All(result.Front.Skip(3), member => Assert.Null(member.ChanceOnFront));
        Assert.All(result.Front.Take(3).SelectMany(member => member.Bands), band => Assert.True(band.Low <= band.High));
        Assert.True(result.Front[0].Bands[(int)Objective.MoneyAYear].Low < result.Front[0].Bands[(int)Objective.MoneyAYear].High);
        Assert.Equal(result.Front.Select(member => member.ChanceOnFront), again.Front.Select(member => member.ChanceOnFront));
    }

    [Fact]
    public void The_front_stands_before_its_chances_are_known_and_a_stop_keeps_what_is_known_of_them()
    {
        (SearchOrder order, SearchResult finished) = Finished.Value;
        using CancellationTokenSource stop = new();
        SearchVans.Reports reports = new()
        {
            Then = report =>
            {
                if (report.Found?.Worlds == 2)
                {
                    stop.Cancel();
                }
            },
        };
        SearchOrder compared = order with { Effort = order.Effort with { Worlds = 5 } };
        SearchResult result = DesignSearch.Run(compared, null, finished.Calculated, reports, stop.Token);

        SearchResult first = reports.All.First(report => report.Found is not null).Found!;
        Assert.Equal(0, first.Worlds);
        Assert.Equal(finished.Front.Select(member => member.Candidate), first.Front.Select(member => member.Candidate));
        Assert.Equal(finished.Named.Select(named => named.Sentence), first.Named.Select(named => named.Sentence));
        Assert.All(first.Front, member => Assert.Null(member.ChanceWithin(first.Worlds)));

        // All of the front was asked, not the first few.
        Assert.Equal(SearchEnd.Finished, result.End);
        Assert.Equal(2, result.Worlds);
        Assert.All(result.Front, member => Assert.Contains(member.ChanceOnFront!.Value, new[] { 0, 0.5, 1 }));
        Assert.All(result.Named, named => Assert.Contains(named.Member, result.Front));
        Assert.EndsWith("The search was cancelled when 2 of 5 other worlds had been compared: chances rest on those.", result.Message, StringComparison.Ordinal);
        Assert.Equal(5 * result.Front.Length, reports.All[^1].MostCompared);

        SearchResult broken = SearchResult.Unfinished(reports.All.Last(report => report.Found?.Worlds == 0), SearchEnd.Failed);
        Assert.Equal(SearchEnd.Failed, broken.End);
        Assert.NotEmpty(broken.Named);
        Assert.EndsWith("The search broke off before the designs were compared in other worlds: no chances are known.", broken.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Few_worlds_leave_a_wide_range_for_a_chance_and_none_leaves_nothing()
    {
        FrontMember member = Finished.Value.Result.Front[0];
        (double Low, double High) Within(double chance, int worlds) => (member with { ChanceOnFront = chance }).ChanceWithin(worlds)!.Value;

        // 0 of n: the upper end is 1 - 0.05^(1/n); 5 of 10: 0.2224 and 0.7776 (Clopper and Pearson's limits of 90 %; recalled).
        Assert.Equal(1 - Math.Pow(0.05, 1 / 16.0), Within(0, 16).High, 6);
        Assert.Equal(0, Within(0, 16).Low, 6);
        Assert.Equal(0.2224, Within(0.5, 10).Low, 3);
        Assert.Equal(0.7776, Within(0.5, 10).High, 3);
        Assert.True(Within(0.5, 64).High - Within(0.5, 64).Low < (Within(0.5, 16).High - Within(0.5, 16).Low) / 1.7);
        Assert.Null((member with { ChanceOnFront = null }).ChanceWithin(64));
        Assert.Null((member with { ChanceOnFront = 1 }).ChanceWithin(0));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Worlds_differ_in_weather_prices_and_habits_whether_hours_were_measured_or_made(bool measured)
    {
        SearchOrder order = SearchVans.Order(SearchVans.LivedIn());
        if (measured)
        {
            (Design van, WeatherHours hours) = ConsultDesk.Calculations.Tests.Climate.HourFileTests.Measured;
            order = order with { Design = van, Hours = hours };
        }

        World[] worlds = [.. Worlds.Of(order, 16)];
        double likely = YearWeather.Of(order.Design, hours: order.Hours).TemperatureC.Average();
        double[] warmer = [.. worlds.Select(world => world.Weather.TemperatureC.Average() - likely)];
        output.WriteLine(string.Join(" ", warmer.Select(kelvin => FormattableString.Invariant($"{kelvin:0.00}"))));
        // A triangular draw to 1.5 K on both sides has a standard deviation of 1.5 / sqrt(6).
        Assert.Equal(1.5 / Math.Sqrt(6), Math.Sqrt(warmer.Average(kelvin => kelvin * kelvin)), 0.15);
        Assert.Equal(16, warmer.Distinct().Count());
        Assert.All(worlds, world => Assert.All(world.Weather.HumidityShare, share => Assert.InRange(share, 0, 1.0001)));

        PriceItem Item(PriceBook book, PriceKind kind) => book.Items.First(item => item.Kind == kind);
        foreach (PriceKind kind in new[] { PriceKind.LiquidFuel, PriceKind.RoofVent })
        {
            decimal now = Item(order.Book, kind).Price;
            Assert.Equal(16, worlds.Select(world => Item(world.Book, kind).Price).Distinct().Count());
            Assert.Contains(worlds, world => Item(world.Book, kind).Price < now);
            Assert.Contains(worlds, world => Item(world.Book, kind).Price > now);
        }

        Assert.Equal(16, worlds.Select(world => Item(world.Book, PriceKind.RoofVent).Fitting).Distinct().Count());
        Assert.True(worlds.Select(world => DesignJson(world.Move(order.Design))).Distinct().Count() > 8);

        static string DesignJson(Design design) => FormattableString.Invariant($"{design.Household} {design.Leakage} {design.Heater.NightSetPoint}");
    }

    [Fact]
    public void What_was_and_was_not_looked_at_is_said_and_that_a_member_may_be_missing()
    {
        (SearchOrder order, SearchResult finished) = Finished.Value;
        DesignSpace space = finished.Space!;
        int merged = space.Removed.Single(removed => removed.Rule.Key == "alike").Choices;
        string listed = ObjectiveWords.Count(space.Size.Listed);
        Assert.Equal(
            $"Of {listed} combinations of what book and van offer, choices and rules left {space.Count} designs. Every one was calculated over the whole year. "
            + $"Still, a design nothing beats may be missing: {merged} choices much like others were left out before they were combined.",
            finished.Message);

        SearchOrder racing = order with { Effort = order.Effort with { CalculatesSmallSpacesWhole = false, MostYears = 12, Drawn = 6, YearsARound = 6, Audited = 2, LooksAtWeeks = true } };
        SearchResult raced = DesignSearch.Run(racing, null, finished.Calculated, null, TestContext.Current.CancellationToken);
        RaceReport report = raced.Race!;
        output.WriteLine(raced.Message);
        Assert.False(report.Exhaustive);
        Assert.StartsWith($"Of {listed} combinations of what book and van offer, choices and rules left {space.Count} designs. {report.Looked[0]} were looked at in situations, {report.Looked[1]} in weeks, {report.Years} calculated over the whole year.", raced.Message, StringComparison.Ordinal);
        Assert.Contains("So a design nothing beats may be missing: ", raced.Message, StringComparison.Ordinal);
        Assert.Contains($"{report.DroppedForWork} were left aside because others came first", raced.Message, StringComparison.Ordinal);
        Assert.Contains(" drawn at random and calculated after all, ", raced.Message, StringComparison.Ordinal);
        Assert.EndsWith($"{merged} choices much like others were left out before they were combined.", raced.Message, StringComparison.Ordinal);

        // Nothing merged and every year calculated: nothing is missing and nothing is said to be. Large counts have their thousands apart.
        DesignSpace bare = new(order.Design, [], new SpaceSize(1, 1, 1), [0], [0]) { Removed = [], Notes = [] };
        Assert.Equal(
            "Of 1 combination of what book and van offer, choices and rules left 1 design. Every one was calculated over the whole year.",
            Coverage.Of(bare, report with { Years = 1, Candidates = 1, NotCalculated = 0 }));
        Assert.Contains("8\u00A0976 were looked at in situations", Coverage.Of(bare, report with { Candidates = 9000, Looked = [8976, 0] }), StringComparison.Ordinal);
    }

    [Fact]
    public void Points_are_spread_one_in_each_stripe_and_another_seed_gives_others()
    {
        double[][] points = Spread.Points(16, 12, seed: 1);
        for (int k = 0; k < 12; k++)
        {
            Assert.Equal(Enumerable.Range(0, 16).Select(at => (at + 0.5) / 16), points.Select(point => point[k]).Order());
        }

        Assert.NotEqual(points[0], Spread.Points(16, 12, seed: 2)[0]);
        // Of 66 pairs of coordinates none goes up or down together.
        double largest = (from a in Enumerable.Range(0, 12) from b in Enumerable.Range(0, a) select Math.Abs(points.Sum(point => (point[a] - 0.5) * (point[b] - 0.5)) / points.Sum(point => (point[a] - 0.5) * (point[a] - 0.5)))).Max();
        Assert.Equal(largest, Spread.LargestCorrelation(points), 9);
        output.WriteLine(FormattableString.Invariant($"largest correlation {largest:0.00}"));
        Assert.True(largest < 0.9);
    }

    [Fact]
    public void A_triangular_draw_has_its_ends_and_its_middle()
    {
        Assert.Equal(-1, Worlds.Triangular(0, 0.3, 0.7), 9);
        Assert.Equal(0, Worlds.Triangular(0.3, 0.3, 0.7), 9);
        Assert.Equal(1, Worlds.Triangular(1, 0.3, 0.7), 9);

        // A quarter of one side's chance lies beyond half its length: (1 - 1/2)^2.
        Assert.Equal(0.5, Worlds.Triangular(1 - (0.7 / 4), 0.3, 0.7), 9);
    }

    [Fact]
    public void Weights_of_an_order_are_its_rank_order_centroid()
    {
        // Five places: 0.4567, 0.2567, 0.1567, 0.0900, 0.0400 (Barron and Barrett 1996, table 1; recalled).
        Wishes wishes = new() { Order = [Priority.Cool, Priority.Warm, Priority.Dry, Priority.Cheap, Priority.Simple] };
        ImmutableArray<double> weights = ClientWeights.Of(wishes, Enum.GetValues<Objective>());
        Assert.Equal(0.4567, weights[(int)Objective.HotHours], 4);
        Assert.Equal(0.2567, weights[(int)Objective.ColdHours], 4);
        Assert.Equal(0.1567 / 2, weights[(int)Objective.WetHours], 3);
        Assert.Equal(0.04 / 4, weights[(int)Objective.Noise], 4);
        Assert.Equal(1, weights.Sum(), 9);
        Assert.Equal(1, ClientWeights.Of(null, [Objective.WetHours])[(int)Objective.WetHours], 9);
    }
}
