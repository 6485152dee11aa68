using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>An intake as the client sees it.</summary>
/// <param name="Id">Its id.</param>
/// <param name="FirmId">The firm that asks.</param>
/// <param name="FirmName">Name of the firm.</param>
/// <param name="ColourHex">Colour of the firm, <c>#rrggbb</c>.</param>
/// <param name="Contact">How the firm is reached; empty when it has not said.</param>
/// <param name="VanName">What the van is called.</param>
/// <param name="Answers">What was answered so far.</param>
/// <param name="SavedAt">When an answer was last saved.</param>
/// <param name="SubmittedAt">When it was sent; null while it may still be changed.</param>
/// <param name="Photos">The photos so far.</param>
public sealed record ClientIntake(
    Guid Id, Guid FirmId, string FirmName, string ColourHex, string Contact, string VanName, IReadOnlyDictionary<string, string> Answers, DateTime? SavedAt, DateTime? SubmittedAt, IReadOnlyList<PhotoLine> Photos);

/// <summary>The intake was sent already; nothing was written.</summary>
public sealed class IntakeSubmittedException() : Exception("This intake was sent already and cannot be changed any more.");

/// <summary>
/// What a client does with the intake whose link they hold: read it, answer, add photos, send it. Each act finds the intake by
/// the token anew, so that a withdrawn link ends at once.
/// </summary>
public sealed class IntakeDoor(FirmContexts contexts, TimeProvider time)
{
    /// <summary>Most photos of one intake.</summary>
    public const int MostPhotos = 24;

    /// <summary>Largest photo that is kept, bytes.</summary>
    public const int LargestPhoto = 4 * 1024 * 1024;

    /// <summary>Opens the intake of a link; null for a token that is malformed, unknown, expired or withdrawn: the caller cannot tell which.</summary>
    /// <exception cref="IntakeTextException">The stored answers cannot be read.</exception>
    public async Task<ClientIntake?> Open(string? token, CancellationToken cancellation = default)
    {
        if (await Find(token, cancellation) is not { } found)
        {
            return null;
        }

        await using var db = contexts.OpenFor(found.FirmId);
        return await (
                from intake in db.Intakes.AsNoTracking()
                where intake.Id == found.Id
                join van in db.Vans on intake.VanId equals van.Id
                join firm in db.Firms on intake.FirmId equals firm.Id
                select new { Intake = intake, Van = van.Name, Firm = firm })
            .SingleOrDefaultAsync(cancellation) is { } row
            ? new(row.Intake.Id, found.FirmId, row.Firm.Name, row.Firm.BrandColour, row.Firm.ContactLine, row.Van, IntakeAnswers.Read(row.Intake.AnswersText), row.Intake.SavedAt, row.Intake.SubmittedAt, await db.PhotosOf(found.Id, cancellation))
            : null;
    }

    /// <summary>
    /// Saves some answers; the others stay, so that two devices at it together lose nothing but the same field's older words.
    /// </summary>
    /// <param name="token">Token of the link.</param>
    /// <param name="changed">Answers by key; an empty one is taken back.</param>
    /// <param name="cancellation">Stops waiting.</param>
    /// <returns>False when the link does not work any more.</returns>
    /// <exception cref="InvalidInputException">An answer is too long or holds control characters, or there are too many.</exception>
    /// <exception cref="IntakeSubmittedException">It was sent already.</exception>
    public Task<bool> Save(string token, IReadOnlyDictionary<string, string> changed, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(changed);
        return Change(token, (_, intake) => Take(intake, changed), cancellation);
    }

    /// <summary>Saves the last answers and sends the intake to the consultant. Nothing changes after that.</summary>
    /// <param name="token">Token of the link.</param>
    /// <param name="consent">The sentences that were agreed to.</param>
    /// <param name="cancellation">Stops waiting.</param>
    /// <returns>False when the link does not work any more.</returns>
    /// <exception cref="InvalidInputException">Nothing was agreed to.</exception>
    /// <exception cref="IntakeSubmittedException">It was sent already.</exception>
    public Task<bool> Submit(string token, IReadOnlyList<string> consent, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(consent);
        return Change(token, (_, intake) =>
        {
            var check = new FieldChecks();
            check.That(consent.Count > 0 && consent.All(line => !string.IsNullOrWhiteSpace(line)), nameof(intake.Consent), "Expected what was agreed to.");
            check.ThrowIfAny();
            intake.Consent = string.Join('\n', consent);
            intake.SubmittedAt = time.UtcNow();
            return Task.CompletedTask;
        }, cancellation);
    }

    /// <summary>Adds a photo.</summary>
    /// <returns>False when the link does not work any more.</returns>
    /// <exception cref="InvalidInputException">It is no JPEG or too large, or there are <see cref="MostPhotos"/> already.</exception>
    /// <exception cref="IntakeSubmittedException">It was sent already.</exception>
    public Task<bool> AddPhoto(string token, string subject, byte[] jpeg, int width, int height, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(jpeg);
        return Change(token, async (db, intake) =>
        {
            var check = new FieldChecks();
            subject = check.Text(nameof(IntakePhoto.Subject), subject, TextLimits.Key);
            check.That(jpeg.AsSpan().StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF]) && jpeg.Length <= LargestPhoto && width > 0 && height > 0,
                nameof(IntakePhoto.Jpeg), FormattableString.Invariant($"Expected a JPEG of at most {LargestPhoto / 1024 / 1024} MB."));
            check.That(await db.IntakePhotos.CountAsync(p => p.IntakeId == intake.Id, cancellation) < MostPhotos,
                nameof(IntakePhoto.Jpeg), FormattableString.Invariant($"Expected at most {MostPhotos} photos. Remove one first."));
            check.ThrowIfAny();
            db.IntakePhotos.Add(new() { IntakeId = intake.Id, Subject = subject, Jpeg = jpeg, Width = width, Height = height, AddedAt = time.UtcNow() });
        }, cancellation);
    }

    /// <summary>Removes a photo; nothing happens when there is none with this id.</summary>
    /// <returns>False when the link does not work any more.</returns>
    /// <exception cref="IntakeSubmittedException">It was sent already.</exception>
    public Task<bool> RemovePhoto(string token, Guid photoId, CancellationToken cancellation = default) => Change(token, async (db, intake) =>
    {
        if (await db.IntakePhotos.SingleOrDefaultAsync(p => p.Id == photoId && p.IntakeId == intake.Id, cancellation) is { } photo)
        {
            db.IntakePhotos.Remove(photo);
        }
    }, cancellation);

    /// <summary>A photo of this intake, JPEG; null when there is none, or the link does not work any more.</summary>
    public async Task<byte[]?> Photo(string? token, Guid photoId, CancellationToken cancellation = default)
    {
        if (await Find(token, cancellation) is not { } found)
        {
            return null;
        }

        await using var db = contexts.OpenFor(found.FirmId);
        return await db.IntakePhotos.AsNoTracking().Where(p => p.Id == photoId && p.IntakeId == found.Id).Select(p => p.Jpeg).SingleOrDefaultAsync(cancellation);
    }

    /// <summary>Changes the intake of a link as one saved act; done again when another device saved in between.</summary>
    private async Task<bool> Change(string token, Func<DeskContext, Intake, Task> change, CancellationToken cancellation)
    {
        const int Tries = 5;
        for (var attempt = 1; ; attempt++)
        {
            if (await Find(token, cancellation) is not { } found)
            {
                return false;
            }

            await using var db = contexts.OpenFor(found.FirmId);
            var intake = await db.Intakes.SingleAsync(i => i.Id == found.Id, cancellation);
            if (intake.SubmittedAt is not null)
            {
                throw new IntakeSubmittedException();
            }

            await change(db, intake);
            intake.SavedAt = time.UtcNow();
            try
            {
                await db.SaveChangesAsync(cancellation);
                return true;
            }
            catch (DbUpdateConcurrencyException) when (attempt < Tries)
            {
                // The other device's answers are read anew, and these laid over them.
            }
        }
    }

    private static Task Take(Intake intake, IReadOnlyDictionary<string, string> changed)
    {
        var check = new FieldChecks();
        foreach (var (key, answer) in changed)
        {
            check.That(key.Length is > 0 and <= TextLimits.Key, key, "Expected the key of a question.");
            check.AsTyped(key, answer, IntakeAnswers.LongestAnswer);
        }

        check.ThrowIfAny();
        var all = IntakeAnswers.With(IntakeAnswers.Read(intake.AnswersText), changed);
        check.That(
            all.Count <= IntakeAnswers.MostAnswers && all.Sum(answer => answer.Value.Length) <= IntakeAnswers.LongestTogether,
            nameof(Intake.AnswersText), FormattableString.Invariant($"All answers together have more than {IntakeAnswers.LongestTogether} characters. Shorten one of them."));
        check.ThrowIfAny();
        intake.AnswersText = IntakeAnswers.Write(all);
        intake.Format = IntakeAnswers.CurrentFormat;
        return Task.CompletedTask;
    }

    private async Task<(Guid Id, Guid FirmId)?> Find(string? token, CancellationToken cancellation)
    {
        if (token is not { Length: LinkToken.Length })
        {
            return null;
        }

        var hash = LinkToken.Hash(token);
        await using var nobody = contexts.OpenForNobody();
        // The index is searched by hash, so its timing tells nothing about a token.
        var row = await nobody.Intakes.AsNoTracking().IgnoreQueryFilters([DeskContext.FirmFilter]).Where(i => i.TokenSha256 == hash)
            .Select(i => new { i.Id, i.FirmId, i.TokenSha256, i.RevokedAt, i.ExpiresAt }).SingleOrDefaultAsync(cancellation);
        return row is null || !CryptographicOperations.FixedTimeEquals(row.TokenSha256, hash) || row.RevokedAt is not null || row.ExpiresAt <= time.UtcNow()
            ? null
            : (row.Id, row.FirmId);
    }
}
