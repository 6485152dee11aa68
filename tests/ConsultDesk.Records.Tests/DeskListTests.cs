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

    [Theory]
    [MemberData(nameof(Both))]
    public async Task The_newest_plan_of_a_van_waits_until_its_client_opens_it(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var list = desk.App.GetRequiredService<DeskList>();
        var (_, van, option) = await desk.AddVan();
        Assert.Empty(await list.Waiting(desk.Ben, 100));
        var version = (await desk.Options.Load(desk.Ada, option))!.Version;
        await desk.Plans.Publish(desk.Ada, option, version, _ => new PlanText("{}", 1, "m"));
        desk.Time.Now += TimeSpan.FromMinutes(1);
        var second = await desk.Plans.Publish(desk.Ada, option, version, _ => new PlanText("{}", 1, "m"));

        var waiting = Assert.Single(await list.Waiting(desk.Ben, 100));
        Assert.Equal((second.PlanId, 2, van, (DateTime?)second.Link.ExpiresAt), (waiting.Id, waiting.Number, waiting.VanId, waiting.LinkEndsAt));
        Assert.Empty(await list.Waiting(desk.Stranger, 100));
        // A link taken back leaves the plan waiting, and without a way in.
        await desk.Plans.RevokeLink(desk.Ada, second.Link.LinkId);
        Assert.Null(Assert.Single(await list.Waiting(desk.Ben, 100)).LinkEndsAt);
        var link = await desk.Plans.AddLink(desk.Ada, second.PlanId);
        await desk.Plans.FindByToken(link.Token);
        Assert.Empty(await list.Waiting(desk.Ben, 100));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Options_stand_by_when_they_were_touched_and_plans_are_found_by_van_and_client(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var list = desk.App.GetRequiredService<DeskList>();
        var (_, _, first) = await desk.AddVan();
        desk.Time.Now += TimeSpan.FromMinutes(1);
        var client = await desk.Clients.AddClient(desk.Ada, new ClientInput("Zoë Ørsted"));
        var second = (await desk.Vans.AddVan(desk.Ada, client, new VanInput("Kråka", "long-high", "rear-platform-bed"), "As drawn", SampleDesign.Van())).OptionId;
        Assert.Equal([second, first], (await list.LastTouched(desk.Ben, 10)).Select(o => o.Id));
        desk.Time.Now += TimeSpan.FromMinutes(1);
        await desk.Options.Rename(desk.Ben, first, (await desk.Options.Load(desk.Ben, first))!.Version, "Renamed");

        var touched = Assert.Single(await list.LastTouched(desk.Ben, 1));
        Assert.Equal((first, "A", "Renamed", "Heron", "Runa Quill", "Ben Tarn"), (touched.Id, touched.Letter, touched.Name, touched.VanName, touched.ClientName, touched.UpdatedBy));
        Assert.Empty(await list.LastTouched(desk.Stranger, 10));

        foreach (var option in new[] { first, second })
        {
            await desk.Plans.Publish(desk.Ada, option, (await desk.Options.Load(desk.Ada, option))!.Version, _ => new PlanText("{}", 1, "m"));
        }

        Assert.Equal("Kråka", Assert.Single(await list.Plans(desk.Ben, 10, "kraka")).VanName);
        Assert.Equal("Heron", Assert.Single(await list.Plans(desk.Ben, 10, "QUILL")).VanName);
        Assert.Equal(2, (await list.Plans(desk.Ben, 10, " ")).Count);
        Assert.Empty(await list.Plans(desk.Ben, 10, "nobody"));
        Assert.Empty(await list.Plans(desk.Stranger, 10, "kraka"));
    }
}
