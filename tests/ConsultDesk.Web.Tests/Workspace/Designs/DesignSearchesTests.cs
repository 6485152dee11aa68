using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Testing;
using ConsultDesk.Web.Workspace.Designs;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using Xunit;

namespace ConsultDesk.Web.Tests.Workspace.Designs;

/// <summary>Searches that outlive the page that asked for them.</summary>
public sealed class DesignSearchesTests(TestStores stores) : IClassFixture<TestStores>, IDisposable
{
    private static readonly SignedIn Ada = new(Guid.NewGuid(), Guid.NewGuid(), "Ada", DeskRole.Owner);
    private static readonly SignedIn Ben = new(Ada.FirmId, Guid.NewGuid(), "Ben", DeskRole.Consultant);

    private readonly DesignSearches _searches = new(NullLogger<DesignSearches>.Instance, TimeProvider.System);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    // A few years only: what is searched is tested beside the search.
    internal static SearchOrder Few(int mostYears = 10) => new()
    {
        Design = Samples.Design(),
        Book = new PriceBook([.. PriceBooks.Default.Items.Where(item => item.Kind is PriceKind.CabDivider or PriceKind.BedBase or PriceKind.Cover)]),
        Effort = new SearchEffort { MostCombinations = 10, MostYears = mostYears, Drawn = 2, Audited = 0, Worlds = 0 },
    };

    // Enough for a trade-off: one search that the tests of the panel share.
    internal static SearchOrder Some(Design design, Wishes wishes) => new()
    {
        Design = design,
        Book = PriceBooks.Default,
        Wishes = wishes,
        Currency = "EUR",
        Effort = new SearchEffort { MostCombinations = 48, MostYears = 48, Worlds = 0 },
    };

    // Goes on for long enough to be stopped.
    private static SearchOrder Long => new() { Design = Samples.Design(), Book = PriceBooks.Default };

    internal static async Task Until(Func<bool> done)
    {
        while (!done())
        {
            await Task.Delay(10, Cancel);
        }
    }

    public void Dispose() => _searches.Dispose();

    [Fact]
    public async Task A_search_goes_on_without_a_page_and_is_found_again_by_its_firm_only()
    {
        var option = Guid.NewGuid();
        var run = _searches.Ask(Ada, option, Few(), "as asked")!;
        var told = 0;
        run.Changed += () => told++;
        await Until(() => !run.IsRunning);

        Assert.Same(run, _searches.Last(new(Ben.FirmId, option)));
        Assert.Null(_searches.Last(new(Guid.NewGuid(), option)));
        Assert.Equal(SearchEnd.Finished, run.Result!.End);
        Assert.NotEmpty(run.Result.Front);
        Assert.Null(run.Failure);
        Assert.True(told > 0);
    }

    [Fact]
    public async Task A_stopped_search_keeps_what_it_found_marked_as_unfinished_and_another_takes_its_place()
    {
        var option = Guid.NewGuid();
        var run = _searches.Ask(Ada, option, Long, "as asked")!;
        await Until(() => run.Progress?.Space is not null);
        run.Stop();
        await Until(() => !run.IsRunning);
        Assert.Equal(SearchEnd.Cancelled, run.Result!.End);
        Assert.Contains("cancelled", run.Result.Message, StringComparison.Ordinal);

        var first = _searches.Ask(Ada, option, Long, "as asked")!;
        var second = _searches.Ask(Ada, option, Few(1), "changed")!;
        await Until(() => !first.IsRunning && !second.IsRunning);
        Assert.Equal(SearchEnd.Cancelled, first.Result!.End);
        Assert.Equal(SearchEnd.Finished, second.Result!.End);
        Assert.Same(second, _searches.Last(second.Of));
    }

    [Fact]
    public async Task What_is_found_stands_while_its_chances_are_still_asked_for_and_a_stop_keeps_them()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var book = desk.App.GetRequiredService<SearchBook>();
        var (_, _, option) = await desk.AddVan();
        using var searches = new DesignSearches(NullLogger<DesignSearches>.Instance, desk.Time, book);
        var order = Few();
        var run = searches.Ask(desk.Ada, option, order with { Effort = order.Effort with { Worlds = 500 } }, "as asked")!;
        await Until(() => run.Found is { Result.Worlds: > 1 });
        Assert.True(run.IsRunning);
        Assert.Equal(SearchEnd.Finished, run.Found!.Result.End);
        Assert.NotEmpty(run.Found.Result.Named);
        Assert.Equal(run.Found.Result.Front.Length, run.Found.Designs.Length);
        var foundAt = run.FoundAt;
        Assert.NotNull(foundAt);

        run.Stop();
        await Until(() => !run.IsRunning);
        await run.Writing;
        Assert.Equal(foundAt, run.FoundAt);
        Assert.InRange(run.Found.Result.Worlds, 2, 499);
        Assert.Contains("of 500 other worlds had been compared: chances rest on those.", run.Found.Result.Message, StringComparison.Ordinal);
        var kept = (await book.Of(desk.Ada, option, Cancel))!;
        Assert.Equal(SearchState.Finished, kept.State);
        Assert.Equal(run.Found.Result.Worlds, kept.Found!.Result.Worlds);
        Assert.All(kept.Found.Result.Front, member => Assert.NotNull(member.ChanceOnFront));
    }

    [Fact]
    public async Task One_who_asks_for_many_holds_nobody_up_and_has_no_more_than_three()
    {
        if (Environment.ProcessorCount >= 6)
        {
            Assert.Skip("Several are at work at once on this machine.");
        }

        var at = _searches.Ask(Ada, Guid.NewGuid(), Long, "")!;
        await Until(() => at.Progress is not null);
        var hers = _searches.Ask(Ada, Guid.NewGuid(), Long, "")!;
        var last = _searches.Ask(Ada, Guid.NewGuid(), Long, "")!;
        Assert.Null(_searches.Ask(Ada, Guid.NewGuid(), Long, ""));
        var his = _searches.Ask(Ben, Guid.NewGuid(), Few(1), "")!;

        Assert.Equal(0, _searches.Before(at));
        Assert.Equal(1, _searches.Before(his));
        Assert.Equal(2, _searches.Before(hers));
        Assert.Equal(3, _searches.Before(last));

        last.Stop();
        hers.Stop();
        at.Stop();
        await Until(() => !his.IsRunning && !hers.IsRunning && !last.IsRunning);
        Assert.Equal(SearchEnd.Finished, his.Result!.End);
        Assert.Equal(SearchEnd.Cancelled, last.Result!.End);
    }

    [Fact]
    public async Task A_search_that_breaks_off_says_why_and_is_marked()
    {
        var run = _searches.Ask(Ada, Guid.NewGuid(), Few() with { Design = Samples.Design() with { Zones = [] } }, "")!;
        await Until(() => !run.IsRunning);

        Assert.Equal(SearchEnd.Failed, run.Result!.End);
        Assert.False(string.IsNullOrWhiteSpace(run.Failure));
        var next = _searches.Ask(Ada, Guid.NewGuid(), Few(1), "")!;
        await Until(() => !next.IsRunning);
        Assert.Equal(SearchEnd.Finished, next.Result!.End);
    }

    [Fact]
    public async Task What_a_search_found_is_there_after_the_desk_was_started_again_and_says_how_it_ended()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var book = desk.App.GetRequiredService<SearchBook>();
        var (_, _, option) = await desk.AddVan();
        DesignSearchRun run;
        using (var before = new DesignSearches(NullLogger<DesignSearches>.Instance, desk.Time, book))
        {
            Assert.Null(await before.FindAsync(desk.Ada, option, Cancel));
            run = before.Ask(desk.Ada, option, Few(), "as asked")!;
            await Until(() => !run.IsRunning);
            await run.Writing;
        }

        Assert.Equal(SearchState.Finished, (await book.Of(desk.Ada, option, Cancel))!.State);
        using var after = new DesignSearches(NullLogger<DesignSearches>.Instance, desk.Time, book);
        Assert.Null(await after.FindAsync(desk.Stranger, option, Cancel));
        var again = (await after.FindAsync(desk.Ben, option, Cancel))!;
        Assert.Same(again, await after.FindAsync(desk.Ada, option, Cancel));
        Assert.False(again.IsRunning);
        Assert.Null(again.Failure);
        Assert.Equal(("as asked", run.AskedAt), (again.Fingerprint, again.AskedAt));
        Assert.Equal(KeptSearchJson.Write(run.Found!), KeptSearchJson.Write(again.Found!));

        // Begun again from there.
        var next = after.Ask(desk.Ben, option, Few(1), "changed")!;
        await Until(() => !next.IsRunning);
        await next.Writing;
        Assert.Equal("changed", (await book.Of(desk.Ada, option, Cancel))!.Fingerprint);
    }

    [Fact]
    public async Task One_that_was_at_work_when_the_desk_ended_says_so_and_keeps_what_it_had_found()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var book = desk.App.GetRequiredService<SearchBook>();
        var (_, _, option) = await desk.AddVan();
        var before = new DesignSearches(NullLogger<DesignSearches>.Instance, desk.Time, book);
        var run = before.Ask(desk.Ada, option, Long, "as asked")!;
        await Until(() => run.Progress?.Space is not null);
        await run.Writing;
        var first = (await book.Of(desk.Ada, option, Cancel))!;
        Assert.Equal((SearchState.Running, SearchEnd.Interrupted), (first.State, first.Found!.Result.End));
        Assert.Empty(first.Found.Result.Front);
        before.Dispose();
        await Until(() => !run.IsRunning);
        await run.Writing;

        // Nobody stopped it: the next start says how it ended.
        Assert.Equal(SearchState.Running, (await book.Of(desk.Ada, option, Cancel))!.State);
        await book.ProgramBegins(Cancel);
        using var after = new DesignSearches(NullLogger<DesignSearches>.Instance, desk.Time, book);
        var found = (await after.FindAsync(desk.Ada, option, Cancel))!;
        Assert.False(found.IsRunning);
        Assert.StartsWith("The program was ended while it searched", found.Result!.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_found_is_stored_while_it_is_at_work_and_a_stop_by_hand_is_kept_as_one()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var book = desk.App.GetRequiredService<SearchBook>();
        var (_, _, option) = await desk.AddVan();
        using var searches = new DesignSearches(NullLogger<DesignSearches>.Instance, desk.Time, book) { StoreEvery = TimeSpan.Zero };
        var run = searches.Ask(desk.Ada, option, Few(400) with { Book = PriceBooks.Default, Effort = new SearchEffort { MostCombinations = 60, MostYears = 400, YearsARound = 4, Worlds = 0 } }, "as asked")!;
        StoredSearch? stored = null;
        while (run.IsRunning && stored is not { Found.Result.Front.IsEmpty: false })
        {
            stored = await book.Of(desk.Ada, option, Cancel);
            await Task.Delay(20, Cancel);
        }

        Assert.Equal(SearchEnd.Interrupted, stored!.Found!.Result.End);
        Assert.NotEmpty(stored.Found.Result.Front);
        Assert.Equal(stored.Found.Result.Front.Length, stored.Found.Designs.Length);
        run.Stop();
        await Until(() => !run.IsRunning);
        await run.Writing;
        Assert.Equal(SearchState.Stopped, (await book.Of(desk.Ada, option, Cancel))!.State);
        Assert.Null(run.NotKept);
    }

    [Fact]
    public async Task A_store_that_cannot_be_written_is_said_beside_the_result_and_a_damaged_one_has_a_way_on()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var book = desk.App.GetRequiredService<SearchBook>();
        var (_, _, option) = await desk.AddVan();
        using var searches = new DesignSearches(NullLogger<DesignSearches>.Instance, desk.Time, book);
        await using (var db = desk.Contexts.OpenFor(desk.Ada.FirmId))
        {
            await db.Database.ExecuteSqlRawAsync("CREATE TRIGGER full BEFORE INSERT ON Searches BEGIN SELECT RAISE(FAIL, 'no room'); END", Cancel);
        }

        var run = searches.Ask(desk.Ada, option, Few(1), "as asked")!;
        await Until(() => !run.IsRunning);
        await run.Writing;
        Assert.NotNull(run.Result);
        Assert.NotNull(run.NotKept);

        await using (var db = desk.Contexts.OpenFor(desk.Ada.FirmId))
        {
            await db.Database.ExecuteSqlRawAsync("DROP TRIGGER full", Cancel);
            db.Add(new OptionSearch { VanId = (await db.Options.SingleAsync(o => o.Id == option, Cancel)).VanId, OptionId = option, AskedAt = DateTime.UnixEpoch, Fingerprint = "f", FoundAt = DateTime.UnixEpoch, Found = [1, 2, 3] });
            await db.SaveChangesAsync(Cancel);
        }

        using var after = new DesignSearches(NullLogger<DesignSearches>.Instance, desk.Time, book);
        var damaged = (await after.FindAsync(desk.Ada, option, Cancel))!;
        Assert.Null(damaged.Found);
        Assert.False(damaged.IsRunning);
        Assert.Contains("Search again", damaged.Failure, StringComparison.Ordinal);
        var next = after.Ask(desk.Ada, option, Few(1), "as asked")!;
        await Until(() => !next.IsRunning);
        await next.Writing;
        Assert.NotNull((await book.Of(desk.Ada, option, Cancel))!.Found);
    }

    [Fact]
    public async Task A_search_of_an_erased_client_ends_and_is_forgotten()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var (client, _, option) = await desk.AddVan();
        using var searches = new DesignSearches(NullLogger<DesignSearches>.Instance, desk.Time, desk.App.GetRequiredService<SearchBook>());
        var run = searches.Ask(desk.Ada, option, Long, "as asked")!;
        await run.Writing;
        await desk.Clients.EraseClient(desk.Ada, client, Cancel);
        run.Stop();
        await Until(() => !run.IsRunning);
        await run.Writing;
        Assert.Null(searches.Last(run.Of));
    }

    [Fact]
    public void The_fingerprint_is_the_same_for_equal_inputs_read_again_and_another_for_others()
    {
        var basis = new ConsultDesk.Web.Workspace.CostBasis(PriceBooks.Default, true, "EUR", new Wishes { BudgetNow = 900 });
        var again = new ConsultDesk.Web.Workspace.CostBasis(new PriceBook([.. PriceBooks.Default.Items]), true, "EUR", new Wishes { BudgetNow = 900 });
        var print = FoundDesign.FingerprintOf(Samples.Design(), basis);

        Assert.Equal(print, FoundDesign.FingerprintOf(Samples.Design(), again));
        Assert.NotEqual(print, FoundDesign.FingerprintOf(Samples.Design(3), basis));
        Assert.NotEqual(print, FoundDesign.FingerprintOf(Samples.Design(), basis with { Wishes = new Wishes { BudgetNow = 901 } }));
        Assert.NotEqual(print, FoundDesign.FingerprintOf(Samples.Design(), basis with { Currency = "GBP" }));
        Assert.NotEqual(print, FoundDesign.FingerprintOf(Samples.Design(), basis with { Book = new PriceBook([.. PriceBooks.Default.Items.Skip(1)]) }));
    }
}
