using Bunit;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Web.Clients;
using ConsultDesk.Web.Desk;
using ConsultDesk.Web.Shell;
using ConsultDesk.Web.Tests.Shell;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using Xunit;
using TestContext = Xunit.TestContext;

namespace ConsultDesk.Web.Tests.Desk;

public sealed class DeskPageTests(DeskApp app) : IClassFixture<DeskApp>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task An_empty_desk_tells_the_next_step()
    {
        await using var context = Context(await FoundAsync("Empty desk"));

        var page = context.Render<DeskPage>();

        page.WaitForAssertion(() => Assert.Equal("clients/new", page.Find(".empty a").GetAttribute("href")));
    }

    [Fact]
    public async Task The_van_touched_last_comes_first_and_typing_finds_clients_and_vans_without_their_marks()
    {
        var who = await FoundAsync("Full desk");
        var first = await AddVanAsync(who, "Zoë Müller", "Heron");
        await AddVanAsync(who, "Anders", "Wren");
        await using var context = Context(who);
        var page = context.Render<DeskPage>();
        Assert.Equal(["Wren", "Heron"], Vans(page));

        var options = app.Services.GetRequiredService<VanOptions>();
        var option = (await options.OptionsOf(who, first.VanId, Cancel))[0];
        await options.Copy(who, option.Id, "Second try", Cancel);
        page = context.Render<DeskPage>();
        Assert.Equal(["Heron", "Wren"], Vans(page));

        await page.Find("#search").InputAsync(new ChangeEventArgs { Value = "zoe" });
        Assert.Equal(["Heron"], Vans(page));
        await page.Find("#search").InputAsync(new ChangeEventArgs { Value = "WREN" });
        Assert.Equal(["Wren"], Vans(page));
        await page.Find("#search").InputAsync(new ChangeEventArgs { Value = "nobody" });
        Assert.Contains("No van or client called “nobody”.", page.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_follow_up_stands_on_the_desk_with_its_day_the_overdue_first_until_it_is_ticked()
    {
        var who = await FoundAsync("Follow-up desk");
        var van = await AddVanAsync(who, "Anders", "Wren");
        var today = DateOnly.FromDateTime(DateTime.UtcNow);
        var book = app.Services.GetRequiredService<FollowUps>();
        await book.Add(who, van.VanId, new(today.AddDays(30), "Ask how the winter was"), Cancel);
        await book.Add(who, van.VanId, new(today.AddDays(-3), "Has the fitter come?"), Cancel);
        await using var context = Context(who);
        var page = context.Render<DeskPage>();

        page.WaitForAssertion(() => Assert.Contains("Has the fitter come?", page.Markup, StringComparison.Ordinal));
        Assert.Contains("overdue by 3 days", page.Markup, StringComparison.Ordinal);
        Assert.True(page.Markup.IndexOf("Has the fitter come?", StringComparison.Ordinal) < page.Markup.IndexOf("Ask how the winter was", StringComparison.Ordinal));
        await page.FindAll("input[type=checkbox]")[0].ChangeAsync(new ChangeEventArgs { Value = true });
        Assert.DoesNotContain("Has the fitter come?", page.Markup, StringComparison.Ordinal);
        Assert.Contains("Ask how the winter was", page.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public async Task While_the_screen_is_shared_no_client_is_named()
    {
        await using var context = Context(await app.DemoConsultantAsync());
        var browser = context.Services.GetRequiredService<ThisBrowser>();
        var page = context.Render<DeskPage>();
        page.WaitForAssertion(() => Assert.NotEmpty(page.FindAll("main a, a[href^=clients]")));

        await page.InvokeAsync(() => browser.Share(true));

        page.WaitForAssertion(() => Assert.Contains("other clients are named here", page.Markup, StringComparison.Ordinal));
        Assert.Empty(page.FindAll("a"));
        await page.InvokeAsync(() => browser.Share(false));
        page.WaitForAssertion(() => Assert.NotEmpty(page.FindAll("a[href^=clients]")));
    }

    [Fact]
    public async Task Of_many_clients_the_page_shows_a_hundred_and_more_when_asked_and_says_how_many_there_are()
    {
        var who = await FoundAsync("Busy desk");
        var clients = app.Services.GetRequiredService<ClientBook>();
        for (var i = 0; i < 103; i++)
        {
            await clients.AddClient(who, new(FormattableString.Invariant($"Client {i:000}")), Cancel);
        }

        await using var context = Context(who);
        var page = context.Render<ClientsPage>();
        Assert.Equal(100, page.FindAll(".rows .entry").Count);
        Assert.Contains("The first 100 of 103, by name.", page.Find(".more").TextContent, StringComparison.Ordinal);

        await page.Find(".more button").ClickAsync();
        Assert.Equal("Client 102", page.FindAll(".rows .entry-name")[^1].TextContent);
        Assert.Empty(page.FindAll(".more"));

        await page.Find("#search").InputAsync(new ChangeEventArgs { Value = "client 1" });
        Assert.Equal(["Client 100", "Client 101", "Client 102"], page.FindAll(".rows .entry-name").Select(e => e.TextContent));
    }

    private static List<string> Vans(IRenderedComponent<DeskPage> page) =>
        [.. page.FindAll("section[aria-labelledby=vans-head] .entry-name").Select(e => e.TextContent)];

    private async Task<AddedVan> AddVanAsync(SignedIn who, string client, string van)
    {
        var clientId = await app.Services.GetRequiredService<ClientBook>().AddClient(who, new(client), Cancel);
        return await app.Services.GetRequiredService<VanBook>().AddVan(
            who, clientId, new(van, "long-high", "rear-platform-bed"), "Own idea", Presets.Build("long-high", Layout.RearPlatformBed), Cancel);
    }

    private async Task<SignedIn> FoundAsync(string firm) => new(
        await app.Services.GetRequiredService<Firms>().Found(new(firm, "#334455", null, "EUR", UnitPreset.Metric), Cancel), Guid.NewGuid(), "Ash", DeskRole.Owner);

    private BunitContext Context(SignedIn who)
    {
        var context = new BunitContext();
        context.Services.AddSingleton(app.Services.GetRequiredService<DeskList>());
        context.Services.AddSingleton(app.Services.GetRequiredService<ClientBook>());
        context.Services.AddSingleton(app.Services.GetRequiredService<ConsultBook>());
        context.Services.AddSingleton(app.Services.GetRequiredService<FollowUps>());
        context.Services.AddSingleton(app.Services.GetRequiredService<Intakes>());
        context.Services.AddSingleton(app.Services.GetRequiredService<PlanReplies>());
        context.Services.AddSingleton(app.Services.GetRequiredService<CheckBacks>());
        context.Services.AddSingleton(TimeProvider.System);
        context.Services.AddScoped<ThisBrowser>();
        context.Services.GetRequiredService<ThisBrowser>().Tell("UTC", sharing: false);
        context.RenderTree.Add<CascadingValue<SignedIn>>(p => p.Add(v => v.Value, who));
        return context;
    }
}
