using System.Net;
using System.Security.Cryptography;
using System.Text;
using AngleSharp.Html.Parser;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Plans;
using ConsultDesk.Web.Tests.Shell;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Web.Tests.Plans;

/// <summary>Tonight's settings in a client's link: a page, and a file that needs nothing else.</summary>
public sealed class TonightPageTests(DeskApp app) : IClassFixture<DeskApp>
{
    private const int MostBytes = 200_000;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private T Get<T>()
        where T : notnull => app.Services.GetRequiredService<T>();

    [Fact]
    public async Task The_demo_s_plan_leads_to_it_and_its_one_script_and_style_are_named_by_their_hash()
    {
        var token = await LinkAsync();
        using var client = app.Visitor();
        Assert.NotNull((await DeskApp.PageAsync(client, $"/plan/{token}")).QuerySelector($"a[href='/plan/{token}/tonight']"));

        var answer = await client.GetAsync($"/plan/{token}/tonight", Cancel);
        var html = await answer.Content.ReadAsStringAsync(Cancel);
        var page = await new HtmlParser().ParseDocumentAsync(html, Cancel);

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        var policy = string.Join(' ', answer.Headers.GetValues("Content-Security-Policy"));
        foreach (var inline in new[] { page.QuerySelector("script:not([type])")!.TextContent, page.QuerySelector("style")!.TextContent })
        {
            Assert.Contains($"'sha256-{Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(inline)))}'", policy, StringComparison.Ordinal);
        }

        Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
        Assert.False(answer.Headers.Contains("Set-Cookie"));
        Assert.Equal("no-referrer", string.Join(' ', answer.Headers.GetValues("Referrer-Policy")));
        Assert.NotNull(page.QuerySelector($"a[href='/plan/{token}/tonight.html']"));
        Assert.DoesNotContain("safe", page.Body!.TextContent.Replace("Unsafe", "", StringComparison.Ordinal), StringComparison.OrdinalIgnoreCase);
        foreach (var caution in TonightDocument.Cautions)
        {
            Assert.Contains(caution, page.Body.TextContent, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task The_file_to_keep_stands_alone_and_does_not_carry_the_link()
    {
        var token = await LinkAsync();
        using var client = app.Visitor();
        var answer = await client.GetAsync($"/plan/{token}/tonight.html", Cancel);
        var bytes = await answer.Content.ReadAsByteArrayAsync(Cancel);
        var html = Encoding.UTF8.GetString(bytes);
        TestContext.Current.TestOutputHelper!.WriteLine($"the demo's file: {bytes.Length} bytes");

        Assert.Equal("attachment", answer.Content.Headers.ContentDisposition!.DispositionType);
        Assert.Matches("^tonight-plan-1-[a-z-]+\\.html$", answer.Content.Headers.ContentDisposition.FileName!.Trim('"'));
        Assert.InRange(bytes.Length, 10_000, MostBytes);
        Assert.DoesNotContain(token, html, StringComparison.Ordinal);
        Assert.DoesNotContain("src=", html, StringComparison.Ordinal);
        Assert.DoesNotMatch("href=\"(?!data:,|#s[0-9]+\")", html);
        Assert.DoesNotContain("http", html.Replace("http-equiv", "", StringComparison.Ordinal), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task Without_a_script_the_table_is_read_and_says_the_same()
    {
        var token = await LinkAsync();
        using var client = app.Visitor();
        var page = await new HtmlParser().ParseDocumentAsync(await client.GetStringAsync($"/plan/{token}/tonight", Cancel), Cancel);
        var sheet = await SheetAsync();

        Assert.Equal(sheet.People.Length, page.QuerySelectorAll("details details").Length);
        Assert.Equal(sheet.Answers.Length, page.QuerySelectorAll(".setting").Length);
        Assert.Contains("\u00A0°C", sheet.Temperatures[0], StringComparison.Ordinal);
        foreach (var answer in sheet.Cells.Where(cell => cell >= 0).Distinct().Select(cell => sheet.Answers[cell]))
        {
            Assert.All([.. answer.Do, answer.Heater, .. answer.Watch], line => Assert.Contains(line, page.Body!.TextContent, StringComparison.Ordinal));
            Assert.InRange(answer.Do.Length, 1, 3);
        }
    }

    [Fact]
    public async Task A_link_that_opens_nothing_and_a_plan_of_before_say_so()
    {
        using var client = app.Visitor();
        var unknown = await client.GetAsync($"/plan/{new string('A', 43)}/tonight", Cancel);
        Assert.Equal(HttpStatusCode.NotFound, unknown.StatusCode);
        Assert.Contains("Ask your consultant for a new one", await unknown.Content.ReadAsStringAsync(Cancel), StringComparison.Ordinal);

        var token = await LinkAsync(withTonight: false);
        Assert.Null((await DeskApp.PageAsync(client, $"/plan/{token}")).QuerySelector($"a[href='/plan/{token}/tonight']"));
        var before = await client.GetAsync($"/plan/{token}/tonight", Cancel);
        Assert.Equal(HttpStatusCode.OK, before.StatusCode);
        Assert.Contains("running card", await before.Content.ReadAsStringAsync(Cancel), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync($"/plan/{token}/tonight.html", Cancel)).StatusCode);

        var who = await app.DemoConsultantAsync();
        var plan = (await Get<Records.Plans>().FindByToken(token, Cancel))!;
        var links = (await Get<Records.Plans>().PlansOf(who, plan.VanId, Cancel)).Single(line => line.Id == plan.PlanId).Links;
        await Get<Records.Plans>().RevokeLink(who, links[0].Id, Cancel);
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync($"/plan/{token}/tonight", Cancel)).StatusCode);
        // The firm itself reads it without a link, and nobody else does.
        var consultant = await app.ConsultantAsync();
        Assert.Equal(HttpStatusCode.OK, (await consultant.GetAsync($"/plans/{plan.PlanId}/tonight", Cancel)).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await consultant.GetAsync($"/plans/{Guid.NewGuid()}/tonight", Cancel)).StatusCode);
        Assert.NotEqual(HttpStatusCode.OK, (await client.GetAsync($"/plans/{plan.PlanId}/tonight", Cancel)).StatusCode);
    }

    [Fact]
    public void The_file_of_the_largest_household_stays_below_its_limit_and_nothing_in_a_name_is_executed()
    {
        var van = Presets.Build("long-high", Layout.RearPlatformBed);
        van = van with
        {
            Household = van.Household with { Sleepers = 6 },
            Openings = [.. van.Openings.Select(opening => opening with { Name = "</script><script>alert(1)</script> " + opening.Name })],
        };
        foreach (var opening in Enumerable.Range(0, 4))
        {
            var window = Openings.Find(van, Presets.WindowId)!;
            van = van with { Openings = van.Openings.Add(window with { Id = $"window-{opening}", Name = $"Window {opening} by the bed, half-slider", Face = Face.Left }) };
        }

        var table = TonightTable.Of(van, YearWeather.Of(van), Assumptions.Likely, Cancel);
        var sheet = TonightWords.Of(van, table, ["A danger that stands"], DisplayUnits.Imperial);
        var read = TonightSheet.Read(sheet.Write());
        Assert.Equal(sheet.Cells, read.Cells);
        var plan = new PlanSnapshot
        {
            Format = PlanSnapshotJson.Format,
            Firm = new("F & <b>", "#112233", "c"),
            ClientName = "C",
            VanName = "</script><b>",
            OptionName = "O",
            Revision = 1,
            PublishedAt = DateTime.UnixEpoch,
            MethodVersion = "4",
            DesignText = "{}",
            Sections = [],
        };
        var html = TonightDocument.Write(read, plan, planAddress: null, saveAddress: null);
        TestContext.Current.TestOutputHelper!.WriteLine($"six sleepers, {van.Openings.Length} openings: {Encoding.UTF8.GetByteCount(html)} bytes, {read.Answers.Length} answers, {read.Cells.Length} nights");

        Assert.InRange(Encoding.UTF8.GetByteCount(html), 10_000, MostBytes);
        Assert.Contains("\u221222\u00A0°F", read.Temperatures[0], StringComparison.Ordinal);
        var page = new HtmlParser().ParseDocument(html);
        Assert.Equal(2, page.QuerySelectorAll("script").Length);
        Assert.Empty(page.QuerySelectorAll("b b, h1 b"));
        Assert.Contains("A danger that stands", page.QuerySelector(".danger")!.TextContent, StringComparison.Ordinal);
    }

    private async Task<TonightSheet> SheetAsync() => TonightSheet.Read((await DemoPlanAsync()).TonightText!);

    private async Task<OpenedPlan> DemoPlanAsync()
    {
        var who = await app.DemoConsultantAsync();
        var line = (await Get<DeskList>().Plans(who, 10, cancellation: Cancel)).Single(plan => plan is { VanName: "The Heron", Number: 1 });
        return (await Get<Records.Plans>().Plan(who, line.Id, Cancel))!;
    }

    private async Task<string> LinkAsync(bool withTonight = true)
    {
        var who = await app.DemoConsultantAsync();
        var plan = await DemoPlanAsync();
        if (withTonight)
        {
            return (await Get<Records.Plans>().AddLink(who, plan.PlanId, cancellation: Cancel)).Token;
        }

        var option = (await Get<VanOptions>().OptionsOf(who, plan.VanId, Cancel))[^1];
        var loaded = (await Get<VanOptions>().Load(who, option.Id, Cancel))!;
        return (await Get<Records.Plans>().Publish(
            who, option.Id, loaded.Version, _ => new(plan.SnapshotText, plan.SnapshotFormat, plan.MethodVersion), "A danger may stand in this option of the test.", cancellation: Cancel)).Link.Token;
    }
}
