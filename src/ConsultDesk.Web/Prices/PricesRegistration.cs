using System.Text;
using ConsultDesk.Records;

namespace ConsultDesk.Web.Prices;

/// <summary>The firm's price book as a table to take away.</summary>
internal static class PricesRegistration
{
    /// <summary>Address of the signed-in user's firm's price table.</summary>
    public const string TablePath = "/prices/table";

    public static void MapPrices(this IEndpointRouteBuilder app) =>
        app.MapGet(TablePath, async (HttpContext context, FirmPrices prices, AuditTrail audit, CancellationToken cancellation) =>
        {
            var who = SignedIn.From(context.User)!;
            var table = PriceCsv.Write((await prices.Load(who, cancellation)).Book);
            await audit.Exported(who, "prices", who.FirmId, cancellation);
            context.Response.Headers.CacheControl = "private, no-cache";
            // Spreadsheets take a table for another encoding unless it says its own at the start.
            return Results.File(Encoding.UTF8.GetPreamble().Concat(Encoding.UTF8.GetBytes(table)).ToArray(), "text/csv; charset=utf-8", "price-book.csv");
        });
}
