using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace ConsultDesk.Browser.Tests;

/// <summary>What cannot be right is said at its place, and what was typed stays.</summary>
public sealed class BadInputTests(Desks desks)
{
    [Fact]
    public async Task A_new_van_with_a_hundred_sleepers_is_refused_at_the_field_and_everything_typed_stays()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Consultant();
        var page = window.Page;
        await page.GotoAsync("/clients/new");
        var form = new NewClientPage(page);
        await form.Type("Name", "Tove Marlow");
        await form.Type("Sleepers", "a hundred");
        await form.Create.ClickAsync();

        await Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("what you typed is still here");
        await Expect(form.Field("Name")).ToHaveValueAsync("Tove Marlow");
        await Expect(form.Field("Sleepers")).ToHaveValueAsync("a hundred");
        await Expect(form.Field("Sleepers")).ToHaveAttributeAsync("aria-invalid", "true");
        await Expect(form.Field("Sleepers")).ToHaveAccessibleDescriptionAsync(new System.Text.RegularExpressions.Regex("Expected a whole number"));
        window.AssertSilent();
    }

    [Fact]
    public async Task A_wall_three_metres_thick_is_refused_at_the_field_and_the_design_keeps_its_last_value()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Consultant();
        var page = window.Page;
        await page.GotoAsync("/");
        await page.GetByRole(AriaRole.Region, new() { Name = "Vans" }).GetByRole(AriaRole.Link).First.ClickAsync();
        var workspace = new WorkspacePage(page);
        await workspace.UntilAssessed();
        var load = await workspace.Headline("design-load").InnerTextAsync();

        var thickness = WorkspacePage.Field(await workspace.Group("Walls"), "Thickness");
        await thickness.FillAsync("3000");
        await thickness.BlurAsync();

        await Expect(thickness).ToHaveAttributeAsync("aria-invalid", "true");
        await Expect(thickness).ToHaveValueAsync("3000");
        await Expect(thickness).ToHaveAccessibleDescriptionAsync(new System.Text.RegularExpressions.Regex("Expected .+\\smm"));
        await Expect(workspace.Headline("design-load")).ToHaveTextAsync(load);
        window.AssertSilent();
    }

    [Theory]
    [InlineData(Store.Sqlite)]
    [InlineData(Store.Postgres)]
    public async Task A_withdrawn_link_answers_as_one_that_never_was(Store store)
    {
        var desk = await desks.On(store);
        await using var consultant = await desk.Consultant();
        await using var stranger = await desk.Stranger();
        var page = consultant.Page;
        await page.GotoAsync("/");
        var plan = await page.GetByRole(AriaRole.Region, new() { Name = "Plans published" }).GetByRole(AriaRole.Link).First.GetAttributeAsync("href");
        var link = await EveryPage.NewLink(page, "/" + plan);

        Assert.Equal(200, (await stranger.Page.GotoAsync(link))!.Status);
        await page.GetByRole(AriaRole.Button, new() { Name = "Withdraw" }).Last.ClickAsync();
        await page.GetByRole(AriaRole.Dialog).GetByRole(AriaRole.Button, new() { Name = "Withdraw" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Row).Last.GetByText("withdrawn")).ToBeVisibleAsync();

        stranger.Watch.Expect("/plan/");
        stranger.Watch.Expect("404");
        var withdrawn = await stranger.Page.GotoAsync(link);
        var words = await stranger.Page.GetByRole(AriaRole.Main).InnerTextAsync();
        var unknown = await stranger.Page.GotoAsync("/plan/" + new string('x', 43));
        Assert.Equal(404, withdrawn!.Status);
        Assert.Equal(404, unknown!.Status);
        Assert.Equal(words, await stranger.Page.GetByRole(AriaRole.Main).InnerTextAsync());
        Assert.Equal(404, (await stranger.Page.GotoAsync(link + "/pdf"))!.Status);
        stranger.AssertSilent();
        consultant.AssertSilent();
    }
}
