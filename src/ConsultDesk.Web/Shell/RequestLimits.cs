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

    /// <summary>Opening a plan by its link.</summary>
    public const string Plan = "plan";

    /// <summary>Making a PDF.</summary>
    public const string Pdf = "pdf";

    /// <summary>Password attempts a minute; an account locks long before.</summary>
    public const int SignInsPerMinute = 30;

    /// <summary>Plan pages a minute.</summary>
    public const int PlansPerMinute = 60;

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
        options.AddPolicy(SignIn, context => HttpMethods.IsPost(context.Request.Method) ? PerMinute(context, SignInsPerMinute) : RateLimitPartition.GetNoLimiter(""));
        options.AddPolicy(Plan, context => PerMinute(context, PlansPerMinute));
        options.AddPolicy(Pdf, context => PerMinute(context, PdfsPerMinute));
    }

    private static RateLimitPartition<string> PerMinute(HttpContext context, int permits) =>
        RateLimitPartition.GetFixedWindowLimiter(
            context.Connection.RemoteIpAddress?.ToString() ?? "",
            _ => new FixedWindowRateLimiterOptions { PermitLimit = permits, Window = TimeSpan.FromMinutes(1) });
}
