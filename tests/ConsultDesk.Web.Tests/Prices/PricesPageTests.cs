using Bunit;
using ConsultDesk.Records;
using ConsultDesk.Web.Prices;
using ConsultDesk.Web.Tests.Shell;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using Xunit;
using TestContext = Xunit.TestContext;

namespace ConsultDesk.Web.Tests.Prices;

public sealed class PricesPageTests(DeskApp app) : IClassFixture<DeskApp>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task An_item_shows_what_it_cost_before_and_the_page_says_whether_tax_is_in_it()
    {
        var firms = app.Services.GetRequiredService<Firms>();
        var prices = app.Services.GetRequiredService<FirmPrices>();
        var input = new FirmInput("Price history", "#334455", null, "EUR", UnitPreset.Metric) { TaxName = "VAT", TaxPercent = 8.1, PricesIncludeTax = false };
        var who = new SignedIn(await firms.Found(input, Cancel), Guid.NewGuid(), "Ash", DeskRole.Owner);
        var start = await prices.Load(who, Cancel);
        var item = start.Book.Items[0];
        await prices.Save(who, null, new(start.Book.Items.SetItem(0, item with { Price = 4321.5m })), Cancel);
        await using var context = new BunitContext();
        context.JSInterop.Mode = JSRuntimeMode.Loose;
        context.Services.AddSingleton(prices);
        context.Services.AddSingleton(TimeProvider.System);
        context.Services.AddScoped<ConsultDesk.Web.Shell.ThisBrowser>();
        context.RenderTree.Add<CascadingValue<SignedIn>>(p => p.Add(v => v.Value, who));
        var firm = await firms.Mine(who, Cancel);
        context.RenderTree.Add<CascadingValue<Firm>>(p => p.Add(v => v.Value, firm));
        var page = context.Render<PricesPage>();

        page.WaitForAssertion(() => Assert.Contains("They are without VAT 8.1\u00A0%.", page.Markup, StringComparison.Ordinal));
        await page.Find($"tr[data-item={item.Key}] button").ClickAsync(new());

        var rows = page.FindAll(".price-history tbody tr").Select(row => row.QuerySelectorAll("td").Select(cell => cell.TextContent).ToList()).ToList();
        Assert.Equal(2, rows.Count);
        Assert.Equal(["now", "4321.5"], rows[0][1..3]);
        Assert.Equal("the start, the default book", rows[1][0]);
        Assert.Equal(item.Price.ToString("0.##", System.Globalization.CultureInfo.InvariantCulture), rows[1][2]);
        await page.Find($"tr[data-item={item.Key}] button").ClickAsync(new());
        Assert.Empty(page.FindAll(".price-history"));
    }
}
