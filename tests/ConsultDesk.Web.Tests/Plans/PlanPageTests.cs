using System.IO.Compression;
using System.Net;
using System.Text;
using System.Text.RegularExpressions;
using AngleSharp.Html.Dom;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Records;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Web.Plans;
using ConsultDesk.Web.Shell;
using ConsultDesk.Web.Tests.Shell;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using UglyToad.PdfPig;
using Xunit;

namespace ConsultDesk.Web.Tests.Plans;

/// <summary>The demo's published plan, as its client and as its consultant get it.</summary>
public sealed class PlanPageTests(DeskApp app) : IClassFixture<DeskApp>
{
    /// <summary>Most bytes of a plan page: a phone on a slow line waits for it.</summary>
    private const int MostBytes = 150_000;

    private static void AssertLight(int bytes)
    {
        var size = FormattableString.Invariant($"The page has {bytes} bytes.");
        TestContext.Current.TestOutputHelper!.WriteLine(size);
        Assert.True(bytes < MostBytes, size);
    }

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private Records.Plans Plans => app.Services.GetRequiredService<Records.Plans>();

    [Fact]
    public async Task A_browser_that_unpacks_gets_the_page_packed_and_a_page_with_a_form_never_is()
    {
        var (_, link, _) = await PublishedAsync();
        using var client = app.Visitor();
        async Task<HttpResponseMessage> Get(string path)
        {
            using var ask = new HttpRequestMessage(HttpMethod.Get, path);
            ask.Headers.AcceptEncoding.ParseAdd("br");
            return await client.SendAsync(ask, Cancel);
        }

        using var plain = await client.GetAsync("/plan/" + link.Token, Cancel);
        using var packed = await Get("/plan/" + link.Token);
        using var form = await Get($"/plan/{link.Token}/reply");

        Assert.Equal(["br"], packed.Content.Headers.ContentEncoding);
        var bytes = await packed.Content.ReadAsByteArrayAsync(Cancel);
        TestContext.Current.TestOutputHelper!.WriteLine(FormattableString.Invariant($"Packed it has {bytes.Length} bytes."));
        using var unpacked = new MemoryStream();
        await using (var stream = new BrotliStream(new MemoryStream(bytes), CompressionMode.Decompress))
        {
            await stream.CopyToAsync(unpacked, Cancel);
        }

        // A comment with state of the renderer, sealed anew each time, is no part of what is read.
        static string Read(byte[] html) => Regex.Replace(Encoding.UTF8.GetString(html), "<!--.*?-->", "", RegexOptions.Singleline);
        Assert.Equal(Read(await plain.Content.ReadAsByteArrayAsync(Cancel)), Read(unpacked.ToArray()));
        Assert.Equal(HttpStatusCode.OK, form.StatusCode);
        Assert.Empty(form.Content.Headers.ContentEncoding);
    }

    [Fact]
    public async Task Whoever_holds_the_link_reads_every_section_without_signing_in_and_without_scripts()
    {
        var (_, link, snapshot) = await PublishedAsync();
        using var client = app.Visitor();

        var answer = await client.GetAsync("/plan/" + link.Token, Cancel);

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        AssertLight((await answer.Content.ReadAsByteArrayAsync(Cancel)).Length);
        var page = await DeskApp.ParseAsync(answer);
        Assert.Empty(page.QuerySelectorAll("script"));
        Assert.Empty(page.QuerySelectorAll("[style]"));
        Assert.Single(page.QuerySelectorAll("h1"));
        Assert.Single(page.QuerySelectorAll("main"));
        Assert.NotEmpty(page.Title!);
        var sections = snapshot.Sections.Where(s => s.Sheet == PlanSheet.Plan).ToList();
        Assert.Equal(sections.Select(s => s.Heading), page.QuerySelectorAll("h2").Select(h => h.TextContent));
        Assert.All(sections, s => Assert.Equal("SECTION", page.GetElementById(s.Id)?.TagName));
        foreach (var number in Numbers(snapshot))
        {
            Assert.Contains(number, page.Body!.TextContent, StringComparison.Ordinal);
        }

        foreach (var figure in sections.SelectMany(s => s.Blocks).OfType<FigureBlock>())
        {
            var drawn = page.GetElementById(figure.Figure.Id)!;
            Assert.Equal(figure.Figure.AltText, drawn.QuerySelector("svg desc")!.TextContent);
            // A figure with a narrow form of itself stands in a box with it, the table they share after both.
            var around = figure.Narrow is null ? drawn.ParentElement! : drawn.ParentElement!.ParentElement!;
            Assert.NotNull(figure.WithTable || figure.Narrow is not null ? around.QuerySelector(".table-scroll table") : drawn.QuerySelector("details table"));
        }
    }

    [Fact]
    public async Task The_plan_of_the_van_with_most_findings_still_loads_on_a_slow_line_and_is_marked_as_a_danger()
    {
        var who = await app.DemoConsultantAsync();
        var options = app.Services.GetRequiredService<VanOptions>();
        var van = (await app.Services.GetRequiredService<DeskList>().Vans(who, "Snow Hare", cancellation: Cancel)).Single();
        var option = (await options.Load(who, (await options.OptionsOf(who, van.Id, Cancel))[0].Id, Cancel))!;
        var assessment = Assessor.Assess(option.Design, AssessmentDepth.Bands, cancellation: Cancel);
        Assert.Contains(assessment.Findings, f => f.Severity == Severity.Danger);
        var beside = new AssessedOption(option, assessment);
        var press = app.Services.GetRequiredService<PlanPress>();
        var refused = await Assert.ThrowsAsync<InvalidInputException>(
            () => press.PublishAsync(who, new(option.Id, option.Version, option.Design, assessment, beside), Cancel));
        Assert.Contains("although a danger stands", refused.Message, StringComparison.Ordinal);

        var published = await press.PublishAsync(
            who, new(option.Id, option.Version, option.Design, assessment, beside, "The client keeps the heater until spring and was told not to sleep with it lit."), Cancel);
        using var client = app.Visitor();

        var answer = await client.GetAsync("/plan/" + published.Link.Token, Cancel);

        AssertLight((await answer.Content.ReadAsByteArrayAsync(Cancel)).Length);
        var page = await DeskApp.ParseAsync(answer);
        Assert.Equal(
            assessment.Findings.Where(f => f.Severity == Severity.Danger).Select(f => f.Title),
            page.QuerySelectorAll("section#act-first .danger-box .finding-danger h3 bdi").Select(e => e.TextContent));
        Assert.EndsWith("not to sleep with it lit.", page.QuerySelector("section#act-first .danger-box .danger-reason")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_would_make_the_plan_heavy_stands_on_pages_of_their_own_under_the_same_link()
    {
        var (plan, link, snapshot) = await PublishedAsync();
        using var client = app.Visitor();
        using var consultant = await app.ConsultantAsync();
        var first = await DeskApp.PageAsync(client, "/plan/" + link.Token);
        foreach (var (sheet, end) in new[] { (PlanSheet.Build, "build"), (PlanSheet.Card, "card"), (PlanSheet.Basis, "basis") })
        {
            var address = $"/plan/{link.Token}/{end}";
            Assert.Single(first.QuerySelectorAll("nav a"), a => a.GetAttribute("href") == address);
            var answer = await client.GetAsync(address, Cancel);
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
            AssertLight((await answer.Content.ReadAsByteArrayAsync(Cancel)).Length);
            var page = await DeskApp.ParseAsync(answer);
            Assert.Empty(page.QuerySelectorAll("script, [style]"));
            Assert.Single(page.QuerySelectorAll("h1"));
            var sections = snapshot.Sections.Where(s => s.Sheet == sheet).ToList();
            Assert.NotEmpty(sections);
            Assert.Equal(sections.Select(s => s.Heading), page.QuerySelectorAll("h2").Select(h => h.TextContent));
            Assert.All(sections.SelectMany(s => s.Blocks).OfType<TableBlock>(), block => Assert.All(block.Table.Rows.SelectMany(row => row), cell =>
                Assert.Contains(Squeezed(cell), Squeezed(page.Body!.TextContent), StringComparison.Ordinal)));
            Assert.Single(page.QuerySelectorAll("a"), a => a.GetAttribute("href") == "/plan/" + link.Token);
            Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync($"/plan/{new string('A', 43)}/{end}", Cancel)).StatusCode);
            Assert.Equal(
                sections.Select(s => s.Heading), (await DeskApp.PageAsync(consultant, $"/plans/{plan.PlanId}/read/{end}")).QuerySelectorAll("h2").Select(h => h.TextContent));
        }

        // Every section is on exactly one of the pages; the PDF holds all of them.
        Assert.All(snapshot.Sections, s => Assert.True(Enum.IsDefined(s.Sheet)));
    }

    [Fact]
    public async Task Every_asset_of_the_page_arrives_without_signing_in()
    {
        var (_, link, _) = await PublishedAsync();
        using var client = app.Visitor();

        var fetched = await AssetTests.FetchAllAsync(client, "/plan/" + link.Token);

        Assert.Contains("/brand/1f5a52.css", fetched);
        // The logo of that revision has no address but the plan's own; nothing else tells the token.
        Assert.Equal([$"/plan/{link.Token}/logo"], fetched.Where(path => path.Contains(link.Token, StringComparison.Ordinal)));
    }

    [Fact]
    public async Task The_page_is_kept_out_of_caches_indexes_and_referrers()
    {
        var (_, link, _) = await PublishedAsync();
        using var client = app.Visitor();
        foreach (var address in new[] { "/plan/" + link.Token, $"/plan/{link.Token}/pdf" })
        {
            var headers = (await client.GetAsync(address, Cancel)).Headers;

            // A reader sends nothing back, so that there is nothing to guard and nothing to remember.
            Assert.False(headers.Contains("Set-Cookie"));
            Assert.Contains("noindex", headers.GetValues("X-Robots-Tag").Single(), StringComparison.Ordinal);
            Assert.Equal("no-referrer", headers.GetValues("Referrer-Policy").Single());
            Assert.True(headers.CacheControl!.NoStore);
            Assert.True(headers.CacheControl.Private);
            var policy = headers.GetValues("Content-Security-Policy").First();
            Assert.Contains("script-src 'none'", policy, StringComparison.Ordinal);
            Assert.DoesNotContain("unsafe-inline", policy, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Private_notes_and_addresses_stay_at_the_desk()
    {
        var (plan, link, _) = await PublishedAsync();
        var who = await app.DemoConsultantAsync();
        var van = (await app.Services.GetRequiredService<VanBook>().Van(who, plan.VanId, Cancel))!;
        var client = (await app.Services.GetRequiredService<ClientBook>().Client(who, van.ClientId, Cancel))!;
        Assert.NotEmpty(client.Notes!);
        using var reader = app.Visitor();

        var text = await reader.GetStringAsync("/plan/" + link.Token, Cancel);

        Assert.Contains(client.Name, text, StringComparison.Ordinal);
        Assert.DoesNotContain(client.Notes!, text, StringComparison.Ordinal);
        Assert.DoesNotContain(client.Email!, text, StringComparison.Ordinal);
        Assert.DoesNotContain(client.Id.ToString(), text, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain(van.Id.ToString(), text, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain(who.FirmId.ToString(), text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task The_PDF_carries_the_same_numbers()
    {
        var (_, link, snapshot) = await PublishedAsync();
        using var client = app.Visitor();

        var answer = await client.GetAsync($"/plan/{link.Token}/pdf", Cancel);
        var bytes = await answer.Content.ReadAsByteArrayAsync(Cancel);

        Assert.Equal("application/pdf", answer.Content.Headers.ContentType!.MediaType);
        Assert.Equal("plan-1-the-heron.pdf", answer.Content.Headers.ContentDisposition!.FileName);
        Assert.True(bytes.AsSpan().StartsWith("%PDF"u8));
        using var document = PdfDocument.Open(bytes);
        var words = Squeezed(string.Concat(document.GetPages().Select(p => p.Text)));
        foreach (var number in Numbers(snapshot))
        {
            Assert.Contains(Squeezed(number), words, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Unknown_malformed_expired_and_withdrawn_links_get_the_same_plain_404()
    {
        var (plan, _, _) = await PublishedAsync();
        var who = await app.DemoConsultantAsync();
        var withdrawn = await Plans.AddLink(who, plan.PlanId, cancellation: Cancel);
        await Plans.RevokeLink(who, withdrawn.LinkId, Cancel);
        var expired = await Plans.AddLink(who, plan.PlanId, cancellation: Cancel);
        await using (var db = app.Services.GetRequiredService<FirmContexts>().OpenFor(who.FirmId))
        {
            var past = DateTime.UtcNow.AddSeconds(-1);
            Assert.Equal(1, await db.PlanLinks.Where(l => l.Id == expired.LinkId).ExecuteUpdateAsync(set => set.SetProperty(l => l.ExpiresAt, past), Cancel));
        }

        string[] tokens = [new('A', 43), "short", "..%2F..%2Fetc", withdrawn.Token, expired.Token];
        using var stranger = app.Visitor();
        foreach (var tail in new[] { "", "/pdf" })
        {
            var pages = new List<string>();
            foreach (var token in tokens)
            {
                var answer = await stranger.GetAsync($"/plan/{token}{tail}", Cancel);
                Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
                pages.Add(VisibleText(await DeskApp.ParseAsync(answer)));
            }

            Assert.Single(pages.Distinct());
            Assert.DoesNotContain("Sign in", pages[0], StringComparison.OrdinalIgnoreCase);
        }
    }

    [Fact]
    public async Task A_working_link_stops_at_once_when_it_is_withdrawn()
    {
        var (plan, _, _) = await PublishedAsync();
        var who = await app.DemoConsultantAsync();
        var link = await Plans.AddLink(who, plan.PlanId, cancellation: Cancel);
        using var client = app.Visitor();
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/plan/" + link.Token, Cancel)).StatusCode);

        await Plans.RevokeLink(who, link.LinkId, Cancel);

        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync("/plan/" + link.Token, Cancel)).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync($"/plan/{link.Token}/pdf", Cancel)).StatusCode);
    }

    [Fact]
    public async Task The_token_is_never_logged_at_any_level()
    {
        var (_, link, _) = await PublishedAsync();
        using var client = app.Visitor();
        var before = app.Log.Lines.Count;

        await client.GetAsync("/plan/" + link.Token, Cancel);
        await client.GetAsync($"/plan/{link.Token}/pdf", Cancel);
        await client.GetAsync($"/plan/{link.Token}/no-such-page", Cancel);

        Assert.True(app.Log.Lines.Count > before, "Nothing was logged, so the check proves nothing.");
        Assert.Empty(app.Log.Lines.Where(line => line.Contains(link.Token, StringComparison.Ordinal)).Select(line => line.Split(' ')[0]).Distinct());
    }

    [Fact]
    public async Task The_token_is_not_logged_either_where_http_is_sent_on_to_https()
    {
        var (_, link, _) = await PublishedAsync();
        await using var overHttps = app.WithWebHostBuilder(builder => builder.UseSetting("https_port", "443"));
        using var client = overHttps.CreateClient(new() { AllowAutoRedirect = false, BaseAddress = new("http://localhost") });
        var before = app.Log.Lines.Count;

        var answer = await client.GetAsync("/plan/" + link.Token, Cancel);

        Assert.Equal("https://localhost/plan/" + link.Token, answer.Headers.Location?.ToString());
        Assert.True(app.Log.Lines.Count > before, "Nothing was logged, so the check proves nothing.");
        Assert.Empty(app.Log.Lines.Where(line => line.Contains(link.Token, StringComparison.Ordinal)).Select(line => line.Split(' ')[0]).Distinct());
    }

    [Fact]
    public async Task The_consultant_reads_the_same_page_and_PDF_without_a_link_and_an_unknown_plan_is_not_found()
    {
        var (plan, _, snapshot) = await PublishedAsync();
        using var consultant = await app.ConsultantAsync();

        var page = await DeskApp.PageAsync(consultant, $"/plans/{plan.PlanId}/read");
        var pdf = await consultant.GetByteArrayAsync($"/plans/{plan.PlanId}/pdf", Cancel);

        Assert.Equal(snapshot.Sections.Where(s => s.Sheet == PlanSheet.Plan).Select(s => s.Heading), page.QuerySelectorAll("h2").Select(h => h.TextContent));
        Assert.True(pdf.AsSpan().StartsWith("%PDF"u8));
        Assert.Equal(HttpStatusCode.OK, (await consultant.GetAsync($"/plans/{plan.PlanId}", Cancel)).StatusCode);
        foreach (var tail in new[] { "", "/read", "/pdf" })
        {
            Assert.Equal(HttpStatusCode.NotFound, (await consultant.GetAsync($"/plans/{Guid.NewGuid()}{tail}", Cancel)).StatusCode);
        }
    }

    [Theory]
    [InlineData("/brand/1f5a5.css")]
    [InlineData("/brand/1f5a52ff.css")]
    [InlineData("/brand/red.css")]
    [InlineData("/brand/+f5a52.css")]
    public async Task Only_a_colour_gets_a_style_sheet(string address)
    {
        using var stranger = app.Visitor();

        Assert.Equal(HttpStatusCode.NotFound, (await stranger.GetAsync(address, Cancel)).StatusCode);
    }

    [Fact]
    public async Task A_plan_opened_a_moment_ago_is_read_again_only_where_its_text_is_another_or_time_has_passed()
    {
        var (plan, _, _) = await PublishedAsync();
        var time = new Workspace.ManualTime();
        var shelf = new PlanShelf(2, TimeSpan.FromMinutes(5), time);

        var first = shelf.Read(plan);
        Assert.Same(first, shelf.Read(plan with { SnapshotText = new string(plan.SnapshotText.AsSpan()) }));

        var other = plan with { SnapshotText = plan.SnapshotText.Replace("The Heron", "The Bittern", StringComparison.Ordinal) };
        Assert.Equal("The Bittern", shelf.Read(other).VanName);
        Assert.Same(first, shelf.Read(plan));
        Assert.ThrowsAny<System.Text.Json.JsonException>(() => shelf.Read(plan with { SnapshotText = "{}" }));

        // Two are kept: a third, even of the same text, puts out the one asked for longest ago.
        var third = plan with { PlanId = Guid.NewGuid() };
        Assert.NotSame(first, shelf.Read(third));
        Assert.Same(first, shelf.Read(plan));

        time.Advance(5 * 60_000);
        Assert.NotSame(first, shelf.Read(plan));
    }

    [Fact]
    public async Task A_link_withdrawn_just_after_it_opened_a_plan_opens_nothing()
    {
        var (_, link, _) = await PublishedAsync();
        using var reader = app.Visitor();
        Assert.Equal(HttpStatusCode.OK, (await reader.GetAsync($"/plan/{link.Token}", Cancel)).StatusCode);

        await Plans.RevokeLink(await app.DemoConsultantAsync(), link.LinkId, Cancel);

        var page = await reader.GetAsync($"/plan/{link.Token}", Cancel);
        Assert.Equal(HttpStatusCode.NotFound, page.StatusCode);
        Assert.DoesNotContain("The Heron", await page.Content.ReadAsStringAsync(Cancel), StringComparison.Ordinal);
    }

    /// <summary>Every number a reader is shown as a headline or as proof of a finding.</summary>
    private static List<string> Numbers(PlanSnapshot snapshot)
    {
        var blocks = snapshot.Sections.SelectMany(s => s.Blocks).ToList();
        var findings = blocks.OfType<FindingBlock>().Concat(blocks.OfType<DangerBlock>().SelectMany(box => box.Dangers));
        var bands = blocks.OfType<FigureBlock>().Where(b => b.Figure.Id is "bands" or "scores" or "heater-fit").SelectMany(b => b.Figure.Elements.OfType<Label>()).Select(label => label.Text);
        var numbers = blocks.OfType<NumbersBlock>().SelectMany(b => b.Numbers).Concat(findings.SelectMany(b => b.Numbers)).Select(n => n.Value).Concat(bands).Distinct().ToList();
        Assert.True(numbers.Count > 10, "The demo's plan holds few numbers.");
        return numbers;
    }

    /// <summary>A PDF keeps no blanks between its words; the page has no-break spaces.</summary>
    private static string Squeezed(string text) => Regex.Replace(text, @"[\s\u00A0]+", "");

    private static string VisibleText(IHtmlDocument page) => Regex.Replace(page.Title + " " + page.QuerySelector("main")!.TextContent, @"\s+", " ");

    private async Task<(OpenedPlan Plan, NewPlanLink Link, PlanSnapshot Snapshot)> PublishedAsync()
    {
        var who = await app.DemoConsultantAsync();
        var line = (await app.Services.GetRequiredService<DeskList>().Plans(who, 10, cancellation: Cancel)).Single(p => p.VanName == "The Heron");
        var plan = (await Plans.Plan(who, line.Id, Cancel))!;
        return (plan, await Plans.AddLink(who, plan.PlanId, cancellation: Cancel), PlanPress.Read(plan));
    }
}

public sealed class PlanLimitTests(DeskApp app) : IClassFixture<DeskApp>
{
    [Fact]
    public async Task One_address_cannot_try_links_without_end()
    {
        using var stranger = app.Visitor();
        for (var attempt = 0; attempt < RequestLimits.PlansPerMinute; attempt++)
        {
            Assert.Equal(HttpStatusCode.NotFound, (await stranger.GetAsync("/plan/guess-" + attempt, TestContext.Current.CancellationToken)).StatusCode);
        }

        Assert.Equal(HttpStatusCode.TooManyRequests, (await stranger.GetAsync("/plan/one-more", TestContext.Current.CancellationToken)).StatusCode);
    }

    [Fact]
    public async Task One_address_cannot_try_links_to_questions_without_end()
    {
        using var stranger = app.Visitor();
        for (var attempt = 0; attempt < RequestLimits.IntakesPerMinute; attempt++)
        {
            Assert.Equal(HttpStatusCode.NotFound, (await stranger.GetAsync("/intake/guess-" + attempt, TestContext.Current.CancellationToken)).StatusCode);
        }

        Assert.Equal(HttpStatusCode.TooManyRequests, (await stranger.GetAsync("/intake/one-more", TestContext.Current.CancellationToken)).StatusCode);
    }

    [Fact]
    public async Task One_address_cannot_have_PDFs_made_without_end()
    {
        using var stranger = app.Visitor();
        for (var attempt = 0; attempt < RequestLimits.PdfsPerMinute; attempt++)
        {
            Assert.Equal(HttpStatusCode.NotFound, (await stranger.GetAsync($"/plan/guess-{attempt}/pdf", TestContext.Current.CancellationToken)).StatusCode);
        }

        Assert.Equal(HttpStatusCode.TooManyRequests, (await stranger.GetAsync("/plan/one-more/pdf", TestContext.Current.CancellationToken)).StatusCode);
    }
}
