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

/// <summary>What the firm is working on: the lists a consultant sees first.</summary>
public sealed class DeskList(FirmContexts contexts, TimeProvider time)
{
    /// <summary>
    /// Vans whose name, or whose client's name, contains the search text (letters' marks and case ignored), the last
    /// touched first; all for an empty search.
    /// </summary>
    public async Task<IReadOnlyList<DeskVan>> Vans(SignedIn who, string? search = null, CancellationToken cancellation = default)
    {
        var wanted = SearchText.Of(search ?? "");
        await using var db = contexts.OpenFor(who.FirmId);
        var vans = await (
            from van in db.Vans.AsNoTracking()
            join client in db.Clients on van.ClientId equals client.Id
            select new { van.Id, van.Name, van.BodyClass, van.CreatedAt, van.ClientId, ClientName = client.Name, client.SearchName })
            .ToListAsync(cancellation);
        var options = await db.Options.GroupBy(o => o.VanId)
            .Select(g => new { VanId = g.Key, Count = g.Count(), Last = g.Max(o => o.UpdatedAt) })
            .ToDictionaryAsync(g => g.VanId, cancellation);
        var plans = await db.Plans.GroupBy(p => p.VanId)
            .Select(g => new { VanId = g.Key, Number = g.Max(p => p.Number), Last = g.Max(p => p.PublishedAt) })
            .ToDictionaryAsync(g => g.VanId, cancellation);

        // Van names are folded here: a firm has hundreds of vans, not millions, and a column would need keeping.
        return [.. vans
            .Where(v => wanted.Length == 0 || v.SearchName.Contains(wanted, StringComparison.Ordinal) || SearchText.Of(v.Name).Contains(wanted, StringComparison.Ordinal))
            .Select(v =>
            {
                var option = options.GetValueOrDefault(v.Id);
                var plan = plans.GetValueOrDefault(v.Id);
                var touched = new[] { v.CreatedAt, option?.Last ?? v.CreatedAt, plan?.Last ?? v.CreatedAt }.Max();
                return new DeskVan(v.Id, v.Name, v.BodyClass, v.ClientId, v.ClientName, touched, option?.Count ?? 0, plan?.Number);
            })
            .OrderByDescending(v => v.TouchedAt).ThenBy(v => v.Id)];
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
    public async Task<IReadOnlyList<WaitingPlan>> Waiting(SignedIn who, CancellationToken cancellation = default)
    {
        var now = time.UtcNow();
        await using var db = contexts.OpenFor(who.FirmId);
        var plans = await (
            from plan in db.Plans.AsNoTracking()
            join van in db.Vans on plan.VanId equals van.Id
            join client in db.Clients on van.ClientId equals client.Id
            where !db.Plans.Any(later => later.VanId == plan.VanId && later.Number > plan.Number)
                && !db.PlanLinks.Any(link => link.PlanId == plan.Id && link.LastUsedAt != null)
            orderby plan.PublishedAt
            select new { plan.Id, plan.VanId, plan.Number, VanName = van.Name, ClientName = client.Name, plan.PublishedAt })
            .ToListAsync(cancellation);
        var ids = plans.Select(p => p.Id).ToList();
        var ends = await db.PlanLinks.Where(l => ids.Contains(l.PlanId) && l.RevokedAt == null && l.ExpiresAt > now).GroupBy(l => l.PlanId)
            .Select(g => new { PlanId = g.Key, Last = g.Max(l => l.ExpiresAt) })
            .ToDictionaryAsync(g => g.PlanId, g => (DateTime?)g.Last, cancellation);
        return [.. plans.Select(p => new WaitingPlan(p.Id, p.VanId, p.Number, p.VanName, p.ClientName, p.PublishedAt, ends.GetValueOrDefault(p.Id)))];
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
