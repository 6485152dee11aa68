using ConsultDesk.Calculations.Climate;
using ConsultDesk.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>What comes after a plan: what was built in, how it went, and the timeline of it all.</summary>
public sealed class AfterBuildTests(TestStores stores) : IClassFixture<TestStores>
{
    private static readonly InstallationInput Fan = new(" Roof fan ", new DateOnly(2026, 5, 4), "A fitter", "Sealed twice\nנועה <b>");
    private static readonly CheckBackAnswers Told = new() { WetMornings = 3, Fuel = 1.5, FuelAWeek = true, Warmth = ReportedWarmth.Mostly, Mould = true, Where = "behind the mattress", Fog = ReportedFog.EveryTime, Words = "Better" };

    public static TheoryData<StoreKind> Both => TestStores.Both;

    [Theory]
    [MemberData(nameof(Both))]
    public async Task What_was_built_in_is_added_changed_photographed_and_taken_out_again(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, _) = await desk.AddVan();
        var book = Get<InstallationBook>(desk);
        var id = await book.Add(desk.Ada, van, Fan);
        var line = Assert.Single(await book.Of(desk.Ben, van));
        Assert.Equal(("Roof fan", new DateOnly(2026, 5, 4), "A fitter", "Sealed twice\nנועה <b>"), (line.What, line.DoneOn, line.Who, line.Note));

        await book.Change(desk.Ben, id, line.Version, Fan with { What = "Roof fan and hood", Who = null });
        await Assert.ThrowsAsync<RecordChangedException>(() => book.Change(desk.Ada, id, line.Version, Fan));
        var photo = await book.AddPhoto(desk.Ada, id, [1, 2, 3], 4, 5);
        Assert.Equal([1, 2, 3], await book.Photo(desk.Ben, photo));
        line = Assert.Single(await book.Of(desk.Ada, van));
        Assert.Equal(("Roof fan and hood", "", photo, 4, 5), (line.What, line.Who, line.Photos.Single().Id, line.Photos[0].Width, line.Photos[0].Height));
        await book.RemovePhoto(desk.Ada, photo);
        await book.RemovePhoto(desk.Ada, photo);
        Assert.Null(await book.Photo(desk.Ada, photo));
        await book.AddPhoto(desk.Ada, id, [1], 1, 1);
        await book.Remove(desk.Ada, id, line.Version);
        Assert.Empty(await book.Of(desk.Ada, van));
        Assert.Equal(
            ["installation.added", "installation.changed", "installation.photo-added", "installation.photo-added", "installation.photo-removed", "installation.removed"],
            (await desk.Audit.Of(desk.Ada, id)).Select(act => act.Action).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task What_does_not_fit_is_refused_at_its_field_and_photos_come_to_an_end()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var (_, van, _) = await desk.AddVan();
        var book = Get<InstallationBook>(desk);
        await Refused("What", () => book.Add(desk.Ada, van, Fan with { What = " " }));
        await Refused("What", () => book.Add(desk.Ada, van, Fan with { What = new string('x', TextLimits.Line + 1) }));
        await Refused("DoneOn", () => book.Add(desk.Ada, van, Fan with { DoneOn = null }));
        await Refused("DoneOn", () => book.Add(desk.Ada, van, Fan with { DoneOn = new DateOnly(202, 6, 1) }));
        var id = await book.Add(desk.Ada, van, Fan);
        for (var number = 0; number < InstallationBook.MostPhotos; number++)
        {
            await book.AddPhoto(desk.Ada, id, [1], 1, 1);
        }

        await Refused("Photos", () => book.AddPhoto(desk.Ada, id, [1], 1, 1));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_report_by_link_waits_on_the_desk_until_it_is_read_and_comes_back_as_it_was_told(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (van, plan, token, _) = await Published(desk);
        var reports = Get<CheckBacks>(desk);
        Assert.True(await reports.Add(token, " Zoë ", Told));

        var waiting = Assert.Single(await reports.Waiting(desk.Ben));
        Assert.Equal((van, "Heron", "Runa Quill"), (waiting.VanId, waiting.VanName, waiting.ClientName));
        var line = Assert.Single(await reports.Of(desk.Ben, van));
        Assert.Equal((plan, 1, "Zoë", true, Told), (line.PlanId, line.PlanNumber, line.Name, line.FromClient, line.Answers));
        await reports.MarkRead(desk.Ben, line.Id, line.Version);
        await Assert.ThrowsAsync<RecordChangedException>(() => reports.MarkRead(desk.Ada, line.Id, line.Version));
        Assert.Empty(await reports.Waiting(desk.Ada));

        await reports.TakeDown(desk.Ada, plan, "Told on the phone", new CheckBackAnswers { Rust = false });
        Assert.Equal(2, (await reports.Of(desk.Ada, van)).Count);
        Assert.Empty(await reports.Waiting(desk.Ada));
        Assert.Equal(["check-back.added", "check-back.read"], (await desk.Audit.Of(desk.Ada, line.Id)).Select(act => act.Action).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task A_report_that_says_nothing_or_comes_by_a_dead_link_is_not_taken()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var (van, _, token, link) = await Published(desk);
        var reports = Get<CheckBacks>(desk);
        await Refused("Words", () => reports.Add(token, "Runa", new CheckBackAnswers { FuelUnit = ReportedFuelUnit.Gallons, FuelAWeek = true }));
        await Refused("Name", () => reports.Add(token, " ", Told));
        await Refused("WetMornings", () => reports.Add(token, "Runa", Told with { WetMornings = 11 }));
        await Refused("Fuel", () => reports.Add(token, "Runa", Told with { Fuel = 0 }));
        await Refused("Words", () => reports.Add(token, "Runa", Told with { Words = new string('x', CheckBacks.LongestText + 1) }));
        for (var number = 0; number < CheckBacks.Most; number++)
        {
            Assert.True(await reports.Add(token, "Runa", Told));
        }

        await Refused("Words", () => reports.Add(token, "Runa", Told));
        Assert.False(await reports.Add(token[..^1] + (token[^1] == 'A' ? 'B' : 'A'), "Runa", Told));
        await desk.Plans.RevokeLink(desk.Ada, link);
        Assert.False(await reports.Add(token, "Runa", Told));
        Assert.Equal(CheckBacks.Most, (await reports.Of(desk.Ada, van)).Count);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Another_firm_sees_and_changes_nothing_of_it(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (van, plan, token, _) = await Published(desk);
        var (book, reports) = (Get<InstallationBook>(desk), Get<CheckBacks>(desk));
        var id = await book.Add(desk.Ada, van, Fan);
        var photo = await book.AddPhoto(desk.Ada, id, [1], 1, 1);
        await reports.Add(token, "Runa", Told);
        var (line, report) = ((await book.Of(desk.Ada, van))[0], (await reports.Of(desk.Ada, van))[0]);

        Assert.Empty(await book.Of(desk.Stranger, van));
        Assert.Null(await book.Photo(desk.Stranger, photo));
        Assert.Empty(await reports.Of(desk.Stranger, van));
        Assert.Empty(await reports.Waiting(desk.Stranger));
        Assert.Empty(await Get<Timeline>(desk).Of(desk.Stranger, van));
        await book.RemovePhoto(desk.Stranger, photo);
        foreach (var act in new Func<Task>[]
        {
            () => book.Add(desk.Stranger, van, Fan), () => book.Change(desk.Stranger, id, line.Version, Fan), () => book.Remove(desk.Stranger, id, line.Version),
            () => book.AddPhoto(desk.Stranger, id, [1], 1, 1), () => reports.TakeDown(desk.Stranger, plan, "Cleo", Told), () => reports.MarkRead(desk.Stranger, report.Id, report.Version),
        })
        {
            await Assert.ThrowsAsync<RecordNotFoundException>(act);
        }

        Assert.NotNull(await book.Photo(desk.Ada, photo));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task The_timeline_tells_every_row_once_and_nothing_of_another_van(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (van, plan, token, _) = await Published(desk);
        await desk.AddVan();
        var replies = Get<PlanReplies>(desk);
        await replies.Add(token, new(ReplyKind.Question, null, "Runa", "Why?"));
        var asked = (await replies.Of(desk.Ada, plan))[0];
        await replies.Answer(desk.Ada, asked.Id, asked.Version, "So.");
        await replies.Add(token, new(ReplyKind.Accepted, null, "Runa", null));
        await Get<InstallationBook>(desk).Add(desk.Ada, van, Fan);
        await Get<CheckBacks>(desk).Add(token, "Runa", Told);
        await Get<FollowUps>(desk).Add(desk.Ada, van, new(new DateOnly(2027, 3, 1), FollowUps.AfterFirstWinter));
        var consult = await Get<ConsultBook>(desk).Add(desk.Ada, van, new(new DateOnly(2026, 3, 4), new TimeOnly(9, 0), 60, "Europe/Paris"));
        await Get<Intakes>(desk).Send(desk.Ada, van);

        var events = await Get<Timeline>(desk).Of(desk.Ben, van);
        TimelineKind[] expected =
        [
            TimelineKind.VanAdded, TimelineKind.IntakeSent, TimelineKind.ConsultPlanned, TimelineKind.OptionMade, TimelineKind.PlanPublished, TimelineKind.PlanOpened,
            TimelineKind.Asked, TimelineKind.Answered, TimelineKind.Accepted, TimelineKind.Installed, TimelineKind.Reported, TimelineKind.FollowUpDue,
        ];
        Assert.Equal(expected.Order(), events.Select(item => item.Kind).Order());
        Assert.All(events, item => Assert.True(item.At is null != item.Day is null));
        Assert.Equal(new DateOnly(2026, 5, 4), events.Single(item => item.Kind == TimelineKind.Installed).Day);
        Assert.Equal(new DateTime(2026, 3, 4, 8, 0, 0, DateTimeKind.Utc), events.Single(item => item.Id == consult).At);
        Assert.Equal((1, plan), (events.Single(item => item.Kind == TimelineKind.Accepted).Number, events.Single(item => item.Kind == TimelineKind.Accepted).PlanId));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Erasing_the_client_erases_what_was_built_in_its_photos_and_reports(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (van, _, token, _) = await Published(desk);
        var book = Get<InstallationBook>(desk);
        await book.AddPhoto(desk.Ada, await book.Add(desk.Ada, van, Fan), [1], 1, 1);
        await Get<CheckBacks>(desk).Add(token, "Runa", Told);
        var client = (await desk.Vans.Van(desk.Ada, van))!.ClientId;

        await desk.Clients.EraseClient(desk.Ada, client);

        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        Assert.Equal((0, 0, 0), (await db.Installations.CountAsync(), await db.InstallationPhotos.CountAsync(), await db.CheckBacks.CountAsync()));
    }

    /// <summary>The rule of the method page, day by day: our judgement.</summary>
    [Theory]
    [InlineData("2026-05-04", false, "2027-03-01")]
    [InlineData("2026-12-31", false, "2027-03-01")]
    [InlineData("2027-01-01", false, "2028-03-01")]
    [InlineData("2027-03-01", false, "2028-03-01")]
    [InlineData("2026-05-04", true, "2026-09-01")]
    [InlineData("2026-07-03", true, "2026-09-01")]
    [InlineData("2026-07-04", true, "2027-09-01")]
    [InlineData("2028-01-01", false, "2028-03-01")]
    public void A_first_winter_ends_on_the_first_of_March_or_September_sixty_days_later_at_the_earliest(string done, bool southern, string expected) =>
        Assert.Equal(DateOnly.ParseExact(expected, "yyyy-MM-dd", null), FirstWinter.CheckBackOn(DateOnly.ParseExact(done, "yyyy-MM-dd", null), southern));

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_plan_keeps_tonight_s_settings_beside_its_text_and_one_without_has_none(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, _, option) = await desk.AddVan();
        var version = (await desk.Options.Load(desk.Ada, option))!.Version;
        var with = await desk.Plans.Publish(desk.Ada, option, version, _ => new PlanText("{}", 1, "m", "{\"format\":1}"));
        var without = await desk.Plans.Publish(desk.Ada, option, version, _ => new PlanText("{}", 1, "m"));
        Assert.Equal("{\"format\":1}", (await desk.Plans.FindByToken(with.Link.Token))!.TonightText);
        Assert.Null((await desk.Plans.Plan(desk.Ada, without.PlanId))!.TonightText);
    }

    private static async Task Refused(string field, Func<Task> act) =>
        Assert.Contains((await Assert.ThrowsAsync<InvalidInputException>(act)).Errors, error => error.Field == field && error.Message.Length > 0);

    private static async Task<(Guid Van, Guid Plan, string Token, Guid Link)> Published(TestDesk desk)
    {
        var (_, van, option) = await desk.AddVan();
        var loaded = (await desk.Options.Load(desk.Ada, option))!;
        var plan = await desk.Plans.Publish(desk.Ada, option, loaded.Version, _ => new PlanText("{}", 1, "m"));
        return (van, plan.PlanId, plan.Link.Token, plan.Link.LinkId);
    }

    private static T Get<T>(TestDesk desk)
        where T : notnull => desk.App.GetRequiredService<T>();
}
