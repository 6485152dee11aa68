using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using Xunit;

namespace ConsultDesk.Browser.Tests;

/// <summary>Accessibility of a page by the axe rules in light, and by those about colour that are on by themselves in dark: the page is the same one but for its colours.</summary>
public static class AxeScan
{
    private static readonly AxeRunOptions OfColour = new() { RunOnly = RunOnlyOptions.Rules("color-contrast", "link-in-text-block") };

    /// <summary>Serious and critical violations; lesser ones are only printed, as the list that has to shrink.</summary>
    public static async Task<IReadOnlyList<string>> Grave(IPage page, string name)
    {
        var grave = new List<string>();
        foreach (var (scheme, rules) in new[] { (ColorScheme.Light, new AxeRunOptions()), (ColorScheme.Dark, OfColour) })
        {
            await Theme.Show(page, scheme);
            var result = await page.RunAxe(rules);
            Assert.True(result.Passes.Length > 0, $"axe looked at nothing on {name}.");
            foreach (var violation in result.Violations)
            {
                var line = $"{name}, {scheme}: {violation.Impact} {violation.Id}: {violation.Help}: "
                    + string.Join("; ", violation.Nodes.Select(node => node.Html).Take(3));
                TestContext.Current.TestOutputHelper?.WriteLine(line);
                if (violation.Impact is "serious" or "critical")
                {
                    grave.Add(line);
                }
            }
        }

        await Theme.Show(page, ColorScheme.Light);
        return grave;
    }
}
