using ConsultDesk.Records;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Components.Server;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;

namespace ConsultDesk.Web.Account;

/// <summary>
/// Asks again, while a live page is open, whether the account is still the one that signed in: a live connection
/// outlives its cookie, and a changed password must end it.
/// </summary>
internal sealed class RevalidatingSignIn(ILoggerFactory logs, IServiceScopeFactory scopes, IOptions<IdentityOptions> options, IOptions<SecurityStampValidatorOptions> asked)
    : RevalidatingServerAuthenticationStateProvider(logs)
{
    /// <summary>
    /// How long a page may outlive its sign-in (own choice), open pages and cookies alike. It is also how long somebody whose access was taken
    /// away can go on, so not the half hour that is usual; it costs one small query a minute for each open page. The setting <c>SignIn:AskedAgain</c>
    /// may shorten it.
    /// </summary>
    public static readonly TimeSpan Interval = TimeSpan.FromMinutes(1);

    protected override TimeSpan RevalidationInterval => asked.Value.ValidationInterval;

    protected override async Task<bool> ValidateAuthenticationStateAsync(AuthenticationState authenticationState, CancellationToken cancellationToken)
    {
        // A scope of its own: the circuit's would keep one database context for hours.
        await using var scope = scopes.CreateAsyncScope();
        var users = scope.ServiceProvider.GetRequiredService<UserManager<DeskUser>>();
        var user = await users.GetUserAsync(authenticationState.User);
        var claimed = authenticationState.User.FindFirst(options.Value.ClaimsIdentity.SecurityStampClaimType)?.Value;
        return user is { LeftAt: null } && claimed == await users.GetSecurityStampAsync(user);
    }
}
