using ConsultDesk.Records;
using Microsoft.AspNetCore.Components;

namespace ConsultDesk.Web.Account;

/// <summary>Founds an account by invitation, or lets one back in.</summary>
public partial class JoinPage(InvitationDoor door, DeskSignIn signIn, AuditTrail audit, NavigationManager navigation)
{
    private readonly Dictionary<string, string> _errors = new(StringComparer.Ordinal);
    private OpenedInvitation? _invitation;

    [Parameter]
    public string? Token { get; set; }

    [CascadingParameter]
    private HttpContext HttpContext { get; set; } = default!;

    [SupplyParameterFromForm]
    private JoinForm Input { get; set; } = default!;

    private string Head => _invitation!.Email is null ? "Join the desk" : "Back to your account";

    private string PasswordHint => FormattableString.Invariant($"At least {signIn.Options.Password.RequiredLength} characters; a few words that belong together only to you");

    protected override async Task OnInitializedAsync()
    {
        Input ??= new();
        _invitation = await door.Open(Token, HttpContext.RequestAborted);
        if (_invitation is null)
        {
            HttpContext.Response.StatusCode = StatusCodes.Status404NotFound;
        }
    }

    private string? Error(string field) => _errors.GetValueOrDefault(field);

    private async Task JoinAsync()
    {
        if (_invitation is null)
        {
            return;
        }

        if (Input.Again != Input.Password)
        {
            _errors[nameof(Input.Again)] = "Expected the same password again.";
            return;
        }

        try
        {
            if (await door.Accept(Token, new(Input.OwnerName, Input.Email, Input.Password), HttpContext.RequestAborted) is not { } user)
            {
                _invitation = null;
                HttpContext.Response.StatusCode = StatusCodes.Status404NotFound;
                return;
            }

            await signIn.SignInAsync(user, isPersistent: false);
            await audit.Account(user, AccountAct.SignedIn);
            navigation.NavigateTo("/");
        }
        catch (InvalidInputException refused)
        {
            foreach (var problem in refused.Errors)
            {
                _errors.TryAdd(problem.Field, problem.Message);
            }
        }
    }
}

/// <summary>What is typed to join.</summary>
public sealed class JoinForm
{
    /// <summary>Name of the person.</summary>
    public string? OwnerName { get; set; }

    /// <summary>Address to sign in with.</summary>
    public string? Email { get; set; }

    /// <summary>The password.</summary>
    public string? Password { get; set; }

    /// <summary>The same again.</summary>
    public string? Again { get; set; }
}
