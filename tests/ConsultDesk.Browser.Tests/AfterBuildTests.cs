using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace ConsultDesk.Browser.Tests;

/// <summary>What a client does with a plan's link when the van is on the road: tonight's settings, and how the winter went.</summary>
public sealed partial class AfterBuildTests(Desks desks)
{
    [Fact]
    public async Task Tonight_s_saved_file_answers_three_taps_without_a_signal_as_the_table_says()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var consultant = await desk.Consultant();
        var link = await PlanLink(consultant.Page);
        await using var client = await desk.Stranger(Screen.Phone);
        var page = client.Page;
        await page.GotoAsync(link);
        await page.GetByRole(AriaRole.Link, new() { NameRegex = new Regex("^Tonight") }).ClickAsync();
        var download = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Link, new() { Name = "Save for the road" }).ClickAsync());
        var file = Path.Combine(Path.GetTempPath(), Guid.NewGuid().ToString("N") + ".html");
        await download.SaveAsAsync(file);
        try
        {
            Assert.InRange(new FileInfo(file).Length, 10_000, 200_000);
            await page.Context.SetOfflineAsync(true);
            await page.GotoAsync("file://" + file);
            // The server's table, read from the file as it was written, not from what the script makes of it.
            var text = await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken);
            using var sheet = System.Text.Json.JsonDocument.Parse(SheetOf().Match(text).Groups[1].Value);
            var cells = sheet.RootElement.GetProperty("cells").EnumerateArray().Select(cell => cell.GetInt32()).ToArray();
            var (temperatures, weathers, people) = (sheet.RootElement.GetProperty("temperatures").GetArrayLength(), sheet.RootElement.GetProperty("weathers").GetArrayLength(), sheet.RootElement.GetProperty("people").GetArrayLength());
            Assert.Equal(temperatures * weathers * people, cells.Length);
            var random = new Random(7);
            for (var tap = 0; tap < 40; tap++)
            {
                var (t, w, p) = (random.Next(temperatures), random.Next(weathers), random.Next(people));
                await Tap(page, "temperature", t);
                await Tap(page, "weather", w);
                await Tap(page, "people", p);
                var cell = cells[(((w * people) + p) * temperatures) + t];
                var answer = page.Locator("#answer");
                await Expect(answer).ToHaveAttributeAsync("data-cell", cell.ToString(System.Globalization.CultureInfo.InvariantCulture));
                if (cell < 0)
                {
                    await Expect(answer).ToContainTextAsync("no such night");
                    continue;
                }

                var told = await answer.Locator("ol li").AllTextContentsAsync();
                Assert.InRange(told.Count, 1, 3);
                Assert.Equal(await page.Locator($"#s{cell} ol li").AllTextContentsAsync(), told);
                Assert.Equal(await page.Locator($"#s{cell} .heater").TextContentAsync(), await answer.Locator(".heater").TextContentAsync());
            }

            client.AssertSilent();
        }
        finally
        {
            await page.Context.SetOfflineAsync(false);
            File.Delete(file);
        }
    }

    [Fact]
    public async Task Tonight_is_read_and_a_winter_is_reported_with_scripts_off()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var consultant = await desk.Consultant();
        var link = await PlanLink(consultant.Page);
        await using var client = await desk.StrangerWithoutScripts();
        var page = client.Page;
        await page.GotoAsync(link);
        await page.GetByRole(AriaRole.Link, new() { NameRegex = new Regex("^Tonight") }).ClickAsync();
        await Expect(page.GetByText("The whole table, to read without tapping")).ToBeVisibleAsync();
        await Expect(page.Locator("table").Last).ToBeVisibleAsync();
        await Expect(page.Locator("#s0")).ToBeVisibleAsync();
        await Expect(page.Locator(".taps").First).ToBeHiddenAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Back to the plan" }).ClickAsync();

        await page.GetByRole(AriaRole.Link, new() { NameRegex = new Regex("^After the first winter") }).ClickAsync();
        await page.GetByLabel("Of the last ten cold mornings").FillAsync("12");
        await page.GetByLabel("Your name").FillAsync("Ines");
        var send = page.GetByRole(AriaRole.Button, new() { Name = "Send" });
        await send.ClickAsync();
        await Expect(page.GetByText("Expected 0 to 10 mornings.")).ToBeVisibleAsync();
        await page.GetByLabel("Of the last ten cold mornings").FillAsync("2");
        await page.GetByRole(AriaRole.Group, new() { Name = "Was it warm enough?" }).GetByLabel("Mostly").CheckAsync();
        await send.ClickAsync();
        await Expect(page.GetByText("Thank you.")).ToBeVisibleAsync();
        client.AssertSilent();

        var mine = consultant.Page;
        await mine.GotoAsync("/");
        await mine.GetByRole(AriaRole.Link, new() { NameRegex = new Regex("^Report after a winter") }).First.ClickAsync();
        await Expect(mine.GetByText("2 of the last 10 cold ones").First).ToBeVisibleAsync();
        await mine.GetByRole(AriaRole.Button, new() { Name = "Mark as read" }).First.ClickAsync();
        await Expect(mine.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync("Timeline");
        consultant.AssertSilent();
    }

    private static async Task<string> PlanLink(IPage page)
    {
        await page.GotoAsync("/");
        await page.GetByRole(AriaRole.Heading, new() { Level = 1 }).WaitForAsync();
        var plans = page.Locator("main a[href*='plans/']");
        await plans.First.WaitForAsync();
        var address = await plans.EvaluateAllAsync<string[]>("links => links.map(link => new URL(link.href).pathname)");
        return await EveryPage.NewLink(page, address.First(path => PlanPath().IsMatch(path)));
    }

    private static Task Tap(IPage page, string name, int value) => page.Locator($"input[name={name}][value='{value}']").CheckAsync(new() { Force = true });

    [GeneratedRegex("^/plans/[0-9a-f-]{36}$")]
    private static partial Regex PlanPath();

    [GeneratedRegex("id=\"sheet\">(.*?)</script>", RegexOptions.Singleline)]
    private static partial Regex SheetOf();
}
