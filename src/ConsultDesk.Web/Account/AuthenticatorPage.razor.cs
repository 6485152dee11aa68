using System.Globalization;
using System.Text;
using ConsultDesk.Records;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Identity;
using QRCoder;

namespace ConsultDesk.Web.Account;

/// <summary>Sets an authenticator up, makes recovery codes, and turns it off again.</summary>
public partial class AuthenticatorPage(DeskSignIn signIn, OwnAccount own, AuditTrail audit, NavigationManager navigation)
{
    /// <summary>Recovery codes that are made at once (own choice).</summary>
    internal const int RecoveryCodes = 10;

    private DeskUser? _user;
    private IReadOnlyList<string>? _codes;
    private bool _isNew;
    private int _codesLeft;
    private string? _key;
    private string? _qr;
    private int _qrSize;
    private string? _error;

    [CascadingParameter]
    private HttpContext HttpContext { get; set; } = default!;

    [SupplyParameterFromForm]
    private AccountForm Input { get; set; } = default!;

    private UserManager<DeskUser> Users => signIn.UserManager;

    protected override async Task OnInitializedAsync()
    {
        Input ??= new();
        _user = await Users.GetUserAsync(HttpContext.User);
        if (_user is null)
        {
            navigation.NavigateTo("/sign-in");
            return;
        }

        _codesLeft = await Users.CountRecoveryCodesAsync(_user);
        // The key stands on the page again while its first code is awaited.
        if (Input.Code is not null && !_user.TwoFactorEnabled && await Users.GetAuthenticatorKeyAsync(_user) is not null)
        {
            await ShowKeyAsync();
        }
    }

    private async Task BeginAsync()
    {
        if (_user!.TwoFactorEnabled || !await IsConfirmedAsync())
        {
            return;
        }

        await Users.ResetAuthenticatorKeyAsync(_user);
        await signIn.RefreshSignInAsync(_user);
        await ShowKeyAsync();
    }

    private async Task ConfirmAsync()
    {
        if (_user!.TwoFactorEnabled || await Users.GetAuthenticatorKeyAsync(_user) is null)
        {
            return;
        }

        if (!await signIn.UseCodeAsync(_user, Input.Code ?? ""))
        {
            _error = "That code does not fit. Look whether the phone's clock is right, and type the code it shows now.";
            return;
        }

        await own.Change(_user, AccountAct.AuthenticatorOn, async () =>
        {
            AccountPage.Must(await Users.SetTwoFactorEnabledAsync(_user, true));
            await MakeCodesAsync();
        });
        await signIn.RefreshSignInAsync(_user);
        _isNew = true;
    }

    private async Task NewCodesAsync()
    {
        if (!_user!.TwoFactorEnabled || !await IsConfirmedAsync())
        {
            return;
        }

        await own.Change(_user, AccountAct.RecoveryCodesMade, MakeCodesAsync);
    }

    private async Task TurnOffAsync()
    {
        if (!_user!.TwoFactorEnabled || !await IsConfirmedAsync())
        {
            return;
        }

        await own.Change(_user, AccountAct.AuthenticatorOff, async () =>
        {
            AccountPage.Must(await Users.SetTwoFactorEnabledAsync(_user, false));
            // The old key must not come back with the next set-up, nor the codes.
            AccountPage.Must(await Users.ResetAuthenticatorKeyAsync(_user));
            await Users.GenerateNewTwoFactorRecoveryCodesAsync(_user, 0);
        });
        await signIn.RefreshSignInAsync(_user);
        navigation.NavigateTo("/account");
    }

    private async Task MakeCodesAsync() => _codes = [.. (await Users.GenerateNewTwoFactorRecoveryCodesAsync(_user!, RecoveryCodes))!];

    private async Task<bool> IsConfirmedAsync()
    {
        var confirmed = await signIn.ConfirmAsync(_user!, Input.Current);
        if (confirmed.IsLockedOut)
        {
            await audit.Account(_user!, AccountAct.Locked);
        }

        _error = confirmed.Succeeded ? null : AccountPage.WrongPassword;
        return confirmed.Succeeded;
    }

    private async Task ShowKeyAsync()
    {
        var key = (await Users.GetAuthenticatorKeyAsync(_user!))!;
        _key = string.Join(' ', key.ToLowerInvariant().Chunk(4).Select(group => new string(group)));
        (_qr, _qrSize) = Draw(Address(_user!.Email!, key));
    }

    /// <summary>The address authenticator apps read. Name and key are all there is in it; six digits every 30 s are what they take when nothing is said.</summary>
    internal static string Address(string email, string key) =>
        $"otpauth://totp/ConsultDesk:{Uri.EscapeDataString(email)}?secret={key}&issuer=ConsultDesk&digits=6&period=30";

    /// <summary>A QR code as one path of squares, the margin of four squares that ISO/IEC 18004 asks for included.</summary>
    internal static (string Path, int Size) Draw(string text)
    {
        using var code = QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.M);
        var path = new StringBuilder();
        var rows = code.ModuleMatrix;
        for (var y = 0; y < rows.Count; y++)
        {
            for (var x = 0; x < rows[y].Count; x++)
            {
                if (rows[y][x])
                {
                    path.Append(CultureInfo.InvariantCulture, $"M{x} {y}h1v1h-1z");
                }
            }
        }

        return (path.ToString(), rows.Count);
    }
}
