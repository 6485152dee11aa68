using System.Globalization;
using Microsoft.Playwright;
using Xunit;

namespace ConsultDesk.Browser.Tests;

/// <summary>What holds for every page.</summary>
public sealed class PageTests(Desks desks)
{
    [Fact]
    public async Task No_page_breaks_a_grave_accessibility_rule_in_light_or_dark()
    {
        var grave = new List<string>();
        await EveryPage.Walk(await desks.On(Store.Sqlite), Screen.Desktop, async (page, name) => grave.AddRange(await AxeScan.Grave(page, name)));

        Assert.True(grave.Count == 0, string.Join('\n', grave));
    }

    [Fact]
    public async Task No_page_scrolls_sideways_on_a_phone()
    {
        var wide = new List<string>();
        await EveryPage.Walk(await desks.On(Store.Sqlite), Screen.Phone, async (page, name) =>
        {
            var width = await page.EvaluateAsync<int>("document.documentElement.scrollWidth");
            if (width > Screen.Phone.Width)
            {
                wide.Add(string.Create(CultureInfo.InvariantCulture, $"{name} is {width} pixels wide on a screen of {Screen.Phone.Width}."));
            }
        });

        Assert.True(wide.Count == 0, string.Join('\n', wide));
    }

    /// <summary>Grave accessibility faults of a page, and that it is wider than the screen.</summary>
    public static async Task<IReadOnlyList<string>> Faults(IPage page, string name, Screen screen)
    {
        List<string> found = [.. await AxeScan.Grave(page, name)];
        var width = await page.EvaluateAsync<int>("document.documentElement.scrollWidth");
        if (width > screen.Width)
        {
            found.Add(string.Create(CultureInfo.InvariantCulture, $"{name} is {width} pixels wide on a screen of {screen.Width}."));
        }

        return found;
    }
}
