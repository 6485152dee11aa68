using System.Net;
using ConsultDesk.Records;
using ConsultDesk.Web.Plans;
using ConsultDesk.Web.Tests.Shell;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Web.Tests.Plans;

public sealed class PressQueueTests
{
    [Fact]
    public async Task Some_work_some_wait_and_the_rest_is_turned_away_at_once()
    {
        var cancel = TestContext.Current.CancellationToken;
        using var queue = new PressQueue(presses: 2, mostWaiting: 3);
        using var gate = new ManualResetEventSlim();
        var (working, most) = (0, 0);
        var counting = new Lock();
        int Work()
        {
            lock (counting)
            {
                most = Math.Max(most, ++working);
            }

            gate.Wait(cancel);
            lock (counting)
            {
                return working--;
            }
        }

        var taken = Enumerable.Range(0, 5).Select(_ => queue.RunAsync(Work, cancel)).ToList();
        await Assert.ThrowsAsync<PressBusyException>(() => queue.RunAsync(Work, cancel));
        gate.Set();
        await Task.WhenAll(taken);

        Assert.InRange(most, 1, 2);
        Assert.Equal(7, await queue.RunAsync(() => 7, cancel));
    }

    [Fact]
    public async Task Who_leaves_while_waiting_frees_the_place_and_who_fails_too()
    {
        var cancel = TestContext.Current.CancellationToken;
        using var queue = new PressQueue(presses: 1, mostWaiting: 1);
        using var gate = new ManualResetEventSlim();
        var first = queue.RunAsync(() => { gate.Wait(cancel); return 1; }, cancel);
        using var leaving = new CancellationTokenSource();
        var second = queue.RunAsync(() => 2, leaving.Token);
        await leaving.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => second);

        var third = queue.RunAsync<int>(() => throw new InvalidOperationException("torn paper"), cancel);
        gate.Set();

        Assert.Equal(1, await first);
        await Assert.ThrowsAsync<InvalidOperationException>(() => third);
        Assert.Equal(4, await queue.RunAsync(() => 4, cancel));
    }
}

public sealed class BusyPressTests(DeskApp app) : IClassFixture<DeskApp>
{
    [Fact]
    public async Task A_reader_is_told_when_to_come_back_while_the_presses_are_busy()
    {
        var cancel = TestContext.Current.CancellationToken;
        using var consultant = await app.ConsultantAsync();
        var who = await app.DemoConsultantAsync();
        var desk = app.Services.GetRequiredService<DeskList>();
        var plan = (await desk.Plans(who, 1, cancellation: cancel))[0];
        var queue = app.Services.GetRequiredService<PlanPress>().Queue;
        using var gate = new ManualResetEventSlim();
        var taken = new List<Task<int>>();
        try
        {
            while (true)
            {
                var one = queue.RunAsync(() => { gate.Wait(cancel); return 0; }, cancel);
                if (one.IsFaulted)
                {
                    await Assert.ThrowsAsync<PressBusyException>(() => one);
                    break;
                }

                taken.Add(one);
            }

            var answer = await consultant.GetAsync($"/plans/{plan.Id}/pdf", cancel);

            Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.StatusCode);
            Assert.Equal("10", answer.Headers.GetValues("Retry-After").Single());
            Assert.Contains("ask for this one again", await answer.Content.ReadAsStringAsync(cancel), StringComparison.Ordinal);
        }
        finally
        {
            gate.Set();
            await Task.WhenAll(taken);
        }
    }
}
