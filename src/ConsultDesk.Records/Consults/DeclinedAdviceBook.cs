using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>What is entered about advice that a client declined.</summary>
/// <param name="FindingCode">Code of the finding whose remedy it was; null for advice of the consultant's own.</param>
/// <param name="Advice">What was advised.</param>
/// <param name="Why">Why it was declined.</param>
/// <param name="Who">Who declined it.</param>
public sealed record DeclinedInput(string? FindingCode, string? Advice, string? Why, string? Who);

/// <summary>The advice the firm's clients declined: "your choice against our advice".</summary>
public sealed class DeclinedAdviceBook(FirmContexts contexts, TimeProvider time)
{
    /// <summary>The advice declined for one van, in the order it was.</summary>
    public async Task<IReadOnlyList<DeclinedAdvice>> Of(SignedIn who, Guid vanId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await db.DeclinedAdvice.AsNoTracking().Where(a => a.VanId == vanId)
            .OrderBy(a => a.DeclinedAt).ThenBy(a => a.Id).ToListAsync(cancellation);
    }

    /// <summary>Records that advice was declined. What a client declines is still found: a danger stays a danger.</summary>
    /// <returns>The new row's id.</returns>
    /// <exception cref="InvalidInputException">A field is wrong, or this finding's advice was declined before.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such van.</exception>
    public async Task<Guid> Add(SignedIn who, Guid vanId, DeclinedInput input, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(input);
        var now = time.UtcNow();
        var check = new FieldChecks();
        var code = check.Optional(nameof(input.FindingCode), input.FindingCode, TextLimits.Key);
        var row = new DeclinedAdvice
        {
            VanId = vanId,
            FindingCode = code,
            Advice = check.Text(nameof(input.Advice), input.Advice, TextLimits.Line),
            Why = check.Text(nameof(input.Why), input.Why, TextLimits.Line),
            Who = check.Text(nameof(input.Who), input.Who, TextLimits.Name),
            DeclinedAt = now,
        };
        check.ThrowIfAny();
        await using var db = contexts.OpenFor(who.FirmId);
        await db.MustHaveVan(vanId, cancellation);
        if (code is not null)
        {
            check.That(
                !await db.DeclinedAdvice.AnyAsync(a => a.VanId == vanId && a.FindingCode == code, cancellation),
                nameof(input.Advice), "The advice of this finding was declined before; take that back to say it in other words.");
            check.ThrowIfAny();
        }

        db.DeclinedAdvice.Add(row);
        db.Note(who, "advice.declined", "advice", row.Id, now);
        await db.SaveChangesAsync(cancellation);
        return row.Id;
    }

    /// <summary>Takes it back: the client follows the advice after all, or it was recorded wrongly.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such row.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public async Task TakeBack(SignedIn who, Guid id, Guid loadedVersion, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var row = await db.DeclinedAdvice.SingleOrDefaultAsync(a => a.Id == id, cancellation) ?? throw new RecordNotFoundException("advice", id);
        db.Remove(row);
        db.Note(who, "advice.taken-back", "advice", id, time.UtcNow());
        await db.SaveOver(row, loadedVersion, "advice", id, cancellation);
    }
}
