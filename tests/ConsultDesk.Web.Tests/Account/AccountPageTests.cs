using System.Net;
using AngleSharp.Html.Dom;
using ConsultDesk.Records;
using ConsultDesk.Web.Account;
using ConsultDesk.Web.Shell;
using ConsultDesk.Web.Tests.Shell;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.AspNetCore.TestHost;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Web.Tests.Account;

/// <summary>An account's own pages and the second step of signing in, over the whole app and without a browser.</summary>
public sealed class AccountPageTests
{
    public const string Password = "wet wool by the stove";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task An_authenticator_is_set_up_with_the_password_and_asked_for_after_it()
    {
        await using var app = new EmptyDesk();
        var ben = await AddAsync(app.Services, DeskRole.Consultant);
        using var here = await SignedInAsync(app, ben);

        var refused = await SendAsync(here, "/account/authenticator", "begin", ("Input.Current", "not the password"));
        Assert.Contains("not your password", Alert(refused), StringComparison.Ordinal);
        Assert.Null(refused.QuerySelector(".authenticator-key"));

        var (key, codes) = await SetUpAsync(here);
        Assert.Equal(AuthenticatorPage.RecoveryCodes, codes.Count);
        Assert.Equal(codes.Count, codes.Distinct().Count());

        using var there = app.Visitor();
        var first = await DeskApp.SignInAsync(there, ben.Email, Password, "/sign-in?returnUrl=%2Fclients");
        Assert.Equal("/sign-in/code", first.Headers.Location!.AbsolutePath);
        Assert.Equal(HttpStatusCode.Redirect, (await there.GetAsync("/clients", Cancel)).StatusCode);
        Assert.Contains("does not fit", Alert(await SendAsync(there, first.Headers.Location.PathAndQuery, "code", ("Input.Code", "000000"))), StringComparison.Ordinal);

        var answer = await PostAsync(there, first.Headers.Location.PathAndQuery, "code", ("Input.Code", Totp.Code(key, Totp.Now + 1)));
        Assert.Equal("/clients", answer.Headers.Location!.AbsolutePath);
        Assert.Equal(HttpStatusCode.OK, (await there.GetAsync("/clients", Cancel)).StatusCode);
    }

    [Fact]
    public async Task A_code_works_once_also_when_it_still_fits()
    {
        await using var app = new EmptyDesk();
        var ben = await AddAsync(app.Services, DeskRole.Consultant);
        using var here = await SignedInAsync(app, ben);
        var (key, _) = await SetUpAsync(here);
        var code = Totp.Code(key, Totp.Now + 1);

        using var there = app.Visitor();
        await DeskApp.SignInAsync(there, ben.Email, Password);
        Assert.Equal(HttpStatusCode.Redirect, (await PostAsync(there, "/sign-in/code", "code", ("Input.Code", code))).StatusCode);
        using var watcher = app.Visitor();
        await DeskApp.SignInAsync(watcher, ben.Email, Password);

        Assert.Contains("used already", Alert(await SendAsync(watcher, "/sign-in/code", "code", ("Input.Code", code))), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_recovery_code_opens_once_however_it_is_typed()
    {
        await using var app = new EmptyDesk();
        var ben = await AddAsync(app.Services, DeskRole.Consultant);
        using var here = await SignedInAsync(app, ben);
        var (_, codes) = await SetUpAsync(here);

        using var there = app.Visitor();
        await DeskApp.SignInAsync(there, ben.Email, Password);
        var typed = " " + codes[3].Replace("-", " ", StringComparison.Ordinal).ToLowerInvariant();
        Assert.Equal(HttpStatusCode.Redirect, (await PostAsync(there, "/sign-in/code", "recovery", ("Input.Recovery", typed))).StatusCode);
        Assert.Contains("9 recovery codes are left", (await DeskApp.PageAsync(there, "/account")).Body!.TextContent, StringComparison.Ordinal);

        using var again = app.Visitor();
        await DeskApp.SignInAsync(again, ben.Email, Password);
        Assert.Contains("does not fit", Alert(await SendAsync(again, "/sign-in/code", "recovery", ("Input.Recovery", codes[3]))), StringComparison.Ordinal);
        Assert.Equal(
            ["user.signed-in", "user.recovery-code-used", "user.authenticator-on", "user.signed-in"],
            (await app.Services.GetRequiredService<AuditTrail>().Of(ben.Who, ben.Who.UserId, Cancel)).Select(a => a.Action).Reverse());
    }

    [Theory]
    [InlineData("code", "Input.Code", "123456")]
    [InlineData("recovery", "Input.Recovery", "AAAAA-BBBBB")]
    public async Task Wrong_codes_lock_the_account_like_wrong_passwords(string form, string field, string wrong)
    {
        await using var app = new EmptyDesk();
        var ben = await AddAsync(app.Services, DeskRole.Consultant);
        using var here = await SignedInAsync(app, ben);
        var (key, codes) = await SetUpAsync(here);
        using var there = app.Visitor();
        await DeskApp.SignInAsync(there, ben.Email, Password);

        for (var attempt = 0; attempt < AccountRegistration.AttemptsBeforeLockout; attempt++)
        {
            await SendAsync(there, "/sign-in/code", form, (field, wrong));
        }

        Assert.Contains("locked", Alert(await SendAsync(there, "/sign-in/code", "code", ("Input.Code", Totp.Code(key, Totp.Now + 1)))), StringComparison.Ordinal);
        Assert.Contains("locked", Alert(await SendAsync(there, "/sign-in/code", "recovery", ("Input.Recovery", codes[0]))), StringComparison.Ordinal);
        using var fresh = app.Visitor();
        Assert.Equal(HttpStatusCode.OK, (await DeskApp.SignInAsync(fresh, ben.Email, Password)).StatusCode);
        Assert.Contains(await app.Services.GetRequiredService<AuditTrail>().Of(ben.Who, ben.Who.UserId, Cancel), a => a.Action == "user.locked");
    }

    [Fact]
    public async Task The_second_step_without_the_first_is_sent_back()
    {
        await using var app = new EmptyDesk();
        await AddAsync(app.Services, DeskRole.Consultant);
        using var visitor = app.Visitor();

        var page = await DeskApp.PageAsync(visitor, "/sign-in/code");

        Assert.Empty(page.QuerySelectorAll("form"));
        Assert.Equal("/sign-in", page.QuerySelector("main p a")!.GetAttribute("href"));
    }

    [Fact]
    public async Task Turned_off_the_authenticator_is_asked_no_more_and_its_old_key_is_gone()
    {
        await using var app = new EmptyDesk();
        var ben = await AddAsync(app.Services, DeskRole.Consultant);
        using var here = await SignedInAsync(app, ben);
        var (key, codes) = await SetUpAsync(here);
        Assert.Contains("not your password", Alert(await SendAsync(here, "/account/authenticator", "off", ("Input.Current", "no"))), StringComparison.Ordinal);
        var renewed = await SendAsync(here, "/account/authenticator", "codes", ("Input.Current", Password));
        Assert.Empty(Codes(renewed).Intersect(codes));

        Assert.Equal(HttpStatusCode.Redirect, (await PostAsync(here, "/account/authenticator", "off", ("Input.Current", Password))).StatusCode);

        using var there = app.Visitor();
        Assert.Equal("/", (await DeskApp.SignInAsync(there, ben.Email, Password)).Headers.Location!.AbsolutePath);
        var begun = await SendAsync(here, "/account/authenticator", "begin", ("Input.Current", Password));
        Assert.NotEqual(key, begun.QuerySelector(".authenticator-key")!.TextContent);
    }

    [Fact]
    public async Task A_changed_password_ends_the_other_sign_ins_and_keeps_this_one()
    {
        await using var desk = new EmptyDesk();
        await using var app = AskedAtOnce(desk);
        var ben = await AddAsync(app.Services, DeskRole.Consultant);
        using var here = await SignedInAsync(app, ben);
        using var there = await SignedInAsync(app, ben);

        var wrong = await SendAsync(here, "/account", "password", ("Input.Current", "no"), ("Input.Password", "short"), ("Input.Again", "other"));
        Assert.Equal(3, wrong.QuerySelectorAll(".field-error:not([data-trouble])").Length);
        Assert.Equal(HttpStatusCode.OK, (await there.GetAsync("/account", Cancel)).StatusCode);
        var done = await SendAsync(here, "/account", "password", ("Input.Current", Password), ("Input.Password", "dry wool by the stove"), ("Input.Again", "dry wool by the stove"));

        Assert.Contains("is changed", done.QuerySelector("[role=status]")!.TextContent, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await here.GetAsync("/account", Cancel)).StatusCode);
        Assert.Equal(HttpStatusCode.Redirect, (await there.GetAsync("/account", Cancel)).StatusCode);
        using var fresh = Visitor(app);
        Assert.Equal(HttpStatusCode.OK, (await DeskApp.SignInAsync(fresh, ben.Email, Password)).StatusCode);
        Assert.Equal(HttpStatusCode.Redirect, (await DeskApp.SignInAsync(fresh, ben.Email, "dry wool by the stove")).StatusCode);
    }

    [Fact]
    public async Task Signed_out_everywhere_is_everywhere()
    {
        await using var desk = new EmptyDesk();
        await using var app = AskedAtOnce(desk);
        var ben = await AddAsync(app.Services, DeskRole.Consultant);
        using var here = await SignedInAsync(app, ben);
        using var there = await SignedInAsync(app, ben);

        Assert.Equal(HttpStatusCode.Redirect, (await PostAsync(here, "/account", "everywhere")).StatusCode);

        Assert.Equal(HttpStatusCode.Redirect, (await here.GetAsync("/account", Cancel)).StatusCode);
        Assert.Equal(HttpStatusCode.Redirect, (await there.GetAsync("/account", Cancel)).StatusCode);
    }

    [Fact]
    public async Task Who_lost_access_is_out_and_cannot_sign_in_again()
    {
        await using var desk = new EmptyDesk();
        await using var app = AskedAtOnce(desk);
        var ada = await AddAsync(app.Services, DeskRole.Owner);
        var ben = await AddAsync(app.Services, DeskRole.Consultant, ada.Who.FirmId);
        using var there = await SignedInAsync(app, ben);

        await app.Services.GetRequiredService<People>().TakeAccess(ada.Who, ben.Who.UserId, Cancel);

        Assert.Equal(HttpStatusCode.Redirect, (await there.GetAsync("/account", Cancel)).StatusCode);
        using var fresh = Visitor(app);
        var refused = await DeskApp.ParseAsync(await DeskApp.SignInAsync(fresh, ben.Email, Password));
        Assert.Contains("do not go together", Alert(refused), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_open_page_and_a_cookie_are_asked_again_within_a_minute()
    {
        await using var app = new EmptyDesk();
        Assert.Equal(TimeSpan.FromMinutes(1), RevalidatingSignIn.Interval);
        Assert.Equal(RevalidatingSignIn.Interval, app.Services.GetRequiredService<Microsoft.Extensions.Options.IOptions<SecurityStampValidatorOptions>>().Value.ValidationInterval);
    }

    [Theory]
    [InlineData("00:01:01")]
    [InlineData("0")]
    [InlineData("soon")]
    public void A_desk_that_should_ask_later_than_its_pages_say_does_not_start(string time)
    {
        Assert.Equal(TimeSpan.FromSeconds(2), AccountRegistration.AskedAgain(" 00:00:02 "));

        var refused = Assert.Throws<StartRefusedException>(() => AccountRegistration.AskedAgain(time));

        Assert.Contains("SignIn:AskedAgain", refused.Message, StringComparison.Ordinal);
        Assert.Contains("00:01:00", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_change_of_an_account_whose_line_cannot_be_kept_is_not_made()
    {
        await using var app = new EmptyDesk();
        var ben = await AddAsync(app.Services, DeskRole.Consultant);
        using var here = await SignedInAsync(app, ben);
        await using (var db = await app.Services.GetRequiredService<IDbContextFactory<DeskContext>>().CreateDbContextAsync(Cancel))
        {
            await db.Database.ExecuteSqlRawAsync("CREATE TRIGGER no_line BEFORE INSERT ON Audit WHEN NEW.Action = 'user.password-changed' BEGIN SELECT RAISE(FAIL, 'no room'); END", Cancel);
        }

        using var answer = await PostAsync(here, "/account", "password", ("Input.Current", Password), ("Input.Password", "dry wool by the stove"), ("Input.Again", "dry wool by the stove"));

        Assert.Equal(HttpStatusCode.InternalServerError, answer.StatusCode);
        using var there = Visitor(app);
        Assert.Contains("do not go together", Alert(await DeskApp.ParseAsync(await DeskApp.SignInAsync(there, ben.Email, "dry wool by the stove"))), StringComparison.Ordinal);
        using var again = await SignedInAsync(app, ben);
        Assert.Equal(HttpStatusCode.OK, (await here.GetAsync("/account", Cancel)).StatusCode);
    }

    [Fact]
    public async Task A_passkey_is_asked_for_with_the_forms_token_and_made_with_the_password()
    {
        await using var app = new EmptyDesk();
        var ben = await AddAsync(app.Services, DeskRole.Consultant);
        using var visitor = app.Visitor();
        Assert.Equal(HttpStatusCode.BadRequest, (await visitor.PostAsync(AccountRegistration.PasskeyPath, new FormUrlEncodedContent([]), Cancel)).StatusCode);
        using var here = await SignedInAsync(app, ben);
        Assert.Equal(HttpStatusCode.BadRequest, (await here.PostAsync(AccountRegistration.NewPasskeyPath, new FormUrlEncodedContent([]), Cancel)).StatusCode);

        var wrong = await FetchAsync(here, "/account", AccountRegistration.NewPasskeyPath, ("Input.Current", "no"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, wrong.StatusCode);
        Assert.Equal(AccountPage.WrongPassword, await wrong.Content.ReadAsStringAsync(Cancel));
        using var made = System.Text.Json.JsonDocument.Parse(
            await (await FetchAsync(here, "/account", AccountRegistration.NewPasskeyPath, ("Input.Current", Password))).Content.ReadAsStringAsync(Cancel));
        var options = made.RootElement;
        Assert.Equal(ben.Email, options.GetProperty("user").GetProperty("name").GetString());
        Assert.Equal("required", options.GetProperty("authenticatorSelection").GetProperty("userVerification").GetString());
        Assert.Equal("required", options.GetProperty("authenticatorSelection").GetProperty("residentKey").GetString());
        // 32 bytes in base64url.
        Assert.Equal(43, options.GetProperty("challenge").GetString()!.Length);
    }

    [Theory]
    [InlineData("")]
    [InlineData("not json")]
    [InlineData("{}")]
    [InlineData("""{"id":"AAAA","rawId":"AAAA","type":"public-key","clientExtensionResults":{},"response":{"clientDataJSON":"e30","authenticatorData":"AAAA","signature":"AAAA"}}""")]
    public async Task An_answer_without_a_challenge_or_to_none_of_ours_signs_nobody_in(string credential)
    {
        await using var app = new EmptyDesk();
        await AddAsync(app.Services, DeskRole.Consultant);
        using var visitor = app.Visitor();
        foreach (var challenged in new[] { false, true })
        {
            if (challenged)
            {
                Assert.Equal(HttpStatusCode.OK, (await FetchAsync(visitor, "/sign-in", AccountRegistration.PasskeyPath)).StatusCode);
            }

            var page = await SendAsync(visitor, "/sign-in", "passkey", ("Input.Credential", credential));
            Assert.Contains("does not open an account", Alert(page), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task The_picture_of_the_key_has_the_size_and_the_corners_of_the_standard()
    {
        // ISO/IEC 18004: version n has 4 n + 17 modules, with a quiet zone of 4 on each side; the three finder patterns are 7 by 7 with a dark border.
        var (path, size) = AuthenticatorPage.Draw(AuthenticatorPage.Address("robin+van@fernhollow.example.org", "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567"));
        Assert.Equal(0, (size - 8 - 17) % 4);
        foreach (var (x, y) in new[] { (4, 4), (size - 5 - 6, 4), (4, size - 5 - 6) })
        {
            for (var i = 0; i < 7; i++)
            {
                Assert.Contains(FormattableString.Invariant($"M{x + i} {y}h"), path, StringComparison.Ordinal);
                Assert.Contains(FormattableString.Invariant($"M{x} {y + i}h"), path, StringComparison.Ordinal);
            }

            Assert.DoesNotContain(FormattableString.Invariant($"M{x + 1} {y + 1}h"), path, StringComparison.Ordinal);
        }

        Assert.DoesNotContain("M3 ", path, StringComparison.Ordinal);
        Assert.Equal(
            "otpauth://totp/ConsultDesk:a%2Bb%40c.example?secret=KEY&issuer=ConsultDesk&digits=6&period=30", AuthenticatorPage.Address("a+b@c.example", "KEY"));
        await Task.CompletedTask;
    }

    /// <summary>An account with <see cref="Password"/>; in a firm of its own unless one is given.</summary>
    public static async Task<(SignedIn Who, string Email)> AddAsync(IServiceProvider services, DeskRole role, Guid? firm = null)
    {
        firm ??= await services.GetRequiredService<Firms>().Found(new("Heron Van Advice", "#224466", null, "GBP", UnitPreset.Metric), Cancel);
        await using var scope = services.CreateAsyncScope();
        var email = $"{Guid.NewGuid():N}@heron.example.org";
        var user = new DeskUser { FirmId = firm.Value, DisplayName = "Ben Tarn", Role = role, UserName = email, Email = email };
        var made = await scope.ServiceProvider.GetRequiredService<UserManager<DeskUser>>().CreateAsync(user, Password);
        Assert.True(made.Succeeded);
        return (new(firm.Value, user.Id, user.DisplayName, role), email);
    }

    /// <summary>A browser in which the account is signed in.</summary>
    public static async Task<HttpClient> SignedInAsync(WebApplicationFactory<Program> app, (SignedIn Who, string Email) account)
    {
        var visitor = Visitor(app);
        Assert.Equal("/", (await DeskApp.SignInAsync(visitor, account.Email, Password)).Headers.Location!.AbsolutePath);
        return visitor;
    }

    /// <summary>The app with every request asking whether the sign-in still stands, where it otherwise asks once a minute.</summary>
    /// <remarks>A millisecond, not none: a page that asks again without a pause would do nothing else.</remarks>
    private static WebApplicationFactory<Program> AskedAtOnce(EmptyDesk desk) => desk.WithWebHostBuilder(builder =>
        builder.ConfigureTestServices(services => services.Configure<SecurityStampValidatorOptions>(stamp => stamp.ValidationInterval = TimeSpan.FromMilliseconds(1))));

    private static HttpClient Visitor(WebApplicationFactory<Program> app) =>
        app.CreateClient(new() { AllowAutoRedirect = false, HandleCookies = true, BaseAddress = new("http://localhost") });

    private static async Task<(string Key, IReadOnlyList<string> Codes)> SetUpAsync(HttpClient visitor)
    {
        var begun = await SendAsync(visitor, "/account/authenticator", "begin", ("Input.Current", Password));
        var key = begun.QuerySelector(".authenticator-key")!.TextContent;
        Assert.NotEmpty(begun.QuerySelector(".qr path")!.GetAttribute("d")!);
        Assert.Contains("does not fit", Alert(await SendAsync(visitor, "/account/authenticator", "confirm", begun, ("Input.Code", "12345"))), StringComparison.Ordinal);
        var done = await SendAsync(visitor, "/account/authenticator", "confirm", begun, ("Input.Code", Totp.Code(key, Totp.Now)));
        return (key, Codes(done));
    }

    private static List<string> Codes(IHtmlDocument page) => [.. page.QuerySelectorAll(".recovery-codes code").Select(code => code.TextContent)];

    private static string Alert(IHtmlDocument page) => page.QuerySelector(".notice[role=alert]")!.TextContent;

    private static async Task<IHtmlDocument> SendAsync(HttpClient visitor, string address, string form, params (string Name, string Value)[] fields) =>
        await DeskApp.ParseAsync(await PostAsync(visitor, address, form, fields));

    private static async Task<IHtmlDocument> SendAsync(HttpClient visitor, string address, string form, IHtmlDocument page, params (string Name, string Value)[] fields) =>
        await DeskApp.ParseAsync(await PostAsync(visitor, address, form, page, fields));

    private static async Task<HttpResponseMessage> PostAsync(HttpClient visitor, string address, string form, params (string Name, string Value)[] fields) =>
        await PostAsync(visitor, address, form, await DeskApp.PageAsync(visitor, address), fields);

    private static Task<HttpResponseMessage> PostAsync(HttpClient visitor, string address, string form, IHtmlDocument page, params (string Name, string Value)[] fields) =>
        visitor.PostAsync(address, new FormUrlEncodedContent(fields.Select(f => KeyValuePair.Create(f.Name, f.Value))
            .Append(KeyValuePair.Create("_handler", form)).Append(KeyValuePair.Create("__RequestVerificationToken", DeskApp.Value(page, "__RequestVerificationToken")))), Cancel);

    private static async Task<HttpResponseMessage> FetchAsync(HttpClient visitor, string page, string address, params (string Name, string Value)[] fields)
    {
        var token = DeskApp.Value(await DeskApp.PageAsync(visitor, page), "__RequestVerificationToken");
        return await visitor.PostAsync(address, new FormUrlEncodedContent(
            fields.Select(f => KeyValuePair.Create(f.Name, f.Value)).Append(KeyValuePair.Create("__RequestVerificationToken", token))), Cancel);
    }
}
