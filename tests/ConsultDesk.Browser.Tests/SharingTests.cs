using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace ConsultDesk.Browser.Tests;

/// <summary>The screen while a client looks at it, and the line to the server.</summary>
public sealed class SharingTests(Desks desks)
{
    [Fact]
    public async Task While_the_screen_is_shared_nothing_private_and_no_other_client_is_in_the_pages()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Consultant();
        var page = window.Page;
        await page.GotoAsync("/clients");
        await page.Locator("main .entry-name a").First.WaitForAsync();
        var names = await page.Locator("main .entry-name a").AllInnerTextsAsync();
        const string shown = "Ines Calloway";
        Assert.Contains(shown, names);
        Assert.True(names.Count > 1, "The demo has several clients.");
        await page.GetByRole(AriaRole.Link, new() { Name = shown, Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Heading, new() { Level = 2 }).GetByRole(AriaRole.Link).First.ClickAsync();
        var workspace = new WorkspacePage(page);
        await workspace.UntilAssessed();
        await page.GetByRole(AriaRole.Group, new() { Name = "Inputs, situation or agenda" }).GetByRole(AriaRole.Button, new() { Name = "Agenda" }).ClickAsync();
        var notes = page.Locator("textarea[name=private-notes]");
        await notes.FillAsync("MARKER-5518 only for me");
        await notes.BlurAsync();
        await Expect(page.Locator(".notes [data-save]")).ToContainTextAsync("aved");
        var letters = await page.EvaluateAsync<double>("() => parseFloat(getComputedStyle(document.documentElement).fontSize)");

        await page.GetByRole(AriaRole.Button, new() { Name = "Sharing screen: off" }).ClickAsync();

        await Expect(notes).ToHaveCountAsync(0);
        Assert.DoesNotContain("MARKER-5518", await page.ContentAsync(), StringComparison.Ordinal);
        var shared = await page.ContentAsync();
        Assert.All(names.Where(name => name != shown), name => Assert.DoesNotContain(name, shared, StringComparison.Ordinal));
        Assert.True(await page.EvaluateAsync<double>("() => parseFloat(getComputedStyle(document.documentElement).fontSize)") > letters);

        await workspace.Show("Cost");
        await Expect(workspace.Results.Locator("[data-number=cost-now]")).ToBeVisibleAsync();
        await page.GetByLabel("Hide prices").CheckAsync();
        await Expect(workspace.Results.Locator("[data-number=cost-now]")).ToHaveCountAsync(0);

        foreach (var address in new[] { "/", "/clients" })
        {
            await page.GotoAsync(address);
            await Expect(page.GetByText("other clients are named here")).ToBeVisibleAsync();
            var html = await page.ContentAsync();
            Assert.All(names, name => Assert.DoesNotContain(name, html, StringComparison.Ordinal));
        }

        await page.GetByLabel("Hide prices").UncheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Sharing screen: on" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = shown, Exact = true })).ToBeVisibleAsync();
        window.AssertSilent();
    }

    [Fact]
    public async Task Units_switch_while_a_van_is_open_and_nothing_stored_moves()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Consultant();
        var page = window.Page;
        var workspace = await WorkspacePage.OfTheDemosVan(page);
        await workspace.CopyTo("Read in other units");
        var undo = await workspace.Undo.InnerTextAsync();
        var metric = await workspace.Headline("outdoor-air").InnerTextAsync();
        Assert.Contains("m³/h", metric, StringComparison.Ordinal);

        await page.GetByText("Units", new() { Exact = true }).First.ClickAsync();
        // The client's, not the user's: other tests are signed in as the same user.
        var theirs = page.Locator(".units-of").Nth(1);
        await theirs.Locator("summary").First.ClickAsync();
        await theirs.Locator("input[value=Imperial]").CheckAsync();
        await Expect(theirs.Locator("summary").First).ToContainTextAsync("imperial");
        await Expect(workspace.Headline("outdoor-air")).ToHaveTextAsync(metric);
        await page.Locator("input[name=units-shown]").Nth(1).CheckAsync();
        await Expect(workspace.Headline("outdoor-air")).ToContainTextAsync("cfm");
        await page.Locator("input[name=units-shown]").First.CheckAsync();
        await Expect(workspace.Headline("outdoor-air")).ToHaveTextAsync(metric);
        await theirs.GetByRole(AriaRole.Button, new() { Name = "As the firm’s" }).ClickAsync();

        // Switching is no edit, and a typed unit is taken as it is said.
        Assert.Equal(undo, await workspace.Undo.InnerTextAsync());
        await page.Keyboard.PressAsync("Escape");
        var stop = await workspace.Group("Stop");
        await WorkspacePage.Type(stop, "Altitude", "1000 ft");
        await Expect(WorkspacePage.Field(stop, "Altitude")).ToHaveValueAsync("305");
        window.AssertSilent();
    }

    [Fact]
    public async Task A_dropped_line_says_so_and_what_was_edited_before_is_there_when_the_page_is_loaded_again()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Consultant();
        var page = window.Page;
        var workspace = await WorkspacePage.OfTheDemosVan(page);
        await workspace.CopyTo("Line dropped");
        await WorkspacePage.Choose(await workspace.Group("Stop"), "Month", "June");
        await workspace.UntilSaved();

        await page.Context.SetOfflineAsync(true);
        await page.EvaluateAsync("() => window.Blazor._internal?.forceCloseConnection?.()");
        var dialog = page.GetByRole(AriaRole.Dialog, new() { Name = "The connection is away" });
        await Expect(dialog).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await Expect(dialog).ToContainTextAsync("What was saved is kept");
        await page.Context.SetOfflineAsync(false);
        await Expect(dialog).Not.ToBeVisibleAsync(new() { Timeout = 60_000 });

        // It goes on where it was.
        await WorkspacePage.ExpectChosen(await workspace.Group("Stop"), "Month", "June");
        await WorkspacePage.Choose(await workspace.Group("Stop"), "Month", "May");
        await workspace.UntilSaved();
        await page.ReloadAsync();
        await workspace.UntilAssessed();
        await WorkspacePage.ExpectChosen(await workspace.Group("Stop"), "Month", "May");
        // Chromium complains of every try of the dropped line.
        window.Leave();
    }

    [Fact]
    public async Task The_keys_are_listed_under_the_question_mark_and_do_what_the_list_says()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Consultant();
        var page = window.Page;
        await page.GotoAsync("/");
        await page.GetByRole(AriaRole.Heading, new() { Level = 1 }).WaitForAsync();
        await page.Keyboard.PressAsync("?");
        var list = page.GetByRole(AriaRole.Dialog, new() { Name = "Keys" });
        await Expect(list).ToContainTextAsync("Undo the last edit");
        await page.Keyboard.PressAsync("Escape");
        await Expect(list).Not.ToBeVisibleAsync();

        await page.Keyboard.PressAsync("/");
        await Expect(page.Locator("#search")).ToBeFocusedAsync();
        // In a field it is a letter.
        await page.Keyboard.TypeAsync("?");
        await Expect(list).Not.ToBeVisibleAsync();
        await page.Locator("#search").FillAsync("");

        var workspace = await WorkspacePage.OfTheDemosVan(page);
        await page.Keyboard.PressAsync("Alt+4");
        await Expect(workspace.Results.GetByRole(AriaRole.Button, new() { Name = "Year", Exact = true })).ToHaveAttributeAsync("aria-pressed", "true");
        await page.Keyboard.PressAsync("Alt+a");
        await Expect(page.GetByRole(AriaRole.Group, new() { Name = "Inputs, situation or agenda" }).GetByRole(AriaRole.Button, new() { Name = "Agenda" })).ToHaveAttributeAsync("aria-pressed", "true");
        window.AssertSilent();
    }
}
