using System.Text;
using ConsultDesk.Records;
using ConsultDesk.Web.Figures;
using Microsoft.Net.Http.Headers;

namespace ConsultDesk.Web.Consultancy;

/// <summary>The firm's logo for its own people, and the audit as a table for its owners. A published plan holds its own copy of the logo.</summary>
internal static class ConsultancyRegistration
{
    /// <summary>Address of the signed-in user's firm's logo.</summary>
    public const string LogoPath = "/firm/logo";

    /// <summary>Address of the audit as a table.</summary>
    public const string AuditPath = "/audit/table";

    /// <summary>Most lines of one table (own choice): what a spreadsheet still opens with ease. Of more, the newest.</summary>
    public const int MostLines = 100_000;

    public static void MapConsultancy(this IEndpointRouteBuilder app)
    {
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

        app.MapGet(AuditPath, async (HttpContext context, AuditTrail audit, string? who, string? what, DateOnly? from, DateOnly? until, CancellationToken cancellation) =>
        {
            var user = SignedIn.From(context.User)!;
            var entries = await audit.Entries(user, AuditWords.Question(who, what, from, until), 0, MostLines, cancellation);
            await audit.Exported(user, "audit", user.FirmId, cancellation);
            var table = CsvText.Of(entries.Select(AuditWords.Row).Prepend(AuditWords.Heads));
            context.Response.Headers.CacheControl = "private, no-store";
            // Spreadsheets take a table for another encoding unless it says its own at the start.
            return Results.File(Encoding.UTF8.GetPreamble().Concat(Encoding.UTF8.GetBytes(table)).ToArray(), "text/csv; charset=utf-8", "audit.csv");
        }).RequireAuthorization(only => only.RequireRole(nameof(DeskRole.Owner)));
    }
}
