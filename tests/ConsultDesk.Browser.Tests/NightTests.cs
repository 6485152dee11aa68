using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace ConsultDesk.Browser.Tests;

/// <summary>The drawing as an output: shaded zones, numbers under the keyboard, and the night that is played.</summary>
public sealed class NightTests(Desks desks)
{
    [Fact]
    public async Task Zones_are_shaded_by_what_is_chosen_and_tell_their_numbers_to_pointer_and_keyboard()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Consultant();
        var workspace = await WorkspacePage.OfTheDemosVan(window.Page);
        await workspace.Drawing.GetByRole(AriaRole.Button, new() { Name = "CO₂", Exact = true }).ClickAsync();
        await Expect(workspace.Drawing.Locator("#zone-scale")).ToContainTextAsync("ppm");
        await Expect(workspace.Drawing.Locator("#van-side")).ToContainTextAsync("ppm CO₂");

        var bed = workspace.Drawing.Locator("#van-side [data-spot][tabindex='0']").First;
        var numbers = workspace.Drawing.Locator("[data-numbers].board-numbers");
        await bed.FocusAsync();
        await Expect(numbers).ToHaveTextAsync((await bed.GetAttributeAsync("aria-label"))!);
        await Expect(numbers).ToContainTextAsync("dew point");
        window.AssertSilent();
    }

    [Fact]
    public async Task The_night_is_played_paused_and_scrubbed_by_keys()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Consultant();
        var page = window.Page;
        var workspace = await WorkspacePage.OfTheDemosVan(page);
        await workspace.Drawing.GetByRole(AriaRole.Link, new() { Name = "Play the night" }).ClickAsync();
        var play = page.GetByRole(AriaRole.Button, new() { Name = "Play", Exact = true });
        var clock = page.Locator("[data-clock]");
        await Expect(clock).ToHaveTextAsync("17:30");
        await play.ClickAsync();
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Pause" })).ToBeVisibleAsync();
        await Expect(clock).Not.ToHaveTextAsync("17:30");
        await page.GetByRole(AriaRole.Button, new() { Name = "Pause" }).ClickAsync();

        var slider = page.GetByRole(AriaRole.Slider, new() { Name = "Time of the night" });
        await slider.FocusAsync();
        await page.Keyboard.PressAsync("End");
        await Expect(clock).ToHaveTextAsync("08:30");
        await page.Keyboard.PressAsync("ArrowLeft");
        await Expect(clock).ToHaveTextAsync("08:20");
        await Expect(slider).ToHaveAttributeAsync("aria-valuetext", new System.Text.RegularExpressions.Regex("^08:20, .* on glass and metal$"));
        window.AssertSilent();
    }
}
