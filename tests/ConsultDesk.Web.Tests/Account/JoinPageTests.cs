using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using ConsultDesk.Records;
using ConsultDesk.Web.Consultancy;
using ConsultDesk.Web.Shell;
using ConsultDesk.Web.Tests.Architecture;
using ConsultDesk.Web.Tests.Shell;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Web.Tests.Account;

/// <summary>Joining by invitation, over the whole app and without a browser.</summary>
public sealed class JoinPageTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Whoever_holds_the_link_makes_an_account_once_and_the_link_is_told_to_nobody()
    {
        await using var app = new EmptyDesk();
        var firm = await app.Services.GetRequiredService<Firms>().Found(new("</p><script>alert(1)</script> & Heron", "#224466", null, "GBP", UnitPreset.Metric), Cancel);
        var ada = await AccountPageTests.AddAsync(app.Services, DeskRole.Owner, firm);
        var sent = await app.Services.GetRequiredService<People>().Invite(ada.Who, "Dora", DeskRole.Consultant, Cancel);
        var address = SecurityHeaders.JoinPath + "/" + sent.Token;
        using var dora = app.Visitor();

        var looked = await dora.GetAsync(address, Cancel);
        Assert.Equal("no-referrer", looked.Headers.GetValues("Referrer-Policy").Single());
        Assert.Equal("noindex, nofollow", looked.Headers.GetValues("X-Robots-Tag").Single());
        Assert.True(looked.Headers.CacheControl!.NoStore);
        Assert.Contains("script-src 'none'", looked.Headers.GetValues("Content-Security-Policy").Single(), StringComparison.Ordinal);
        var page = await DeskApp.ParseAsync(looked);
        Assert.Empty(page.QuerySelectorAll("script"));
        Assert.Contains("<script>alert(1)</script> & Heron invites you", page.Body!.TextContent, StringComparison.Ordinal);

        var wrong = await SendAsync(dora, address, "Dora Holt", "dora at heron", "short", "short");
        Assert.Contains("e-mail address", wrong.Page.QuerySelector("#email-error")!.TextContent, StringComparison.Ordinal);
        Assert.Contains("12 characters", wrong.Page.QuerySelector("#password-error")!.TextContent, StringComparison.Ordinal);
        var taken = await SendAsync(dora, address, "Dora Holt", ada.Email.ToUpperInvariant(), AccountPageTests.Password, AccountPageTests.Password);
        Assert.Contains("already", taken.Page.QuerySelector("#email-error")!.TextContent, StringComparison.Ordinal);
        var joined = await SendAsync(dora, address, "Dora Holt", "dora@heron.example.org", AccountPageTests.Password, AccountPageTests.Password);

        Assert.Equal(HttpStatusCode.Redirect, joined.Status);
        Assert.Equal(HttpStatusCode.OK, (await dora.GetAsync("/clients", Cancel)).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await dora.GetAsync("/people", Cancel)).StatusCode);
        using var later = app.Visitor();
        Assert.Equal(HttpStatusCode.NotFound, (await later.GetAsync(address, Cancel)).StatusCode);
        Assert.DoesNotContain(app.Log.Lines, line => line.Contains(sent.Token, StringComparison.Ordinal) || line.Contains(AccountPageTests.Password, StringComparison.Ordinal));
        Assert.Equal(2, (await app.Services.GetRequiredService<People>().PeopleOf(ada.Who, Cancel)).Count);
    }

    [Fact]
    public async Task One_link_cannot_be_asked_for_without_end_from_many_addresses()
    {
        await using var app = new EmptyDesk();
        Assert.True(RequestLimits.PerLinkPerMinute > RequestLimits.IntakesPerMinute);
        var statuses = new Dictionary<int, int>();
        for (var i = 0; i < RequestLimits.PerLinkPerMinute + 5; i++)
        {
            var n = i;
            var answer = await app.Server.SendAsync(context =>
            {
                context.Request.Method = "GET";
                context.Request.Path = "/plan/" + new string('a', 43);
                // RFC 2544 keeps 198.18.0.0/15 for tests.
                context.Connection.RemoteIpAddress = new IPAddress(new byte[] { 198, 18, 0, (byte)n });
            }, Cancel);
            statuses[answer.Response.StatusCode] = statuses.GetValueOrDefault(answer.Response.StatusCode) + 1;
        }

        Assert.Equal(5, statuses[StatusCodes.Status429TooManyRequests]);
        Assert.Equal(RequestLimits.PerLinkPerMinute, statuses[StatusCodes.Status404NotFound]);
    }

    [Theory]
    [InlineData("/plan/abc", "/plan/abc/pdf", true)]
    [InlineData("/plan/abc", "/PLAN/abc/reply", true)]
    [InlineData("/plan/abc", "/plan/abd", false)]
    [InlineData("/intake/abc", "/intake/abc/people", true)]
    [InlineData("/join/abc", "/join/abd", false)]
    public void All_that_one_link_opens_counts_as_one(string one, string other, bool same)
    {
        Assert.Equal(same, RequestLimits.LinkOf(one) == RequestLimits.LinkOf(other));
        Assert.DoesNotContain("abc", RequestLimits.LinkOf(one)!, StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData("/")]
    [InlineData("/plan")]
    [InlineData("/plans/0197aaaa-0000-7000-8000-000000000001")]
    [InlineData("/sign-in")]
    public void A_path_without_a_link_has_none(string path) => Assert.Null(RequestLimits.LinkOf(path));

    [Fact]
    public void Every_act_that_is_kept_has_its_words()
    {
        var sources = string.Join('\n', Repository.Files("src/ConsultDesk.Records", "*.cs").Select(File.ReadAllText));
        var kept = System.Text.RegularExpressions.Regex.Matches(sources, "\"([a-z]+(?:-[a-z]+)*\\.[a-z]+(?:-[a-z]+)*)\"").Select(m => m.Groups[1].Value)
            .Except([HandoverZip.RowsName]).Distinct().Order(StringComparer.Ordinal).ToList();
        Assert.True(kept.Count > 60);

        Assert.Equal([], kept.Except(AuditWords.Actions));
        // Composed from a kind and a verb, so not found as a whole.
        string[] composed = ["audit.exported", "client.seen", "decision.decided", "decision.declined", "decision.open", "intake.seen", "plan.exported", "plan.seen", "prices.exported", "van.seen"];
        Assert.Equal(composed, AuditWords.Actions.Except(kept).Order(StringComparer.Ordinal));
        Assert.All(Enum.GetValues<AccountAct>(), act => Assert.Contains(AuditTrail.ActionOf(act), AuditWords.Actions));
    }

    [Fact]
    public async Task The_audit_is_taken_out_as_a_table_that_no_spreadsheet_runs_and_that_is_kept_too()
    {
        await using var app = new EmptyDesk();
        var ada = await AccountPageTests.AddAsync(app.Services, DeskRole.Owner);
        await app.Services.GetRequiredService<ClientBook>().AddClient(ada.Who, new("=HYPERLINK(\"http://evil.example\",\"x\"), \"Reed\""), Cancel);
        using var owner = await AccountPageTests.SignedInAsync(app, ada);

        var answer = await owner.GetAsync("/audit/table?what=clients&who=" + ada.Who.UserId, Cancel);
        var text = await answer.Content.ReadAsStringAsync(Cancel);

        Assert.Equal("text/csv", answer.Content.Headers.ContentType!.MediaType);
        var lines = text.TrimStart('\uFEFF').Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(string.Join(',', AuditWords.Heads), lines[0]);
        var line = Assert.Single(lines.Skip(1));
        Assert.Contains(",added a client,\"'=HYPERLINK(", line, StringComparison.Ordinal);
        Assert.Equal("audit.exported", (await app.Services.GetRequiredService<AuditTrail>().Latest(ada.Who, 1, Cancel))[0].Action);
        var question = AuditWords.Question(ada.Who.UserId.ToString(), "plans", new(2026, 3, 1), new(2026, 3, 31));
        Assert.Equal($"?who={ada.Who.UserId}&what=plans&from=2026-03-01&until=2026-03-31", AuditWords.Query(question));
        Assert.Equal((new DateTime(2026, 3, 1), new DateTime(2026, 4, 1)), (question.From, question.Until));
    }

    [Fact]
    public async Task With_a_certificate_the_servers_keys_do_not_lie_open_in_the_database_and_without_it_nobody_reads_them()
    {
        var folder = Directory.CreateTempSubdirectory("consultdesk-keys-").FullName;
        var secret = Path.Combine(folder, "password");
        await File.WriteAllTextAsync(secret, "of wool\n", Cancel);
        var path = await CertificateIn(folder, "keys.pfx");
        string shut;
        await using (var desk = new EmptyDesk())
        await using (var app = desk.WithWebHostBuilder(builder => builder.UseSetting("Keys:Certificate", path).UseSetting("Keys:CertificatePasswordFile", secret)))
        {
            var protector = app.Services.GetRequiredService<IDataProtectionProvider>().CreateProtector("test");
            shut = protector.Protect("a letter");
            Assert.Equal("a letter", protector.Unprotect(shut));
            await using var scope = app.Services.CreateAsyncScope();
            var key = (await scope.ServiceProvider.GetRequiredService<DeskContext>().DataProtectionKeys.SingleAsync(Cancel)).Xml!;
            Assert.Contains("EncryptedData", key, StringComparison.Ordinal);
            Assert.DoesNotContain("masterKey", key, StringComparison.Ordinal);
        }

        await using var plain = new EmptyDesk();
        Assert.ThrowsAny<CryptographicException>(() => plain.Services.GetRequiredService<IDataProtectionProvider>().CreateProtector("test").Unprotect(shut));
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public async Task After_the_certificate_is_changed_the_one_before_still_opens_what_it_sealed_and_without_it_nothing_does()
    {
        var folder = Directory.CreateTempSubdirectory("consultdesk-keys-").FullName;
        var (before, now) = (await CertificateIn(folder, "before.pfx"), await CertificateIn(folder, "now.pfx"));
        await using var desk = new EmptyDesk();
        var shut = await With(desk, [("Keys:Certificate", before)], protector => protector.Protect("a letter"));

        Assert.Equal("a letter", await With(desk, [("Keys:Certificate", now), ("Keys:FormerCertificate", before)], protector => protector.Unprotect(shut)));
        await Assert.ThrowsAnyAsync<CryptographicException>(() => With(desk, [("Keys:Certificate", now)], protector => protector.Unprotect(shut)));
        Directory.Delete(folder, recursive: true);
    }

    // One start of the desk on its records.
    private static async Task<string> With(EmptyDesk desk, (string Name, string Value)[] settings, Func<IDataProtector, string> act)
    {
        await using var app = desk.WithWebHostBuilder(builder =>
        {
            foreach (var (name, value) in settings.Append(("Keys:CertificatePassword", "of wool")))
            {
                builder.UseSetting(name, value);
            }
        });
        return act(app.Services.GetRequiredService<IDataProtectionProvider>().CreateProtector("test"));
    }

    private static async Task<string> CertificateIn(string folder, string name)
    {
        using var rsa = RSA.Create(2048);
        var request = new CertificateRequest("CN=consultdesk-keys", rsa, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        using var certificate = request.CreateSelfSigned(DateTimeOffset.UtcNow.AddDays(-1), DateTimeOffset.UtcNow.AddDays(2));
        var path = Path.Combine(folder, name);
        await File.WriteAllBytesAsync(path, certificate.Export(X509ContentType.Pkcs12, "of wool"), Cancel);
        return path;
    }

    [Theory]
    [InlineData("/nowhere/keys.pfx")]
    [InlineData("/etc/hostname")]
    public void A_certificate_that_cannot_be_used_is_named_at_the_start(string path)
    {
        var builder = Microsoft.AspNetCore.Builder.WebApplication.CreateBuilder();
        builder.Configuration[KeySeal.CertificateSetting] = path;

        var refused = Assert.Throws<StartRefusedException>(() => builder.SealKeys());

        Assert.StartsWith($"{KeySeal.CertificateSetting} {path} cannot be used", refused.Message, StringComparison.Ordinal);
    }

    private static async Task<(HttpStatusCode Status, AngleSharp.Html.Dom.IHtmlDocument Page)> SendAsync(HttpClient visitor, string address, string name, string email, string password, string again)
    {
        var form = await DeskApp.PageAsync(visitor, address);
        var answer = await visitor.PostAsync(address, new FormUrlEncodedContent(new Dictionary<string, string>
        {
            ["_handler"] = DeskApp.Value(form, "_handler"),
            ["__RequestVerificationToken"] = DeskApp.Value(form, "__RequestVerificationToken"),
            ["Input.OwnerName"] = name,
            ["Input.Email"] = email,
            ["Input.Password"] = password,
            ["Input.Again"] = again,
        }), Cancel);
        return (answer.StatusCode, await DeskApp.ParseAsync(answer));
    }
}
