using System.Data;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>One of the firm's people.</summary>
/// <param name="Id">The account.</param>
/// <param name="Name">Display name.</param>
/// <param name="Email">Address the person signs in with.</param>
/// <param name="Role">What the person may do.</param>
/// <param name="LeftAt">When access was taken away, UTC; null while it stands.</param>
/// <param name="SignedInAt">Last sign-in, UTC; null before the first.</param>
/// <param name="HasAuthenticator">True when the sign-in asks for a code.</param>
/// <param name="Passkeys">How many passkeys the account has.</param>
public sealed record PersonLine(Guid Id, string Name, string Email, DeskRole Role, DateTime? LeftAt, DateTime? SignedInAt, bool HasAuthenticator, int Passkeys);

/// <summary>One invitation in a list; the token is not kept. <paramref name="UserId"/> is the account it lets back in, null for a new one.</summary>
public sealed record InvitationLine(Guid Id, string ForWhom, DeskRole Role, Guid? UserId, DateTime CreatedAt, DateTime ExpiresAt);

/// <summary>An invitation just made, with the token of its link: shown once, it cannot be read again.</summary>
public sealed record SentInvitation(Guid InvitationId, string Token, DateTime ExpiresAt);

/// <summary>The act would leave the firm without an owner.</summary>
public sealed class LastOwnerException() : Exception("The firm needs an owner, and this is its last.");

/// <summary>The people of a firm. All of it is the owner's.</summary>
public sealed class People(FirmContexts contexts, TimeProvider time)
{
    /// <summary>How long an invitation works (own choice): long enough for a holiday, and no longer.</summary>
    public static readonly TimeSpan LinkLife = TimeSpan.FromDays(7);

    /// <summary>The firm's people: those with access first, by name.</summary>
    /// <exception cref="NotAllowedException">The user is no owner.</exception>
    public async Task<IReadOnlyList<PersonLine>> PeopleOf(SignedIn who, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        await OwnersOnly(db, who, cancellation);
        var users = await db.Users.AsNoTracking().Where(u => u.FirmId == db.FirmId).ToListAsync(cancellation);
        var signedIn = await db.Audit.AsNoTracking().Where(a => a.Action == AuditTrail.SignedInAction)
            .GroupBy(a => a.EntityId).Select(acts => new { User = acts.Key, At = acts.Max(a => a.At) }).ToDictionaryAsync(a => a.User, a => a.At, cancellation);
        var ids = users.Select(u => u.Id).ToList();
        var passkeys = await db.Set<IdentityUserPasskey<Guid>>().AsNoTracking().Where(p => ids.Contains(p.UserId))
            .GroupBy(p => p.UserId).Select(keys => new { User = keys.Key, Count = keys.Count() }).ToDictionaryAsync(p => p.User, p => p.Count, cancellation);
        return
        [
            .. users.OrderBy(u => u.LeftAt is not null).ThenBy(u => u.DisplayName, StringComparer.OrdinalIgnoreCase).Select(u => new PersonLine(
                u.Id, u.DisplayName, u.Email ?? "", u.Role, u.LeftAt, signedIn.TryGetValue(u.Id, out var at) ? at : null, u.TwoFactorEnabled, passkeys.GetValueOrDefault(u.Id))),
        ];
    }

    /// <summary>Invitations whose links still work, the newest first.</summary>
    /// <exception cref="NotAllowedException">The user is no owner.</exception>
    public async Task<IReadOnlyList<InvitationLine>> OpenInvitations(SignedIn who, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        await OwnersOnly(db, who, cancellation);
        var now = time.UtcNow();
        return await db.Invitations.AsNoTracking()
            .Where(i => i.UsedAt == null && i.RevokedAt == null && i.ExpiresAt > now).OrderByDescending(i => i.CreatedAt)
            .Select(i => new InvitationLine(i.Id, i.ForWhom, i.Role, i.UserId, i.CreatedAt, i.ExpiresAt)).ToListAsync(cancellation);
    }

    /// <summary>Makes a link by which one person founds an account.</summary>
    /// <param name="who">An owner.</param>
    /// <param name="forWhom">Whom it is for, so that the right one can be withdrawn.</param>
    /// <param name="role">What the new account may do.</param>
    /// <param name="cancellation">Stops waiting.</param>
    /// <exception cref="NotAllowedException">The user is no owner.</exception>
    /// <exception cref="InvalidInputException">It is not said whom it is for, or there is no such role.</exception>
    public async Task<SentInvitation> Invite(SignedIn who, string? forWhom, DeskRole role, CancellationToken cancellation = default)
    {
        var check = new FieldChecks();
        var name = check.Text(nameof(FirmInvitation.ForWhom), forWhom, TextLimits.Name);
        check.That(Enum.IsDefined(role), nameof(FirmInvitation.Role), "Expected owner or consultant.");
        check.ThrowIfAny();
        await using var db = contexts.OpenFor(who.FirmId);
        await OwnersOnly(db, who, cancellation);
        return await Send(db, who, name, role, null, cancellation);
    }

    /// <summary>Makes a link by which somebody of the firm who lost password or second step sets a new password. Until it is used, nothing changes.</summary>
    /// <exception cref="NotAllowedException">The user is no owner.</exception>
    /// <exception cref="RecordNotFoundException">The firm has nobody with this id who has access.</exception>
    public async Task<SentInvitation> LetBackIn(SignedIn who, Guid userId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        await OwnersOnly(db, who, cancellation);
        var user = await db.Users.AsNoTracking().SingleOrDefaultAsync(u => u.Id == userId && u.FirmId == db.FirmId && u.LeftAt == null, cancellation)
            ?? throw new RecordNotFoundException("user", userId);
        return await Send(db, who, user.DisplayName, user.Role, user.Id, cancellation);
    }

    /// <summary>Withdraws an invitation at once. Withdrawing it again changes nothing.</summary>
    /// <exception cref="NotAllowedException">The user is no owner.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such invitation.</exception>
    /// <exception cref="RecordChangedException">It was used at this moment.</exception>
    public async Task Withdraw(SignedIn who, Guid invitationId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        await OwnersOnly(db, who, cancellation);
        var invitation = await db.Invitations.SingleOrDefaultAsync(i => i.Id == invitationId, cancellation) ?? throw new RecordNotFoundException("invitation", invitationId);
        if (invitation.UsedAt is not null)
        {
            throw new RecordChangedException("invitation", invitationId);
        }

        if (invitation.RevokedAt is not null)
        {
            return;
        }

        invitation.RevokedAt = time.UtcNow();
        db.Note(who, "invitation.revoked", "invitation", invitationId, invitation.RevokedAt.Value);
        await db.SaveOver(invitation, invitation.Version, "invitation", invitationId, cancellation);
    }

    /// <summary>Changes what a person may do. Their open pages end within the time a sign-in is asked again, and they sign in anew.</summary>
    /// <exception cref="NotAllowedException">The user is no owner.</exception>
    /// <exception cref="RecordNotFoundException">The firm has nobody with this id.</exception>
    /// <exception cref="LastOwnerException">It is the last owner.</exception>
    public Task ChangeRole(SignedIn who, Guid userId, DeskRole role, CancellationToken cancellation = default)
    {
        var check = new FieldChecks();
        check.That(Enum.IsDefined(role), nameof(DeskUser.Role), "Expected owner or consultant.");
        check.ThrowIfAny();
        return Change(who, userId, "user.role-changed", user => user.Role != role, (user, _) => user.Role = role, cancellation);
    }

    /// <summary>
    /// Takes access away. The name stays beside what the person did; links that let the account back in are withdrawn, and its open pages end within
    /// the time a sign-in is asked again.
    /// </summary>
    /// <exception cref="NotAllowedException">The user is no owner.</exception>
    /// <exception cref="RecordNotFoundException">The firm has nobody with this id.</exception>
    /// <exception cref="LastOwnerException">It is the last owner.</exception>
    public Task TakeAccess(SignedIn who, Guid userId, CancellationToken cancellation = default) =>
        Change(who, userId, "user.access-taken", user => user.LeftAt is null, (user, now) => user.LeftAt = now, cancellation);

    /// <summary>Gives access back, with the password and second step there were.</summary>
    /// <exception cref="NotAllowedException">The user is no owner.</exception>
    /// <exception cref="RecordNotFoundException">The firm has nobody with this id.</exception>
    public Task GiveAccess(SignedIn who, Guid userId, CancellationToken cancellation = default) =>
        Change(who, userId, "user.access-given", user => user.LeftAt is not null, (user, _) => user.LeftAt = null, cancellation);

    private async Task Change(SignedIn who, Guid userId, string action, Func<DeskUser, bool> due, Action<DeskUser, DateTime> change, CancellationToken cancellation)
    {
        const int Tries = 5;
        for (var attempt = 1; ; attempt++)
        {
            try
            {
                await ChangeOnce(who, userId, action, due, change, cancellation);
                return;
            }
            catch (Exception e) when (attempt < Tries && (e is DbUpdateConcurrencyException || Saving.WasSlower(e)))
            {
                // Two owners at once: the second looks again, and finds out whether an owner is left.
            }
        }
    }

    private async Task ChangeOnce(SignedIn who, Guid userId, string action, Func<DeskUser, bool> due, Action<DeskUser, DateTime> change, CancellationToken cancellation)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        // Two owners who take each other's role at the same moment would both see the other as the one who is left.
        await using var transaction = await db.Database.BeginTransactionAsync(IsolationLevel.Serializable, cancellation);
        await OwnersOnly(db, who, cancellation);
        var user = await db.Users.SingleOrDefaultAsync(u => u.Id == userId && u.FirmId == db.FirmId, cancellation) ?? throw new RecordNotFoundException("user", userId);
        if (!due(user))
        {
            return;
        }

        var now = time.UtcNow();
        change(user, now);
        if ((user.Role != DeskRole.Owner || user.LeftAt is not null)
            && !await db.Users.AnyAsync(u => u.FirmId == db.FirmId && u.Id != userId && u.Role == DeskRole.Owner && u.LeftAt == null, cancellation))
        {
            throw new LastOwnerException();
        }

        // A new stamp ends every sign-in of the account.
        user.SecurityStamp = NewStamp();
        user.ConcurrencyStamp = Guid.NewGuid().ToString();
        if (user.LeftAt is not null)
        {
            foreach (var invitation in await db.Invitations.Where(i => i.UserId == userId && i.UsedAt == null && i.RevokedAt == null).ToListAsync(cancellation))
            {
                invitation.RevokedAt = now;
            }
        }

        db.Note(who, action, "user", userId, now);
        await db.SaveChangesAsync(cancellation);
        await transaction.CommitAsync(cancellation);
    }

    private async Task<SentInvitation> Send(DeskContext db, SignedIn who, string forWhom, DeskRole role, Guid? userId, CancellationToken cancellation)
    {
        var token = LinkToken.New();
        var now = time.UtcNow();
        var invitation = new FirmInvitation
        {
            TokenSha256 = LinkToken.Hash(token),
            Role = role,
            ForWhom = forWhom,
            UserId = userId,
            CreatedAt = now,
            CreatedBy = who.UserId,
            ExpiresAt = now + LinkLife,
        };
        db.Invitations.Add(invitation);
        db.Note(who, userId is null ? "invitation.sent" : "invitation.back-in-sent", "invitation", invitation.Id, now);
        await db.SaveChangesAsync(cancellation);
        return new(invitation.Id, token, invitation.ExpiresAt);
    }

    internal static string NewStamp() => Convert.ToHexString(RandomNumberGenerator.GetBytes(20));

    // A sign-in carries its role until it is asked again; who was an owner a moment ago must not make themself one again.
    private static async Task OwnersOnly(DeskContext db, SignedIn who, CancellationToken cancellation)
    {
        if (who.Role != DeskRole.Owner
            || !await db.Users.AnyAsync(u => u.Id == who.UserId && u.FirmId == db.FirmId && u.Role == DeskRole.Owner && u.LeftAt == null, cancellation))
        {
            throw new NotAllowedException("Only an owner sees and changes the firm's people.");
        }
    }
}
