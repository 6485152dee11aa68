using Bunit;
using ConsultDesk.Records;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Consultancy;
using ConsultDesk.Web.Tests.Shell;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Web.Tests.Consultancy;

public sealed class UnitsMenuTests(DeskApp app) : IClassFixture<DeskApp>
{
    private static CancellationToken Cancel => Xunit.TestContext.Current.CancellationToken;

    private UnitBook Book => app.Services.GetRequiredService<UnitBook>();

    [Fact]
    public async Task A_users_units_are_kept_for_the_next_time_and_given_back_to_the_firms()
    {
        var (who, _) = await DeskAsync();
        await using var context = await ContextAsync(who);
        var use = context.Services.GetRequiredService<UnitsInUse>();
        var menu = context.Render<UnitsMenu>();
        Assert.Same(DisplayUnits.Metric, use.Now);

        await menu.Find("input[name=my-units][value=Imperial]").ChangeAsync(new ChangeEventArgs { Value = "Imperial" });
        await menu.Find("#my-units-temperature").ChangeAsync(new ChangeEventArgs { Value = "°C" });
        Assert.Equal(("°C", "in"), (use.Now.Symbol(Measure.Temperature), use.Now.Symbol(Measure.SmallLength)));

        await using var later = await ContextAsync(who);
        Assert.Equal("temperature=°C", later.Services.GetRequiredService<UnitsInUse>().Now.Choices);

        await menu.FindAll("button").First(button => button.TextContent.StartsWith("As the firm", StringComparison.Ordinal)).ClickAsync(new());
        Assert.Same(DisplayUnits.Metric, use.Now);
        Assert.Null(await Book.Mine(who, Cancel));
    }

    [Fact]
    public async Task Pages_about_a_client_can_be_shown_in_the_clients_units_and_only_those()
    {
        var (who, client) = await DeskAsync();
        await using var context = await ContextAsync(who);
        var use = context.Services.GetRequiredService<UnitsInUse>();
        var menu = context.Render<UnitsMenu>();
        Assert.Empty(menu.FindAll("#client-units-temperature"));

        await menu.InvokeAsync(() => use.OpenAsync(client, "Ines"));
        await menu.Find("#client-units-airflow").ChangeAsync(new ChangeEventArgs { Value = "cfm" });
        Assert.Equal("m³/h", use.Now.Symbol(Measure.AirFlow));
        await menu.FindAll("input[name=units-shown]")[1].ChangeAsync(new ChangeEventArgs { Value = "on" });
        Assert.Equal("cfm", use.Now.Symbol(Measure.AirFlow));
        Assert.Equal(new UnitChoice(UnitPreset.Metric, "air-flow=cfm"), await Book.OfClient(who, client, Cancel));

        await menu.InvokeAsync(use.Leave);
        Assert.Equal("m³/h", use.Now.Symbol(Measure.AirFlow));
    }

    [Fact]
    public async Task Stored_units_of_another_version_are_told_and_the_preset_stands_in()
    {
        var (who, _) = await DeskAsync();
        await Book.SetMine(who, new UnitChoice(UnitPreset.Imperial, "air-flow=furlongs"), Cancel);
        await using var context = await ContextAsync(who);

        var menu = context.Render<UnitsMenu>();

        Assert.Contains("furlongs", menu.Find(".notice-bad").TextContent, StringComparison.Ordinal);
        Assert.Same(DisplayUnits.Metric, context.Services.GetRequiredService<UnitsInUse>().Now);
        await Book.SetMine(who, null, Cancel);
    }

    private async Task<(SignedIn Who, Guid Client)> DeskAsync()
    {
        var who = await app.DemoConsultantAsync();
        var client = await app.Services.GetRequiredService<ClientBook>().AddClient(who, new ClientInput("Ines Quill"), Cancel);
        return (who, client);
    }

    private async Task<BunitContext> ContextAsync(SignedIn who)
    {
        var context = new BunitContext();
        var use = new UnitsInUse(Book);
        context.Services.AddSingleton(use);
        await use.ReadAsync(who, await app.Services.GetRequiredService<Firms>().Mine(who, Cancel));
        return context;
    }
}
