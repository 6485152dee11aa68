using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace ConsultDesk.Browser.Tests;

/// <summary>What is taken hold of by mouse, finger and keys: openings in the drawing, layers of a wall.</summary>
public sealed class BoardTests(Desks desks)
{
    [Fact]
    public async Task A_window_is_moved_by_mouse_finger_and_keys_and_each_way_is_one_step_of_undo()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Consultant();
        var page = window.Page;
        var workspace = await WorkspacePage.OfTheDemosVan(page);
        await workspace.CopyTo("Moved in the drawing");

        await workspace.Drawing.GetByText("Add an opening").ClickAsync();
        await workspace.Drawing.GetByRole(AriaRole.Button, new() { Name = "Floor vent", Exact = true }).ClickAsync();
        var vent = workspace.Drawing.Locator("[data-board=Plan] [data-handle^=floor-vent].board-chosen");
        await Expect(vent).ToHaveCountAsync(1);
        await workspace.UntilAssessed();

        // By mouse: 40 pixels to the right in twelve points.
        var start = await AlongOf(vent);
        var centre = await CentreOf(vent);
        await page.Mouse.MoveAsync(centre.X, centre.Y);
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(centre.X + 40, centre.Y, new() { Steps = 12 });
        await page.Mouse.UpAsync();
        var scale = (await UnitsPerMetre(vent)) * (await PixelsPerUnit(vent));
        await Expect(workspace.Undo).ToContainTextAsync("moved");
        await Until(async () => Math.Abs(await AlongOf(vent) - (start + (40 / scale))) < 0.02);

        // By finger.
        var afterMouse = await AlongOf(vent);
        centre = await CentreOf(vent);
        var touch = await page.Context.NewCDPSessionAsync(page);
        await Touch(touch, "touchStart", centre.X, centre.Y);
        for (var step = 1; step <= 8; step++)
        {
            await Touch(touch, "touchMove", centre.X - (5 * step), centre.Y);
        }

        await LetGo(touch);
        await Until(async () => Math.Abs(await AlongOf(vent) - (afterMouse - (40 / scale))) < 0.02);

        // By keys: thirteen centimetres on.
        var afterTouch = await AlongOf(vent);
        await vent.FocusAsync();
        await page.Keyboard.PressAsync("Shift+ArrowRight");
        for (var step = 0; step < 3; step++)
        {
            await page.Keyboard.PressAsync("ArrowRight");
        }

        await Until(async () => Math.Abs(await AlongOf(vent) - (afterTouch + 0.13)) < 0.006);
        await Expect(vent).ToBeFocusedAsync();

        // What it says is what the form says.
        await workspace.Drawing.GetByRole(AriaRole.Button, new() { Name = "All its numbers" }).ClickAsync();
        var along = await AlongOf(vent);
        await Expect(WorkspacePage.Field(await workspace.Group("Floor vent"), "From windscreen"))
            .ToHaveValueAsync((along * 1000).ToString("0.#", CultureInfo.InvariantCulture));

        // The mouse's way back is one press; a reload finds what was saved.
        await workspace.UntilSaved();
        await page.ReloadAsync();
        await workspace.UntilAssessed();
        Assert.Equal(along, await AlongOf(workspace.Drawing.Locator("[data-board=Plan] [data-handle^=floor-vent]").First), 1e-6);
        window.AssertSilent();
    }

    [Fact]
    public async Task A_layer_of_the_wall_is_drawn_to_another_place_by_finger()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Consultant();
        var page = window.Page;
        var workspace = await WorkspacePage.OfTheDemosVan(page);
        await workspace.CopyTo("Layers drawn");
        var walls = await workspace.Group("Walls");
        var removes = walls.GetByRole(AriaRole.Button, new() { NameRegex = new Regex("^Remove ") });
        await Expect(walls.GetByRole(AriaRole.Button, new() { Name = "Solid layer", Exact = true })).ToBeVisibleAsync();
        var had = await removes.CountAsync();
        // What is fitted stays where it is: two layers that are only planned.
        await walls.GetByRole(AriaRole.Button, new() { Name = "Solid layer", Exact = true }).ClickAsync();
        await walls.GetByRole(AriaRole.Button, new() { Name = "Air layer", Exact = true }).ClickAsync();
        async Task<string[]> Names() => await removes.EvaluateAllAsync<string[]>("all => all.map(one => one.getAttribute('aria-label'))");
        var grips = walls.Locator(".layer-grip");
        await Expect(removes).ToHaveCountAsync(had + 2);
        await Expect(grips).ToHaveCountAsync(had + 2);
        await Until(async () => (await Names())[^2] == "Remove Air layer");
        var before = await Names();
        var held = before.Length - 3;

        await grips.Nth(held).EvaluateAsync("grip => grip.scrollIntoView({ block: 'center' })");
        var from = (await grips.Nth(held).BoundingBoxAsync())!;
        var (x, y, foot) = (from.X + (from.Width / 2), from.Y + (from.Height / 2), page.ViewportSize!.Height - 20);
        var touch = await page.Context.NewCDPSessionAsync(page);
        await Touch(touch, "touchStart", x, y);
        for (var step = 1; step <= 8; step++)
        {
            await Touch(touch, "touchMove", x, y + ((foot - y) * step / 8));
        }

        // The next layer lies below the window: the list comes up under the finger until its grip is there.
        async Task<float> Top() => (await grips.Nth(held + 1).BoundingBoxAsync())!.Y;
        await Until(async () => await Top() < foot - 60);
        await Touch(touch, "touchMove", x, foot - 100);
        await Touch(touch, "touchMove", x, await Top() + 10);
        await LetGo(touch);
        string[] expected = [.. before[..held], before[held + 1], before[held], before[^1]];
        await Until(async () => (await Names()).SequenceEqual(expected));
        await page.Keyboard.PressAsync("Control+z");
        await Until(async () => (await Names()).SequenceEqual(before));
        window.AssertSilent();
    }

    private static async Task<double> AlongOf(ILocator handle) => double.Parse((await handle.GetAttributeAsync("data-along"))!, CultureInfo.InvariantCulture);

    private static async Task<double> UnitsPerMetre(ILocator handle) =>
        double.Parse(await handle.EvaluateAsync<string>("e => e.closest('[data-board]').dataset.units"), CultureInfo.InvariantCulture);

    private static Task<double> PixelsPerUnit(ILocator handle) => handle.EvaluateAsync<double>("e => e.closest('[data-board]').getScreenCTM().a");

    private static async Task<(float X, float Y)> CentreOf(ILocator handle)
    {
        await handle.ScrollIntoViewIfNeededAsync();
        var box = (await handle.Locator("rect").BoundingBoxAsync())!;
        return (box.X + (box.Width / 2), box.Y + (box.Height / 2));
    }

    private static async Task Touch(ICDPSession session, string type, float x, float y) => await session.SendAsync("Input.dispatchTouchEvent", new Dictionary<string, object>
    {
        ["type"] = type,
        ["touchPoints"] = new[] { new Dictionary<string, object> { ["x"] = x, ["y"] = y } },
    });

    private static async Task LetGo(ICDPSession session) =>
        await session.SendAsync("Input.dispatchTouchEvent", new Dictionary<string, object> { ["type"] = "touchEnd", ["touchPoints"] = Array.Empty<object>() });

    private static async Task Until(Func<Task<bool>> holds)
    {
        for (var attempt = 0; attempt < 100; attempt++)
        {
            if (await holds())
            {
                return;
            }

            await Task.Delay(50, TestContext.Current.CancellationToken);
        }

        Assert.Fail("What the drawing was asked to do was not done within five seconds.");
    }
}
