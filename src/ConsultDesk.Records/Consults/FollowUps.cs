using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>What is entered about something to come back to.</summary>
public sealed record FollowUpInput(DateOnly? DueOn, string? Text);

/// <summary>One open follow-up in the firm's list.</summary>
/// <param name="Id">The follow-up.</param>
/// <param name="VanId">The van it is about.</param>
/// <param name="VanName">Its name.</param>
/// <param name="ClientName">Name of the client.</param>
/// <param name="DueOn">The day it is due.</param>
/// <param name="Text">What to do.</param>
/// <param name="Version">Version to hand back when it is done.</param>
public sealed record FollowUpLine(Guid Id, Guid VanId, string VanName, string ClientName, DateOnly DueOn, string Text, Guid Version);

/// <summary>What the firm comes back to, each on its day.</summary>
public sealed class FollowUps(FirmContexts contexts, TimeProvider time)
{
    /// <summary>What the follow-up after a first winter says; a van that has one with these words is not asked about again.</summary>
    public const string AfterFirstWinter = "Check back after the first winter: wet windows, fuel, warmth, mould and rust";

    /// <summary>First year a follow-up may be due in (own limit: a typing mistake in the year is caught).</summary>
    public const int EarliestYear = 2000;

    /// <summary>Last year a follow-up may be due in (own limit).</summary>
    public const int LatestYear = 2099;

    /// <summary>The open follow-ups of the firm, the earliest first.</summary>
    public async Task<IReadOnlyList<FollowUpLine>> Open(SignedIn who, int count, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await (
            from followUp in db.FollowUps.AsNoTracking()
            join van in db.Vans on followUp.VanId equals van.Id
            join client in db.Clients on van.ClientId equals client.Id
            where followUp.DoneAt == null
            orderby followUp.DueOn, followUp.CreatedAt, followUp.Id
            select new FollowUpLine(followUp.Id, van.Id, van.Name, client.Name, followUp.DueOn, followUp.Text, followUp.Version))
            .Take(count).ToListAsync(cancellation);
    }

    /// <summary>The follow-ups of one van: the open ones by day, then the done ones.</summary>
    public async Task<IReadOnlyList<FollowUp>> Of(SignedIn who, Guid vanId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await db.FollowUps.AsNoTracking().Where(f => f.VanId == vanId)
            .OrderBy(f => f.DoneAt != null).ThenBy(f => f.DueOn).ThenBy(f => f.CreatedAt).ThenBy(f => f.Id).ToListAsync(cancellation);
    }

    /// <summary>Adds a follow-up about a van.</summary>
    /// <returns>The new row's id.</returns>
    /// <exception cref="InvalidInputException">A field is wrong.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such van.</exception>
    public async Task<Guid> Add(SignedIn who, Guid vanId, FollowUpInput input, CancellationToken cancellation = default)
    {
        var now = time.UtcNow();
        var followUp = new FollowUp { VanId = vanId, Text = "", CreatedAt = now };
        Take(followUp, input);
        await using var db = contexts.OpenFor(who.FirmId);
        await db.MustHaveVan(vanId, cancellation);
        db.FollowUps.Add(followUp);
        db.Note(who, "follow-up.added", "follow-up", followUp.Id, now);
        await db.SaveChangesAsync(cancellation);
        return followUp.Id;
    }

    /// <summary>Changes the day or the text.</summary>
    /// <returns>The new version.</returns>
    /// <exception cref="InvalidInputException">A field is wrong.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such follow-up.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public Task<Guid> Change(SignedIn who, Guid id, Guid loadedVersion, FollowUpInput input, CancellationToken cancellation = default) =>
        Act(who, id, loadedVersion, "follow-up.changed", followUp => Take(followUp, input), cancellation);

    /// <summary>Ticks it off.</summary>
    /// <returns>The new version.</returns>
    /// <exception cref="RecordNotFoundException">The firm has no such follow-up.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public Task<Guid> MarkDone(SignedIn who, Guid id, Guid loadedVersion, CancellationToken cancellation = default) =>
        Act(who, id, loadedVersion, "follow-up.done", followUp => followUp.DoneAt ??= time.UtcNow(), cancellation);

    /// <summary>Takes the tick back.</summary>
    /// <returns>The new version.</returns>
    /// <exception cref="RecordNotFoundException">The firm has no such follow-up.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public Task<Guid> Reopen(SignedIn who, Guid id, Guid loadedVersion, CancellationToken cancellation = default) =>
        Act(who, id, loadedVersion, "follow-up.reopened", followUp => followUp.DoneAt = null, cancellation);

    private static void Take(FollowUp followUp, FollowUpInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        var check = new FieldChecks();
        followUp.Text = check.Text(nameof(input.Text), input.Text, TextLimits.Line);
        check.That(
            input.DueOn is { } day && day.Year >= EarliestYear && day.Year <= LatestYear,
            nameof(input.DueOn), FormattableString.Invariant($"Expected a day of the years {EarliestYear} to {LatestYear}."));
        check.ThrowIfAny();
        followUp.DueOn = input.DueOn!.Value;
    }

    private async Task<Guid> Act(
        SignedIn who, Guid id, Guid loadedVersion, string action, Action<FollowUp> change, CancellationToken cancellation)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var followUp = await db.FollowUps.SingleOrDefaultAsync(f => f.Id == id, cancellation) ?? throw new RecordNotFoundException("follow-up", id);
        change(followUp);
        db.Note(who, action, "follow-up", id, time.UtcNow());
        await db.SaveOver(followUp, loadedVersion, "follow-up", id, cancellation);
        return followUp.Version;
    }
}
