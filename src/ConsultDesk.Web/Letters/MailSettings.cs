using System.Globalization;
using System.Net;
using ConsultDesk.Web.Shell;
using MimeKit;

namespace ConsultDesk.Web.Letters;

/// <summary>How the way to the mail server is kept from being read.</summary>
internal enum MailSecurity
{
    /// <summary>It begins in the clear and turns to TLS before anything is said (STARTTLS, RFC 3207); a server that cannot is refused.</summary>
    StartTls,

    /// <summary>TLS from the first byte (RFC 8314).</summary>
    Tls,

    /// <summary>In the clear: only to a server on the same machine.</summary>
    None,
}

/// <summary>The mail server the firm's letters go out by, from the settings <c>Mail:…</c>.</summary>
/// <param name="Host">Its name.</param>
/// <param name="Port">Its port.</param>
/// <param name="Security">How the way there is protected.</param>
/// <param name="User">Who signs in there; null for nobody.</param>
/// <param name="Password">The password of that user.</param>
/// <param name="From">Address the letters come from.</param>
/// <param name="Patience">How long one letter may take.</param>
internal sealed record MailSettings(string Host, int Port, MailSecurity Security, string? User, string? Password, string From, TimeSpan Patience)
{
    /// <summary>How long the server may take for a letter.</summary>
    public static readonly TimeSpan UsualPatience = TimeSpan.FromSeconds(15);

    /// <summary>The settings; null when no server is named, and then the desk sends no mail.</summary>
    /// <exception cref="StartRefusedException">A setting is missing or cannot be used.</exception>
    public static MailSettings? Read(IConfiguration configuration)
    {
        var mail = configuration.GetSection("Mail");
        var host = mail["Host"]?.Trim();
        if (string.IsNullOrEmpty(host))
        {
            return mail.GetChildren().Any(setting => !string.IsNullOrWhiteSpace(setting.Value))
                ? throw new StartRefusedException("Settings of Mail are given without Mail:Host. Name the mail server there, or leave all of them out; the desk then sends no mail.")
                : null;
        }

        var security = mail["Security"]?.Trim().ToLowerInvariant() switch
        {
            null or "" or "starttls" => MailSecurity.StartTls,
            "tls" => MailSecurity.Tls,
            "none" => MailSecurity.None,
            var other => throw new StartRefusedException($"Mail:Security is \"{other}\"; expected starttls, tls or none."),
        };
        if (security == MailSecurity.None && !IsThisMachine(host))
        {
            throw new StartRefusedException($"Mail:Security is none, but {host} is another machine: letters with links to plans would travel readable for everyone. Use starttls or tls.");
        }

        // The ports of RFC 8314, 3.3 (465 for TLS) and RFC 6409 (587 for submission).
        var port = security == MailSecurity.Tls ? 465 : 587;
        if (mail["Port"] is { Length: > 0 } typed && (!int.TryParse(typed, NumberStyles.None, CultureInfo.InvariantCulture, out port) || port is < 1 or > 65535))
        {
            throw new StartRefusedException($"Mail:Port is \"{typed}\"; expected a number from 1 to 65535.");
        }

        var from = mail["From"]?.Trim() ?? "";
        if (!MailboxAddress.TryParse(from, out var address) || address.Domain.Length == 0)
        {
            throw new StartRefusedException($"Mail:From is \"{from}\"; expected the address letters come from, for example desk@example.org.");
        }

        var user = mail["User"]?.Trim();
        var password = PasswordOf(mail);
        return string.IsNullOrEmpty(user) == string.IsNullOrEmpty(password)
            ? new(host, port, security, string.IsNullOrEmpty(user) ? null : user, string.IsNullOrEmpty(password) ? null : password, address.Address, UsualPatience)
            : throw new StartRefusedException("Mail:User and Mail:Password (or Mail:PasswordFile) belong together: expected both or neither.");
    }

    private static string? PasswordOf(IConfigurationSection mail)
    {
        var file = mail["PasswordFile"]?.Trim();
        if (string.IsNullOrEmpty(file))
        {
            return mail["Password"];
        }

        if (!string.IsNullOrEmpty(mail["Password"]))
        {
            throw new StartRefusedException("Mail:Password and Mail:PasswordFile are both set: expected one of them.");
        }

        try
        {
            return File.ReadAllText(file).Trim();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new StartRefusedException($"Mail:PasswordFile {file} cannot be read: {e.Message}", e);
        }
    }

    private static bool IsThisMachine(string host) =>
        string.Equals(host, "localhost", StringComparison.OrdinalIgnoreCase) || (IPAddress.TryParse(host, out var address) && IPAddress.IsLoopback(address));
}
