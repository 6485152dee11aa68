using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace ConsultDesk.Browser.Tests;

/// <summary>What a client answers alone before the first call, and what the consultant makes of it.</summary>
public sealed class IntakeTests(Desks desks)
{
    [Fact]
    public async Task A_client_answers_with_scripts_off_and_the_consultant_takes_the_answers_over()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var consultant = await desk.Consultant();
        var page = consultant.Page;
        await page.GotoAsync("/clients/new");
        var form = new NewClientPage(page);
        await form.Type("Name", "Tansy Marlowe");
        await form.Type("What they call the van", "Bittern");
        await form.DescribeTheVan();
        await form.Create.ClickAsync();
        await new WorkspacePage(page).UntilAssessed();
        await page.GotoAsync("/clients");
        await page.GetByRole(AriaRole.Link, new() { Name = "Tansy Marlowe" }).First.ClickAsync();
        var link = await EveryPage.NewIntakeLink(page);
        var atTheClients = page.Url;

        await using var client = await desk.StrangerWithoutScripts();
        await client.Page.GotoAsync(link);
        await AnswerEverything(client.Page);
        await Send(client.Page);
        client.AssertSilent();

        await page.GotoAsync(atTheClients);
        await page.GetByRole(AriaRole.Link, new() { Name = "Answered, to be read" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("Intake about Bittern");
        await Expect(page.GetByText("Wet glass every morning")).ToBeVisibleAsync();
        await Expect(page.Locator(".photo-list img")).ToHaveCountAsync(1);
        var faults = new List<string>(await PageTests.Faults(page, "intake-answered", Screen.Desktop));
        await page.SetViewportSizeAsync(Screen.Phone.Width, Screen.Phone.Height);
        faults.AddRange(await PageTests.Faults(page, "intake-answered", Screen.Phone));
        Assert.True(faults.Count == 0, string.Join('\n', faults));
        await page.SetViewportSizeAsync(Screen.Desktop.Width, Screen.Desktop.Height);

        var sleepers = page.GetByLabel("People who sleep in the van");
        await sleepers.CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { NameRegex = new Regex("^Take over ") }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Open it in the workspace" }).ClickAsync();
        var workspace = new WorkspacePage(page);
        await workspace.UntilAssessed();
        await WorkspacePage.ExpectChosen(await workspace.Group("People and cooking"), "Sleepers", "3");
        consultant.AssertSilent();
    }

    private static async Task AnswerEverything(IPage page)
    {
        await page.GetByRole(AriaRole.Link, new() { Name = "Begin" }).ClickAsync();
        await ExpectStep(page, "van");
        await page.GetByLabel("My numbers are in").SelectOptionAsync("m");
        var length = page.GetByLabel("A · Inside length");
        await length.FillAsync("99");
        await Next(page);
        // Saved and shown as typed, with what is wrong beside it.
        await Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("One answer needs another look");
        await Expect(length).ToHaveValueAsync("99");
        await Expect(length).ToHaveAttributeAsync("aria-invalid", "true");
        await length.FillAsync("3.4");
        await Next(page);

        await ExpectStep(page, "people");
        await page.GetByLabel("People who sleep in the van").FillAsync("3");
        await Next(page);
        await ExpectStep(page, "habits");
        await page.GetByLabel("What do you cook with?").SelectOptionAsync(new SelectOptionValue { Index = 1 });
        await Next(page);
        await ExpectStep(page, "route");
        await page.GetByLabel("Place").First.FillAsync("Somewhere by the lake");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save and add another" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Group, new() { Name = "Stay 2" })).ToBeVisibleAsync();
        await Next(page);
        await ExpectStep(page, "there");
        await Next(page);
        await ExpectStep(page, "build");
        await page.GetByLabel("Myself").CheckAsync();
        await page.GetByLabel("What bothers you, or worries you most?").FillAsync("Wet glass every morning");
        await Next(page);
        await ExpectStep(page, "wishes");
        await page.GetByLabel("What must be there?").FillAsync("A dry bed");
        await Next(page);

        await ExpectStep(page, "photos");
        await page.GetByLabel("Photos", new() { Exact = true }).SetInputFilesAsync(new FilePayload { Name = "ribs.png", MimeType = "image/png", Buffer = await page.ScreenshotAsync() });
        await page.GetByRole(AriaRole.Button, new() { Name = "Add these photos" }).ClickAsync();
        await Expect(page.Locator(".photo-list img")).ToHaveCountAsync(1);
        await Next(page);
    }

    private static async Task Send(IPage page)
    {
        await ExpectStep(page, "send");
        await Expect(page.GetByText("Wet glass every morning")).ToBeVisibleAsync();
        var send = page.GetByRole(AriaRole.Button, new() { NameRegex = new Regex("^Send it to ") });
        await send.ClickAsync();
        await Expect(page.GetByText("Needed before it can be sent.")).ToHaveCountAsync(2);
        foreach (var consent in await page.GetByRole(AriaRole.Checkbox).AllAsync())
        {
            await consent.CheckAsync();
        }

        await send.ClickAsync();
        await Expect(page.GetByText("Your answers were sent on")).ToBeVisibleAsync();
    }

    private static Task Next(IPage page) => page.GetByRole(AriaRole.Button, new() { Name = "Save and go on" }).ClickAsync();

    private static Task ExpectStep(IPage page, string step) => Expect(page).ToHaveURLAsync(new Regex($"/{step}$"));
}
