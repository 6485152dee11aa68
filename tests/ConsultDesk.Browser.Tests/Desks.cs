using System.Globalization;
using Microsoft.Playwright;
using Xunit;

// Two cores: a second browser window at work would only slow the one that is timed.
[assembly: Xunit.v3.Parallelization(Mode = Xunit.Sdk.ParallelMode.None)]
[assembly: AssemblyFixture(typeof(ConsultDesk.Browser.Tests.Desks))]

namespace ConsultDesk.Browser.Tests;

/// <summary>The desks under test: one demo desk per store, started when the first test asks for it.</summary>
public sealed class Desks : IAsyncDisposable
{
    private readonly Chromium _chromium = new();
    private readonly SemaphoreSlim _starting = new(1);
    private readonly Dictionary<Store, Desk> _running = [];
    private Desk? _published;

    /// <summary>Before any test.</summary>
    public Desks() => Assertions.SetDefaultExpectTimeout(20_000);

    /// <summary>The browser, for a desk the test starts itself.</summary>
    public Task<IBrowser> Browser() => _chromium.Browser();

    /// <summary>The demo desk on a store, with a consultant signed in.</summary>
    public async Task<Desk> On(Store store)
    {
        var cancellation = TestContext.Current.CancellationToken;
        await _starting.WaitAsync(cancellation);
        try
        {
            if (!_running.TryGetValue(store, out var desk))
            {
                desk = new Desk(await _chromium.Browser(), await DeskProcess.StartDemo(store, cancellation));
                _running.Add(store, desk);
            }

            return desk;
        }
        finally
        {
            _starting.Release();
        }
    }

    /// <summary>A real desk without a firm, for one test, which ends it.</summary>
    public async Task<Desk> Empty() => new(await _chromium.Browser(), await DeskProcess.StartEmpty(TestContext.Current.CancellationToken));

    /// <summary>The _published program in Production, on https.</summary>
    public async Task<Desk> Published()
    {
        var cancellation = TestContext.Current.CancellationToken;
        _published ??= new Desk(await _chromium.Browser(), await DeskProcess.StartPublished(cancellation));
        return _published;
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (_published is not null)
        {
            await _published.Process.DisposeAsync();
        }

        foreach (var desk in _running.Values)
        {
            await desk.Process.DisposeAsync();
        }

        await _chromium.DisposeAsync();
        _starting.Dispose();
    }
}

/// <summary>One desk under test and the ways into it.</summary>
public sealed class Desk(IBrowser browser, DeskProcess process)
{
    private string? _signedIn;

    /// <summary>The running program.</summary>
    public DeskProcess Process => process;

    /// <summary>The same after another start on the same records: who was signed in still is.</summary>
    public Desk Again(DeskProcess started) => new(browser, started) { _signedIn = _signedIn };

    /// <summary>A window of somebody who has no cookie of ours: a client, or a consultant before signing in.</summary>
    public Task<Window> Stranger(Screen? screen = null) => Open(screen ?? Screen.Desktop, null);

    /// <summary>A client's window in which no script runs.</summary>
    public Task<Window> StrangerWithoutScripts() => Open(Screen.Phone, null, scripts: false);

    /// <summary>A window of the consultant, signed in through the sign-in page; done once, then reused.</summary>
    public async Task<Window> Consultant(Screen? screen = null)
    {
        if (_signedIn is null)
        {
            await using var window = await Stranger();
            await window.Page.GotoAsync("/");
            await SignInPage.SignIn(window.Page, process.Email, process.Password);
            await window.Page.GetByRole(AriaRole.Heading, new() { Level = 1 }).WaitForAsync();
            window.AssertSilent();
            _signedIn = await window.Page.Context.StorageStateAsync();
        }

        return await Open(screen ?? Screen.Desktop, _signedIn);
    }

    private async Task<Window> Open(Screen screen, string? storageState, bool scripts = true)
    {
        var context = await browser.NewContextAsync(new()
        {
            BaseURL = process.Address.ToString(),
            ViewportSize = new() { Width = screen.Width, Height = screen.Height },
            StorageState = storageState,
            JavaScriptEnabled = scripts,
            Locale = "en-GB",
            ColorScheme = ColorScheme.Light,
            ReducedMotion = ReducedMotion.Reduce,
            AcceptDownloads = true,
            // The published desk's certificate is made for the run; nobody signed it.
            IgnoreHTTPSErrors = process.Address.Scheme == Uri.UriSchemeHttps,
        });
        context.SetDefaultTimeout(30_000);
        return new Window(await context.NewPageAsync(), Watch.Over(context), process);
    }
}

/// <summary>Size of a screen in CSS pixels.</summary>
public sealed record Screen(string Name, int Width, int Height)
{
    /// <summary>A small laptop, shared in a video call.</summary>
    public static readonly Screen Desktop = new("1280x720", 1280, 720);

    /// <summary>A phone held upright.</summary>
    public static readonly Screen Phone = new("390x844", 390, 844);

    /// <inheritdoc/>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Name} ({Width}x{Height})");
}

/// <summary>A browser window with cookies of its own, watched for complaints.</summary>
public sealed class Window(IPage page, Watch watch, DeskProcess process) : IAsyncDisposable
{
    private bool _finished;

    /// <summary>The page in it.</summary>
    public IPage Page => page;

    /// <summary>What the browser complained of.</summary>
    public Watch Watch => watch;

    /// <summary>The end of a test in this window: the browser had nothing to complain of that was not expected.</summary>
    public void AssertSilent()
    {
        watch.AssertSilent();
        _finished = true;
    }

    /// <summary>The end of a test in a window whose server was killed or whose line was cut: of that it may complain.</summary>
    public void Leave() => _finished = true;

    /// <summary>Closes it. A window that did not get to its end leaves a picture, its words and the app's log.</summary>
    public async ValueTask DisposeAsync()
    {
        if (!_finished && TestContext.Current is { TestOutputHelper: { } output, TestMethod: { } method })
        {
            var evidence = Path.Combine(DeskProcess.Root, "artifacts", "failures", method.MethodName);
            await page.ScreenshotAsync(new() { Path = evidence + ".png" });
            await File.WriteAllTextAsync(evidence + ".txt", await page.Locator("body").AriaSnapshotAsync());
            output.WriteLine($"Stopped at {page.Url}; see {evidence}.png and .txt. The app's log:");
            output.WriteLine(process.Log);
        }

        await page.Context.CloseAsync();
    }
}
