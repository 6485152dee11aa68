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

    [Fact]
    public async Task A_search_that_ended_with_a_killed_program_says_so_after_the_next_start_and_is_begun_again()
    {
        var process = await DeskProcess.StartDemo(Store.Sqlite, TestContext.Current.CancellationToken);
        try
        {
            var desk = new Desk(await desks.Browser(), process);
            string option;
            await using (var window = await desk.Consultant())
            {
                var workspace = await WorkspacePage.OfTheDemosVan(window.Page);
                option = new Uri(window.Page.Url).PathAndQuery;
                await workspace.Show("Designs");
                await workspace.Results.GetByRole(AriaRole.Button, new() { Name = "Search the designs" }).ClickAsync();
                await Expect(workspace.Results.GetByText("looked at in situations,")).ToBeVisibleAsync(new() { Timeout = 60_000 });
                await process.Kill();
                await window.Page.CloseAsync();
                window.Leave();
            }

            process = await process.StartAgain(TestContext.Current.CancellationToken);
            desk = desk.Again(process);
            await using (var window = await desk.Consultant())
            {
                await window.Page.GotoAsync(option);
                var workspace = new WorkspacePage(window.Page);
                await workspace.UntilAssessed();
                await workspace.Show("Designs");
                await Expect(workspace.Results.Locator("[data-end=interrupted]")).ToContainTextAsync("The program was ended while it searched");
                await workspace.Results.GetByRole(AriaRole.Button, new() { Name = "Search again" }).ClickAsync();
                await Expect(workspace.Results.GetByText("looked at in situations,")).ToBeVisibleAsync(new() { Timeout = 60_000 });
                window.AssertSilent();
            }
        }
        finally
        {
            await process.DisposeAsync();
        }
    }
}
