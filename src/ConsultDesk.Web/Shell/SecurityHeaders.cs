using ConsultDesk.Web.Plans;
using Microsoft.Net.Http.Headers;

namespace ConsultDesk.Web.Shell;

/// <summary>The headers every answer carries. Pages read or answered by link are stricter: they need no script and no inline style.</summary>
internal static class SecurityHeaders
{
    private const string Common =
        "default-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; object-src 'none'; base-uri 'self'; form-action 'self'; frame-ancestors 'none'; ";

    /// <summary>MudBlazor writes its theme and its popovers' places as inline styles; scripts stay strict.</summary>
    private const string ForDesk = Common + "script-src 'self'; style-src 'self' 'unsafe-inline'";

    private static readonly string ForTonight = Common + TonightDocument.Policy;

    private const string ForPlans = Common + "script-src 'none'; style-src 'self'";

    /// <summary>Start of the path of everything a client reads by link.</summary>
    public const string PlanPath = "/plan";

    /// <summary>End of the path of the page a client replies to a plan on.</summary>
    public const string ReplyEnd = "/reply";

    /// <summary>End of the path of the page a client reports on after living with a plan.</summary>
    public const string ReportEnd = "/report";

    /// <summary>End of the path of tonight's settings, the one page with a script in it: one that is known by its hash.</summary>
    public const string TonightEnd = "/tonight";

    /// <summary>Start of the path of everything a client answers by link.</summary>
    public const string IntakePath = "/intake";

    /// <summary>Start of the path of an invitation to the desk.</summary>
    public const string JoinPath = "/join";

    /// <summary>True for what is opened by the secret in its path.</summary>
    public static bool IsByLink(PathString path) =>
        path.StartsWithSegments(PlanPath, StringComparison.OrdinalIgnoreCase)
        || path.StartsWithSegments(IntakePath, StringComparison.OrdinalIgnoreCase)
        || path.StartsWithSegments(JoinPath, StringComparison.OrdinalIgnoreCase);

    /// <summary>True for a page of a plan with a form in it.</summary>
    public static bool IsSentBack(PathString path) =>
        path.Value!.EndsWith(ReplyEnd, StringComparison.OrdinalIgnoreCase) || path.Value!.EndsWith(ReportEnd, StringComparison.OrdinalIgnoreCase);

    public static IApplicationBuilder UseSecurityHeaders(this IApplicationBuilder app) => app.Use(static (context, next) =>
    {
        // Set at the start, not at once: an error page clears the headers of the answer it replaces.
        var plan = context.Request.Path.StartsWithSegments(PlanPath, StringComparison.OrdinalIgnoreCase);
        var byLink = IsByLink(context.Request.Path);
        context.Response.OnStarting(static state =>
        {
            var (context, plan, byLink) = ((HttpContext, bool, bool))state;
            var headers = context.Response.Headers;
            headers.XContentTypeOptions = "nosniff";
            headers.ContentSecurityPolicy = IsTonight(context.Request.Path.Value!) ? ForTonight : byLink ? ForPlans : ForDesk;
            headers["Referrer-Policy"] = byLink ? "no-referrer" : "same-origin";
            headers["Permissions-Policy"] = "camera=(), geolocation=(), microphone=()";
            headers["Cross-Origin-Opener-Policy"] = "same-origin";
            if (byLink)
            {
                headers["X-Robots-Tag"] = "noindex, nofollow";
                headers.CacheControl = "private, no-store";
            }

            if (plan && !IsSentBack(context.Request.Path))
            {
                // The renderer sets an antiforgery cookie on every page; a reader sends nothing back that it could guard.
                headers.Remove(HeaderNames.SetCookie);
            }

            return Task.CompletedTask;
        }, (context, plan, byLink));
        return next(context);
    });

    private static bool IsTonight(string path) =>
        path.StartsWith(PlanPath, StringComparison.OrdinalIgnoreCase) && path.EndsWith(TonightEnd, StringComparison.OrdinalIgnoreCase);
}
