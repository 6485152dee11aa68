using ConsultDesk.Calculations.Costs;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>A firm's price book as it was loaded.</summary>
/// <param name="Book">The prices.</param>
/// <param name="Version">Handed back to a change; null for the book the app comes with.</param>
/// <param name="UpdatedAt">When it last changed, UTC; null for the book the app comes with.</param>
public sealed record LoadedPrices(PriceBook Book, Guid? Version, DateTime? UpdatedAt)
{
    /// <summary>True when the firm has no book of its own.</summary>
    public bool IsDefault => Version is null;
}

/// <summary>The firm's prices.</summary>
public sealed class FirmPrices(FirmContexts contexts, TimeProvider time)
{
    /// <summary>How many replaced books are looked through, the newest; each change of a price is one.</summary>
    private const int MostBooks = 200;

    private static readonly string DefaultTable = PriceCsv.Write(PriceBooks.Default);

    /// <summary>The firm's book, or the one the app comes with.</summary>
    /// <exception cref="PriceTableException">The stored table cannot be read; it is left as it is.</exception>
    public async Task<LoadedPrices> Load(SignedIn who, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await db.PriceBooks.AsNoTracking().SingleOrDefaultAsync(cancellation) is { } row
            ? new(PriceCsv.Read(row.Table), row.Version, row.UpdatedAt)
            : new(PriceBooks.Default, null, null);
    }

    /// <summary>Replaces the firm's book by a table somebody prepared: all of it or nothing.</summary>
    /// <exception cref="NotAllowedException">The user is no owner.</exception>
    /// <exception cref="PriceTableException">A line is wrong.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public Task<LoadedPrices> Import(SignedIn who, Guid? loadedVersion, string table, CancellationToken cancellation = default)
    {
        who.RequireOwner("changes the price book");
        return Store(who, loadedVersion, PriceCsv.Read(table), "prices.imported", cancellation);
    }

    /// <summary>Stores an edited book.</summary>
    /// <exception cref="NotAllowedException">The user is no owner.</exception>
    /// <exception cref="PriceTableException">An item is wrong.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public Task<LoadedPrices> Save(SignedIn who, Guid? loadedVersion, PriceBook book, CancellationToken cancellation = default)
    {
        who.RequireOwner("changes the price book");
        // Read back what will be stored: an item that could not be read again is refused now.
        return Store(who, loadedVersion, PriceCsv.Read(PriceCsv.Write(book)), "prices.changed", cancellation);
    }

    /// <summary>Drops the firm's own book; changes nothing when it has none.</summary>
    /// <exception cref="NotAllowedException">The user is no owner.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public async Task<LoadedPrices> BackToDefault(SignedIn who, Guid? loadedVersion, CancellationToken cancellation = default)
    {
        who.RequireOwner("changes the price book");
        await using var db = contexts.OpenFor(who.FirmId);
        if (await db.PriceBooks.SingleOrDefaultAsync(cancellation) is { } row)
        {
            await Keep(db, who, row, time.UtcNow(), cancellation);
            db.Remove(row);
            db.Note(who, "prices.dropped", "firm", who.FirmId, time.UtcNow());
            await db.SaveOver(row, loadedVersion ?? Guid.Empty, "price book", who.FirmId, cancellation);
        }

        return new(PriceBooks.Default, null, null);
    }

    private async Task<LoadedPrices> Store(SignedIn who, Guid? loadedVersion, PriceBook book, string action, CancellationToken cancellation)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var now = time.UtcNow();
        var table = PriceCsv.Write(book);
        var row = await db.PriceBooks.SingleOrDefaultAsync(cancellation);
        await Keep(db, who, row, now, cancellation);
        db.Note(who, action, "firm", who.FirmId, now);
        if (row is null && loadedVersion is null)
        {
            row = db.PriceBooks.Add(new FirmPriceBook { Table = table, UpdatedAt = now }).Entity;
            await db.SaveUnlessSlower("price book", who.FirmId, cancellation);
        }
        else if (row is not null)
        {
            (row.Table, row.UpdatedAt) = (table, now);
            await db.SaveOver(row, loadedVersion ?? Guid.Empty, "price book", who.FirmId, cancellation);
        }
        else
        {
            throw new RecordChangedException("price book", who.FirmId);
        }

        return new(book, row.Version, now);
    }

    /// <summary>What an item cost since the firm has prices, the newest first. Plans that are published keep their own.</summary>
    /// <exception cref="PriceTableException">A stored table cannot be read; it is left as it is.</exception>
    public async Task<IReadOnlyList<PastPrice>> HistoryOf(SignedIn who, string key, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var past = await db.PastPrices.AsNoTracking().OrderByDescending(p => p.Until).ThenByDescending(p => p.Id).Take(MostBooks).ToListAsync(cancellation);
        var now = await db.PriceBooks.AsNoTracking().SingleOrDefaultAsync(cancellation);
        var names = await db.NamesOf(past.Select(p => p.ReplacedBy), cancellation);
        return PriceHistory.Of(
            [
                new(
                    now is null ? PriceBooks.Default : PriceCsv.Read(now.Table),
                    now?.UpdatedAt ?? past.FirstOrDefault()?.Until, null, "", WasDefault: now is null),
                .. past.Select(p => new UsedBook(
                    PriceCsv.Read(p.Table), p.From == DateTime.UnixEpoch ? null : p.From, p.Until, names.GetValueOrDefault(p.ReplacedBy, UserNames.Gone), p.Table == DefaultTable)),
            ],
            key);
    }

    /// <summary>Keeps the book that is about to be replaced, in the same transaction; the app's own the first time.</summary>
    private static async Task Keep(DeskContext db, SignedIn who, FirmPriceBook? row, DateTime now, CancellationToken cancellation)
    {
        // The book the app comes with holds since the last own one was dropped, or since ever.
        var from = row?.UpdatedAt
            ?? await db.PastPrices.OrderByDescending(p => p.Until).Select(p => (DateTime?)p.Until).FirstOrDefaultAsync(cancellation)
            ?? DateTime.UnixEpoch;
        db.PastPrices.Add(new PastPrices { Table = row?.Table ?? DefaultTable, From = from, Until = now, ReplacedBy = who.UserId });
    }
}
