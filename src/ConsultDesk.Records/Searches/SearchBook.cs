using ConsultDesk.Calculations.Search;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>What is to be kept of a search.</summary>
/// <param name="State">How it stands.</param>
/// <param name="AskedAt">When it was asked for, UTC.</param>
/// <param name="FoundAt">When what it found was found, UTC.</param>
/// <param name="Fingerprint">Of inputs, prices and wishes.</param>
/// <param name="Found">What it found by then.</param>
public sealed record SearchToKeep(SearchState State, DateTime AskedAt, DateTime FoundAt, string Fingerprint, KeptSearch? Found = null);

/// <summary>The last search of an option as it is kept.</summary>
/// <param name="State">How it stands.</param>
/// <param name="AskedAt">When it was asked for, UTC.</param>
/// <param name="AskedBy">Who asked.</param>
/// <param name="Fingerprint">Of inputs, prices and wishes.</param>
/// <param name="FoundAt">When what is kept was found, UTC.</param>
/// <param name="Found">What was found; null when it cannot be read.</param>
/// <param name="Damage">Why it cannot be read; null when it can.</param>
public sealed record StoredSearch(SearchState State, DateTime AskedAt, Guid AskedBy, string Fingerprint, DateTime FoundAt, KeptSearch? Found, string? Damage);

/// <summary>The search that stands in a van's plan.</summary>
/// <param name="OptionId">The option that was searched.</param>
/// <param name="FoundAt">When it was found, UTC.</param>
/// <param name="Found">What was found; null when it cannot be read.</param>
/// <param name="Damage">Why it cannot be read; null when it can.</param>
public sealed record SearchInPlan(Guid OptionId, DateTime FoundAt, KeptSearch? Found, string? Damage);

/// <summary>The last search of each option, so that a desk that is started again still has it.</summary>
public sealed class SearchBook(FirmContexts contexts, TimeProvider time)
{
    /// <summary>The last search of an option; null when none is kept, or the firm has no such option.</summary>
    public async Task<StoredSearch?> Of(SignedIn who, Guid optionId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        if (await db.Searches.AsNoTracking().Where(s => s.OptionId == optionId)
            .Select(s => new { s.State, s.AskedAt, s.AskedBy, s.Fingerprint, s.FoundAt, s.Found }).SingleOrDefaultAsync(cancellation) is not { } row)
        {
            return null;
        }

        var (found, damage) = Read(row.Found);
        return new(row.State, row.AskedAt, row.AskedBy, row.Fingerprint, row.FoundAt, found, damage);
    }

    /// <summary>Keeps a search in place of the option's last one. What stands in the plan stays.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such option.</exception>
    /// <exception cref="ArgumentException">There is nothing to keep.</exception>
    public Task Keep(SignedIn who, Guid optionId, SearchToKeep search, CancellationToken cancellation = default) =>
        Saving.TakingTheNext(async () =>
        {
            await using var db = contexts.OpenFor(who.FirmId);
            var vanId = await db.Options.Where(o => o.Id == optionId).Select(o => (Guid?)o.VanId).SingleOrDefaultAsync(cancellation)
                ?? throw new RecordNotFoundException("option", optionId);
            var found = KeptSearchJson.Pack(search.Found ?? throw new ArgumentException("Expected something found.", nameof(search)));
            // Written without being read: what stands there may be large.
            var kept = await db.Searches.Where(s => s.OptionId == optionId).ExecuteUpdateAsync(
                row => row.SetProperty(s => s.State, search.State).SetProperty(s => s.AskedAt, search.AskedAt).SetProperty(s => s.AskedBy, who.UserId)
                    .SetProperty(s => s.Fingerprint, search.Fingerprint).SetProperty(s => s.FoundAt, search.FoundAt).SetProperty(s => s.Found, found),
                cancellation);
            if (kept == 0)
            {
                db.Searches.Add(new OptionSearch
                {
                    VanId = vanId,
                    OptionId = optionId,
                    State = search.State,
                    AskedAt = search.AskedAt,
                    AskedBy = who.UserId,
                    Fingerprint = search.Fingerprint,
                    FoundAt = search.FoundAt,
                    Found = found,
                });
                await db.SaveChangesAsync(cancellation);
            }

            return vanId;
        });

    /// <summary>What stands in a van's plan; null when nothing does, or the firm has no such van.</summary>
    public async Task<SearchInPlan?> InPlanOf(SignedIn who, Guid vanId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        if (await db.Searches.AsNoTracking().Where(s => s.VanId == vanId && s.InPlan != null).OrderByDescending(s => s.InPlanAt)
            .Select(s => new { s.OptionId, s.InPlanAt, s.InPlan }).FirstOrDefaultAsync(cancellation) is not { } row)
        {
            return null;
        }

        var (found, damage) = Read(row.InPlan!);
        return new(row.OptionId, row.InPlanAt!.Value, found, damage);
    }

    /// <summary>Lets what an option's last search found stand in the plan of its van, in place of any other. A later search does not change it.</summary>
    /// <exception cref="RecordNotFoundException">No search of this option is kept.</exception>
    public async Task ShowInPlan(SignedIn who, Guid optionId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var search = await db.Searches.SingleOrDefaultAsync(s => s.OptionId == optionId, cancellation) ?? throw new RecordNotFoundException("search", optionId);
        var others = await db.Searches.Where(s => s.VanId == search.VanId && s.InPlan != null && s.Id != search.Id).ToListAsync(cancellation);
        others.ForEach(other => (other.InPlan, other.InPlanAt) = (null, null));
        (search.InPlan, search.InPlanAt) = (search.Found, search.FoundAt);
        db.Note(who, "designs.in-plan", "van", search.VanId, time.UtcNow());
        await db.SaveChangesAsync(cancellation);
    }

    /// <summary>Which search stands in the plan of an option's van, without what it found; null when none does, or the firm has no such option.</summary>
    public async Task<(Guid OptionId, DateTime FoundAt)?> InPlanBeside(SignedIn who, Guid optionId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var vans = db.Options.Where(o => o.Id == optionId).Select(o => o.VanId);
        return await db.Searches.Where(s => vans.Contains(s.VanId) && s.InPlanAt != null).OrderByDescending(s => s.InPlanAt)
            .Select(s => new { s.OptionId, s.InPlanAt }).FirstOrDefaultAsync(cancellation) is { } row ? (row.OptionId, row.InPlanAt!.Value) : null;
    }

    /// <summary>Takes what stands in the plan of an option's van out of it, whichever option it was found for; changes nothing when nothing does.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such option.</exception>
    public async Task TakeOutOfPlan(SignedIn who, Guid optionId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var vanId = await db.Options.Where(o => o.Id == optionId).Select(o => (Guid?)o.VanId).SingleOrDefaultAsync(cancellation)
            ?? throw new RecordNotFoundException("option", optionId);
        var shown = await db.Searches.Where(s => s.VanId == vanId && s.InPlan != null).ToListAsync(cancellation);
        if (shown.Count > 0)
        {
            shown.ForEach(search => (search.InPlan, search.InPlanAt) = (null, null));
            db.Note(who, "designs.out-of-plan", "van", vanId, time.UtcNow());
            await db.SaveChangesAsync(cancellation);
        }
    }

    /// <summary>Marks what a program that was ended left at work. Call before listening.</summary>
    public async Task ProgramBegins(CancellationToken cancellation = default)
    {
        await using var nobody = contexts.OpenForNobody();
        var left = nobody.Searches.IgnoreQueryFilters([DeskContext.FirmFilter]).Where(s => s.State == SearchState.Running);
        try
        {
            // Looked for first, so that a start that finds nothing writes nothing.
            if (await left.AnyAsync(cancellation))
            {
                await left.ExecuteUpdateAsync(row => row.SetProperty(s => s.State, SearchState.ProgramEnded), cancellation);
            }
        }
        catch (Exception e) when (StoreFault.Of(e) is StoreFaultKind.ReadOnly or StoreFaultKind.Full)
        {
            // Records that may only be read can still be shown, and what was found by then says itself how it ended.
        }
    }

    private static (KeptSearch? Found, string? Damage) Read(byte[] packed)
    {
        try
        {
            return (KeptSearchJson.Unpack(packed), null);
        }
        catch (SearchTextException damaged)
        {
            return (null, damaged.Message);
        }
    }
}
