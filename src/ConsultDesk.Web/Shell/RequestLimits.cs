using System.Net;
using System.Net.Sockets;
using System.Threading.RateLimiting;
using Microsoft.AspNetCore.RateLimiting;

namespace ConsultDesk.Web.Shell;

/// <summary>
/// How often one address may ask for what costs something: a password check, the look-up of a link, a PDF.
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

    /// <summary>PDFs a minute.</summary>
    public const int PdfsPerMinute = 12;

    public static void Configure(RateLimiterOptions options)
    {
        options.RejectionStatusCode = StatusCodes.Status429TooManyRequests;
        options.OnRejected = static async (context, cancellation) =>
        {
            context.HttpContext.Response.Headers.RetryAfter = "60";
            context.HttpContext.Response.ContentType = "text/plain; charset=utf-8";
            await context.HttpContext.Response.WriteAsync("Too many requests from this address. Wait a minute and try again.", cancellation);
        };
        options.AddPolicy(SignIn, context => Posts(context, SignInsPerMinute));
        options.AddPolicy(SetUp, context => Posts(context, SetUpsPerMinute));
        options.AddPolicy(Plan, context => PerMinute(context, PlansPerMinute));
        options.AddPolicy(Intake, context => PerMinute(context, IntakesPerMinute));
        options.AddPolicy(Pdf, context => PerMinute(context, PdfsPerMinute));
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
