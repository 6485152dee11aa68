using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace ConsultDesk.Browser.Tests;

/// <summary>A search of all designs as a consultant sees it: in the background, through a reload, and stopped.</summary>
public sealed class DesignsTests(Desks desks)
{
    [Fact]
    public async Task A_search_goes_on_when_the_page_is_read_again_and_stops_at_once_with_what_it_found()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Consultant();
        var page = window.Page;
        var workspace = await WorkspacePage.OfTheDemosVan(page);
        await workspace.CopyTo("All designs");
        await workspace.Show("Designs");
        await workspace.Results.GetByRole(AriaRole.Button, new() { Name = "Search the designs" }).ClickAsync();
        // Counted and being looked at.
        await Expect(workspace.Results.GetByText("looked at in situations,")).ToBeVisibleAsync(new() { Timeout = 60_000 });

        await page.ReloadAsync();
        await workspace.UntilAssessed();
        await workspace.Show("Designs");
        await Expect(workspace.Results.GetByText("looked at in situations,")).ToBeVisibleAsync();
        await workspace.Results.GetByRole(AriaRole.Button, new() { Name = "Stop", Exact = true }).ClickAsync();
        await Expect(workspace.Results.Locator("[data-end=cancelled]")).ToBeVisibleAsync();
        await Expect(workspace.Results.GetByRole(AriaRole.Button, new() { Name = "Search again" })).ToBeVisibleAsync();
        await workspace.Results.GetByText("What was looked at, and what rules took away").ClickAsync();
        foreach (var screen in new[] { Screen.Desktop, Screen.Phone })
        {
            await page.SetViewportSizeAsync(screen.Width, screen.Height);
            Assert.Empty(await PageTests.Faults(page, "designs", screen));
        }

        window.AssertSilent();
    }
}
