using System.Net;
using AngleSharp.Html.Dom;
using ConsultDesk.Records;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Web.AfterBuild;
using ConsultDesk.Web.Tests.Shell;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Web.Tests.Plans;

/// <summary>How living with a plan went, told by link as a browser without scripts sends it, and set against the plan.</summary>
public sealed class WinterReportPageTests(DeskApp app) : IClassFixture<DeskApp>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private T Get<T>()
        where T : notnull => app.Services.GetRequiredService<T>();

    [Fact]
    public async Task The_plan_leads_to_the_questions_and_what_is_told_waits_on_the_desk()
    {
        var (plan, token) = await LinkAsync();
        using var client = app.Visitor();
        Assert.NotNull((await DeskApp.PageAsync(client, $"/plan/{token}")).QuerySelector($"a[href='/plan/{token}/report']"));
        var page = await DeskApp.PageAsync(client, $"/plan/{token}/report");
        Assert.Empty(page.QuerySelectorAll("script"));

        const string Nasty = "</p><script>alert(1)</script> נועה";
        var answer = await PostAsync(client, page, $"/plan/{token}/report", [new("WetMornings", "4"), new("Fuel", "1,5"), new("FuelUnit", "Litres"), new("FuelPer", "week"), new("Mould", "yes"), new("Where", Nasty), new("Name", "Zoë")]);

        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        Assert.Contains("Thank you", (await DeskApp.PageAsync(client, answer.Headers.Location!.ToString())).Body!.TextContent, StringComparison.Ordinal);
        var who = await app.DemoConsultantAsync();
        Assert.Contains(await Get<CheckBacks>().Waiting(who, Cancel), waiting => waiting.VanId == plan.VanId);
        var told = (await Get<CheckBacks>().Of(who, plan.VanId, Cancel))[0];
        Assert.Equal((4, 1.5, true, (bool?)true, Nasty, (ReportedWarmth?)null), (told.Answers.WetMornings!.Value, told.Answers.Fuel!.Value, told.Answers.FuelAWeek, told.Answers.Mould, told.Answers.Where, told.Answers.Warmth));
    }

    [Fact]
    public async Task What_cannot_be_read_is_said_at_its_field_and_the_rest_stays_typed()
    {
        var (plan, token) = await LinkAsync();
        using var client = app.Visitor();
        var before = (await Get<CheckBacks>().Of(await app.DemoConsultantAsync(), plan.VanId, Cancel)).Count;
        var page = await DeskApp.PageAsync(client, $"/plan/{token}/report");

        var refused = await DeskApp.ParseAsync(await PostAsync(client, page, $"/plan/{token}/report", [new("WetMornings", "many"), new("Fuel", "1.234,5"), new("Warmth", "OftenNot"), new("Words", "Kept words"), new("Name", "")]));

        Assert.StartsWith("Expected", refused.QuerySelector("#WetMornings-error")!.TextContent, StringComparison.Ordinal);
        Assert.StartsWith("Expected", refused.QuerySelector("#Fuel-error")!.TextContent, StringComparison.Ordinal);
        Assert.Equal("Kept words", refused.QuerySelector("#Words")!.TextContent);
        Assert.NotNull(refused.QuerySelector("input[name=Warmth][value=OftenNot][checked]"));
        var again = await DeskApp.ParseAsync(await PostAsync(client, refused, $"/plan/{token}/report", [new("Name", "Zoë")]));
        Assert.StartsWith("Expected an answer", again.QuerySelector("#Words-error")!.TextContent, StringComparison.Ordinal);
        Assert.Equal(before, (await Get<CheckBacks>().Of(await app.DemoConsultantAsync(), plan.VanId, Cancel)).Count);
    }

    [Fact]
    public async Task Without_a_link_that_works_or_the_token_against_forgery_nothing_is_taken()
    {
        var (_, token) = await LinkAsync();
        using var client = app.Visitor();
        await DeskApp.PageAsync(client, $"/plan/{token}/report");
        var forged = await client.PostAsync($"/plan/{token}/report", new FormUrlEncodedContent([new("_handler", "report"), new("Name", "Thief"), new("Words", "x")]), Cancel);
        Assert.Equal(HttpStatusCode.BadRequest, forged.StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync($"/plan/{new string('A', 43)}/report", Cancel)).StatusCode);
    }

    [Fact]
    public async Task A_consultant_takes_a_report_down_and_the_timeline_shows_it_beside_the_plan_s_own_numbers()
    {
        var (plan, _) = await LinkAsync();
        var consultant = await app.ConsultantAsync();
        var page = await DeskApp.PageAsync(consultant, $"/plans/{plan.PlanId}/report");
        var answer = await PostAsync(consultant, page, $"/plans/{plan.PlanId}/report", [new("WetMornings", "9"), new("Warmth", "OftenNot"), new("Name", "Told on the phone")]);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        Assert.EndsWith($"/vans/{plan.VanId}/timeline", answer.Headers.Location!.ToString(), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await consultant.GetAsync($"/plans/{Guid.NewGuid()}/report", Cancel)).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await consultant.GetAsync($"/vans/{Guid.NewGuid()}/timeline", Cancel)).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await consultant.GetAsync($"/vans/{plan.VanId}/timeline", Cancel)).StatusCode);
    }

    [Fact]
    public void A_report_is_set_against_what_the_plan_says_and_what_it_does_not_say_is_said()
    {
        var plan = Plan(new("Wet mornings in the year", "30 of 300"), new("Fuel for the night", "0.5 L"));
        var compared = WinterComparison.Of(plan, new CheckBackAnswers { WetMornings = 5, Fuel = 4, FuelAWeek = true, Warmth = ReportedWarmth.Always, Mould = false, Fog = ReportedFog.Never });

        Assert.Equal(
            [
                new("Wet mornings", "30 of 300", "5 of the last 10 cold ones"), new("Fuel", "fuel for the night: 0.5 L", "4 L a week"),
                new("Warm enough", WinterComparison.NotInPlan, "Always"), new("Mould", WinterComparison.NotInPlan, "no"), new("Fogs up while cooking", WinterComparison.NotInPlan, "Never"),
            ],
            compared.Answers);
        // One in ten was foretold: five ask for a look, three do not, nought neither.
        Assert.Contains(compared.CheckNext, next => next.StartsWith("More wet mornings", StringComparison.Ordinal));
        foreach (var few in new[] { 3, 0 })
        {
            Assert.DoesNotContain(WinterComparison.Of(plan, new CheckBackAnswers { WetMornings = few }).CheckNext, next => next.Contains("wet mornings", StringComparison.Ordinal));
        }

        Assert.Contains(WinterComparison.Of(Plan(new PlanNumber("Wet mornings in the year", "150 of 300")), new CheckBackAnswers { WetMornings = 2 }).CheckNext, next => next.StartsWith("Fewer", StringComparison.Ordinal));
        Assert.Equal(WinterComparison.NotInPlan, WinterComparison.Of(Plan(), new CheckBackAnswers { WetMornings = 5 }).Answers.Single().Foretold);
        Assert.Empty(WinterComparison.Of(Plan(), new CheckBackAnswers { WetMornings = 10 }).CheckNext);
        Assert.Contains(WinterComparison.Of(Plan(), new CheckBackAnswers { Mould = true, Where = "bed" }).CheckNext, next => next.Contains("asthma", StringComparison.Ordinal));
    }

    private static PlanSnapshot Plan(params PlanNumber[] headline) => new()
    {
        Format = PlanSnapshotJson.Format,
        Firm = new("F", "#112233", "c"),
        ClientName = "C",
        VanName = "V",
        OptionName = "O",
        Revision = 1,
        PublishedAt = DateTime.UnixEpoch,
        MethodVersion = "4",
        DesignText = "{}",
        Sections = [],
        Headline = [.. headline],
    };

    private static Task<HttpResponseMessage> PostAsync(HttpClient client, IHtmlDocument page, string address, IEnumerable<KeyValuePair<string, string>> fields) =>
        client.PostAsync(address, new FormUrlEncodedContent([new("_handler", "report"), new("__RequestVerificationToken", DeskApp.Value(page, "__RequestVerificationToken")), .. fields]), Cancel);

    private async Task<(OpenedPlan Plan, string Token)> LinkAsync()
    {
        var who = await app.DemoConsultantAsync();
        var line = (await Get<DeskList>().Plans(who, 10, cancellation: Cancel)).Single(plan => plan is { VanName: "The Heron", Number: 1 });
        return ((await Get<Records.Plans>().Plan(who, line.Id, Cancel))!, (await Get<Records.Plans>().AddLink(who, line.Id, cancellation: Cancel)).Token);
    }
}
