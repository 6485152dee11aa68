using ConsultDesk.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>Consults, agenda, declined advice and follow-ups of a van.</summary>
public sealed class ConsultTests(TestStores stores) : IClassFixture<TestStores>
{
    public static TheoryData<StoreKind> Both => TestStores.Both;

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_consult_is_entered_in_the_clients_time_and_kept_in_universal_time(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, _) = await desk.AddVan();
        var book = Consults(desk);

        // Oslo keeps central European time: one hour ahead in January, two in July (zone database, Europe/Oslo).
        var winter = await book.Add(desk.Ada, van, At(2026, 1, 20, 18, 30, "Europe/Oslo"));
        var summer = await book.Add(desk.Ada, van, At(2026, 7, 20, 18, 30, "Europe/Oslo"));
        // Kathmandu is 5 h 45 min ahead all year (zone database, Asia/Kathmandu).
        var odd = await book.Add(desk.Ada, van, At(2026, 1, 20, 4, 45, "Asia/Kathmandu"));

        Assert.Equal(new DateTime(2026, 1, 20, 17, 30, 0, DateTimeKind.Utc), (await book.Consult(desk.Ben, winter))!.StartsAt);
        Assert.Equal(new DateTime(2026, 7, 20, 16, 30, 0, DateTimeKind.Utc), (await book.Consult(desk.Ben, summer))!.StartsAt);
        Assert.Equal(new DateTime(2026, 1, 19, 23, 0, 0, DateTimeKind.Utc), (await book.Consult(desk.Ben, odd))!.StartsAt);
        Assert.Equal([odd, winter, summer], (await book.Next(desk.Ben, 10)).Select(line => line.Id));
        Assert.Equal([summer, winter, odd], (await book.Of(desk.Ben, van)).Select(consult => consult.Id));
        Assert.Equal([odd, winter], (await book.Next(desk.Ben, 2)).Select(line => line.Id));
        Assert.Equal(("Heron", "Runa Quill"), (await book.Next(desk.Ben, 1))[0] is var first ? (first.VanName, first.ClientName) : default);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_held_consult_leaves_the_list_of_the_next_ones_and_comes_back_when_it_was_not_held(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, _) = await desk.AddVan();
        var book = Consults(desk);
        var id = await book.Add(desk.Ada, van, At(2026, 2, 4, 18, 0, "UTC"));

        var version = await book.MarkHeld(desk.Ada, id, (await book.Consult(desk.Ada, id))!.Version);
        Assert.Empty(await book.Next(desk.Ada, 10));
        Assert.Equal(desk.Time.Now.UtcDateTime, (await book.Consult(desk.Ada, id))!.HeldAt!.Value, TimeSpan.FromMicroseconds(1));
        version = await book.MarkNotHeld(desk.Ada, id, version);
        Assert.Equal(id, Assert.Single(await book.Next(desk.Ada, 10)).Id);
        version = await book.Change(desk.Ada, id, version, At(2026, 2, 5, 18, 0, "UTC"));
        Assert.Equal(5, (await book.Next(desk.Ada, 10))[0].StartsAt.Day);

        await Assert.ThrowsAsync<RecordChangedException>(() => book.Remove(desk.Ben, id, Guid.NewGuid()));
        await book.Remove(desk.Ben, id, version);
        Assert.Null(await book.Consult(desk.Ada, id));
    }

    [Theory]
    [InlineData("Middle Earth/Shire")]
    [InlineData("Oslo")]
    [InlineData("W. Europe Standard Time")]
    [InlineData("../../etc/localtime")]
    [InlineData("/etc/localtime")]
    [InlineData("")]
    public async Task A_time_zone_that_the_zone_database_does_not_name_is_refused(string zone)
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var (_, van, _) = await desk.AddVan();

        var e = await Assert.ThrowsAsync<InvalidInputException>(() => Consults(desk).Add(desk.Ada, van, At(2026, 1, 20, 18, 30, zone)));

        var error = Assert.Single(e.Errors);
        Assert.Equal("TimeZone", error.Field);
        Assert.StartsWith("Expected", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_hour_that_the_change_of_the_clocks_leaves_out_or_repeats_is_refused_and_said()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var (_, van, _) = await desk.AddVan();

        // Directive 2000/84/EC: clocks change at 01:00 universal time on the last Sundays of March (29th in 2026) and October (25th).
        var gone = await Assert.ThrowsAsync<InvalidInputException>(() => Consults(desk).Add(desk.Ada, van, At(2026, 3, 29, 2, 30, "Europe/Oslo")));
        var twice = await Assert.ThrowsAsync<InvalidInputException>(() => Consults(desk).Add(desk.Ada, van, At(2026, 10, 25, 2, 30, "Europe/Oslo")));

        Assert.Contains("forward", Assert.Single(gone.Errors).Message, StringComparison.Ordinal);
        Assert.Contains("back", Assert.Single(twice.Errors).Message, StringComparison.Ordinal);
        Assert.Empty(await Consults(desk).Of(desk.Ada, van));
    }

    [Fact]
    public async Task Everything_wrong_with_a_consult_is_said_at_once()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var (_, van, _) = await desk.AddVan();

        var e = await Assert.ThrowsAsync<InvalidInputException>(() => Consults(desk).Add(desk.Ada, van, new ConsultInput(new DateOnly(202, 6, 1), null, 4, "Oslo")));
        Assert.Equal(["Day", "Time", "Minutes", "TimeZone"], e.Errors.Select(error => error.Field));
        foreach (var minutes in new int?[] { null, 0, 481 })
        {
            e = await Assert.ThrowsAsync<InvalidInputException>(() => Consults(desk).Add(desk.Ada, van, At(2026, 1, 20, 18, 30, "UTC") with { Minutes = minutes }));
            Assert.Equal("Minutes", Assert.Single(e.Errors).Field);
        }
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Private_notes_are_kept_as_typed_and_the_second_writer_is_told_and_loses_nothing(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, _) = await desk.AddVan();
        var book = Consults(desk);
        var id = await book.Add(desk.Ada, van, At(2026, 2, 4, 18, 0, "UTC"));
        var loaded = (await book.Consult(desk.Ada, id))!;
        const string Typed = "  Talks over him.\n\n- wants quiet \n\tנועה בן־דוד 🚐 ";

        var saved = Assert.IsType<NotesSaved>(await book.SaveNotes(desk.Ada, id, loaded.Version, Typed));
        Assert.Equal(Typed, (await book.Consult(desk.Ben, id))!.PrivateNotes);
        // The same notes again are no change.
        Assert.Equal(saved.Version, Assert.IsType<NotesSaved>(await book.SaveNotes(desk.Ada, id, saved.Version, Typed)).Version);

        desk.Time.Now += TimeSpan.FromMinutes(3);
        var when = desk.Time.Now.UtcDateTime;
        Assert.IsType<NotesSaved>(await book.SaveNotes(desk.Ben, id, saved.Version, "Ben's"));
        desk.Time.Now += TimeSpan.FromMinutes(3);
        var told = Assert.IsType<NotesConflict>(await book.SaveNotes(desk.Ada, id, saved.Version, "Ada's"));

        Assert.Equal(("Ben Tarn", "Ben's"), (told.Who, told.Theirs));
        Assert.Equal(when, told.At, TimeSpan.FromMicroseconds(1));
        Assert.Equal("Ben's", (await book.Consult(desk.Ada, id))!.PrivateNotes);
        Assert.IsType<NotesSaved>(await book.SaveNotes(desk.Ada, id, told.TheirVersion, "Ada's and Ben's"));

        var version = (await book.Consult(desk.Ada, id))!.Version;
        foreach (var wrong in new[] { new string('n', TextLimits.Notes + 1), "nul \0", "half \uD83D" })
        {
            var e = await Assert.ThrowsAsync<InvalidInputException>(() => book.SaveNotes(desk.Ada, id, version, wrong));
            Assert.Equal("PrivateNotes", Assert.Single(e.Errors).Field);
        }

        Assert.Equal("Ada's and Ben's", (await book.Consult(desk.Ada, id))!.PrivateNotes);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task The_agenda_is_twelve_points_in_their_order_all_open_until_somebody_touches_one(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, _) = await desk.AddVan();
        var book = Decisions(desk);

        var before = await book.Of(desk.Ben, van);
        Assert.Equal(12, before.Count);
        Assert.Equal(
            [
                DecisionTopic.PeopleAndRoute, DecisionTopic.AlreadyFixed, DecisionTopic.AirInRain, DecisionTopic.CookerSteam,
                DecisionTopic.AirAtBed, DecisionTopic.CabGlass, DecisionTopic.HeatSource, DecisionTopic.SteelAndWalls,
                DecisionTopic.CupboardsAndBed, DecisionTopic.PowerAndRoof, DecisionTopic.DangersAndAlarms, DecisionTopic.BudgetAndLooks,
            ],
            before.Select(point => point.Topic));
        Assert.All(before, point => Assert.Equal((DecisionState.Open, null, null), (point.State, point.Version, point.ChangedAt)));

        var longName = new string('W', 298) + "🚐";
        foreach (var (topic, who) in new[] { (DecisionTopic.HeatSource, "נועה בן־דוד"), (DecisionTopic.AirInRain, longName) })
        {
            var saved = Assert.IsType<DecisionSaved>(await book.Save(
                desk.Ada, van, topic, null, new DecisionInput(DecisionState.Decided, "A room-sealed air heater", "Quiet at night", who)));
            var point = (await book.Of(desk.Ben, van)).Single(p => p.Topic == topic);
            Assert.Equal(saved.Point.Version, point.Version);
            Assert.Equal(("A room-sealed air heater", "Quiet at night", who), (point.What, point.Why, point.Who));
            Assert.Equal(desk.Time.Now.UtcDateTime, point.ChangedAt!.Value, TimeSpan.FromMicroseconds(1));
        }

        Assert.Equal(10, (await book.Of(desk.Ben, van)).Count(point => point.State == DecisionState.Open));
        Assert.Empty(await book.Of(desk.Ben, Guid.NewGuid()));
    }

    [Fact]
    public async Task Declining_says_what_was_advised_why_not_and_who_and_deciding_says_what()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var (_, van, _) = await desk.AddVan();

        Assert.Equal(["What", "Why", "Who"], await Wrong(new(DecisionState.Declined, " ")));
        Assert.Equal(["Why"], await Wrong(new(DecisionState.Declined, "A fan", "", "Runa")));
        Assert.Equal(["What"], await Wrong(new(DecisionState.Decided)));
        Assert.Equal(["What"], await Wrong(new(DecisionState.Open, new string('w', TextLimits.Line + 1))));
        Assert.Equal(["Who"], await Wrong(new(DecisionState.Open, Who: new string('w', TextLimits.Name + 1))));
        Assert.Equal(["State"], await Wrong(new((DecisionState)9)));
        Assert.All(await Decisions(desk).Of(desk.Ada, van), point => Assert.Null(point.Version));
        // An open point may hold what was said so far.
        Assert.IsType<DecisionSaved>(await Decisions(desk).Save(desk.Ada, van, DecisionTopic.AirAtBed, null, new(DecisionState.Open, "Two ideas")));

        async Task<IEnumerable<string>> Wrong(DecisionInput input) =>
            (await Assert.ThrowsAsync<InvalidInputException>(() => Decisions(desk).Save(desk.Ada, van, DecisionTopic.AirAtBed, null, input))).Errors.Select(e => e.Field);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Of_two_people_on_one_decision_the_second_is_told_who_was_first_and_what_they_said(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, _) = await desk.AddVan();
        var book = Decisions(desk);
        Assert.IsType<DecisionSaved>(await book.Save(desk.Ben, van, DecisionTopic.HeatSource, null, new(DecisionState.Decided, "Gas")));
        var when = desk.Time.Now.UtcDateTime;
        desk.Time.Now += TimeSpan.FromMinutes(1);

        var told = Assert.IsType<DecisionConflict>(await book.Save(desk.Ada, van, DecisionTopic.HeatSource, null, new(DecisionState.Decided, "Diesel")));

        Assert.Equal(("Ben Tarn", "Gas"), (told.Who, told.Theirs.What));
        Assert.Equal(when, told.At, TimeSpan.FromMicroseconds(1));
        Assert.Equal("Gas", (await book.Of(desk.Ada, van)).Single(p => p.Topic == DecisionTopic.HeatSource).What);
        var over = Assert.IsType<DecisionSaved>(await book.Save(desk.Ada, van, DecisionTopic.HeatSource, told.Theirs.Version, new(DecisionState.Decided, "Diesel")));
        told = Assert.IsType<DecisionConflict>(await book.Save(desk.Ben, van, DecisionTopic.HeatSource, told.Theirs.Version, new(DecisionState.Open)));
        Assert.Equal(("Ada Moor", over.Point), (told.Who, told.Theirs));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Of_people_saving_one_decision_at_once_one_is_stored_and_the_others_are_told(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, _) = await desk.AddVan();

        var results = await Task.WhenAll(Enumerable.Range(1, 4).Select(n => Task.Run(() => Decisions(desk).Save(
            n % 2 == 0 ? desk.Ada : desk.Ben, van, DecisionTopic.CabGlass, null, new(DecisionState.Decided, $"Idea {n}")))));

        var stored = Assert.Single(results.OfType<DecisionSaved>()).Point;
        Assert.Equal(3, results.OfType<DecisionConflict>().Count());
        Assert.All(results.OfType<DecisionConflict>(), told => Assert.Equal(stored.What, told.Theirs.What));
        Assert.Equal(stored.What, (await Decisions(desk).Of(desk.Ada, van)).Single(p => p.Topic == DecisionTopic.CabGlass).What);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Declined_advice_stands_with_its_why_and_who_until_it_is_taken_back(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, _) = await desk.AddVan();
        var book = Declined(desk);

        var id = await book.Add(desk.Ada, van, new("fan-sealed-in", "Open a low inlet", "No more holes", "Runa"));
        desk.Time.Now += TimeSpan.FromMinutes(1);
        await book.Add(desk.Ada, van, new(null, "A second battery", "Weight", "Both"));

        var rows = await book.Of(desk.Ben, van);
        Assert.Equal(["Open a low inlet", "A second battery"], rows.Select(row => row.Advice));
        Assert.Equal(["fan-sealed-in", null], rows.Select(row => row.FindingCode));
        var twice = await Assert.ThrowsAsync<InvalidInputException>(() => book.Add(desk.Ben, van, new("fan-sealed-in", "Open another", "No", "Runa")));
        Assert.Equal("Advice", Assert.Single(twice.Errors).Field);
        var empty = await Assert.ThrowsAsync<InvalidInputException>(() => book.Add(desk.Ben, van, new("wet-skin", null, "", "  ")));
        Assert.Equal(["Advice", "Why", "Who"], empty.Errors.Select(error => error.Field));

        await Assert.ThrowsAsync<RecordChangedException>(() => book.TakeBack(desk.Ben, id, Guid.NewGuid()));
        await book.TakeBack(desk.Ben, id, rows[0].Version);
        Assert.Equal("A second battery", Assert.Single(await book.Of(desk.Ada, van)).Advice);
        await book.Add(desk.Ben, van, new("fan-sealed-in", "Open another", "No", "Runa"));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_consults_own_points_are_ticked_by_two_people_at_once_without_touching_the_notes(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, _) = await desk.AddVan();
        var book = Consults(desk);
        var id = await book.Add(desk.Ada, van, At(2026, 2, 4, 18, 0, "UTC") with { Agenda = " Rust spots \r\n\n✓ Photographs\nWho builds?" });
        var consult = (await book.Consult(desk.Ada, id))!;
        Assert.Equal([new("Rust spots", false), new("Photographs", true), new("Who builds?", false)], ConsultAgenda.Read(consult.Agenda));

        await Task.WhenAll(
            Task.Run(() => book.TickPoint(desk.Ada, id, "Rust spots", done: true)),
            Task.Run(() => book.TickPoint(desk.Ben, id, "Who builds?", done: true)),
            Task.Run(() => book.TickPoint(desk.Ben, id, "Photographs", done: false)));

        Assert.Equal("✓ Rust spots\nPhotographs\n✓ Who builds?", (await book.Consult(desk.Ada, id))!.Agenda);
        Assert.IsType<NotesSaved>(await book.SaveNotes(desk.Ada, id, consult.Version, "Typed meanwhile"));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => book.TickPoint(desk.Ada, id, "No such point", done: true));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => book.TickPoint(desk.Stranger, id, "Photographs", done: true));
        var version = (await book.Consult(desk.Ada, id))!.Version;
        await book.Change(desk.Ada, id, version, At(2026, 2, 5, 18, 0, "UTC"));
        Assert.Equal("✓ Rust spots\nPhotographs\n✓ Who builds?", (await book.Consult(desk.Ada, id))!.Agenda);

        var many = string.Join('\n', Enumerable.Range(0, ConsultAgenda.Most + 1));
        var wrong = await Assert.ThrowsAsync<InvalidInputException>(() => book.Add(desk.Ada, van, At(2026, 2, 4, 18, 0, "UTC") with { Agenda = many }));
        Assert.Equal("Expected at most 60 points, got 61.", Assert.Single(wrong.Errors).Message);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Agenda_templates_are_made_renamed_edited_and_deleted_by_their_own_firm(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var book = desk.App.GetRequiredService<AgendaTemplates>();
        var id = await book.Add(desk.Ben, new("First call", "✓ One\n\n Two "));
        Assert.Equal(("First call", "One\nTwo"), (await book.All(desk.Ada)).Single() is var made ? (made.Name, made.Points) : default);

        await Refused(() => book.Add(desk.Ada, new("First call", "x")), "Name", "no other template");
        await Refused(() => book.Add(desk.Ada, new("Empty", " \n ")), "Points", "at least one point");
        await Refused(() => book.Add(desk.Ada, new(" ", new string('x', TextLimits.Line + 1))), "Points", "at most 500 characters in a point");
        await book.Add(desk.Stranger, new("First call", "Theirs"));
        var version = await book.Change(desk.Ada, id, made.Version, new("The first call", "One\nTwo\nThree"));
        await Assert.ThrowsAsync<RecordChangedException>(() => book.Change(desk.Ben, id, made.Version, new("Lost", "x")));
        await Assert.ThrowsAsync<RecordChangedException>(() => book.Delete(desk.Ben, id, made.Version));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => book.Delete(desk.Stranger, id, version));
        Assert.Equal("The first call", Assert.Single(await book.All(desk.Ben)).Name);
        await book.Delete(desk.Ben, id, version);
        Assert.Empty(await book.All(desk.Ada));
        Assert.Equal(["agenda-template.added", "agenda-template.changed", "agenda-template.deleted"], (await desk.Audit.Of(desk.Ada, id)).Select(line => line.Action).Order(StringComparer.Ordinal));

        static async Task Refused(Func<Task> act, string field, string expected)
        {
            var refused = await Assert.ThrowsAsync<InvalidInputException>(act);
            Assert.Contains(refused.Errors, error => error.Field == field && error.Message.Contains(expected, StringComparison.Ordinal));
        }
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Follow_ups_are_due_by_day_leave_the_list_when_done_and_come_back_when_reopened(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, _) = await desk.AddVan();
        var book = Follow(desk);
        var late = await book.Add(desk.Ada, van, new(new DateOnly(2026, 3, 1), "Ask for the photographs"));
        var early = await book.Add(desk.Ada, van, new(new DateOnly(2026, 2, 1), "Send the list of parts"));

        Assert.Equal([early, late], (await book.Open(desk.Ben, 10)).Select(line => line.Id));
        Assert.Equal([early], (await book.Open(desk.Ben, 1)).Select(line => line.Id));
        Assert.Equal(("Heron", "Runa Quill"), (await book.Open(desk.Ben, 1))[0] is var first ? (first.VanName, first.ClientName) : default);
        var version = await book.MarkDone(desk.Ben, early, (await book.Open(desk.Ben, 1))[0].Version);
        Assert.Equal([late], (await book.Open(desk.Ben, 10)).Select(line => line.Id));
        Assert.Equal([late, early], (await book.Of(desk.Ben, van)).Select(row => row.Id));
        await Assert.ThrowsAsync<RecordChangedException>(() => book.Reopen(desk.Ada, early, Guid.NewGuid()));
        version = await book.Reopen(desk.Ada, early, version);
        await book.Change(desk.Ada, early, version, new(new DateOnly(2026, 4, 1), "Send it"));
        Assert.Equal([late, early], (await book.Open(desk.Ben, 10)).Select(line => line.Id));

        var wrong = await Assert.ThrowsAsync<InvalidInputException>(() => book.Add(desk.Ada, van, new(new DateOnly(26, 4, 1), " ")));
        Assert.Equal(["Text", "DueOn"], wrong.Errors.Select(error => error.Field));
        wrong = await Assert.ThrowsAsync<InvalidInputException>(() => book.Add(desk.Ada, van, new(null, new string('x', TextLimits.Line + 1))));
        Assert.Equal(["Text", "DueOn"], wrong.Errors.Select(error => error.Field));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Every_act_around_a_consult_leaves_its_audit_row_with_who_and_no_words(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, _) = await desk.AddVan();
        var (consult, version) = (Guid.Empty, Guid.Empty);
        await Leaves("consult.added", async () => consult = await Consults(desk).Add(desk.Ben, van, At(2026, 2, 4, 18, 0, "UTC")));
        version = (await Consults(desk).Consult(desk.Ada, consult))!.Version;
        await Leaves("consult.changed", async () => version = await Consults(desk).Change(desk.Ben, consult, version, At(2026, 2, 5, 18, 0, "UTC")));
        await Leaves("consult.notes-saved", async () => version = ((NotesSaved)await Consults(desk).SaveNotes(desk.Ben, consult, version, "private")).Version);
        await Leaves("consult.held", async () => version = await Consults(desk).MarkHeld(desk.Ben, consult, version));
        await Leaves("consult.not-held", async () => version = await Consults(desk).MarkNotHeld(desk.Ben, consult, version));
        await Leaves("consult.removed", () => Consults(desk).Remove(desk.Ben, consult, version));
        Guid? point = null;
        foreach (var state in Enum.GetValues<DecisionState>())
        {
            await Leaves($"decision.{state.ToString().ToLowerInvariant()}", async () =>
                point = ((DecisionSaved)await Decisions(desk).Save(desk.Ben, van, DecisionTopic.AirAtBed, point, new(state, "x", "y", "z"))).Point.Version);
        }

        var advice = Guid.Empty;
        await Leaves("advice.declined", async () => advice = await Declined(desk).Add(desk.Ben, van, new(null, "x", "y", "z")));
        await Leaves("advice.taken-back", async () => await Declined(desk).TakeBack(desk.Ben, advice, (await Declined(desk).Of(desk.Ben, van))[0].Version));
        var followUp = Guid.Empty;
        await Leaves("follow-up.added", async () => followUp = await Follow(desk).Add(desk.Ben, van, new(new DateOnly(2026, 2, 1), "x")));
        version = (await Follow(desk).Of(desk.Ada, van))[0].Version;
        await Leaves("follow-up.changed", async () => version = await Follow(desk).Change(desk.Ben, followUp, version, new(new DateOnly(2026, 2, 2), "x")));
        await Leaves("follow-up.done", async () => version = await Follow(desk).MarkDone(desk.Ben, followUp, version));
        await Leaves("follow-up.reopened", async () => version = await Follow(desk).Reopen(desk.Ben, followUp, version));

        async Task Leaves(string action, Func<Task> act)
        {
            desk.Time.Now += TimeSpan.FromSeconds(1);
            await act();
            var row = (await desk.Audit.Latest(desk.Ada, 1))[0];
            Assert.Equal((action, "Ben Tarn"), (row.Action, row.Who));
            Assert.Equal(desk.Time.Now.UtcDateTime, row.At, TimeSpan.FromMicroseconds(1));
        }
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task The_ids_of_another_firm_give_nothing_and_change_nothing(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, _) = await desk.AddVan();
        var filled = await Fill(desk, van);
        var stranger = desk.Stranger;

        Assert.Empty(await Consults(desk).Next(stranger, 10));
        Assert.Empty(await Consults(desk).Of(stranger, van));
        Assert.Null(await Consults(desk).Consult(stranger, filled.Consult.Id));
        Assert.Empty(await Decisions(desk).Of(stranger, van));
        Assert.Empty(await Declined(desk).Of(stranger, van));
        Assert.Empty(await Follow(desk).Open(stranger, 10));
        Assert.Empty(await Follow(desk).Of(stranger, van));

        var (consult, point, advice, followUp) = filled;
        await Refused(() => Consults(desk).Add(stranger, van, At(2026, 2, 4, 18, 0, "UTC")));
        await Refused(() => Consults(desk).Change(stranger, consult.Id, consult.Version, At(2026, 2, 4, 18, 0, "UTC")));
        await Refused(() => Consults(desk).MarkHeld(stranger, consult.Id, consult.Version));
        await Refused(() => Consults(desk).MarkNotHeld(stranger, consult.Id, consult.Version));
        await Refused(() => Consults(desk).Remove(stranger, consult.Id, consult.Version));
        await Refused(() => Consults(desk).SaveNotes(stranger, consult.Id, consult.Version, "theirs"));
        await Refused(() => Decisions(desk).Save(stranger, van, point.Topic, point.Version, new(DecisionState.Open)));
        await Refused(() => Declined(desk).Add(stranger, van, new(null, "x", "y", "z")));
        await Refused(() => Declined(desk).TakeBack(stranger, advice.Id, advice.Version));
        await Refused(() => Follow(desk).Add(stranger, van, new(new DateOnly(2026, 2, 1), "x")));
        await Refused(() => Follow(desk).Change(stranger, followUp.Id, followUp.Version, new(new DateOnly(2026, 2, 1), "x")));
        await Refused(() => Follow(desk).MarkDone(stranger, followUp.Id, followUp.Version));
        await Refused(() => Follow(desk).Reopen(stranger, followUp.Id, followUp.Version));

        Assert.Equal(consult.Version, Assert.Single(await Consults(desk).Of(desk.Ada, van)).Version);
        Assert.Equal(point, (await Decisions(desk).Of(desk.Ada, van)).Single(p => p.Topic == point.Topic));
        Assert.Equal(advice.Version, Assert.Single(await Declined(desk).Of(desk.Ada, van)).Version);
        Assert.Equal(followUp.Version, Assert.Single(await Follow(desk).Of(desk.Ada, van)).Version);

        static Task Refused(Func<Task> act) => Assert.ThrowsAsync<RecordNotFoundException>(act);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Erasing_a_client_removes_consults_notes_decisions_and_follow_ups_and_only_theirs(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (client, van, _) = await desk.AddVan();
        var (_, other, _) = await desk.AddVan();
        await Fill(desk, van);
        var kept = await Fill(desk, other);

        await desk.Clients.EraseClient(desk.Ada, client);

        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        Assert.Equal(kept.Consult.Id, (await db.Consults.SingleAsync()).Id);
        Assert.Equal(other, (await db.Decisions.SingleAsync()).VanId);
        Assert.Equal(kept.Advice.Id, (await db.DeclinedAdvice.SingleAsync()).Id);
        Assert.Equal(kept.FollowUp.Id, (await db.FollowUps.SingleAsync()).Id);
    }

    private static ConsultBook Consults(TestDesk desk) => desk.App.GetRequiredService<ConsultBook>();

    private static DecisionBook Decisions(TestDesk desk) => desk.App.GetRequiredService<DecisionBook>();

    private static DeclinedAdviceBook Declined(TestDesk desk) => desk.App.GetRequiredService<DeclinedAdviceBook>();

    private static FollowUps Follow(TestDesk desk) => desk.App.GetRequiredService<FollowUps>();

    private static ConsultInput At(int year, int month, int day, int hour, int minute, string zone) =>
        new(new DateOnly(year, month, day), new TimeOnly(hour, minute), 60, zone);

    private static async Task<(Consult Consult, DecisionPoint Point, DeclinedAdvice Advice, FollowUp FollowUp)> Fill(TestDesk desk, Guid van)
    {
        var consult = await Consults(desk).Add(desk.Ada, van, At(2026, 2, 4, 18, 0, "UTC"));
        await Consults(desk).SaveNotes(desk.Ada, consult, (await Consults(desk).Consult(desk.Ada, consult))!.Version, "private");
        var point = await Decisions(desk).Save(desk.Ada, van, DecisionTopic.AirAtBed, null, new(DecisionState.Decided, "x"));
        await Declined(desk).Add(desk.Ada, van, new("wet-skin", "x", "y", "z"));
        await Follow(desk).Add(desk.Ada, van, new(new DateOnly(2026, 2, 1), "x"));
        return (
            (await Consults(desk).Consult(desk.Ada, consult))!, ((DecisionSaved)point).Point,
            (await Declined(desk).Of(desk.Ada, van))[0], (await Follow(desk).Of(desk.Ada, van))[0]);
    }
}
