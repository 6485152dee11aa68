using ConsultDesk.Records;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Identity;

namespace ConsultDesk.Web.Account;

/// <summary>Asks for the code of the authenticator, or for a recovery code, after the password was right.</summary>
public partial class SignInCode(DeskSignIn signIn, AuditTrail audit, NavigationManager navigation)
{
    private string? _error;
    private bool _gone;

    [SupplyParameterFromForm]
    private CodeForm Input { get; set; } = default!;

    [SupplyParameterFromQuery]
    private string? ReturnUrl { get; set; }

    protected override async Task OnInitializedAsync()
    {
        Input ??= new();
        _gone = await signIn.OwesCodeAsync() is null;
    }

    private Task CodeAsync() => StepAsync(() => signIn.TwoFactorAuthenticatorSignInAsync(Input.Code ?? "", isPersistent: false, rememberClient: false), AccountAct.SignedIn);

    private Task RecoveryAsync() => StepAsync(() => signIn.TwoFactorRecoveryCodeSignInAsync(Input.Recovery ?? ""), AccountAct.RecoveryCodeUsed);

    private async Task StepAsync(Func<Task<SignInResult>> step, AccountAct act)
    {
        if (await signIn.OwesCodeAsync() is not { } user)
        {
            _gone = true;
            return;
        }

        var result = await step();
        if (result.Succeeded)
        {
            await audit.Account(user, act);
            if (act != AccountAct.SignedIn)
            {
                await audit.Account(user, AccountAct.SignedIn);
            }

            navigation.NavigateTo(SignIn.Target(ReturnUrl));
            return;
        }

        if (result.IsLockedOut)
        {
            await audit.Account(user, AccountAct.Locked);
        }

        _error = "That code does not fit or was used already, or the account is locked for a few minutes after too many tries.";
    }
}

/// <summary>What is typed in the second step.</summary>
public sealed class CodeForm
{
    /// <summary>Code of the authenticator.</summary>
    public string? Code { get; set; }

    /// <summary>A recovery code.</summary>
    public string? Recovery { get; set; }
}
