using Bunit;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Shell;
using ConsultDesk.Web.Workspace;
using ConsultDesk.Web.Workspace.Designs;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;

namespace ConsultDesk.Web.Tests.Workspace;

/// <summary>Renders parts of the workspace around an editor, with a clock that moves only when told.</summary>
public abstract class WorkspaceContext : BunitContext
{
    protected WorkspaceContext()
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        Services.AddSingleton<TimeProvider>(Time);
        Services.AddSingleton(Browser);
        Services.AddSingleton(Designs);
        RenderTree.Add<CascadingValue<SignedIn>>(p => p.Add(v => v.Value, Who));
    }

    internal static SignedIn Who { get; } = new(Guid.NewGuid(), Guid.NewGuid(), "Ash", DeskRole.Owner);

    internal DesignSearches Designs { get; } = new(NullLogger<DesignSearches>.Instance, TimeProvider.System);

    internal ManualTime Time { get; } = new();

    internal ThisBrowser Browser { get; } = Told();

    private static ThisBrowser Told()
    {
        var browser = new ThisBrowser(TimeProvider.System);
        browser.Tell("UTC", sharing: false);
        return browser;
    }

    protected OptionEditor Editor { get; } = new(Samples.Design());

    protected Design Design => Editor.Design;

    /// <summary>Renders a part again with the editor's design after each edit, as the page does.</summary>
    protected IRenderedComponent<EditorHost> Show(Func<Design, RenderFragment> part, DisplayUnits? units = null) => Render<EditorHost>(p => p
        .Add(h => h.Editor, Editor)
        .Add(h => h.Units, units ?? DisplayUnits.Metric)
        .Add(h => h.Part, part));

    /// <summary>Renders a part that is not rendered again by an edit, as on a page that waits for the night of the edit.</summary>
    protected IRenderedComponent<EditorHost> ShowWaiting(Func<Design, RenderFragment> part) => Render<EditorHost>(p => p
        .Add(h => h.Editor, Editor)
        .Add(h => h.Units, DisplayUnits.Metric)
        .Add(h => h.Part, part)
        .Add(h => h.Waits, true));
}
