using System.Globalization;
using ConsultDesk.Records;
using ConsultDesk.Web.Shell;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Identity;

namespace ConsultDesk.Web.Account;

/// <summary>Signing in and out with a cookie.</summary>
internal static class AccountRegistration
{
    /// <summary>Wrong passwords in a row after which an account is locked.</summary>
    public const int AttemptsBeforeLockout = 5;

    /// <summary>How long a locked account stays locked.</summary>
    public static readonly TimeSpan LockoutTime = TimeSpan.FromMinutes(10);

    /// <summary>Address of what a passkey is asked to sign in.</summary>
    public const string PasskeyPath = "/sign-in/passkey";

    /// <summary>Address of what a new passkey is asked to sign.</summary>
    public const string NewPasskeyPath = "/account/passkey";

    /// <exception cref="StartRefusedException">A setting cannot be used.</exception>
    public static void AddAccount(this WebApplicationBuilder builder)
    {
        var services = builder.Services;
        var askedAgain = AskedAgain(builder.Configuration["SignIn:AskedAgain"]);
        services.AddSingleton<SetUpDoor>();
        services.AddCascadingAuthenticationState();
        services.AddScoped<AuthenticationStateProvider, RevalidatingSignIn>();
        services.AddAuthentication(IdentityConstants.ApplicationScheme).AddIdentityCookies();
        services.AddIdentityCore<DeskUser>(identity =>
        {
            identity.Password.RequiredLength = 12;
            // Length is what counts; forced symbols only make people write passwords down.
            identity.Password.RequireDigit = false;
            identity.Password.RequireLowercase = false;
            identity.Password.RequireUppercase = false;
            identity.Password.RequireNonAlphanumeric = false;
            identity.Lockout.MaxFailedAccessAttempts = AttemptsBeforeLockout;
            identity.Lockout.DefaultLockoutTimeSpan = LockoutTime;
        })
            .AddEntityFrameworkStores<DeskContext>()
            .AddTokenProvider<AuthenticatorTokenProvider<DeskUser>>(TokenOptions.DefaultAuthenticatorProvider)
            .AddSignInManager<DeskSignIn>();
        services.Configure<IdentityPasskeyOptions>(passkeys =>
        {
            // Left out, the host name of the request is taken.
            passkeys.ServerDomain = builder.Configuration["Passkeys:Domain"];
            // A passkey counts as two factors only when the device verified its holder; and it must be found without a name typed first.
            passkeys.UserVerificationRequirement = "required";
            passkeys.ResidentKeyRequirement = "required";
        });
        services.Configure<SecurityStampValidatorOptions>(stamp => stamp.ValidationInterval = askedAgain);

        // Over plain http on this machine a Secure cookie would never come back.
        var development = builder.Environment.IsDevelopment();
        var secure = development ? CookieSecurePolicy.SameAsRequest : CookieSecurePolicy.Always;
        var prefix = development ? "" : "__Host-";
        services.ConfigureApplicationCookie(options =>
        {
            options.Cookie.Name = prefix + "desk-sign-in";
            options.Cookie.SecurePolicy = secure;
            options.Cookie.HttpOnly = true;
            options.Cookie.SameSite = SameSiteMode.Lax;
            options.LoginPath = "/sign-in";
            options.ReturnUrlParameter = "returnUrl";
            options.ExpireTimeSpan = TimeSpan.FromHours(12);
            options.SlidingExpiration = true;
            // Signed in, but not allowed: signing in again would not help, and would lead back here for ever.
            options.Events.OnRedirectToAccessDenied = static denied =>
            {
                denied.Response.StatusCode = StatusCodes.Status403Forbidden;
                return Task.CompletedTask;
            };
        });
        // Carries who owes a code, and the challenge a passkey has to answer.
        services.Configure<CookieAuthenticationOptions>(IdentityConstants.TwoFactorUserIdScheme, options =>
        {
            options.Cookie.Name = prefix + "desk-second-step";
            options.Cookie.SecurePolicy = secure;
            options.Cookie.HttpOnly = true;
            options.Cookie.SameSite = SameSiteMode.Strict;
        });
        services.AddAntiforgery(options =>
        {
            options.Cookie.Name = prefix + "desk-form";
            options.Cookie.SecurePolicy = secure;
        });
    }

    /// <summary>The challenges of passkeys. Both are forms with their token, posted by the script of the page.</summary>
    public static void MapAccount(this IEndpointRouteBuilder app)
    {
        app.MapPost(PasskeyPath, async (IFormCollection _, DeskSignIn signIn) =>
                Results.Text(await signIn.MakePasskeyRequestOptionsAsync(null), "application/json"))
            .AllowAnonymous()
            .RequireRateLimiting(RequestLimits.SignIn);

        app.MapPost(NewPasskeyPath, async (IFormCollection form, HttpContext context, DeskSignIn signIn, AuditTrail audit) =>
            {
                // The challenge is given out for the password only: an unlocked screen is not enough to make a key for good.
                if (await signIn.UserManager.GetUserAsync(context.User) is not { } user)
                {
                    return Results.Unauthorized();
                }

                var confirmed = await signIn.ConfirmAsync(user, form["Input.Current"]);
                if (!confirmed.Succeeded)
                {
                    if (confirmed.IsLockedOut)
                    {
                        await audit.Account(user, AccountAct.Locked);
                    }

                    return Results.Text(AccountPage.WrongPassword, "text/plain; charset=utf-8", statusCode: StatusCodes.Status422UnprocessableEntity);
                }

                if ((await signIn.UserManager.GetPasskeysAsync(user)).Count >= AccountPage.MostPasskeys)
                {
                    return Results.Text(AccountPage.TooManyPasskeys, "text/plain; charset=utf-8", statusCode: StatusCodes.Status422UnprocessableEntity);
                }

                return Results.Text(
                    await signIn.MakePasskeyCreationOptionsAsync(new() { Id = user.Id.ToString(), Name = user.Email!, DisplayName = user.DisplayName }), "application/json");
            })
            .RequireRateLimiting(RequestLimits.SignIn);
    }

    /// <summary>How long a page or a cookie outlives its sign-in; never longer than the pages say.</summary>
    /// <exception cref="StartRefusedException">It is no time, or too short or too long a one.</exception>
    internal static TimeSpan AskedAgain(string? typed) => typed?.Trim() is not { Length: > 0 } time ? RevalidatingSignIn.Interval
        : TimeSpan.TryParse(time, CultureInfo.InvariantCulture, out var every) && every >= TimeSpan.FromSeconds(1) && every <= RevalidatingSignIn.Interval ? every
        : throw new StartRefusedException($"SignIn:AskedAgain is \"{typed}\"; expected a time from 00:00:01 (a second) to 00:01:00 (a minute).");
}
