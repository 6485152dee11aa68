using Xunit;

namespace ConsultDesk.Web.Tests.Shell;

public sealed class HeaderTests(DeskApp app) : IClassFixture<DeskApp>
{
    [Theory]
    [InlineData("/sign-in")]
    [InlineData("/")]
    [InlineData("/clients/new")]
    [InlineData("/plan/nothing-opens-with-this")]
    [InlineData("/health/live")]
    public async Task Every_answer_tells_the_browser_what_it_may_not_do(string address)
    {
        using var consultant = await app.ConsultantAsync();

        var headers = (await consultant.GetAsync(address, TestContext.Current.CancellationToken)).Headers;

        Assert.Equal("nosniff", Only(headers, "X-Content-Type-Options"));
        Assert.Contains(Only(headers, "Referrer-Policy"), new[] { "same-origin", "no-referrer" });
        var policy = string.Join("; ", headers.GetValues("Content-Security-Policy"));
        Assert.Contains("default-src 'self'", policy, StringComparison.Ordinal);
        Assert.Contains("frame-ancestors 'none'", policy, StringComparison.Ordinal);
        Assert.Contains("object-src 'none'", policy, StringComparison.Ordinal);
        var scripts = policy.Split(';', StringSplitOptions.TrimEntries).Single(p => p.StartsWith("script-src", StringComparison.Ordinal));
        Assert.DoesNotContain("unsafe", scripts, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_sign_in_cookie_is_out_of_reach_of_scripts_and_other_sites()
    {
        using var visitor = app.Visitor();

        var answer = await DeskApp.SignInAsync(visitor, Demo.DemoDesk.Email, Demo.DemoDesk.Password);

        var cookie = answer.Headers.GetValues("Set-Cookie").Single(c => c.StartsWith("desk-sign-in=", StringComparison.Ordinal));
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=lax", cookie, StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData("/health/live")]
    [InlineData("/health/ready")]
    public async Task A_watchdog_may_ask_without_signing_in(string address)
    {
        using var watchdog = app.Visitor();

        Assert.Equal("Healthy", (await watchdog.GetStringAsync(address, TestContext.Current.CancellationToken)).Split('\n')[0]);
    }

    [Theory]
    [InlineData("light")]
    [InlineData("dark")]
    public async Task The_chosen_appearance_is_in_the_page_before_any_script(string theme)
    {
        using var visitor = app.Visitor();
        using var request = new HttpRequestMessage(HttpMethod.Get, "/sign-in");
        request.Headers.Add("Cookie", "desk-theme=" + theme);

        var page = await DeskApp.ParseAsync(await visitor.SendAsync(request, TestContext.Current.CancellationToken));

        Assert.Equal(theme, page.DocumentElement.GetAttribute("data-theme"));
    }

    [Fact]
    public async Task An_unknown_appearance_is_ignored()
    {
        using var visitor = app.Visitor();
        using var request = new HttpRequestMessage(HttpMethod.Get, "/sign-in");
        request.Headers.Add("Cookie", "desk-theme=\"><script>");

        var page = await DeskApp.ParseAsync(await visitor.SendAsync(request, TestContext.Current.CancellationToken));

        Assert.Null(page.DocumentElement.GetAttribute("data-theme"));
    }

    private static string Only(System.Net.Http.Headers.HttpResponseHeaders headers, string name) => headers.GetValues(name).Single();
}
