using ConsultDesk.Records;
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

        app.MapGet("/plans/{planId:guid}/pdf", async (Guid planId, HttpContext context, Records.Plans plans, PlanPress press, CancellationToken cancellation) =>
                await PdfAsync(context, await plans.Plan(SignedIn.From(context.User)!, planId, cancellation), press, cancellation))
            .RequireRateLimiting(RequestLimits.Pdf);

        // The logo is the one of that revision, kept in its text: the page stays small, and a new logo changes no plan.
        app.MapGet(SecurityHeaders.PlanPath + "/{token}/logo", async (string token, Records.Plans plans, CancellationToken cancellation) =>
                Logo(await plans.FindByToken(token, cancellation)))
            .AllowAnonymous()
            .RequireRateLimiting(RequestLimits.Plan);

        app.MapGet("/plans/{planId:guid}/logo", async (Guid planId, HttpContext context, Records.Plans plans, CancellationToken cancellation) =>
                Logo(await plans.Plan(SignedIn.From(context.User)!, planId, cancellation)))
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
