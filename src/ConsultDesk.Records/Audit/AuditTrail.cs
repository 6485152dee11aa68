using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>One act as it is shown.</summary>
public sealed record AuditLine(DateTime At, string Who, string Action, string EntityKind, Guid EntityId);

/// <summary>Who did what.</summary>
public sealed class AuditTrail(FirmContexts contexts, TimeProvider time)
{
    /// <summary>Keeps that a letter about a row went to the client: its id only, not to where, nor what it said.</summary>
    public async Task MailSent(SignedIn who, string kind, Guid id, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        db.Note(who, "mail.sent", kind, id, time.UtcNow());
        await db.SaveChangesAsync(cancellation);
    }

    /// <summary>The newest acts of the firm, newest first.</summary>
    public async Task<IReadOnlyList<AuditLine>> Latest(SignedIn who, int count, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await Lines(db, db.Audit.OrderByDescending(a => a.At).ThenByDescending(a => a.Id).Take(count), cancellation);
    }

    /// <summary>All acts on one row, oldest first.</summary>
    public async Task<IReadOnlyList<AuditLine>> Of(SignedIn who, Guid entityId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await Lines(db, db.Audit.Where(a => a.EntityId == entityId).OrderBy(a => a.At).ThenBy(a => a.Id), cancellation);
    }

    private static async Task<IReadOnlyList<AuditLine>> Lines(DeskContext db, IQueryable<AuditRow> rows, CancellationToken cancellation)
    {
        var found = await rows.AsNoTracking().ToListAsync(cancellation);
        var names = await db.NamesOf(found.Select(a => a.UserId).OfType<Guid>(), cancellation);
        return [.. found.Select(a => new AuditLine(
            a.At, a.UserId is { } id ? names.GetValueOrDefault(id, UserNames.Gone) : "the server", a.Action, a.EntityKind, a.EntityId))];
    }
}

internal static class AuditNotes
{
    /// <summary>Who acted last on a row, and when. A row always has an act; <paramref name="otherwise"/> stands for one that was lost.</summary>
    public static async Task<(string Who, DateTime At)> LastActOn(this DeskContext db, Guid id, DateTime otherwise, CancellationToken cancellation)
    {
        var last = await db.Audit.AsNoTracking().Where(a => a.EntityId == id)
            .OrderByDescending(a => a.At).ThenByDescending(a => a.Id).FirstOrDefaultAsync(cancellation);
        if (last?.UserId is not { } user)
        {
            return (UserNames.Gone, last?.At ?? otherwise);
        }

        return ((await db.NamesOf([user], cancellation)).GetValueOrDefault(user, UserNames.Gone), last.At);
    }

    /// <summary>Adds an audit row to what the context saves next, so that both are one transaction.</summary>
    public static void Note(this DeskContext db, SignedIn? who, string action, string kind, Guid id, DateTime at) =>
        db.Audit.Add(new AuditRow { At = at, UserId = who?.UserId, Action = action, EntityKind = kind, EntityId = id });
}
