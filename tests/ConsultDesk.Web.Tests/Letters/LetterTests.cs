using System.Net;
using System.Net.Sockets;
using Bunit;
using ConsultDesk.Records;
using ConsultDesk.Testing;
using ConsultDesk.Web.Consults;
using ConsultDesk.Web.Intake;
using ConsultDesk.Web.Letters;
using ConsultDesk.Web.Shell;
using ConsultDesk.Web.Tests.Shell;
using Ical.Net;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using MimeKit;
using Xunit;
using TestContext = Xunit.TestContext;

namespace ConsultDesk.Web.Tests.Letters;

/// <summary>Letters as a mail server receives them, and what is said when it does not.</summary>
public sealed class LetterTests(DeskApp app) : IClassFixture<DeskApp>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_letter_arrives_as_it_was_written_with_the_link_whole_and_answers_going_to_the_firm()
    {
        await using var catcher = new MailCatcher();
        var (who, van) = await VanAsync("Søren Ælling", "soren@client.example.org");
        var link = "https://desk.example.org/intake/" + new string('k', 43);

        await Desk(catcher.Port).SendAsync(who, van, "soren@client.example.org", new Letter("Fragen zu „Weißer Wal“, № 7", $"Kære Søren,\n\n{link}\n\nÆ Ø Å 🚐"), new("intake", van), Cancel);

        var (message, _) = Assert.Single(catcher.Caught);
        Assert.Equal("Fragen zu „Weißer Wal“, № 7", message.Subject);
        Assert.Equal(("Søren Ælling", "soren@client.example.org"), Only(message.To));
        Assert.Equal(("Fjord Van Advice", "desk@sender.example.org"), Only(message.From));
        Assert.Equal(("Fjord Van Advice", "answers@firm.example.org"), Only(message.ReplyTo));
        Assert.Equal($"Kære Søren,\n\n{link}\n\nÆ Ø Å 🚐", message.TextBody!.ReplaceLineEndings("\n").TrimEnd());
        Assert.Null(message.HtmlBody);
        Assert.EndsWith("@sender.example.org", message.MessageId, StringComparison.Ordinal);
        var kept = (await app.Services.GetRequiredService<AuditTrail>().Of(who, van, Cancel)).Single(line => line.Action == "mail.sent");
        Assert.Equal("intake", kept.EntityKind);
    }

    [Fact]
    public async Task An_invitation_carries_the_calendar_entry_as_a_part_and_as_a_file()
    {
        await using var catcher = new MailCatcher();
        var (who, van) = await VanAsync("Runa", "runa@client.example.org");
        var consult = new Consult { Id = Guid.NewGuid(), VanId = van, StartsAt = new(2027, 1, 20, 17, 30, 0, DateTimeKind.Utc), Minutes = 60, TimeZone = "Europe/Oslo", PrivateNotes = "never told" };
        var firm = await app.Services.GetRequiredService<Firms>().Mine(who, Cancel);
        var desk = Desk(catcher.Port);
        var letter = LetterWords.Consult(consult, "Heron", await desk.AddresseeOf(who, van, Cancel), who.Name, Invitation.Write(consult, "Heron", firm, new(2026, 11, 30, 9, 0, 0, DateTimeKind.Utc)));

        await desk.SendAsync(who, van, "runa@client.example.org", letter, new("consult", consult.Id), Cancel);

        var (message, raw) = Assert.Single(catcher.Caught);
        // 17:30 UTC is 18:30 in Oslo in January (zone database, Europe/Oslo).
        Assert.Contains("Wednesday 20 January 2027, 18:30 (Europe/Oslo)", message.TextBody, StringComparison.Ordinal);
        var file = Assert.IsType<TextPart>(Assert.Single(message.Attachments));
        Assert.Equal("consult.ics", file.FileName);
        var parts = message.BodyParts.OfType<TextPart>().Where(part => part.ContentType.IsMimeType("text", "calendar")).ToList();
        Assert.Equal(2, parts.Count);
        Assert.All(parts, part =>
        {
            Assert.Equal("PUBLISH", part.ContentType.Parameters["method"]);
            var entry = Calendar.Load(part.Text)!.Events.Single();
            Assert.Equal((consult.StartsAt, "Consult about Heron"), (entry.Start!.AsUtc, entry.Summary));
        });
        Assert.DoesNotContain("never told", raw, StringComparison.Ordinal);
    }

    [Fact]
    public async Task No_name_or_subject_can_write_a_header_of_its_own()
    {
        const string Evil = "Runa\r\nBcc: thief@example.net\r\n\r\nanother body";
        await using var catcher = new MailCatcher();
        var to = new Addressee(Guid.NewGuid(), Evil, "runa@client.example.org", Evil, "", "answers@firm.example.org");

        // Past every check of the records, straight into the letter: the last line of defence.
        await new MailServer(Settings(catcher.Port), app.Services.GetRequiredService<ILogger<MailServer>>()).SendAsync(new Letter(Evil, "Words").Write("desk@sender.example.org", to), Cancel);

        var (message, raw) = Assert.Single(catcher.Caught);
        Assert.Empty(message.Bcc);
        Assert.DoesNotContain("\nBcc:", raw, StringComparison.OrdinalIgnoreCase);
        Assert.Equal("Words", message.TextBody!.Trim());
        Assert.Equal("runa@client.example.org", Only(message.To).Address);
    }

    [Theory]
    [InlineData("", "Words", "Subject")]
    [InlineData("One\r\nBcc: thief@example.net", "Words", "Subject")]
    [InlineData("Subject", " ", "Text")]
    [InlineData("Subject", "nul \0", "Text")]
    public async Task A_letter_that_cannot_be_sent_is_refused_at_its_field(string subject, string text, string field)
    {
        await using var catcher = new MailCatcher();
        var (who, van) = await VanAsync("Runa", "runa@client.example.org");

        var refused = await Assert.ThrowsAsync<InvalidInputException>(() =>
            Desk(catcher.Port).SendAsync(who, van, "runa@client.example.org", new Letter(subject, text), new("plan", van), Cancel));

        Assert.Equal(field, Assert.Single(refused.Errors).Field);
        Assert.Empty(catcher.Caught);
    }

    [Fact]
    public async Task A_server_that_is_away_is_said_in_plain_words_and_nothing_of_the_letter_is_logged()
    {
        var (who, van) = await VanAsync("Runa", "runa-not-in-the-log@client.example.org");
        var port = FreePort();

        var told = await Assert.ThrowsAsync<MailFailedException>(() => SendAsync(Desk(port), who, van, "runa-not-in-the-log@client.example.org", "token-not-in-the-log"));

        Assert.Equal("The mail server cannot be reached.", told.Message);
        Assert.Contains(app.Log.Lines, line => line.Contains("A letter was not sent: could not reach the mail server (SocketException)", StringComparison.Ordinal));
        Assert.DoesNotContain(app.Log.Lines, line => line.Contains("not-in-the-log", StringComparison.Ordinal));
        Assert.DoesNotContain(await app.Services.GetRequiredService<AuditTrail>().Of(who, van, Cancel), line => line.Action == "mail.sent");
    }

    [Fact]
    public async Task A_refused_address_and_a_refused_letter_are_told_apart()
    {
        await using var catcher = new MailCatcher { RefusesAddressees = true };
        var (who, van) = await VanAsync("Runa", "runa@client.example.org");

        var address = await Assert.ThrowsAsync<MailFailedException>(() => SendAsync(Desk(catcher.Port), who, van, "runa@client.example.org"));
        (catcher.RefusesAddressees, catcher.RefusesLetters) = (false, true);
        var letter = await Assert.ThrowsAsync<MailFailedException>(() => SendAsync(Desk(catcher.Port), who, van, "runa@client.example.org"));

        // 550 mailbox unavailable, 554 transaction failed: RFC 5321, 4.2.3.
        Assert.Equal("The mail server refused the client's address (550).", address.Message);
        Assert.Equal("The mail server refused the letter (554).", letter.Message);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task A_certificate_nobody_vouches_for_ends_it_before_a_word_is_said(bool fromTheFirstByte)
    {
        await using var catcher = new MailCatcher(withTls: true, fromTheFirstByte);
        var (who, van) = await VanAsync("Runa", "runa@client.example.org");
        var settings = Settings(catcher.Port) with { Security = fromTheFirstByte ? MailSecurity.Tls : MailSecurity.StartTls };

        var told = await Assert.ThrowsAsync<MailFailedException>(() => SendAsync(Desk(settings), who, van, "runa@client.example.org"));

        Assert.StartsWith("No secure line to the mail server came about, so nothing was said to it: its certificate", told.Message, StringComparison.Ordinal);
        Assert.Empty(catcher.Caught);
    }

    [Fact]
    public async Task A_server_without_TLS_is_refused_where_the_settings_ask_for_it()
    {
        await using var catcher = new MailCatcher();
        var (who, van) = await VanAsync("Runa", "runa@client.example.org");

        var told = await Assert.ThrowsAsync<MailFailedException>(() => SendAsync(Desk(Settings(catcher.Port) with { Security = MailSecurity.StartTls }), who, van, "runa@client.example.org"));

        Assert.StartsWith("The mail server does not offer what the settings of this desk ask for", told.Message, StringComparison.Ordinal);
        Assert.Empty(catcher.Caught);
    }

    [Fact]
    public async Task A_server_that_never_answers_is_given_up()
    {
        using var silent = new TcpListener(IPAddress.Loopback, 0);
        silent.Start();
        var (who, van) = await VanAsync("Runa", "runa@client.example.org");
        var settings = Settings(((IPEndPoint)silent.LocalEndpoint).Port) with { Patience = TimeSpan.FromSeconds(1) };
        Assert.Equal(TimeSpan.FromSeconds(15), MailSettings.UsualPatience);

        var told = await Assert.ThrowsAsync<MailFailedException>(() => SendAsync(Desk(settings), who, van, "runa@client.example.org").WaitAsync(TimeSpan.FromMinutes(1), Cancel));

        Assert.Equal("The mail server did not answer in time.", told.Message);
    }

    [Fact]
    public async Task The_consultant_sees_and_changes_the_letter_and_a_failure_loses_nothing()
    {
        await using var catcher = new MailCatcher { RefusesLetters = true };
        var (who, van) = await VanAsync("Runa Quill", "runa@client.example.org");
        await using var context = Context(who, Desk(catcher.Port));
        var page = context.Render<VanIntakes>(p => p.Add(v => v.VanId, van).Add(v => v.VanName, "Heron"));
        await Press(page, "Make an intake link");
        var link = page.Find("input[readonly]").GetAttribute("value")!;

        await Press(page, "Send it by e-mail…");
        var words = page.Find("textarea").GetAttribute("value")!;
        Assert.Contains("Dear Runa Quill,", words, StringComparison.Ordinal);
        Assert.Contains(link, words, StringComparison.Ordinal);
        await page.Find("textarea").ChangeAsync(new ChangeEventArgs { Value = words + "\n\nSee you soon." });
        await page.Find("form").SubmitAsync();

        Assert.Contains("refused the letter (554). Your words are still here, and the link can be copied.", page.Find("form [role=alert]").TextContent, StringComparison.Ordinal);
        Assert.EndsWith("See you soon.", page.Find("textarea").GetAttribute("value"), StringComparison.Ordinal);
        Assert.Equal(link, page.Find("input[readonly]").GetAttribute("value"));

        catcher.RefusesLetters = false;
        await page.Find("form").SubmitAsync();
        var (message, _) = Assert.Single(catcher.Caught);
        Assert.Contains(link, message.TextBody, StringComparison.Ordinal);
        Assert.EndsWith("See you soon.", message.TextBody!.TrimEnd(), StringComparison.Ordinal);
        Assert.Contains("Handed to the mail server", page.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public async Task While_the_screen_is_shared_the_clients_address_is_not_on_it()
    {
        await using var catcher = new MailCatcher();
        var (who, van) = await VanAsync("Runa", "runa-hidden@client.example.org");
        await using var context = Context(who, Desk(catcher.Port));
        context.Services.GetRequiredService<ThisBrowser>().Tell("UTC", sharing: true);
        var page = context.Render<VanIntakes>(p => p.Add(v => v.VanId, van).Add(v => v.VanName, "Heron"));
        await Press(page, "Make an intake link");
        await Press(page, "Send it by e-mail…");
        Assert.DoesNotContain("runa-hidden", page.Markup, StringComparison.Ordinal);
        await page.Find("form").SubmitAsync();
        Assert.DoesNotContain("runa-hidden", page.Markup, StringComparison.Ordinal);

        Assert.Equal("runa-hidden@client.example.org", Only(Assert.Single(catcher.Caught).Message.To).Address);
    }

    [Fact]
    public async Task A_client_without_an_address_and_a_desk_without_a_mail_server_are_said()
    {
        await using var catcher = new MailCatcher();
        var (who, van) = await VanAsync("Runa", null);
        await using (var context = Context(who, Desk(catcher.Port)))
        {
            var page = context.Render<VanIntakes>(p => p.Add(v => v.VanId, van).Add(v => v.VanName, "Heron"));
            await Press(page, "Make an intake link");
            await Press(page, "Send it by e-mail…");
            Assert.Contains("No e-mail address of Runa is kept.", page.Find("[role=alert]").TextContent, StringComparison.Ordinal);
        }

        await using (var context = Context(who, Desk(null)))
        {
            var page = context.Render<VanIntakes>(p => p.Add(v => v.VanId, van).Add(v => v.VanName, "Heron"));
            await Press(page, "Make an intake link");
            Assert.Contains("This desk sends no mail: copy the link and send it yourself.", page.Markup, StringComparison.Ordinal);
            Assert.DoesNotContain("Send it by e-mail", page.Markup, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task An_address_changed_since_it_was_shown_stops_the_letter()
    {
        await using var catcher = new MailCatcher();
        var (who, van) = await VanAsync("Runa", "new@client.example.org");

        await Assert.ThrowsAsync<MailFailedException>(() => SendAsync(Desk(catcher.Port), who, van, "old@client.example.org"));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => SendAsync(Desk(catcher.Port), who with { FirmId = Guid.NewGuid() }, van, "new@client.example.org"));

        Assert.Empty(catcher.Caught);
    }

    [Theory]
    [InlineData("Port=25", "Mail:Host")]
    [InlineData("Host=mail.example.org;From=desk@example.org;Security=ssl", "Mail:Security")]
    [InlineData("Host=mail.example.org;From=desk@example.org;Security=none", "another machine")]
    [InlineData("Host=mail.example.org;From=desk@example.org;Port=0", "Mail:Port")]
    [InlineData("Host=mail.example.org;From=desk", "Mail:From")]
    [InlineData("Host=mail.example.org", "Mail:From")]
    [InlineData("Host=mail.example.org;From=desk@example.org;User=desk", "belong together")]
    [InlineData("Host=mail.example.org;From=desk@example.org;User=desk;PasswordFile=/nowhere/at/all", "cannot be read")]
    [InlineData("Host=mail.example.org;From=desk@example.org;User=desk;Password=p;PasswordFile=/nowhere", "both set")]
    public void Settings_that_cannot_be_used_stop_the_start_and_say_which(string settings, string expected) =>
        Assert.Contains(expected, Assert.Throws<StartRefusedException>(() => MailSettings.Read(Configuration(settings))).Message, StringComparison.Ordinal);

    [Fact]
    public async Task Settings_are_read_with_the_password_from_a_file_and_none_means_no_mail()
    {
        Assert.Null(MailSettings.Read(Configuration("")));
        var file = Path.Combine(app.Folder, "mail-password");
        await File.WriteAllTextAsync(file, "open sesame\n", Cancel);

        var settings = MailSettings.Read(Configuration($"Host=mail.example.org;From=desk@example.org;User=desk;PasswordFile={file}"))!;

        Assert.Equal(("mail.example.org", 587, MailSecurity.StartTls, "desk", "open sesame", "desk@example.org"), (settings.Host, settings.Port, settings.Security, settings.User, settings.Password, settings.From));
        Assert.Equal(465, MailSettings.Read(Configuration("Host=mail.example.org;From=desk@example.org;Security=tls"))!.Port);
    }

    private static IConfiguration Configuration(string settings) => new ConfigurationBuilder()
        .AddInMemoryCollection(settings.Split(';', StringSplitOptions.RemoveEmptyEntries).Select(s => s.Split('=', 2)).Select(s => KeyValuePair.Create("Mail:" + s[0], (string?)s[1]))).Build();

    private static (string? Name, string Address) Only(InternetAddressList list)
    {
        var mailbox = Assert.IsType<MailboxAddress>(Assert.Single(list));
        return (mailbox.Name, mailbox.Address);
    }

    private static MailSettings Settings(int port) => new("127.0.0.1", port, MailSecurity.None, null, null, "desk@sender.example.org", TimeSpan.FromSeconds(15));

    private static Task SendAsync(Correspondence desk, SignedIn who, Guid van, string address, string text = "Words") =>
        desk.SendAsync(who, van, address, new Letter("Subject", text), new("plan", van), Cancel);

    private static Task Press(IRenderedComponent<VanIntakes> page, string label) => page.FindAll("button").Single(b => b.TextContent == label).ClickAsync(new());

    private static int FreePort()
    {
        using var free = new TcpListener(IPAddress.Loopback, 0);
        free.Start();
        return ((IPEndPoint)free.LocalEndpoint).Port;
    }

    private Correspondence Desk(int port) => Desk(Settings(port));

    private Correspondence Desk(MailSettings? settings) => new(
        app.Services.GetRequiredService<VanBook>(),
        app.Services.GetRequiredService<ClientBook>(),
        app.Services.GetRequiredService<Firms>(),
        app.Services.GetRequiredService<AuditTrail>(),
        settings is null ? null : new MailServer(settings, app.Services.GetRequiredService<ILogger<MailServer>>()));

    private BunitContext Context(SignedIn who, Correspondence desk)
    {
        var context = new BunitContext();
        context.JSInterop.Mode = JSRuntimeMode.Loose;
        context.Services.AddSingleton(app.Services.GetRequiredService<Intakes>());
        context.Services.AddSingleton(desk);
        context.Services.AddSingleton(TimeProvider.System);
        context.Services.AddScoped<ThisBrowser>();
        context.RenderTree.Add<CascadingValue<SignedIn>>(p => p.Add(v => v.Value, who));
        return context;
    }

    private async Task<(SignedIn Who, Guid Van)> VanAsync(string client, string? address)
    {
        var firms = app.Services.GetRequiredService<Firms>();
        var firm = await firms.Found(new("Fjord Van Advice", "#1f6f5c", "+47 555 0100", "EUR", UnitPreset.Metric) { AnswerAddress = "answers@firm.example.org" }, Cancel);
        var who = new SignedIn(firm, Guid.NewGuid(), "Ash Winter", DeskRole.Owner);
        var id = await app.Services.GetRequiredService<ClientBook>().AddClient(who, new(client, address), Cancel);
        var van = await app.Services.GetRequiredService<VanBook>().AddVan(who, id, new VanInput("Heron", "long-high", "rear-platform-bed", 2019), "As drawn", SampleDesign.Van(), Cancel);
        return (who, van.VanId);
    }
}
