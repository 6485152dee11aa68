using Microsoft.Playwright;

namespace ConsultDesk.Browser.Tests;

/// <summary>The form of a new client and van; counts what has to be entered.</summary>
public sealed class NewClientPage(IPage page)
{
    /// <summary>Values entered so far: each field filled, chosen or picked counts once.</summary>
    public int Entered { get; private set; }

    /// <summary>The button that sends the form.</summary>
    public ILocator Create => page.GetByRole(AriaRole.Button, new() { Name = "Create and open the workspace" });

    /// <summary>Types into a field.</summary>
    public async Task Type(string label, string text)
    {
        await Field(label).FillAsync(text);
        Entered++;
    }

    /// <summary>Chooses from a list.</summary>
    public async Task Choose(string label, string choice)
    {
        await Field(label).SelectOptionAsync(new SelectOptionValue { Label = choice });
        Entered++;
    }

    /// <summary>Picks one of the layouts.</summary>
    public async Task PickLayout(string name)
    {
        await page.GetByRole(AriaRole.Radio, new() { Name = name }).CheckAsync();
        Entered++;
    }

    /// <summary>Describes a long van in Vancouver's January with two people and a gas flame, as a person would on a first call.</summary>
    public async Task DescribeTheVan()
    {
        await Choose("Body, length and roof", "Long, high roof");
        await PickLayout("Platform bed at the rear");
        await Choose("Where it stands", "Vancouver");
        await Choose("Month", "January");
        await Type("Sleepers", "2");
        await Choose("Cooked with", "Gas flame");
        await Choose("How much steam", "One cooked meal a day");
    }

    /// <summary>The control with that label.</summary>
    public ILocator Field(string label) => page.GetByLabel(label, new() { Exact = true });
}
