using ConsultDesk.Records;
using Microsoft.Net.Http.Headers;

namespace ConsultDesk.Web.Consultancy;

/// <summary>The firm's logo for its own people. A published plan holds its own copy.</summary>
internal static class ConsultancyRegistration
{
    /// <summary>Address of the signed-in user's firm's logo.</summary>
    public const string LogoPath = "/firm/logo";

    public static void MapConsultancy(this IEndpointRouteBuilder app) =>
        app.MapGet(LogoPath, async (HttpContext context, FirmLogos logos, CancellationToken cancellation) =>
        {
            if (await logos.Logo(SignedIn.From(context.User)!, cancellation) is not { } logo)
            {
                return Results.NotFound();
            }

            // Asked for again each time, sent again only when it changed.
            context.Response.Headers.CacheControl = "private, no-cache";
            return Results.File(logo.Png, "image/png", entityTag: new EntityTagHeaderValue($"\"{logo.Version:N}\""));
        });
}
