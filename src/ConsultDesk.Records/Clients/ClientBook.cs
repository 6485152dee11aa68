using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>What is entered about a client.</summary>
public sealed record ClientInput(string Name, string? Email = null, string? Country = null, string? Notes = null);

/// <summary>One client in a list.</summary>
public sealed record ClientLine(Guid Id, string Name, string? Country, DateTime UpdatedAt, IReadOnlyList<string> Vans);

/// <summary>The firm's clients.</summary>
public sealed partial class ClientBook(FirmContexts contexts, TimeProvider time)
{
    /// <summary>Clients whose name contains the search text, letters' marks and case ignored, by name; all for an empty search.</summary>
    public async Task<Listed<ClientLine>> Clients(SignedIn who, string? search = null, int most = int.MaxValue, CancellationToken cancellation = default)
    {
        var wanted = SearchText.Of(search ?? "");
        await using var db = contexts.OpenFor(who.FirmId);
        var clients = db.Clients.AsNoTracking().Where(c => wanted == "" || c.SearchName.Contains(wanted));
        var rows = await clients
            .OrderBy(c => c.SearchName).ThenBy(c => c.Id)
            .Take(most)
            .Select(c => new ClientLine(c.Id, c.Name, c.Country, c.UpdatedAt, db.Vans.Where(v => v.ClientId == c.Id).OrderBy(v => v.CreatedAt).Select(v => v.Name).ToList()))
            .ToListAsync(cancellation);
        return new(rows, rows.Count < most ? rows.Count : await clients.CountAsync(cancellation));
    }

    /// <summary>One client; null when the firm has none with this id. Its Version is handed back to <see cref="ChangeClient"/>.</summary>
    public async Task<Client?> Client(SignedIn who, Guid id, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await db.Clients.AsNoTracking().SingleOrDefaultAsync(c => c.Id == id, cancellation);
    }

    /// <summary>Adds a client.</summary>
    /// <returns>The new client's id.</returns>
    /// <exception cref="InvalidInputException">A field is wrong.</exception>
    public async Task<Guid> AddClient(SignedIn who, ClientInput input, CancellationToken cancellation = default)
    {
        var now = time.UtcNow();
        var client = new Client { Name = "", SearchName = "", CreatedAt = now, UpdatedAt = now };
        Take(client, input);
        await using var db = contexts.OpenFor(who.FirmId);
        db.Clients.Add(client);
        db.Note(who, "client.added", "client", client.Id, now);
        await db.SaveChangesAsync(cancellation);
        return client.Id;
    }

    /// <summary>Changes a client's data.</summary>
    /// <returns>The new version.</returns>
    /// <exception cref="InvalidInputException">A field is wrong.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such client.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public async Task<Guid> ChangeClient(SignedIn who, Guid id, Guid loadedVersion, ClientInput input, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var client = await Existing(db, id, cancellation);
        Take(client, input);
        client.UpdatedAt = time.UtcNow();
        db.Note(who, "client.changed", "client", id, client.UpdatedAt);
        await db.SaveOver(client, loadedVersion, "client", id, cancellation);
        return client.Version;
    }

    /// <summary>
    /// Erases a client with vans, options, history, plans, links, replies, consults, notes, decisions, declined advice, follow-ups,
    /// wishes, searches of designs, intakes and their photos, weather files, what was built in with its photos, and what was reported after. Audit rows stay: they hold ids only.
    /// A receipt of it in numbers is kept. The freed space of a SQLite file is overwritten at once.
    /// </summary>
    /// <exception cref="NotAllowedException">The user is no owner: it cannot be undone.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such client.</exception>
    /// <exception cref="RecordChangedException">Somebody changed something of the client meanwhile; nothing was erased.</exception>
    public async Task<Erased> EraseClient(SignedIn who, Guid id, CancellationToken cancellation = default)
    {
        who.RequireOwner("erases a client");

        await using var db = contexts.OpenFor(who.FirmId);
        db.Erasing = true;
        var all = await ClientRows.Load(db, id, cancellation);
        var now = time.UtcNow();
        foreach (var kind in all.Reverse())
        {
            db.RemoveRange(kind.Rows);
        }

        db.Note(who, "client.erased", "client", id, now);
        var ids = all.SelectMany(kind => kind.Rows).Select(row => row.Id).ToList();
        var acts = 1;
        foreach (var some in ids.Chunk(500))
        {
            acts += await db.Audit.CountAsync(row => some.Contains(row.EntityId), cancellation);
        }

        var receipt = new ErasureReceipt
        {
            ClientId = id,
            At = now,
            ErasedBy = who.UserId,
            Gone = Erasures.Write(all.Select(kind => (kind.Kind, kind.Rows.Count))),
            Stayed = Erasures.Write([("auditRows", acts), ("receipt", 1)]),
        };
        db.ErasureReceipts.Add(receipt);
        // Refused when somebody added or changed something of this client in between: nothing was erased, ask again.
        await db.SaveUnlessSlower("client", id, cancellation);

        return new(receipt.Id, await Remains.Overwrite(db, cancellation));
    }

    private static async Task<Client> Existing(DeskContext db, Guid id, CancellationToken cancellation) =>
        await db.Clients.SingleOrDefaultAsync(c => c.Id == id, cancellation) ?? throw new RecordNotFoundException("client", id);

    private static void Take(Client client, ClientInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        var check = new FieldChecks();
        client.Name = check.Text(nameof(input.Name), input.Name, TextLimits.Name);
        client.Email = check.Optional(nameof(input.Email), input.Email, TextLimits.Email);
        client.Country = check.Optional(nameof(input.Country), input.Country, 2);
        client.Notes = check.Optional(nameof(input.Notes), input.Notes, TextLimits.Notes, lines: true);
        check.That(client.Email is null || EmailAddress.LooksRight(client.Email), nameof(input.Email), EmailAddress.Expected);
        check.That(client.Country is null || CountryCode().IsMatch(client.Country), nameof(input.Country), "Expected a country code of two capital letters, for example NO.");
        check.ThrowIfAny();
        client.SearchName = SearchText.Of(client.Name);
    }

    [GeneratedRegex(@"\A[A-Z]{2}\z")]
    private static partial Regex CountryCode();
}
