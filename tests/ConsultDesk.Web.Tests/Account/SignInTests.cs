using System.Net;
using ConsultDesk.Web.Account;
using ConsultDesk.Web.Demo;
using ConsultDesk.Web.Tests.Shell;
using Xunit;

namespace ConsultDesk.Web.Tests.Account;

public sealed class SignInTests(DeskApp app) : IClassFixture<DeskApp>
{
    [Theory]
    [InlineData("/")]
    [InlineData("/clients")]
    [InlineData("/clients/new")]
    [InlineData("/clients/0197aaaa-0000-7000-8000-000000000001")]
    [InlineData("/vans/0197aaaa-0000-7000-8000-000000000001")]
    [InlineData("/plans/0197aaaa-0000-7000-8000-000000000001")]
    [InlineData("/plans/0197aaaa-0000-7000-8000-000000000001/read")]
    [InlineData("/plans/0197aaaa-0000-7000-8000-000000000001/pdf")]
    [InlineData("/no/such/page")]
    public async Task A_stranger_is_sent_to_the_sign_in_page(string address)
    {
        using var stranger = app.Visitor();

        var answer = await stranger.GetAsync(address, TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        Assert.Equal("/sign-in", answer.Headers.Location!.AbsolutePath);
    }

    [Fact]
    public async Task A_stranger_gets_no_live_connection()
    {
        using var stranger = app.Visitor();

        var answer = await stranger.PostAsync("/_blazor/negotiate?negotiateVersion=1", null, TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.Unauthorized, answer.StatusCode);
    }

    [Fact]
    public async Task The_right_password_opens_the_page_that_was_asked_for()
    {
        using var visitor = app.Visitor();

        var answer = await DeskApp.SignInAsync(visitor, DemoDesk.Email, DemoDesk.Password, "/sign-in?returnUrl=%2Fclients");

        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        Assert.Equal("http://localhost/clients", answer.Headers.Location!.ToString());
        Assert.Equal(HttpStatusCode.OK, (await visitor.GetAsync("/clients", TestContext.Current.CancellationToken)).StatusCode);
    }

    [Theory]
    [InlineData("https%3A%2F%2Felsewhere.example")]
    [InlineData("%2F%2Felsewhere.example")]
    [InlineData("%2F%5Celsewhere.example")]
    [InlineData("javascript%3Aalert(1)")]
    public async Task Signing_in_never_leads_to_a_strangers_page(string returnUrl)
    {
        using var visitor = app.Visitor();

        var answer = await DeskApp.SignInAsync(visitor, DemoDesk.Email, DemoDesk.Password, "/sign-in?returnUrl=" + returnUrl);

        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        Assert.Equal("http://localhost/", answer.Headers.Location!.ToString());
    }

    [Fact]
    public async Task A_wrong_password_and_an_unknown_address_get_the_same_words_and_the_typed_address_stays()
    {
        using var visitor = app.Visitor();

        var wrong = await DeskApp.ParseAsync(await DeskApp.SignInAsync(visitor, DemoDesk.Email, "not the password"));
        var unknown = await DeskApp.ParseAsync(await DeskApp.SignInAsync(visitor, "nobody@fernhollow.example.org", "not the password"));

        Assert.Equal(DemoDesk.Email, DeskApp.Value(wrong, "Input.Email"));
        Assert.Equal("nobody@fernhollow.example.org", DeskApp.Value(unknown, "Input.Email"));
        var words = wrong.QuerySelector("[role=alert]")!.TextContent;
        Assert.Contains("do not go together", words, StringComparison.Ordinal);
        Assert.Equal(words, unknown.QuerySelector("[role=alert]")!.TextContent);
        Assert.Empty(wrong.QuerySelector("input[type=password]")!.GetAttribute("value") ?? "");
    }

    [Fact]
    public async Task An_empty_password_is_asked_for_at_its_field()
    {
        using var visitor = app.Visitor();

        var page = await DeskApp.ParseAsync(await DeskApp.SignInAsync(visitor, DemoDesk.Email, ""));

        Assert.Equal("Expected your password.", page.QuerySelector(".field-error")!.TextContent);
        Assert.Equal(DemoDesk.Email, DeskApp.Value(page, "Input.Email"));
    }

    [Fact]
    public async Task A_form_without_its_token_is_refused()
    {
        using var visitor = app.Visitor();

        var answer = await visitor.PostAsync(
            "/sign-in",
            new FormUrlEncodedContent(new Dictionary<string, string> { ["_handler"] = "sign-in", ["Input.Email"] = DemoDesk.Email, ["Input.Password"] = DemoDesk.Password }),
            TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Equal("That form was too old", (await DeskApp.ParseAsync(answer)).QuerySelector("h1")!.TextContent);
    }

    [Fact]
    public async Task Signing_out_closes_the_desk()
    {
        using var consultant = await app.ConsultantAsync();
        var form = await DeskApp.PageAsync(consultant, "/sign-out");

        var answer = await consultant.PostAsync(
            "/sign-out",
            new FormUrlEncodedContent(new Dictionary<string, string>
            {
                ["_handler"] = DeskApp.Value(form, "_handler"),
                ["__RequestVerificationToken"] = DeskApp.Value(form, "__RequestVerificationToken"),
            }),
            TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        Assert.Equal(HttpStatusCode.Redirect, (await consultant.GetAsync("/", TestContext.Current.CancellationToken)).StatusCode);
    }
}

public sealed class LockoutTests(DeskApp app) : IClassFixture<DeskApp>
{
    [Fact]
    public async Task After_five_wrong_passwords_the_right_one_does_not_open_the_desk_either()
    {
        using var visitor = app.Visitor();
        for (var attempt = 0; attempt < AccountRegistration.AttemptsBeforeLockout; attempt++)
        {
            await DeskApp.SignInAsync(visitor, DemoDesk.Email, "wrong " + attempt);
        }

        var answer = await DeskApp.SignInAsync(visitor, DemoDesk.Email, DemoDesk.Password);

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Contains("do not go together", (await DeskApp.ParseAsync(answer)).QuerySelector("[role=alert]")!.TextContent, StringComparison.Ordinal);
    }
}

public sealed class SignInLimitTests(DeskApp app) : IClassFixture<DeskApp>
{
    [Fact]
    public async Task One_address_cannot_try_passwords_without_end()
    {
        using var visitor = app.Visitor();
        var body = () => new FormUrlEncodedContent(new Dictionary<string, string> { ["_handler"] = "sign-in" });
        for (var attempt = 0; attempt < Web.Shell.RequestLimits.SignInsPerMinute; attempt++)
        {
            await visitor.PostAsync("/sign-in", body(), TestContext.Current.CancellationToken);
        }

        var answer = await visitor.PostAsync("/sign-in", body(), TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.TooManyRequests, answer.StatusCode);
        Assert.Equal("60", answer.Headers.GetValues("Retry-After").Single());
    }
}
