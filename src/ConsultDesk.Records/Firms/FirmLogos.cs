using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>The firms' logos. What was uploaded is checked and encoded again before it comes here.</summary>
public sealed class FirmLogos(FirmContexts contexts, TimeProvider time)
{
    /// <summary>Largest picture kept, bytes; a picture that was encoded again is far smaller.</summary>
    public const int LargestBytes = 5 * 1024 * 1024;

    private static ReadOnlySpan<byte> PngSignature => [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A];

    /// <summary>The firm's logo; null when it has none.</summary>
    public async Task<FirmLogo?> Logo(SignedIn who, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await db.Logos.AsNoTracking().SingleOrDefaultAsync(cancellation);
    }

    /// <summary>Keeps a logo, in the place of the one before.</summary>
    /// <param name="who">An owner.</param>
    /// <param name="loadedVersion">Version of the logo that was seen; null when there was none.</param>
    /// <param name="png">The picture, PNG.</param>
    /// <param name="width">Its width, pixels.</param>
    /// <param name="height">Its height, pixels.</param>
    /// <param name="cancellation">Stops before it is saved.</param>
    /// <returns>The new version.</returns>
    /// <exception cref="NotAllowedException">The user is no owner.</exception>
    /// <exception cref="InvalidInputException">It is no PNG, has no size or is too large.</exception>
    /// <exception cref="RecordChangedException">Another logo was kept or removed since.</exception>
    public async Task<Guid> Save(SignedIn who, Guid? loadedVersion, byte[] png, int width, int height, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(png);
        who.RequireOwner("changes the firm's logo");
        var check = new FieldChecks();
        check.That(png.AsSpan().StartsWith(PngSignature), nameof(FirmLogo.Png), "Expected a picture encoded as PNG.");
        check.That(png.Length <= LargestBytes, nameof(FirmLogo.Png), FormattableString.Invariant($"Expected a picture of at most {LargestBytes / 1024 / 1024} MB."));
        check.That(width > 0 && height > 0, nameof(FirmLogo.Png), "Expected a picture with a width and a height.");
        check.ThrowIfAny();

        await using var db = contexts.OpenFor(who.FirmId);
        var logo = await db.Logos.SingleOrDefaultAsync(cancellation);
        if (logo is null != loadedVersion is null)
        {
            throw new RecordChangedException("logo", who.FirmId);
        }

        if (logo is null)
        {
            logo = new FirmLogo { Png = png, Width = width, Height = height, UploadedAt = time.UtcNow() };
            db.Logos.Add(logo);
            db.Note(who, "logo.changed", "logo", logo.Id, time.UtcNow());
            // One logo for each firm.
            await db.SaveUnlessSlower("logo", who.FirmId, cancellation);
            return logo.Version;
        }

        (logo.Png, logo.Width, logo.Height, logo.UploadedAt) = (png, width, height, time.UtcNow());
        db.Note(who, "logo.changed", "logo", logo.Id, time.UtcNow());
        await db.SaveOver(logo, loadedVersion!.Value, "logo", logo.Id, cancellation);
        return logo.Version;
    }

    /// <summary>Removes the logo. Published plans keep theirs.</summary>
    /// <exception cref="NotAllowedException">The user is no owner.</exception>
    /// <exception cref="RecordChangedException">Another logo was kept, or this one removed, since.</exception>
    public async Task Remove(SignedIn who, Guid loadedVersion, CancellationToken cancellation = default)
    {
        who.RequireOwner("changes the firm's logo");
        await using var db = contexts.OpenFor(who.FirmId);
        var logo = await db.Logos.SingleOrDefaultAsync(cancellation) ?? throw new RecordChangedException("logo", who.FirmId);
        db.Logos.Remove(logo);
        db.Note(who, "logo.removed", "logo", logo.Id, time.UtcNow());
        await db.SaveOver(logo, loadedVersion, "logo", logo.Id, cancellation);
    }
}
