using Microsoft.JSInterop;

namespace ConsultDesk.Web.Workspace;

/// <summary>The workspace's script in the browser: keys, what it remembers between visits, and where the page is scrolled to.</summary>
public sealed class WorkspaceScript : IAsyncDisposable
{
    private readonly IJSObjectReference _script;
    private readonly IJSObjectReference _keys;
    private readonly IDisposable _page;

    private WorkspaceScript(IJSObjectReference script, IJSObjectReference keys, IDisposable page, TimeSpan clockOffset)
    {
        _script = script;
        _keys = keys;
        _page = page;
        ClockOffset = clockOffset;
    }

    /// <summary>What the browser's clock is ahead of UTC.</summary>
    public TimeSpan ClockOffset { get; }

    /// <summary>Loads it and has it call Undo and Redo of the page when their keys are pressed.</summary>
    /// <param name="scripts">The browser.</param>
    /// <param name="address">Address of the script.</param>
    /// <param name="page">Has the two methods, callable from scripts.</param>
    public static async Task<WorkspaceScript> LoadAsync<TPage>(IJSRuntime scripts, string address, TPage page)
        where TPage : class
    {
        var script = await scripts.InvokeAsync<IJSObjectReference>("import", address);
        var self = DotNetObjectReference.Create(page);
        var keys = await script.InvokeAsync<IJSObjectReference>("listen", self);
        return new WorkspaceScript(script, keys, self, TimeSpan.FromMinutes(await script.InvokeAsync<int>("minutesFromUtc")));
    }

    /// <summary>What was remembered under a name, or null.</summary>
    public ValueTask<string?> RecallAsync(string name) => _script.InvokeAsync<string?>("recall", name);

    /// <summary>Remembers a text under a name in this browser.</summary>
    public ValueTask RememberAsync(string name, string text) => _script.InvokeVoidAsync("remember", name, text);

    /// <summary>Scrolls a pane to its top.</summary>
    public ValueTask ToTopAsync(string selector) => _script.InvokeVoidAsync("toTop", selector);

    /// <summary>Scrolls a group of inputs into view and goes to it.</summary>
    public ValueTask ShowAsync(string anchor) => _script.InvokeVoidAsync("show", anchor);

    public async ValueTask DisposeAsync()
    {
        try
        {
            await _keys.InvokeVoidAsync("stop");
            await _keys.DisposeAsync();
            await _script.DisposeAsync();
        }
        catch (Exception gone) when (gone is JSDisconnectedException or OperationCanceledException)
        {
            // The browser is gone, and its listeners with it; a call it was in the middle of is cancelled.
        }

        _page.Dispose();
    }
}
