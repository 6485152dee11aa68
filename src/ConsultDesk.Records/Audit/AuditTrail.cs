using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;

namespace ConsultDesk.Records;

/// <summary>One act as it is shown.</summary>
public sealed record AuditLine(DateTime At, string Who, string Action, string EntityKind, Guid EntityId);

/// <summary>One act with the name of what it was done to, where that still exists; null where it does not or has none.</summary>
public sealed record AuditEntry(DateTime At, string Who, string Action, string EntityKind, Guid EntityId, string? About);

/// <summary>Which acts are asked for; null for all.</summary>
/// <param name="UserId">Those of one person.</param>
/// <param name="Kinds">Those on these kinds of row.</param>
/// <param name="From">Not before, UTC.</param>
/// <param name="Until">Before, UTC.</param>
public sealed record AuditQuestion(Guid? UserId = null, IReadOnlyList<string>? Kinds = null, DateTime? From = null, DateTime? Until = null);

/// <summary>What an account did to itself, or failed at.</summary>
public enum AccountAct
{
    /// <summary>Signed in.</summary>
    SignedIn,

    /// <summary>Signed in with a recovery code in the place of the authenticator.</summary>
    RecoveryCodeUsed,

    /// <summary>Was locked for a while after too many tries.</summary>
    Locked,

    /// <summary>Signed out.</summary>
    SignedOut,

    /// <summary>Ended every sign-in of the account.</summary>
    SignedOutEverywhere,

    /// <summary>Set another password.</summary>
    PasswordChanged,

    /// <summary>Added a passkey.</summary>
    PasskeyAdded,

    /// <summary>Named a passkey.</summary>
    PasskeyNamed,

    /// <summary>Removed a passkey.</summary>
    PasskeyRemoved,

    /// <summary>Turned the authenticator's code on.</summary>
    AuthenticatorOn,

    /// <summary>Turned the authenticator's code off.</summary>
    AuthenticatorOff,

    /// <summary>Made new recovery codes.</summary>
    RecoveryCodesMade,
}

/// <summary>Who did what.</summary>
/// <remarks>
/// A change and its line are one transaction (an account's change of itself: <see cref="OwnAccount"/>), and nothing leaves as a file without its
/// line. A look or a sign-in that cannot be kept, because the store is full or read-only, goes on with an error in the log: the desk stays
/// readable when it cannot be written.
/// </remarks>
public sealed partial class AuditTrail(FirmContexts contexts, TimeProvider time, ILogger<AuditTrail> log)
{
    /// <summary>Looking at the same thing again within this time is the same look (own choice): a page that is loaded anew makes no second line.</summary>
    public static readonly TimeSpan SameLook = TimeSpan.FromMinutes(10);

    /// <summary>The action of <see cref="AccountAct.SignedIn"/>.</summary>
    internal const string SignedInAction = "user.signed-in";

    /// <summary>Keeps that a letter about a row went to the client: its id only, not to where, nor what it said.</summary>
    public Task MailSent(SignedIn who, string kind, Guid id, CancellationToken cancellation = default) => Write(who, "mail.sent", kind, id, cancellation);

    /// <summary>Keeps that somebody looked at a row; once in <see cref="SameLook"/>.</summary>
    /// <param name="who">Who looked.</param>
    /// <param name="kind">Kind of row: client, van, plan, intake.</param>
    /// <param name="id">Its id.</param>
    /// <param name="cancellation">Stops before it is kept.</param>
    public Task Seen(SignedIn who, string kind, Guid id, CancellationToken cancellation = default) => Try(kind + ".seen", async action =>
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var now = time.UtcNow();
        var since = now - SameLook;
        if (await db.Audit.AnyAsync(a => a.EntityId == id && a.UserId == who.UserId && a.Action == action && a.At > since, cancellation))
        {
            return;
        }

        db.Note(who, action, kind, id, now);
        await db.SaveChangesAsync(cancellation);
    });

    /// <summary>Keeps that something was taken out of the desk as a file.</summary>
    /// <param name="who">Who took it.</param>
    /// <param name="kind">Kind of row: plan, prices, audit.</param>
    /// <param name="id">Its id; the firm's where it is one of a kind.</param>
    /// <param name="cancellation">Stops before it is kept.</param>
    public Task Exported(SignedIn who, string kind, Guid id, CancellationToken cancellation = default) => Write(who, kind + ".exported", kind, id, cancellation);

    /// <summary>Keeps that an account came, went, or was locked.</summary>
    public Task Account(DeskUser user, AccountAct act, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(user);
        return Try(ActionOf(act), action => Write(new(user.FirmId, user.Id, user.DisplayName, user.Role), action, "user", user.Id, cancellation));
    }

    /// <summary>The text an act of an account is kept as.</summary>
    public static string ActionOf(AccountAct act) => act switch
    {
        AccountAct.SignedIn => SignedInAction,
        AccountAct.RecoveryCodeUsed => "user.recovery-code-used",
        AccountAct.Locked => "user.locked",
        AccountAct.SignedOut => "user.signed-out",
        AccountAct.SignedOutEverywhere => "user.signed-out-everywhere",
        AccountAct.PasswordChanged => "user.password-changed",
        AccountAct.PasskeyAdded => "user.passkey-added",
        AccountAct.PasskeyNamed => "user.passkey-named",
        AccountAct.PasskeyRemoved => "user.passkey-removed",
        AccountAct.AuthenticatorOn => "user.authenticator-on",
        AccountAct.AuthenticatorOff => "user.authenticator-off",
        AccountAct.RecoveryCodesMade => "user.recovery-codes-made",
        _ => throw new ArgumentOutOfRangeException(nameof(act), act, "Expected an act of an account."),
    };

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

    /// <summary>How many acts of the firm answer a question.</summary>
    /// <exception cref="NotAllowedException">The user is no owner.</exception>
    public async Task<int> Count(SignedIn who, AuditQuestion question, CancellationToken cancellation = default)
    {
        who.RequireOwner("reads the audit");
        await using var db = contexts.OpenFor(who.FirmId);
        return await Asked(db, question).CountAsync(cancellation);
    }

    /// <summary>The acts of the firm that answer a question, newest first.</summary>
    /// <param name="who">An owner.</param>
    /// <param name="question">Which acts.</param>
    /// <param name="skip">How many of the newest to leave out.</param>
    /// <param name="take">How many at most.</param>
    /// <param name="cancellation">Stops waiting.</param>
    /// <exception cref="NotAllowedException">The user is no owner.</exception>
    public async Task<IReadOnlyList<AuditEntry>> Entries(SignedIn who, AuditQuestion question, int skip, int take, CancellationToken cancellation = default)
    {
        who.RequireOwner("reads the audit");
        await using var db = contexts.OpenFor(who.FirmId);
        var rows = await Asked(db, question).OrderByDescending(a => a.At).ThenByDescending(a => a.Id).Skip(skip).Take(take).AsNoTracking().ToListAsync(cancellation);
        var names = await db.NamesOf(rows.Select(a => a.UserId).OfType<Guid>(), cancellation);
        var about = await About(db, rows, cancellation);
        return [.. rows.Select(a => new AuditEntry(a.At, WhoOf(a, names), a.Action, a.EntityKind, a.EntityId, about.GetValueOrDefault(a.EntityId)))];
    }

    private async Task Try(string action, Func<string, Task> write)
    {
        try
        {
            await write(action);
        }
        catch (DbUpdateException e)
        {
            NotKept(log, action, e);
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "The act {Action} could not be kept in the audit.")]
    private static partial void NotKept(ILogger log, string action, Exception e);

    private async Task Write(SignedIn who, string action, string kind, Guid id, CancellationToken cancellation)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        db.Note(who, action, kind, id, time.UtcNow());
        await db.SaveChangesAsync(cancellation);
    }

    private static IQueryable<AuditRow> Asked(DeskContext db, AuditQuestion question)
    {
        IQueryable<AuditRow> rows = db.Audit;
        rows = question.UserId is { } user ? rows.Where(a => a.UserId == user) : rows;
        rows = question.Kinds is { } kinds ? rows.Where(a => kinds.Contains(a.EntityKind)) : rows;
        rows = question.From is { } from ? rows.Where(a => a.At >= from) : rows;
        return question.Until is { } until ? rows.Where(a => a.At < until) : rows;
    }

    // What was erased has no name any more, here neither.
    private static async Task<Dictionary<Guid, string>> About(DeskContext db, List<AuditRow> rows, CancellationToken cancellation)
    {
        var about = new Dictionary<Guid, string>();
        foreach (var kind in rows.GroupBy(a => a.EntityKind))
        {
            var ids = kind.Select(a => a.EntityId).Distinct().ToList();
            var found = kind.Key switch
            {
                "client" => db.Clients.Where(c => ids.Contains(c.Id)).Select(c => new { c.Id, c.Name }),
                "van" => db.Vans.Where(v => ids.Contains(v.Id)).Select(v => new { v.Id, v.Name }),
                "user" => db.Users.Where(u => u.FirmId == db.FirmId && ids.Contains(u.Id)).Select(u => new { u.Id, Name = u.DisplayName }),
                "option" => from option in db.Options where ids.Contains(option.Id) join van in db.Vans on option.VanId equals van.Id select new { option.Id, Name = van.Name + ", option " + option.Letter },
                "plan" => from plan in db.Plans where ids.Contains(plan.Id) join van in db.Vans on plan.VanId equals van.Id select new { plan.Id, van.Name },
                "intake" => from intake in db.Intakes where ids.Contains(intake.Id) join van in db.Vans on intake.VanId equals van.Id select new { intake.Id, van.Name },
                "consult" => from consult in db.Consults where ids.Contains(consult.Id) join van in db.Vans on consult.VanId equals van.Id select new { consult.Id, van.Name },
                _ => null,
            };
            foreach (var row in found is null ? [] : await found.ToListAsync(cancellation))
            {
                about[row.Id] = row.Name;
            }
        }

        return about;
    }

    private static async Task<IReadOnlyList<AuditLine>> Lines(DeskContext db, IQueryable<AuditRow> rows, CancellationToken cancellation)
    {
        var found = await rows.AsNoTracking().ToListAsync(cancellation);
        var names = await db.NamesOf(found.Select(a => a.UserId).OfType<Guid>(), cancellation);
        return [.. found.Select(a => new AuditLine(a.At, WhoOf(a, names), a.Action, a.EntityKind, a.EntityId))];
    }

    private static string WhoOf(AuditRow row, Dictionary<Guid, string> names) => row.UserId is { } id ? names.GetValueOrDefault(id, UserNames.Gone) : "the server";
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
