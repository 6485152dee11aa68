using ConsultDesk.Calculations.Vehicle;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>The wishes recorded for a van.</summary>
/// <param name="Wishes">What the client wants; nothing said when none are recorded.</param>
/// <param name="Version">Handed back to <see cref="WishesBook.Save"/>; null when none are recorded yet.</param>
/// <param name="UpdatedAt">When they last changed, UTC; null when none are recorded yet.</param>
public sealed record LoadedWishes(Wishes Wishes, Guid? Version, DateTime? UpdatedAt);

/// <summary>What clients want of their vans.</summary>
public sealed class WishesBook(FirmContexts contexts, TimeProvider time)
{
    /// <summary>Most lines of must-haves, and of other won't-haves.</summary>
    public const int MostLines = 50;

    /// <summary>Largest budget.</summary>
    public const decimal LargestBudget = 10_000_000;

    /// <summary>Quietest and loudest limit at the bed, dB(A) at 1 m.</summary>
    public const double QuietestDba = 20;

    /// <summary>Loudest limit at the bed, dB(A) at 1 m.</summary>
    public const double LoudestDba = 80;

    /// <summary>The wishes for a van.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such van.</exception>
    /// <exception cref="WishesTextException">The stored text cannot be read; it is left as it is.</exception>
    public async Task<LoadedWishes> Load(SignedIn who, Guid vanId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        await RequireVan(db, vanId, cancellation);
        return await db.Wishes.AsNoTracking().SingleOrDefaultAsync(w => w.VanId == vanId, cancellation) is { } row
            ? new(WishesJson.Read(row.WishesText), row.Version, row.UpdatedAt)
            : new(new Wishes(), null, null);
    }

    /// <summary>Stores the wishes for a van over the version that was loaded; equal ones are not written again.</summary>
    /// <exception cref="InvalidInputException">A field is wrong.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such van.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public async Task<LoadedWishes> Save(SignedIn who, Guid vanId, Guid? loadedVersion, Wishes wishes, CancellationToken cancellation = default)
    {
        wishes = Checked(wishes);
        var text = WishesJson.Write(wishes);
        await using var db = contexts.OpenFor(who.FirmId);
        await RequireVan(db, vanId, cancellation);
        var row = await db.Wishes.SingleOrDefaultAsync(w => w.VanId == vanId, cancellation);
        if (row?.Version != loadedVersion)
        {
            throw new RecordChangedException("wishes", vanId);
        }

        if (row?.WishesText == text)
        {
            return new(wishes, row.Version, row.UpdatedAt);
        }

        var now = time.UtcNow();
        db.Note(who, "wishes.saved", "van", vanId, now);
        if (row is null)
        {
            row = db.Wishes.Add(new VanWishes { VanId = vanId, WishesText = text, Format = WishesJson.CurrentFormat, UpdatedAt = now }).Entity;
            await db.SaveUnlessSlower("wishes", vanId, cancellation);
        }
        else
        {
            (row.WishesText, row.Format, row.UpdatedAt) = (text, WishesJson.CurrentFormat, now);
            await db.SaveOver(row, loadedVersion!.Value, "wishes", vanId, cancellation);
        }

        return new(wishes, row.Version, now);
    }

    /// <summary>What is wrong with wishes, by field; empty when nothing is.</summary>
    public static IReadOnlyList<FieldError> Errors(Wishes wishes)
    {
        try
        {
            Checked(wishes);
            return [];
        }
        catch (InvalidInputException e)
        {
            return e.Errors;
        }
    }

    private static Wishes Checked(Wishes wishes)
    {
        ArgumentNullException.ThrowIfNull(wishes);
        var check = new FieldChecks();
        foreach (var (field, budget) in new[] { (nameof(wishes.BudgetNow), wishes.BudgetNow), (nameof(wishes.BudgetLater), wishes.BudgetLater) })
        {
            check.That(
                budget is null || (budget >= 0 && budget <= LargestBudget && decimal.Round(budget.Value, 2) == budget), field,
                FormattableString.Invariant($"Expected an amount from 0 to {LargestBudget} with at most two decimals, or nothing."));
        }

        check.That(
            wishes.LoudestAtBedDba is null || (wishes.LoudestAtBedDba >= QuietestDba && wishes.LoudestAtBedDba <= LoudestDba), nameof(wishes.LoudestAtBedDba),
            FormattableString.Invariant($"Expected {QuietestDba} to {LoudestDba} dB(A), or nothing."));
        check.That(wishes.Order.Distinct().Count() == wishes.Order.Length, nameof(wishes.Order), "Expected each priority at most once.");
        wishes = wishes with
        {
            MustHaves = [.. Lines(nameof(wishes.MustHaves), wishes.MustHaves)],
            OtherWontHaves = [.. Lines(nameof(wishes.OtherWontHaves), wishes.OtherWontHaves)],
            WontHaves = [.. wishes.WontHaves.Distinct().Order()],
            Looks = check.Optional(nameof(wishes.Looks), wishes.Looks, TextLimits.Line, lines: true) ?? "",
        };
        check.ThrowIfAny();
        return wishes;

        IEnumerable<string> Lines(string field, IReadOnlyCollection<string> lines)
        {
            check.That(lines.Count <= MostLines, field, FormattableString.Invariant($"Expected at most {MostLines} lines, got {lines.Count}."));
            return lines.Select(line => check.Optional(field, line, TextLimits.Line)).OfType<string>();
        }
    }

    private static async Task RequireVan(DeskContext db, Guid vanId, CancellationToken cancellation)
    {
        if (!await db.Vans.AnyAsync(v => v.Id == vanId, cancellation))
        {
            throw new RecordNotFoundException("van", vanId);
        }
    }
}
