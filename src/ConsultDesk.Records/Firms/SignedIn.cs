using System.Security.Claims;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;

namespace ConsultDesk.Records;

/// <summary>Who asks or acts, and for which firm. Every question and command takes one.</summary>
/// <param name="FirmId">The firm whose rows are seen.</param>
/// <param name="UserId">The account.</param>
/// <param name="Name">Display name.</param>
/// <param name="Role">What the user may do.</param>
public sealed record SignedIn(Guid FirmId, Guid UserId, string Name, DeskRole Role)
{
    /// <summary>Reads the claims that <see cref="DeskClaims"/> put into the sign-in cookie.</summary>
    /// <returns>Null for an anonymous visitor.</returns>
    /// <exception cref="InvalidOperationException">Signed in, but without the claims of an account of ours.</exception>
    public static SignedIn? From(ClaimsPrincipal principal)
    {
        ArgumentNullException.ThrowIfNull(principal);
        if (principal.Identity is not { IsAuthenticated: true })
        {
            return null;
        }

        string Claim(string type) => principal.FindFirstValue(type)
            ?? throw new InvalidOperationException($"The sign-in has no claim '{type}'.");

        return new(
            Guid.Parse(Claim(DeskClaims.Firm)),
            Guid.Parse(Claim(ClaimTypes.NameIdentifier)),
            Claim(DeskClaims.DisplayName),
            Enum.Parse<DeskRole>(Claim(ClaimTypes.Role)));
    }

    /// <summary>Refuses whoever signed in as no owner.</summary>
    /// <param name="act">What only an owner does, for example <c>reads the audit</c>.</param>
    /// <exception cref="NotAllowedException">The user is no owner.</exception>
    internal void RequireOwner(string act)
    {
        if (Role != DeskRole.Owner)
        {
            throw new NotAllowedException($"Only an owner {act}.");
        }
    }
}

/// <summary>Puts firm, display name and role of a <see cref="DeskUser"/> into the sign-in.</summary>
public sealed class DeskClaims(UserManager<DeskUser> users, IOptions<IdentityOptions> options)
    : UserClaimsPrincipalFactory<DeskUser>(users, options)
{
    /// <summary>Claim with the id of the firm.</summary>
    public const string Firm = "desk:firm";

    /// <summary>Claim with the display name.</summary>
    public const string DisplayName = "desk:name";

    /// <inheritdoc/>
    protected override async Task<ClaimsIdentity> GenerateClaimsAsync(DeskUser user)
    {
        var identity = await base.GenerateClaimsAsync(user);
        identity.AddClaim(new(Firm, user.FirmId.ToString()));
        identity.AddClaim(new(DisplayName, user.DisplayName));
        identity.AddClaim(new(ClaimTypes.Role, user.Role.ToString()));
        return identity;
    }
}

/// <summary>Names of the firm's users, for "saved by".</summary>
internal static class UserNames
{
    /// <summary>Shown for an account that no longer exists.</summary>
    public const string Gone = "a former user";

    public static async Task<Dictionary<Guid, string>> NamesOf(this DeskContext db, IEnumerable<Guid> ids, CancellationToken cancellation)
    {
        var wanted = ids.Distinct().ToList();
        return await db.Users
            .Where(u => u.FirmId == db.FirmId && wanted.Contains(u.Id))
            .ToDictionaryAsync(u => u.Id, u => u.DisplayName, cancellation);
    }
}
