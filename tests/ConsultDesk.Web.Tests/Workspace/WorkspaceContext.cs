using Bunit;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Shell;
using ConsultDesk.Web.Workspace;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;

namespace ConsultDesk.Web.Tests.Workspace;

/// <summary>Renders parts of the workspace around an editor, with a clock that moves only when told.</summary>
public abstract class WorkspaceContext : BunitContext
{
    protected WorkspaceContext()
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        Services.AddSingleton<TimeProvider>(Time);
        Services.AddSingleton(Browser);
    }

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
}
