using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace ConsultDesk.Browser.Tests;

/// <summary>The first start of a real desk: somebody holds the token of the log and founds the firm.</summary>
public sealed class SetUpTests(Desks desks)
{
    private const string Password = "lantern over the heath";

    [Fact]
    public async Task Who_holds_the_token_of_the_log_founds_the_firm_once_and_signed_out_elsewhere_their_open_page_ends()
    {
        var desk = await desks.Empty();
        await using var process = desk.Process;
        await using var window = await desk.Stranger();
        var page = window.Page;
        Assert.NotEmpty(process.SetUpToken);
        Assert.Empty(process.Email);

        await page.GotoAsync("/set-up");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("Set up the desk");
        await page.GetByLabel("Set-up token").FillAsync("NOT-IT");
        await page.GetByLabel("Name on plans").FillAsync("Heath Lantern Advice");
        await page.GetByLabel("Currency").FillAsync("GBP");
        await page.GetByLabel("Your name").FillAsync("Wren Tolliver");
        await page.GetByLabel("E-mail address").FillAsync("wren@heathlantern.example.org");
        await Found(page);
        await Expect(page.GetByLabel("Set-up token")).ToHaveAccessibleDescriptionAsync(new Regex("not the token in the log"));
        await Expect(page.GetByLabel("Name on plans")).ToHaveValueAsync("Heath Lantern Advice");

        var faults = new List<string>(await PageTests.Faults(page, "set-up", Screen.Desktop));
        await page.SetViewportSizeAsync(Screen.Phone.Width, Screen.Phone.Height);
        faults.AddRange(await PageTests.Faults(page, "set-up", Screen.Phone));
        Assert.True(faults.Count == 0, string.Join('\n', faults));
        await page.SetViewportSizeAsync(Screen.Desktop.Width, Screen.Desktop.Height);

        await page.GetByLabel("Set-up token").FillAsync(process.SetUpToken);
        await Found(page);
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("Desk");
        await Expect(page.GetByText("Nobody to advise yet")).ToBeVisibleAsync();
        await page.GotoAsync("/firm");
        await Expect(page.GetByLabel("Name", new() { Exact = true })).ToHaveValueAsync("Heath Lantern Advice");

        // The door is shut behind them, with the same token too.
        await using var stranger = await desk.Stranger();
        stranger.Watch.Expect("404");
        Assert.Equal(404, (await stranger.Page.GotoAsync("/set-up"))!.Status);
        await stranger.Page.GotoAsync("/sign-in");
        await SignInPage.SignIn(stranger.Page, "wren@heathlantern.example.org", Password);
        await Expect(stranger.Page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("Desk");

        // Signed out everywhere from there, the page left open here ends by itself.
        await Expect(page.GetByLabel("Name", new() { Exact = true })).ToBeVisibleAsync();
        await stranger.Page.GotoAsync("/account");
        await stranger.Page.GetByRole(AriaRole.Button, new() { Name = "Sign out everywhere" }).ClickAsync();
        await Expect(stranger.Page).ToHaveURLAsync(new Regex("/sign-in$"));
        await Expect(page).ToHaveURLAsync(new Regex("/sign-in"));
        await Expect(page.GetByLabel("E-mail address")).ToBeVisibleAsync();
        stranger.AssertSilent();
        window.AssertSilent();
    }

    private static async Task Found(IPage page)
    {
        await page.GetByLabel("Password", new() { Exact = true }).FillAsync(Password);
        await page.GetByLabel("Password again").FillAsync(Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Found the firm and sign in" }).ClickAsync();
    }
}
