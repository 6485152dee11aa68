using Microsoft.Playwright;

namespace ConsultDesk.Browser.Tests;

/// <summary>Pictures of pages for people to look at; tests/screenshots.sh asks for them.</summary>
public static class Pictures
{
    private static readonly string? Folder = Environment.GetEnvironmentVariable("DESK_PICTURES");

    /// <summary>Takes the page in light and dark when DESK_PICTURES names a folder; otherwise does nothing.</summary>
    public static async Task TakeWhenAsked(IPage page, string name, Screen screen)
    {
        if (string.IsNullOrEmpty(Folder))
        {
            return;
        }

        foreach (var scheme in new[] { ColorScheme.Light, ColorScheme.Dark })
        {
            await Theme.Show(page, scheme);
            await page.ScreenshotAsync(new()
            {
                Path = Path.Combine(Folder, $"{name}-{screen.Name}-{scheme.ToString().ToLowerInvariant()}.png"),
                // The workspace fills a large screen exactly; everything else is taken in its whole length.
                FullPage = !name.StartsWith("workspace", StringComparison.Ordinal) || screen == Screen.Phone,
            });
        }

        await Theme.Show(page, ColorScheme.Light);
    }
}
