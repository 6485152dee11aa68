using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using Xunit;

namespace ConsultDesk.Browser.Tests;

/// <summary>Accessibility of a page by the axe rules, in light and dark.</summary>
public static class AxeScan
{
    /// <summary>No serious or critical violation; the rest is printed, as the list that has to shrink.</summary>
    public static async Task AssertNothingSerious(IPage page, string where)
    {
        var grave = new List<string>();
        foreach (var theme in new[] { ColorScheme.Light, ColorScheme.Dark })
        {
            await Theme.Show(page, theme);
            var result = await page.RunAxe();
            Assert.True(result.Passes.Length > 0, $"axe looked at nothing on {where}.");
            foreach (var violation in result.Violations)
            {
                var line = $"{where}, {theme}: {violation.Impact} {violation.Id}: {violation.Help}: "
                    + string.Join("; ", violation.Nodes.Select(n => n.Html).Take(3));
                TestContext.Current.TestOutputHelper?.WriteLine(line);
                if (violation.Impact is "serious" or "critical")
                {
                    grave.Add(line);
                }
            }
        }

        await Theme.Show(page, ColorScheme.Light);
        Assert.True(grave.Count == 0, string.Join('\n', grave));
    }
}
