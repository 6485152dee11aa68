using System.Globalization;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>A client was erased.</summary>
/// <param name="ReceiptId">The receipt.</param>
/// <param name="FileIsClean">True when the freed space of a SQLite file was overwritten too, false when others held the file; null on PostgreSQL, which sees to it itself.</param>
public sealed record Erased(Guid ReceiptId, bool? FileIsClean);

/// <summary>A receipt as it is shown: numbers only, it names nobody but who erased.</summary>
public sealed record ReceiptLine(Guid Id, Guid ClientId, DateTime At, string By, IReadOnlyList<(string Kind, int Count)> Gone, IReadOnlyList<(string Kind, int Count)> Stayed);

/// <summary>The receipts of erased clients.</summary>
public sealed class Erasures(FirmContexts contexts)
{
    /// <summary>One receipt; null when the firm has none with this id.</summary>
    public async Task<ReceiptLine?> Receipt(SignedIn who, Guid id, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        if (await db.ErasureReceipts.AsNoTracking().SingleOrDefaultAsync(r => r.Id == id, cancellation) is not { } receipt)
        {
            return null;
        }

        var names = await db.NamesOf([receipt.ErasedBy], cancellation);
        return new(receipt.Id, receipt.ClientId, receipt.At, names.GetValueOrDefault(receipt.ErasedBy, UserNames.Gone), Read(receipt.Gone), Read(receipt.Stayed));
    }

    internal static string Write(IEnumerable<(string Kind, int Count)> counts) =>
        string.Join('\n', counts.Where(kind => kind.Count > 0).Select(kind => string.Create(CultureInfo.InvariantCulture, $"{kind.Kind}={kind.Count}")));

    private static IReadOnlyList<(string, int)> Read(string counts) =>
        [.. counts.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => line.Split('=')).Select(pair => (pair[0], int.Parse(pair[1], CultureInfo.InvariantCulture)))];
}
