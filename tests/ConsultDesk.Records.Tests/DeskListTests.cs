using ConsultDesk.Testing;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>The lists a consultant sees first.</summary>
public sealed class DeskListTests(TestStores stores) : IClassFixture<TestStores>
{
    public static TheoryData<StoreKind> Both => TestStores.Both;

    [Theory]
    [MemberData(nameof(Both))]
    public async Task What_was_touched_last_comes_first_with_its_options_and_newest_plan_and_only_for_its_firm(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var list = desk.App.GetRequiredService<DeskList>();
        var (_, first, firstOption) = await desk.AddVan();
        desk.Time.Now += TimeSpan.FromMinutes(1);
        var (secondClient, second, _) = await desk.AddVan();
        Assert.Equal([second, first], (await list.Vans(desk.Ben)).Select(v => v.Id));

        desk.Time.Now += TimeSpan.FromMinutes(1);
        await desk.Options.Copy(desk.Ada, firstOption, "Second try");
        desk.Time.Now += TimeSpan.FromMinutes(1);
        var version = (await desk.Options.Load(desk.Ada, firstOption))!.Version;
        var published = await desk.Plans.Publish(desk.Ada, firstOption, version, _ => new PlanText("{}", 1, "m"));

        var vans = await list.Vans(desk.Ben);
        Assert.Equal([first, second], vans.Select(v => v.Id));
        Assert.Equal((2, 1, published.PublishedAt), (vans[0].Options, vans[0].LastPlan, vans[0].TouchedAt));
        Assert.Equal((1, null), (vans[1].Options, vans[1].LastPlan));

        var plan = Assert.Single(await list.Plans(desk.Ben, 10));
        Assert.Equal((published.PlanId, 1, null), (plan.Id, plan.Number, plan.LastOpenedAt));
        await desk.Plans.FindByToken(published.Link.Token);
        Assert.Equal(published.PublishedAt, Assert.Single(await list.Plans(desk.Ben, 10)).LastOpenedAt);

        Assert.Empty(await list.Vans(desk.Stranger));
        Assert.Empty(await list.Plans(desk.Stranger, 10));
        Assert.Empty(await list.Vans(desk.Ben, "no such name"));
        foreach (var (record, id) in new[] { (DeskRecord.Client, secondClient), (DeskRecord.Van, first), (DeskRecord.Plan, published.PlanId) })
        {
            Assert.True(await list.Has(desk.Ben, record, id));
            Assert.False(await list.Has(desk.Stranger, record, id));
            Assert.False(await list.Has(desk.Ben, record, Guid.NewGuid()));
        }
    }
}
