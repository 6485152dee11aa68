using System.Collections.ObjectModel;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>One van of the working list.</summary>
/// <param name="Id">The van.</param>
/// <param name="Name">Its name.</param>
/// <param name="BodyClass">Key of its body class.</param>
/// <param name="ClientId">Whose it is.</param>
/// <param name="ClientName">Name of the client.</param>
/// <param name="TouchedAt">When the van, one of its options or plans last changed, UTC.</param>
/// <param name="Options">How many options it has.</param>
/// <param name="LastPlan">Number of the newest plan; null when none was published.</param>
public sealed record DeskVan(Guid Id, string Name, string BodyClass, Guid ClientId, string ClientName, DateTime TouchedAt, int Options, int? LastPlan);

/// <summary>One published plan of the working list.</summary>
/// <param name="Id">The plan.</param>
/// <param name="Number">Its number.</param>
/// <param name="VanName">Name of the van.</param>
/// <param name="ClientName">Name of the client.</param>
/// <param name="PublishedAt">When, UTC.</param>
/// <param name="LastOpenedAt">When one of its links was last opened, UTC; null when never.</param>
public sealed record DeskPlan(Guid Id, int Number, string VanName, string ClientName, DateTime PublishedAt, DateTime? LastOpenedAt);

/// <summary>A plan the client was sent and has not opened.</summary>
/// <param name="Id">The plan: the newest of its van.</param>
/// <param name="VanId">The van.</param>
/// <param name="Number">Its number.</param>
/// <param name="VanName">Name of the van.</param>
/// <param name="ClientName">Name of the client.</param>
/// <param name="PublishedAt">When, UTC.</param>
/// <param name="LinkEndsAt">When the last working link ends, UTC; null when none works any more.</param>
public sealed record WaitingPlan(Guid Id, Guid VanId, int Number, string VanName, string ClientName, DateTime PublishedAt, DateTime? LinkEndsAt);

/// <summary>One option of the working list.</summary>
/// <param name="Id">The option.</param>
/// <param name="VanId">The van it is for.</param>
/// <param name="Letter">Its letter.</param>
/// <param name="Name">Its name.</param>
/// <param name="VanName">Name of the van.</param>
/// <param name="ClientName">Name of the client.</param>
/// <param name="UpdatedAt">When it last changed, UTC.</param>
/// <param name="UpdatedBy">Display name of who changed it.</param>
public sealed record DeskOption(
    Guid Id, Guid VanId, string Letter, string Name, string VanName, string ClientName, DateTime UpdatedAt, string UpdatedBy);

/// <summary>The first rows of a list, and how many there are in all.</summary>
/// <param name="rows">The rows.</param>
/// <param name="all">How many there are.</param>
public sealed class Listed<T>(IList<T> rows, int all) : ReadOnlyCollection<T>(rows)
{
    /// <summary>How many there are in all.</summary>
    public int All { get; } = all;
}

/// <summary>What the firm is working on: the lists a consultant sees first.</summary>
public sealed class DeskList(FirmContexts contexts, TimeProvider time)
{
    /// <summary>
    /// Vans whose name, or whose client's name, contains the search text (letters' marks and case ignored), the last
    /// touched first; all for an empty search.
    /// </summary>
    /// <param name="who">Who asks.</param>
    /// <param name="search">What is looked for.</param>
    /// <param name="most">Rows wanted.</param>
    /// <param name="cancellation">Stops the work.</param>
    public async Task<Listed<DeskVan>> Vans(SignedIn who, string? search = null, int most = int.MaxValue, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var vans = db.Vans.AsNoTracking();
        int? all = null;
        if (SearchText.Of(search ?? "") is { Length: > 0 } wanted)
        {
            var called = await Called(db, wanted, cancellation);
            // As one value: a firm may have more vans than a statement may have values.
            vans = vans.Where(v => EF.Parameter(called).Contains(v.Id));
            all = called.Count;
        }

        var last = vans
            .Select(van => new
            {
                van.Id,
                At = EF.Functions.Greatest(
                    van.CreatedAt,
                    db.Options.Where(o => o.VanId == van.Id).Max(o => (DateTime?)o.UpdatedAt) ?? van.CreatedAt,
                    db.Plans.Where(p => p.VanId == van.Id).Max(p => (DateTime?)p.PublishedAt) ?? van.CreatedAt),
            })
            .OrderByDescending(van => van.At).ThenBy(van => van.Id).Take(most);
        // What is shown of a van is asked for only after the first were picked: SQLite would work it out for all.
        var rows = await (
            from touched in last
            join van in db.Vans on touched.Id equals van.Id
            join client in db.Clients on van.ClientId equals client.Id
            orderby touched.At descending, van.Id
            select new DeskVan(
                van.Id, van.Name, van.BodyClass, van.ClientId, client.Name, touched.At,
                db.Options.Count(o => o.VanId == van.Id),
                db.Plans.Where(p => p.VanId == van.Id).Max(p => (int?)p.Number)))
            .ToListAsync(cancellation);
        return new(rows, rows.Count < most ? rows.Count : all ?? await vans.CountAsync(cancellation));
    }

    // Van names are folded here: a firm has thousands of vans, not millions, and a column would need keeping.
    private static async Task<List<Guid>> Called(DeskContext db, string wanted, CancellationToken cancellation)
    {
        var names = await (
            from van in db.Vans
            join client in db.Clients on van.ClientId equals client.Id
            select new { van.Id, van.Name, Client = client.SearchName })
            .ToListAsync(cancellation);
        return [.. names
            .Where(n => n.Client.Contains(wanted, StringComparison.Ordinal) || SearchText.Of(n.Name).Contains(wanted, StringComparison.Ordinal))
            .Select(n => n.Id)];
    }

    /// <summary>
    /// The plans published last, the newest first; with a search text those whose van or client has it in the name (letters'
    /// marks and case ignored).
    /// </summary>
    public async Task<IReadOnlyList<DeskPlan>> Plans(SignedIn who, int count, string? search = null, CancellationToken cancellation = default)
    {
        var wanted = SearchText.Of(search ?? "");
        await using var db = contexts.OpenFor(who.FirmId);
        var query =
            from plan in db.Plans.AsNoTracking()
            join van in db.Vans on plan.VanId equals van.Id
            join client in db.Clients on van.ClientId equals client.Id
            orderby plan.PublishedAt descending
            select new { plan.Id, plan.Number, VanName = van.Name, ClientName = client.Name, client.SearchName, plan.PublishedAt };
        // Van names are folded here, as above.
        var plans = wanted.Length == 0
            ? await query.Take(count).ToListAsync(cancellation)
            : [.. (await query.ToListAsync(cancellation))
                .Where(p => p.SearchName.Contains(wanted, StringComparison.Ordinal) || SearchText.Of(p.VanName).Contains(wanted, StringComparison.Ordinal))
                .Take(count)];
        var ids = plans.Select(p => p.Id).ToList();
        var opened = await db.PlanLinks.Where(l => ids.Contains(l.PlanId)).GroupBy(l => l.PlanId)
            .Select(g => new { PlanId = g.Key, Last = g.Max(l => l.LastUsedAt) })
            .ToDictionaryAsync(g => g.PlanId, g => g.Last, cancellation);
        return [.. plans.Select(p => new DeskPlan(p.Id, p.Number, p.VanName, p.ClientName, p.PublishedAt, opened.GetValueOrDefault(p.Id)))];
    }

    /// <summary>The newest plan of each van whose client has not opened it, the one that waits longest first.</summary>
    public async Task<Listed<WaitingPlan>> Waiting(SignedIn who, int most, CancellationToken cancellation = default)
    {
        var now = time.UtcNow();
        await using var db = contexts.OpenFor(who.FirmId);
        var waiting = db.Plans.AsNoTracking().Where(plan => !db.Plans.Any(later => later.VanId == plan.VanId && later.Number > plan.Number)
            && !db.PlanLinks.Any(link => link.PlanId == plan.Id && link.LastUsedAt != null));
        var plans = await (
            from plan in waiting
            join van in db.Vans on plan.VanId equals van.Id
            join client in db.Clients on van.ClientId equals client.Id
            orderby plan.PublishedAt
            let ends = db.PlanLinks.Where(l => l.PlanId == plan.Id && l.RevokedAt == null && l.ExpiresAt > now).Max(l => (DateTime?)l.ExpiresAt)
            select new WaitingPlan(plan.Id, plan.VanId, plan.Number, van.Name, client.Name, plan.PublishedAt, ends))
            .Take(most).ToListAsync(cancellation);
        return new(plans, plans.Count < most ? plans.Count : await waiting.CountAsync(cancellation));
    }

    /// <summary>The options changed last, the newest first.</summary>
    public async Task<IReadOnlyList<DeskOption>> LastTouched(SignedIn who, int count, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var options = await (
            from option in db.Options.AsNoTracking()
            join van in db.Vans on option.VanId equals van.Id
            join client in db.Clients on van.ClientId equals client.Id
            orderby option.UpdatedAt descending, option.Id
            select new { option.Id, option.VanId, option.Letter, option.Name, VanName = van.Name, ClientName = client.Name, option.UpdatedAt, option.UpdatedBy })
            .Take(count).ToListAsync(cancellation);
        var names = await db.NamesOf(options.Select(o => o.UpdatedBy), cancellation);
        return [.. options.Select(o => new DeskOption(
            o.Id, o.VanId, o.Letter, o.Name, o.VanName, o.ClientName, o.UpdatedAt, names.GetValueOrDefault(o.UpdatedBy, UserNames.Gone)))];
    }

    /// <summary>True when the firm has a client, van or plan with this id. Answers an address before its page is built.</summary>
    public async Task<bool> Has(SignedIn who, DeskRecord kind, Guid id, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return kind switch
        {
            DeskRecord.Client => await db.Clients.AnyAsync(c => c.Id == id, cancellation),
            DeskRecord.Van => await db.Vans.AnyAsync(v => v.Id == id, cancellation),
            DeskRecord.Plan => await db.Plans.AnyAsync(p => p.Id == id, cancellation),
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Expected client, van or plan."),
        };
    }
}

/// <summary>What an address of the desk can name.</summary>
public enum DeskRecord
{
    /// <summary>A client.</summary>
    Client,

    /// <summary>A van.</summary>
    Van,

    /// <summary>A published plan.</summary>
    Plan,
}
