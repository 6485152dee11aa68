using Bunit;
using ConsultDesk.Records;
using ConsultDesk.Web.Clients;
using ConsultDesk.Web.Tests.Shell;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using Xunit;
using TestContext = Xunit.TestContext;

namespace ConsultDesk.Web.Tests.Clients;

public sealed class NewClientFormTests(DeskApp app) : IClassFixture<DeskApp>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task An_empty_form_says_at_each_field_what_was_expected_and_saves_nothing()
    {
        await using var desk = await DeskAsync();
        var before = await CountAsync(desk.Who);
        var page = desk.Page();

        await page.Find("form").SubmitAsync();

        Assert.Equal(
            ["Expected a name of 1 to 300 characters.", "Expected a name of 1 to 300 characters.", "Expected one of the body classes.", "Expected one of the layouts.", "Expected one of the places.", "Expected a month."],
            page.FindAll(".field-error").Select(e => e.TextContent));
        Assert.Equal("true", page.Find("#ClientName").GetAttribute("aria-invalid"));
        Assert.Contains("ClientName-error", page.Find("#ClientName").GetAttribute("aria-describedby"), StringComparison.Ordinal);
        Assert.Equal(before, await CountAsync(desk.Who));
    }

    [Theory]
    [InlineData("7")]
    [InlineData("-1")]
    [InlineData("two")]
    [InlineData("1.5")]
    [InlineData("")]
    public async Task A_number_of_sleepers_out_of_range_is_refused_and_stays_as_typed(string typed)
    {
        await using var desk = await DeskAsync();
        var page = desk.Page();
        await FillAsync(page, "Refused", "Van");
        await page.Find("#Sleepers").ChangeAsync(new ChangeEventArgs { Value = typed });

        await page.Find("form").SubmitAsync();

        Assert.Equal("Expected a whole number from 0 to 6.", page.Find(".field-error").TextContent);
        Assert.Equal(typed, page.Find("#Sleepers").GetAttribute("value"));
        Assert.Equal("Refused", page.Find("#ClientName").GetAttribute("value"));
    }

    [Theory]
    [InlineData("not an address")]
    [InlineData("@example.org")]
    [InlineData("name@")]
    [InlineData("a@b@example.org")]
    public async Task An_address_that_cannot_be_one_is_refused(string typed)
    {
        await using var desk = await DeskAsync();
        var page = desk.Page();
        await FillAsync(page, "Refused", "Van");
        await page.Find("#Email").ChangeAsync(new ChangeEventArgs { Value = typed });

        await page.Find("form").SubmitAsync();

        Assert.Contains("name@example.org", page.Find(".field-error").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_name_of_301_characters_is_refused_and_one_of_300_is_not()
    {
        await using var desk = await DeskAsync();
        var page = desk.Page();
        await FillAsync(page, new string('n', 301), "Van");
        await page.Find("form").SubmitAsync();
        Assert.Equal("Expected a name of 1 to 300 characters.", page.Find(".field-error").TextContent);

        await page.Find("#ClientName").ChangeAsync(new ChangeEventArgs { Value = new string('n', 300) });
        await page.Find("form").SubmitAsync();

        Assert.Empty(page.FindAll(".field-error"));
        Assert.Contains("/vans/", desk.Address, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_message_goes_when_its_field_is_changed_and_the_others_stay()
    {
        await using var desk = await DeskAsync();
        var page = desk.Page();
        await page.Find("form").SubmitAsync();

        await page.Find("#ClientName").ChangeAsync(new ChangeEventArgs { Value = "Ash" });

        Assert.Null(page.Find("#ClientName").GetAttribute("aria-invalid"));
        Assert.Equal(5, page.FindAll(".field-error").Count);
    }

    [Fact]
    public async Task A_right_form_makes_client_van_and_option_A_and_opens_the_workspace()
    {
        await using var desk = await DeskAsync();
        var page = desk.Page();
        await FillAsync(page, "نورا الحداد", "Bread van");

        await page.Find("form").SubmitAsync();

        var vanId = Guid.Parse(desk.Address[(desk.Address.LastIndexOf('/') + 1)..]);
        var van = await app.Services.GetRequiredService<VanBook>().Van(desk.Who, vanId, Cancel);
        var option = Assert.Single(await app.Services.GetRequiredService<VanOptions>().OptionsOf(desk.Who, vanId, Cancel));
        var design = (await app.Services.GetRequiredService<VanOptions>().Load(desk.Who, option.Id, Cancel))!.Design;
        Assert.Equal("Bread van", van!.Name);
        Assert.Equal("A", option.Letter);
        Assert.Equal("bergen", design.Stop.PlaceKey);
        Assert.Equal(11, design.Stop.Month);
        Assert.Equal(3, design.Household.Sleepers);
    }

    [Fact]
    public async Task Two_clicks_in_a_row_make_one_client()
    {
        await using var desk = await DeskAsync();
        var page = desk.Page();
        await FillAsync(page, "Clicked twice", "Van");

        // Both events are on their way before the first is answered, as in a browser.
        await Task.WhenAll(page.Find("form").SubmitAsync(), page.Find("form").SubmitAsync());

        Assert.Single(await app.Services.GetRequiredService<ClientBook>().Clients(desk.Who, "Clicked twice", cancellation: Cancel));
    }

    private static async Task FillAsync(IRenderedComponent<NewClientPage> page, string client, string van)
    {
        await page.Find("#ClientName").ChangeAsync(new ChangeEventArgs { Value = client });
        await page.Find("#VanName").ChangeAsync(new ChangeEventArgs { Value = van });
        await page.Find("#BodyClass").ChangeAsync(new ChangeEventArgs { Value = "medium-high" });
        await page.Find("input[value=FixedBedAcross]").ChangeAsync(new ChangeEventArgs { Value = "FixedBedAcross" });
        await page.Find("#Place").ChangeAsync(new ChangeEventArgs { Value = "bergen" });
        await page.Find("#Month").ChangeAsync(new ChangeEventArgs { Value = "11" });
        await page.Find("#Sleepers").ChangeAsync(new ChangeEventArgs { Value = "3" });
    }

    private async Task<int> CountAsync(SignedIn who) => (await app.Services.GetRequiredService<ClientBook>().Clients(who, null, cancellation: Cancel)).Count;

    private async Task<FormDesk> DeskAsync() => new(app, await app.DemoConsultantAsync());

    /// <summary>The form rendered without a browser, over the app's real records.</summary>
    private sealed class FormDesk : IAsyncDisposable
    {
        private readonly BunitContext _context = new();

        public FormDesk(DeskApp app, SignedIn who)
        {
            Who = who;
            _context.JSInterop.Mode = JSRuntimeMode.Loose;
            _context.Services.AddSingleton(app.Services.GetRequiredService<ClientBook>());
            _context.Services.AddSingleton(app.Services.GetRequiredService<VanBook>());
            _context.RenderTree.Add<CascadingValue<SignedIn>>(p => p.Add(v => v.Value, who));
        }

        public SignedIn Who { get; }

        public string Address => _context.Services.GetRequiredService<NavigationManager>().Uri;

        public IRenderedComponent<NewClientPage> Page() => _context.Render<NewClientPage>();

        public ValueTask DisposeAsync() => _context.DisposeAsync();
    }
}
