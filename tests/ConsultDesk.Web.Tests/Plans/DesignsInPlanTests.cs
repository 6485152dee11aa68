using System.Collections.Immutable;
using System.Globalization;
using System.Numerics;
using System.Text;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Web.Plans;
using ConsultDesk.Web.Tests.Shell;
using ConsultDesk.Web.Workspace;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using UglyToad.PdfPig;
using Xunit;

namespace ConsultDesk.Web.Tests.Plans;

/// <summary>The designs that were found, from the store to the client's page and paper.</summary>
public sealed class DesignsInPlanTests(DeskApp app) : IClassFixture<DeskApp>
{
    private const int MostBytes = 150_000;
    private const string Reason = "The client keeps the heater until spring and was told not to sleep with it lit.";

    private static readonly DateTime Found = new(2026, 11, 29, 21, 14, 0, DateTimeKind.Utc);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private T Get<T>()
        where T : notnull => app.Services.GetRequiredService<T>();

    [Fact]
    public async Task Every_demo_vans_plan_shows_them_with_its_own_design_marked_and_stays_light()
    {
        var who = await app.DemoConsultantAsync();
        var vans = await Get<DeskList>().Vans(who, "", cancellation: Cancel);
        Assert.True(vans.Count >= 3, FormattableString.Invariant($"Only {vans.Count} vans."));
        foreach (var van in vans)
        {
            var line = (await Get<VanOptions>().OptionsOf(who, van.Id, Cancel))[^1];
            var option = (await Get<VanOptions>().Load(who, line.Id, Cancel))!;
            var assessment = Assessor.Assess(option.Design, AssessmentDepth.Year, cancellation: Cancel);
            await Get<SearchBook>().Keep(who, option.Id, new(SearchState.Finished, Found, Found, "f", Kept(option.Design)), Cancel);
            await Get<SearchBook>().ShowInPlan(who, option.Id, Cancel);
            try
            {
                var matter = new PlanMatter(option.Id, option.Version, option.Design, assessment, DangerReason: Reason);
                var published = await Get<PlanPress>().PublishAsync(who, matter, Cancel);
                using var reader = app.Visitor();
                var answer = await reader.GetAsync("/plan/" + published.Link.Token, Cancel);
                var bytes = (await answer.Content.ReadAsByteArrayAsync(Cancel)).Length;
                TestContext.Current.TestOutputHelper!.WriteLine(FormattableString.Invariant($"{van.Name}: {bytes} bytes"));
                Assert.True(bytes < MostBytes, FormattableString.Invariant($"{van.Name}: {bytes} bytes"));
                var page = await DeskApp.ParseAsync(answer);
                var section = page.GetElementById(PlanComposer.Searched)!;
                Assert.Contains("none was found that costs no more and is drier", section.QuerySelector("p")!.TextContent, StringComparison.Ordinal);
                Assert.Contains("The design of this plan", section.QuerySelector("figure desc")!.TextContent, StringComparison.Ordinal);
                Assert.Equal(7, section.QuerySelectorAll("tbody tr").Length);

                if (van != vans[^1])
                {
                    continue;
                }

                using var pdf = PdfDocument.Open(await reader.GetByteArrayAsync($"/plan/{published.Link.Token}/pdf", Cancel));
                var words = string.Join(' ', pdf.GetPages().SelectMany(p => p.GetWords()).Select(word => word.Text));
                Assert.Contains("none was found that costs no more and is drier", words, StringComparison.Ordinal);
            }
            finally
            {
                await Get<SearchBook>().TakeOutOfPlan(who, option.Id, Cancel);
            }
        }
    }

    [Fact]
    public async Task The_place_of_another_design_is_worked_out_in_the_numbers_of_the_search()
    {
        var who = await app.DemoConsultantAsync();
        var van = (await Get<DeskList>().Vans(who, "Snow Hare", cancellation: Cancel)).Single();
        var line = (await Get<VanOptions>().OptionsOf(who, van.Id, Cancel))[^1];
        var option = (await Get<VanOptions>().Load(who, line.Id, Cancel))!;
        var assessment = Assessor.Assess(option.Design, AssessmentDepth.Year, cancellation: Cancel);
        var kept = Kept(option.Design with { Household = option.Design.Household with { Sleepers = 1 } });
        await Get<SearchBook>().Keep(who, option.Id, new(SearchState.Finished, Found, Found, "f", kept), Cancel);
        await Get<SearchBook>().ShowInPlan(who, option.Id, Cancel);
        try
        {
            var published = await Get<PlanPress>().PublishAsync(who, new(option.Id, option.Version, option.Design, assessment, DangerReason: Reason), Cancel);
            var snapshot = PlanPress.Read((await Get<Records.Plans>().Plan(who, published.PlanId, Cancel))!);
            var row = snapshot.Sections.Single(section => section.Id == PlanComposer.Searched).Blocks.OfType<FigureBlock>().Single().Figure.Table.Rows[0];
            var book = (await Get<FirmPrices>().Load(who, Cancel)).Book;

            Assert.Equal("This plan", row[0]);
            Assert.Equal(((double)Calculations.Costs.Costing.Of(option.Design, book).Now).ToString("#,0", CultureInfo.InvariantCulture).Replace(",", "\u00A0", StringComparison.Ordinal), row[1]);
            Assert.Equal(4, row.Length);
        }
        finally
        {
            await Get<SearchBook>().TakeOutOfPlan(who, option.Id, Cancel);
        }
    }

    [Fact]
    public async Task Damaged_designs_stop_the_plan_with_a_way_on()
    {
        var who = await app.DemoConsultantAsync();
        var van = (await Get<DeskList>().Vans(who, "Little Wren", cancellation: Cancel)).Single();
        var line = (await Get<VanOptions>().OptionsOf(who, van.Id, Cancel))[0];
        var option = (await Get<VanOptions>().Load(who, line.Id, Cancel))!;
        var matter = new PlanMatter(option.Id, option.Version, option.Design, Assessor.Assess(option.Design, cancellation: Cancel), DangerReason: Reason);
        await Get<SearchBook>().Keep(who, option.Id, new(SearchState.Finished, Found, Found, "f", Kept(option.Design)), Cancel);
        await Get<SearchBook>().ShowInPlan(who, option.Id, Cancel);
        await using (var db = Get<FirmContexts>().OpenFor(who.FirmId))
        {
            await db.Searches.Where(s => s.OptionId == option.Id).ExecuteUpdateAsync(row => row.SetProperty(s => s.InPlan, Encoding.UTF8.GetBytes("damaged")), Cancel);
        }

        var refused = await Assert.ThrowsAsync<PublishRefusedException>(() => Get<PlanPress>().PublishAsync(who, matter, Cancel));
        Assert.Contains("Take them out of the plan", refused.Message, StringComparison.Ordinal);
        await Assert.ThrowsAsync<PublishRefusedException>(() => Get<PlanPress>().PreviewAsync(who, matter, Cancel));
        await Get<SearchBook>().TakeOutOfPlan(who, option.Id, Cancel);
        Assert.Null((await Get<PlanPress>().PreviewAsync(who, matter, Cancel)).DesignsFoundAt);
    }

    // As large as a front gets: sixty designs of many choices. The last is the design itself.
    private static KeptSearch Kept(Design design)
    {
        ImmutableArray<FrontMember> front =
        [
            .. Enumerable.Range(0, 60).Select(n => new FrontMember
            {
                Candidate = n,
                Words = [.. Enumerable.Range(0, 6).Select(choice => string.Create(CultureInfo.InvariantCulture, $"Choice {choice}: a vent of forty centimetres in the roof over the bed, design {n}"))],
                Numbers = new ObjectiveNumbers([n * 97.5, 240 - n, 900 - (n * 14.2), 0.4, 40 + n, 6, 31, 1.2, n / 8]),
                Ties = [],
                Score = n / 60.0,
                ChanceOnFront = 0.8,
            }),
        ];
        return new KeptSearch
        {
            Asked = design with { Household = design.Household with { Sleepers = 0 } },
            Result = new SearchResult
            {
                End = SearchEnd.Finished,
                Message = "m",
                Currency = "EUR",
                Start = new ObjectiveNumbers([0, 250, 1200, 2, 60, 7, 0, 0.8, 0]),
                Front = front,
                Named = [.. front.Where(member => member.Candidate % 12 == 11).Select(member => new NamedDesign(member, $"The one of {member.Candidate}", "s", false))],
                Calculated = front.ToImmutableSortedDictionary(member => member.Candidate, member => member.Numbers),
            },
            Space = new KeptSpace(14, new SpaceSize(BigInteger.Pow(10, 12), 12_288, 8976), [], []),
            Years = 240,
            Designs = [.. front.Select(member => member.Candidate == 59 ? design : design with { Household = design.Household with { Sleepers = 0 } })],
        };
    }
}
