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
        // What is fitted cannot be changed: a van of its own, of which all is planned.
        var workspace = await NewVan(page, "Three metres");
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

    [Fact]
    public async Task A_logo_of_thirty_megabytes_and_a_file_that_is_no_picture_are_refused_at_the_place_and_the_form_keeps_what_was_typed()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Consultant();
        var page = window.Page;
        await page.GotoAsync("/firm");
        var contact = page.GetByLabel("Contact line");
        await contact.FillAsync("Typed before the logo was chosen");
        var logo = page.Locator("#logo");

        await logo.SetInputFilesAsync(new FilePayload { Name = "huge.png", MimeType = "image/png", Buffer = new byte[30 * 1024 * 1024] });
        await Expect(page.Locator("#logo-error")).ToContainTextAsync("The file has 30.0 MB. Expected PNG, JPEG or WebP, at most 5 MB");
        await Expect(logo).ToHaveAttributeAsync("aria-invalid", "true");

        await logo.SetInputFilesAsync(new FilePayload { Name = "letter.png", MimeType = "image/png", Buffer = "This is a letter."u8.ToArray() });
        await Expect(page.Locator("#logo-error")).ToContainTextAsync("no picture that can be read");
        await Expect(contact).ToHaveValueAsync("Typed before the logo was chosen");
        window.AssertSilent();
    }

    [Fact]
    public async Task A_price_list_with_a_bad_line_names_the_line_and_the_column_and_nothing_of_it_is_taken()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Consultant();
        var page = window.Page;
        await page.GotoAsync("/prices");
        var price = page.GetByLabel(new System.Text.RegularExpressions.Regex("^Price of ")).Nth(1);
        var kept = await price.InputValueAsync();
        await price.FillAsync("twelve");
        await price.BlurAsync();
        await Expect(price).ToHaveAttributeAsync("aria-invalid", "true");
        await Expect(page.GetByText("with at most two decimals after a point").First).ToBeVisibleAsync();

        var download = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Link, new() { Name = "Save as a table (CSV)" }).ClickAsync());
        using var reader = new StreamReader(await download.CreateReadStreamAsync());
        var lines = (await reader.ReadToEndAsync(TestContext.Current.CancellationToken)).Split('\n');
        var column = Array.IndexOf(lines[0].Trim().Split(','), "price");
        Assert.InRange(column, 1, 20);
        // The third line loses its number; names hold no comma in front of it.
        var cells = lines[2].Split(',');
        cells[^(lines[0].Trim().Split(',').Length - column)] = "free";
        lines[2] = string.Join(',', cells);
        await page.Locator("#price-table").SetInputFilesAsync(new FilePayload
        {
            Name = "prices.csv",
            MimeType = "text/csv",
            Buffer = System.Text.Encoding.UTF8.GetBytes(string.Join('\n', lines)),
        });

        await Expect(page.Locator("#price-table-error")).ToContainTextAsync("nothing was taken");
        var wrong = page.GetByRole(AriaRole.Region, new() { Name = "Lines that are wrong" }).GetByRole(AriaRole.Row).Nth(1);
        await Expect(wrong.GetByRole(AriaRole.Rowheader)).ToHaveTextAsync("3");
        await Expect(price).ToHaveValueAsync("twelve");
        await page.ReloadAsync();
        await Expect(page.GetByLabel(new System.Text.RegularExpressions.Regex("^Price of ")).Nth(1)).ToHaveValueAsync(kept);
        window.AssertSilent();
    }

    [Fact]
    public async Task A_name_of_three_hundred_characters_or_from_right_to_left_breaks_no_page_and_a_longer_one_is_refused()
    {
        const string rightToLeft = "سيارة الجبل الصغيرة";
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Consultant(Screen.Phone);
        var page = window.Page;
        // One word of 300 letters is the hardest to lay out.
        var longest = new string('m', 300);
        await page.GotoAsync("/clients/new");
        var form = new NewClientPage(page);
        await form.Type("Name", longest + "m");
        await form.Type("What they call the van", rightToLeft);
        await form.DescribeTheVan();
        await form.Create.ClickAsync();
        await Expect(form.Field("Name")).ToHaveAttributeAsync("aria-invalid", "true");
        await Expect(form.Field("Name")).ToHaveValueAsync(longest + "m");
        await Expect(form.Field("What they call the van")).ToHaveValueAsync(rightToLeft);
        await form.Type("Name", longest);
        await form.Create.ClickAsync();
        var workspace = new WorkspacePage(page);
        await page.GetByRole(AriaRole.Button, new() { Name = "Drawing", Exact = true }).ClickAsync();
        await workspace.UntilAssessed();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync(rightToLeft);

        // The option is copied under a name as long.
        await page.GetByText("Option A", new() { Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Copy to a new option…" }).ClickAsync();
        var dialog = page.GetByRole(AriaRole.Dialog);
        // Where the dialog takes the focus while the field is being filled, Chromium counts the selected letters against the longest name.
        await dialog.GetByLabel("Name").ClickAsync();
        await dialog.GetByLabel("Name").FillAsync(longest);
        await dialog.GetByRole(AriaRole.Button, new() { Name = "Copy" }).ClickAsync();
        await Expect(workspace.OpenOption).ToContainTextAsync(longest);
        await workspace.UntilAssessed();
        await NotWide(page, "workspace");

        var consults = new Uri(page.Url).AbsolutePath;
        consults = consults[..consults.IndexOf("/options", StringComparison.Ordinal)] + "/consults";
        foreach (var address in new[] { "/", "/clients", consults })
        {
            await page.GotoAsync(address);
            await Expect(page.GetByText(rightToLeft).First).ToBeVisibleAsync();
            await NotWide(page, address);
        }

        // What is written from right to left does not turn the words around it.
        await Expect(page.Locator("bdi, [dir=auto]").Filter(new() { HasText = rightToLeft }).First).ToBeVisibleAsync();
        window.AssertSilent();
    }

    [Fact]
    public async Task Two_people_on_one_option_are_told_of_each_other_and_neither_loses_an_edit()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var one = await desk.Consultant();
        await using var two = await desk.Consultant();
        var first = await NewVan(one.Page, "Two at once");
        await two.Page.GotoAsync(one.Page.Url);
        var second = new WorkspacePage(two.Page);
        await second.UntilAssessed();

        await WorkspacePage.Choose(await first.Group("People and cooking"), "Sleepers", "4");
        await first.UntilSaved();
        await WorkspacePage.Choose(await second.Group("Stop"), "Month", "June");

        var told = two.Page.GetByRole(AriaRole.Alert).Filter(new() { HasText = "saved this option at" });
        await Expect(told).ToContainTextAsync("Nothing of theirs was overwritten");
        await WorkspacePage.ExpectChosen(await second.Group("Stop"), "Month", "June");
        await told.GetByRole(AriaRole.Button, new() { Name = "Keep mine as a new option" }).ClickAsync();
        await Expect(second.OpenOption).ToContainTextAsync("B");
        await second.UntilAssessed();
        await WorkspacePage.ExpectChosen(await second.Group("Stop"), "Month", "June");

        await WorkspacePage.ExpectChosen(await first.Group("People and cooking"), "Sleepers", "4");
        one.AssertSilent();
        two.AssertSilent();
    }

    [Fact]
    public async Task A_day_that_is_not_and_a_panel_over_a_fan_are_refused_at_the_field_and_stay_as_typed()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Consultant();
        var workspace = await NewVan(window.Page, "Bad places");

        var year = await workspace.Group("Year of stays");
        await year.GetByRole(AriaRole.Button, new() { Name = "Split the year into stays" }).ClickAsync();
        await year.GetByLabel("Month the stay begins").Last.SelectOptionAsync("2");
        var day = year.GetByLabel("Day the stay begins").Last;
        await day.FillAsync("31");
        await day.BlurAsync();
        await Expect(day).ToHaveAttributeAsync("aria-invalid", "true");
        await Expect(day).ToHaveValueAsync("31");
        await Expect(day).ToHaveAccessibleDescriptionAsync(new System.Text.RegularExpressions.Regex("February has no day ‘31’"));

        var fan = WorkspacePage.Field(await workspace.Group("Roof fan"), "From windscreen");
        var roof = await workspace.Group("On the roof");
        await roof.Locator("select[name=add-roof-part]").SelectOptionAsync(new SelectOptionValue { Index = 1 });
        var along = roof.Locator("input[name=roof-part-x]");
        await Expect(along).ToBeVisibleAsync();
        var taken = await fan.InputValueAsync();
        await along.FillAsync(taken);
        await along.BlurAsync();
        await Expect(along).ToHaveAttributeAsync("aria-invalid", "true");
        await Expect(along).ToHaveValueAsync(taken);
        await Expect(along).ToHaveAccessibleDescriptionAsync(new System.Text.RegularExpressions.Regex("must open and breathe"));
        window.AssertSilent();
    }

    /// <summary>The workspace of a new client's van, with a first assessment.</summary>
    private static async Task<WorkspacePage> NewVan(IPage page, string client)
    {
        await page.GotoAsync("/clients/new");
        var form = new NewClientPage(page);
        await form.Type("Name", client);
        await form.Type("What they call the van", client + "'s van");
        await form.DescribeTheVan();
        await form.Create.ClickAsync();
        var workspace = new WorkspacePage(page);
        await workspace.UntilAssessed();
        return workspace;
    }

    private static async Task NotWide(IPage page, string name)
    {
        var width = await page.EvaluateAsync<int>("document.documentElement.scrollWidth");
        Assert.True(width <= Screen.Phone.Width, $"{name} is {width} pixels wide on a screen of {Screen.Phone.Width}.");
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
