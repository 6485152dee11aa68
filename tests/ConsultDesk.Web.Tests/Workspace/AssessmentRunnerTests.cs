using System.Globalization;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Web.Workspace;
using Microsoft.Extensions.Logging.Abstractions;
using Xunit;

namespace ConsultDesk.Web.Tests.Workspace;

public sealed class AssessmentRunnerTests : IDisposable
{
    private readonly AssessmentCache _cache = new();
    private readonly AssessmentRunner _runner;
    private Func<Design, CancellationToken, Assessment> _assess = (_, _) => Samples.Assessment();
    private AssessDesign _assessDeeper = (_, depth, _, _) => Samples.Assessed(depth);
    private readonly ManualTime _time = new();
    private int _calculated;

    public AssessmentRunnerTests() => _runner = Runner(AssessmentDepth.Night);

    private AssessmentRunner Runner(AssessmentDepth deepest) => new(
            (design, depth, progress, cancellation) =>
            {
                Interlocked.Increment(ref _calculated);
                return depth == AssessmentDepth.Night ? _assess(design, cancellation) : _assessDeeper(design, depth, progress, cancellation);
            },
            deepest,
            design => design.Household.Sleepers.ToString(CultureInfo.InvariantCulture),
            new ComputeQueue(1),
            _cache,
            new object(),
            _time,
            NullLogger.Instance);

    /// <summary>Lets the pauses before year and bands pass until the request is answered.</summary>
    private async Task Answered(Task request)
    {
        while (!request.IsCompleted)
        {
            _time.Advance(1000);
            await Task.Yield();
        }

        await request;
    }

    public void Dispose() => _runner.Dispose();

    [Fact]
    public async Task A_result_carries_the_revision_and_design_it_belongs_to()
    {
        var design = Samples.Design(3);

        await _runner.RequestAsync(design, 7);

        Assert.NotNull(_runner.Latest);
        Assert.Equal(7, _runner.Latest.Revision);
        Assert.Same(design, _runner.Latest.Design);
        Assert.False(_runner.IsOld);
        Assert.False(_runner.IsRunning);
    }

    [Fact]
    public async Task The_result_before_stays_and_is_old_until_the_newer_one_is_there()
    {
        await _runner.RequestAsync(Samples.Design(1), 1);
        using var release = new ManualResetEventSlim();
        _assess = (_, cancellation) =>
        {
            release.Wait(cancellation);
            return Samples.Assessment();
        };

        var second = _runner.RequestAsync(Samples.Design(2), 2);
        Assert.True(_runner.IsOld);
        Assert.True(_runner.IsRunning);
        Assert.Equal(1, _runner.Latest?.Revision);

        release.Set();
        await second;
        Assert.False(_runner.IsOld);
        Assert.Equal(2, _runner.Latest?.Revision);
    }

    [Fact]
    public async Task A_newer_revision_cancels_the_one_before()
    {
        var started = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        bool wasCancelled = false;
        _assess = (_, cancellation) =>
        {
            started.TrySetResult();
            wasCancelled = cancellation.WaitHandle.WaitOne();
            cancellation.ThrowIfCancellationRequested();
            return Samples.Assessment();
        };
        var first = _runner.RequestAsync(Samples.Design(1), 1);
        await started.Task;
        _assess = (_, _) => Samples.Assessment();

        var second = _runner.RequestAsync(Samples.Design(2), 2);
        await first;
        await second;

        Assert.True(wasCancelled);
        Assert.Equal(2, _runner.Latest?.Revision);
        Assert.Null(_runner.Failure);
    }

    [Fact]
    public async Task A_calculation_that_ignores_its_token_cannot_bring_back_an_old_result()
    {
        using var release = new ManualResetEventSlim();
        var started = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        _assess = (_, _) =>
        {
            started.TrySetResult();
            release.Wait(TestContext.Current.CancellationToken);
            return Samples.Assessment();
        };
        var first = _runner.RequestAsync(Samples.Design(1), 1);
        await started.Task;
        _assess = (_, _) => Samples.Assessment();
        var second = _runner.RequestAsync(Samples.Design(2), 2);

        release.Set();
        await first;
        await second;

        Assert.Equal(2, _runner.Latest?.Revision);
    }

    [Fact]
    public async Task A_failure_says_why_and_keeps_the_last_good_result_marked_old()
    {
        await _runner.RequestAsync(Samples.Design(1), 1);
        _assess = (_, _) => throw new NightNotConvergedException("The zone pressures did not balance.");

        await _runner.RequestAsync(Samples.Design(2), 2);

        Assert.Equal(new AssessmentFailure(AssessmentDepth.Night, "The zone pressures did not balance."), _runner.Failure);
        Assert.Equal(1, _runner.Latest?.Revision);
        Assert.True(_runner.IsOld);
        Assert.False(_runner.IsRunning);

        _assess = (_, _) => Samples.Assessment();
        await _runner.RequestAsync(Samples.Design(3), 3);
        Assert.Null(_runner.Failure);
        Assert.False(_runner.IsOld);
    }

    [Fact]
    public async Task A_failure_nobody_foresaw_is_told_in_plain_words()
    {
        _assess = (_, _) => throw new InvalidOperationException("Sequence contains no elements");

        await _runner.RequestAsync(Samples.Design(1), 1);

        Assert.Contains("Your inputs are kept", _runner.Failure?.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("Sequence", _runner.Failure?.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_design_assessed_before_is_answered_from_the_cache_at_once()
    {
        await _runner.RequestAsync(Samples.Design(1), 1);
        await _runner.RequestAsync(Samples.Design(2), 2);

        var undone = _runner.RequestAsync(Samples.Design(1), 3);

        Assert.True(undone.IsCompleted);
        Assert.Equal(2, _calculated);
        Assert.Equal(3, _runner.Latest?.Revision);
        Assert.False(_runner.IsOld);
    }

    [Fact]
    public void The_cache_forgets_the_nights_asked_for_longest_ago()
    {
        for (int number = 0; number < AssessmentCache.NightCapacity; number++)
        {
            _cache.Keep($"{number}", AssessmentDepth.Night, Samples.Assessment());
        }

        Assert.True(_cache.TryGet("0", AssessmentDepth.Night, out _));
        _cache.Keep("new", AssessmentDepth.Night, Samples.Assessment());

        Assert.True(_cache.TryGet("0", AssessmentDepth.Night, out _));
        Assert.False(_cache.TryGet("1", AssessmentDepth.Night, out _));
        Assert.True(_cache.TryGet("new", AssessmentDepth.Night, out _));
    }

    [Fact]
    public void The_cache_keeps_a_bounded_number_of_years_apart_from_the_nights()
    {
        for (int number = 0; number <= AssessmentCache.YearCapacity; number++)
        {
            _cache.Keep($"{number}", AssessmentDepth.Night, Samples.Assessment());
            _cache.Keep($"{number}", AssessmentDepth.Year, Samples.Assessed(AssessmentDepth.Year));
        }

        Assert.False(_cache.TryGet("0", AssessmentDepth.Year, out _));
        Assert.True(_cache.TryGet("0", AssessmentDepth.Night, out _));
        Assert.True(_cache.TryGet("1", AssessmentDepth.Year, out _));
    }

    [Fact]
    public void A_year_with_bands_serves_as_the_year_and_is_not_replaced_by_one_without()
    {
        _cache.Keep("van", AssessmentDepth.Year, Samples.Assessed(AssessmentDepth.Year));
        Assert.False(_cache.TryGet("van", AssessmentDepth.Bands, out _));
        var bands = Samples.Assessed(AssessmentDepth.Bands);
        _cache.Keep("van", AssessmentDepth.Bands, bands);

        _cache.Keep("van", AssessmentDepth.Year, Samples.Assessed(AssessmentDepth.Year));

        Assert.True(_cache.TryGet("van", AssessmentDepth.Year, out var year));
        Assert.Same(bands, year);
        Assert.True(_cache.TryGet("van", AssessmentDepth.Bands, out _));
    }

    [Fact]
    public async Task The_night_is_there_at_once_the_year_follows_and_its_bands_come_last()
    {
        using var runner = Runner(AssessmentDepth.Bands);
        List<(AssessmentDepth? Pending, bool Year, bool Bands)> seen = [];
        runner.Changed += () => seen.Add((runner.Pending, runner.LatestYear is not null, runner.LatestBands is not null));

        await Answered(runner.RequestAsync(Samples.Design(), 1));

        Assert.Equal(
            [(AssessmentDepth.Night, false, false), (AssessmentDepth.Year, false, false), (AssessmentDepth.Bands, true, false), (null, true, true)],
            seen.Select(state => state).ToList());
        Assert.NotNull(runner.Latest?.Assessment.Year);
        Assert.NotEmpty(runner.Latest.Assessment.Bands);
        Assert.False(runner.IsRunning);
    }

    [Fact]
    public async Task No_year_is_started_before_the_edits_pause()
    {
        using var runner = Runner(AssessmentDepth.Year);
        for (int revision = 1; revision <= 5; revision++)
        {
            _ = runner.RequestAsync(Samples.Design(revision), revision);
            Assert.True(SpinWait.SpinUntil(() => runner.Latest?.Revision == revision, TimeSpan.FromSeconds(30)));
            _time.Advance(10);
        }

        Assert.Equal(5, _calculated);
        Assert.Null(runner.LatestYear);
    }

    [Fact]
    public async Task An_edit_cancels_the_year_and_the_year_before_stays_marked_old_until_the_new_one_is_there()
    {
        using var runner = Runner(AssessmentDepth.Year);
        await Answered(runner.RequestAsync(Samples.Design(1), 1));
        var started = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        _assessDeeper = (_, _, _, cancellation) =>
        {
            started.TrySetResult();
            cancellation.WaitHandle.WaitOne();
            cancellation.ThrowIfCancellationRequested();
            return Samples.Assessed(AssessmentDepth.Year);
        };
        var second = runner.RequestAsync(Samples.Design(2), 2);
        while (!started.Task.IsCompleted)
        {
            _time.Advance(1000);
            await Task.Yield();
        }

        Assert.Equal(2, runner.Latest?.Revision);
        Assert.False(runner.IsOld);
        Assert.Equal(1, runner.LatestYear?.Revision);
        Assert.True(runner.YearIsOld);
        Assert.Equal(AssessmentDepth.Year, runner.Pending);

        _assessDeeper = (_, depth, _, _) => Samples.Assessed(depth);
        var third = runner.RequestAsync(Samples.Design(3), 3);
        await second;
        await Answered(third);

        Assert.Equal(3, runner.LatestYear?.Revision);
        Assert.False(runner.YearIsOld);
        Assert.Null(runner.Failure);
    }

    [Fact]
    public async Task What_only_the_year_found_stays_until_the_next_year_says_otherwise()
    {
        using var runner = Runner(AssessmentDepth.Year);
        _assess = (_, _) => Samples.Assessment(Samples.Finding("of-the-night"));
        _assessDeeper = (_, _, _, _) => Samples.Assessed(AssessmentDepth.Year, Samples.Finding("of-the-night"), Samples.Finding("of-the-year"));
        await Answered(runner.RequestAsync(Samples.Design(1), 1));
        Assert.Empty(runner.FindingsOfYearBefore);

        var second = runner.RequestAsync(Samples.Design(2), 2);
        Assert.True(SpinWait.SpinUntil(() => runner.Latest?.Revision == 2, TimeSpan.FromSeconds(30)));
        Assert.Equal(["of-the-year"], runner.FindingsOfYearBefore.Select(finding => finding.Code));

        _assessDeeper = (_, depth, _, _) => Samples.Assessed(depth);
        await Answered(second);
        Assert.Empty(runner.FindingsOfYearBefore);
    }

    [Fact]
    public async Task A_year_that_fails_says_so_and_leaves_the_night_as_it_is()
    {
        using var runner = Runner(AssessmentDepth.Bands);
        _assessDeeper = (_, _, _, _) => throw new NightNotConvergedException("Hour 4711 did not settle.");

        await Answered(runner.RequestAsync(Samples.Design(1), 1));

        Assert.Equal(new AssessmentFailure(AssessmentDepth.Year, "Hour 4711 did not settle."), runner.Failure);
        Assert.Equal(1, runner.Latest?.Revision);
        Assert.False(runner.IsOld);
        Assert.False(runner.IsRunning);

        _assessDeeper = (_, depth, _, _) => Samples.Assessed(depth);
        await Answered(runner.RequestAsync(Samples.Design(2), 2));
        Assert.Null(runner.Failure);
    }

    [Fact]
    public async Task Progress_is_told_in_tenths_and_four_times_a_second_at_most()
    {
        using var runner = Runner(AssessmentDepth.Year);
        List<double> told = [];
        runner.Changed += () =>
        {
            if (runner.Progress > 0)
            {
                told.Add(runner.Progress);
            }
        };
        // The clock moves in one place at a time: here until the year begins, then in the year, 25 ms a report.
        using var begun = new ManualResetEventSlim();
        using var go = new ManualResetEventSlim();
        List<double> reached = [];
        _assessDeeper = (_, depth, progress, cancellation) =>
        {
            begun.Set();
            go.Wait(cancellation);
            for (int month = 1; month <= 48; month++)
            {
                _time.Advance(25);
                progress.Report(month / 48d);
                reached.Add(runner.Progress);
            }

            return Samples.Assessed(depth);
        };

        var request = runner.RequestAsync(Samples.Design(1), 1);
        while (!begun.IsSet)
        {
            _time.Advance(1000);
            await Task.Yield();
        }

        go.Set();
        await request;

        Assert.Equal([0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1], reached.Where(share => share > 0).Distinct(), (a, b) => Math.Abs(a - b) < 1e-9);
        // Told at the first tenth, then at the first one that comes a quarter of a second or more after the word before.
        Assert.Equal([0.1, 0.3, 0.6, 0.8], told, (a, b) => Math.Abs(a - b) < 1e-9);
        Assert.Equal(0, runner.Progress);
    }

    [Fact]
    public async Task An_undo_brings_night_year_and_bands_back_at_once()
    {
        using var runner = Runner(AssessmentDepth.Bands);
        await Answered(runner.RequestAsync(Samples.Design(1), 1));
        await Answered(runner.RequestAsync(Samples.Design(2), 2));
        var before = _calculated;

        var undone = runner.RequestAsync(Samples.Design(1), 3);

        Assert.True(undone.IsCompleted);
        Assert.Equal(before, _calculated);
        Assert.Equal(3, runner.LatestBands?.Revision);
        Assert.False(runner.BandsAreOld);
    }
}
