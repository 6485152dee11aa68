using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json.Nodes;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Testing;
using CsCheck;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>
/// Random clients, every column of every table filled by its own type and length, saved on one desk and taken over by another
/// firm in another database: nothing may be lost and nothing may change but ids and what is said to change.
/// </summary>
public sealed class HandoverRoundTripTests(TestStores stores) : IClassFixture<TestStores>
{
    private static readonly string[] Words = ["Runa", "damp", "שלום", "رطوبة", "Παπαδοπούλου", "Черновская", "漢字", "🚐", "e\u0301", "<b>&amp;</b>", "\"quoted\"", "back\\slash", "a,b;c", "=1+1", "line\nbreak", "\u2028", "0.4", "  two"];

    // Columns with a form of their own; all others are filled by their type.
    private static readonly HashSet<string> Own =
    [
        "Id", "FirmId", "Version", "SearchName", "TokenSha256", "Email", "Country", "Minutes", "TimeZone", "Letter", "Number", "Format", "DesignText", "DesignFormat",
        "WishesText", "AnswersText", "SnapshotText", "SnapshotSha256", "TonightText", "TonightSha256", "Jpeg", "Sha256", "Hours", "Topic", "Name",
    ];

    public static TheoryData<StoreKind, StoreKind> Ways => new()
    {
        { StoreKind.Sqlite, StoreKind.Sqlite },
        { StoreKind.Sqlite, StoreKind.Postgres },
        { StoreKind.Postgres, StoreKind.Sqlite },
    };

    /// <summary>RANDOM_CLIENTS sets how many; 30 each way without it.</summary>
    [Theory]
    [MemberData(nameof(Ways))]
    public async Task A_random_client_is_the_same_on_another_desk_but_for_its_ids(StoreKind from, StoreKind to)
    {
        var count = int.TryParse(Environment.GetEnvironmentVariable("RANDOM_CLIENTS"), out var asked) ? asked : 30;
        await using var here = await stores.Desk(from);
        await using var there = await stores.Desk(to);
        var rows = 0;
        await Gen.Select(Gen.Int[0, int.MaxValue - 1], Designs.Any.Array[1, 4]).SampleAsync(
            async (seed, designs) =>
            {
                var client = await RandomClient(here, new Random(seed), designs);
                var saved = await here.App.GetRequiredService<HandingOver>().Export(here.Ada, client);
                var zip = await HandoverZip.Read(new MemoryStream(await Zip(saved)));
                var taken = await there.App.GetRequiredService<HandingOver>().Import(there.Stranger, zip, Checks);
                var again = await there.App.GetRequiredService<HandingOver>().Export(there.Stranger, taken);

                Assert.NotEqual(client, taken);
                Assert.Equal(Content(saved.Json), Content(again.Json));
                Assert.Equal(saved.Counts, again.Counts);
                Assert.Equal(await Hashes(saved), await Hashes(again));
                Interlocked.Add(ref rows, saved.Counts.Sum(kind => kind.Count));
            },
            iter: count,
            threads: 1);
        Assert.True(rows > 20 * count, $"Only {rows} rows were carried.");
    }

    [Fact]
    public async Task The_comparison_sees_one_letter_that_changed_and_one_row_that_is_lost()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var saved = await desk.App.GetRequiredService<HandingOver>().Export(desk.Ada, await RandomClient(desk, new Random(7), [SampleDesign.Van()]));
        var node = JsonNode.Parse(saved.Json)!;
        var options = node["rows"]!["options"]!.AsArray();
        options[0]!["reason"] = options[0]!["reason"]!.GetValue<string>() + "x";
        Assert.NotEqual(Content(saved.Json), Content(Encoding.UTF8.GetBytes(node.ToJsonString())));
        node = JsonNode.Parse(saved.Json)!;
        node["rows"]!["options"]!.AsArray().RemoveAt(0);
        Assert.NotEqual(Content(saved.Json), Content(Encoding.UTF8.GetBytes(node.ToJsonString())));
    }

    private static readonly HandoverChecks Checks = new(
        (bytes, _) => Task.FromResult<EncodedAgain?>(new EncodedAgain(bytes, BitConverter.ToUInt16(bytes, 0), BitConverter.ToUInt16(bytes, 2))), _ => null, _ => null);

    private static async Task<Guid> RandomClient(TestDesk desk, Random random, Design[] designs)
    {
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        T New<T>(T row)
            where T : FirmRow
        {
            Fill(db.Model.FindEntityType(typeof(T))!, row, random, desk.Ada.UserId);
            db.Add(row);
            return row;
        }

        IEnumerable<int> Many(int most) => Enumerable.Range(0, random.Next(most + 1));
        string DesignText() => DesignJson.Write(designs[random.Next(designs.Length)]);
        var client = New(new Client { Name = "", SearchName = "" });
        (client.Name, client.Email, client.Country) = (Name(random), random.Next(2) == 0 ? null : "runa@client.example", random.Next(2) == 0 ? null : "NO");
        foreach (var _ in Enumerable.Range(0, 1 + random.Next(3)))
        {
            var van = New(new Van { ClientId = client.Id, Name = Name(random), BodyClass = "", Layout = "" });
            if (random.Next(2) == 0)
            {
                New(new VanWishes { VanId = van.Id, WishesText = WishesJson.Write(new Wishes { Looks = Text(random, 200), BudgetNow = random.Next(9000), MustHaves = [.. Many(4).Select(_ => Name(random))] }) });
            }

            foreach (var _1 in Many(1))
            {
                var hours = StoredHours.Write(WeatherFileStoreTests.Hours());
                New(new WeatherFile { VanId = van.Id, FileName = Name(random), Sha256 = StoredHours.Sha256(hours), Hours = StoredHours.Pack(hours) });
            }

            List<VanOption> options = [];
            foreach (var letter in Enumerable.Range(0, 1 + random.Next(4)))
            {
                var option = New(new VanOption { VanId = van.Id, Letter = ((char)('A' + letter)).ToString(), Name = Name(random), DesignText = DesignText(), DesignFormat = DesignJson.CurrentFormat });
                option.CopiedFrom = options.Count > 0 && random.Next(2) == 0 ? options[random.Next(options.Count)].Id : null;
                options.Add(option);
                foreach (var _1 in Many(2))
                {
                    New(new OptionRevision { OptionId = option.Id, DesignText = DesignText(), DesignFormat = DesignJson.CurrentFormat, Label = "" });
                }
            }

            if (random.Next(2) == 0)
            {
                New(new ChosenOption { VanId = van.Id, OptionId = options[^1].Id, DesignText = DesignText(), DesignFormat = DesignJson.CurrentFormat });
            }

            foreach (var _1 in Many(3))
            {
                New(new Consult { VanId = van.Id, TimeZone = random.Next(2) == 0 ? "Europe/Oslo" : "America/Denver", Minutes = random.Next(ConsultBook.ShortestMinutes, ConsultBook.LongestMinutes + 1), PrivateNotes = "" });
            }

            foreach (var topic in Enum.GetValues<DecisionTopic>().Where(_ => random.Next(3) == 0))
            {
                New(new Decision { VanId = van.Id, Topic = topic, What = "", Why = "", Who = "" });
            }

            foreach (var _1 in Many(3))
            {
                New(new DeclinedAdvice { VanId = van.Id, Advice = "", Why = "", Who = "" });
                New(new FollowUp { VanId = van.Id, Text = "" });
            }

            foreach (var _1 in Many(1))
            {
                var intake = New(new Intake { VanId = van.Id, TokenSha256 = LinkToken.Hash(LinkToken.New()), AnswersText = IntakeAnswers.Write(new Dictionary<string, string> { ["bothers"] = Text(random, 400) }) });
                foreach (var _2 in Many(3))
                {
                    var photo = New(new IntakePhoto { IntakeId = intake.Id, Subject = "", Jpeg = Bytes(random) });
                    (photo.Width, photo.Height) = SizeOf(photo.Jpeg);
                }
            }

            foreach (var number in Many(3))
            {
                var text = Text(random, 5000);
                var tonight = random.Next(2) == 0 ? Text(random, 500) : null;
                var plan = New(new Plan
                {
                    VanId = van.Id,
                    OptionId = options[0].Id,
                    OptionLetter = "",
                    OptionName = "",
                    Number = number + 1,
                    SnapshotText = text,
                    SnapshotFormat = 4,
                    SnapshotSha256 = Plans.Sha256(text),
                    MethodVersion = "",
                    TonightText = tonight,
                    // Half of them are of before the hash was kept.
                    TonightSha256 = tonight is null || random.Next(2) == 0 ? null : Plans.Sha256(tonight),
                });
                foreach (var _2 in Many(3))
                {
                    New(new PlanReply { PlanId = plan.Id, Section = "", Name = Name(random), Text = "" });
                    New(new CheckBack { VanId = van.Id, PlanId = plan.Id, Name = Name(random), AnswersText = new CheckBackAnswers { WetMornings = random.Next(11), Fuel = 1 + random.NextDouble(), Words = Text(random, 300) }.Write(), Format = CheckBackAnswers.CurrentFormat });
                }
            }

            foreach (var _1 in Many(2))
            {
                var installation = New(new Installation { VanId = van.Id, What = "", Who = "", Note = "" });
                foreach (var _2 in Many(2))
                {
                    var photo = New(new InstallationPhoto { InstallationId = installation.Id, Jpeg = Bytes(random) });
                    (photo.Width, photo.Height) = SizeOf(photo.Jpeg);
                }
            }
        }

        await db.SaveChangesAsync();
        return client.Id;
    }

    /// <summary>Fills what has no form of its own by its type, its length and whether it may be missing.</summary>
    private static void Fill(IEntityType shape, FirmRow row, Random random, Guid account)
    {
        var references = shape.GetForeignKeys().SelectMany(key => key.Properties).ToHashSet();
        foreach (var property in shape.GetProperties().Where(property => !Own.Contains(property.Name) && !references.Contains(property) && property.PropertyInfo is not null))
        {
            var type = Nullable.GetUnderlyingType(property.ClrType) ?? property.ClrType;
            object? value = property.IsNullable && random.Next(3) == 0 ? null
                : type == typeof(string) ? Text(random, Math.Min(property.GetMaxLength() ?? 300, 300))
                : type == typeof(bool) ? random.Next(2) == 0
                : type == typeof(int) ? random.Next(1990, 2030)
                : type == typeof(double) ? random.NextDouble()
                : type == typeof(DateTime) ? new DateTime(2020, 1, 1, 0, 0, 0, DateTimeKind.Utc).AddSeconds(random.Next(300_000_000)).AddTicks(random.Next(1_000_000) * 10L)
                : type == typeof(DateOnly) ? new DateOnly(2020, 1, 1).AddDays(random.Next(4000))
                : type == typeof(Guid) ? (ClientJson.IsAccount(property) ? account : null)
                : type.IsEnum ? Enum.GetValues(type).GetValue(random.Next(Enum.GetValues(type).Length))
                : throw new InvalidOperationException($"No random {type.Name} for {shape.Name}.{property.Name}.");
            property.PropertyInfo!.SetValue(row, value);
        }
    }

    private static string Text(Random random, int longest)
    {
        var text = new StringBuilder();
        for (var words = random.Next(8); words >= 0; words--)
        {
            text.Append(Words[random.Next(Words.Length)]).Append(' ');
        }

        // Never half of a pair, never more than the column holds.
        var cut = Math.Min(text.Length, longest);
        return text.ToString(0, cut > 0 && char.IsHighSurrogate(text[cut - 1]) ? cut - 1 : cut);
    }

    private static string Name(Random random) => random.Next(10) == 0 ? new string('W', 300) : "N" + Text(random, 100);

    private static byte[] Bytes(Random random)
    {
        var bytes = new byte[16 + random.Next(5000)];
        random.NextBytes(bytes);
        return bytes;
    }

    private static (int Width, int Height) SizeOf(byte[] bytes) => (BitConverter.ToUInt16(bytes, 0), BitConverter.ToUInt16(bytes, 2));

    private static async Task<List<string>> Hashes(HandedClient client)
    {
        List<string> hashes = [];
        foreach (var (_, bytes) in client.Files)
        {
            hashes.Add(Convert.ToHexString(SHA256.HashData((await bytes(default))!)));
        }

        return [.. hashes.Order(StringComparer.Ordinal)];
    }

    /// <summary>The rows with every id replaced by the content of the row it leads to; accounts, names of files and the dead links of intakes left out.</summary>
    private static List<string> Content(byte[] json)
    {
        var rows = JsonNode.Parse(json)!["rows"]!.AsObject()
            .SelectMany(kind => kind.Value!.AsArray().Select(row => (Kind: kind.Key, Row: row!.AsObject())))
            .ToDictionary(row => row.Row["id"]!.GetValue<string>());
        return [.. rows.Keys.Select(Of).Order(StringComparer.Ordinal)];

        string Of(string id) => rows.TryGetValue(id, out var row)
            ? row.Kind + "{" + string.Join(',', row.Row
                .Where(member => member.Key is not "id" and not "file" && !member.Key.EndsWith("By", StringComparison.Ordinal) && !(row.Kind == "intakes" && member.Key == "revokedAt"))
                .Select(member => member.Key + ":" + (member.Value is JsonValue value && value.TryGetValue<string>(out var text) && Guid.TryParse(text, out _) ? Of(text) : member.Value?.ToJsonString()))) + "}"
            : "gone";
    }

    private static async Task<byte[]> Zip(HandedClient client)
    {
        var zip = new MemoryStream();
        using (var archive = new ZipArchive(zip, ZipArchiveMode.Create, leaveOpen: true))
        {
            await Put(HandoverZip.RowsName, client.Json);
            foreach (var (name, bytes) in client.Files)
            {
                await Put(name, (await bytes(default))!);
            }

            async Task Put(string name, byte[] bytes)
            {
                await using var stream = archive.CreateEntry(name, CompressionLevel.Fastest).Open();
                await stream.WriteAsync(bytes);
            }
        }

        return zip.ToArray();
    }
}
