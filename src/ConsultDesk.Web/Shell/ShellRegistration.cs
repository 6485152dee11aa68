using System.IO.Compression;
using System.Text.Encodings.Web;
using System.Text.Unicode;
using ConsultDesk.Web.Account;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.ResponseCompression;
using MudBlazor.Services;

namespace ConsultDesk.Web.Shell;

/// <summary>The frame of the app: pages, assets, headers, limits, health.</summary>
internal static class ShellRegistration
{
    public static void AddShell(this WebApplicationBuilder builder)
    {
        builder.Services.KeepPathsOutOfTheLog();
        // Says that keys lie unencrypted in the database: unless a certificate is set, they lie beside the very data they would protect.
        builder.Logging.AddFilter("Microsoft.AspNetCore.DataProtection.KeyManagement.XmlKeyManager", LogLevel.Error);

        // Prints why a start failed with its stack; StartRefusedException says it in one line, and all else still ends the program.
        builder.Logging.AddFilter("Microsoft.Extensions.Hosting.Internal.Host", LogLevel.Critical);

        if (builder.Configuration.IsDemo())
        {
            builder.WebHost.ConfigureKestrel(kestrel => kestrel.ConfigureEndpointDefaults(DeskStart.RefuseUnlessLoopback));
        }

        builder.WebHost.ConfigureKestrel(kestrel => kestrel.AddServerHeader = false);
        builder.Services.AddRazorComponents().AddInteractiveServerComponents()
            // The longest notes travel whole, and a letter beyond the basic plane is twelve bytes of escaped text.
            .AddHubOptions(hub => hub.MaximumReceiveMessageSize = 128 * 1024);

        // Degree signs, powers and names beyond ASCII as they are: pages are UTF-8, and an escape takes three times the bytes.
        builder.Services.AddSingleton(HtmlEncoder.Create(UnicodeRanges.All));
        builder.Services.AddResponseCompression(compression => compression.EnableForHttps = true);
        builder.Services.Configure<BrotliCompressionProviderOptions>(brotli => brotli.Level = CompressionLevel.Optimal);
        builder.Services.AddMudServices();
        builder.Services.AddScoped<ThisBrowser>();
        builder.Services.AddScoped<StoreTrouble>();
        builder.Services.AddScoped<Consultancy.UnitsInUse>();
        builder.SealKeys();
        builder.Services.AddRateLimiter(RequestLimits.Configure);
        builder.Services.AddHsts(hsts => hsts.MaxAge = TimeSpan.FromDays(365));
        builder.Services.AddHealth();
        builder.AddTelemetry();
        builder.Services.AddAuthorizationBuilder()
            .SetFallbackPolicy(new AuthorizationPolicyBuilder().RequireAuthenticatedUser().Build());
    }

    // A plan is read on a phone with one bar. Pages with a form stay as they are: beside what somebody else can have typed into
    // them, the length of a packed answer could tell of their hidden token letter by letter.
    private static bool IsOnlyRead(HttpRequest request) =>
        (HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method))
        && request.Path.StartsWithSegments(SecurityHeaders.PlanPath, StringComparison.OrdinalIgnoreCase)
        && !SecurityHeaders.IsSentBack(request.Path);

    public static void UseShell(this WebApplication app)
    {
        app.UseSecurityHeaders();
        app.UseWhen(static context => IsOnlyRead(context.Request), static only => only.UseResponseCompression());
        app.UseExceptionHandler("/error", createScopeForErrors: true);
        app.UseStatusCodePagesWithReExecute("/status/{0}", createScopeForStatusCodePages: true);
        app.Use(static (context, next) =>
        {
            // The page that explains a refused form is read, not sent: as a POST it would be refused for its missing token.
            if (context.Features.Get<IStatusCodeReExecuteFeature>() is not null)
            {
                context.Request.Method = HttpMethods.Get;
            }

            return next(context);
        });
        if (HttpsIsConfigured(app.Configuration))
        {
            app.UseHsts();
            app.UseHttpsRedirection();
        }

        app.UseRouting();
        app.UseRateLimiter();
        app.UseAuthentication();
        app.UseAuthorization();
        app.UseRecordGate();
        SetUpDoor.Guard(app);
        app.UseAntiforgery();
        app.Use(static (context, next) =>
        {
            // Left to the page, this would end in a line of text for programmers.
            if (HttpMethods.IsPost(context.Request.Method) && context.Features.Get<IAntiforgeryValidationFeature>() is { IsValid: false })
            {
                context.Response.StatusCode = StatusCodes.Status400BadRequest;
                return Task.CompletedTask;
            }

            return next(context);
        });
    }

    public static void MapShell(this WebApplication app)
    {
        app.MapStaticAssets().AllowAnonymous();
        app.MapHealth();
        app.MapRazorComponents<App>().AddInteractiveServerRenderMode(server => server.ContentSecurityFrameAncestorsPolicy = "'none'");
    }

    private static bool HttpsIsConfigured(IConfiguration configuration) =>
        !string.IsNullOrEmpty(configuration["https_port"])
        || !string.IsNullOrEmpty(configuration["https_ports"])
        || (configuration["urls"] ?? "").Contains("https://", StringComparison.OrdinalIgnoreCase)
        || configuration.GetSection("Kestrel:Endpoints").GetChildren().Any(e => (e["Url"] ?? "").StartsWith("https://", StringComparison.OrdinalIgnoreCase));
}
