using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Web.Workspace.Designs;
using Microsoft.Extensions.Logging.Abstractions;
using Xunit;

namespace ConsultDesk.Web.Tests.Workspace.Designs;

/// <summary>Searches that outlive the page that asked for them.</summary>
public sealed class DesignSearchesTests : IDisposable
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
