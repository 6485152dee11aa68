using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Testing;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>The one option of a van that is going to be built, and what keeps a danger away from it.</summary>
public sealed class ChosenOptionTests(TestStores stores) : IClassFixture<TestStores>
{
    public static TheoryData<StoreKind> Both => TestStores.Both;

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_van_has_one_chosen_option_and_the_later_choice_counts(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, a) = await desk.AddVan();
        var b = await desk.Options.Copy(desk.Ada, a, "B");
        Assert.Null(await desk.Options.ChosenOf(desk.Ada, van));

        // Audit rows of one moment have no order of their own.
        desk.Time.Now += TimeSpan.FromMinutes(1);
        await desk.Options.MarkChosen(desk.Ada, a, await Version(desk, a));
        desk.Time.Now += TimeSpan.FromMinutes(1);
        await desk.Options.MarkChosen(desk.Ben, b.Id, b.Version);

        var chosen = (await desk.Options.ChosenOf(desk.Ada, van))!;
        Assert.Equal((b.Id, "Ben Tarn", OptionChoice.Chosen), (chosen.OptionId, chosen.ChosenBy, chosen.Choice));
        Assert.Equal(desk.Time.Now.UtcDateTime, chosen.ChosenAt, TimeSpan.FromMicroseconds(1));
        Assert.Equal([OptionChoice.None, OptionChoice.Chosen], (await desk.Options.OptionsOf(desk.Ada, van)).Select(o => o.Choice));
        Assert.Equal(["option.chosen", "option.choice-taken-back"], (await desk.Audit.Of(desk.Ada, a)).Select(row => row.Action).TakeLast(2));
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        Assert.Equal(1, await db.ChosenOptions.CountAsync());
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task An_option_changed_since_it_was_chosen_says_so_until_the_change_is_undone(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, id) = await desk.AddVan();
        var version = await desk.Options.MarkChosen(desk.Ada, id, await Version(desk, id));

        var changed = Assert.IsType<Saved>(await desk.Options.Save(desk.Ada, id, version, Month(5), "May"));

        Assert.False(changed.ChoiceTakenBack);
        var chosen = (await desk.Options.ChosenOf(desk.Ada, van))!;
        Assert.Equal(OptionChoice.ChangedSince, chosen.Choice);
        Assert.Equal("stop.month", Assert.Single(DesignJson.Differences(chosen.Design, Month(5))).Path);
        await desk.Options.Save(desk.Ada, id, changed.Version, SampleDesign.Van(), "Back");
        Assert.Equal(OptionChoice.Chosen, (await desk.Options.ChosenOf(desk.Ada, van))!.Choice);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_choice_last_judged_by_an_older_method_says_so_until_it_is_made_again(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, id) = await desk.AddVan();
        await desk.Options.MarkChosen(desk.Ada, id, await Version(desk, id));
        await using (var db = desk.Contexts.OpenFor(desk.Ada.FirmId))
        {
            (await db.Options.SingleAsync(o => o.Id == id)).MethodVersion = "1";
            await db.SaveChangesAsync();
        }

        Assert.Equal(OptionChoice.OlderMethod, (await desk.Options.ChosenOf(desk.Ada, van))!.Choice);
        await desk.Options.MarkChosen(desk.Ada, id, await Version(desk, id));
        Assert.Equal(OptionChoice.Chosen, (await desk.Options.ChosenOf(desk.Ada, van))!.Choice);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task While_a_danger_stands_an_option_cannot_be_chosen(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, id) = await desk.AddVan();
        var saved = Assert.IsType<Saved>(await desk.Options.Save(desk.Ada, id, await Version(desk, id), InDanger(), "Their own heater"));

        var e = await Assert.ThrowsAsync<OptionInDangerException>(() => desk.Options.MarkChosen(desk.Ada, id, saved.Version));

        Assert.NotEmpty(e.Dangers);
        Assert.All(e.Dangers, danger => Assert.Contains(danger.TrimEnd('.'), e.Message, StringComparison.Ordinal));
        Assert.Null(await desk.Options.ChosenOf(desk.Ada, van));
        Assert.Equal(saved.Version, await Version(desk, id));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task An_edit_that_brings_a_danger_takes_the_choice_back_with_the_same_commit(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, own) = await desk.AddVan();
        var id = (await desk.Options.Copy(desk.Ada, own, "B")).Id;
        var other = await desk.Options.Copy(desk.Ada, id, "C");
        var version = await desk.Options.MarkChosen(desk.Ada, id, await Version(desk, id));

        // A danger in another option of the van leaves the choice alone.
        Assert.False(Assert.IsType<Saved>(await desk.Options.Save(desk.Ada, other.Id, other.Version, InDanger(), "Their own heater")).ChoiceTakenBack);
        var saved = Assert.IsType<Saved>(await desk.Options.Save(desk.Ada, id, version, InDanger(), "Their own heater"));

        Assert.True(saved.ChoiceTakenBack);
        Assert.Null(await desk.Options.ChosenOf(desk.Ada, van));
        Assert.Contains(await desk.Audit.Of(desk.Ada, id), row => row.Action == "option.choice-taken-back");
        // The danger gone, nobody has chosen it again.
        Assert.False(Assert.IsType<Saved>(await desk.Options.Save(desk.Ada, id, saved.Version, SampleDesign.Van(), "Back")).ChoiceTakenBack);
        Assert.Null(await desk.Options.ChosenOf(desk.Ada, van));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_design_that_cannot_be_calculated_is_not_chosen_and_takes_the_choice_back(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, id) = await desk.AddVan();
        var version = await desk.Options.MarkChosen(desk.Ada, id, await Version(desk, id));

        var saved = Assert.IsType<Saved>(await desk.Options.Save(desk.Ada, id, version, Month(13), "Month 13"));

        Assert.True(saved.ChoiceTakenBack);
        var e = await Assert.ThrowsAsync<ArgumentException>(() => desk.Options.MarkChosen(desk.Ada, id, saved.Version));
        Assert.Contains("stop.month", e.Message, StringComparison.Ordinal);
        Assert.Null(await desk.Options.ChosenOf(desk.Ada, van));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task What_was_changed_since_it_was_seen_is_not_chosen(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, id) = await desk.AddVan();
        var seen = await Version(desk, id);
        await desk.Options.Save(desk.Ben, id, seen, Month(5), "May");

        await Assert.ThrowsAsync<RecordChangedException>(() => desk.Options.MarkChosen(desk.Ada, id, seen));

        Assert.Null(await desk.Options.ChosenOf(desk.Ada, van));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Of_choices_made_at_once_one_stands(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, a) = await desk.AddVan();
        var options = new List<(Guid Id, Guid Version)>();
        foreach (var name in new[] { "B", "C", "D", "E" })
        {
            var copy = await desk.Options.Copy(desk.Ada, a, name);
            options.Add((copy.Id, copy.Version));
        }

        await Task.WhenAll(options.Select(option => Task.Run(() => desk.Options.MarkChosen(desk.Ada, option.Id, option.Version))));

        Assert.Single(await desk.Options.OptionsOf(desk.Ada, van), option => option.Choice == OptionChoice.Chosen);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task An_option_carries_the_method_it_was_saved_under(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, id) = await desk.AddVan();
        Assert.Equal(Assessor.MethodVersion, (await desk.Options.OptionsOf(desk.Ada, van))[0].MethodVersion);
        await using (var db = desk.Contexts.OpenFor(desk.Ada.FirmId))
        {
            (await db.Options.SingleAsync(o => o.Id == id)).MethodVersion = "of old";
            await db.SaveChangesAsync();
        }

        await desk.Options.Save(desk.Ada, id, await Version(desk, id), Month(5), "May");

        Assert.Equal(Assessor.MethodVersion, (await desk.Options.OptionsOf(desk.Ada, van))[0].MethodVersion);
    }

    private static async Task<Guid> Version(TestDesk desk, Guid id) => (await desk.Options.Load(desk.Ada, id))!.Version;

    private static Design Month(int month)
    {
        var van = SampleDesign.Van();
        return van with { Stop = van.Stop with { Month = month } };
    }

    /// <summary>A heater without a flue burns while people sleep.</summary>
    private static Design InDanger()
    {
        var van = SampleDesign.Van();
        return van with { Heater = van.Heater with { Kind = HeaterKind.UnfluedGas } };
    }
}
