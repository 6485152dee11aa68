using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>What is entered about a firm. <paramref name="UnitChoices"/> as in <see cref="Firm.UnitChoices"/>.</summary>
public sealed record FirmInput(string Name, string BrandColour, string? ContactLine, string Currency, UnitPreset Units, string UnitChoices = "")
{
    /// <summary>Paper of its plans.</summary>
    public PaperSize Paper { get; init; } = PaperSize.A4;

    /// <summary>Address clients answer to; null for none.</summary>
    public string? AnswerAddress { get; init; }

    /// <summary>Limits of advice and terms; null for none.</summary>
    public string? Terms { get; init; }

    /// <summary>What the tax on sales is called; null for none.</summary>
    public string? TaxName { get; init; }

    /// <summary>Rate of that tax, per cent, 0 to <see cref="Firm.HighestTaxPercent"/>.</summary>
    public double TaxPercent { get; init; }

    /// <summary>True when the prices of the book have the tax in them.</summary>
    public bool PricesIncludeTax { get; init; } = true;
}

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
        who.RequireOwner("changes the firm");

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
        check.That(Enum.IsDefined(input.Paper), nameof(input.Paper), "Expected A4 or Letter.");
        firm.Paper = input.Paper;
        firm.Email = check.Optional(nameof(input.AnswerAddress), input.AnswerAddress, TextLimits.Email) ?? "";
        check.That(firm.Email.Length == 0 || EmailAddress.LooksRight(firm.Email), nameof(input.AnswerAddress), EmailAddress.Expected);
        firm.Terms = check.Optional(nameof(input.Terms), input.Terms, TextLimits.Notes, lines: true) ?? "";
        firm.TaxName = check.Optional(nameof(input.TaxName), input.TaxName, TextLimits.Key) ?? "";
        check.That(
            input.TaxPercent is >= 0 and <= Firm.HighestTaxPercent,
            nameof(input.TaxPercent), FormattableString.Invariant($"Expected a rate of 0 to {Firm.HighestTaxPercent} per cent."));
        check.That(
            firm.TaxName.Length > 0 || input.TaxPercent == 0,
            nameof(input.TaxName), "Expected what the tax is called, for example VAT, because a rate is given.");
        (firm.TaxPercent, firm.PricesIncludeTax) = (input.TaxPercent, input.PricesIncludeTax);
    }

    [GeneratedRegex(@"\A#[0-9a-fA-F]{6}\z")]
    private static partial Regex Colour();

    [GeneratedRegex(@"\A[A-Z]{3}\z")]
    private static partial Regex CurrencyCode();
}
