using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>An intake just sent, with the token of its link: shown once, it cannot be read again.</summary>
public sealed record SentIntake(Guid IntakeId, string Token, DateTime ExpiresAt);

/// <summary>One intake in a list; the token is not kept.</summary>
public sealed record IntakeLine(Guid Id, DateTime CreatedAt, DateTime ExpiresAt, DateTime? RevokedAt, DateTime? SavedAt, DateTime? SubmittedAt, DateTime? ReviewedAt);

/// <summary>An intake that waits to be read.</summary>
public sealed record WaitingIntake(Guid Id, Guid VanId, string VanName, string ClientName, DateTime SubmittedAt);

/// <summary>An intake as the consultant reads it.</summary>
public sealed record OpenedIntake(
    Guid Id, Guid VanId, IReadOnlyDictionary<string, string> Answers, DateTime? SubmittedAt, string? Consent, DateTime? ReviewedAt, IReadOnlyList<PhotoLine> Photos);

/// <summary>One photo in a list.</summary>
public sealed record PhotoLine(Guid Id, string Subject, int Width, int Height, DateTime AddedAt);

/// <summary>What the consultant does with intakes. What the client does is <see cref="IntakeDoor"/>.</summary>
public sealed class Intakes(FirmContexts contexts, TimeProvider time)
{
    /// <summary>How long a link works unless the consultant says otherwise (own choice).</summary>
    public static readonly TimeSpan UsualLinkLife = TimeSpan.FromDays(30);

    /// <summary>The longest a link may work.</summary>
    public static readonly TimeSpan LongestLinkLife = TimeSpan.FromDays(180);

    /// <summary>Makes a questionnaire for a van, with a link to it.</summary>
    /// <param name="who">Who sends it.</param>
    /// <param name="vanId">The van.</param>
    /// <param name="linkLife">How long the link works, 1 hour to <see cref="LongestLinkLife"/>; null for <see cref="UsualLinkLife"/>.</param>
    /// <param name="cancellation">Stops waiting.</param>
    /// <exception cref="RecordNotFoundException">The firm has no such van.</exception>
    /// <exception cref="InvalidInputException">The link's life is out of range.</exception>
    public async Task<SentIntake> Send(SignedIn who, Guid vanId, TimeSpan? linkLife = null, CancellationToken cancellation = default)
    {
        var life = linkLife ?? UsualLinkLife;
        var check = new FieldChecks();
        check.That(life >= TimeSpan.FromHours(1) && life <= LongestLinkLife, "LinkLife", FormattableString.Invariant($"Expected 1 hour to {LongestLinkLife.Days} days."));
        check.ThrowIfAny();
        await using var db = contexts.OpenFor(who.FirmId);
        await db.MustHaveVan(vanId, cancellation);
        var token = LinkToken.New();
        var now = time.UtcNow();
        var intake = new Intake
        {
            VanId = vanId,
            TokenSha256 = LinkToken.Hash(token),
            CreatedAt = now,
            CreatedBy = who.UserId,
            ExpiresAt = now + life,
            AnswersText = IntakeAnswers.Write(IntakeAnswers.None),
            Format = IntakeAnswers.CurrentFormat,
        };
        db.Intakes.Add(intake);
        db.Note(who, "intake.sent", "intake", intake.Id, now);
        await db.SaveChangesAsync(cancellation);
        return new(intake.Id, token, intake.ExpiresAt);
    }

    /// <summary>The intakes of one van, newest first.</summary>
    public async Task<IReadOnlyList<IntakeLine>> IntakesOf(SignedIn who, Guid vanId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await db.Intakes.AsNoTracking().Where(i => i.VanId == vanId).OrderByDescending(i => i.CreatedAt)
            .Select(i => new IntakeLine(i.Id, i.CreatedAt, i.ExpiresAt, i.RevokedAt, i.SavedAt, i.SubmittedAt, i.ReviewedAt))
            .ToListAsync(cancellation);
    }

    /// <summary>Intakes that clients have sent and nobody has read to the end, the longest waiting first.</summary>
    public async Task<IReadOnlyList<WaitingIntake>> Waiting(SignedIn who, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await (
                from intake in db.Intakes.AsNoTracking()
                where intake.SubmittedAt != null && intake.ReviewedAt == null
                join van in db.Vans on intake.VanId equals van.Id
                join client in db.Clients on van.ClientId equals client.Id
                orderby intake.SubmittedAt
                select new WaitingIntake(intake.Id, van.Id, van.Name, client.Name, intake.SubmittedAt!.Value))
            .ToListAsync(cancellation);
    }

    /// <summary>Opens an intake; null when the van of the firm has none with this id.</summary>
    /// <exception cref="IntakeTextException">The stored answers cannot be read.</exception>
    public async Task<OpenedIntake?> Open(SignedIn who, Guid vanId, Guid intakeId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var intake = await db.Intakes.AsNoTracking().SingleOrDefaultAsync(i => i.Id == intakeId && i.VanId == vanId, cancellation);
        return intake is null
            ? null
            : new(intake.Id, vanId, IntakeAnswers.Read(intake.AnswersText), intake.SubmittedAt, intake.Consent, intake.ReviewedAt, await db.PhotosOf(intakeId, cancellation));
    }

    /// <summary>A photo's bytes, JPEG; null when the firm has none with this id.</summary>
    public async Task<byte[]?> Photo(SignedIn who, Guid photoId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await db.IntakePhotos.AsNoTracking().Where(p => p.Id == photoId).Select(p => p.Jpeg).SingleOrDefaultAsync(cancellation);
    }

    /// <summary>Withdraws the link at once. Withdrawing it again changes nothing.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such intake.</exception>
    public Task Revoke(SignedIn who, Guid intakeId, CancellationToken cancellation = default) =>
        Once(who, intakeId, intake => intake.RevokedAt is null, (intake, now) => intake.RevokedAt = now, "intake.revoked", cancellation);

    /// <summary>Takes it off the list of what waits. Doing so again changes nothing.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such intake.</exception>
    public Task MarkReviewed(SignedIn who, Guid intakeId, CancellationToken cancellation = default) =>
        Once(who, intakeId, intake => intake is { SubmittedAt: not null, ReviewedAt: null }, (intake, now) => intake.ReviewedAt = now, "intake.reviewed", cancellation);

    private async Task Once(
        SignedIn who, Guid intakeId, Func<Intake, bool> due, Action<Intake, DateTime> mark, string action, CancellationToken cancellation)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var intake = await db.Intakes.SingleOrDefaultAsync(i => i.Id == intakeId, cancellation) ?? throw new RecordNotFoundException("intake", intakeId);
        if (!due(intake))
        {
            return;
        }

        var now = time.UtcNow();
        mark(intake, now);
        db.Note(who, action, "intake", intakeId, now);
        await db.SaveOver(intake, intake.Version, "intake", intakeId, cancellation);
    }
}

internal static class IntakePhotoRows
{
    public static async Task<IReadOnlyList<PhotoLine>> PhotosOf(this DeskContext db, Guid intakeId, CancellationToken cancellation) =>
        await db.IntakePhotos.AsNoTracking().Where(p => p.IntakeId == intakeId).OrderBy(p => p.AddedAt)
            .Select(p => new PhotoLine(p.Id, p.Subject, p.Width, p.Height, p.AddedAt)).ToListAsync(cancellation);
}
