using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Text;
using System.Threading.RateLimiting;
using Microsoft.AspNetCore.RateLimiting;

namespace ConsultDesk.Web.Shell;

/// <summary>
/// How often one address may ask for what costs something, and how often one link may be asked for by all addresses together: a password check, the look-up of a link, a PDF.
/// Calculations run over the live connection, which this middleware never sees; the workspace limits those itself.
/// </summary>
internal static class RequestLimits
{
    /// <summary>Password attempts.</summary>
    public const string SignIn = "sign-in";

    /// <summary>Attempts to set the desk up.</summary>
    public const string SetUp = "set-up";

    /// <summary>Opening a plan by its link.</summary>
    public const string Plan = "plan";

    /// <summary>Answering an intake by its link.</summary>
    public const string Intake = "intake";

    /// <summary>Using an invitation by its link.</summary>
    public const string Join = "join";

    /// <summary>Making a PDF.</summary>
    public const string Pdf = "pdf";

    /// <summary>Password attempts a minute; an account locks long before.</summary>
    public const int SignInsPerMinute = 30;

    /// <summary>Attempts a minute to set the desk up; its token is typed by hand.</summary>
    public const int SetUpsPerMinute = 10;

    /// <summary>Plan pages a minute.</summary>
    public const int PlansPerMinute = 60;

    /// <summary>Pages, saved steps and photos of an intake a minute.</summary>
    public const int IntakesPerMinute = 120;

    /// <summary>Looks at an invitation, and tries to use it, a minute.</summary>
    public const int JoinsPerMinute = 20;

    /// <summary>Requests for all that one link opens, a minute, whoever asks (own choice): a household reads a plan on several phones, a network of machines does not.</summary>
    public const int PerLinkPerMinute = 240;

    /// <summary>PDFs a minute.</summary>
    public const int PdfsPerMinute = 12;

    public static void Configure(RateLimiterOptions options)
    {
        options.RejectionStatusCode = StatusCodes.Status429TooManyRequests;
        options.OnRejected = static async (context, cancellation) =>
        {
            context.HttpContext.Response.Headers.RetryAfter = "60";
            context.HttpContext.Response.ContentType = "text/plain; charset=utf-8";
            await context.HttpContext.Response.WriteAsync("Too many requests from this address or for this link. Wait a minute and try again.", cancellation);
        };
        options.GlobalLimiter = PartitionedRateLimiter.Create<HttpContext, string>(PerLink);
        options.AddPolicy(SignIn, context => Posts(context, SignInsPerMinute));
        options.AddPolicy(SetUp, context => Posts(context, SetUpsPerMinute));
        options.AddPolicy(Plan, context => PerMinute(context, PlansPerMinute));
        options.AddPolicy(Intake, context => PerMinute(context, IntakesPerMinute));
        options.AddPolicy(Join, context => PerMinute(context, JoinsPerMinute));
        options.AddPolicy(Pdf, context => PerMinute(context, PdfsPerMinute));
    }

    private static RateLimitPartition<string> PerLink(HttpContext context) => LinkOf(context.Request.Path) is { } link
        ? RateLimitPartition.GetFixedWindowLimiter("link " + link, _ => new FixedWindowRateLimiterOptions { PermitLimit = PerLinkPerMinute, Window = TimeSpan.FromMinutes(1) })
        : RateLimitPartition.GetNoLimiter("no link");

    /// <summary>What stands for a link here: a hash, so that no list of tokens grows in memory; null for a path without one.</summary>
    internal static string? LinkOf(PathString path)
    {
        if (!SecurityHeaders.IsByLink(path) || path.Value!.Split('/', StringSplitOptions.RemoveEmptyEntries) is not [_, { } token, ..])
        {
            return null;
        }

        return Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(token)));
    }

    // Looking at a form is not counted. Its key must be no caller's, or the first look would open the door to all tries.
    private static RateLimitPartition<string> Posts(HttpContext context, int permits) =>
        HttpMethods.IsPost(context.Request.Method) ? PerMinute(context, permits) : RateLimitPartition.GetNoLimiter("look");

    private static RateLimitPartition<string> PerMinute(HttpContext context, int permits) =>
        RateLimitPartition.GetFixedWindowLimiter(
            Caller(context.Connection.RemoteIpAddress),
            _ => new FixedWindowRateLimiterOptions { PermitLimit = permits, Window = TimeSpan.FromMinutes(1) });

    /// <summary>
    /// Who asks. A household or a rented server gets at least a whole /64 of IPv6 (RFC 6177), so its addresses count as one;
    /// an IPv4 address in IPv6 form (RFC 4291, 2.5.5.2) is that IPv4 address.
    /// </summary>
    internal static string Caller(IPAddress? address)
    {
        if (address is null)
        {
            return "";
        }

        if (address.IsIPv4MappedToIPv6)
        {
            return address.MapToIPv4().ToString();
        }

        if (address.AddressFamily != AddressFamily.InterNetworkV6)
        {
            return address.ToString();
        }

        var bytes = address.GetAddressBytes();
        bytes.AsSpan(8).Clear();
        return new IPAddress(bytes) + "/64";
    }
}
