using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>What is entered about something built in.</summary>
/// <param name="What">What it is.</param>
/// <param name="DoneOn">The day it was done.</param>
/// <param name="Who">Who did it; may be left out.</param>
/// <param name="Note">What else is worth keeping; may be left out.</param>
public sealed record InstallationInput(string? What, DateOnly? DoneOn, string? Who = null, string? Note = null);

/// <summary>Something built in, with its photos.</summary>
public sealed record InstallationLine(Guid Id, string What, DateOnly DoneOn, string Who, string Note, Guid Version, IReadOnlyList<InstallationPhotoLine> Photos);

/// <summary>One photo in a list.</summary>
public sealed record InstallationPhotoLine(Guid Id, int Width, int Height);

/// <summary>What was built into a van, with photos.</summary>
public sealed class InstallationBook(FirmContexts contexts, TimeProvider time)
{
    /// <summary>Most photos of one installation.</summary>
    public const int MostPhotos = 12;

    /// <summary>What was built into a van, the newest first.</summary>
    public async Task<IReadOnlyList<InstallationLine>> Of(SignedIn who, Guid vanId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var rows = await db.Installations.AsNoTracking().Where(i => i.VanId == vanId).OrderByDescending(i => i.DoneOn).ThenByDescending(i => i.CreatedAt).ToListAsync(cancellation);
        var ids = rows.Select(i => i.Id).ToList();
        var photos = (await db.InstallationPhotos.AsNoTracking().Where(p => ids.Contains(p.InstallationId)).OrderBy(p => p.AddedAt)
            .Select(p => new { p.InstallationId, p.Id, p.Width, p.Height }).ToListAsync(cancellation))
            .ToLookup(p => p.InstallationId, p => new InstallationPhotoLine(p.Id, p.Width, p.Height));
        return [.. rows.Select(i => new InstallationLine(i.Id, i.What, i.DoneOn, i.Who, i.Note, i.Version, [.. photos[i.Id]]))];
    }

    /// <summary>Enters something built in.</summary>
    /// <returns>The new row's id.</returns>
    /// <exception cref="InvalidInputException">A field is wrong.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such van.</exception>
    public async Task<Guid> Add(SignedIn who, Guid vanId, InstallationInput input, CancellationToken cancellation = default)
    {
        var now = time.UtcNow();
        var installation = new Installation { VanId = vanId, What = "", Who = "", Note = "", CreatedAt = now };
        Take(installation, input);
        await using var db = contexts.OpenFor(who.FirmId);
        await db.MustHaveVan(vanId, cancellation);
        db.Installations.Add(installation);
        db.Note(who, "installation.added", "installation", installation.Id, now);
        await db.SaveChangesAsync(cancellation);
        return installation.Id;
    }

    /// <summary>Changes what was entered.</summary>
    /// <exception cref="InvalidInputException">A field is wrong.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such installation.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public async Task Change(SignedIn who, Guid id, Guid loadedVersion, InstallationInput input, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var installation = await Existing(db, id, cancellation);
        Take(installation, input);
        db.Note(who, "installation.changed", "installation", id, time.UtcNow());
        await db.SaveOver(installation, loadedVersion, "installation", id, cancellation);
    }

    /// <summary>Takes it out again with its photos.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such installation.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public async Task Remove(SignedIn who, Guid id, Guid loadedVersion, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var installation = await Existing(db, id, cancellation);
        db.RemoveRange(await db.InstallationPhotos.Where(p => p.InstallationId == id).ToListAsync(cancellation));
        db.Remove(installation);
        db.Note(who, "installation.removed", "installation", id, time.UtcNow());
        await db.SaveOver(installation, loadedVersion, "installation", id, cancellation);
    }

    /// <summary>Adds a photo that was encoded anew.</summary>
    /// <returns>Its id.</returns>
    /// <exception cref="InvalidInputException">There are <see cref="MostPhotos"/> already.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such installation.</exception>
    public async Task<Guid> AddPhoto(SignedIn who, Guid id, byte[] jpeg, int width, int height, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(jpeg);
        var now = time.UtcNow();
        await using var db = contexts.OpenFor(who.FirmId);
        await Existing(db, id, cancellation);
        var check = new FieldChecks();
        check.That(await db.InstallationPhotos.CountAsync(p => p.InstallationId == id, cancellation) < MostPhotos, "Photos", FormattableString.Invariant($"Expected at most {MostPhotos} photos."));
        check.ThrowIfAny();
        var photo = new InstallationPhoto { InstallationId = id, Jpeg = jpeg, Width = width, Height = height, AddedAt = now };
        db.InstallationPhotos.Add(photo);
        db.Note(who, "installation.photo-added", "installation", id, now);
        await db.SaveChangesAsync(cancellation);
        return photo.Id;
    }

    /// <summary>Takes a photo out. Taking it out again changes nothing.</summary>
    public async Task RemovePhoto(SignedIn who, Guid photoId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        if (await db.InstallationPhotos.SingleOrDefaultAsync(p => p.Id == photoId, cancellation) is { } photo)
        {
            db.Remove(photo);
            db.Note(who, "installation.photo-removed", "installation", photo.InstallationId, time.UtcNow());
            await db.SaveChangesAsync(cancellation);
        }
    }

    /// <summary>A photo's bytes, JPEG; null when the firm has none with this id.</summary>
    public async Task<byte[]?> Photo(SignedIn who, Guid photoId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await db.InstallationPhotos.AsNoTracking().Where(p => p.Id == photoId).Select(p => p.Jpeg).SingleOrDefaultAsync(cancellation);
    }

    private static async Task<Installation> Existing(DeskContext db, Guid id, CancellationToken cancellation) =>
        await db.Installations.SingleOrDefaultAsync(i => i.Id == id, cancellation) ?? throw new RecordNotFoundException("installation", id);

    private static void Take(Installation installation, InstallationInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        var check = new FieldChecks();
        installation.What = check.Text(nameof(input.What), input.What, TextLimits.Line);
        installation.Who = check.Optional(nameof(input.Who), input.Who, TextLimits.Name) ?? "";
        installation.Note = check.Optional(nameof(input.Note), input.Note, TextLimits.Notes, lines: true) ?? "";
        check.That(
            input.DoneOn is { } day && day.Year >= FollowUps.EarliestYear && day.Year <= FollowUps.LatestYear,
            nameof(input.DoneOn), FormattableString.Invariant($"Expected a day of the years {FollowUps.EarliestYear} to {FollowUps.LatestYear}."));
        check.ThrowIfAny();
        installation.DoneOn = input.DoneOn!.Value;
    }
}
