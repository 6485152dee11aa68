using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>What a snapshot is composed for: the revision number and time it will carry.</summary>
public sealed record PlanHeading(int Number, DateTime PublishedAt);

/// <summary>A snapshot as the reports wrote it.</summary>
/// <param name="Text">The whole snapshot.</param>
/// <param name="Format">Its format number, 1 or more.</param>
/// <param name="MethodVersion">Version of the calculation method of its results.</param>
/// <param name="Tonight">Settings for tonight's weather, as text; null without them.</param>
public sealed record PlanText(string Text, int Format, string MethodVersion, string? Tonight = null);

/// <summary>A plan just published, with the token of its first link: shown once, it cannot be read again.</summary>
public sealed record PublishedPlan(Guid PlanId, int Number, DateTime PublishedAt, NewPlanLink Link);

/// <summary>A link just made. <paramref name="Token"/> is shown once, it cannot be read again.</summary>
public sealed record NewPlanLink(Guid LinkId, string Token, DateTime ExpiresAt);

/// <summary>One plan in a list.</summary>
public sealed record PlanLine(Guid Id, int Number, string OptionLetter, string OptionName, DateTime PublishedAt, string PublishedBy, string MethodVersion, IReadOnlyList<PlanLinkLine> Links);

/// <summary>One link in a list; the token is not kept.</summary>
public sealed record PlanLinkLine(Guid Id, DateTime CreatedAt, DateTime ExpiresAt, DateTime? RevokedAt, DateTime? LastUsedAt);

/// <summary>A plan opened to be read.</summary>
public sealed record OpenedPlan(Guid PlanId, Guid FirmId, Guid VanId, int Number, DateTime PublishedAt, string SnapshotText, int SnapshotFormat, string MethodVersion, string? TonightText = null);

/// <summary>The stored snapshot is not the one that was published.</summary>
public sealed class PlanDamagedException(Guid planId) : Exception($"The stored text of plan {planId} is not the text that was published.");

/// <summary>Published plans and the links that open them.</summary>
public sealed class Plans(FirmContexts contexts, TimeProvider time)
{
    /// <summary>How long a link works unless the consultant says otherwise (own choice).</summary>
    public static readonly TimeSpan UsualLinkLife = TimeSpan.FromDays(180);

    /// <summary>The longest a link may work: links that leave the house end some day.</summary>
    public static readonly TimeSpan LongestLinkLife = TimeSpan.FromDays(730);

    /// <summary>Publishes the next revision of a van's plan with a first link.</summary>
    /// <param name="who">Who publishes.</param>
    /// <param name="optionId">The option the plan is made from.</param>
    /// <param name="optionVersion">Version of the option that was assessed: nothing unsaved or outdated is published.</param>
    /// <param name="compose">Writes the snapshot for a number and time. Called again when somebody else took the number.</param>
    /// <param name="dangerReason">Why it is published although a danger stands in the stored design (<see cref="DangerReason"/>); ignored when none does.</param>
    /// <param name="linkLife">How long the link works, 1 hour to <see cref="LongestLinkLife"/>; null for <see cref="UsualLinkLife"/>.</param>
    /// <param name="cancellation">Stops waiting.</param>
    /// <exception cref="RecordNotFoundException">The firm has no such option.</exception>
    /// <exception cref="RecordChangedException">The option has another version now.</exception>
    /// <exception cref="InvalidInputException">The link's life is out of range, the snapshot is empty, or a danger stands and no reason is given.</exception>
    /// <exception cref="ArgumentException">The stored design is wrong and cannot be assessed; the message names the fields.</exception>
    public Task<PublishedPlan> Publish(
        SignedIn who, Guid optionId, Guid optionVersion, Func<PlanHeading, PlanText> compose, string? dangerReason = null, TimeSpan? linkLife = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(compose);
        return Saving.TakingTheNext(async () =>
        {
            await using var db = contexts.OpenFor(who.FirmId);
            var option = await db.Options.AsNoTracking().SingleOrDefaultAsync(o => o.Id == optionId, cancellation)
                ?? throw new RecordNotFoundException("option", optionId);
            if (option.Version != optionVersion)
            {
                throw new RecordChangedException("option", optionId);
            }

            // Asked of the calculation here: no way of publishing, and no page, may pass a danger over.
            if (DangerReason.Problem(dangerReason) is { } problem
                && StandingDangers.Of(DesignJson.Read(option.DesignText), cancellation) is { Count: > 0 } dangers)
            {
                throw new InvalidInputException([new(
                    nameof(DangerReason), $"{problem} It would be published although a danger stands: {string.Join("; ", dangers)}.")]);
            }

            var last = await db.Plans.Where(p => p.VanId == option.VanId).MaxAsync(p => (int?)p.Number, cancellation) ?? 0;
            var heading = new PlanHeading(last + 1, time.UtcNow());
            var snapshot = compose(heading);
            var check = new FieldChecks();
            check.That(!string.IsNullOrWhiteSpace(snapshot.Text), nameof(snapshot.Text), "Expected a snapshot.");
            check.That(snapshot.Format >= 1, nameof(snapshot.Format), "Expected a format number of 1 or more.");
            var method = check.Text(nameof(snapshot.MethodVersion), snapshot.MethodVersion, TextLimits.Key);
            check.ThrowIfAny();

            var plan = new Plan
            {
                VanId = option.VanId,
                OptionId = option.Id,
                OptionLetter = option.Letter,
                OptionName = option.Name,
                Number = heading.Number,
                SnapshotText = snapshot.Text,
                SnapshotFormat = snapshot.Format,
                SnapshotSha256 = Sha256(snapshot.Text),
                MethodVersion = method,
                TonightText = snapshot.Tonight,
                TonightSha256 = snapshot.Tonight is { } tonight ? Sha256(tonight) : null,
                PublishedAt = heading.PublishedAt,
                PublishedBy = who.UserId,
            };
            db.Plans.Add(plan);
            db.Note(who, "plan.published", "plan", plan.Id, heading.PublishedAt);
            var link = AddLink(db, who, plan.Id, linkLife, heading.PublishedAt);
            await db.SaveChangesAsync(cancellation);
            return new PublishedPlan(plan.Id, plan.Number, plan.PublishedAt, link);
        });
    }

    /// <summary>The plans of one van with their links, newest first.</summary>
    public async Task<IReadOnlyList<PlanLine>> PlansOf(SignedIn who, Guid vanId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var plans = await db.Plans.AsNoTracking().Where(p => p.VanId == vanId).OrderByDescending(p => p.Number)
            .Select(p => new { p.Id, p.Number, p.OptionLetter, p.OptionName, p.PublishedAt, p.PublishedBy, p.MethodVersion })
            .ToListAsync(cancellation);
        var ids = plans.Select(p => p.Id).ToList();
        var links = (await db.PlanLinks.AsNoTracking().Where(l => ids.Contains(l.PlanId)).OrderBy(l => l.CreatedAt).ToListAsync(cancellation))
            .ToLookup(l => l.PlanId, l => new PlanLinkLine(l.Id, l.CreatedAt, l.ExpiresAt, l.RevokedAt, l.LastUsedAt));
        var names = await db.NamesOf(plans.Select(p => p.PublishedBy), cancellation);
        return [.. plans.Select(p => new PlanLine(
            p.Id, p.Number, p.OptionLetter, p.OptionName, p.PublishedAt, names.GetValueOrDefault(p.PublishedBy, UserNames.Gone), p.MethodVersion, [.. links[p.Id]]))];
    }

    /// <summary>Opens a plan for a colleague of the firm; null when the firm has none with this id.</summary>
    /// <exception cref="PlanDamagedException">The stored text was changed.</exception>
    public async Task<OpenedPlan?> Plan(SignedIn who, Guid planId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return Opened(await db.Plans.AsNoTracking().SingleOrDefaultAsync(p => p.Id == planId, cancellation));
    }

    /// <summary>
    /// Opens the plan a link leads to, for anybody who holds the link. Null for a token that is malformed, unknown,
    /// expired or revoked: the caller cannot tell which.
    /// </summary>
    /// <exception cref="PlanDamagedException">The stored text was changed.</exception>
    public async Task<OpenedPlan?> FindByToken(string? token, CancellationToken cancellation = default)
    {
        if (token is not { Length: LinkToken.Length })
        {
            return null;
        }

        var now = time.UtcNow();
        var hash = LinkToken.Hash(token);
        PlanLink? link;
        await using (var nobody = contexts.OpenForNobody())
        {
            // The index is searched by hash, so its timing tells nothing about a token.
            link = await nobody.PlanLinks.AsNoTracking().IgnoreQueryFilters([DeskContext.FirmFilter])
                .SingleOrDefaultAsync(l => l.TokenSha256 == hash, cancellation);
        }

        if (link is null || !CryptographicOperations.FixedTimeEquals(link.TokenSha256, hash) || link.RevokedAt is not null || link.ExpiresAt <= now)
        {
            return null;
        }

        await using var db = contexts.OpenFor(link.FirmId);
        // Once a minute is enough, so that a page that is reloaded does not write each time.
        var stale = now - TimeSpan.FromMinutes(1);
        try
        {
            // A clock that was moved back would leave a time to come standing until it is reached again. Asked here and not in the update: even one that finds
            // nothing takes the lock of writers.
            if (link.LastUsedAt is not { } used || used < stale || used > now)
            {
                await db.PlanLinks.Where(l => l.Id == link.Id).ExecuteUpdateAsync(set => set.SetProperty(l => l.LastUsedAt, now), cancellation);
            }
        }
        catch (Exception e) when (StoreFault.Of(e) is StoreFaultKind.Full or StoreFaultKind.ReadOnly or StoreFaultKind.Locked)
        {
            // Records that cannot be written can still be read, and a client with the link is owed the plan, not the note of the visit.
        }

        return Opened(await db.Plans.AsNoTracking().SingleOrDefaultAsync(p => p.Id == link.PlanId, cancellation));
    }

    /// <summary>Makes another link to a plan, for example after the first was revoked.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such plan.</exception>
    /// <exception cref="InvalidInputException">The link's life is out of range.</exception>
    public async Task<NewPlanLink> AddLink(SignedIn who, Guid planId, TimeSpan? linkLife = null, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        if (!await db.Plans.AnyAsync(p => p.Id == planId, cancellation))
        {
            throw new RecordNotFoundException("plan", planId);
        }

        var link = AddLink(db, who, planId, linkLife, time.UtcNow());
        await db.SaveChangesAsync(cancellation);
        return link;
    }

    /// <summary>Takes a link back at once. Taking it back again changes nothing.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such link.</exception>
    public async Task RevokeLink(SignedIn who, Guid linkId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var link = await db.PlanLinks.SingleOrDefaultAsync(l => l.Id == linkId, cancellation) ?? throw new RecordNotFoundException("link", linkId);
        if (link.RevokedAt is not null)
        {
            return;
        }

        link.RevokedAt = time.UtcNow();
        db.Note(who, "link.revoked", "link", linkId, link.RevokedAt.Value);
        await db.SaveChangesAsync(cancellation);
    }

    private static NewPlanLink AddLink(DeskContext db, SignedIn who, Guid planId, TimeSpan? linkLife, DateTime now)
    {
        var life = linkLife ?? UsualLinkLife;
        var check = new FieldChecks();
        check.That(
            life >= TimeSpan.FromHours(1) && life <= LongestLinkLife,
            "LinkLife",
            FormattableString.Invariant($"Expected 1 hour to {LongestLinkLife.Days} days."));
        check.ThrowIfAny();
        var token = LinkToken.New();
        var link = new PlanLink { PlanId = planId, TokenSha256 = LinkToken.Hash(token), CreatedAt = now, ExpiresAt = now + life };
        db.PlanLinks.Add(link);
        db.Note(who, "link.added", "link", link.Id, now);
        return new(link.Id, token, link.ExpiresAt);
    }

    private static OpenedPlan? Opened(Plan? plan)
    {
        if (plan is null)
        {
            return null;
        }

        if (Sha256(plan.SnapshotText) != plan.SnapshotSha256 || !IsAsPublished(plan.TonightText, plan.TonightSha256))
        {
            throw new PlanDamagedException(plan.Id);
        }

        return new(plan.Id, plan.FirmId, plan.VanId, plan.Number, plan.PublishedAt, plan.SnapshotText, plan.SnapshotFormat, plan.MethodVersion, plan.TonightText);
    }

    /// <summary>True when tonight's settings are those that were published. Plans of before the hash was kept have none to be held against.</summary>
    internal static bool IsAsPublished(string? tonight, string? sha256) => sha256 is null || (tonight is not null && Sha256(tonight) == sha256);

    internal static string Sha256(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));
}
