using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace ConsultDesk.Browser.Tests;

/// <summary>Passkeys with Chromium's virtual authenticator, and the pages of accounts as people see them.</summary>
public sealed class PasskeyTests(Desks desks)
{
    private const string Password = "lantern over the heath";

    [Fact]
    public async Task A_passkey_is_added_named_used_to_sign_in_and_removed()
    {
        var desk = await desks.Empty();
        await using var process = desk.Process;
        await using var window = await desk.Stranger();
        var page = window.Page;
        // Passkeys are bound to a host name, and an address of numbers is none.
        var home = $"http://localhost:{process.Address.Port}";
        var devtools = await page.Context.NewCDPSessionAsync(page);
        await devtools.SendAsync("WebAuthn.enable");
        var device = await devtools.SendAsync("WebAuthn.addVirtualAuthenticator", new()
        {
            ["options"] = new Dictionary<string, object>
            {
                ["protocol"] = "ctap2",
                ["transport"] = "internal",
                ["hasResidentKey"] = true,
                ["hasUserVerification"] = true,
                ["isUserVerified"] = true,
                ["automaticPresenceSimulation"] = true,
            },
        });
        var id = device!.Value.GetProperty("authenticatorId").GetString()!;
        await Found(page, home, process.SetUpToken);

        await page.Locator(".masthead details.drop summary").Last.ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Your account" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("Your account");
        await page.GetByLabel("Name of the new passkey").FillAsync("my laptop");
        await page.GetByLabel("Your password").FillAsync("not the password");
        window.Watch.Expect("422");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add a passkey" }).ClickAsync();
        await Expect(page.Locator("form[data-passkey=create] [data-trouble]")).ToContainTextAsync("not your password");
        await page.GetByLabel("Your password").FillAsync(Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Add a passkey" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Status)).ToContainTextAsync("my laptop");
        Assert.Equal(1, await Credentials(devtools, id));
        await page.GetByLabel("Name", new() { Exact = false }).First.FillAsync("the old laptop");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the name" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Status)).ToContainTextAsync("saved");

        await SignOut(page, home);
        await page.GotoAsync(home + "/sign-in?returnUrl=%2Fpeople");
        await page.GetByRole(AriaRole.Button, new() { Name = "Use a passkey" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("People");
        await Expect(page.GetByRole(AriaRole.Row, new() { Name = "Wren Tolliver" })).ToContainTextAsync("1 passkey");

        // A device that did not verify its holder is no second factor, so it is not taken.
        await devtools.SendAsync("WebAuthn.setUserVerified", new() { ["authenticatorId"] = id, ["isUserVerified"] = false });
        await SignOut(page, home);
        await page.GotoAsync(home + "/sign-in");
        await page.GetByRole(AriaRole.Button, new() { Name = "Use a passkey" }).ClickAsync();
        await Expect(page.Locator("[data-trouble]")).ToContainTextAsync("gave no passkey");
        await devtools.SendAsync("WebAuthn.setUserVerified", new() { ["authenticatorId"] = id, ["isUserVerified"] = true });
        await page.GetByRole(AriaRole.Button, new() { Name = "Use a passkey" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("Desk");

        await page.GotoAsync(home + "/account");
        await page.GetByRole(AriaRole.Button, new() { Name = "Remove", Exact = true }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Status)).ToContainTextAsync("the old laptop");
        await SignOut(page, home);
        await page.GotoAsync(home + "/sign-in");
        await page.GetByRole(AriaRole.Button, new() { Name = "Use a passkey" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Alert).First).ToContainTextAsync("does not open an account");
        window.AssertSilent();
    }

    [Fact]
    public async Task The_pages_of_accounts_and_people_are_readable_on_every_screen_and_an_invitation_is_used()
    {
        var desk = await desks.Empty();
        await using var process = desk.Process;
        await using var window = await desk.Stranger();
        var page = window.Page;
        var home = process.Address.ToString().TrimEnd('/');
        await Found(page, home, process.SetUpToken);
        var faults = new List<string>();

        await Look("/account", "account");
        await Look("/account/authenticator", "authenticator");
        await page.GetByLabel("Your password").FillAsync(Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Show the key" }).ClickAsync();
        await Expect(page.Locator(".authenticator-key")).ToBeVisibleAsync();
        await Look(null, "authenticator-key");
        await page.GotoAsync(home + "/people");
        await page.GetByLabel("For whom").FillAsync("Dora");
        await page.GetByRole(AriaRole.Button, new() { Name = "Make an invitation" }).ClickAsync();
        var link = await page.Locator("#invitation-link").InputValueAsync();
        await Look(null, "people");
        await Look("/audit", "audit");

        await using var other = await desk.Stranger();
        await other.Page.GotoAsync(link);
        await Expect(other.Page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("Join the desk");
        foreach (var screen in new[] { Screen.Desktop, Screen.Phone })
        {
            await other.Page.SetViewportSizeAsync(screen.Width, screen.Height);
            await Pictures.TakeWhenAsked(other.Page, "join", screen);
            faults.AddRange(await PageTests.Faults(other.Page, "join", screen));
        }

        await other.Page.SetViewportSizeAsync(Screen.Desktop.Width, Screen.Desktop.Height);
        await other.Page.GetByLabel("Your name").FillAsync("Dora Holt");
        await other.Page.GetByLabel("E-mail address").FillAsync("dora@heathlantern.example.org");
        await other.Page.GetByLabel("Password", new() { Exact = true }).FillAsync(Password);
        await other.Page.GetByLabel("Password again").FillAsync(Password);
        await other.Page.GetByRole(AriaRole.Button, new() { Name = "Make the account and sign in" }).ClickAsync();
        await Expect(other.Page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("Desk");
        await page.GotoAsync(home + "/people");
        await Expect(page.GetByRole(AriaRole.Row, new() { Name = "Dora Holt" })).ToContainTextAsync("consultant");
        Assert.True(faults.Count == 0, string.Join('\n', faults));
        window.AssertSilent();
        other.AssertSilent();

        async Task Look(string? address, string name)
        {
            foreach (var screen in new[] { Screen.Desktop, Screen.Phone })
            {
                await page.SetViewportSizeAsync(screen.Width, screen.Height);
                if (address is not null)
                {
                    await page.GotoAsync(home + address);
                    await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToBeVisibleAsync();
                }

                await Pictures.TakeWhenAsked(page, name, screen);
                faults.AddRange(await PageTests.Faults(page, name, screen));
            }

            await page.SetViewportSizeAsync(Screen.Desktop.Width, Screen.Desktop.Height);
        }
    }

    private static async Task<int> Credentials(ICDPSession devtools, string authenticator) =>
        (await devtools.SendAsync("WebAuthn.getCredentials", new() { ["authenticatorId"] = authenticator }))!.Value.GetProperty("credentials").GetArrayLength();

    private static async Task SignOut(IPage page, string home)
    {
        await page.GotoAsync(home + "/sign-out");
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();
        await page.WaitForURLAsync("**/sign-in");
    }

    private static async Task Found(IPage page, string home, string token)
    {
        await page.GotoAsync(home + "/set-up");
        await page.GetByLabel("Set-up token").FillAsync(token);
        await page.GetByLabel("Name on plans").FillAsync("Heath Lantern Advice");
        await page.GetByLabel("Currency").FillAsync("GBP");
        await page.GetByLabel("Your name").FillAsync("Wren Tolliver");
        await page.GetByLabel("E-mail address").FillAsync("wren@heathlantern.example.org");
        await page.GetByLabel("Password", new() { Exact = true }).FillAsync(Password);
        await page.GetByLabel("Password again").FillAsync(Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Found the firm and sign in" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("Desk");
    }
}
