using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>Units somebody reads in.</summary>
/// <param name="Preset">Where they start from.</param>
/// <param name="Choices">What differs from it, as in <see cref="Firm.UnitChoices"/>; empty for nothing.</param>
public sealed record UnitChoice(UnitPreset Preset, string Choices);

/// <summary>Units of users and of clients; who has none of their own reads in the firm's. The last choice holds.</summary>
public sealed class UnitBook(FirmContexts contexts, TimeProvider time)
{
    /// <summary>The user's own units; null for the firm's.</summary>
    public async Task<UnitChoice?> Mine(SignedIn who, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var row = await db.Users.AsNoTracking().Where(u => u.Id == who.UserId && u.FirmId == who.FirmId)
            .Select(u => new { u.Units, u.UnitChoices }).SingleOrDefaultAsync(cancellation);
        return Choice(row?.Units, row?.UnitChoices);
    }

    /// <summary>Sets the user's own units; null takes them back to the firm's.</summary>
    /// <exception cref="InvalidInputException">The choices are too long.</exception>
    public async Task SetMine(SignedIn who, UnitChoice? choice, CancellationToken cancellation = default)
    {
        var (preset, choices) = Checked(choice);
        await using var db = contexts.OpenFor(who.FirmId);
        await db.Users.Where(u => u.Id == who.UserId && u.FirmId == who.FirmId)
            .ExecuteUpdateAsync(set => set.SetProperty(u => u.Units, preset).SetProperty(u => u.UnitChoices, choices), cancellation);
    }

    /// <summary>The client's units; null for the firm's.</summary>
    public async Task<UnitChoice?> OfClient(SignedIn who, Guid clientId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var row = await db.Clients.AsNoTracking().Where(c => c.Id == clientId).Select(c => new { c.Units, c.UnitChoices }).SingleOrDefaultAsync(cancellation);
        return Choice(row?.Units, row?.UnitChoices);
    }

    /// <summary>
    /// Sets the units a client's plans are written in; null takes them back to the firm's. No change of the client's data that
    /// an open form would have to know of: the version stays.
    /// </summary>
    /// <exception cref="InvalidInputException">The choices are too long.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such client.</exception>
    public async Task SetOfClient(SignedIn who, Guid clientId, UnitChoice? choice, CancellationToken cancellation = default)
    {
        var (preset, choices) = Checked(choice);
        await using var db = contexts.OpenFor(who.FirmId);
        var changed = await db.Clients.Where(c => c.Id == clientId)
            .ExecuteUpdateAsync(set => set.SetProperty(c => c.Units, preset).SetProperty(c => c.UnitChoices, choices), cancellation);
        if (changed == 0)
        {
            throw new RecordNotFoundException("client", clientId);
        }

        db.Note(who, "client.units", "client", clientId, time.UtcNow());
        await db.SaveChangesAsync(cancellation);
    }

    /// <summary>The units stored with a client; null for the firm's.</summary>
    public static UnitChoice? Of(Client client)
    {
        ArgumentNullException.ThrowIfNull(client);
        return Choice(client.Units, client.UnitChoices);
    }

    private static UnitChoice? Choice(UnitPreset? preset, string? choices) => preset is { } from ? new UnitChoice(from, choices ?? "") : null;

    private static (UnitPreset? Preset, string Choices) Checked(UnitChoice? choice)
    {
        var check = new FieldChecks();
        check.That(choice is null || Enum.IsDefined(choice.Preset), nameof(UnitChoice.Preset), "Expected metric or imperial.");
        var choices = check.Optional(nameof(UnitChoice.Choices), choice?.Choices, TextLimits.Line) ?? "";
        check.ThrowIfAny();
        return (choice?.Preset, choices);
    }
}
