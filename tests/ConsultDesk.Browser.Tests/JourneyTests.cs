using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using UglyToad.PdfPig;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace ConsultDesk.Browser.Tests;

/// <summary>From a new client to the PDF in the client's hands, as a person does it.</summary>
public sealed partial class JourneyTests(Desks desks, ITestOutputHelper output)
{
    private const int MostEnteredValues = 12;

    // Stands in a private note, and nowhere else ever.
    private const string PrivateMarker = "quillwort-7Q41";

    private static readonly TimeSpan LongestToFirstAssessment = TimeSpan.FromMinutes(3);

    [Theory]
    [InlineData(Store.Sqlite)]
    [InlineData(Store.Postgres)]
    public async Task A_consultant_takes_a_client_from_the_first_call_to_a_plan_in_hand(Store store)
    {
        var desk = await desks.On(store);
        await using var consultant = await desk.Consultant();
        var page = consultant.Page;

        await SetAPriceOfTheFirm(page);
        await SeeTheDesk(page);
        var workspace = await CreateAClientAndAVan(page);
        await EditOptionA(page, workspace);
        await RecordWishesAndHowWellAFactIsKnown(workspace);
        await ReadTheAssessment(workspace);
        await BeRefusedToChooseADanger(page);
        await CopyToOptionBAndCompare(page, workspace);
        await CopyWhatHelpsMost(page, workspace);
        await RunTheConsult(page, workspace);
        await DeclineAnAdvice(workspace);
        string[] shown = [await workspace.Headline("outdoor-air").InnerTextAsync(), await workspace.Headline("condensed").InnerTextAsync()];
        var link = await Publish(page, 1);

        await using var client = await desk.Stranger();
        var read = await ReadThePlanAndItsPdf(client.Page, link, shown);
        await ChangeTheOptionAndPublishAgain(page, workspace, client.Page, link, read);
        await FindNoPrivateNoteInWhatLeavesTheDesk(page);
        consultant.AssertSilent();
        client.AssertSilent();
    }

    private static async Task SetAPriceOfTheFirm(IPage page)
    {
        await page.GotoAsync("/prices");
        var price = page.GetByLabel(new Regex("^Price of ")).First;
        await price.FillAsync("123.4");
        await price.BlurAsync();
        await Expect(page.GetByText(new Regex("^Saved: "))).ToBeVisibleAsync();
        await page.ReloadAsync();
        await Expect(page.GetByLabel(new Regex("^Price of ")).First).ToHaveValueAsync("123.4");
    }

    private static async Task SeeTheDesk(IPage page)
    {
        await page.GotoAsync("/");
        foreach (var list in new[] { "Vans", "Clients" })
        {
            var entries = page.GetByRole(AriaRole.Region, new() { Name = list }).GetByRole(AriaRole.Listitem);
            await Expect(entries.First).ToBeVisibleAsync();
            Assert.InRange(await entries.CountAsync(), 3, 100);
        }

        foreach (var list in new[] { "Next consults", "Follow-ups", "Plans waiting for the client", "Options touched last", "Plans published" })
        {
            await Expect(page.GetByRole(AriaRole.Region, new() { Name = list })).ToBeVisibleAsync();
        }

        // Found while typing: the lists narrow to one van, and the plans with them.
        var vans = page.GetByRole(AriaRole.Region, new() { Name = "Vans" }).GetByRole(AriaRole.Listitem);
        var all = await vans.CountAsync();
        var name = await vans.First.GetByRole(AriaRole.Link).First.InnerTextAsync();
        await page.GetByLabel("Search clients, vans and plans").PressSequentiallyAsync(name);
        await Expect(vans).ToHaveCountAsync(1);
        Assert.True(all > 1);
        Assert.All(await page.GetByRole(AriaRole.Region, new() { Name = "Plans published" }).GetByRole(AriaRole.Listitem).AllInnerTextsAsync(), plan => Assert.Contains(name, plan, StringComparison.Ordinal));
        await page.GetByLabel("Search clients, vans and plans").FillAsync("");
    }

    private async Task<WorkspacePage> CreateAClientAndAVan(IPage page)
    {
        var clock = Stopwatch.StartNew();
        await page.GetByRole(AriaRole.Link, new() { Name = "New client and van" }).First.ClickAsync();
        var form = new NewClientPage(page);
        await form.Type("Name", "Ada Quillfeather");
        await form.Type("What they call the van", "Sandpiper");
        await form.DescribeTheVan();
        await form.Create.ClickAsync();

        var workspace = new WorkspacePage(page);
        await workspace.UntilAssessed();
        clock.Stop();
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{form.Entered} values entered, {clock.Elapsed.TotalSeconds:0.0} s to the first assessment, by a script that types without thinking"));
        Assert.InRange(form.Entered, 1, MostEnteredValues);
        Assert.InRange(clock.Elapsed, TimeSpan.Zero, LongestToFirstAssessment);
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("Sandpiper");
        return workspace;
    }

    private static async Task EditOptionA(IPage page, WorkspacePage workspace)
    {
        var humidity = await workspace.Headline("humidity").InnerTextAsync();

        var stop = await workspace.Group("Stop");
        await WorkspacePage.Choose(stop, "Month", "February");
        var people = await workspace.Group("People and cooking");
        await WorkspacePage.Choose(people, "Sleepers", "3");
        await WorkspacePage.Choose(people, "Cooking", "Electric");
        await WorkspacePage.Choose(people, "Cooking", "Gas flame");

        var fan = await workspace.Group("Roof fan");
        await WorkspacePage.Choose(fan, "Place on the roof", "Front");
        await WorkspacePage.Choose(fan, "Direction", "In (intake)");
        await WorkspacePage.Choose(fan, "Lid", "Full");

        var heater = await workspace.Group("Heater");
        await WorkspacePage.Choose(heater, "Kind", "Unflued gas");
        var walls = await workspace.Group("Walls");
        await WorkspacePage.Type(walls, "Thickness", "17");
        await workspace.UntilAssessed();
        await Expect(workspace.Headline("humidity")).Not.ToHaveTextAsync(humidity);

        // One step back, and it is an edit like any other: saved and there after a reload.
        await WorkspacePage.Choose(people, "Sleepers", "4");
        await WorkspacePage.ExpectChosen(people, "Sleepers", "4");
        await Expect(workspace.Undo).ToHaveTextAsync(new Regex("sleepers"));
        await workspace.Undo.ClickAsync();
        await WorkspacePage.ExpectChosen(people, "Sleepers", "3");
        await workspace.UntilSaved();

        await page.ReloadAsync();
        await workspace.UntilAssessed();
        await WorkspacePage.ExpectChosen(await workspace.Group("Stop"), "Month", "February");
        await WorkspacePage.ExpectChosen(await workspace.Group("People and cooking"), "Sleepers", "3");
        await WorkspacePage.ExpectChosen(await workspace.Group("Roof fan"), "Place on the roof", "Front");
        await WorkspacePage.ExpectChosen(await workspace.Group("Roof fan"), "Direction", "In (intake)");
        await Expect(WorkspacePage.Field(await workspace.Group("Walls"), "Thickness")).ToHaveValueAsync("17");
    }

    private static async Task RecordWishesAndHowWellAFactIsKnown(WorkspacePage workspace)
    {
        var wishes = await workspace.Group("Wishes");
        await WorkspacePage.Type(wishes, "Budget now", "900");
        await WorkspacePage.Type(wishes, "Must have", "A dry bed in the morning");
        await wishes.GetByLabel("A second hole in the roof").CheckAsync();
        await wishes.GetByRole(AriaRole.Button, new() { Name = "+ dry" }).ClickAsync();
        await WorkspacePage.Type(wishes, "Looks", "Nothing that shines");
        await Expect(wishes.GetByText("Saved with the van, for all its options")).ToBeVisibleAsync();

        // What was typed on the call is told; one press more, and it is measured.
        var walls = await workspace.Group("Leakage");
        var mark = walls.GetByRole(AriaRole.Button, new() { NameRegex = new Regex("origin of Area at 4 Pa") });
        await Expect(mark).ToContainTextAsync("assumed");
        await mark.ClickAsync();
        await Expect(mark).ToContainTextAsync("told");
        await mark.ClickAsync();
        await Expect(mark).ToContainTextAsync("measured");
    }

    private static async Task ReadTheAssessment(WorkspacePage workspace)
    {
        var drawings = workspace.Drawing.Locator("#van-side svg[role=img], #van-plan svg[role=img], #van-roof svg[role=img]");
        // Plan and side with the air that flows, and the roof with what lies on it.
        await Expect(drawings).ToHaveCountAsync(3);
        foreach (var drawing in (await drawings.AllAsync()).Where((_, index) => index < 2))
        {
            Assert.InRange(await drawing.Locator("[data-subject]").CountAsync(), 1, 200);
            Assert.InRange(await drawing.Locator("[class*='air-in'], [class*='air-out']").CountAsync(), 1, 200);
        }

        await workspace.Show("Night");
        foreach (var subject in new[] { "Outdoor night", "Air", "Rooms", "Water of the night", "Glass and metal" })
        {
            await Expect(workspace.Results.GetByRole(AriaRole.Heading, new() { Name = subject, Exact = true })).ToBeVisibleAsync();
        }

        foreach (var key in new[] { "outdoor-air", "humidity", "condensed", "margin", "carbon-dioxide", "design-load" })
        {
            await Expect(workspace.Headline(key)).ToHaveTextAsync(Digit());
        }

        await workspace.Show("Overview");
        await workspace.UntilTheYearIsThere();
        await Expect(workspace.Results.GetByRole(AriaRole.Heading, new() { Name = "The year in numbers" })).ToBeVisibleAsync();
        await workspace.Show("Year");
        await Expect(workspace.Results.GetByRole(AriaRole.Img)).Not.ToHaveCountAsync(0);
        await Expect(workspace.Results.GetByRole(AriaRole.Table, new() { Name = "The year by months" }).GetByRole(AriaRole.Row)).ToHaveCountAsync(14);
        await workspace.Show("Situations");
        await Expect(workspace.Results.GetByRole(AriaRole.Rowheader).First).ToBeVisibleAsync();
        await workspace.Show("Card");
        await Expect(workspace.Results.GetByRole(AriaRole.Table).First.GetByRole(AriaRole.Rowheader)).ToHaveTextAsync(
            [new Regex("^Cooking\\s+A gas flame needs its fixed vents"), new("^Going to bed$"), new("^Morning$"), new("^Driving off$"), new("^Leaving it locked$")]);
        await workspace.Show("Overview");

        var proven = 0;
        foreach (var finding in await workspace.Results.GetByRole(AriaRole.Article).AllAsync())
        {
            var evidence = await finding.GetByRole(AriaRole.Definition).AllInnerTextsAsync();
            Assert.Contains(evidence, number => Digit().IsMatch(number));
            proven += await finding.GetByText("What to do").CountAsync();
        }

        Assert.InRange(proven, 5, 100);
    }

    // The flame that burns while people sleep, set above, stands in the box of dangers.
    private static async Task BeRefusedToChooseADanger(IPage page)
    {
        await page.GetByText("Option A", new() { Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Mark as chosen" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("cannot be chosen while a danger stands");
        await Expect(page.GetByText("chosen", new() { Exact = true })).ToHaveCountAsync(0);
    }

    private static async Task CopyToOptionBAndCompare(IPage page, WorkspacePage workspace)
    {
        await Expect(workspace.OpenOption).ToContainTextAsync("A");
        await page.GetByText("Option A", new() { Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Copy to a new option…" }).ClickAsync();
        var dialog = page.GetByRole(AriaRole.Dialog);
        await dialog.GetByLabel("Name").FillAsync("Window open");
        await dialog.GetByRole(AriaRole.Button, new() { Name = "Copy" }).ClickAsync();
        await Expect(workspace.OpenOption).ToContainTextAsync("Window open");
        await workspace.UntilAssessed();

        await page.GetByRole(AriaRole.Button, new() { Name = "Sliding window", Exact = true }).ClickAsync();
        var window = await workspace.Group("Sliding window");
        await WorkspacePage.Choose(window, "Opened", "Half");
        await workspace.UntilAssessed();
        await workspace.UntilSaved();

        await page.GetByLabel("Compare with").SelectOptionAsync(new SelectOptionValue { Label = "Compare with A" });
        var numbers = page.GetByRole(AriaRole.Table, new() { Name = "Numbers of the options" });
        var air = numbers.Locator("[data-number='outdoor-air']");
        await Expect(air.GetByRole(AriaRole.Cell)).ToHaveCountAsync(3);
        var cells = await air.GetByRole(AriaRole.Cell).AllInnerTextsAsync();
        Assert.NotEqual(cells[0], cells[1]);
        await Expect(page.GetByRole(AriaRole.Table, new() { Name = "Inputs that differ" })).ToContainTextAsync("Sliding window");
        await page.GetByLabel("Compare with").SelectOptionAsync(new SelectOptionValue { Label = "Stop comparing" });
        // Until the comparison is gone, its address is not the option's own.
        await Expect(numbers).ToHaveCountAsync(0);
        await Expect(page).Not.ToHaveURLAsync(new Regex("compare="));
    }

    // One click makes a copy with the change; the option it was asked for stays as it was.
    private static async Task CopyWhatHelpsMost(IPage page, WorkspacePage workspace)
    {
        var asked = page.Url;
        await workspace.Show("Helps");
        await workspace.Results.GetByRole(AriaRole.Button, new() { Name = "Find it" }).ClickAsync();
        var first = workspace.Results.Locator("li.help").First;
        await Expect(first).ToBeVisibleAsync(new() { Timeout = 60_000 });
        var words = await first.Locator(".help-words").InnerTextAsync();
        await Expect(first.GetByRole(AriaRole.Definition).First).ToHaveTextAsync(Digit());
        await first.GetByRole(AriaRole.Button, new() { Name = "Copy with this" }).ClickAsync();
        await Expect(workspace.OpenOption).ToContainTextAsync(words);
        await Expect(page.GetByText(new Regex("^Against B: "))).ToBeVisibleAsync();

        await page.GotoAsync(asked);
        await Expect(workspace.OpenOption).ToContainTextAsync("Window open");
        await workspace.UntilAssessed();
    }

    private static async Task RunTheConsult(IPage page, WorkspacePage workspace)
    {
        var asked = page.Url;
        var agenda = page.GetByRole(AriaRole.Region, new() { Name = "Agenda" });
        await page.GetByRole(AriaRole.Group, new() { Name = "Inputs, situation or agenda" }).GetByRole(AriaRole.Button, new() { Name = "Agenda" }).ClickAsync();
        await Expect(agenda.Locator("li.point")).ToHaveCountAsync(12);

        await Decide(agenda, "Cooker steam", "Decided", "The lid stands open while the pot is on", "Steam leaves before it reaches the glass", "Ada");
        await Decide(agenda, "Cab glass and covers", "Declined", "Covers outside with a tight edge", "Too much work every evening", "Ada");
        await Expect(agenda.GetByText("1 decided, 1 declined")).ToBeVisibleAsync();

        // A point leads to its inputs.
        await Point(agenda, "Steel and walls").GetByRole(AriaRole.Button, new() { Name = "Walls", Exact = true }).ClickAsync();
        await Expect(workspace.Inputs.GetByRole(AriaRole.Group, new() { NameRegex = new Regex("^Walls") })).ToBeVisibleAsync();

        await page.GetByRole(AriaRole.Group, new() { Name = "Inputs, situation or agenda" }).GetByRole(AriaRole.Button, new() { Name = "Agenda" }).ClickAsync();
        await agenda.GetByRole(AriaRole.Link, new() { Name = "Plan one" }).ClickAsync();
        var form = page.GetByRole(AriaRole.Form, new() { Name = "Plan a consult" });
        await form.GetByLabel("The client's time zone").SelectOptionAsync("UTC");
        var starts = DateTime.UtcNow.Date.AddDays(3).AddHours(16.5);
        await form.GetByLabel("Day").FillAsync(starts.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        await form.GetByLabel("Time", new() { Exact = true }).FillAsync("16:30");
        await form.GetByLabel("Length").FillAsync("45");
        await form.GetByLabel("Length").BlurAsync();
        await form.GetByRole(AriaRole.Button, new() { Name = "Plan it" }).ClickAsync();
        await Expect(form).ToHaveCountAsync(0);

        var notes = page.GetByLabel(new Regex("^Private notes"));
        await notes.FillAsync(PrivateMarker + ": sounded short of money");
        await notes.BlurAsync();
        await Expect(page.Locator(".notes [data-save]")).ToHaveTextAsync(new Regex("^Saved"));

        await FindTheConsultInItsCalendarEntry(page, starts, "Sandpiper");

        // While the client sees the screen, nothing private stands on it.
        await page.GetByRole(AriaRole.Button, new() { Name = "Sharing screen: off" }).ClickAsync();
        await Expect(notes).ToHaveCountAsync(0);
        Assert.DoesNotContain(PrivateMarker, await page.ContentAsync(), StringComparison.Ordinal);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sharing screen: on" }).ClickAsync();
        await Expect(notes).ToHaveValueAsync(new Regex(PrivateMarker));

        var followUps = page.GetByRole(AriaRole.Form, new() { Name = "Add a follow-up" });
        await followUps.GetByLabel("Come back to").FillAsync("Ask how the first cold week went");
        await followUps.GetByLabel("On", new() { Exact = true }).FillAsync(DateTime.UtcNow.AddDays(9).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        await followUps.GetByRole(AriaRole.Button, new() { Name = "Add follow-up" }).ClickAsync();
        await Expect(page.GetByText("Ask how the first cold week went")).ToBeVisibleAsync();

        await page.GotoAsync("/");
        await Expect(page.GetByRole(AriaRole.Region, new() { Name = "Next consults" })).ToContainTextAsync("Sandpiper");
        await Expect(page.GetByRole(AriaRole.Region, new() { Name = "Follow-ups" })).ToContainTextAsync("Ask how the first cold week went");
        await page.GotoAsync(asked);
        await workspace.UntilAssessed();
    }

    // RFC 5545: start and end in universal time, and nothing of the private notes.
    private static async Task FindTheConsultInItsCalendarEntry(IPage page, DateTime starts, string van)
    {
        var download = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Link, new() { Name = "Calendar entry" }).ClickAsync());
        Assert.Equal("consult.ics", download.SuggestedFilename);
        using var reader = new StreamReader(await download.CreateReadStreamAsync());
        var entry = await reader.ReadToEndAsync(TestContext.Current.CancellationToken);
        Assert.StartsWith("BEGIN:VCALENDAR\r\n", entry, StringComparison.Ordinal);
        Assert.Contains(starts.ToString("'DTSTART:'yyyyMMdd'T'HHmmss'Z'", CultureInfo.InvariantCulture), entry, StringComparison.Ordinal);
        Assert.Contains(starts.AddMinutes(45).ToString("'DTEND:'yyyyMMdd'T'HHmmss'Z'", CultureInfo.InvariantCulture), entry, StringComparison.Ordinal);
        Assert.Contains(van, entry, StringComparison.Ordinal);
        Assert.DoesNotContain(PrivateMarker, entry, StringComparison.Ordinal);
    }

    private static ILocator Point(ILocator agenda, string title) =>
        agenda.Locator("li.point").Filter(new() { Has = agenda.Page.GetByRole(AriaRole.Heading, new() { NameRegex = new Regex("^" + Regex.Escape(title)) }) });

    private static async Task Decide(ILocator agenda, string title, string state, string what, string why, string who)
    {
        var point = Point(agenda, title);
        await point.GetByRole(AriaRole.Heading).GetByRole(AriaRole.Button).ClickAsync();
        await point.GetByRole(AriaRole.Radio, new() { Name = state }).CheckAsync();
        await point.Locator("[name=what]").FillAsync(what);
        await point.Locator("[name=why]").FillAsync(why);
        await point.Locator("[name=who]").FillAsync(who);
        await point.Locator("[name=who]").BlurAsync();
        await Expect(point.Locator("[data-save=saved]")).ToHaveTextAsync(new Regex("^Saved"));
    }

    private static async Task DeclineAnAdvice(WorkspacePage workspace)
    {
        await workspace.Show("Overview");
        await workspace.UntilTheYearIsThere();
        var finding = workspace.Results.GetByRole(AriaRole.Article).Filter(new() { HasText = "Decline…" }).First;
        await finding.GetByRole(AriaRole.Button, new() { Name = "Decline…" }).ClickAsync();
        var form = workspace.Results.GetByRole(AriaRole.Form, new() { NameRegex = new Regex("^Decline: ") });
        await form.GetByLabel("What was advised").FillAsync("Take the flame out of the van");
        await form.GetByLabel("Why it is declined").FillAsync("It stays until the heater is paid for");
        await form.GetByLabel("Who declines").FillAsync("Ada");
        await form.GetByRole(AriaRole.Button, new() { Name = "Declined", Exact = true }).ClickAsync();
        await Expect(workspace.Results.GetByText("It stays until the heater is paid for")).ToBeVisibleAsync();
    }

    private static async Task<string> Publish(IPage page, int revision)
    {
        await page.GetByRole(AriaRole.Button, new() { Name = "Publish…" }).ClickAsync();
        var dialog = page.GetByRole(AriaRole.Dialog);
        var publish = dialog.GetByRole(AriaRole.Button, new() { Name = "Publish", Exact = true });

        // A gas flame in a shut van is a danger: it is published with a reason or not at all.
        await publish.ClickAsync();
        await Expect(dialog.GetByText("Expected a reason")).ToBeVisibleAsync();
        await dialog.GetByLabel("Why do you publish it").FillAsync("aaaaaaaaaaaaaaa");
        await publish.ClickAsync();
        await Expect(dialog.GetByText("Expected a reason in words")).ToBeVisibleAsync();
        await dialog.GetByLabel("Why do you publish it").FillAsync("Shown to the client on the call; the flame goes before the trip.");
        await publish.ClickAsync();

        await Expect(dialog.GetByRole(AriaRole.Heading, new() { Level = 2 })).ToHaveTextAsync(
            string.Create(CultureInfo.InvariantCulture, $"Plan {revision} is published"), new() { Timeout = 90_000 });
        var link = await dialog.GetByLabel("Link for the client").InputValueAsync();
        await dialog.GetByRole(AriaRole.Button, new() { Name = "Done" }).ClickAsync();
        return link;
    }

    private static async Task<string> ReadThePlanAndItsPdf(IPage page, string link, string[] shownInTheWorkspace)
    {
        var answer = await page.GotoAsync(link);
        Assert.Equal(200, answer!.Status);
        // Nobody who only reads is given a cookie.
        Assert.Empty(await page.Context.CookiesAsync());
        Assert.DoesNotContain(PrivateMarker, await answer.TextAsync(), StringComparison.Ordinal);
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync("Sandpiper");
        await Expect(page.GetByRole(AriaRole.Main)).ToContainTextAsync("Ada Quillfeather");
        Assert.InRange(await page.GetByRole(AriaRole.Img).CountAsync(), 1, 20);

        var numbers = await page.Locator(".facts dd").AllInnerTextsAsync();
        Assert.InRange(numbers.Count, 4, 60);
        // The workspace's headline numbers stand in the figure with their bands; wishes, decisions and what was declined in words.
        var main = Squeezed(await page.GetByRole(AriaRole.Main).TextContentAsync() ?? "");
        string[] said =
        [
            .. shownInTheWorkspace, "A dry bed in the morning", "a second hole in the roof", "Nothing that shines",
            "The lid stands open while the pot is on", "Too much work every evening", "Your choice against our advice",
            "Take the flame out of the van", "It stays until the heater is paid for", "Your idea against our recommendation",
        ];
        Assert.All(said, words => Assert.Contains(Squeezed(words), main, StringComparison.OrdinalIgnoreCase));

        var download = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Link, new() { Name = "Download as PDF" }).ClickAsync());
        await using var stream = await download.CreateReadStreamAsync();
        using var bytes = new MemoryStream();
        await stream.CopyToAsync(bytes);
        Assert.DoesNotContain(PrivateMarker, System.Text.Encoding.Latin1.GetString(bytes.ToArray()), StringComparison.Ordinal);
        using var pdf = PdfDocument.Open(bytes.ToArray());
        var text = Squeezed(string.Concat(pdf.GetPages().SelectMany(p => p.GetWords()).Select(word => word.Text)));
        Assert.Contains("Sandpiper", text, StringComparison.Ordinal);
        Assert.DoesNotContain(PrivateMarker, text, StringComparison.Ordinal);
        Assert.All(numbers.Concat(shownInTheWorkspace), number => Assert.Contains(Squeezed(number), text, StringComparison.Ordinal));
        return main;
    }

    // What is published stays as it is; what changed since stands in the next revision.
    private static async Task ChangeTheOptionAndPublishAgain(IPage page, WorkspacePage workspace, IPage client, string first, string read)
    {
        var people = await workspace.Group("People and cooking");
        await WorkspacePage.Choose(people, "Sleepers", "1");
        await workspace.UntilAssessed();
        await workspace.UntilSaved();
        await client.GotoAsync(first);
        Assert.Equal(read, Squeezed(await client.GetByRole(AriaRole.Main).TextContentAsync() ?? ""));

        var second = await Publish(page, 2);
        Assert.NotEqual(first, second);
        await client.GotoAsync(second);
        await Expect(client.GetByRole(AriaRole.Main)).ToContainTextAsync(new Regex("since revision 1", RegexOptions.IgnoreCase));
        await client.GotoAsync(first);
        Assert.Equal(read, Squeezed(await client.GetByRole(AriaRole.Main).TextContentAsync() ?? ""));
    }

    private static async Task FindNoPrivateNoteInWhatLeavesTheDesk(IPage page)
    {
        await page.GotoAsync("/prices");
        var download = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Link, new() { Name = "Save as a table (CSV)" }).ClickAsync());
        using var reader = new StreamReader(await download.CreateReadStreamAsync());
        var table = await reader.ReadToEndAsync(TestContext.Current.CancellationToken);
        Assert.Contains("123.4", table, StringComparison.Ordinal);
        Assert.DoesNotContain(PrivateMarker, table, StringComparison.Ordinal);
    }

    // Where a line breaks is the layout's business, so spaces do not count.
    private static string Squeezed(string text) => Space().Replace(text, "");

    [GeneratedRegex(@"\s+")]
    private static partial Regex Space();

    [GeneratedRegex(@"\d")]
    private static partial Regex Digit();
}
