using ConsultDesk.Calculations.Vehicle;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>What is entered about a van.</summary>
public sealed record VanInput(string Name, string BodyClass, string Layout, int? Year = null);

/// <summary>A new van and its option A.</summary>
public sealed record AddedVan(Guid VanId, Guid OptionId);

/// <summary>The vans of the firm's clients.</summary>
public sealed class VanBook(FirmContexts contexts, TimeProvider time)
{
    /// <summary>First year a van's year may be: before it there were no panel vans (own limit).</summary>
    public const int EarliestYear = 1930;

    /// <summary>The vans of one client, oldest first.</summary>
    public async Task<IReadOnlyList<Van>> VansOf(SignedIn who, Guid clientId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await db.Vans.AsNoTracking().Where(v => v.ClientId == clientId).OrderBy(v => v.CreatedAt).ThenBy(v => v.Id).ToListAsync(cancellation);
    }

    /// <summary>One van; null when the firm has none with this id. Its Version is handed back to <see cref="ChangeVan"/>.</summary>
    public async Task<Van?> Van(SignedIn who, Guid id, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await db.Vans.AsNoTracking().SingleOrDefaultAsync(v => v.Id == id, cancellation);
    }

    /// <summary>Adds a van with its option A.</summary>
    /// <exception cref="InvalidInputException">A field is wrong.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such client.</exception>
    public async Task<AddedVan> AddVan(
        SignedIn who, Guid clientId, VanInput input, string optionName, Design optionA, CancellationToken cancellation = default)
    {
        var now = time.UtcNow();
        var van = new Van { ClientId = clientId, Name = "", BodyClass = "", Layout = "", CreatedAt = now };
        Take(van, input);
        await using var db = contexts.OpenFor(who.FirmId);
        if (!await db.Clients.AnyAsync(c => c.Id == clientId, cancellation))
        {
            throw new RecordNotFoundException("client", clientId);
        }

        db.Vans.Add(van);
        db.Note(who, "van.added", "van", van.Id, now);
        var option = VanOptions.Add(db, who, van.Id, "A", optionName, optionA, copiedFrom: null, now);
        await db.SaveChangesAsync(cancellation);
        return new(van.Id, option.Id);
    }

    /// <summary>Changes what is known about a van; its options keep their designs.</summary>
    /// <returns>The new version.</returns>
    /// <exception cref="InvalidInputException">A field is wrong.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such van.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public async Task<Guid> ChangeVan(SignedIn who, Guid id, Guid loadedVersion, VanInput input, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var van = await db.Vans.SingleOrDefaultAsync(v => v.Id == id, cancellation) ?? throw new RecordNotFoundException("van", id);
        Take(van, input);
        db.Note(who, "van.changed", "van", id, time.UtcNow());
        await db.SaveOver(van, loadedVersion, "van", id, cancellation);
        return van.Version;
    }

    private void Take(Van van, VanInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        // Next year's models are sold this year.
        var latestYear = time.GetUtcNow().Year + 1;
        var check = new FieldChecks();
        van.Name = check.Text(nameof(input.Name), input.Name, TextLimits.Name);
        van.BodyClass = check.Text(nameof(input.BodyClass), input.BodyClass, TextLimits.Key);
        van.Layout = check.Text(nameof(input.Layout), input.Layout, TextLimits.Key);
        check.That(
            input.Year is null || (input.Year >= EarliestYear && input.Year <= latestYear),
            nameof(input.Year),
            FormattableString.Invariant($"Expected a year from {EarliestYear} to {latestYear}, or none."));
        check.ThrowIfAny();
        van.Year = input.Year;
    }
}
