using System.Collections.Concurrent;
using System.Globalization;
using Microsoft.Playwright;
using Xunit;

namespace ConsultDesk.Browser.Tests;

/// <summary>Listens to every page of a browser context: what the browser complains of is a defect of ours.</summary>
public sealed class Watch
{
    private readonly ConcurrentQueue<string> _complaints = new();
    private readonly List<string> _expected = [];

    private Watch()
    {
    }

    /// <summary>Watches all pages of a context, present and to come.</summary>
    public static Watch Over(IBrowserContext context)
    {
        var watch = new Watch();
        context.Console += (_, message) =>
        {
            if (message.Type is "error" or "warning")
            {
                watch._complaints.Enqueue($"console {message.Type}: {message.Text} ({message.Location})");
            }
        };
        context.WebError += (_, error) => watch._complaints.Enqueue($"page error: {error.Error}");
        context.Response += (_, response) =>
        {
            if (response.Status >= 400)
            {
                watch._complaints.Enqueue(string.Create(CultureInfo.InvariantCulture, $"HTTP {response.Status}: {response.Url}"));
            }
        };
        context.RequestFailed += (_, request) =>
        {
            // A page that is left cancels what it was still loading.
            if (request.Failure is not "net::ERR_ABORTED")
            {
                watch._complaints.Enqueue($"request failed: {request.Failure} {request.Url}");
            }
        };
        return watch;
    }

    /// <summary>A complaint the test provokes on purpose, recognised by a part of its text.</summary>
    public void Expect(string part) => _expected.Add(part);

    /// <summary>Fails when the browser complained of anything the test did not provoke.</summary>
    public void AssertSilent()
    {
        var unexpected = _complaints.Where(c => !_expected.Exists(e => c.Contains(e, StringComparison.Ordinal))).ToArray();
        Assert.True(unexpected.Length == 0, "The browser complained:\n" + string.Join('\n', unexpected));
    }
}
