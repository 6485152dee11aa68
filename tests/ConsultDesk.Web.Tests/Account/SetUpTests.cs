using System.Diagnostics;
using System.Net;
using System.Text.RegularExpressions;
using AngleSharp.Html.Dom;
using ConsultDesk.Records;
using ConsultDesk.Web.Account;
using ConsultDesk.Web.Shell;
using ConsultDesk.Web.Tests.Shell;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Xunit;

namespace ConsultDesk.Web.Tests.Account;

/// <summary>The app on an empty store, outside the demo.</summary>
public sealed class EmptyDesk : WebApplicationFactory<Program>
{
    private readonly string _folder = Directory.CreateTempSubdirectory("consultdesk-empty-").FullName;

    public RecordedLog Log { get; } = new();

    /// <summary>A token as this start would print it; the one before stops working.</summary>
    internal string NewToken() => Services.GetRequiredService<SetUpDoor>().Open();

    public HttpClient Visitor() => CreateClient(new() { AllowAutoRedirect = false, HandleCookies = true, BaseAddress = new("http://localhost") });

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        builder.UseEnvironment("Development");
        builder.UseSetting("Desk:Demo", "false");
        builder.UseSetting("Data:Directory", _folder);
        builder.UseSetting("Logging:Recorded:LogLevel:Default", "Trace");
        builder.ConfigureLogging(logging => logging.AddProvider(Log));
    }

    public override async ValueTask DisposeAsync()
    {
        await base.DisposeAsync();
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }
}

public sealed partial class SetUpTests
{
    private const string Password = "three wet mornings";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_right_token_founds_the_firm_signs_its_owner_in_and_the_page_is_gone()
    {
        await using var app = new EmptyDesk();
        using var owner = app.Visitor();
        var token = app.NewToken();
        Assert.Contains("/set-up", (await DeskApp.PageAsync(owner, "/sign-in")).QuerySelector(".notice a")!.GetAttribute("href"), StringComparison.Ordinal);
        using var slower = app.Visitor();
        var waiting = await DeskApp.PageAsync(slower, "/set-up");

        var answer = await SendAsync(owner, token);

        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        Assert.Equal("http://localhost/", answer.Headers.Location!.ToString());
        Assert.Equal(HttpStatusCode.OK, (await owner.GetAsync("/", Cancel)).StatusCode);
        await using (var scope = app.Services.CreateAsyncScope())
        {
            var db = scope.ServiceProvider.GetRequiredService<DeskContext>();
            var firm = await db.Firms.IgnoreQueryFilters().SingleAsync(Cancel);
            var user = await db.Users.SingleAsync(Cancel);
            Assert.Equal(("Heron Van Advice", "GBP", UnitPreset.Imperial, "#224466"), (firm.Name, firm.Currency, firm.Units, firm.BrandColour));
            Assert.Equal((firm.Id, DeskRole.Owner, "Isla Fenn", "isla@heron.example.org"), (user.FirmId, user.Role, user.DisplayName, user.Email));
        }

        using var second = app.Visitor();
        Assert.Equal(HttpStatusCode.NotFound, (await second.GetAsync("/set-up", Cancel)).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await SendAsync(slower, token, waiting)).StatusCode);
        Assert.Empty((await DeskApp.PageAsync(second, "/sign-in")).QuerySelectorAll(".notice"));
        Assert.Equal(HttpStatusCode.Redirect, (await DeskApp.SignInAsync(second, "isla@heron.example.org", Password)).StatusCode);
    }

    [Fact]
    public async Task A_wrong_token_founds_nothing_and_the_rest_stays_typed_but_the_passwords()
    {
        await using var app = new EmptyDesk();
        using var visitor = app.Visitor();
        var right = app.NewToken();

        foreach (var wrong in new[] { "", "x", "22222-22222-22222-22222-22222-2", right[..^1], right + "2" })
        {
            var page = await DeskApp.ParseAsync(await SendAsync(visitor, wrong));

            Assert.StartsWith("That is not the token in the log.", page.QuerySelector("#token-error")!.TextContent, StringComparison.Ordinal);
            Assert.Equal("Heron Van Advice", DeskApp.Value(page, "Input.Name"));
            Assert.Equal("isla@heron.example.org", DeskApp.Value(page, "Input.Email"));
            Assert.Equal("Imperial", page.QuerySelector("option[selected]")!.GetAttribute("value"));
            Assert.All(page.QuerySelectorAll("input[type=password]"), input => Assert.Null(input.GetAttribute("value")));
        }

        Assert.True(await app.Services.GetRequiredService<Firms>().NoneYet(Cancel));
        Assert.Equal(5, app.Log.Lines.Count(line => line.Contains("A wrong set-up token was typed", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task A_token_is_read_as_people_type_it()
    {
        await using var app = new EmptyDesk();
        using var owner = app.Visitor();

        var answer = await SendAsync(owner, " " + app.NewToken().Replace('-', ' ').ToLowerInvariant() + " ");

        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
    }

    [Fact]
    public async Task All_that_is_wrong_is_said_at_its_field_and_nothing_is_made()
    {
        await using var app = new EmptyDesk();
        using var visitor = app.Visitor();

        var answer = await SendAsync(visitor, app.NewToken(), change: fields =>
        {
            fields["Input.Name"] = " ";
            fields["Input.Currency"] = "pounds";
            fields["Input.Email"] = "isla at heron";
            fields["Input.Password"] = "too short";
        });

        // The answer holds the token again.
        Assert.True(answer.Headers.CacheControl!.NoStore);
        var page = await DeskApp.ParseAsync(answer);
        Assert.Contains("1 to 300 characters", page.QuerySelector("#name-error")!.TextContent, StringComparison.Ordinal);
        Assert.Contains("three capital letters", page.QuerySelector("#currency-error")!.TextContent, StringComparison.Ordinal);
        Assert.Contains("e-mail address", page.QuerySelector("#email-error")!.TextContent, StringComparison.Ordinal);
        Assert.Equal("Expected a password of at least 12 characters; this one has 9.", page.QuerySelector("#password-error")!.TextContent);
        Assert.Equal("Expected the same password again.", page.QuerySelector("#again-error")!.TextContent);
        Assert.Contains("5 fields need another look", page.QuerySelector("[role=alert]")!.TextContent, StringComparison.Ordinal);
        Assert.True(page.QuerySelector("#name")!.HasAttribute("autofocus"));
        Assert.True(await app.Services.GetRequiredService<Firms>().NoneYet(Cancel));
    }

    [Fact]
    public async Task Two_set_ups_at_the_same_time_found_one_firm()
    {
        await using var app = new EmptyDesk();
        var token = app.NewToken();
        HttpClient[] visitors = [.. Enumerable.Range(0, 4).Select(_ => app.Visitor())];
        var forms = await Task.WhenAll(visitors.Select(v => DeskApp.PageAsync(v, "/set-up")));

        var answers = await Task.WhenAll(visitors.Select((v, i) => SendAsync(v, token, forms[i], fields => fields["Input.Email"] = FormattableString.Invariant($"isla{i}@heron.example.org"))));

        Assert.Single(answers, a => a.StatusCode == HttpStatusCode.Redirect);
        Assert.Equal(3, answers.Count(a => a.StatusCode == HttpStatusCode.NotFound));
        await using var scope = app.Services.CreateAsyncScope();
        var db = scope.ServiceProvider.GetRequiredService<DeskContext>();
        Assert.Equal(1, await db.Firms.IgnoreQueryFilters().CountAsync(Cancel));
        Assert.Equal(1, await db.Users.CountAsync(Cancel));
    }

    [Fact]
    public async Task One_address_cannot_try_tokens_without_end()
    {
        await using var app = new EmptyDesk();
        using var visitor = app.Visitor();
        var token = app.NewToken();
        var form = await DeskApp.PageAsync(visitor, "/set-up");
        for (var attempt = 0; attempt < RequestLimits.SetUpsPerMinute; attempt++)
        {
            Assert.Equal(HttpStatusCode.OK, (await SendAsync(visitor, "wrong", form)).StatusCode);
        }

        Assert.Equal(HttpStatusCode.TooManyRequests, (await SendAsync(visitor, token, form)).StatusCode);
        Assert.True(await app.Services.GetRequiredService<Firms>().NoneYet(Cancel));
    }

    [Fact]
    public async Task A_form_without_its_antiforgery_token_is_refused()
    {
        await using var app = new EmptyDesk();
        using var visitor = app.Visitor();

        var answer = await visitor.PostAsync(
            "/set-up", new FormUrlEncodedContent(new Dictionary<string, string> { ["_handler"] = "set-up", ["Input.Token"] = app.NewToken() }), Cancel);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
    }

    [Fact]
    public void A_token_has_130_bits_and_no_two_are_the_same()
    {
        var door = new SetUpDoor(null!);
        var tokens = Enumerable.Range(0, 200).Select(_ => door.Open()).ToList();

        Assert.Equal(tokens.Count, tokens.Distinct().Count());
        // 26 characters out of 32: 26 times 5 bits.
        Assert.All(tokens, token => Assert.Matches("^([2-9A-HJ-NP-Z]{5}-){5}[2-9A-HJ-NP-Z]$", token));
        Assert.Equal(32, tokens.SelectMany(token => token.Where(char.IsLetterOrDigit)).Distinct().Count());
        Assert.True(door.Fits(tokens[^1]));
        Assert.False(door.Fits(tokens[^2]));
        door.Shut();
        Assert.False(door.Fits(tokens[^1]));
    }

    [Fact]
    public async Task A_start_without_a_firm_prints_the_token_once_and_nothing_logs_what_is_typed()
    {
        var folder = Directory.CreateTempSubdirectory("consultdesk-first-").FullName;
        var bin = new DirectoryInfo(AppContext.BaseDirectory);
        var program = Path.Combine(bin.Parent!.Parent!.FullName, "ConsultDesk.Web", bin.Name, "ConsultDesk.Web.dll");
        var start = new ProcessStartInfo(
            "dotnet", [program, "--Data:Directory", folder, "--urls", "http://127.0.0.1:0", "--Desk:Demo", "false", "--Logging:LogLevel:Default", "Trace"])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = Path.GetDirectoryName(program),
        };
        start.Environment["ASPNETCORE_ENVIRONMENT"] = "Development";
        start.Environment.Remove("ASPNETCORE_URLS");
        using var process = Process.Start(start)!;
        var errors = process.StandardError.ReadToEndAsync(Cancel);
        var log = new List<string>();
        try
        {
            using var patience = CancellationTokenSource.CreateLinkedTokenSource(Cancel);
            patience.CancelAfter(TimeSpan.FromMinutes(2));
            string? token = null;
            string? address = null;
            while (token is null && await process.StandardOutput.ReadLineAsync(patience.Token) is { } line)
            {
                log.Add(line);
                address ??= Address().Match(line) is { Success: true } found ? found.Groups[1].Value : null;
                token = Token().Match(line) is { Success: true } printed ? printed.Groups[1].Value : null;
            }

            var rest = process.StandardOutput.ReadToEndAsync(patience.Token);
            using var owner = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false }) { BaseAddress = new(address!) };
            var answer = await SendAsync(owner, token!);
            Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
            process.Kill(entireProcessTree: true);
            await process.WaitForExitAsync(patience.Token);

            var all = string.Join('\n', log) + await rest + await errors;
            Assert.Single(Regex.Matches(all, Regex.Escape(token!)));
            Assert.DoesNotContain(Password, all, StringComparison.Ordinal);
        }
        finally
        {
            if (!process.HasExited)
            {
                process.Kill(entireProcessTree: true);
            }

            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task<HttpResponseMessage> SendAsync(
        HttpClient visitor, string token, IHtmlDocument? form = null, Action<Dictionary<string, string>>? change = null)
    {
        form ??= await DeskApp.PageAsync(visitor, "/set-up");
        var fields = new Dictionary<string, string>
        {
            ["_handler"] = DeskApp.Value(form, "_handler"),
            ["__RequestVerificationToken"] = DeskApp.Value(form, "__RequestVerificationToken"),
            ["Input.Token"] = token,
            ["Input.Name"] = "Heron Van Advice",
            ["Input.Currency"] = "gbp",
            ["Input.Units"] = "Imperial",
            ["Input.BrandColour"] = "#224466",
            ["Input.OwnerName"] = "Isla Fenn",
            ["Input.Email"] = "isla@heron.example.org",
            ["Input.Password"] = Password,
            ["Input.Again"] = Password,
        };
        change?.Invoke(fields);
        return await visitor.PostAsync("/set-up", new FormUrlEncodedContent(fields), Cancel);
    }

    [GeneratedRegex(@"Set-up token\s+(\S+)")]
    private static partial Regex Token();

    [GeneratedRegex(@"^Address\s+(\S+)")]
    private static partial Regex Address();
}

public sealed class DemoSetUpTests(DeskApp app) : IClassFixture<DeskApp>
{
    [Fact]
    public async Task The_demo_has_no_set_up_page()
    {
        using var visitor = app.Visitor();

        Assert.Equal(HttpStatusCode.NotFound, (await visitor.GetAsync("/set-up", TestContext.Current.CancellationToken)).StatusCode);
    }
}
