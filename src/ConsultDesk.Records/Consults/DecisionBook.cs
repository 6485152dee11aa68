using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>What is entered about one point of the agenda.</summary>
public sealed record DecisionInput(DecisionState State, string? What = null, string? Why = null, string? Who = null);

/// <summary>One point of a van's agenda as it stands.</summary>
/// <param name="Topic">The point.</param>
/// <param name="State">How far it has come; a point nobody touched is open.</param>
/// <param name="What">What was decided, or what was advised and declined; may be empty while it is open.</param>
/// <param name="Why">Why; may be empty unless it was declined.</param>
/// <param name="Who">Who decided; may be empty unless it was declined.</param>
/// <param name="ChangedAt">When it last changed, UTC; null when nobody touched it.</param>
/// <param name="Version">Version to hand back when it is saved; null when nobody touched it.</param>
public sealed record DecisionPoint(
    DecisionTopic Topic, DecisionState State, string What, string Why, string Who, DateTime? ChangedAt, Guid? Version);

/// <summary>How saving a point ended.</summary>
public abstract record DecisionResult;

/// <summary>The point is stored.</summary>
/// <param name="Point">As it stands now.</param>
public sealed record DecisionSaved(DecisionPoint Point) : DecisionResult;

/// <summary>Somebody else changed the point since it was loaded. Nothing was written.</summary>
/// <param name="Who">Display name of who did.</param>
/// <param name="At">When they did, UTC.</param>
/// <param name="Theirs">The point as it stands now; its Version is handed back in order to write over it.</param>
public sealed record DecisionConflict(string Who, DateTime At, DecisionPoint Theirs) : DecisionResult;

/// <summary>The agenda of each van: the points every consult goes through, in their order.</summary>
public sealed class DecisionBook(FirmContexts contexts, TimeProvider time)
{
    /// <summary>All points of a van's agenda in their order; empty when the firm has no such van.</summary>
    public async Task<IReadOnlyList<DecisionPoint>> Of(SignedIn who, Guid vanId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        if (!await db.Vans.AnyAsync(v => v.Id == vanId, cancellation))
        {
            return [];
        }

        var rows = await db.Decisions.AsNoTracking().Where(d => d.VanId == vanId).ToDictionaryAsync(d => d.Topic, cancellation);
        return [.. Enum.GetValues<DecisionTopic>().Select(topic => Point(topic, rows.GetValueOrDefault(topic)))];
    }

    /// <summary>Stores one point over the version that was loaded.</summary>
    /// <param name="who">Who saves.</param>
    /// <param name="vanId">The van.</param>
    /// <param name="topic">The point.</param>
    /// <param name="loadedVersion">Version of the point the edit started from; null when nobody had touched it.</param>
    /// <param name="input">
    /// What is stored. A decided point says what; a declined one says what was advised, why it was declined and who did.
    /// </param>
    /// <param name="cancellation">Stops waiting; the save may still have happened.</param>
    /// <exception cref="InvalidInputException">A field is wrong.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such van.</exception>
    public async Task<DecisionResult> Save(
        SignedIn who, Guid vanId, DecisionTopic topic, Guid? loadedVersion, DecisionInput input, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(input);
        var check = new FieldChecks();
        check.That(Enum.IsDefined(topic), nameof(topic), "Expected a point of the agenda.");
        check.That(Enum.IsDefined(input.State), nameof(input.State), "Expected open, decided or declined.");
        var declined = input.State == DecisionState.Declined;
        var what = Said(nameof(input.What), input.What, TextLimits.Line, must: input.State is DecisionState.Decided or DecisionState.Declined);
        var why = Said(nameof(input.Why), input.Why, TextLimits.Line, must: declined);
        var by = Said(nameof(input.Who), input.Who, TextLimits.Name, must: declined);
        check.ThrowIfAny();

        await using var db = contexts.OpenFor(who.FirmId);
        await db.MustHaveVan(vanId, cancellation);
        var row = await db.Decisions.SingleOrDefaultAsync(d => d.VanId == vanId && d.Topic == topic, cancellation);
        if (row?.Version != loadedVersion)
        {
            return await Conflict(db, vanId, topic, cancellation);
        }

        row ??= db.Decisions.Add(new Decision { VanId = vanId, Topic = topic, What = "", Why = "", Who = "" }).Entity;
        (row.State, row.What, row.Why, row.Who, row.ChangedAt) = (input.State, what, why, by, time.UtcNow());
        db.Note(who, $"decision.{input.State.ToString().ToLowerInvariant()}", "decision", row.Id, row.ChangedAt);
        try
        {
            await db.SaveChangesAsync(cancellation);
        }
        catch (DbUpdateException e) when (StoreFault.Of(e) is null)
        {
            // Between the read above and the write somebody else was faster; any other fault leaves on the next line.
            await using var fresh = contexts.OpenFor(who.FirmId);
            if (await fresh.Decisions.AnyAsync(d => d.VanId == vanId && d.Topic == topic && d.Version != loadedVersion, cancellation))
            {
                return await Conflict(fresh, vanId, topic, cancellation);
            }

            throw;
        }

        return new DecisionSaved(Point(topic, row));

        string Said(string field, string? text, int longest, bool must) =>
            must ? check.Text(field, text, longest) : check.Optional(field, text, longest) ?? "";
    }

    private static DecisionPoint Point(DecisionTopic topic, Decision? row) => row is null
        ? new(topic, DecisionState.Open, "", "", "", null, null)
        : new(topic, row.State, row.What, row.Why, row.Who, row.ChangedAt, row.Version);

    private static async Task<DecisionConflict> Conflict(DeskContext db, Guid vanId, DecisionTopic topic, CancellationToken cancellation)
    {
        // A point is never removed but with its client, so there is a row when its version is not the one that was loaded.
        var theirs = await db.Decisions.AsNoTracking().SingleOrDefaultAsync(d => d.VanId == vanId && d.Topic == topic, cancellation)
            ?? throw new RecordNotFoundException("decision", vanId);
        var (who, at) = await db.LastActOn(theirs.Id, theirs.ChangedAt, cancellation);
        return new(who, at, Point(topic, theirs));
    }
}
