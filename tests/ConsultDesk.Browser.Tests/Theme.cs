using Microsoft.Playwright;

namespace ConsultDesk.Browser.Tests;

/// <summary>Light and dark, as the reader's system asks for them.</summary>
public static class Theme
{
    /// <summary>Shows the page as a system in that scheme would.</summary>
    public static Task Show(IPage page, ColorScheme scheme) =>
        page.EmulateMediaAsync(new() { ColorScheme = scheme, ReducedMotion = ReducedMotion.Reduce });
}
