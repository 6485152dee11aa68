using ConsultDesk.Records;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Identity;

namespace ConsultDesk.Web.Account;

/// <summary>The sign-in page: plain HTML, because a cookie cannot be set over a live connection.</summary>
public partial class SignIn(DeskSignIn signIn, AuditTrail audit, NavigationManager navigation)
{
    /// <summary>One answer for a wrong address, a wrong password and a locked account: none of the three is given away.</summary>
    private const string Refused =
        "That e-mail address and password do not go together, or the account is locked for a few minutes after too many tries.";

    /// <summary>Hash of a password nobody has, so that an unknown address or a locked account takes as long to refuse as any other.</summary>
    private static readonly string NobodysHash = new PasswordHasher<DeskUser>().HashPassword(new DeskUser(), Guid.NewGuid().ToString());

    private string? _error;
    private bool _sent;
    private bool _toSetUp;

    [CascadingParameter]
    private HttpContext HttpContext { get; set; } = default!;

    [SupplyParameterFromForm]
    private SignInForm Input { get; set; } = default!;

    [SupplyParameterFromQuery]
    private string? ReturnUrl { get; set; }

    [Inject]
    private SetUpDoor Door { get; set; } = default!;

    protected override async Task OnInitializedAsync()
    {
        Input ??= new();
        _toSetUp = await Door.IsOpenAsync(HttpContext.RequestAborted);
        if (HttpMethods.IsGet(HttpContext.Request.Method) && HttpContext.User.Identity is { IsAuthenticated: true })
        {
            navigation.NavigateTo(Target(ReturnUrl));
        }
    }

    private bool Missing(string? value) => _sent && string.IsNullOrWhiteSpace(value);

    private async Task SignInAsync()
    {
        _sent = true;
        if (string.IsNullOrWhiteSpace(Input.Email) || string.IsNullOrWhiteSpace(Input.Password))
        {
            return;
        }

        var user = await signIn.UserManager.FindByEmailAsync(Input.Email.Trim());
        // A locked account is refused before its password is looked at, which would be quicker and so give it away.
        if (user is null || user.LeftAt is not null || await signIn.UserManager.IsLockedOutAsync(user))
        {
            signIn.UserManager.PasswordHasher.VerifyHashedPassword(new DeskUser(), NobodysHash, Input.Password);
            _error = Refused;
            return;
        }

        var result = await signIn.PasswordSignInAsync(user, Input.Password, isPersistent: false, lockoutOnFailure: true);
        if (result.Succeeded)
        {
            await audit.Account(user, AccountAct.SignedIn);
            navigation.NavigateTo(Target(ReturnUrl));
            return;
        }

        if (result.RequiresTwoFactor)
        {
            navigation.NavigateTo("/sign-in/code?returnUrl=" + Uri.EscapeDataString(Target(ReturnUrl)));
            return;
        }

        if (result.IsLockedOut)
        {
            await audit.Account(user, AccountAct.Locked);
        }

        _error = Refused;
    }

    private async Task PasskeyAsync()
    {
        if (string.IsNullOrEmpty(Input.Credential) || await signIn.PasskeyAsync(Input.Credential) is not { } user)
        {
            _error = "That passkey does not open an account here, or took too long, or the account is locked for a few minutes.";
            return;
        }

        await audit.Account(user, AccountAct.SignedIn);
        navigation.NavigateTo(Target(ReturnUrl));
    }

    /// <summary>Only a path of this desk: anything else would send a person who just signed in to a stranger's page.</summary>
    internal static string Target(string? returnUrl) =>
        returnUrl is ['/', ..] and not ['/', '/' or '\\', ..] && Uri.IsWellFormedUriString(returnUrl, UriKind.Relative) ? returnUrl : "/";
}

/// <summary>What is typed to sign in.</summary>
public sealed class SignInForm
{
    /// <summary>Address of the account.</summary>
    public string? Email { get; set; }

    /// <summary>Its password.</summary>
    public string? Password { get; set; }

    /// <summary>What a passkey answered, as JSON.</summary>
    public string? Credential { get; set; }
}
