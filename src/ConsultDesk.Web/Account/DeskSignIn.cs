using System.Globalization;
using ConsultDesk.Records;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;

namespace ConsultDesk.Web.Account;

/// <summary>
/// Signing in as this desk wants it: no account whose access was taken away, no code of an authenticator twice, and wrong codes of
/// every kind count towards the lockout like wrong passwords.
/// </summary>
public sealed class DeskSignIn(
    UserManager<DeskUser> users,
    IHttpContextAccessor contexts,
    IUserClaimsPrincipalFactory<DeskUser> claims,
    IOptions<IdentityOptions> options,
    ILogger<SignInManager<DeskUser>> log,
    IAuthenticationSchemeProvider schemes,
    IUserConfirmation<DeskUser> confirmation,
    TimeProvider time)
    : SignInManager<DeskUser>(users, contexts, claims, options, log, schemes, confirmation)
{
    private const string TokenOwner = "ConsultDesk";
    private const string LastCode = "LastCode";

    /// <summary>Identity takes codes of five steps of 30 s, so one could come twice within 150 s.</summary>
    private static readonly TimeSpan CodeLife = TimeSpan.FromMinutes(5);

    /// <inheritdoc/>
    public override async Task<bool> CanSignInAsync(DeskUser user)
    {
        ArgumentNullException.ThrowIfNull(user);
        return user.LeftAt is null && await base.CanSignInAsync(user);
    }

    /// <summary>
    /// True for a code that fits the authenticator now, the first time it is shown: RFC 6238, 5.2 forbids a second. Of two who show it at
    /// the same moment the account's version lets one through.
    /// </summary>
    public async Task<bool> UseCodeAsync(DeskUser user, string typed)
    {
        var code = Clean(typed);
        if (code.Length == 0 || !await UserManager.VerifyTwoFactorTokenAsync(user, Options.Tokens.AuthenticatorTokenProvider, code))
        {
            return false;
        }

        var now = time.GetUtcNow();
        var used = (await UserManager.GetAuthenticationTokenAsync(user, TokenOwner, LastCode) ?? "").Split('@');
        if (used is [var before, var at] && before == code && now - DateTimeOffset.FromUnixTimeSeconds(long.Parse(at, CultureInfo.InvariantCulture)) < CodeLife)
        {
            return false;
        }

        return (await UserManager.SetAuthenticationTokenAsync(user, TokenOwner, LastCode, string.Create(CultureInfo.InvariantCulture, $"{code}@{now.ToUnixTimeSeconds()}"))).Succeeded;
    }

    /// <summary>The account that has shown its password and owes a code.</summary>
    /// <returns>Null when nobody has, or too long ago.</returns>
    public Task<DeskUser?> OwesCodeAsync() => GetTwoFactorAuthenticationUserAsync();

    /// <inheritdoc/>
    public override Task<SignInResult> TwoFactorAuthenticatorSignInAsync(string code, bool isPersistent, bool rememberClient) =>
        SecondStepAsync(user => UseCodeAsync(user, code), () => base.TwoFactorAuthenticatorSignInAsync(Clean(code), isPersistent, rememberClient));

    /// <inheritdoc/>
    public override Task<SignInResult> TwoFactorRecoveryCodeSignInAsync(string recoveryCode) =>
        SecondStepAsync(_ => Task.FromResult(true), () => base.TwoFactorRecoveryCodeSignInAsync(RecoveryCode(recoveryCode)));

    /// <inheritdoc/>
    public override async Task<SignInResult> PasskeySignInAsync(string credentialJson) =>
        await PasskeyAsync(credentialJson) is null ? SignInResult.Failed : SignInResult.Success;

    /// <summary>Signs the holder of a passkey in.</summary>
    /// <param name="credentialJson">What the device answered to the challenge.</param>
    /// <returns>The account; null when the answer does not fit, came without a challenge, or the account is locked or has no access.</returns>
    public async Task<DeskUser?> PasskeyAsync(string credentialJson)
    {
        var shown = await AnsweredAsync(() => PerformPasskeyAssertionAsync(credentialJson));
        if (shown is not { Succeeded: true } || await PreSignInCheck(shown.User) is not null)
        {
            return null;
        }

        // Keeps the key's counter: a copied key would show an old one.
        if (!(await UserManager.AddOrUpdatePasskeyAsync(shown.User, shown.Passkey)).Succeeded)
        {
            return null;
        }

        // The key is held and its holder verified by the device: two factors already.
        await SignInOrTwoFactorAsync(shown.User, isPersistent: false, loginProvider: null, bypassTwoFactor: true);
        return shown.User;
    }

    /// <summary>A new passkey; null when its answer does not fit, or came without a challenge.</summary>
    public async Task<UserPasskeyInfo?> NewPasskeyAsync(DeskUser user, string credentialJson)
    {
        ArgumentNullException.ThrowIfNull(user);
        var made = await AnsweredAsync(() => PerformPasskeyAttestationAsync(credentialJson));
        return made is { Succeeded: true } && made.UserEntity.Id == user.Id.ToString() ? made.Passkey : null;
    }

    private static async Task<T?> AnsweredAsync<T>(Func<Task<T>> look)
        where T : class
    {
        try
        {
            return await look();
        }
        catch (InvalidOperationException)
        {
            // Identity's word for an answer without a challenge: an old page, a second use, or somebody who tries.
            return null;
        }
    }

    /// <summary>True for the account's own password; a wrong one counts towards the lockout.</summary>
    public async Task<SignInResult> ConfirmAsync(DeskUser user, string? password) => await CheckPasswordSignInAsync(user, password ?? "", lockoutOnFailure: true);

    private async Task<SignInResult> SecondStepAsync(Func<DeskUser, Task<bool>> use, Func<Task<SignInResult>> signIn)
    {
        if (await OwesCodeAsync() is not { } user)
        {
            return SignInResult.Failed;
        }

        if (await PreSignInCheck(user) is { } refused)
        {
            return refused;
        }

        if (await use(user) && await signIn() is { Succeeded: true } signedIn)
        {
            return signedIn;
        }

        await UserManager.AccessFailedAsync(user);
        return await UserManager.IsLockedOutAsync(user) ? SignInResult.LockedOut : SignInResult.Failed;
    }

    private static string Clean(string? typed) => string.Concat((typed ?? "").Where(char.IsAsciiDigit));

    /// <summary>A recovery code as it was printed, however it was typed.</summary>
    private static string RecoveryCode(string? typed)
    {
        var letters = string.Concat((typed ?? "").Where(char.IsAsciiLetterOrDigit)).ToUpperInvariant();
        return letters.Length == 10 ? letters[..5] + "-" + letters[5..] : letters;
    }
}
