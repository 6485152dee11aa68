using System.Collections.Immutable;
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

        SearchOrder racing = order with { Effort = order.Effort with { CalculatesSmallSpacesWhole = false, MostYears = 1000, Drawn = 10, YearsARound = 4, Audited = 0 } };
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
        Assert.StartsWith("The search broke off after", left.Message, StringComparison.Ordinal);
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
