using System.Data;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>An invitation as its holder sees it.</summary>
/// <param name="FirmName">The firm that invites.</param>
/// <param name="Role">What the account may do.</param>
/// <param name="ExpiresAt">When the link stops working, UTC.</param>
/// <param name="Email">Address of the account that is let back in; null for a new account.</param>
public sealed record OpenedInvitation(string FirmName, DeskRole Role, DateTime ExpiresAt, string? Email);

/// <summary>
/// What the holder of an invitation does with it, without an account. Scoped, because it shares the context of Identity's user store.
/// </summary>
public sealed class InvitationDoor(DeskContext db, FirmContexts contexts, UserManager<DeskUser> users, TimeProvider time)
{
    /// <summary>The invitation of a link; null when the link does not work, whatever the reason.</summary>
    public async Task<OpenedInvitation?> Open(string? token, CancellationToken cancellation = default)
    {
        if (await Find(token, cancellation) is not { } found)
        {
            return null;
        }

        await using var firm = contexts.OpenFor(found.FirmId);
        var name = await firm.Firms.Select(f => f.Name).SingleAsync(cancellation);
        var account = found.UserId is { } id ? await firm.Users.Where(u => u.Id == id && u.LeftAt == null).Select(u => u.Email).SingleOrDefaultAsync(cancellation) : null;
        return found.UserId is not null && account is null ? null : new(name, found.Role, found.ExpiresAt, account);
    }

    /// <summary>
    /// Uses the invitation: founds the account, or gives the account that is let back in a new password and takes its passkeys, authenticator and
    /// recovery codes away, because whoever lost the one may have lost the other. Both or neither, and once.
    /// </summary>
    /// <returns>The account; null when the link does not work any more.</returns>
    /// <exception cref="InvalidInputException">Fields are wrong; all of them are named.</exception>
    public async Task<DeskUser?> Accept(string? token, OwnerInput input, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(input);
        if (await Find(token, cancellation) is not { } found)
        {
            return null;
        }

        db.FirmId = found.FirmId;
        try
        {
            await using var transaction = await db.Database.BeginTransactionAsync(IsolationLevel.Serializable, cancellation);
            var invitation = await db.Invitations.SingleAsync(i => i.Id == found.Id, cancellation);
            if (!Works(invitation.UsedAt, invitation.RevokedAt, invitation.ExpiresAt))
            {
                return null;
            }

            var user = invitation.UserId is { } known
                ? await db.Users.SingleOrDefaultAsync(u => u.Id == known && u.FirmId == found.FirmId && u.LeftAt == null, cancellation)
                : new DeskUser { Id = Guid.CreateVersion7(time.GetUtcNow()), FirmId = found.FirmId, Role = invitation.Role };
            if (user is null)
            {
                return null;
            }

            var isNew = invitation.UserId is null;
            await Check(user, input, isNew);
            var now = time.UtcNow();
            (invitation.UsedAt, invitation.ForWhom) = (now, "");
            db.Audit.Add(new AuditRow { At = now, UserId = user.Id, Action = isNew ? "user.joined" : "user.let-back-in", EntityKind = "user", EntityId = user.Id });
            if (isNew)
            {
                Refuse(await users.CreateAsync(user, input.Password!));
            }
            else
            {
                db.UserTokens.RemoveRange(db.UserTokens.Where(t => t.UserId == user.Id));
                db.RemoveRange(db.Set<IdentityUserPasskey<Guid>>().Where(p => p.UserId == user.Id));
                (user.TwoFactorEnabled, user.AccessFailedCount, user.LockoutEnd) = (false, 0, null);
                user.PasswordHash = users.PasswordHasher.HashPassword(user, input.Password!);
                Refuse(await users.UpdateSecurityStampAsync(user));
            }

            await transaction.CommitAsync(cancellation);
            return user;
        }
        catch (Exception e) when (e is DbUpdateConcurrencyException || Saving.WasSlower(e))
        {
            // Somebody used or withdrew it at this moment.
            return null;
        }
    }

    private async Task Check(DeskUser user, OwnerInput input, bool isNew)
    {
        var check = new FieldChecks();
        if (isNew)
        {
            user.DisplayName = check.Text(nameof(input.OwnerName), input.OwnerName, TextLimits.Name);
            user.Email = user.UserName = check.Text(nameof(input.Email), input.Email, TextLimits.Email);
        }

        foreach (var problem in await AccountRules.Refusals(users, user, input.Password ?? ""))
        {
            check.That(false, problem.Field, problem.Message);
        }

        if (isNew && user.Email!.Length > 0)
        {
            check.That(await users.FindByEmailAsync(user.Email) is null, nameof(input.Email), "There is an account with this address on this desk already. Sign in with it, or give another address.");
        }

        check.ThrowIfAny();
    }

    private static void Refuse(IdentityResult made)
    {
        if (!made.Succeeded)
        {
            throw new InvalidOperationException("The account was refused: " + string.Join(" ", made.Errors.Select(e => e.Code)));
        }
    }

    private bool Works(DateTime? usedAt, DateTime? revokedAt, DateTime expiresAt) => usedAt is null && revokedAt is null && expiresAt > time.UtcNow();

    private async Task<(Guid Id, Guid FirmId, DeskRole Role, Guid? UserId, DateTime ExpiresAt)?> Find(string? token, CancellationToken cancellation)
    {
        if (token is not { Length: LinkToken.Length })
        {
            return null;
        }

        var hash = LinkToken.Hash(token);
        await using var nobody = contexts.OpenForNobody();
        // The index is searched by hash, so its timing tells nothing about a token.
        var row = await nobody.Invitations.AsNoTracking().IgnoreQueryFilters([DeskContext.FirmFilter]).Where(i => i.TokenSha256 == hash)
            .Select(i => new { i.Id, i.FirmId, i.TokenSha256, i.Role, i.UserId, i.UsedAt, i.RevokedAt, i.ExpiresAt }).SingleOrDefaultAsync(cancellation);
        return row is null || !CryptographicOperations.FixedTimeEquals(row.TokenSha256, hash) || !Works(row.UsedAt, row.RevokedAt, row.ExpiresAt)
            ? null
            : (row.Id, row.FirmId, row.Role, row.UserId, row.ExpiresAt);
    }
}
