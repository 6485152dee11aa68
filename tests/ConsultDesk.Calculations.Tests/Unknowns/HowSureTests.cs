using System.Collections.Immutable;
using System.Diagnostics;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Tests.Simulation;
using ConsultDesk.Calculations.Unknowns;
using ConsultDesk.Calculations.Vehicle;
using CsCheck;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Unknowns;

public sealed class HowSureTests(ITestOutputHelper output)
{
    private static readonly Design Van = Vans.With(Position.Shut, Position.Shut);

    private static readonly HowSureReport Report = HowSure.Of(Van);

    [Fact]
    public void The_report_lists_what_is_worth_asking_with_what_it_would_turn()
    {
        foreach (UnknownEffect effect in Report.Unknowns)
        {
            output.WriteLine(FormattableString.Invariant(
                $"{effect.Worth:0.000} {effect.Chance:0.000} {effect.Unknown.Key} ({effect.Unknown.Low} {effect.Unknown.Likely} {effect.Unknown.High}): {string.Join(", ", effect.Turns.Select(turn => FormattableString.Invariant($"{turn.Code} {turn.Likely}->{turn.AtLow}/{turn.AtHigh} {turn.Chance:0.00}")))}"));
        }

        foreach (FindingSureness finding in Report.Findings)
        {
            output.WriteLine($"{finding.Severity} {finding.Code}: {finding.MattersMost}; {finding.Evidence?.Label} {finding.Evidence?.Low} {finding.Evidence?.Likely} {finding.Evidence?.High}");
        }

        Assert.NotEmpty(Report.WorthAsking);
        Assert.All(Report.WorthAsking, effect => Assert.True(effect.Unknown.Question.EndsWith('?') && effect.Turns.Length > 0));
        Assert.All(Report.Unknowns, effect => Assert.InRange(effect.Chance, 0, 1));
        Assert.Equal(Report.Unknowns.OrderByDescending(effect => effect.Worth).Select(effect => effect.Worth), Report.Unknowns.Select(effect => effect.Worth));
        // Asking whether there is an alarm is worth more than asking for the glass to the square centimetre.
        Assert.True(Worth("carbon-monoxide-alarm") > Worth("glass-area[windscreen]"));
    }

    [Fact]
    public void Every_key_and_every_path_is_there_once_and_every_path_is_a_fact_of_the_catalogue()
    {
        foreach (Design van in Vans.Varied())
        {
            ImmutableArray<Unknown> unknowns = UnknownInputs.Of(van);
            ImmutableHashSet<string> facts = [.. InputCatalogue.Of(van).Select(fact => fact.Path)];
            Assert.Equal(unknowns.Length, unknowns.Select(unknown => unknown.Key).Distinct().Count());
            Assert.All(unknowns, unknown => Assert.All(unknown.Paths, path => Assert.Contains(path, facts)));
            ImmutableArray<string> paths = [.. unknowns.SelectMany(unknown => unknown.Paths)];
            Assert.Equal(paths.Length, paths.Distinct().Count());
            Assert.All(unknowns, unknown => Assert.True(unknown.Source.Length > 0 && unknown.ChanceLow + unknown.ChanceHigh is > 0 and <= 1 + 1e-12));
        }
    }

    [Fact]
    public void Every_end_is_a_van_that_can_be_assessed_and_standing_still_is_the_van_itself()
    {
        foreach (Design van in Vans.Varied())
        {
            Design now = LaterParts.Without(van);
            Assert.All(UnknownInputs.Of(van), unknown =>
            {
                Assert.Same(now, unknown.Move(now, 0).Design);
                Assert.True(unknown.ChanceLow == 0 || DesignCheck.Errors(unknown.Move(now, -1).Design).IsEmpty);
                Assert.True(unknown.ChanceHigh == 0 || DesignCheck.Errors(unknown.Move(now, 1).Design).IsEmpty);
            });
        }
    }

    [Fact]
    public void What_was_measured_is_never_moved()
    {
        Design all = InputCatalogue.Of(Van).Aggregate(Van, (van, fact) => Origins.With(van, fact.Path, Origin.Measured));

        Assert.All(UnknownInputs.Of(all), unknown => Assert.Empty(unknown.Paths));
        Gen.Int[0, 1].Array[UnknownInputs.Of(Van).Length].Sample(
            chosen =>
            {
                string[] paths = [.. UnknownInputs.Of(Van).Where((_, index) => chosen[index] == 1).SelectMany(unknown => unknown.Paths)];
                Design measured = paths.Aggregate(Van, (van, path) => Origins.With(van, path, Origin.Measured));
                Assert.Empty(UnknownInputs.Of(measured).SelectMany(unknown => unknown.Paths).Intersect(paths));
            },
            iter: 20);
    }

    [Fact]
    public void Answering_an_unknown_takes_it_off_the_list_or_narrows_it()
    {
        foreach (Unknown unknown in UnknownInputs.Of(Van).Where(unknown => unknown.CanBeAnswered))
        {
            object answer = unknown.High ?? unknown.Low!;
            Design measured = unknown.Answered(Van, answer, Origin.Measured);
            Assert.All(unknown.Paths, path => Assert.Equal(Origin.Measured, Origins.Of(measured, path)));
            Assert.DoesNotContain(UnknownInputs.Of(measured), other => other.Paths.Intersect(unknown.Paths).Any());
            // A told mixing is still only a likely one.
            Unknown? told = UnknownInputs.Of(unknown.Marked(Van, Origin.Told)).FirstOrDefault(other => other.Key == unknown.Key);
            Assert.True(told is null || told.Origin == Origin.Told);
            if (told is { Continuous: false })
            {
                Assert.True(told.ChanceLow <= unknown.ChanceLow && told.ChanceHigh <= unknown.ChanceHigh, unknown.Key);
            }
        }
    }

    [Fact]
    public void An_answer_of_the_wrong_kind_is_refused()
    {
        Unknown leakage = UnknownInputs.Of(Van).Single(unknown => unknown.Key == "leakage-area");
        ArgumentException refused = Assert.Throws<ArgumentException>(() => leakage.Answered(Van, 3, Origin.Told));
        Assert.Contains("Area", refused.Message, StringComparison.Ordinal);
        Assert.Equal(60, leakage.Answered(Van, Area.FromSquareCentimeters(60), Origin.Told).Leakage.EffectiveArea.SquareCentimeters, 9);
        Unknown water = UnknownInputs.Of(Van).Single(unknown => unknown.Key == "water-given-off");
        Assert.False(water.CanBeAnswered);
        Assert.Throws<ArgumentException>(() => water.Answered(Van, 3, Origin.Told));
    }

    [Fact]
    public void The_ranking_does_not_depend_on_the_order_the_unknowns_come_in()
    {
        ImmutableArray<Unknown> some = [.. UnknownInputs.Of(Van).Where((_, index) => index % 3 == 0)];
        HowSureReport there = Sure(Van, unknowns: some);
        HowSureReport back = Sure(Van, unknowns: [.. some.Reverse()]);

        Assert.Equal(there.Unknowns.Select(effect => (effect.Unknown.Key, effect.Worth, effect.Chance)), back.Unknowns.Select(effect => (effect.Unknown.Key, effect.Worth, effect.Chance)));
        Assert.Equal(Bits(there), Bits(back));
        Assert.Equal(there.Findings.Select(finding => (finding.Code, finding.MattersMost)), back.Findings.Select(finding => (finding.Code, finding.MattersMost)));
        Assert.Equal(there.Calculations, back.Calculations);
    }

    [Fact]
    public void Moving_an_input_of_no_width_changes_nothing()
    {
        Unknown leakage = UnknownInputs.Of(Van).Single(unknown => unknown.Key == "leakage-area") with { Move = (van, _) => (van, Assumptions.Likely) };
        HowSureReport report = Sure(Van, unknowns: [leakage]);

        UnknownEffect effect = Assert.Single(report.Unknowns);
        Assert.Equal((0, 0, 0, 0), (effect.Worth, effect.Chance, effect.RemedyTurns, effect.Turns.Length));
        Assert.All(report.Situations.SelectMany(situation => situation.Numbers).Concat(report.Night), band =>
        {
            Assert.Equal(band.Likely.As(band.Likely.Unit), band.Low.As(band.Likely.Unit));
            Assert.Equal(band.Likely.As(band.Likely.Unit), band.High.As(band.Likely.Unit));
            Assert.Equal("", band.MovedMostBy);
        });
        Assert.All(report.Findings, finding => Assert.True(finding.Turns.IsEmpty && finding.MattersMost is null));
        Assert.Empty(report.WorthAsking);
    }

    [Fact]
    public void A_finding_far_from_its_limit_does_not_turn()
    {
        // Two people and an unflued flame in a van as tight as an aquarium are in danger whatever the windscreen measures.
        Design van = Vans.With(Position.Shut, Position.Shut, HeaterKind.UnfluedGas);
        HowSureReport report = Sure(van, unknowns: [.. UnknownInputs.Of(van).Where(unknown => unknown.Key.StartsWith("glass-area", StringComparison.Ordinal))]);

        FindingSureness danger = report.Findings.First(finding => finding.Severity == Severity.Danger);
        Assert.Empty(danger.Turns);
    }

    [Fact]
    public void A_finding_at_its_limit_turns_and_names_the_unknown()
    {
        FindingSureness way = Report.Findings.Single(finding => finding.Code == "one-way-out");
        Assert.Equal("ways-out", way.MattersMost);
        FindingTurn turn = Assert.Single(way.Turns);
        Assert.Equal((Severity.Warning, null, 0.4), (turn.Likely, turn.AtHigh, turn.Chance));
        // At the low end of the leakage the air stays damp, at the high end it does not.
        Assert.Contains(Report.Findings.Single(finding => finding.Code == "air-damp").Turns, of => of is { Unknown: "leakage-area", AtHigh: null });
        // A finding that only an unknown would bring stands there too, with no weight of its own.
        Assert.Contains(Report.Findings, finding => finding is { Code: "locked-heat", Severity: null, MattersMost: "left-in-locked-van" });
    }

    [Fact]
    public void What_only_rules_ask_for_moves_no_number_of_night_and_year()
    {
        Design now = LaterParts.Without(Van);
        NightWeather night = Nights.At(now);
        YearWeather weather = YearWeather.Of(now);
        long likely = Fingerprint(now);
        foreach (Unknown unknown in UnknownInputs.Of(Van).Where(unknown => !unknown.WeighsInAir))
        {
            Assert.Equal(likely, Fingerprint(unknown.Move(now, unknown.ChanceHigh > 0 ? 1 : -1).Design));
        }

        long Fingerprint(Design van)
        {
            Assessment assessed = Assessor.AssessWithoutFindings(van, night, TestContext.Current.CancellationToken);
            YearAssessment year = Assessor.AssessYear(van, weather, Assumptions.Likely, null, TestContext.Current.CancellationToken);
            return HashCode.Combine(assessed.Air.OutdoorAir, assessed.Water.CondensedPerNight, year.WetMornings.Count, year.WetMornings.CondensedPerNight, year.Extremes.HottestLocked);
        }
    }

    [Fact]
    public void With_the_year_the_findings_of_the_year_are_judged_too()
    {
        ImmutableArray<Unknown> some = [.. UnknownInputs.Of(Van).Where(unknown => unknown.Key is "leakage-area" or "shelter" or "water-in-fabrics" or "smoke-alarm")];
        List<double> told = [];
        TimeSpan before = Process.GetCurrentProcess().TotalProcessorTime;
        HowSureReport year = HowSure.Of(
            Van, AssessmentDepth.Year, unknowns: some, progress: new Told(share => { lock (told) { told.Add(share); } }), cancellation: TestContext.Current.CancellationToken);
        output.WriteLine(FormattableString.Invariant(
            $"{year.Calculations} calculations with the year, {(Process.GetCurrentProcess().TotalProcessorTime - before).TotalMilliseconds:0} ms of processor time in this process"));
        HowSureReport night = Sure(Van, unknowns: some);

        Assert.Equal((AssessmentDepth.Year, AssessmentDepth.Night), (year.Depth, night.Depth));
        ImmutableArray<Finding> ofTheYear = Assessor.Assess(Van, AssessmentDepth.Year, cancellation: TestContext.Current.CancellationToken).Findings;
        Assert.Equal(ofTheYear.Select(finding => (finding.Code, (Severity?)finding.Severity)), year.Findings.Where(finding => finding.Severity is not null).Select(finding => (finding.Code, finding.Severity)));
        Assert.Contains(year.Findings, finding => finding.Code == "many-wet-mornings");
        Assert.DoesNotContain(night.Findings, finding => finding.Code == "many-wet-mornings");
        // What fabrics take up is in the year alone.
        Assert.NotEqual(year.Findings.Single(finding => finding.Code == "many-wet-mornings").Evidence!.Low, year.Findings.Single(finding => finding.Code == "many-wet-mornings").Evidence!.High);
        Assert.Equal(1, told.Max());
        Assert.Equal(some.Length, told.Count);
        // A smoke alarm is judged without calculating a year.
        Assert.InRange(year.Calculations, 1 + (2 * (some.Length - 1)), 1 + (2 * 2 * (some.Length - 1)));
    }

    [Fact]
    public void Vans_of_every_turn_are_judged_at_every_end_they_have()
    {
        foreach (Design van in Vans.Varied())
        {
            ImmutableArray<Unknown> some = [.. UnknownInputs.Of(van).Where((_, index) => index % 4 == 1)];
            HowSureReport report = Sure(van, unknowns: some);
            Assert.Equal(some.Length, report.Unknowns.Length);
            Assert.All(report.Unknowns, effect => Assert.Empty(effect.NotCalculated));
            Assert.All(report.Situations.SelectMany(situation => situation.Numbers).Concat(report.Night), band =>
            {
                double likely = band.Likely.As(band.Likely.Unit);
                Assert.InRange(likely, band.Low.As(band.Likely.Unit) - 1e-9, band.High.As(band.Likely.Unit) + 1e-9);
            });
            Assert.All(report.Findings, finding => Assert.True(finding.Severity is not null || finding.Turns.Length > 0));
        }
    }

    [Fact]
    public void A_van_that_cannot_be_calculated_at_an_end_is_said_and_counts_as_nothing()
    {
        Unknown broken = UnknownInputs.Of(Van).Single(unknown => unknown.Key == "leakage-area") with
        {
            Move = (van, share) => share > 0 ? throw new NightNotConvergedException("It did not balance.") : (van, Assumptions.Likely),
        };
        UnknownEffect effect = Assert.Single(Sure(Van, unknowns: [broken]).Unknowns);
        Assert.Equal("leakage of the body at its high end: It did not balance.", Assert.Single(effect.NotCalculated));
        Assert.Equal((0, 0), (effect.Worth, effect.Chance));
    }

    [Fact]
    public void A_cancelled_search_stops_and_a_wrong_design_is_refused()
    {
        using CancellationTokenSource source = new();
        source.Cancel();
        Assert.ThrowsAny<OperationCanceledException>(() => HowSure.Of(Van, cancellation: source.Token));
        Assert.Throws<ArgumentException>(() => Sure(Van with { Zones = [] }));
    }

    [Fact]
    public void The_work_is_counted_and_stays_within_a_call()
    {
        TimeSpan before = Process.GetCurrentProcess().TotalProcessorTime;
        HowSureReport report = Sure(Van);
        output.WriteLine(FormattableString.Invariant(
            $"{UnknownInputs.Of(Van).Length} unknowns, {report.Calculations} calculations, {(Process.GetCurrentProcess().TotalProcessorTime - before).TotalMilliseconds:0} ms of processor time in this process"));

        Assert.InRange(report.Calculations, UnknownInputs.Of(Van).Length / 2, 8 * UnknownInputs.Of(Van).Length);
        Assert.Equal(report.Calculations, Sure(Van).Calculations);
    }

    [Fact]
    public void The_best_remedy_counts_when_remedies_are_given()
    {
        WhatHelps help = HelpSearch.Of(Van, PriceBooks.Default, cancellation: TestContext.Current.CancellationToken);
        ImmutableArray<Unknown> some = [.. UnknownInputs.Of(Van).Where(unknown => unknown.Key is "leakage-area" or "cooking-habit" or "water-given-off" or "sleepers")];
        HowSureReport with = Sure(Van, remedies: [.. help.Ranked.Take(4)], unknowns: some);
        HowSureReport without = Sure(Van, unknowns: some);

        Assert.All(without.Unknowns, effect => Assert.Equal(0, effect.RemedyTurns));
        foreach (UnknownEffect effect in with.Unknowns)
        {
            output.WriteLine(FormattableString.Invariant($"{effect.Unknown.Key}: {effect.RemedyTurns:0.000}"));
            Assert.True(effect.Chance >= without.Unknowns.Single(other => other.Unknown.Key == effect.Unknown.Key).Chance - 1e-12);
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(4)]
    [InlineData(9)]
    public void The_cells_of_a_triangle_share_out_all_but_what_lies_nearest_its_peak(int count)
    {
        // Area of a triangle of height 1 and base 1 beyond x is (1 - x)2 of the whole.
        double sum = Enumerable.Range(1, count).Sum(k => Triangular.Cell(k, count));
        Assert.Equal(Math.Pow(1 - (0.5 / count), 2), sum, 12);
    }

    [Fact]
    public void The_worth_is_the_chance_times_the_loss()
    {
        Assert.Equal((10, 3, 1, 0), (Losses.Of(Severity.Danger), Losses.Of(Severity.Warning), Losses.Of(Severity.Advice), Losses.Of(Severity.Note)));
        Assert.Equal(7, Losses.Between(Severity.Warning, Severity.Danger));
        Assert.Equal(3, Losses.Between(null, Severity.Warning));
        // With two ways out a warning falls away, and the chance of that stands in the table.
        Assert.Equal(0.4 * 3, Worth("ways-out"), 9);
        // An alarm that is there after all is one fewer to buy: the warning stays and asks for less.
        Assert.Equal(0.4 * 1, Worth("carbon-monoxide-alarm"), 9);
    }

    private static HowSureReport Sure(Design van, ImmutableArray<HelpfulChange> remedies = default, ImmutableArray<Unknown> unknowns = default) =>
        HowSure.Of(van, remedies: remedies, unknowns: unknowns, cancellation: TestContext.Current.CancellationToken);

    private static double Worth(string key) => Report.Unknowns.Single(effect => effect.Unknown.Key == key).Worth;

    private sealed class Told(Action<double> tell) : IProgress<double>
    {
        public void Report(double value) => tell(value);
    }

    private static IEnumerable<long> Bits(HowSureReport report) => report.Situations.SelectMany(situation => situation.Numbers).Concat(report.Night)
        .SelectMany(band => new[] { band.Low, band.Likely, band.High }.Select(number => BitConverter.DoubleToInt64Bits(number.As(band.Likely.Unit))));
}
