using System.Collections.Immutable;
using System.Text;
using System.Text.Json.Nodes;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>The last search of an option: kept through a start of the program, shown in a plan, and gone with its client.</summary>
public sealed class SearchBookTests(TestStores stores) : IClassFixture<TestStores>
{
    private static readonly DateTime Asked = new(2026, 2, 3, 4, 5, 6, DateTimeKind.Utc);

    internal static KeptSearch Kept(string name = "The dry one", SearchEnd end = SearchEnd.Finished)
    {
        FrontMember Member(int candidate, double money, double wet, params string[] words) => new()
        {
            Candidate = candidate,
            Words = [.. words],
            Numbers = new ObjectiveNumbers([money, 120.5, wet, 0.25, 40, 3, 31, 1.5, words.Length]),
            Ties = candidate == 0 ? [] : [7, 9],
            Score = 1d / (candidate + 3),
            ChanceOnFront = candidate == 0 ? null : 0.875,
            Bands = candidate == 0 ? [] : [.. Enumerable.Range(0, Objectives.Count).Select(k => (k + 0.1, k + 0.9))],
        };

        ImmutableArray<FrontMember> front = [Member(0, 0, 410.3333333333333), Member(3, 1450, 12, "A fan in the roof, “quiet”", "Ülle's לחות cover")];
        return new KeptSearch
        {
            Asked = SampleDesign.Van(),
            Wishes = new Wishes { BudgetNow = 2500, Looks = "no hole in the side" },
            Result = new SearchResult
            {
                End = end,
                Message = "48 of 8976 candidates were calculated over the year.",
                Currency = "EUR",
                Start = front[0].Numbers,
                Front = front,
                Named = [new NamedDesign(front[1], name, "Good for the driest glass.", false)],
                Weights = [.. Enumerable.Repeat(1d / Objectives.Count, Objectives.Count)],
                Calculated = front.ToImmutableSortedDictionary(member => member.Candidate, member => member.Numbers),
                Worlds = 16,
            },
            Space = new KeptSpace(
                14, new SpaceSize(System.Numerics.BigInteger.Parse("2000000000000000000000", System.Globalization.CultureInfo.InvariantCulture), 12_288, 8976),
                [new RemovedByRule(SpaceRule.All[0], 2, 300, [])], ["The price book has no heaters."]),
            Years = 48,
            Failure = end == SearchEnd.Failed ? "It did not balance." : null,
            Designs = [SampleDesign.Van(), SampleDesign.Van() with { Household = SampleDesign.Van().Household with { Sleepers = 3 } }],
        };
    }

    [Theory]
    [InlineData(SearchEnd.Finished)]
    [InlineData(SearchEnd.Cancelled)]
    [InlineData(SearchEnd.Failed)]
    [InlineData(SearchEnd.Interrupted)]
    public void A_search_packed_and_read_again_is_the_same_to_the_last_digit(SearchEnd end)
    {
        var kept = Kept(end: end);
        var read = KeptSearchJson.Unpack(KeptSearchJson.Pack(kept));

        Assert.Equal(KeptSearchJson.Write(kept), KeptSearchJson.Write(read));
        Assert.Equal(end, read.Result.End);
        Assert.Equal(kept.Failure, read.Failure);
        Assert.Equal(kept.Result.Front.Select(member => member.Numbers.Values), read.Result.Front.Select(member => member.Numbers.Values));
        Assert.Equal(kept.Result.Front[1].Words.AsEnumerable(), read.Result.Front[1].Words);
        Assert.Equal(kept.Result.Front[1].Bands.AsEnumerable(), read.Result.Front[1].Bands);
        Assert.Equal(kept.Space!.Size, read.Space!.Size);
        Assert.Equal(SpaceRule.All[0], read.Space.Removed[0].Rule);
        Assert.Equal(2500, read.Wishes!.BudgetNow);
        Assert.True(DesignJson.Same(kept.Designs[1], read.Design(read.Result.Named[0].Member)));
    }

    [Fact]
    public void Designs_that_are_much_alike_are_kept_in_little_room()
    {
        var kept = Kept();
        var many = kept with
        {
            Result = kept.Result with { Front = [.. Enumerable.Range(0, 60).Select(n => kept.Result.Front[1] with { Candidate = n })], Named = [] },
            Designs = [.. Enumerable.Range(0, 60).Select(n => SampleDesign.Van() with { Household = SampleDesign.Van().Household with { Sleepers = n % 5 } })],
        };
        Assert.InRange(KeptSearchJson.Pack(many).Length, 1000, KeptSearchJson.Write(many).Length / 10);
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task The_last_search_of_an_option_is_there_for_everybody_of_the_firm_and_nobody_else(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var book = desk.App.GetRequiredService<SearchBook>();
        var (_, _, option) = await desk.AddVan();
        Assert.Null(await book.Of(desk.Ada, option));
        await book.Keep(desk.Ada, option, new(SearchState.Running, Asked, Asked.AddMinutes(4), "first", Kept(end: SearchEnd.Interrupted)));
        await book.Keep(desk.Ben, option, new(SearchState.Finished, Asked.AddHours(1), Asked.AddHours(1).AddMinutes(4), "second", Kept("The warm one")));

        var stored = (await book.Of(desk.Ada, option))!;
        Assert.Equal((SearchState.Finished, Asked.AddHours(1), desk.Ben.UserId, "second"), (stored.State, stored.AskedAt, stored.AskedBy, stored.Fingerprint));
        Assert.Equal(Asked.AddMinutes(64), stored.FoundAt);
        Assert.Equal("The warm one", stored.Found!.Result.Named[0].Name);
        Assert.Null(stored.Damage);
        Assert.Null(await book.Of(desk.Stranger, option));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => book.Keep(desk.Stranger, option, new(SearchState.Finished, Asked, Asked.AddMinutes(4), "theirs", Kept())));
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        Assert.Equal(1, await db.Searches.CountAsync(s => s.OptionId == option));
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task Two_who_store_the_first_search_of_an_option_at_once_leave_one_row(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var book = desk.App.GetRequiredService<SearchBook>();
        var (_, _, option) = await desk.AddVan();
        await Task.WhenAll(Enumerable.Range(0, 4).Select(n => Task.Run(() => book.Keep(desk.Ada, option, new(SearchState.Running, Asked, Asked.AddMinutes(4), $"of {n}", Kept())))));
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        Assert.Equal(1, await db.Searches.CountAsync(s => s.OptionId == option));
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task A_start_marks_what_was_at_work_and_nothing_else(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var book = desk.App.GetRequiredService<SearchBook>();
        var (_, _, at) = await desk.AddVan();
        var (_, _, done) = await desk.AddVan();
        await book.Keep(desk.Ada, at, new(SearchState.Running, Asked, Asked.AddMinutes(4), "at work", Kept(end: SearchEnd.Interrupted)));
        await book.Keep(desk.Ada, done, new(SearchState.Stopped, Asked, Asked.AddMinutes(4), "by hand", Kept(end: SearchEnd.Cancelled)));

        await book.ProgramBegins();

        Assert.Equal(SearchState.ProgramEnded, (await book.Of(desk.Ada, at))!.State);
        Assert.Equal(SearchState.Stopped, (await book.Of(desk.Ada, done))!.State);
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task What_stands_in_the_plan_is_one_search_of_the_van_and_stays_when_another_is_made(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var book = desk.App.GetRequiredService<SearchBook>();
        var (_, van, option) = await desk.AddVan();
        var other = (await desk.Options.Copy(desk.Ada, option, "Another")).Id;
        Assert.Null(await book.InPlanOf(desk.Ada, van));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => book.ShowInPlan(desk.Ada, option));
        await book.Keep(desk.Ada, option, new(SearchState.Finished, Asked, Asked.AddMinutes(4), "a", Kept("Shown")));
        await book.Keep(desk.Ada, other, new(SearchState.Finished, Asked, Asked.AddMinutes(4), "b", Kept("Other")));

        await book.ShowInPlan(desk.Ada, option);
        await book.Keep(desk.Ada, option, new(SearchState.Running, Asked, Asked.AddMinutes(4), "c", Kept("Later")));
        Assert.Equal("Shown", (await book.InPlanOf(desk.Ben, van))!.Found!.Result.Named[0].Name);
        Assert.Null(await book.InPlanOf(desk.Stranger, van));

        await book.ShowInPlan(desk.Ben, other);
        var shown = (await book.InPlanOf(desk.Ada, van))!;
        Assert.Equal((other, "Other"), (shown.OptionId, shown.Found!.Result.Named[0].Name));
        await using (var db = desk.Contexts.OpenFor(desk.Ada.FirmId))
        {
            Assert.Equal(1, await db.Searches.CountAsync(s => s.VanId == van && s.InPlan != null));
        }

        Assert.Equal(other, (await book.InPlanBeside(desk.Ada, option))!.Value.OptionId);
        Assert.Null(await book.InPlanBeside(desk.Stranger, option));

        await Assert.ThrowsAsync<RecordNotFoundException>(() => book.TakeOutOfPlan(desk.Stranger, option));
        Assert.NotNull(await book.InPlanOf(desk.Ada, van));
        await book.TakeOutOfPlan(desk.Ada, option);
        Assert.Null(await book.InPlanOf(desk.Ada, van));
        Assert.NotNull((await book.Of(desk.Ada, other))!.Found);
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task Damaged_or_newer_it_says_so_and_the_next_search_takes_its_place(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var book = desk.App.GetRequiredService<SearchBook>();
        var (_, _, option) = await desk.AddVan();
        await book.Keep(desk.Ada, option, new(SearchState.Finished, Asked, Asked.AddMinutes(4), "a", Kept()));
        await using (var db = desk.Contexts.OpenFor(desk.Ada.FirmId))
        {
            var row = await db.Searches.SingleAsync(s => s.OptionId == option);
            row.Found = row.Found[..^40];
            await db.SaveChangesAsync();
        }

        var damaged = (await book.Of(desk.Ada, option))!;
        Assert.Null(damaged.Found);
        Assert.Contains("cannot be read", damaged.Damage, StringComparison.Ordinal);
        await book.Keep(desk.Ada, option, new(SearchState.Finished, Asked, Asked.AddMinutes(4), "a", Kept()));
        Assert.NotNull((await book.Of(desk.Ada, option))!.Found);

        Assert.Contains("newer", Refused(json => json["format"] = 2), StringComparison.Ordinal);
        Assert.Contains("other numbers", Refused(json => json["objectives"]!.AsArray().RemoveAt(0)), StringComparison.Ordinal);
        Refused(json => json["front"]![1]!["numbers"]!.AsArray().RemoveAt(0));
        Refused(json => json["front"]![1]!["numbers"]![0] = -1);
        Refused(json => json["front"]![1]!["candidate"] = 0);
        Refused(json => json["named"]![0]!["candidate"] = 99);
        Refused(json => json["space"]!["removed"]![0]!["rule"] = "of-another-release");
        Refused(json => json["space"]!["listed"] = "many");
        Refused(json => json["front"]![0]!["design"]!["format"] = 99);
        Refused(json => json["front"] = null);

        static string Refused(Action<JsonNode> change)
        {
            var json = JsonNode.Parse(KeptSearchJson.Write(Kept()))!;
            change(json);
            return Assert.Throws<SearchTextException>(() => KeptSearchJson.Read(Encoding.UTF8.GetBytes(json.ToJsonString()))).Message;
        }
    }

    [Fact]
    public void Bytes_damaged_anywhere_are_refused_or_read_and_never_throw_anything_else()
    {
        var random = new Random(20261130);
        var text = KeptSearchJson.Write(Kept());
        var packed = KeptSearchJson.Pack(Kept());
        var refused = 0;
        for (var n = 0; n < 600; n++)
        {
            var whole = n % 2 == 0 ? text : packed;
            var bytes = n % 3 == 0 ? whole[..random.Next(whole.Length)] : [.. whole];
            for (var hit = 0; hit < 1 + random.Next(3) && bytes.Length > 0; hit++)
            {
                bytes[random.Next(bytes.Length)] = (byte)random.Next(256);
            }

            try
            {
                _ = n % 2 == 0 ? KeptSearchJson.Read(bytes) : KeptSearchJson.Unpack(bytes);
            }
            catch (SearchTextException)
            {
                refused++;
            }
        }

        Assert.InRange(refused, 300, 600);
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task It_is_not_handed_over_and_goes_with_the_client(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var book = desk.App.GetRequiredService<SearchBook>();
        var (client, _, option) = await desk.AddVan();
        await book.Keep(desk.Ada, option, new(SearchState.Finished, Asked, Asked.AddMinutes(4), "a", Kept("Marked 5519")));

        var handed = await desk.App.GetRequiredService<HandingOver>().Export(desk.Ada, client);
        Assert.DoesNotContain("earches", Encoding.UTF8.GetString(handed.Json), StringComparison.Ordinal);
        await desk.Clients.EraseClient(desk.Ada, client);
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        Assert.False(await db.Searches.AnyAsync(s => s.OptionId == option));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => book.Keep(desk.Ada, option, new(SearchState.Running, Asked, Asked.AddMinutes(4), "late", Kept())));
    }
}
