using ConsultDesk.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>Questionnaires sent by link: what the client does, and what the consultant does.</summary>
public sealed class IntakeTests(TestStores stores) : IClassFixture<TestStores>
{
    private static readonly byte[] Jpeg = [0xFF, 0xD8, 0xFF, 0xE0, 1, 2, 3];

    public static TheoryData<StoreKind> Both => TestStores.Both;

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Answers_are_kept_as_typed_step_by_step_and_on_any_device_until_they_are_sent(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, _) = await desk.AddVan();
        var sent = await Book(desk).Send(desk.Ada, van);
        var door = Door(desk);

        Assert.True(await door.Save(sent.Token, new Dictionary<string, string> { ["sleepers"] = "2", ["bothers"] = "נועה <b>\nwet 🚐" }));
        Assert.True(await door.Save(sent.Token, new Dictionary<string, string> { ["animals"] = "1", ["sleepers"] = "" }));
        Assert.True(await door.AddPhoto(sent.Token, "ribs", Jpeg, 40, 30));

        var client = (await door.Open(sent.Token))!;
        Assert.Equal(new Dictionary<string, string> { ["animals"] = "1", ["bothers"] = "נועה <b>\nwet 🚐" }, client.Answers);
        Assert.Equal(("Heron", "ribs", 40), (client.VanName, Assert.Single(client.Photos).Subject, client.Photos[0].Width));
        Assert.Equal(Jpeg, await door.Photo(sent.Token, client.Photos[0].Id));
        Assert.Empty(await Book(desk).Waiting(desk.Ben));

        Assert.True(await door.Submit(sent.Token, ["I agree."]));
        Assert.NotNull((await door.Open(sent.Token))!.SubmittedAt);
        await Assert.ThrowsAsync<IntakeSubmittedException>(() => door.Save(sent.Token, new Dictionary<string, string> { ["animals"] = "2" }));
        await Assert.ThrowsAsync<IntakeSubmittedException>(() => door.RemovePhoto(sent.Token, client.Photos[0].Id));
        await Assert.ThrowsAsync<IntakeSubmittedException>(() => door.Submit(sent.Token, ["Again."]));

        var waiting = Assert.Single(await Book(desk).Waiting(desk.Ben));
        Assert.Equal((sent.IntakeId, "Heron", "Runa Quill"), (waiting.Id, waiting.VanName, waiting.ClientName));
        var read = (await Book(desk).Open(desk.Ben, van, sent.IntakeId))!;
        Assert.Equal(("1", "I agree."), (read.Answers["animals"], read.Consent));
        Assert.Equal(Jpeg, await Book(desk).Photo(desk.Ben, read.Photos[0].Id));
        await Book(desk).MarkReviewed(desk.Ben, sent.IntakeId);
        Assert.Empty(await Book(desk).Waiting(desk.Ada));
        Assert.NotNull(Assert.Single(await Book(desk).IntakesOf(desk.Ada, van)).ReviewedAt);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Two_devices_at_the_same_time_lose_no_answer(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, _) = await desk.AddVan();
        var token = (await Book(desk).Send(desk.Ada, van)).Token;
        var door = Door(desk);

        await Task.WhenAll(Enumerable.Range(0, 4).Select(device => Task.Run(() => door.Save(token, new Dictionary<string, string> { ["device-" + device] = "here" }))));

        Assert.Equal(["device-0", "device-1", "device-2", "device-3"], (await door.Open(token))!.Answers.Keys.Order());
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_link_that_is_wrong_withdrawn_or_expired_opens_nothing_and_changes_nothing(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, _) = await desk.AddVan();
        var book = Book(desk);
        var door = Door(desk);
        var sent = await book.Send(desk.Ada, van, TimeSpan.FromHours(1));
        var other = await book.Send(desk.Ada, van);
        Assert.NotNull(await door.Open(sent.Token));

        var last = sent.Token[^1] == 'A' ? 'B' : 'A';
        foreach (var wrong in new[] { "", "x", sent.Token[..^1] + last, sent.Token + "A", null })
        {
            Assert.Null(await door.Open(wrong));
        }

        await book.Revoke(desk.Ada, other.IntakeId);
        await book.Revoke(desk.Ben, other.IntakeId);
        Assert.Null(await door.Open(other.Token));
        Assert.False(await door.Save(other.Token, new Dictionary<string, string> { ["animals"] = "1" }));

        desk.Time.Now += TimeSpan.FromHours(1);
        Assert.Null(await door.Open(sent.Token));
        Assert.False(await door.Submit(sent.Token, ["I agree."]));
        Assert.Equal(IntakeAnswers.Write(IntakeAnswers.None), IntakeAnswers.Write((await book.Open(desk.Ada, van, sent.IntakeId))!.Answers));
    }

    [Fact]
    public async Task Another_firm_sees_no_intake_and_no_photo()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var (_, van, _) = await desk.AddVan();
        var sent = await Book(desk).Send(desk.Ada, van);
        await Door(desk).AddPhoto(sent.Token, "ribs", Jpeg, 40, 30);
        await Door(desk).Submit(sent.Token, ["I agree."]);
        var photo = (await Book(desk).Open(desk.Ada, van, sent.IntakeId))!.Photos[0].Id;

        Assert.Null(await Book(desk).Open(desk.Stranger, van, sent.IntakeId));
        Assert.Null(await Book(desk).Photo(desk.Stranger, photo));
        Assert.Empty(await Book(desk).IntakesOf(desk.Stranger, van));
        Assert.Empty(await Book(desk).Waiting(desk.Stranger));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => Book(desk).Revoke(desk.Stranger, sent.IntakeId));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => Book(desk).MarkReviewed(desk.Stranger, sent.IntakeId));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => Book(desk).Send(desk.Stranger, van));
    }

    [Fact]
    public async Task A_photo_of_another_intake_is_not_shown_by_this_ones_link()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var (_, van, _) = await desk.AddVan();
        var mine = await Book(desk).Send(desk.Ada, van);
        var other = await Book(desk).Send(desk.Ada, van);
        await Door(desk).AddPhoto(other.Token, "ribs", Jpeg, 40, 30);
        var photo = (await Door(desk).Open(other.Token))!.Photos[0].Id;

        Assert.Null(await Door(desk).Photo(mine.Token, photo));
        Assert.True(await Door(desk).RemovePhoto(mine.Token, photo));
        Assert.Single((await Door(desk).Open(other.Token))!.Photos);
    }

    [Fact]
    public async Task What_does_not_fit_is_refused_with_what_was_expected()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var (_, van, _) = await desk.AddVan();
        var token = (await Book(desk).Send(desk.Ada, van)).Token;
        var door = Door(desk);
        await Refused(() => door.Save(token, new Dictionary<string, string> { ["bothers"] = new string('x', IntakeAnswers.LongestAnswer + 1) }));
        await Refused(() => door.Save(token, new Dictionary<string, string> { ["bothers"] = "a\0b" }));
        await Refused(() => door.Save(token, new Dictionary<string, string> { [new string('k', TextLimits.Key + 1)] = "x" }));
        await Refused(() => door.Save(token, Enumerable.Range(0, IntakeAnswers.MostAnswers + 1).ToDictionary(n => "k" + n, _ => "x")));
        await Refused(() => door.AddPhoto(token, "ribs", "GIF89a"u8.ToArray(), 4, 3));
        await Refused(() => door.AddPhoto(token, "ribs", [0xFF, 0xD8, 0xFF, .. new byte[IntakeDoor.LargestPhoto]], 4, 3));
        await Refused(() => door.Submit(token, []));
        await Refused(() => Book(desk).Send(desk.Ada, van, TimeSpan.FromDays(181)));
        for (var photo = 0; photo < IntakeDoor.MostPhotos; photo++)
        {
            Assert.True(await door.AddPhoto(token, "ribs", Jpeg, 40, 30));
        }

        await Refused(() => door.AddPhoto(token, "ribs", Jpeg, 40, 30));
        Assert.Empty((await door.Open(token))!.Answers);

        static async Task Refused(Func<Task> act) =>
            Assert.All((await Assert.ThrowsAsync<InvalidInputException>(act)).Errors, error => Assert.NotEmpty(error.Message));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Erasing_a_client_erases_answers_and_photos(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (clientId, van, _) = await desk.AddVan();
        var sent = await Book(desk).Send(desk.Ada, van);
        await Door(desk).AddPhoto(sent.Token, "ribs", Jpeg, 40, 30);

        await desk.Clients.EraseClient(desk.Ada, clientId);

        Assert.Null(await Door(desk).Open(sent.Token));
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        Assert.Equal((0, 0), (await db.Intakes.CountAsync(i => i.Id == sent.IntakeId), await db.IntakePhotos.CountAsync(p => p.IntakeId == sent.IntakeId)));
    }

    [Theory]
    [InlineData("")]
    [InlineData("[]")]
    [InlineData("""{"format":1}""")]
    [InlineData("""{"format":0,"answers":{}}""")]
    [InlineData("""{"format":2,"answers":{}}""")]
    [InlineData("""{"format":1,"answers":{"a":1}}""")]
    [InlineData("""{"format":1,"answers":{"a":"x","a":"y"}}""")]
    public void A_damaged_or_newer_text_of_answers_is_refused(string text) => Assert.Throws<IntakeTextException>(() => IntakeAnswers.Read(text));

    private static Intakes Book(TestDesk desk) => desk.App.GetRequiredService<Intakes>();

    private static IntakeDoor Door(TestDesk desk) => desk.App.GetRequiredService<IntakeDoor>();
}
