using Bunit;
using ConsultDesk.Records;
using ConsultDesk.Web.AfterBuild;
using ConsultDesk.Web.Intake;
using ConsultDesk.Web.Shell;
using ConsultDesk.Web.Tests.Shell;
using Microsoft.AspNetCore.Components.Forms;
using Microsoft.Extensions.DependencyInjection;
using MudBlazor.Services;
using SkiaSharp;
using Xunit;
using TestContext = Xunit.TestContext;

namespace ConsultDesk.Web.Tests.AfterBuild;

/// <summary>The timeline of a van, what was built into it and what was reported, as the consultant uses the page.</summary>
public sealed class TimelinePageTests(DeskApp app) : IClassFixture<DeskApp>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private T Get<T>()
        where T : notnull => app.Services.GetRequiredService<T>();

    [Fact]
    public async Task A_van_without_a_plan_says_what_comes_next()
    {
        var (page, _, _) = await OpenAsync("Little Wren");
        Assert.Contains("publish a plan", page.Markup, StringComparison.Ordinal);
        Assert.Contains("Nothing entered yet", page.Markup, StringComparison.Ordinal);
        Assert.Contains("Publish one first", page.Markup, StringComparison.Ordinal);
        Assert.DoesNotContain("Add the follow-up", page.Markup, StringComparison.Ordinal);
        Assert.Contains("Consult held", page.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_was_built_in_is_entered_from_the_plan_s_parts_photographed_and_asked_about_after_a_winter()
    {
        var (page, who, van) = await OpenAsync("The Heron");
        await page.FindAll("button").Single(b => b.TextContent == "Add what was built in").ClickAsync(new());
        var parts = page.FindAll("#Part option").Select(option => option.TextContent).ToList();
        Assert.True(parts.Count > 1, "parts of the plan");
        await page.Find("#Part").ChangeAsync(new() { Value = parts[1] });
        await page.Find("#DoneOn").ChangeAsync(new() { Value = "" });
        await page.Find("form").SubmitAsync();
        Assert.StartsWith("Expected a day", page.Find("#DoneOn-error").TextContent, StringComparison.Ordinal);
        await page.Find("#DoneOn").ChangeAsync(new() { Value = "2026-05-04" });
        await page.Find("form").SubmitAsync();
        var line = Assert.Single(await Get<InstallationBook>().Of(who, van, Cancel));
        Assert.Equal((parts[1], new DateOnly(2026, 5, 4)), (line.What, line.DoneOn));

        var files = page.FindComponent<InputFile>();
        files.UploadFiles(InputFileContent.CreateFromBinary(Picture(), "a.png"));
        page.WaitForAssertion(() => Assert.NotEmpty(page.FindAll(".photo-list img")), TimeSpan.FromSeconds(20));
        var photo = (await Get<InstallationBook>().Of(who, van, Cancel))[0].Photos.Single();
        Assert.Equal([0xFF, 0xD8], (await Get<InstallationBook>().Photo(who, photo.Id, Cancel))![..2]);
        using var stranger = app.Visitor();
        Assert.NotEqual("image/jpeg", (await stranger.GetAsync($"/installations/photo/{photo.Id}", Cancel)).Content.Headers.ContentType?.MediaType);
        Assert.Equal("image/jpeg", (await (await app.ConsultantAsync()).GetAsync($"/installations/photo/{photo.Id}", Cancel)).Content.Headers.ContentType?.MediaType);

        await page.FindAll("button").Single(b => b.TextContent == "Add the follow-up").ClickAsync(new());
        var asked = Assert.Single((await Get<FollowUps>().Of(who, van, Cancel)), f => f.Text == Records.FollowUps.AfterFirstWinter);
        Assert.Equal(new DateOnly(2027, 3, 1), asked.DueOn);
        Assert.DoesNotContain("Add the follow-up", page.Markup, StringComparison.Ordinal);
        Assert.Contains("Built in: ", page.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_report_stands_beside_what_the_plan_foretold_until_it_is_read()
    {
        var who = await app.DemoConsultantAsync();
        var plan = (await Get<DeskList>().Plans(who, 10, cancellation: Cancel)).Single(p => p.VanName == "The Heron");
        var token = (await Get<Records.Plans>().AddLink(who, plan.Id, cancellation: Cancel)).Token;
        await Get<CheckBacks>().Add(token, "Ines <b>", new CheckBackAnswers { WetMornings = 10, Fog = ReportedFog.EveryTime, Words = "Still wet" }, Cancel);
        var (page, _, van) = await OpenAsync("The Heron");

        Assert.Contains("10 of the last 10 cold ones", page.Markup, StringComparison.Ordinal);
        Assert.Matches("\\d+ of \\d+</td>", page.Markup);
        Assert.Contains(WinterComparison.NotInPlan, page.Markup, StringComparison.Ordinal);
        Assert.Contains("What to check next", page.Markup, StringComparison.Ordinal);
        Assert.Contains("Ines &lt;b&gt;", page.Markup, StringComparison.Ordinal);
        await page.FindAll("button").First(b => b.TextContent == "Mark as read").ClickAsync(new());
        Assert.NotNull((await Get<CheckBacks>().Of(who, van, Cancel))[0].SeenAt);
    }

    private static byte[] Picture()
    {
        using var surface = SKSurface.Create(new SKImageInfo(40, 30));
        surface.Canvas.Clear(SKColors.Teal);
        using var image = surface.Snapshot();
        return image.Encode(SKEncodedImageFormat.Png, 90).ToArray();
    }

    private async Task<(IRenderedComponent<TimelinePage> Page, SignedIn Who, Guid Van)> OpenAsync(string vanName)
    {
        var who = await app.DemoConsultantAsync();
        var van = (await Get<DeskList>().Vans(who, vanName, cancellation: Cancel)).Single().Id;
        var context = new BunitContext();
        context.JSInterop.Mode = JSRuntimeMode.Loose;
        context.Services.AddMudServices();
        context.Services.AddSingleton(Get<VanBook>());
        context.Services.AddSingleton(Get<ClientBook>());
        context.Services.AddSingleton(Get<Timeline>());
        context.Services.AddSingleton(Get<InstallationBook>());
        context.Services.AddSingleton(Get<CheckBacks>());
        context.Services.AddSingleton(Get<FollowUps>());
        context.Services.AddSingleton(Get<Records.Plans>());
        context.Services.AddSingleton(Get<IntakePhotos>());
        context.Services.AddSingleton(TimeProvider.System);
        context.Services.AddScoped<ThisBrowser>();
        var page = context.Render<TimelinePage>(parameters => parameters.Add(p => p.VanId, van).AddCascadingValue(who));
        page.WaitForAssertion(() => Assert.Contains("Timeline of", page.Markup, StringComparison.Ordinal), TimeSpan.FromSeconds(20));
        return (page, who, van);
    }
}
