using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Testing;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>Situations a firm keeps for itself.</summary>
public sealed class OwnSituationTests(TestStores stores) : IClassFixture<TestStores>
{
    private static readonly OwnSituationInput Ski = new("Ski car park", -12.5, 85, 3, Precipitation.None, 0, 4, Activity.Asleep, 9, SnowOnRoof: true, HeaterOff: true);

    public static TheoryData<StoreKind> Both => TestStores.Both;

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Own_situations_are_kept_changed_and_deleted_by_their_own_firm(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var book = desk.App.GetRequiredService<OwnSituations>();
        var id = await book.Add(desk.Ben, Ski);
        var made = Assert.Single(await book.All(desk.Ada));
        Assert.Equal(
            Ski, new(made.Name, made.OutdoorC, made.HumidityPercent, made.WindMPerS, made.Falling, made.SunWPerM2, made.People, made.Activity, made.Hours, made.SnowOnRoof, made.HeaterOff));

        await book.Add(desk.Stranger, Ski);
        var version = await book.Change(desk.Ada, id, made.Version, Ski with { Name = "Ski car park, two", People = null });
        await Assert.ThrowsAsync<RecordChangedException>(() => book.Change(desk.Ben, id, made.Version, Ski));
        await Assert.ThrowsAsync<RecordChangedException>(() => book.Delete(desk.Ben, id, made.Version));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => book.Delete(desk.Stranger, id, version));
        Assert.Equal(("Ski car park, two", null), Assert.Single(await book.All(desk.Ben)) is var now ? (now.Name, now.People) : default);
        await book.Delete(desk.Ben, id, version);
        Assert.Empty(await book.All(desk.Ada));
        Assert.Single(await book.All(desk.Stranger));
        Assert.Equal(
            ["own-situation.added", "own-situation.changed", "own-situation.deleted"],
            (await desk.Audit.Of(desk.Ada, id)).Select(line => line.Action).Order(StringComparer.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task What_is_wrong_with_one_is_said_field_by_field_and_nothing_is_kept(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var book = desk.App.GetRequiredService<OwnSituations>();

        var wrong = await Assert.ThrowsAsync<InvalidInputException>(() => book.Add(
            desk.Ada, new(" ", double.NaN, 101, -1, (Precipitation)9, 1300, 7, (Activity)9, 25, false, false)));

        Assert.Equal(
            ["Activity", "Falling", "Hours", "HumidityPercent", "Name", "OutdoorC", "People", "SunWPerM2", "WindMPerS"],
            wrong.Errors.Select(error => error.Field).Order(StringComparer.Ordinal));
        Assert.Contains(wrong.Errors, error => error.Message == "Outdoor humidity is 101 %; expected 5 to 100 %.");
        Assert.Empty(await book.All(desk.Ada));

        await book.Add(desk.Ada, Ski);
        var taken = await Assert.ThrowsAsync<InvalidInputException>(() => book.Add(desk.Ben, Ski));
        Assert.Equal("Expected a name no other situation has.", Assert.Single(taken.Errors).Message);
    }
}
