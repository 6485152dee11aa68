using ConsultDesk.Records;
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

    public static void AddAccount(this WebApplicationBuilder builder)
    {
        var services = builder.Services;
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
            .AddSignInManager();
        services.Configure<SecurityStampValidatorOptions>(stamp => stamp.ValidationInterval = RevalidatingSignIn.Interval);

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
            options.AccessDeniedPath = "/sign-in";
            options.ReturnUrlParameter = "returnUrl";
            options.ExpireTimeSpan = TimeSpan.FromHours(12);
            options.SlidingExpiration = true;
        });
        services.AddAntiforgery(options =>
        {
            options.Cookie.Name = prefix + "desk-form";
            options.Cookie.SecurePolicy = secure;
        });
    }
}
