using System.Globalization;
using Microsoft.Playwright;
using Xunit;

namespace ConsultDesk.Browser.Tests;

/// <summary>What holds for every page.</summary>
public sealed class PageTests(Desks desks)
{
    public static TheoryData<Screen> Screens => [Screen.Desktop, Screen.Phone];

    [Theory]
    [MemberData(nameof(Screens))]
    public async Task No_page_breaks_a_grave_accessibility_rule_in_light_or_dark_or_scrolls_sideways(Screen screen)
    {
        var found = new List<string>();
        await EveryPage.Walk(await desks.On(Store.Sqlite), screen, async (page, name) => found.AddRange(await Faults(page, name, screen)));

        Assert.True(found.Count == 0, string.Join('\n', found));
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
