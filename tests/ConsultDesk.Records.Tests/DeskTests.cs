using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Testing;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>What a consultant asks and does.</summary>
public sealed class DeskTests(TestStores stores) : IClassFixture<TestStores>
{
    public static TheoryData<StoreKind> Both => TestStores.Both;

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Clients_are_found_by_a_part_of_their_name_without_marks_or_case(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        foreach (var name in new[] { "Zoë Ørsted", "Björn Straße", "Łucja Æble", "100% O'Hara_" })
        {
            await desk.Clients.AddClient(desk.Ada, new ClientInput(name));
        }

        Assert.Equal("Zoë Ørsted", Assert.Single(await desk.Clients.Clients(desk.Ada, "ZOE orst")).Name);
        Assert.Equal("Björn Straße", Assert.Single(await desk.Clients.Clients(desk.Ada, "strass")).Name);
        Assert.Equal("Łucja Æble", Assert.Single(await desk.Clients.Clients(desk.Ada, " lucja  AEB ")).Name);
        Assert.Equal("100% O'Hara_", Assert.Single(await desk.Clients.Clients(desk.Ada, "%")).Name);
        Assert.Equal("100% O'Hara_", Assert.Single(await desk.Clients.Clients(desk.Ada, "a_")).Name);
        Assert.Equal(4, (await desk.Clients.Clients(desk.Ben)).Count);
        Assert.Empty(await desk.Clients.Clients(desk.Ada, "nobody"));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Names_of_300_characters_and_from_right_to_left_survive(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var longName = new string('W', 298) + "🚐";
        Assert.Equal(300, longName.Length);
        foreach (var name in new[] { longName, "נועה בן־דוד", "محمد العربي", "<script>alert(1)</script>", "Robert'); DROP TABLE \"Clients\";--" })
        {
            var id = await desk.Clients.AddClient(desk.Ada, new ClientInput(name, Notes: "line 1\nline 2 \t " + name));
            var client = (await desk.Clients.Client(desk.Ada, id))!;
            Assert.Equal(name, client.Name);
            Assert.Equal("line 1\nline 2 \t " + name, client.Notes);
            Assert.Equal(id, Assert.Single(await desk.Clients.Clients(desk.Ada, name)).Id);
            var van = await desk.Vans.AddVan(desk.Ada, id, new VanInput(name, "long-high", "rear-platform-bed"), name, SampleDesign.Van());
            Assert.Equal(name, (await desk.Vans.Van(desk.Ada, van.VanId))!.Name);
            Assert.Equal(name, Assert.Single(await desk.Options.OptionsOf(desk.Ada, van.VanId)).Name);
        }
    }

    [Fact]
    public async Task Wrong_fields_are_refused_all_at_once_each_with_what_was_expected()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var e = await Assert.ThrowsAsync<InvalidInputException>(() => desk.Clients.AddClient(
            desk.Ada, new ClientInput("  ", Email: "nobody", Country: "Norway", Notes: new string('n', TextLimits.Notes + 1))));
        Assert.Equal(["Name", "Country", "Notes", "Email", "Country"], e.Errors.Select(x => x.Field));
        Assert.All(e.Errors, x => Assert.StartsWith("Expected", x.Message, StringComparison.Ordinal));

        foreach (var name in new[] { new string('x', 301), "nul \0", "two\nlines", "half \uD83D" })
        {
            Assert.Equal("Name", Assert.Single((await Assert.ThrowsAsync<InvalidInputException>(() => desk.Clients.AddClient(desk.Ada, new ClientInput(name)))).Errors).Field);
        }

        Assert.Empty(await desk.Clients.Clients(desk.Ada));

        var client = await desk.Clients.AddClient(desk.Ada, new ClientInput("Runa Quill"));
        var year = await Assert.ThrowsAsync<InvalidInputException>(() => desk.Vans.AddVan(desk.Ada, client, new VanInput("V", "b", "l", 2028), "A", SampleDesign.Van()));
        Assert.Equal(new FieldError("Year", "Expected a year from 1930 to 2027, or none."), Assert.Single(year.Errors));
        await Assert.ThrowsAsync<InvalidInputException>(() => desk.Vans.AddVan(desk.Ada, client, new VanInput("V", "b", "l"), "", SampleDesign.Van()));
        Assert.Empty(await desk.Vans.VansOf(desk.Ada, client));

        var firm = await desk.Firms.Mine(desk.Ada);
        var colour = await Assert.ThrowsAsync<InvalidInputException>(() => desk.Firms.Change(desk.Ada, firm.Version, new FirmInput("F", "green", null, "euro", UnitPreset.Metric)));
        Assert.Equal(["BrandColour", "Currency"], colour.Errors.Select(x => x.Field));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task The_second_of_two_people_changing_a_client_van_firm_or_name_is_told(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (clientId, vanId, optionId) = await desk.AddVan();
        var client = (await desk.Clients.Client(desk.Ada, clientId))!;
        var van = (await desk.Vans.Van(desk.Ada, vanId))!;
        var option = (await desk.Options.Load(desk.Ada, optionId))!;
        var firm = await desk.Firms.Mine(desk.Ada);

        var newer = await desk.Clients.ChangeClient(desk.Ben, clientId, client.Version, new ClientInput("Runa Q."));
        await Told(() => desk.Clients.ChangeClient(desk.Ada, clientId, client.Version, new ClientInput("Lost")));
        await desk.Clients.ChangeClient(desk.Ada, clientId, newer, new ClientInput("Runa Quill-Moss"));
        Assert.Equal("Runa Quill-Moss", (await desk.Clients.Client(desk.Ada, clientId))!.Name);

        await desk.Vans.ChangeVan(desk.Ben, vanId, van.Version, new VanInput("Egret", "long-high", "rear-platform-bed"));
        await Told(() => desk.Vans.ChangeVan(desk.Ada, vanId, van.Version, new VanInput("Lost", "b", "l")));
        await desk.Options.Rename(desk.Ben, optionId, option.Version, "As drawn");
        await Told(() => desk.Options.Rename(desk.Ada, optionId, option.Version, "Lost"));
        await Told(() => desk.Options.GiveReason(desk.Ada, optionId, option.Version, "Lost"));
        await desk.Firms.Change(desk.Ada, firm.Version, new FirmInput("F", "#AABBCC", null, "NOK", UnitPreset.Imperial));
        await Told(() => desk.Firms.Change(desk.Ada, firm.Version, new FirmInput("Lost", "#aabbcc", null, "NOK", UnitPreset.Metric)));
        Assert.Equal(("F", "#aabbcc", UnitPreset.Imperial), (await desk.Firms.Mine(desk.Ben)) is var f ? (f.Name, f.BrandColour, f.Units) : default);
        await Assert.ThrowsAsync<NotAllowedException>(() => desk.Firms.Change(desk.Ben, f.Version, new FirmInput("B", "#aabbcc", null, "NOK", UnitPreset.Metric)));

        static Task Told(Func<Task> act) => Assert.ThrowsAsync<RecordChangedException>(act);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_saved_design_reloads_as_the_same_bytes(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, _, id) = await desk.AddVan();
        var loaded = (await desk.Options.Load(desk.Ada, id))!;
        Assert.Equal(DesignJson.Bytes(SampleDesign.Van()), DesignJson.Bytes(loaded.Design));

        var version = loaded.Version;
        var seed = 0;
        foreach (var design in CsCheckDesigns(20))
        {
            version = Assert.IsType<Saved>(await desk.Options.Save(desk.Ada, id, version, design, $"Edit {++seed}")).Version;
            var again = (await desk.Options.Load(desk.Ada, id))!;
            Assert.Equal(DesignJson.Bytes(design), DesignJson.Bytes(again.Design));
            Assert.Equal(version, again.Version);
        }
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Of_two_people_editing_an_option_the_second_is_told_who_when_and_what_and_nothing_is_overwritten(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, vanId, id) = await desk.AddVan();
        var opened = (await desk.Options.Load(desk.Ada, id))!;

        desk.Time.Now += TimeSpan.FromMinutes(2);
        var bens = Assert.IsType<Saved>(await desk.Options.Save(desk.Ben, id, opened.Version, Month(3), "Stop in March"));
        desk.Time.Now += TimeSpan.FromMinutes(1);
        var conflict = Assert.IsType<SaveConflict>(await desk.Options.Save(desk.Ada, id, opened.Version, Month(7), "Stop in July"));

        Assert.Equal(("Ben Tarn", bens.At, bens.Version), (conflict.Who, conflict.At, conflict.TheirVersion));
        Assert.Equal(new DesignDifference("stop.month", "11", "3"), Assert.Single(DesignJson.Differences(opened.Design, conflict.Theirs)));
        Assert.Equal(3, (await desk.Options.Load(desk.Ada, id))!.Design.Stop.Month);

        Assert.IsType<Saved>(await desk.Options.Save(desk.Ada, id, conflict.TheirVersion, Month(7), "Mine over theirs"));
        Assert.Equal(7, (await desk.Options.Load(desk.Ben, id))!.Design.Stop.Month);
        var kept = await desk.Options.KeepAsNew(desk.Ada, id, "Mine", Month(8));
        Assert.Equal(("B", 8), (kept.Letter, kept.Design.Stop.Month));
        Assert.Equal(id, (await desk.Options.OptionsOf(desk.Ada, vanId))[1].CopiedFrom);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task The_clients_own_idea_is_closed_by_its_first_copy_and_opened_only_as_recorded_wrongly(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, vanId, id) = await desk.AddVan();
        var opened = (await desk.Options.Load(desk.Ada, id))!;
        Assert.Null(opened.KeptAt);
        var copy = await desk.Options.Copy(desk.Ben, id, "Recommended");
        var closedAt = desk.Time.Now.UtcDateTime;

        desk.Time.Now += TimeSpan.FromMinutes(1);
        var refused = Assert.IsType<OptionKept>(await desk.Options.Save(desk.Ada, id, opened.Version, Month(7), "Stop in July"));
        Assert.Equal(closedAt, refused.KeptAt, TimeSpan.FromMicroseconds(1));
        Assert.True(DesignJson.Same(opened.Design, refused.Kept));
        Assert.True(DesignJson.Same(opened.Design, (await desk.Options.Load(desk.Ada, id))!.Design));
        // With the version that is stored it is refused too, and the copy is not closed by a copy of its own.
        Assert.IsType<OptionKept>(await desk.Options.Save(desk.Ada, id, refused.Version, Month(7), "Stop in July"));
        await desk.Options.Copy(desk.Ada, copy.Id, "Third");
        Assert.IsType<Saved>(await desk.Options.Save(desk.Ada, copy.Id, copy.Version, Month(7), "Stop in July"));
        Assert.Equal([true, false, false], (await desk.Options.OptionsOf(desk.Ada, vanId)).Select(o => o.KeptAt is not null));

        var reopened = await desk.Options.Reopen(desk.Ada, id);
        Assert.Null((await desk.Options.Load(desk.Ada, id))!.KeptAt);
        var saved = Assert.IsType<Saved>(await desk.Options.Save(desk.Ada, id, reopened, Month(7), "Put right"));
        await desk.Options.Keep(desk.Ada, id);
        Assert.IsType<OptionKept>(await desk.Options.Save(desk.Ada, id, saved.Version, Month(8), "Once more"));
        Assert.Equal(7, (await desk.Options.Load(desk.Ada, id))!.Design.Stop.Month);
        var only = await Assert.ThrowsAsync<InvalidInputException>(() => desk.Options.Keep(desk.Ada, copy.Id));
        Assert.Contains("own idea", Assert.Single(only.Errors).Message, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Of_many_saves_at_once_over_one_version_exactly_one_wins(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, _, id) = await desk.AddVan();
        var opened = (await desk.Options.Load(desk.Ada, id))!;

        var results = await Task.WhenAll(Enumerable.Range(1, 10).Select(month =>
            Task.Run(() => desk.Options.Save(desk.Ada, id, opened.Version, Month(month), "Race"))));

        var won = Assert.Single(results.OfType<Saved>());
        Assert.All(results.OfType<SaveConflict>(), c => Assert.Equal(won.Version, c.TheirVersion));
        Assert.Equal(9, results.OfType<SaveConflict>().Count());
        Assert.Equal(2, (await desk.Options.HistoryOf(desk.Ada, id)).Count);
        Assert.Single(await desk.Audit.Of(desk.Ada, id), a => a.Action == "option.saved");
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Copies_made_at_once_get_letters_of_their_own(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, vanId, id) = await desk.AddVan();
        await Task.WhenAll(Enumerable.Range(0, 3).Select(n => Task.Run(() => desk.Options.Copy(desk.Ada, id, $"Copy {n}"))));
        Assert.Equal(["A", "B", "C", "D"], (await desk.Options.OptionsOf(desk.Ada, vanId)).Select(o => o.Letter));
    }

    [Theory]
    [InlineData("A", "")]
    [InlineData("B", "A")]
    [InlineData("D", "A C")]
    [InlineData("AA", "A Z")]
    [InlineData("AB", "Z AA")]
    [InlineData("BA", "AZ Y")]
    public void The_next_letter_follows_the_last(string expected, string taken) =>
        Assert.Equal(expected, VanOptions.NextLetter(taken.Split(' ', StringSplitOptions.RemoveEmptyEntries)));

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Every_save_is_a_step_of_history_that_can_be_gone_back_to(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, _, id) = await desk.AddVan();
        var version = (await desk.Options.Load(desk.Ada, id))!.Version;
        foreach (var month in new[] { 1, 2, 3 })
        {
            desk.Time.Now += TimeSpan.FromSeconds(1);
            version = Assert.IsType<Saved>(await desk.Options.Save(desk.Ben, id, version, Month(month), $"Month {month}")).Version;
        }

        var unchanged = Assert.IsType<Saved>(await desk.Options.Save(desk.Ada, id, version, Month(3), "Nothing new"));
        Assert.Equal(version, unchanged.Version);

        var history = await desk.Options.HistoryOf(desk.Ada, id);
        Assert.Equal(["Month 3", "Month 2", "Month 1", "Created"], history.Select(h => h.Label));
        Assert.Equal(["Ben Tarn", "Ben Tarn", "Ben Tarn", "Ada Moor"], history.Select(h => h.SavedBy));
        var before = (await desk.Options.DesignAt(desk.Ada, history[2].RevisionId))!;
        Assert.True(DesignJson.Same(Month(1), before));
        await desk.Options.Save(desk.Ada, id, version, before, "Back to month 1");
        Assert.Equal(1, (await desk.Options.Load(desk.Ada, id))!.Design.Stop.Month);
        Assert.Equal(5, (await desk.Options.HistoryOf(desk.Ada, id)).Count);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_design_of_a_newer_release_is_refused_and_left_untouched(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, vanId, id) = await desk.AddVan();
        await using (var db = desk.Contexts.OpenFor(desk.Ada.FirmId))
        {
            var option = await db.Options.SingleAsync(o => o.Id == id);
            option.DesignText = """{"format":99,"design":{"of":"tomorrow"}}""";
            await db.SaveChangesAsync();
        }

        await Assert.ThrowsAsync<NewerDesignFormatException>(() => desk.Options.Load(desk.Ada, id));
        await Assert.ThrowsAsync<NewerDesignFormatException>(() => desk.Options.Copy(desk.Ada, id, "Copy"));
        Assert.Single(await desk.Options.OptionsOf(desk.Ada, vanId));
        await using var after = desk.Contexts.OpenFor(desk.Ada.FirmId);
        Assert.Contains("tomorrow", (await after.Options.SingleAsync(o => o.Id == id)).DesignText, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Every_command_writes_its_audit_row_with_who_and_when(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (client, van, option) = await desk.AddVan();
        await Leaves("mail.sent", () => desk.Audit.MailSent(desk.Ada, "client", Guid.NewGuid()));
        await Leaves("firm.changed", async () => await desk.Firms.Change(desk.Ada, (await desk.Firms.Mine(desk.Ada)).Version, new FirmInput("F", "#112233", "c", "EUR", UnitPreset.Metric)));
        await Leaves("client.added", () => desk.Clients.AddClient(desk.Ada, new ClientInput("N")));
        await Leaves("client.changed", async () => await desk.Clients.ChangeClient(desk.Ada, client, (await desk.Clients.Client(desk.Ada, client))!.Version, new ClientInput("M")));
        await Leaves("van.added option.added", () => desk.Vans.AddVan(desk.Ada, client, new VanInput("V", "b", "l"), "A", SampleDesign.Van()));
        await Leaves("van.changed", async () => await desk.Vans.ChangeVan(desk.Ada, van, (await desk.Vans.Van(desk.Ada, van))!.Version, new VanInput("W", "b", "l")));
        await Leaves("option.saved", async () => await desk.Options.Save(desk.Ada, option, await Version(), Month(5), "Edit"));
        await Leaves("option.renamed", async () => await desk.Options.Rename(desk.Ada, option, await Version(), "R"));
        await Leaves("option.reason-given", async () => await desk.Options.GiveReason(desk.Ada, option, await Version(), " Dearer than it helps "));
        Assert.Equal("Dearer than it helps", Assert.Single(await desk.Options.OptionsOf(desk.Ada, van)).Reason);
        await Assert.ThrowsAsync<InvalidInputException>(async () => await desk.Options.GiveReason(desk.Ada, option, await Version(), new string('x', TextLimits.Line + 1)));
        await Leaves("option.copied option.kept", () => desk.Options.Copy(desk.Ada, option, "B"));
        await Leaves("option.reopened", () => desk.Options.Reopen(desk.Ada, option));
        await Leaves("", () => desk.Options.Reopen(desk.Ada, option));
        await Leaves("option.kept", () => desk.Options.Keep(desk.Ada, option));
        await Leaves("", () => desk.Options.Keep(desk.Ada, option));
        await Leaves("option.copied", () => desk.Options.KeepAsNew(desk.Ada, option, "C", Month(6)));
        await Leaves("option.chosen", async () => await desk.Options.MarkChosen(desk.Ada, option, await Version()));
        await Leaves("option.choice-taken-back", () => desk.Options.TakeBackChoice(desk.Ada, van));
        await Leaves("", () => desk.Options.TakeBackChoice(desk.Ada, van));
        PublishedPlan plan = null!;
        await Leaves("plan.published link.added", async () => plan = await desk.Plans.Publish(desk.Ada, option, await Version(), _ => new PlanText("{}", 1, "m")));
        await Leaves("link.added", () => desk.Plans.AddLink(desk.Ada, plan.PlanId));
        await Leaves("link.revoked", () => desk.Plans.RevokeLink(desk.Ada, plan.Link.LinkId));
        await Leaves("client.erased", () => desk.Clients.EraseClient(desk.Ada, client));

        async Task<Guid> Version() => (await desk.Options.Load(desk.Ada, option))!.Version;

        async Task Leaves(string actions, Func<Task> command)
        {
            var before = (await desk.Audit.Latest(desk.Ada, 1000)).Count;
            desk.Time.Now += TimeSpan.FromSeconds(1);
            var now = desk.Time.Now.UtcDateTime;
            await command();
            var rows = await desk.Audit.Latest(desk.Ada, 1000);
            var added = rows.Take(rows.Count - before).ToList();
            Assert.Equal(actions.Split(' ', StringSplitOptions.RemoveEmptyEntries).Order(), added.Select(a => a.Action).Order());
            Assert.All(added, a => Assert.Equal("Ada Moor", a.Who));
            Assert.All(added, a => Assert.Equal(now, a.At, TimeSpan.FromMicroseconds(1)));
        }
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Erasing_a_client_removes_everything_of_theirs_and_only_theirs(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (client, _, option) = await desk.AddVan();
        var (_, otherVan, otherOption) = await desk.AddVan();
        var loaded = (await desk.Options.Load(desk.Ada, option))!;
        var plan = await desk.Plans.Publish(desk.Ada, option, loaded.Version, _ => new PlanText("{}", 1, "m"));

        await desk.Options.MarkChosen(desk.Ada, option, loaded.Version);

        await desk.Clients.EraseClient(desk.Ada, client);

        Assert.Null(await desk.Clients.Client(desk.Ada, client));
        Assert.Null(await desk.Plans.FindByToken(plan.Link.Token));
        Assert.NotNull(await desk.Options.Load(desk.Ada, otherOption));
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        Assert.Equal(otherVan, (await db.Vans.SingleAsync()).Id);
        Assert.Equal(otherOption, (await db.OptionRevisions.SingleAsync()).OptionId);
        Assert.Equal(0, await db.Plans.CountAsync());
        Assert.Equal(0, await db.PlanLinks.CountAsync());
        Assert.Equal(0, await db.ChosenOptions.CountAsync());
        await Assert.ThrowsAsync<RecordNotFoundException>(() => desk.Clients.EraseClient(desk.Ada, client));
    }

    private static Design Month(int month)
    {
        var van = SampleDesign.Van();
        return van with { Stop = van.Stop with { Month = month } };
    }

    private static List<Design> CsCheckDesigns(int count)
    {
        var designs = new List<Design>();
        CsCheck.Check.Sample(Designs.Any, designs.Add, seed: "0002DesignJson", iter: count, threads: 1);
        return designs;
    }
}
