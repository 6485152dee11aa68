using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>What is entered about a consult: day and time as the client reads them.</summary>
/// <param name="Day">The day in the client's time zone.</param>
/// <param name="Time">The time of day in the client's time zone.</param>
/// <param name="Minutes">How long it is planned for, <see cref="ConsultBook.ShortestMinutes"/> to <see cref="ConsultBook.LongestMinutes"/>.</param>
/// <param name="TimeZone">IANA name of the client's time zone, for example Europe/Oslo.</param>
public sealed record ConsultInput(DateOnly? Day, TimeOnly? Time, int? Minutes, string? TimeZone)
{
    /// <summary>Its own points, one a line; null leaves them as they are.</summary>
    public string? Agenda { get; init; }
}

/// <summary>One consult in the firm's list.</summary>
/// <param name="Id">The consult.</param>
/// <param name="VanId">The van it is about.</param>
/// <param name="VanName">Its name.</param>
/// <param name="ClientId">Whose van it is.</param>
/// <param name="ClientName">Name of the client.</param>
/// <param name="StartsAt">When it begins, UTC.</param>
/// <param name="Minutes">How long it is planned for.</param>
/// <param name="TimeZone">Time zone the client reads the time in, IANA name.</param>
public sealed record ConsultLine(
    Guid Id, Guid VanId, string VanName, Guid ClientId, string ClientName, DateTime StartsAt, int Minutes, string TimeZone);

/// <summary>How saving private notes ended.</summary>
public abstract record NotesResult;

/// <summary>The notes are stored.</summary>
/// <param name="Version">Version to hand back with the next save.</param>
/// <param name="At">When, UTC.</param>
public sealed record NotesSaved(Guid Version, DateTime At) : NotesResult;

/// <summary>Somebody else changed the consult since it was loaded. Nothing was written.</summary>
/// <param name="Who">Display name of who did.</param>
/// <param name="At">When they did, UTC.</param>
/// <param name="Theirs">The notes as they are stored now.</param>
/// <param name="TheirVersion">Version to hand back in order to write over theirs.</param>
public sealed record NotesConflict(string Who, DateTime At, string Theirs, Guid TheirVersion) : NotesResult;

/// <summary>The dated calls with the firm's clients.</summary>
public sealed class ConsultBook(FirmContexts contexts, TimeProvider time)
{
    /// <summary>The shortest a consult may be planned for, minutes (own limit).</summary>
    public const int ShortestMinutes = 5;

    /// <summary>The longest a consult may be planned for, minutes: a working day (own limit).</summary>
    public const int LongestMinutes = 480;

    /// <summary>First year a consult may stand in (own limit: a typing mistake in the year is caught).</summary>
    public const int EarliestYear = 2000;

    /// <summary>Last year a consult may stand in (own limit).</summary>
    public const int LatestYear = 2099;

    /// <summary>The consults of the firm that were not marked as held, the earliest first; those that have passed stand at the top.</summary>
    public async Task<IReadOnlyList<ConsultLine>> Next(SignedIn who, int count, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await (
            from consult in db.Consults.AsNoTracking()
            join van in db.Vans on consult.VanId equals van.Id
            join client in db.Clients on van.ClientId equals client.Id
            where consult.HeldAt == null
            orderby consult.StartsAt, consult.Id
            select new ConsultLine(consult.Id, van.Id, van.Name, client.Id, client.Name, consult.StartsAt, consult.Minutes, consult.TimeZone))
            .Take(count).ToListAsync(cancellation);
    }

    /// <summary>The consults about one van, the latest first.</summary>
    public async Task<IReadOnlyList<Consult>> Of(SignedIn who, Guid vanId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await db.Consults.AsNoTracking().Where(c => c.VanId == vanId)
            .OrderByDescending(c => c.StartsAt).ThenByDescending(c => c.Id).ToListAsync(cancellation);
    }

    /// <summary>One consult; null when the firm has none with this id.</summary>
    public async Task<Consult?> Consult(SignedIn who, Guid id, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await db.Consults.AsNoTracking().SingleOrDefaultAsync(c => c.Id == id, cancellation);
    }

    /// <summary>Adds a consult about a van.</summary>
    /// <returns>The new consult's id.</returns>
    /// <exception cref="InvalidInputException">A field is wrong.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such van.</exception>
    public async Task<Guid> Add(SignedIn who, Guid vanId, ConsultInput input, CancellationToken cancellation = default)
    {
        var now = time.UtcNow();
        var consult = new Consult { VanId = vanId, TimeZone = "", PrivateNotes = "", CreatedAt = now };
        Take(consult, input);
        await using var db = contexts.OpenFor(who.FirmId);
        await db.MustHaveVan(vanId, cancellation);
        db.Consults.Add(consult);
        db.Note(who, "consult.added", "consult", consult.Id, now);
        await db.SaveChangesAsync(cancellation);
        return consult.Id;
    }

    /// <summary>Moves a consult to another time or zone.</summary>
    /// <returns>The new version.</returns>
    /// <exception cref="InvalidInputException">A field is wrong.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such consult.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public Task<Guid> Change(SignedIn who, Guid id, Guid loadedVersion, ConsultInput input, CancellationToken cancellation = default) =>
        Act(who, id, loadedVersion, "consult.changed", consult => Take(consult, input), cancellation);

    /// <summary>Marks a consult as held.</summary>
    /// <returns>The new version.</returns>
    /// <exception cref="RecordNotFoundException">The firm has no such consult.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public Task<Guid> MarkHeld(SignedIn who, Guid id, Guid loadedVersion, CancellationToken cancellation = default) =>
        Act(who, id, loadedVersion, "consult.held", consult => consult.HeldAt ??= time.UtcNow(), cancellation);

    /// <summary>Takes the mark of <see cref="MarkHeld"/> back.</summary>
    /// <returns>The new version.</returns>
    /// <exception cref="RecordNotFoundException">The firm has no such consult.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public Task<Guid> MarkNotHeld(SignedIn who, Guid id, Guid loadedVersion, CancellationToken cancellation = default) =>
        Act(who, id, loadedVersion, "consult.not-held", consult => consult.HeldAt = null, cancellation);

    /// <summary>
    /// Notes that the call began, unless that is noted. It does not touch the consult's version, so that notes being typed meanwhile
    /// are no collision.
    /// </summary>
    /// <returns>When it began, UTC.</returns>
    /// <exception cref="RecordNotFoundException">The firm has no such consult.</exception>
    public async Task<DateTime?> Begin(SignedIn who, Guid id, CancellationToken cancellation = default)
    {
        var now = time.UtcNow();
        await using var db = contexts.OpenFor(who.FirmId);
        await db.Consults.Where(c => c.Id == id && c.BegunAt == null).ExecuteUpdateAsync(set => set.SetProperty(c => c.BegunAt, now), cancellation);
        return (await Existing(db, id, cancellation)).BegunAt;
    }

    /// <summary>Takes back that the call began.</summary>
    /// <returns>Null.</returns>
    /// <exception cref="RecordNotFoundException">The firm has no such consult.</exception>
    public async Task<DateTime?> TakeBeginningBack(SignedIn who, Guid id, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        await db.Consults.Where(c => c.Id == id).ExecuteUpdateAsync(set => set.SetProperty(c => c.BegunAt, (DateTime?)null), cancellation);
        return (await Existing(db, id, cancellation)).BegunAt;
    }

    /// <summary>Removes a consult that was called off, with its notes.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such consult.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public async Task Remove(SignedIn who, Guid id, Guid loadedVersion, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var consult = await Existing(db, id, cancellation);
        db.Remove(consult);
        db.Note(who, "consult.removed", "consult", id, time.UtcNow());
        await db.SaveOver(consult, loadedVersion, "consult", id, cancellation);
    }

    /// <summary>Stores the private notes of a consult over the version that was loaded. The same notes are not written again.</summary>
    /// <exception cref="InvalidInputException">The notes are too long, or hold control characters; nothing was written.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such consult.</exception>
    public async Task<NotesResult> SaveNotes(SignedIn who, Guid id, Guid loadedVersion, string notes, CancellationToken cancellation = default)
    {
        var check = new FieldChecks();
        var text = check.AsTyped("PrivateNotes", notes, TextLimits.Notes);
        check.ThrowIfAny();
        await using var db = contexts.OpenFor(who.FirmId);
        var consult = await Existing(db, id, cancellation);
        if (consult.Version != loadedVersion)
        {
            return await Conflict(db, consult, cancellation);
        }

        var now = time.UtcNow();
        if (consult.PrivateNotes == text)
        {
            return new NotesSaved(consult.Version, now);
        }

        consult.PrivateNotes = text;
        db.Note(who, "consult.notes-saved", "consult", id, now);
        try
        {
            await db.SaveOver(consult, loadedVersion, "consult", id, cancellation);
        }
        catch (RecordChangedException)
        {
            // Between the read above and the write somebody else was faster.
            await using var fresh = contexts.OpenFor(who.FirmId);
            return await Conflict(fresh, await Existing(fresh, id, cancellation), cancellation);
        }

        return new NotesSaved(consult.Version, now);
    }

    /// <summary>
    /// Ticks one of a consult's own points, or takes the tick back. It does not touch the consult's version, so that notes being
    /// typed meanwhile are no collision; what two people tick at the same time is both kept.
    /// </summary>
    /// <returns>The points as they stand then.</returns>
    /// <exception cref="RecordNotFoundException">The firm has no such consult, or the consult no such point.</exception>
    public async Task<string> TickPoint(SignedIn who, Guid id, string point, bool done, CancellationToken cancellation = default)
    {
        while (true)
        {
            await using var db = contexts.OpenFor(who.FirmId);
            var before = (await Existing(db, id, cancellation)).Agenda;
            var points = ConsultAgenda.Read(before).ToList();
            var at = points.FindIndex(line => line.Text == point && line.IsDone != done);
            if (at < 0)
            {
                return points.Exists(line => line.Text == point) ? before : throw new RecordNotFoundException("point of the agenda", id);
            }

            points[at] = points[at] with { IsDone = done };
            var after = ConsultAgenda.Write(points);
            await using var transaction = await db.Database.BeginTransactionAsync(cancellation);
            if (await db.Consults.Where(c => c.Id == id && c.Agenda == before).ExecuteUpdateAsync(set => set.SetProperty(c => c.Agenda, after), cancellation) == 1)
            {
                db.Note(who, done ? "consult.point-ticked" : "consult.point-opened", "consult", id, time.UtcNow());
                await db.SaveChangesAsync(cancellation);
                await transaction.CommitAsync(cancellation);
                return after;
            }
        }
    }

    /// <summary>The time zone of an IANA name; null when this machine knows none of that name.</summary>
    public static TimeZoneInfo? Zone(string? name) =>
        // Names of the zone database are an area and a place. Anything else (a file name, a name of another system) is refused,
        // because another machine would not know it.
        name is not null && (name == "UTC" || name.Contains('/', StringComparison.Ordinal)) && TimeZoneInfo.TryFindSystemTimeZoneById(name, out var zone)
            ? zone
            : null;

    private static async Task<NotesConflict> Conflict(DeskContext db, Consult theirs, CancellationToken cancellation)
    {
        var (who, at) = await db.LastActOn(theirs.Id, theirs.CreatedAt, cancellation);
        return new(who, at, theirs.PrivateNotes, theirs.Version);
    }

    private static async Task<Consult> Existing(DeskContext db, Guid id, CancellationToken cancellation) =>
        await db.Consults.SingleOrDefaultAsync(c => c.Id == id, cancellation) ?? throw new RecordNotFoundException("consult", id);

    private static void Take(Consult consult, ConsultInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        var check = new FieldChecks();
        check.That(
            input.Day is { } day && day.Year >= EarliestYear && day.Year <= LatestYear,
            nameof(input.Day), FormattableString.Invariant($"Expected a day of the years {EarliestYear} to {LatestYear}."));
        check.That(input.Time is not null, nameof(input.Time), "Expected a time of day, for example 18:30.");
        check.That(
            input.Minutes is >= ShortestMinutes and <= LongestMinutes,
            nameof(input.Minutes), FormattableString.Invariant($"Expected {ShortestMinutes} to {LongestMinutes} minutes."));
        consult.TimeZone = check.Text(nameof(input.TimeZone), input.TimeZone, TextLimits.Key);
        var zone = Zone(consult.TimeZone);
        check.That(zone is not null || consult.TimeZone.Length == 0, nameof(input.TimeZone), "Expected a time zone by area and place, for example Europe/Oslo.");
        if (input.Agenda is { } typed)
        {
            consult.Agenda = ConsultAgenda.Write(ConsultAgenda.Read(typed));
            ConsultAgenda.Check(check, nameof(input.Agenda), consult.Agenda);
        }

        check.ThrowIfAny();

        var local = input.Day!.Value.ToDateTime(input.Time!.Value, DateTimeKind.Unspecified);
        check.That(!zone!.IsInvalidTime(local), nameof(input.Time), "Expected a time that exists on that day: the clocks go forward over this hour.");
        check.That(!zone.IsAmbiguousTime(local), nameof(input.Time), "Expected a time that comes once on that day: the clocks go back over this hour.");
        check.ThrowIfAny();
        consult.StartsAt = TimeZoneInfo.ConvertTimeToUtc(local, zone);
        consult.Minutes = input.Minutes!.Value;
    }

    private async Task<Guid> Act(
        SignedIn who, Guid id, Guid loadedVersion, string action, Action<Consult> change, CancellationToken cancellation)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var consult = await Existing(db, id, cancellation);
        change(consult);
        db.Note(who, action, "consult", id, time.UtcNow());
        await db.SaveOver(consult, loadedVersion, "consult", id, cancellation);
        return consult.Version;
    }
}
