using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace ConsultDesk.Browser.Tests;

/// <summary>Weather and use chosen above the drawing.</summary>
public sealed class SituationStripTests(Desks desks)
{
    [Fact]
    public async Task A_situation_is_one_click_its_weather_a_slider_and_its_card_one_step_of_undo()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Consultant();
        var page = window.Page;
        var workspace = await WorkspacePage.OfTheDemosVan(page);
        await workspace.CopyTo("Seen in other weather");
        await workspace.UntilTheYearIsThere();

        await workspace.Drawing.Locator("[data-situation=damp-mild-night]").ClickAsync();
        await Expect(workspace.Drawing.Locator(".situation-shown")).ToContainTextAsync("Drawn: Damp mild night");
        var humidity = workspace.Drawing.Locator("[data-situation-number=humidity] dd");
        await Expect(humidity).ToContainTextAsync("%");
        var left = page.GetByRole(AriaRole.Region, new() { Name = "Situation", Exact = true });

        // A slider by keys, then a number typed.
        var slider = left.Locator("[name=outdoor-slider]");
        await slider.FocusAsync();
        await page.Keyboard.PressAsync("Home");
        await Expect(left.Locator("[name=outdoor]")).ToHaveValueAsync("−40.0");
        await Expect(workspace.Drawing.Locator(".situation-shown")).ToContainTextAsync("changed by hand");
        await left.Locator("[name=outdoor]").FillAsync("3");
        await left.Locator("[name=outdoor]").BlurAsync();
        await Expect(workspace.Drawing.Locator("[data-situation=damp-mild-night] .situation-weather")).ToContainTextAsync("3.0");

        // The card, and its one step of undo.
        await Expect(left.Locator(".situation-advice li").First).ToBeVisibleAsync(new() { Timeout = 30_000 });
        await Expect(left.Locator("[data-old=old]")).ToHaveCountAsync(0, new() { Timeout = 30_000 });
        await left.GetByRole(AriaRole.Button, new() { Name = "Set the openings so" }).ClickAsync();
        await Expect(workspace.Undo).ToContainTextAsync("card for damp mild night");
        await workspace.Undo.ClickAsync();
        await Expect(workspace.Undo).Not.ToContainTextAsync("card for");

        await workspace.Drawing.GetByRole(AriaRole.Button, new() { Name = "Back to the design night" }).ClickAsync();
        await Expect(workspace.Headline("outdoor-air")).ToBeVisibleAsync();
        await Expect(workspace.Drawing.Locator(".situation-shown")).ToHaveCountAsync(0);
        window.AssertSilent();
    }

    [Fact]
    public async Task A_day_of_the_year_is_found_by_keys_and_opened_to_its_hours()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Consultant();
        var page = window.Page;
        var workspace = await WorkspacePage.OfTheDemosVan(page);
        await workspace.Show("Overview");
        await workspace.UntilTheYearIsThere();
        await workspace.Show("Year");
        var strip = workspace.Results.Locator(".year-strip");

        var day = strip.Locator("[name=year-day]");
        await day.FocusAsync();
        await page.Keyboard.PressAsync("Home");
        await Expect(strip.Locator("output")).ToHaveTextAsync("1 January");
        await page.Keyboard.PressAsync("ArrowRight");
        await page.Keyboard.PressAsync("ArrowRight");
        await Expect(strip.Locator("output")).ToHaveTextAsync("3 January");

        await page.Keyboard.PressAsync("Tab");
        await page.Keyboard.PressAsync("Enter");
        await Expect(strip.Locator("#year-hours-wide")).ToContainTextAsync("3 January");
        await day.FocusAsync();
        await page.Keyboard.PressAsync("ArrowLeft");
        await Expect(strip.Locator("#year-hours-wide")).ToContainTextAsync("2 January");

        // The same numbers as a file.
        await strip.GetByRole(AriaRole.Button, new() { Name = "Hours as a table and CSV" }).ClickAsync();
        await Expect(strip.Locator(".year-table tbody tr")).ToHaveCountAsync(72);
        var file = await page.RunAndWaitForDownloadAsync(() => strip.GetByRole(AriaRole.Link, new() { Name = "Save as CSV" }).ClickAsync());
        Assert.Equal("hours-around-day-2.csv", file.SuggestedFilename);
        window.AssertSilent();
    }
}
