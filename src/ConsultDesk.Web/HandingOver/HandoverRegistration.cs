using System.Globalization;
using System.Text;
using ConsultDesk.Records;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Web.Intake;

namespace ConsultDesk.Web.HandingOver;

/// <summary>A client as a file, the way back, and the receipts of erased ones.</summary>
internal static class HandoverRegistration
{
    public static void AddHandingOver(this IServiceCollection services) => services.AddSingleton<ClientZip>();

    public static void MapHandingOver(this IEndpointRouteBuilder app)
    {
        app.MapGet("/clients/{clientId:guid}/export", async (Guid clientId, HttpContext context, ClientZip zip, CancellationToken cancellation) =>
        {
            var who = SignedIn.From(context.User)!;
            HandedClient client;
            try
            {
                client = await zip.ReadAsync(who, clientId, cancellation);
            }
            catch (RecordNotFoundException)
            {
                return Results.NotFound();
            }

            context.Response.Headers.CacheControl = "private, no-store";
            return Results.Stream(stream => zip.WriteAsync(who, client, stream, context.RequestAborted), "application/zip", ClientZip.FileName(client));
        });

        app.MapGet("/clients/erased/{receiptId:guid}.txt", async (Guid receiptId, HttpContext context, Erasures erasures, CancellationToken cancellation) =>
            await erasures.Receipt(SignedIn.From(context.User)!, receiptId, cancellation) is { } receipt
                ? Results.File(Encoding.UTF8.GetBytes(ReceiptWords.Text(receipt)), "text/plain; charset=utf-8", "erasure-receipt.txt")
                : Results.NotFound());
    }

    /// <summary>What the records leave to the web: pictures are encoded anew, plans must be readable.</summary>
    public static HandoverChecks Checks { get; } = new(
        async (bytes, cancellation) =>
        {
            // A decoder is not trusted with a stranger's file for ever.
            var (photo, _) = await Task.Run(() => IntakePhotos.Read(bytes), CancellationToken.None).WaitAsync(IntakePhotos.Longest, cancellation);
            return photo is null ? null : new(photo.Jpeg, photo.Width, photo.Height);
        },
        text => Problem(() => PlanSnapshotJson.Read(text), "the text of a plan cannot be read."),
        text => Problem(() => TonightSheet.Read(text), "tonight's settings of a plan cannot be read."));

    // Old records are refused by the readers that will show them.
    private static string? Problem(Action read, string damaged)
    {
        try
        {
            read();
            return null;
        }
        catch (NotSupportedException)
        {
            return "a plan was published by a newer ConsultDesk. Bring this desk up to date first.";
        }
        catch (System.Text.Json.JsonException)
        {
            return damaged;
        }
    }
}

/// <summary>The receipt of an erasure in words.</summary>
internal static class ReceiptWords
{
    private static readonly Dictionary<string, string> Names = new(StringComparer.Ordinal)
    {
        ["client"] = "Client with name, address and notes",
        ["vans"] = "Vans",
        ["wishes"] = "Wishes",
        ["weatherFiles"] = "Weather files",
        ["options"] = "Options",
        ["chosenOptions"] = "Chosen options",
        ["optionRevisions"] = "Earlier states of options",
        ["searches"] = "Searches of designs",
        ["consults"] = "Consults with private notes",
        ["decisions"] = "Decisions",
        ["declinedAdvice"] = "Declined advice",
        ["followUps"] = "Follow-ups",
        ["intakes"] = "Intakes with answers",
        ["intakePhotos"] = "Photos of intakes",
        ["plans"] = "Published plans",
        ["planLinks"] = "Links to plans",
        ["planReplies"] = "What was written to plans, with answers",
        ["installations"] = "What was built in",
        ["installationPhotos"] = "Photos of what was built in",
        ["checkBacks"] = "Reports after the build",
        ["auditRows"] = "Lines of the audit: who did what when, by ids only, no name and no word of the client",
        ["receipt"] = "This receipt",
    };

    /// <summary>A kind of row.</summary>
    public static string Of(string kind) => Names.GetValueOrDefault(kind, kind);

    /// <summary>What no desk can reach.</summary>
    public const string Beyond = "Not reached by it: back-ups made before, letters already sent, PDFs and files already saved, and, on PostgreSQL, dead rows until the server's own vacuum and its log until it is recycled.";

    /// <summary>All of it as plain text.</summary>
    public static string Text(ReceiptLine receipt) => string.Create(CultureInfo.InvariantCulture, $"""
        Receipt of an erasure
        Number    {receipt.Id}
        Client    {receipt.ClientId} (the number it had; the name is gone)
        Erased    {receipt.At:d MMMM yyyy, HH:mm} UTC by {receipt.By}

        What went
        {Lines(receipt.Gone)}

        What stayed
        {Lines(receipt.Stayed)}

        {Beyond}
        """) + "\n";

    private static string Lines(IEnumerable<(string Kind, int Count)> counts) =>
        string.Join('\n', counts.Select(count => string.Create(CultureInfo.InvariantCulture, $"{count.Count,7}  {Of(count.Kind)}")));
}
