using System.Net;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using ConsultDesk.Records;
using ConsultDesk.Web.Demo;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Xunit;

namespace ConsultDesk.Web.Tests.Shell;

/// <summary>The whole app with its demo data, on a SQLite file of its own, without a network.</summary>
public sealed class DeskApp : WebApplicationFactory<Program>
{
    private bool _ownsFolder = true;

    /// <summary>The data folder.</summary>
    public string Folder { get; init; } = Directory.CreateTempSubdirectory("consultdesk-web-").FullName;

    /// <summary>More settings and services of this start.</summary>
    public Action<IWebHostBuilder> More { get; init; } = _ => { };

    /// <summary>Another start on the same data.</summary>
    public DeskApp Again() => new() { Folder = Folder, _ownsFolder = false };

    /// <summary>Everything that was logged, at every level, with its scopes.</summary>
    public RecordedLog Log { get; } = new();

    /// <summary>The demo's consultant.</summary>
    public async Task<SignedIn> DemoConsultantAsync()
    {
        await using var scope = Services.CreateAsyncScope();
        var user = await scope.ServiceProvider.GetRequiredService<DeskContext>().Users.SingleAsync(u => u.Email == DemoDesk.Email);
        return new(user.FirmId, user.Id, user.DisplayName, user.Role);
    }

    /// <summary>A visitor with a browser's cookies, who does not follow redirects.</summary>
    public HttpClient Visitor() => CreateClient(new() { AllowAutoRedirect = false, HandleCookies = true, BaseAddress = new("http://localhost") });

    /// <summary>A visitor who has signed in as the demo's consultant.</summary>
    public async Task<HttpClient> ConsultantAsync()
    {
        var visitor = Visitor();
        var answer = await SignInAsync(visitor, DemoDesk.Email, DemoDesk.Password);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        return visitor;
    }

    /// <summary>Fills in and sends the sign-in form as a browser would.</summary>
    public static async Task<HttpResponseMessage> SignInAsync(HttpClient visitor, string email, string password, string address = "/sign-in")
    {
        var form = await PageAsync(visitor, address);
        return await visitor.PostAsync(address, new FormUrlEncodedContent(new Dictionary<string, string>
        {
            ["_handler"] = Value(form, "_handler"),
            ["__RequestVerificationToken"] = Value(form, "__RequestVerificationToken"),
            ["Input.Email"] = email,
            ["Input.Password"] = password,
        }), Cancel);
    }

    /// <summary>A page, parsed.</summary>
    public static async Task<IHtmlDocument> PageAsync(HttpClient visitor, string address) =>
        await ParseAsync(await visitor.GetAsync(address, Cancel));

    /// <summary>An answer's body, parsed.</summary>
    public static async Task<IHtmlDocument> ParseAsync(HttpResponseMessage answer) =>
        new HtmlParser().ParseDocument(await answer.Content.ReadAsStringAsync(Cancel));

    /// <summary>Value of the input with this name.</summary>
    public static string Value(IHtmlDocument page, string name) =>
        page.QuerySelector($"input[name='{name}']")?.GetAttribute("value") ?? throw new InvalidOperationException($"The page has no field '{name}'.");

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        builder.UseEnvironment("Development");
        builder.UseSetting("Desk:Demo", "true");
        builder.UseSetting("Data:Directory", Folder);
        builder.UseSetting("Logging:Recorded:LogLevel:Default", "Trace");
        builder.ConfigureLogging(logging => logging.AddProvider(Log));
        More(builder);
    }

    public override async ValueTask DisposeAsync()
    {
        await base.DisposeAsync();
        if (_ownsFolder)
        {
            Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
            Directory.Delete(Folder, recursive: true);
        }
    }
}

/// <summary>Keeps every line a logger is asked to write, and the scopes around it.</summary>
[ProviderAlias("Recorded")]
public sealed class RecordedLog : ILoggerProvider, ISupportExternalScope
{
    private readonly Lock _guard = new();
    private readonly List<string> _lines = [];
    private IExternalScopeProvider _scopes = new LoggerExternalScopeProvider();

    /// <summary>What was written so far.</summary>
    public IReadOnlyList<string> Lines
    {
        get
        {
            lock (_guard)
            {
                return [.. _lines];
            }
        }
    }

    public ILogger CreateLogger(string categoryName) => new Recorder(this, categoryName);

    public void SetScopeProvider(IExternalScopeProvider scopeProvider) => _scopes = scopeProvider;

    public void Dispose()
    {
    }

    private sealed class Recorder(RecordedLog log, string category) : ILogger
    {
        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => log._scopes.Push(state);

        public bool IsEnabled(LogLevel logLevel) => logLevel != LogLevel.None;

        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter)
        {
            var line = $"{category} {logLevel} {formatter(state, exception)} {exception}";
            log._scopes.ForEachScope((scope, _) => line += " | " + scope, state);
            lock (log._guard)
            {
                log._lines.Add(line);
            }
        }
    }
}
