using Microsoft.Playwright;
using Xunit;

namespace ConsultDesk.Browser.Tests;

/// <summary>The one real browser of a run, started when first asked for.</summary>
public sealed class Chromium : IAsyncDisposable
{
    private const string Program = "/usr/bin/chromium";

    // Without the background flags Chromium calls home at every start; --no-sandbox because CI is root.
    private static readonly string[] Arguments =
    [
        "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
        "--disable-component-update", "--disable-sync",
    ];

    private IPlaywright? _playwright;
    private IBrowser? _browser;

    /// <summary>The browser; without one the test is skipped, or fails where nothing may be skipped (CI=true).</summary>
    public async Task<IBrowser> Browser()
    {
        if (!File.Exists(Program))
        {
            throw Missing.SkipOrFail($"Chromium is not installed ({Program}).");
        }

        _playwright ??= await Playwright.CreateAsync();
        return _browser ??= await _playwright.Chromium.LaunchAsync(new() { ExecutablePath = Program, Args = Arguments });
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (_browser is not null)
        {
            await _browser.DisposeAsync();
        }

        _playwright?.Dispose();
    }
}

/// <summary>What to do when the machine lacks something a test needs.</summary>
public static class Missing
{
    /// <summary>Skips the test visibly; with CI=true fails it.</summary>
    public static Exception SkipOrFail(string what)
    {
        if (Environment.GetEnvironmentVariable("CI") == "true")
        {
            Assert.Fail(what + " With CI=true nothing may be skipped.");
        }

        Assert.Skip(what);
        return new InvalidOperationException(what);
    }
}
