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
    private int _calculated;

    public AssessmentRunnerTests()
    {
        _runner = new AssessmentRunner(
            (design, cancellation) =>
            {
                Interlocked.Increment(ref _calculated);
                return _assess(design, cancellation);
            },
            design => design.Household.Sleepers.ToString(CultureInfo.InvariantCulture),
            new ComputeQueue(1),
            _cache,
            new object(),
            NullLogger.Instance);
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

        Assert.Equal("The zone pressures did not balance.", _runner.Failure);
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

        Assert.Contains("Your inputs are kept", _runner.Failure, StringComparison.Ordinal);
        Assert.DoesNotContain("Sequence", _runner.Failure, StringComparison.Ordinal);
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
    public void The_cache_forgets_what_was_asked_for_longest_ago()
    {
        for (int number = 0; number < AssessmentCache.Capacity; number++)
        {
            _cache.Keep($"{number}", Samples.Assessment());
        }

        Assert.True(_cache.TryGet("0", out _));
        _cache.Keep("new", Samples.Assessment());

        Assert.True(_cache.TryGet("0", out _));
        Assert.False(_cache.TryGet("1", out _));
        Assert.True(_cache.TryGet("new", out _));
    }
}
