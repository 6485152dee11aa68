using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace ConsultDesk.Browser.Tests;

/// <summary>Every page of the desk, by the way a person gets to it.</summary>
public static partial class EveryPage
{
    /// <summary>Walks all pages in a window of that size and does something on each.</summary>
    /// <param name="desk">A demo desk.</param>
    /// <param name="screen">Size of the window.</param>
    /// <param name="look">Told the page and its name.</param>
    public static async Task Walk(Desk desk, Screen screen, Func<IPage, string, Task> look)
    {
        await using var consultant = await desk.Consultant(screen);
        await using var stranger = await desk.Stranger(screen);
        var mine = consultant.Page;
        async Task Look(IPage page, string name)
        {
            await Pictures.TakeWhenAsked(page, name, screen);
            await look(page, name);
        }

        await stranger.Page.GotoAsync("/sign-in");
        await Look(stranger.Page, "sign-in");

        await mine.GotoAsync("/");
        await Heading(mine);
        await Expect(mine.GetByRole(AriaRole.Region, new() { Name = "Vans" }).GetByRole(AriaRole.Link).First).ToBeVisibleAsync();
        await Look(mine, "desk");
        var van = await Address(mine, VanPath());
        var client = await Address(mine, ClientPath());
        var plan = await Address(mine, PlanPath());

        foreach (var (name, address) in new[]
        {
            ("clients", "/clients"), ("client", client), ("new-client", "/clients/new"), ("new-van", client + "/vans/new"),
            ("plan-links", plan), ("plan-read", plan + "/read"), ("consults", van + "/consults"), ("timeline", van + "/timeline"), ("report-taken-down", plan + "/report"), ("prices", "/prices"), ("firm", "/firm"), ("people", "/people"), ("audit", "/audit"), ("account", "/account"), ("authenticator", "/account/authenticator"), ("agendas", "/agendas"), ("client-import", "/clients/import"), ("not-found", "/no-such-page"),
        })
        {
            consultant.Watch.Expect("no-such-page");
            await mine.GotoAsync(address);
            await Heading(mine);
            // What says that it is being read, not every text with the word in it.
            await Expect(mine.GetByRole(AriaRole.Status).Filter(new() { HasText = "Reading" })).ToHaveCountAsync(0);
            await Look(mine, name);
        }

        await mine.GotoAsync("/clients/new");
        await new NewClientPage(mine).Create.ClickAsync();
        await Expect(mine.GetByRole(AriaRole.Alert)).ToBeVisibleAsync();
        await Look(mine, "new-client-refused");

        var workspace = new WorkspacePage(mine);
        await mine.GotoAsync(van);
        await workspace.UntilAssessed();
        await Look(mine, "workspace");
        // On a phone the drawing, and the way to the night in it, is another part of the page.
        await mine.GotoAsync("/" + await mine.Locator(".board a[href$='/night']").GetAttributeAsync("href"));
        await Expect(mine.GetByRole(AriaRole.Button, new() { Name = "Play", Exact = true })).ToBeVisibleAsync();
        await Look(mine, "night");
        await mine.GotoAsync(van);
        await workspace.UntilAssessed();
        foreach (var part in new[] { "Drawing", "Results" })
        {
            var button = mine.GetByRole(AriaRole.Button, new() { Name = part, Exact = true });
            if (await button.IsVisibleAsync())
            {
                await button.ClickAsync();
                await Look(mine, "workspace-" + part.ToLowerInvariant());
            }
        }

        await mine.GetByRole(AriaRole.Button, new() { Name = "Agenda", Exact = true }).Last.ClickAsync();
        await Expect(mine.Locator("li.point").First).ToBeVisibleAsync();
        await Look(mine, "workspace-agenda");
        foreach (var button in await mine.GetByRole(AriaRole.Button, new() { Name = "Results", Exact = true }).AllAsync())
        {
            if (await button.IsVisibleAsync())
            {
                await button.ClickAsync();
            }
        }

        await workspace.UntilTheYearIsThere();
        foreach (var part in new[] { "Night", "Situations", "Year", "Walls", "Heat", "Card", "Cost", "Helps", "Ask", "Designs", "Overview" })
        {
            await workspace.Show(part);
            if (part == "Ask")
            {
                await Expect(workspace.Results.GetByRole(AriaRole.Heading, new() { Name = "What would turn each finding" })).ToBeVisibleAsync(new() { Timeout = 60_000 });
            }

            await Look(mine, "workspace-results-" + part.ToLowerInvariant());
        }

        await mine.Locator(".units-menu > summary").ClickAsync();
        await Expect(mine.Locator(".units-menu .drop-sheet")).ToBeVisibleAsync();
        await Look(mine, "workspace-units");
        await mine.Keyboard.PressAsync("Escape");
        await mine.Keyboard.PressAsync("?");
        await Expect(mine.Locator("#shortcuts")).ToBeVisibleAsync();
        await Look(mine, "keys");
        await mine.Keyboard.PressAsync("Escape");

        await mine.GotoAsync("/clients/new");
        var form = new NewClientPage(mine);
        await form.Type("Name", "Soon Gone");
        await form.Type("What they call the van", "Ash");
        await form.DescribeTheVan();
        await form.Create.ClickAsync();
        await workspace.UntilAssessed();
        await mine.GotoAsync("/" + await mine.Locator(".workspace-client").GetAttributeAsync("href"));
        await mine.GetByRole(AriaRole.Button, new() { Name = "Change", Exact = true }).ClickAsync();
        await mine.GetByRole(AriaRole.Button, new() { Name = "Erase this client…" }).ClickAsync();
        await mine.GetByRole(AriaRole.Button, new() { Name = "Erase everything" }).ClickAsync();
        await mine.WaitForURLAsync("**/clients/erased/**");
        await Heading(mine);
        await Look(mine, "client-erased");

        await stranger.Page.GotoAsync(await NewLink(mine, plan));
        await Heading(stranger.Page);
        await Look(stranger.Page, "plan");

        await stranger.Page.GotoAsync(new Uri(stranger.Page.Url).AbsolutePath + "/reply");
        await Heading(stranger.Page);
        await Look(stranger.Page, "plan-reply");

        var planLink = new Uri(stranger.Page.Url).AbsolutePath.Replace("/reply", "", StringComparison.Ordinal);
        await stranger.Page.GotoAsync(planLink + "/report");
        await Heading(stranger.Page);
        await Look(stranger.Page, "plan-report");
        await stranger.Page.GotoAsync(planLink + "/tonight");
        await Heading(stranger.Page);
        await Look(stranger.Page, "plan-tonight");

        // The client's questions, step by step, and what the consultant sees of them.
        await mine.GotoAsync(client);
        var intake = await NewIntakeLink(mine);
        await Look(mine, "client-intake-link");
        await stranger.Page.GotoAsync(intake);
        await Look(stranger.Page, "intake");
        foreach (var step in IntakeSteps)
        {
            await stranger.Page.GotoAsync($"{intake}/{step}");
            await Expect(stranger.Page.Locator("form.intake")).ToBeVisibleAsync();
            await Look(stranger.Page, "intake-" + step);
        }

        await mine.GotoAsync(await Address(mine, IntakePath()));
        await Heading(mine);
        await Look(mine, "intake-review");

        stranger.Watch.Expect("/plan/");
        await stranger.Page.GotoAsync("/plan/nothing-that-was-ever-published");
        await Look(stranger.Page, "plan-missing");

        consultant.AssertSilent();
        stranger.AssertSilent();
    }

    /// <summary>The pages of the client's questions in their order, by the ends of their addresses.</summary>
    public static IReadOnlyList<string> IntakeSteps { get; } = ["van", "people", "habits", "route", "there", "build", "wishes", "photos", "send"];

    /// <summary>Makes a link to the client's questions about the first van on the client's page and gives its address.</summary>
    public static async Task<string> NewIntakeLink(IPage page)
    {
        await page.GetByRole(AriaRole.Button, new() { Name = "Make an intake link" }).First.ClickAsync();
        return await page.GetByLabel("Link for the client").InputValueAsync();
    }

    /// <summary>Makes a new link to a published plan and gives its address.</summary>
    public static async Task<string> NewLink(IPage page, string planAddress)
    {
        await page.GotoAsync(planAddress);
        await page.GetByRole(AriaRole.Button, new() { Name = "Make a new link" }).ClickAsync();
        return await page.GetByLabel("New link").InputValueAsync();
    }

    private static Task Heading(IPage page) => Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToBeVisibleAsync();

    private static async Task<string> Address(IPage page, Regex path)
    {
        var all = await page.Locator("main a[href]").EvaluateAllAsync<string[]>("links => links.map(link => new URL(link.href).pathname)");
        return Assert.IsType<string>(all.FirstOrDefault(path.IsMatch));
    }

    [GeneratedRegex("^/vans/[0-9a-f-]{36}$")]
    private static partial Regex VanPath();

    [GeneratedRegex("^/clients/[0-9a-f-]{36}$")]
    private static partial Regex ClientPath();

    [GeneratedRegex("^/vans/[0-9a-f-]{36}/intakes/[0-9a-f-]{36}$")]
    private static partial Regex IntakePath();

    [GeneratedRegex("^/plans/[0-9a-f-]{36}$")]
    private static partial Regex PlanPath();
}
