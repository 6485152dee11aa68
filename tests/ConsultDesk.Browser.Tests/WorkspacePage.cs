using System.Text.RegularExpressions;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace ConsultDesk.Browser.Tests;

/// <summary>The live workspace on one option of a van.</summary>
public sealed partial class WorkspacePage(IPage page)
{
    /// <summary>The form.</summary>
    public ILocator Inputs => page.GetByRole(AriaRole.Region, new() { Name = "Inputs" });

    /// <summary>The drawings, or the comparison in their place.</summary>
    public ILocator Drawing => page.GetByRole(AriaRole.Region, new() { Name = "Drawing" });

    /// <summary>The assessment.</summary>
    public ILocator Results => page.GetByRole(AriaRole.Region, new() { Name = "Results" });

    /// <summary>The button that undoes the last edit and names it.</summary>
    public ILocator Undo => page.GetByRole(AriaRole.Button, new() { NameRegex = UndoName() });

    /// <summary>The option that is open, among the van's options.</summary>
    public ILocator OpenOption => page.GetByRole(AriaRole.Navigation, new() { Name = "Options of this van" }).Locator("[aria-current=page]");

    /// <summary>One of the main numbers, by its stable name.</summary>
    public ILocator Headline(string key) => page.Locator($".headlines [data-number='{key}'] dd:not(.band)");

    /// <summary>Waits until the shown assessment belongs to the inputs.</summary>
    public async Task UntilAssessed()
    {
        await Expect(Headline("outdoor-air")).ToHaveTextAsync(Digit());
        await Expect(page.Locator("[data-old=old]")).ToHaveCountAsync(0);
    }

    /// <summary>Waits until the year belongs to the inputs too.</summary>
    public async Task UntilTheYearIsThere()
    {
        // A year takes a second where the machine is slow and shared.
        await Expect(Results.Locator("[data-number='wet-mornings'] dd:not(.band)").First).ToHaveTextAsync(Digit(), new() { Timeout = 60_000 });
        await Expect(Results.Locator("[data-old=old]")).ToHaveCountAsync(0, new() { Timeout = 60_000 });
    }

    /// <summary>Opens the demo's van that is lived in from the desk and waits for its numbers. By name: which van stands first is a matter of what other tests changed last.</summary>
    public static async Task<WorkspacePage> OfTheDemosVan(IPage page)
    {
        await page.GotoAsync("/");
        await page.GetByRole(AriaRole.Region, new() { Name = "Vans" }).GetByRole(AriaRole.Link, new() { Name = "The Heron" }).First.ClickAsync();
        var workspace = new WorkspacePage(page);
        await workspace.UntilAssessed();
        return workspace;
    }

    /// <summary>Copies the open option to one of this name: an option of the test's own, since others read the demo's.</summary>
    public async Task CopyTo(string name)
    {
        await page.GetByText("Option ", new() { Exact = false }).Locator("xpath=ancestor-or-self::summary").First.ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Copy to a new option…" }).ClickAsync();
        var dialog = page.GetByRole(AriaRole.Dialog);
        await Expect(dialog.GetByRole(AriaRole.Textbox)).ToBeFocusedAsync();
        await dialog.GetByRole(AriaRole.Textbox).FillAsync(name);
        await dialog.GetByRole(AriaRole.Button).Last.ClickAsync();
        await Expect(OpenOption).ToContainTextAsync(name);
        await UntilAssessed();
    }

    /// <summary>Shows a part of the results.</summary>
    public async Task Show(string part)
    {
        var button = Results.GetByRole(AriaRole.Group, new() { Name = "Part of the results" }).GetByRole(AriaRole.Button, new() { Name = part, Exact = true });
        await button.ClickAsync();
        await Expect(button).ToHaveAttributeAsync("aria-pressed", "true");
    }

    /// <summary>Waits until the option says at what time it was saved.</summary>
    public Task UntilSaved() => Expect(page.Locator("[data-save]")).ToHaveTextAsync(SavedAt());

    /// <summary>A part of the form, opened if it was shut.</summary>
    public async Task<ILocator> Group(string title)
    {
        var head = Inputs.GetByRole(AriaRole.Heading, new() { NameRegex = new Regex("^" + Regex.Escape(title)) }).First.GetByRole(AriaRole.Button);
        if (await head.GetAttributeAsync("aria-expanded") == "false")
        {
            await head.ClickAsync();
            await Expect(head).ToHaveAttributeAsync("aria-expanded", "true");
        }

        return Inputs.GetByRole(AriaRole.Group, new() { NameRegex = new Regex("^" + Regex.Escape(title)) }).First;
    }

    /// <summary>The control whose label starts with these words.</summary>
    public static ILocator Field(ILocator group, string label) =>
        group.GetByLabel(new Regex("^\\s*" + Regex.Escape(label))).First;

    /// <summary>Chooses from a list of the form.</summary>
    public static Task Choose(ILocator group, string label, string choice) =>
        Field(group, label).SelectOptionAsync(new SelectOptionValue { Label = choice });

    /// <summary>Types into a field of the form and leaves it.</summary>
    public static async Task Type(ILocator group, string label, string text)
    {
        var field = Field(group, label);
        await field.FillAsync(text);
        await field.BlurAsync();
    }

    /// <summary>Waits until a list of the form shows a choice.</summary>
    public static Task ExpectChosen(ILocator group, string label, string choice) =>
        Expect(Field(group, label).Locator("option:checked")).ToHaveTextAsync(choice);

    [GeneratedRegex(@"^\s*Undo")]
    private static partial Regex UndoName();

    [GeneratedRegex(@"\d")]
    private static partial Regex Digit();

    [GeneratedRegex(@"^Saved \d\d:\d\d:\d\d$")]
    private static partial Regex SavedAt();
}
