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
            ("plan-links", plan), ("firm", "/firm"), ("not-found", "/no-such-page"),
        })
        {
            consultant.Watch.Expect("no-such-page");
            await mine.GotoAsync(address);
            await Heading(mine);
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
        foreach (var part in new[] { "Drawing", "Results" })
        {
            var button = mine.GetByRole(AriaRole.Button, new() { Name = part, Exact = true });
            if (await button.IsVisibleAsync())
            {
                await button.ClickAsync();
                await Look(mine, "workspace-" + part.ToLowerInvariant());
            }
        }

        await workspace.UntilTheYearIsThere();
        foreach (var part in new[] { "Night", "Situations", "Year", "Walls", "Heat", "Card", "Overview" })
        {
            await workspace.Show(part);
            await Look(mine, "workspace-results-" + part.ToLowerInvariant());
        }

        await stranger.Page.GotoAsync(await NewLink(mine, plan));
        await Heading(stranger.Page);
        await Look(stranger.Page, "plan");

        stranger.Watch.Expect("/plan/");
        await stranger.Page.GotoAsync("/plan/nothing-that-was-ever-published");
        await Look(stranger.Page, "plan-missing");

        consultant.AssertSilent();
        stranger.AssertSilent();
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

    [GeneratedRegex("^/plans/[0-9a-f-]{36}$")]
    private static partial Regex PlanPath();
}
