using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>What is entered about a firm. <paramref name="UnitChoices"/> as in <see cref="Firm.UnitChoices"/>.</summary>
public sealed record FirmInput(string Name, string BrandColour, string? ContactLine, string Currency, UnitPreset Units, string UnitChoices = "");

/// <summary>The consultancies and their settings.</summary>
public sealed partial class Firms(FirmContexts contexts, TimeProvider time)
{
    /// <summary>True while the database has no firm at all: the first start.</summary>
    public async Task<bool> NoneYet(CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenForNobody();
        return !await db.Firms.IgnoreQueryFilters([DeskContext.FirmFilter]).AnyAsync(cancellation);
    }

    /// <summary>Founds a firm. Its first user is made with Identity's UserManager and this firm's id.</summary>
    /// <returns>The firm's id.</returns>
    /// <exception cref="InvalidInputException">A field is wrong.</exception>
    public async Task<Guid> Found(FirmInput input, CancellationToken cancellation = default)
    {
        var firm = new Firm { Id = Guid.CreateVersion7(time.GetUtcNow()), Name = "", BrandColour = "", ContactLine = "", Currency = "", Units = default };
        Take(firm, input);
        await using var db = contexts.OpenFor(firm.Id);
        db.Firms.Add(firm);
        db.Note(null, "firm.founded", "firm", firm.Id, time.UtcNow());
        await db.SaveChangesAsync(cancellation);
        return firm.Id;
    }

    /// <summary>The firm of the user; its Version is handed back to <see cref="Change"/>.</summary>
    public async Task<Firm> Mine(SignedIn who, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await db.Firms.AsNoTracking().SingleOrDefaultAsync(cancellation)
            ?? throw new RecordNotFoundException("firm", who.FirmId);
    }

    /// <summary>Changes the firm's settings.</summary>
    /// <exception cref="NotAllowedException">The user is no owner.</exception>
    /// <exception cref="InvalidInputException">A field is wrong.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public async Task<Guid> Change(SignedIn who, Guid loadedVersion, FirmInput input, CancellationToken cancellation = default)
    {
        if (who.Role != DeskRole.Owner)
        {
            throw new NotAllowedException("Only an owner changes the firm.");
        }

        await using var db = contexts.OpenFor(who.FirmId);
        var firm = await db.Firms.SingleOrDefaultAsync(cancellation) ?? throw new RecordNotFoundException("firm", who.FirmId);
        Take(firm, input);
        db.Note(who, "firm.changed", "firm", firm.Id, time.UtcNow());
        await db.SaveOver(firm, loadedVersion, "firm", firm.Id, cancellation);
        return firm.Version;
    }

    private static void Take(Firm firm, FirmInput input)
    {
        var check = new FieldChecks();
        Take(firm, input, check);
        check.ThrowIfAny();
    }

    /// <summary>Takes what was entered over into the firm; what is wrong stands in the checks.</summary>
    internal static void Take(Firm firm, FirmInput input, FieldChecks check)
    {
        ArgumentNullException.ThrowIfNull(input);
        firm.Name = check.Text(nameof(input.Name), input.Name, TextLimits.Name);
        firm.ContactLine = check.Optional(nameof(input.ContactLine), input.ContactLine, TextLimits.Line) ?? "";
        check.That(Colour().IsMatch(input.BrandColour ?? ""), nameof(input.BrandColour), "Expected a colour as # and six hexadecimal digits, for example #1f6f5c.");
        check.That(CurrencyCode().IsMatch(input.Currency ?? ""), nameof(input.Currency), "Expected a currency code of three capital letters, for example EUR.");
        check.That(Enum.IsDefined(input.Units), nameof(input.Units), "Expected metric or imperial.");
        var choices = check.Optional(nameof(input.UnitChoices), input.UnitChoices, TextLimits.Line) ?? "";
        firm.BrandColour = (input.BrandColour ?? "").ToLowerInvariant();
        firm.Currency = input.Currency ?? "";
        firm.Units = input.Units;
        firm.UnitChoices = choices;
    }

    [GeneratedRegex(@"\A#[0-9a-fA-F]{6}\z")]
    private static partial Regex Colour();

    [GeneratedRegex(@"\A[A-Z]{3}\z")]
    private static partial Regex CurrencyCode();
}
