using System.Net.Sockets;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;
using MimeKit;

namespace ConsultDesk.Web.Letters;

/// <summary>A letter was not sent. The message is for the consultant and names no address.</summary>
internal sealed class MailFailedException(string message, Exception? inner = null) : Exception(message, inner);

/// <summary>Hands letters to the firm's mail server (SMTP, RFC 5321). What goes wrong there leaves no address, no text and no link in the log.</summary>
internal sealed partial class MailServer(MailSettings settings, ILogger<MailServer> log)
{
    /// <summary>Address letters come from.</summary>
    public string From => settings.From;

    /// <summary>Hands one over; when it returns, the server has taken it.</summary>
    /// <exception cref="MailFailedException">The server cannot be reached, is not who it should be, refuses, or takes too long.</exception>
    public async Task SendAsync(MimeMessage message, CancellationToken cancellation = default)
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        patience.CancelAfter(settings.Patience);
        var step = "reach";
        try
        {
            using var client = new SmtpClient { Timeout = (int)settings.Patience.TotalMilliseconds };
            await client.ConnectAsync(settings.Host, settings.Port, settings.Security switch
            {
                MailSecurity.None => SecureSocketOptions.None,
                MailSecurity.Tls => SecureSocketOptions.SslOnConnect,
                _ => SecureSocketOptions.StartTls,
            }, patience.Token);
            step = "sign in";
            if (settings is { User: { } user, Password: { } password })
            {
                await client.AuthenticateAsync(user, password, patience.Token);
            }

            step = "hand over";
            await client.SendAsync(message, patience.Token);
            step = "taken";
            await client.DisconnectAsync(quit: true, patience.Token);
        }
        catch (Exception parting) when (step == "taken" && Reason(parting, step) is not null)
        {
            // The server has answered that it took the letter; how the line ends afterwards changes nothing.
        }
        catch (Exception failed) when (!cancellation.IsCancellationRequested && Reason(failed, step) is { } reason)
        {
            NotSent(log, step, failed.GetType().Name);
            throw new MailFailedException(reason, failed);
        }
    }

    private static string? Reason(Exception failed, string step) => failed switch
    {
        OperationCanceledException or TimeoutException => step == "hand over"
            ? "The mail server took too long to answer, so nobody can say whether the letter went. Ask the client before you send it again."
            : "The mail server did not answer in time.",
        SslHandshakeException => "No secure line to the mail server came about, so nothing was said to it: its certificate is not one this machine trusts, or it speaks no TLS on this port.",
        AuthenticationException => "The mail server refused the name and password of this desk.",
        SmtpCommandException { ErrorCode: SmtpErrorCode.RecipientNotAccepted } refused => $"The mail server refused the client's address ({(int)refused.StatusCode}).",
        SmtpCommandException { ErrorCode: SmtpErrorCode.SenderNotAccepted } refused => $"The mail server refused the address this desk sends from ({(int)refused.StatusCode}).",
        SmtpCommandException refused => $"The mail server refused the letter ({(int)refused.StatusCode}).",
        SocketException => "The mail server cannot be reached.",
        NotSupportedException => "The mail server does not offer what the settings of this desk ask for: TLS, or signing in.",
        ProtocolException or ServiceNotConnectedException or IOException => "The line to the mail server broke off.",
        _ => null,
    };

    [LoggerMessage(Level = LogLevel.Warning, Message = "A letter was not sent: could not {Step} the mail server ({Kind}).")]
    private static partial void NotSent(ILogger log, string step, string kind);
}
