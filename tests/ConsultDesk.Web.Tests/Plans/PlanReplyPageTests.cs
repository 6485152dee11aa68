using System.Net;
using AngleSharp.Html.Dom;
using ConsultDesk.Records;
using ConsultDesk.Web.Tests.Shell;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Web.Tests.Plans;

/// <summary>Where a client comments on a plan, asks and accepts it, as a browser without scripts sends it.</summary>
public sealed class PlanReplyPageTests(DeskApp app) : IClassFixture<DeskApp>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private PlanReplies Replies => app.Services.GetRequiredService<PlanReplies>();

    [Fact]
    public async Task The_plan_leads_to_it_and_what_is_sent_stands_there_and_on_the_desk()
    {
        var (plan, token) = await PublishedAsync();
        using var client = app.Visitor();
        Assert.NotNull((await DeskApp.PageAsync(client, $"/plan/{token}")).QuerySelector($"a[href='/plan/{token}/reply']"));
        var page = await DeskApp.PageAsync(client, $"/plan/{token}/reply");
        Assert.Empty(page.QuerySelectorAll("script"));

        const string Nasty = "</p><script>alert(1)</script> نועה";
        var answer = await PostAsync(client, page, token, "write", [new("Kind", "Question"), new("Section", page.QuerySelectorAll("#section option")[1].GetAttribute("value")!), new("Text", Nasty), new("Name", "Zoë")]);

        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        var after = await DeskApp.PageAsync(client, $"/plan/{token}/reply");
        Assert.Empty(after.QuerySelectorAll("script"));
        Assert.Contains(Nasty, after.Body!.TextContent, StringComparison.Ordinal);
        Assert.Equal(plan, Assert.Single(await Replies.Waiting(await app.DemoConsultantAsync(), Cancel), line => line.PlanId == plan).PlanId);

        var accepted = await PostAsync(client, after, token, "accept", [new("Name", "Zoë")]);
        Assert.Equal(HttpStatusCode.Redirect, accepted.StatusCode);
        var last = await DeskApp.PageAsync(client, $"/plan/{token}/reply");
        Assert.Null(last.QuerySelector("#accept-name"));
        Assert.Contains("Accepted", last.Body!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_missing_is_said_at_its_field_and_the_rest_stays_typed()
    {
        var (plan, token) = await PublishedAsync();
        using var client = app.Visitor();
        var page = await DeskApp.PageAsync(client, $"/plan/{token}/reply");

        var refused = await DeskApp.ParseAsync(await PostAsync(client, page, token, "write", [new("Kind", "Comment"), new("Section", ""), new("Text", "Kept words"), new("Name", "")]));

        Assert.Equal("Kept words", refused.QuerySelector("#text")!.TextContent);
        Assert.StartsWith("Expected", refused.QuerySelector("#write-name-error")!.TextContent, StringComparison.Ordinal);
        Assert.NotNull(refused.QuerySelector("input[value=Comment][checked]"));
        Assert.Null(refused.QuerySelector("#accept-name-error"));
        Assert.Empty(await Replies.Of(await app.DemoConsultantAsync(), plan, Cancel));
    }

    [Fact]
    public async Task Without_a_link_that_works_or_the_token_against_forgery_nothing_is_taken()
    {
        var (plan, token) = await PublishedAsync();
        using var client = app.Visitor();
        var page = await DeskApp.PageAsync(client, $"/plan/{token}/reply");

        var forged = await client.PostAsync($"/plan/{token}/reply", new FormUrlEncodedContent([new("_handler", "accept"), new("Name", "Thief")]), Cancel);
        var unknown = await client.GetAsync($"/plan/{token[..^1]}{(token[^1] == 'A' ? 'B' : 'A')}/reply", Cancel);

        Assert.Equal(HttpStatusCode.BadRequest, forged.StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, unknown.StatusCode);
        Assert.NotNull(page.QuerySelector("form"));
        Assert.Empty(await Replies.Of(await app.DemoConsultantAsync(), plan, Cancel));
    }

    private static Task<HttpResponseMessage> PostAsync(HttpClient client, IHtmlDocument page, string token, string form, IEnumerable<KeyValuePair<string, string>> fields) =>
        client.PostAsync($"/plan/{token}/reply", new FormUrlEncodedContent([new("_handler", form), new("__RequestVerificationToken", DeskApp.Value(page, "__RequestVerificationToken")), .. fields]), Cancel);

    private async Task<(Guid Plan, string Token)> PublishedAsync()
    {
        var who = await app.DemoConsultantAsync();
        var plan = (await app.Services.GetRequiredService<DeskList>().Plans(who, 1, cancellation: Cancel))[0].Id;
        // Each test writes to a revision of its own, which holds the same text as the demo's.
        var plans = app.Services.GetRequiredService<Records.Plans>();
        var opened = (await plans.Plan(who, plan, Cancel))!;
        var option = (await app.Services.GetRequiredService<VanOptions>().OptionsOf(who, opened.VanId, Cancel))[^1];
        var loaded = (await app.Services.GetRequiredService<VanOptions>().Load(who, option.Id, Cancel))!;
        var published = await plans.Publish(who, option.Id, loaded.Version, _ => new(opened.SnapshotText, opened.SnapshotFormat, opened.MethodVersion), "A danger may stand in this option of the test.", cancellation: Cancel);
        return (published.PlanId, published.Link.Token);
    }
}
