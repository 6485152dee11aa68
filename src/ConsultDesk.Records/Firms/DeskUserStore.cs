using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Identity.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>
/// The account tables, with what must be read again but by nobody else (the authenticator's key, the recovery codes) sealed with
/// the server's keys. Identity itself would write both as they are.
/// </summary>
public sealed class DeskUserStore(DeskContext context, IDataProtectionProvider keys, IdentityErrorDescriber? describer = null)
    : UserStore<DeskUser, IdentityRole<Guid>, DeskContext, Guid>(context, describer)
{
    private readonly IDataProtector _seal = keys.CreateProtector("ConsultDesk.AccountTokens");

    /// <inheritdoc/>
    public override Task SetTokenAsync(DeskUser user, string loginProvider, string name, string? value, CancellationToken cancellationToken) =>
        base.SetTokenAsync(user, loginProvider, name, value is null ? null : _seal.Protect(value), cancellationToken);

    /// <inheritdoc/>
    public override async Task<string?> GetTokenAsync(DeskUser user, string loginProvider, string name, CancellationToken cancellationToken) =>
        await base.GetTokenAsync(user, loginProvider, name, cancellationToken) is { } sealedValue ? _seal.Unprotect(sealedValue) : null;
}
