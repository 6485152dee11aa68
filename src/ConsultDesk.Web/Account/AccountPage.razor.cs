using System.Buffers.Text;
using ConsultDesk.Records;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Identity;

namespace ConsultDesk.Web.Account;

/// <summary>One's own account: passkeys, authenticator, password, and the way out everywhere.</summary>
public partial class AccountPage(DeskSignIn signIn, OwnAccount own, AuditTrail audit, NavigationManager navigation)
{
    /// <summary>Said for a password that is not the account's, and for a locked account.</summary>
    internal const string WrongPassword = "That is not your password, or the account is locked for a few minutes after too many tries.";

    /// <summary>Said when there is no room for another passkey.</summary>
    internal static readonly string TooManyPasskeys = FormattableString.Invariant($"An account has at most {MostPasskeys} passkeys. Remove one first.");

    /// <summary>Most passkeys of one account (own choice): more are never found again.</summary>
    internal const int MostPasskeys = 20;

    private const int LongestKeyName = 100;

    private readonly Dictionary<string, string> _errors = new(StringComparer.Ordinal);
    private DeskUser? _user;
    private IReadOnlyList<UserPasskeyInfo> _passkeys = [];
    private int _codesLeft;
    private string? _news;
    private string? _error;

    [CascadingParameter]
    private HttpContext HttpContext { get; set; } = default!;

    [SupplyParameterFromForm]
    private AccountForm Input { get; set; } = default!;

    private UserManager<DeskUser> Users => signIn.UserManager;

    private string PasswordHint => FormattableString.Invariant($"At least {Users.Options.Password.RequiredLength} characters; a few words that belong together only to you");

    protected override async Task OnInitializedAsync()
    {
        Input ??= new();
        _user = await Users.GetUserAsync(HttpContext.User);
        await ReadAsync();
    }

    private static string IdOf(UserPasskeyInfo key) => Base64Url.EncodeToString(key.CredentialId);

    private string? Error(string field) => _errors.GetValueOrDefault(field);

    private async Task ReadAsync()
    {
        if (_user is null)
        {
            navigation.NavigateTo("/sign-in");
            return;
        }

        _passkeys = [.. (await Users.GetPasskeysAsync(_user)).OrderBy(key => key.CreatedAt)];
        _codesLeft = await Users.CountRecoveryCodesAsync(_user);
    }

    private async Task ChangePasswordAsync()
    {
        var confirmed = await signIn.ConfirmAsync(_user!, Input.Current);
        if (!confirmed.Succeeded)
        {
            await NoteLockAsync(confirmed);
            _errors[nameof(Input.Current)] = WrongPassword;
        }

        foreach (var problem in await AccountRules.PasswordRefusals(Users, _user!, Input.Password ?? ""))
        {
            _errors.TryAdd(nameof(Input.Password), problem.Message);
        }

        if (Input.Password != Input.Again)
        {
            _errors[nameof(Input.Again)] = "Expected the same password again.";
        }

        if (_errors.Count > 0)
        {
            _error = "Nothing was changed. Look at the fields under Password.";
            return;
        }

        await ChangeAsync(AccountAct.PasswordChanged, () => Users.ChangePasswordAsync(_user!, Input.Current!, Input.Password!));
        await signIn.RefreshSignInAsync(_user!);
        _news = "The password is changed. Other places you were signed in are signed out.";
    }

    private async Task AddPasskeyAsync()
    {
        if (string.IsNullOrEmpty(Input.Credential))
        {
            _error = "No passkey came with the form. Try once more.";
            return;
        }

        if (await signIn.NewPasskeyAsync(_user!, Input.Credential) is not { } made || (await Users.GetPasskeysAsync(_user!)).Count >= MostPasskeys)
        {
            _error = "That passkey could not be taken: the page had stood open too long, or the device answered something else. Try once more.";
            return;
        }

        made.Name = Name(Input.KeyName);
        await ChangeAsync(AccountAct.PasskeyAdded, () => Users.AddOrUpdatePasskeyAsync(_user!, made));
        _news = $"The passkey “{made.Name}” is kept.";
        await ReadAsync();
    }

    private async Task ChangePasskeyAsync()
    {
        if (Input.KeyId is not { } typed || !Base64Url.IsValid(typed) || await Users.GetPasskeyAsync(_user!, Base64Url.DecodeFromChars(typed)) is not { } key)
        {
            _error = "That passkey is gone already.";
            return;
        }

        if (Input.KeyAct == "remove")
        {
            await ChangeAsync(AccountAct.PasskeyRemoved, () => Users.RemovePasskeyAsync(_user!, key.CredentialId));
            _news = $"The passkey “{key.Name}” opens the desk no more. Delete it on its device too.";
        }
        else
        {
            key.Name = Name(Input.KeyName);
            await ChangeAsync(AccountAct.PasskeyNamed, () => Users.AddOrUpdatePasskeyAsync(_user!, key));
            _news = "The name is saved.";
        }

        await ReadAsync();
    }

    private async Task EverywhereAsync()
    {
        await ChangeAsync(AccountAct.SignedOutEverywhere, () => Users.UpdateSecurityStampAsync(_user!));
        await signIn.SignOutAsync();
        navigation.NavigateTo("/sign-in");
    }

    private async Task NoteLockAsync(SignInResult result)
    {
        if (result.IsLockedOut)
        {
            await audit.Account(_user!, AccountAct.Locked);
        }
    }

    private Task ChangeAsync(AccountAct act, Func<Task<IdentityResult>> change) => own.Change(_user!, act, async () => Must(await change()));

    private static string Name(string? typed) => typed?.Trim() is { Length: > 0 } name ? name[..Math.Min(name.Length, LongestKeyName)] : "A passkey";

    internal static void Must(IdentityResult result)
    {
        if (!result.Succeeded)
        {
            throw new InvalidOperationException("The account was not changed: " + string.Join(" ", result.Errors.Select(e => e.Code)));
        }
    }
}

/// <summary>What is typed about one's own account.</summary>
public sealed class AccountForm
{
    /// <summary>The password as it is.</summary>
    public string? Current { get; set; }

    /// <summary>The password as it is to be.</summary>
    public string? Password { get; set; }

    /// <summary>The same again.</summary>
    public string? Again { get; set; }

    /// <summary>Name of a passkey.</summary>
    public string? KeyName { get; set; }

    /// <summary>Id of a passkey, base64url.</summary>
    public string? KeyId { get; set; }

    /// <summary>What to do with it: name or remove.</summary>
    public string? KeyAct { get; set; }

    /// <summary>What a new passkey answered, as JSON.</summary>
    public string? Credential { get; set; }

    /// <summary>Code of the authenticator.</summary>
    public string? Code { get; set; }
}
