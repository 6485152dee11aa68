using System.Buffers;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using MimeKit;
using SmtpServer;
using SmtpServer.ComponentModel;
using SmtpServer.Mail;
using SmtpServer.Protocol;
using SmtpServer.Storage;

namespace ConsultDesk.Web.Tests.Letters;

/// <summary>A mail server on this machine that keeps what it is given instead of passing it on.</summary>
internal sealed class MailCatcher : MessageStore, IMailboxFilter, IAsyncDisposable
{
    private readonly CancellationTokenSource _end = new();
    private readonly List<(MimeMessage Message, string Raw)> _caught = [];
    private readonly Task _running;

    /// <param name="withTls">Offers TLS with a certificate nobody trusts.</param>
    /// <param name="fromTheFirstByte">Speaks TLS from the first byte, not on request.</param>
    public MailCatcher(bool withTls = false, bool fromTheFirstByte = false)
    {
        // The port is free now; another test could take it before the server does, and then its start fails aloud.
        using (var free = new TcpListener(IPAddress.Loopback, 0))
        {
            free.Start();
            Port = ((IPEndPoint)free.LocalEndpoint).Port;
        }

        var options = new SmtpServerOptionsBuilder().ServerName("catcher").Endpoint(endpoint =>
        {
            endpoint.Endpoint(new IPEndPoint(IPAddress.Loopback, Port));
            if (withTls)
            {
                endpoint.Certificate(SelfSigned()).IsSecure(fromTheFirstByte);
            }
        }).Build();
        var services = new ServiceProvider();
        services.Add((IMessageStore)this);
        services.Add((IMailboxFilter)this);
        _running = new SmtpServer.SmtpServer(options, services).StartAsync(_end.Token);
    }

    public int Port { get; }

    /// <summary>When set, every addressee is refused.</summary>
    public bool RefusesAddressees { get; set; }

    /// <summary>When set, every letter is refused after it was read.</summary>
    public bool RefusesLetters { get; set; }

    public IReadOnlyList<(MimeMessage Message, string Raw)> Caught
    {
        get
        {
            lock (_caught)
            {
                return [.. _caught];
            }
        }
    }

    public override Task<SmtpResponse> SaveAsync(ISessionContext context, IMessageTransaction transaction, ReadOnlySequence<byte> buffer, CancellationToken cancellationToken)
    {
        if (RefusesLetters)
        {
            return Task.FromResult(SmtpResponse.TransactionFailed);
        }

        var bytes = buffer.ToArray();
        lock (_caught)
        {
            _caught.Add((MimeMessage.Load(new MemoryStream(bytes), cancellationToken), System.Text.Encoding.UTF8.GetString(bytes)));
        }

        return Task.FromResult(SmtpResponse.Ok);
    }

    public Task<bool> CanAcceptFromAsync(ISessionContext context, IMailbox from, int size, CancellationToken cancellationToken) => Task.FromResult(true);

    public Task<bool> CanDeliverToAsync(ISessionContext context, IMailbox to, IMailbox from, CancellationToken cancellationToken) => Task.FromResult(!RefusesAddressees);

    public async ValueTask DisposeAsync()
    {
        await _end.CancelAsync();
        try
        {
            await _running;
        }
        catch (OperationCanceledException)
        {
            // That is how it ends.
        }

        _end.Dispose();
    }

    private static X509Certificate2 SelfSigned()
    {
        using var key = RSA.Create(2048);
        var request = new CertificateRequest("CN=localhost", key, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        using var made = request.CreateSelfSigned(DateTimeOffset.UtcNow.AddDays(-1), DateTimeOffset.UtcNow.AddDays(1));
        return X509CertificateLoader.LoadPkcs12(made.Export(X509ContentType.Pfx), null);
    }
}
