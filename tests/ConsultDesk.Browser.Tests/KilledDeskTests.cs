using System.Collections.Concurrent;
using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;
using Microsoft.Data.Sqlite;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace ConsultDesk.Browser.Tests;

/// <summary>
/// The published program, killed while a consultant edits and publishes in a browser and a client answers and sends photos: what their screens
/// showed as saved is there after the next start. Many more kills, without a browser, are those of the tests beside the web app.
/// </summary>
public sealed partial class KilledDeskTests(Desks desks)
{
    private const int UsualKills = 2;

    // An edit may be saved before the page has said that it waits to be: what counts is that all edits up to one of now are.
    private const string Edited = "() => Number(document.querySelector('[data-save]').dataset.edits)";

    private const string SavedSince = "before => { const state = document.querySelector('[data-save]')?.dataset; return Number(state?.edits) > before && state.save === 'saved'; }";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task What_the_screens_showed_as_saved_is_there_after_each_kill_of_the_published_program()
    {
        var kills = int.TryParse(Environment.GetEnvironmentVariable("DESK_BROWSER_KILLS"), NumberStyles.None, CultureInfo.InvariantCulture, out var many) ? many : UsualKills;
        var seed = int.TryParse(Environment.GetEnvironmentVariable("DESK_KILL_SEED"), NumberStyles.None, CultureInfo.InvariantCulture, out var given) ? given : Random.Shared.Next();
        TestContext.Current.TestOutputHelper!.WriteLine(string.Create(CultureInfo.InvariantCulture, $"DESK_KILL_SEED={seed}"));
        var chance = new Random(seed);
        await desks.Published();
        var browser = await desks.Browser();
        var process = await DeskProcess.StartPublishedBehindProxy(Cancel);
        try
        {
            var desk = new Desk(browser, process);
            var (option, intake) = await Prepare(desk);
            var said = new Said();
            for (var kill = 0; kill < kills; kill++)
            {
                await UntilKilled(desk, option, intake, said, chance);
                await AssertWhole(process.DataFolder);
                process = await process.StartAgain(Cancel);
                desk = desk.Again(process);
                await AssertThere(desk, option, intake, said);
            }

            TestContext.Current.TestOutputHelper!.WriteLine(string.Create(
                CultureInfo.InvariantCulture, $"{kills} kills: {said.Edit} edits, {said.Answer} answers, {said.Photos} photos and {said.Plans.Count} plans were shown as saved and were there."));
            Assert.True(said.Edit > 0 && said.Answer > 0 && said.Photos > 0);
        }
        finally
        {
            await process.DisposeAsync();
        }
    }

    private static async Task<(string Option, string Intake)> Prepare(Desk desk)
    {
        await using var window = await desk.Consultant();
        var page = window.Page;
        await page.GotoAsync("/clients/new");
        var form = new NewClientPage(page);
        await form.Type("Name", "Orla Fenwick");
        await form.Type("What they call the van", "Dunlin");
        await form.DescribeTheVan();
        await form.Create.ClickAsync();
        await new WorkspacePage(page).UntilAssessed();
        var option = new Uri(page.Url).PathAndQuery;
        await page.GotoAsync("/clients");
        await page.GetByRole(AriaRole.Link, new() { Name = "Orla Fenwick" }).First.ClickAsync();
        var intake = new Uri(await EveryPage.NewIntakeLink(page)).PathAndQuery;
        window.AssertSilent();
        return (option, intake);
    }

    private static async Task UntilKilled(Desk desk, string option, string intake, Said said, Random chance)
    {
        using var over = CancellationTokenSource.CreateLinkedTokenSource(Cancel);
        await using var window = await desk.Consultant();
        await using var beside = await desk.Consultant();
        var until = said.Acts + chance.Next(2, 30);
        var (edits, answers) = (said.Edit, said.Answer);
        var begun = new TaskCompletionSource();
        Task[] work =
        [
            Edits(window.Page, option, said, begun, over.Token),
            Publishes(beside.Page, option, said, over.Token),
            Client(desk.Process.Address, intake, said, begun.Task, over.Token),
        ];
        // A moment counted in what was saved, not in seconds, and not before both have saved something: on a slow machine nothing would have begun.
        while (said.Acts < until || said.Edit == edits || said.Answer == answers || said.Photos == 0)
        {
            if (Array.Find(work, task => task.IsCompleted) is { } ended)
            {
                await ended;
                Assert.Fail("Somebody stopped working before the desk was killed.");
            }

            await Task.Delay(5, Cancel);
        }

        await Task.Delay(chance.Next(400), Cancel);
        await desk.Process.Kill();
        await over.CancelAsync();
        // What Chromium is still asked for has to fail first.
        await window.Page.CloseAsync();
        await beside.Page.CloseAsync();
        await Task.WhenAll(work);
        window.Leave();
        beside.Leave();
    }

    private static async Task Edits(IPage page, string option, Said said, TaskCompletionSource begun, CancellationToken over)
    {
        await UntilOver(async () =>
        {
            await page.GotoAsync(option);
            var workspace = new WorkspacePage(page);
            var stop = await workspace.Group("Stop");
            for (var edit = said.TriedEdit + 1; ; edit++)
            {
                var before = await page.EvaluateAsync<int>(Edited);
                said.TriedEdit = edit;
                await WorkspacePage.Type(stop, "Altitude", edit.ToString(CultureInfo.InvariantCulture));
                await page.WaitForFunctionAsync(SavedSince, before, new() { PollingInterval = 10, Timeout = 60_000 });
                said.Edit = edit;
                said.Count();
                begun.TrySetResult();
            }
        }, over);
    }

    private static async Task Publishes(IPage page, string option, Said said, CancellationToken over)
    {
        await UntilOver(async () =>
        {
            await page.GotoAsync(option);
            while (true)
            {
                await new WorkspacePage(page).UntilAssessed();
                await page.GetByRole(AriaRole.Button, new() { Name = "Publish…" }).ClickAsync();
                var dialog = page.GetByRole(AriaRole.Dialog);
                await dialog.GetByLabel("Why do you publish it").FillAsync("Shown to the client on the call; the flame goes before the trip.");
                await dialog.GetByRole(AriaRole.Button, new() { Name = "Publish", Exact = true }).ClickAsync();
                // Refused when the other window changed the option meanwhile, which is as it should be.
                var published = dialog.GetByLabel("Link for the client");
                var refused = dialog.Locator(".notice-bad");
                await Expect(published.Or(refused).First).ToBeVisibleAsync(new() { Timeout = 90_000 });
                if (await published.IsVisibleAsync())
                {
                    said.Plans.Enqueue(new Uri(await published.InputValueAsync()).PathAndQuery);
                    said.Count();
                }

                await page.ReloadAsync();
            }
        }, over);
    }

    private static async Task Client(Uri address, string intake, Said said, Task begun, CancellationToken over)
    {
        using var handler = new SocketsHttpHandler { AllowAutoRedirect = false, SslOptions = { RemoteCertificateValidationCallback = (_, shown, _, _) => shown?.Subject == "CN=localhost" } };
        using var client = new HttpClient(handler) { BaseAddress = address };
        await UntilOver(async () =>
        {
            // Forms are ready long before the workspace; alone they would come to the limit of their link.
            await begun.WaitAsync(over);
            for (var visit = 1; ; visit++)
            {
                // Each visit from another address: what limits a visitor is not what is tried here.
                client.DefaultRequestHeaders.Remove("X-Forwarded-For");
                client.DefaultRequestHeaders.Add("X-Forwarded-For", string.Create(CultureInfo.InvariantCulture, $"192.0.2.{visit % 250}"));
                var answer = said.TriedAnswer + 1;
                said.TriedAnswer = answer;
                using (var form = new FormUrlEncodedContent([.. await Hidden(client, intake + "/build", over), new("bothers", $"Answer {answer}"), new("go", "stay")]))
                using (var taken = await client.PostAsync(intake + "/build", form, over))
                {
                    Assert.Equal(HttpStatusCode.Redirect, taken.StatusCode);
                    (said.Answer, _) = (answer, said.Count());
                }

                if (said.Photos < 20)
                {
                    using var photos = new MultipartFormDataContent { { new StringContent("ribs"), "subject" }, { new StringContent("stay"), "go" } };
                    foreach (var (name, value) in await Hidden(client, intake + "/photos", over))
                    {
                        photos.Add(new StringContent(value), name);
                    }

                    photos.Add(new ByteArrayContent(Picture()), "photos", "ribs.png");
                    using var taken = await client.PostAsync(intake + "/photos", photos, over);
                    Assert.Equal(HttpStatusCode.Redirect, taken.StatusCode);
                    (said.Photos, _) = (said.Photos + 1, said.Count());
                }
            }
        }, over);
    }

    /// <summary>The hidden fields of a form, as a browser sends them back.</summary>
    private static async Task<List<KeyValuePair<string, string>>> Hidden(HttpClient client, string path, CancellationToken over)
    {
        var page = await client.GetStringAsync(path, over);
        return [.. HiddenField().Matches(page).Select(field => KeyValuePair.Create(field.Groups["name"].Value, WebUtility.HtmlDecode(field.Groups["value"].Value))).DistinctBy(field => field.Key)];
    }

    private static byte[] Picture()
    {
        using var bitmap = new SkiaSharp.SKBitmap(640, 480);
        using var png = bitmap.Encode(SkiaSharp.SKEncodedImageFormat.Png, 90);
        return png.ToArray();
    }

    private static async Task AssertWhole(string folder)
    {
        await using var db = new SqliteConnection($"Data Source={Path.Combine(folder, "desk.db")};Pooling=False");
        await db.OpenAsync(Cancel);
        async Task Says(object expected, string question)
        {
            await using var command = db.CreateCommand();
#pragma warning disable CA2100 // Each question stands below.
            command.CommandText = question;
#pragma warning restore CA2100
            Assert.Equal(expected, await command.ExecuteScalarAsync(Cancel));
        }

        await Says("ok", "PRAGMA integrity_check");
        await Says(0L, "SELECT COUNT(*) FROM pragma_foreign_key_check");
        await Says(0L, "SELECT COUNT(*) FROM Plans p WHERE NOT EXISTS (SELECT 1 FROM PlanLinks l WHERE l.PlanId = p.Id)");
        await Says(0L, "SELECT COUNT(*) FROM Plans p WHERE NOT EXISTS (SELECT 1 FROM Audit a WHERE a.EntityId = p.Id AND a.Action = 'plan.published')");
    }

    private static async Task AssertThere(Desk desk, string option, string intake, Said said)
    {
        // Signed in before the kill and still: the keys are in the records too.
        await using var window = await desk.Consultant();
        await window.Page.GotoAsync(option);
        var workspace = new WorkspacePage(window.Page);
        var shown = double.Parse(await WorkspacePage.Field(await workspace.Group("Stop"), "Altitude").InputValueAsync(), CultureInfo.InvariantCulture);
        if (said.Edit > 0)
        {
            Assert.InRange(shown, said.Edit, said.TriedEdit);
        }

        await window.Page.GotoAsync(intake + "/build");
        var answer = await window.Page.Locator("[name=bothers]").InputValueAsync();
        if (said.Answer > 0)
        {
            Assert.InRange(long.Parse(answer.Split(' ')[1], CultureInfo.InvariantCulture), said.Answer, said.TriedAnswer);
        }

        await window.Page.GotoAsync(intake + "/photos");
        var photos = await window.Page.Locator(".photo-list img").CountAsync();
        Assert.True(photos >= said.Photos, string.Create(CultureInfo.InvariantCulture, $"{said.Photos} photos were shown as saved, {photos} are there."));
        // One may have been stored that no screen told of.
        said.Photos = photos;
        foreach (var plan in said.Plans)
        {
            Assert.Equal(200, (await window.Page.GotoAsync(plan))!.Status);
        }

        window.AssertSilent();
    }

    private static async Task UntilOver(Func<Task> work, CancellationToken over)
    {
        try
        {
            await work();
        }
        catch (Exception) when (over.IsCancellationRequested)
        {
            // The server is gone; what ended this was meant to.
        }
        catch (Exception e) when (e is HttpRequestException or PlaywrightException or TimeoutException)
        {
            // Noticed a moment before the test said so; anything else and it would not be over.
            await Task.Delay(2000, CancellationToken.None);
            if (!over.IsCancellationRequested)
            {
                throw;
            }
        }
    }

    [GeneratedRegex("""<input type="hidden" name="(?<name>[^"]+)" value="(?<value>[^"]*)"\s*/?>""")]
    private static partial Regex HiddenField();

    private sealed class Said
    {
        private int _acts;

        public long Edit { get; set; }

        public long TriedEdit { get; set; }

        public long Answer { get; set; }

        public long TriedAnswer { get; set; }

        public int Photos { get; set; }

        public ConcurrentQueue<string> Plans { get; } = new();

        public int Acts => Volatile.Read(ref _acts);

        public int Count() => Interlocked.Increment(ref _acts);
    }
}
