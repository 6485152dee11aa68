using ConsultDesk.Testing;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Records.Tests;

public sealed class UnitBookTests(TestStores stores) : IClassFixture<TestStores>
{
    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task Units_of_a_user_and_of_a_client_are_kept_and_taken_back(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (client, _, _) = await desk.AddVan();
        var book = desk.App.GetRequiredService<UnitBook>();
        var clients = desk.App.GetRequiredService<ClientBook>();
        Assert.Null(await book.Mine(desk.Ada));
        Assert.Null(await book.OfClient(desk.Ada, client));
        var version = (await clients.Client(desk.Ada, client))!.Version;

        await book.SetMine(desk.Ada, new UnitChoice(UnitPreset.Imperial, "temperature=°C"));
        await book.SetOfClient(desk.Ada, client, new UnitChoice(UnitPreset.Metric, "air-flow=cfm"));

        Assert.Equal(new UnitChoice(UnitPreset.Imperial, "temperature=°C"), await book.Mine(desk.Ada));
        Assert.Equal(new UnitChoice(UnitPreset.Metric, "air-flow=cfm"), await book.OfClient(desk.Ada, client));
        // A form about the client that is open meanwhile can still be saved.
        var stored = (await clients.Client(desk.Ada, client))!;
        Assert.Equal((version, new UnitChoice(UnitPreset.Metric, "air-flow=cfm")), (stored.Version, UnitBook.Of(stored)));

        await book.SetMine(desk.Ada, null);
        await book.SetOfClient(desk.Ada, client, null);
        Assert.Null(await book.Mine(desk.Ada));
        Assert.Null(await book.OfClient(desk.Ada, client));
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task Nobody_sets_units_of_another_firms_client_and_too_long_a_choice_is_refused(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (client, _, _) = await desk.AddVan();
        var book = desk.App.GetRequiredService<UnitBook>();
        var stranger = desk.Ada with { FirmId = Guid.CreateVersion7() };

        await Assert.ThrowsAsync<RecordNotFoundException>(() => book.SetOfClient(stranger, client, new UnitChoice(UnitPreset.Imperial, "")));
        Assert.Null(await book.OfClient(stranger, client));
        await Assert.ThrowsAsync<InvalidInputException>(() => book.SetOfClient(desk.Ada, client, new UnitChoice(UnitPreset.Metric, new string('x', TextLimits.Line + 1))));
        await Assert.ThrowsAsync<InvalidInputException>(() => book.SetMine(desk.Ada, new UnitChoice((UnitPreset)9, "")));
        Assert.Null(await book.OfClient(desk.Ada, client));
    }
}
