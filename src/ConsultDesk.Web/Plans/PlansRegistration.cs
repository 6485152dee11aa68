using System.Text;
using ConsultDesk.Records;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Web.Shell;

namespace ConsultDesk.Web.Plans;

/// <summary>Plans for readers: the PDF of each and the colour of the firm.</summary>
internal static class PlansRegistration
{
    public static void AddPlans(this IServiceCollection services) => services.AddSingleton<PlanPress>();

    public static void MapPlans(this IEndpointRouteBuilder app)
    {
        app.MapGet(SecurityHeaders.PlanPath + "/{token}/pdf", async (string token, HttpContext context, Records.Plans plans, PlanPress press, CancellationToken cancellation) =>
                await PdfAsync(context, await plans.FindByToken(token, cancellation), press, cancellation))
            .AllowAnonymous()
            .RequireRateLimiting(RequestLimits.Pdf);

        app.MapGet("/plans/{planId:guid}/pdf", async (Guid planId, HttpContext context, Records.Plans plans, PlanPress press, AuditTrail audit, CancellationToken cancellation) =>
            {
                var who = SignedIn.From(context.User)!;
                var plan = await plans.Plan(who, planId, cancellation);
                if (plan is not null)
                {
                    await audit.Exported(who, "plan", planId, cancellation);
                }

                return await PdfAsync(context, plan, press, cancellation);
            })
            .RequireRateLimiting(RequestLimits.Pdf);

        // The logo is the one of that revision, kept in its text: the page stays small, and a new logo changes no plan.
        app.MapGet(SecurityHeaders.PlanPath + "/{token}/logo", async (string token, Records.Plans plans, CancellationToken cancellation) =>
                Logo(await plans.FindByToken(token, cancellation)))
            .AllowAnonymous()
            .RequireRateLimiting(RequestLimits.Plan);

        app.MapGet("/plans/{planId:guid}/logo", async (Guid planId, HttpContext context, Records.Plans plans, CancellationToken cancellation) =>
                Logo(await plans.Plan(SignedIn.From(context.User)!, planId, cancellation)))
            .RequireRateLimiting(RequestLimits.Plan);

        app.MapGet(SecurityHeaders.PlanPath + "/{token}" + SecurityHeaders.TonightEnd, async (string token, Records.Plans plans, CancellationToken cancellation) =>
                Tonight(await plans.FindByToken(token, cancellation), $"{SecurityHeaders.PlanPath}/{token}"))
            .AllowAnonymous()
            .RequireRateLimiting(RequestLimits.Plan);

        app.MapGet(SecurityHeaders.PlanPath + "/{token}" + SecurityHeaders.TonightEnd + ".html", async (string token, Records.Plans plans, CancellationToken cancellation) =>
                Tonight(await plans.FindByToken(token, cancellation), planAddress: null))
            .AllowAnonymous()
            .RequireRateLimiting(RequestLimits.Plan);

        app.MapGet("/plans/{planId:guid}" + SecurityHeaders.TonightEnd, async (Guid planId, HttpContext context, Records.Plans plans, CancellationToken cancellation) =>
                Tonight(await plans.Plan(SignedIn.From(context.User)!, planId, cancellation), $"/plans/{planId}/read", $"/plans/{planId}{SecurityHeaders.TonightEnd}.html"))
            .RequireRateLimiting(RequestLimits.Plan);

        app.MapGet("/plans/{planId:guid}" + SecurityHeaders.TonightEnd + ".html", async (Guid planId, HttpContext context, Records.Plans plans, CancellationToken cancellation) =>
                Tonight(await plans.Plan(SignedIn.From(context.User)!, planId, cancellation), planAddress: null))
            .RequireRateLimiting(RequestLimits.Plan);

        // The colour stands in the address, so the answer never changes and tells nothing about a firm.
        app.MapGet("/brand/{hex}.css", (string hex, HttpContext context) =>
        {
            if (BrandColour.Read(hex) is not { } colour)
            {
                return Results.NotFound();
            }

            context.Response.Headers.CacheControl = "public, max-age=31536000, immutable";
            return Results.Text(colour.StyleSheet(), "text/css; charset=utf-8");
        }).AllowAnonymous();
    }

    /// <summary>Tonight's settings: as a page with the address of its plan, or as a file to keep without one.</summary>
    private static IResult Tonight(OpenedPlan? plan, string? planAddress, string? saveAddress = null)
    {
        if (plan is null)
        {
            return Page(
                TonightDocument.Message("Nothing to read here", "This link does not open a plan. It may be incomplete, have expired or have been withdrawn. Ask your consultant for a new one.", planAddress: null),
                StatusCodes.Status404NotFound);
        }

        if (plan.TonightText is not { } text)
        {
            return Page(
                TonightDocument.Message(
                    "No settings for tonight in this plan",
                    "This revision was published without a table for single nights. Go by the running card in the plan, or ask your consultant for a new revision.",
                    planAddress),
                planAddress is null ? StatusCodes.Status404NotFound : StatusCodes.Status200OK);
        }

        var snapshot = PlanPress.Read(plan);
        var document = TonightDocument.Write(
            TonightSheet.Read(text), snapshot, planAddress, planAddress is null ? null : saveAddress ?? planAddress + SecurityHeaders.TonightEnd + ".html");
        return planAddress is null
            ? Results.File(Encoding.UTF8.GetBytes(document), "text/html; charset=utf-8", TonightDocument.FileName(snapshot))
            : Page(document, StatusCodes.Status200OK);

        static IResult Page(string html, int status) => Results.Text(html, "text/html; charset=utf-8", statusCode: status);
    }

    private static IResult Logo(OpenedPlan? plan) => plan is not null && PlanPress.Read(plan).Logo is { } logo
        ? Results.File(logo.Png, "image/png")
        : Results.NotFound();

    private static async Task<IResult> PdfAsync(HttpContext context, OpenedPlan? plan, PlanPress press, CancellationToken cancellation)
    {
        if (plan is null)
        {
            return Results.NotFound();
        }

        try
        {
            return Results.File(await press.PdfAsync(plan, cancellation), "application/pdf", PlanPress.FileName(PlanPress.Read(plan)));
        }
        catch (PressBusyException)
        {
            context.Response.Headers.RetryAfter = "10";
            return Results.Text(
                "Many PDFs are being made at this moment. Wait ten seconds and ask for this one again.", "text/plain; charset=utf-8", statusCode: StatusCodes.Status503ServiceUnavailable);
        }
    }
}
