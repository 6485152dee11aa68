using System.Net;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Web.Tests.Shell;

public sealed class OtherFirmTests(DeskApp app) : IClassFixture<DeskApp>
{
    [Fact]
    public async Task Another_firms_client_van_and_plan_are_not_found_and_ones_own_are()
    {
        var cancel = TestContext.Current.CancellationToken;
        using var consultant = await app.ConsultantAsync();
        var firms = app.Services.GetRequiredService<Firms>();
        var clients = app.Services.GetRequiredService<ClientBook>();
        var vans = app.Services.GetRequiredService<VanBook>();
        var other = new SignedIn(
            await firms.Found(new("Otterbank Van Advice", "#334455", null, "EUR", UnitPreset.Metric), cancel), Guid.NewGuid(), "Ash Otterbank", DeskRole.Owner);
        var theirClient = await clients.AddClient(other, new("Their client"), cancel);
        var theirVan = await vans.AddVan(other, theirClient, new("Their van", "long-high", "rear-platform-bed"), "A", Presets.Build("long-high", Layout.RearPlatformBed), cancel);
        var theirOption = (await app.Services.GetRequiredService<VanOptions>().Load(other, theirVan.OptionId, cancel))!;
        var theirPlan = await app.Services.GetRequiredService<Records.Plans>().Publish(
            other, theirOption.Id, theirOption.Version, _ => new("{}", 1, "1"), "A danger stands in the van as it starts.", cancellation: cancel);
        var own = await app.DemoConsultantAsync();
        var ownClient = await clients.AddClient(own, new("Own client"), cancel);

        Assert.Equal(HttpStatusCode.NotFound, (await consultant.GetAsync($"/clients/{theirClient}", cancel)).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await consultant.GetAsync($"/clients/{theirClient}/vans/new", cancel)).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await consultant.GetAsync($"/vans/{theirVan.VanId}", cancel)).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await consultant.GetAsync($"/vans/{Guid.NewGuid()}", cancel)).StatusCode);
        foreach (var tail in new[] { "", "/read", "/pdf" })
        {
            Assert.Equal(HttpStatusCode.NotFound, (await consultant.GetAsync($"/plans/{theirPlan.PlanId}{tail}", cancel)).StatusCode);
        }

        Assert.Equal(HttpStatusCode.OK, (await consultant.GetAsync($"/clients/{ownClient}", cancel)).StatusCode);
    }
}
