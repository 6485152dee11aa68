using Microsoft.Data.Sqlite;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace ConsultDesk.Browser.Tests;

/// <summary>Another program holds the records while somebody saves: the page says so, keeps what was typed, and saves it when they are free again.</summary>
public sealed class LockedStoreTests(Desks desks)
{
    // A save waits five seconds for the lock, the button is pressed on a slow machine.
    private const int Patience = 40_000;

    [Fact]
    public async Task What_was_typed_stays_while_another_program_holds_the_records_and_is_saved_afterwards()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Consultant();
        var page = window.Page;
        await page.GotoAsync("/clients/new");
        var form = new NewClientPage(page);
        await form.Type("Name", "Idris Quill");
        await form.Type("What they call the van", "Plover");
        await form.DescribeTheVan();
        var notice = page.Locator(".store-notice");

        await using (var other = await Hold(desk.Process.DataFolder))
        {
            await form.Create.ClickAsync();
            await Expect(notice).ToContainTextAsync("Another program holds the records.", new() { Timeout = Patience });
            foreach (var screen in new[] { Screen.Desktop, Screen.Phone })
            {
                await page.SetViewportSizeAsync(screen.Width, screen.Height);
                await Pictures.TakeWhenAsked(page, "locked", screen);
                Assert.Empty(await PageTests.Faults(page, "locked", screen));
            }

            await page.SetViewportSizeAsync(Screen.Desktop.Width, Screen.Desktop.Height);
        }

        Assert.Equal("Idris Quill", await page.GetByLabel("Name").First.InputValueAsync());
        await form.Create.ClickAsync();
        var workspace = new WorkspacePage(page);
        await workspace.UntilAssessed();
        await Expect(notice).ToHaveCountAsync(0);

        // An edit saves by itself: it says that it is not saved, and then that it is.
        var stop = await workspace.Group("Stop");
        await using (var other = await Hold(desk.Process.DataFolder))
        {
            await WorkspacePage.Choose(stop, "Month", "June");
            await Expect(page.Locator("[data-save]")).ToHaveAttributeAsync("data-save", "not-saved", new() { Timeout = Patience });
            await WorkspacePage.ExpectChosen(stop, "Month", "June");
        }

        await Expect(page.Locator("[data-save]")).ToHaveAttributeAsync("data-save", "saved", new() { Timeout = Patience });
        await page.ReloadAsync();
        await WorkspacePage.ExpectChosen(await workspace.Group("Stop"), "Month", "June");
        window.AssertSilent();
    }

    // An exclusive transaction of a program beside the desk, until it is disposed of.
    private static async Task<SqliteConnection> Hold(string folder)
    {
        var other = new SqliteConnection($"Data Source={Path.Combine(folder, "desk.db")};Pooling=False;Default Timeout=30");
        await other.OpenAsync(TestContext.Current.CancellationToken);
        await using var command = other.CreateCommand();
        command.CommandText = "BEGIN EXCLUSIVE";
        await command.ExecuteNonQueryAsync(TestContext.Current.CancellationToken);
        return other;
    }
}
