using System.Net;
using Bunit;
using ConsultDesk.Records;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Consultancy;
using ConsultDesk.Web.Tests.Shell;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;
using Microsoft.Extensions.DependencyInjection;
using SkiaSharp;
using Xunit;
using TestContext = Xunit.TestContext;

namespace ConsultDesk.Web.Tests.Consultancy;

public sealed class FirmPageTests(DeskApp app) : IClassFixture<DeskApp>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private Firms Firms => app.Services.GetRequiredService<Firms>();

    private FirmLogos Logos => app.Services.GetRequiredService<FirmLogos>();

    [Fact]
    public async Task What_is_changed_is_saved_and_the_example_follows_the_units_at_once()
    {
        var who = await FoundAsync();
        await using var context = Context(who);
        var page = context.Render<FirmPage>();
        Assert.Contains("350\u00A0mm takes 85\u00A0m³/h", page.Find(".example").TextContent, StringComparison.Ordinal);

        await page.Find("#unit-airflow").ChangeAsync(new ChangeEventArgs { Value = "cfm" });
        await page.Find("#unit-smalllength").ChangeAsync(new ChangeEventArgs { Value = "in" });
        Assert.Contains("4.0\u00A0°C outside a fan of 13.8\u00A0in takes 50\u00A0cfm", page.Find(".example").TextContent, StringComparison.Ordinal);
        await page.Find("#Name").ChangeAsync(new ChangeEventArgs { Value = "Hazel Van Advice" });
        await page.Find("#Currency").ChangeAsync(new ChangeEventArgs { Value = "nok" });
        await page.Find("form").SubmitAsync();

        var firm = await Firms.Mine(who, Cancel);
        Assert.Equal(("Hazel Van Advice", "NOK", "small-length=in;air-flow=cfm"), (firm.Name, firm.Currency, firm.UnitChoices));
        Assert.Equal("cfm", firm.DisplayUnits().Symbol(Measure.AirFlow));
        Assert.Contains("Saved.", page.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Paper_answer_address_terms_and_tax_are_typed_saved_and_read_back()
    {
        var who = await FoundAsync();
        await using var context = Context(who);
        var page = context.Render<FirmPage>();
        await page.Find("input[name=paper][value=Letter]").ChangeAsync(new ChangeEventArgs { Value = "on" });
        await page.Find("#AnswerAddress").ChangeAsync(new ChangeEventArgs { Value = "hello@fjord.example" });
        await page.Find("#Terms").ChangeAsync(new ChangeEventArgs { Value = "Advice only." });
        await page.Find("#TaxPercent").ChangeAsync(new ChangeEventArgs { Value = "twenty" });
        await page.Find("form").SubmitAsync();
        Assert.Contains("0 to 50 per cent", page.Find("#TaxPercent-error").TextContent, StringComparison.Ordinal);
        Assert.Equal("twenty", page.Find("#TaxPercent").GetAttribute("value"));

        await page.Find("#TaxPercent").ChangeAsync(new ChangeEventArgs { Value = "8,1 %" });
        await page.Find("#TaxName").ChangeAsync(new ChangeEventArgs { Value = "VAT" });
        await page.Find("#PricesIncludeTax").ChangeAsync(new ChangeEventArgs { Value = false });
        await page.Find("form").SubmitAsync();

        var firm = await Firms.Mine(who, Cancel);
        Assert.Equal((PaperSize.Letter, "hello@fjord.example", "Advice only.", "VAT", 8.1, false), (firm.Paper, firm.Email, firm.Terms, firm.TaxName, firm.TaxPercent, firm.PricesIncludeTax));
        var again = context.Render<FirmPage>();
        Assert.True(again.Find("input[name=paper][value=Letter]").HasAttribute("checked"));
        Assert.Equal("8.1", again.Find("#TaxPercent").GetAttribute("value"));
        Assert.False(again.Find("#PricesIncludeTax").HasAttribute("checked"));
        Assert.Equal("Advice only.", again.Find("#Terms").GetAttribute("value"));
    }

    [Fact]
    public async Task Another_preset_sets_every_unit()
    {
        var who = await FoundAsync();
        await using var context = Context(who);
        var page = context.Render<FirmPage>();
        await page.Find("#unit-airflow").ChangeAsync(new ChangeEventArgs { Value = "L/s" });

        await page.Find("input[name=unit][value=Imperial]").ChangeAsync(new ChangeEventArgs { Value = "on" });

        Assert.Contains("39.2\u00A0°F", page.Find(".example").TextContent, StringComparison.Ordinal);
        Assert.Contains("50\u00A0cfm", page.Find(".example").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_kind_of_unit_that_can_be_chosen_has_a_name_and_an_example() =>
        Assert.Equal(DisplayUnits.Chosen.Order(), UnitKinds.All.Keys.Order());

    [Fact]
    public async Task What_is_wrong_is_said_at_its_field_and_stays_typed()
    {
        var who = await FoundAsync();
        await using var context = Context(who);
        var page = context.Render<FirmPage>();
        await page.Find("#BrandColour").ChangeAsync(new ChangeEventArgs { Value = "moss" });
        await page.Find("#Name").ChangeAsync(new ChangeEventArgs { Value = new string('n', 301) });

        await page.Find("form").SubmitAsync();

        Assert.Contains("six hexadecimal digits", page.Find("#BrandColour-error").TextContent, StringComparison.Ordinal);
        Assert.Contains("at most 300 characters, got 301", page.Find("#Name-error").TextContent, StringComparison.Ordinal);
        Assert.Equal("moss", page.Find("#BrandColour").GetAttribute("value"));
        Assert.Equal("#1f6f5c", (await Firms.Mine(who, Cancel)).BrandColour);
    }

    [Fact]
    public async Task A_change_by_a_colleague_is_told_and_nothing_is_overwritten_unasked()
    {
        var who = await FoundAsync();
        await using var context = Context(who);
        var page = context.Render<FirmPage>();
        await page.Find("#Name").ChangeAsync(new ChangeEventArgs { Value = "Mine" });
        await Firms.Change(who, (await Firms.Mine(who, Cancel)).Version, new("Theirs", "#1f6f5c", null, "EUR", UnitPreset.Metric), Cancel);

        await page.Find("form").SubmitAsync();
        Assert.Contains("A colleague changed the firm", page.Markup, StringComparison.Ordinal);
        Assert.Equal("Mine", page.Find("#Name").GetAttribute("value"));
        Assert.Equal("Theirs", (await Firms.Mine(who, Cancel)).Name);

        await page.FindAll(".notice-warn button")[0].ClickAsync(new());
        Assert.Equal("Mine", (await Firms.Mine(who, Cancel)).Name);
        Assert.Empty(page.FindAll(".notice-warn"));
    }

    [Fact]
    public async Task A_consultant_reads_and_cannot_change()
    {
        var owner = await FoundAsync();
        await using var context = Context(owner with { UserId = Guid.NewGuid(), Role = DeskRole.Consultant });
        var page = context.Render<FirmPage>();

        Assert.Contains("Only an owner of the firm changes it.", page.Markup, StringComparison.Ordinal);
        Assert.True(page.Find("fieldset.plain").HasAttribute("disabled"));
        Assert.Empty(page.FindAll("button[type=submit]"));
    }

    [Fact]
    public async Task Unit_choices_that_cannot_be_read_are_told_and_can_be_set_anew()
    {
        var who = await FoundAsync();
        var version = (await Firms.Mine(who, Cancel)).Version;
        await Firms.Change(who, version, new("F", "#1f6f5c", null, "EUR", UnitPreset.Metric, "air-flow=bushels"), Cancel);
        await using var context = Context(who);

        var page = context.Render<FirmPage>();

        Assert.Contains("'bushels' is no unit for 'air-flow'", page.Find(".notice-bad").TextContent, StringComparison.Ordinal);
        await page.Find("form").SubmitAsync();
        Assert.Equal("", (await Firms.Mine(who, Cancel)).UnitChoices);
        Assert.Empty(page.FindAll(".notice-bad"));
    }

    [Fact]
    public async Task A_logo_is_kept_shown_on_both_papers_and_removed()
    {
        var who = await FoundAsync();
        await using var context = Context(who);
        var page = context.Render<FirmPage>();

        page.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromBinary(LogoPictureTests.Encoded(1800, 500, SKColors.Teal), "logo.png"));
        page.WaitForAssertion(() => Assert.Equal(2, page.FindAll(".papers img").Count));

        var kept = (await Logos.Logo(who, Cancel))!;
        Assert.Equal((1200, 333), (kept.Width, kept.Height));
        Assert.Equal($"/firm/logo?v={kept.Version:N}", page.Find(".papers img").GetAttribute("src"));
        await page.FindAll("button").Single(b => b.TextContent == "Remove the logo").ClickAsync(new());
        Assert.Null(await Logos.Logo(who, Cancel));
        Assert.Empty(page.FindAll(".papers img"));
    }

    [Fact]
    public async Task A_logo_that_is_too_large_or_no_picture_is_refused_at_its_place_and_what_is_typed_stays()
    {
        var who = await FoundAsync();
        await using var context = Context(who);
        var page = context.Render<FirmPage>();
        await page.Find("#Name").ChangeAsync(new ChangeEventArgs { Value = "Typed, not saved" });

        page.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromBinary(new byte[30 * 1024 * 1024], "logo.png"));
        page.WaitForAssertion(() => Assert.StartsWith("The file has 30.0 MB.", page.Find("#logo-error").TextContent, StringComparison.Ordinal));
        page.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromText("Dear client", "logo.png"));
        page.WaitForAssertion(() => Assert.StartsWith("The file is no picture", page.Find("#logo-error").TextContent, StringComparison.Ordinal));

        Assert.Null(await Logos.Logo(who, Cancel));
        Assert.Equal("Typed, not saved", page.Find("#Name").GetAttribute("value"));
    }

    [Fact]
    public async Task A_colleagues_logo_is_not_overwritten_unseen()
    {
        var who = await FoundAsync();
        await using var context = Context(who);
        var page = context.Render<FirmPage>();
        var theirs = await Logos.Save(who, null, LogoPictureTests.Encoded(10, 10, SKColors.Red), 10, 10, Cancel);

        page.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromBinary(LogoPictureTests.Encoded(20, 20, SKColors.Blue), "logo.png"));

        page.WaitForAssertion(() => Assert.Contains("A colleague changed the logo", page.Find("#logo-error").TextContent, StringComparison.Ordinal));
        Assert.Equal(theirs, (await Logos.Logo(who, Cancel))!.Version);
    }

    [Fact]
    public async Task The_logo_is_served_to_the_firms_own_people_only()
    {
        var png = LogoPictureTests.Encoded(30, 20, SKColors.Teal);
        var demo = await app.DemoConsultantAsync();
        await Logos.Save(demo, (await Logos.Logo(demo, Cancel))?.Version, png, 30, 20, Cancel);
        using var stranger = app.Visitor();
        using var consultant = await app.ConsultantAsync();

        Assert.Equal(HttpStatusCode.Redirect, (await stranger.GetAsync("/firm/logo", Cancel)).StatusCode);
        var answer = await consultant.GetAsync("/firm/logo", Cancel);
        Assert.Equal("image/png", answer.Content.Headers.ContentType!.MediaType);
        Assert.Equal(png, await answer.Content.ReadAsByteArrayAsync(Cancel));
        Assert.Equal("nosniff", answer.Headers.GetValues("X-Content-Type-Options").Single());
        using var again = new HttpRequestMessage(HttpMethod.Get, "/firm/logo");
        again.Headers.IfNoneMatch.Add(answer.Headers.ETag!);
        Assert.Equal(HttpStatusCode.NotModified, (await consultant.SendAsync(again, Cancel)).StatusCode);
    }

    private async Task<SignedIn> FoundAsync() => new(
        await Firms.Found(new("Fjord Van Advice", "#1f6f5c", null, "EUR", UnitPreset.Metric), Cancel), Guid.NewGuid(), "Ash", DeskRole.Owner);

    private BunitContext Context(SignedIn who)
    {
        var context = new BunitContext();
        context.JSInterop.Mode = JSRuntimeMode.Loose;
        context.Services.AddSingleton(Firms);
        context.Services.AddSingleton(Logos);
        context.RenderTree.Add<CascadingValue<SignedIn>>(p => p.Add(v => v.Value, who));
        return context;
    }
}
