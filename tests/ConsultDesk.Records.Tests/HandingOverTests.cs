using System.IO.Compression;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Testing;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>A client out of one desk and into another, and erased to the last letter.</summary>
public sealed class HandingOverTests(TestStores stores) : IClassFixture<TestStores>
{
    private const string Marker = "Quillmarker7315";

    private static readonly HandoverChecks Checks = new(
        (bytes, _) => Task.FromResult(bytes.AsSpan().StartsWith(new byte[] { 0xFF, 0xD8 }) ? new EncodedAgain(bytes, 4, 3) : null),
        text => text.StartsWith('{') ? null : "its plan cannot be read.",
        text => text.StartsWith('[') ? null : "its settings for tonight cannot be read.");

    public static TheoryData<StoreKind> Both => TestStores.Both;

    [Fact]
    public async Task Every_table_that_leads_to_a_client_is_handed_over_and_erased()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        HashSet<Type> reached = [typeof(Client)];
        int before;
        do
        {
            before = reached.Count;
            reached.UnionWith(db.Model.GetEntityTypes().Where(type => type.GetForeignKeys().Any(key => reached.Contains(key.PrincipalEntityType.ClrType))).Select(type => type.ClrType).ToList());
        }
        while (reached.Count > before);

        Assert.Equal(reached.Select(type => type.Name).Order(StringComparer.Ordinal), ClientRows.Kinds.Select(kind => kind.Type.Name).Order(StringComparer.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_client_saved_and_taken_over_by_another_firm_is_saved_again_with_the_same_content(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var over = desk.App.GetRequiredService<HandingOver>();
        var client = await Filled(desk);
        var first = await over.Export(desk.Ben, client);
        var zip = await Zip(first);

        var taken = await over.Import(desk.Stranger, await HandoverZip.Read(new MemoryStream(zip)), Checks);
        var second = await over.Export(desk.Stranger, taken);

        Assert.Equal(Content(first.Json), Content(second.Json));
        Assert.Equal(first.Counts, second.Counts);
        Assert.All(first.Counts, count => Assert.True(count.Count > 0, count.Kind));
        foreach (var (name, bytes) in first.Files)
        {
            var there = second.Files.Select(file => file.Name).ToList();
            Assert.Contains(name, there);
        }

        Assert.Equal(await Hashes(first), await Hashes(second));
        await using var mine = desk.Contexts.OpenFor(desk.Ada.FirmId);
        await using var theirs = desk.Contexts.OpenFor(desk.Stranger.FirmId);
        Assert.Equal((await mine.Plans.SingleAsync()).SnapshotText, (await theirs.Plans.SingleAsync()).SnapshotText);
        Assert.NotEqual((await mine.Plans.SingleAsync()).Id, (await theirs.Plans.SingleAsync()).Id);
        Assert.Empty(await theirs.PlanLinks.ToListAsync());
        Assert.NotNull((await theirs.Intakes.SingleAsync()).RevokedAt);
        Assert.NotEqual((await mine.Intakes.SingleAsync()).TokenSha256, (await theirs.Intakes.SingleAsync()).TokenSha256);
        Assert.Equal(["client.exported"], (await desk.Audit.Of(desk.Ada, client)).Select(line => line.Action).Where(action => action.StartsWith("client.e", StringComparison.Ordinal)));
        Assert.Contains("client.imported", (await desk.Audit.Of(desk.Stranger, taken)).Select(line => line.Action));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => over.Export(desk.Stranger, client));
        // The same file once more is a second client, not a mixture.
        await over.Import(desk.Stranger, await HandoverZip.Read(new MemoryStream(zip)), Checks);
        Assert.Equal(2, (await desk.Clients.Clients(desk.Stranger)).Count);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task What_cannot_be_right_is_refused_with_a_reason_and_nothing_is_taken(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var over = desk.App.GetRequiredService<HandingOver>();
        var saved = await over.Export(desk.Ada, await Filled(desk));
        var good = await Zip(saved);

        await Refused(Encoding.UTF8.GetBytes("no zip at all"), "no zip, or it is damaged");
        await Refused(good[..^200], "no zip, or it is damaged");
        await Refused(await Zip(saved, json => json["format"] = 3), "newer ConsultDesk");
        await Refused(await Zip(saved, json => json["format"] = "one"), "format number");
        await Refused(await Zip(saved, json => json["rows"]!.AsObject().Remove("vans")), "vans");
        await Refused(await Zip(saved, json => json["rows"]!["secrets"] = new JsonArray()), "no such kind of row");
        await Refused(await Zip(saved, json => json["rows"]!["vans"]![0]!.AsObject().Remove("name")), "“name”");
        await Refused(await Zip(saved, json => json["rows"]!["vans"]![0]!["extra"] = 1), "“extra”");
        await Refused(await Zip(saved, json => json["rows"]!["vans"]![0]!["name"] = new string('x', 301)), "at most 300 characters");
        await Refused(await Zip(saved, json => json["rows"]!["vans"]![0]!["clientId"] = Guid.NewGuid().ToString()), "not in the file");
        await Refused(await Zip(saved, json => json["rows"]!["decisions"]![0]!["state"] = "7"), "one of the values");
        await Refused(await Zip(saved, json => json["rows"]!["plans"]![0]!["snapshotText"] = "{\"changed\":1}"), "the hash differs");
        await Refused(await Zip(saved, json => json["rows"]!["plans"]![0]!["tonightText"] = "[\"changed\"]"), "tonight's settings are not what was published: the hash differs");
        await Refused(await Zip(saved, json => json["rows"]!["plans"]![0]!["tonightText"] = null), "tonight's settings are not what was published");
        await Refused(
            await Zip(saved, json =>
            {
                var plan = json["rows"]!["plans"]![0]!;
                (plan["tonightText"], plan["tonightSha256"]) = ("damaged", Plans.Sha256("damaged"));
            }),
            "its settings for tonight cannot be read");
        await Refused(await Zip(saved, json => json["rows"]!["checkBacks"]![0]!["answersText"] = "{\"words\":"), "damaged at checkBacks 1: its text cannot be read");
        await Refused(await Zip(saved, json => json["rows"]!["checkBacks"]![0]!["answersText"] = "{\"wetMornings\":11}"), "Expected 0 to 10 mornings");
        await Refused(await Zip(saved, json => json["rows"]!["checkBacks"]![0]!["answersText"] = "{\"stars\":5}"), "damaged at checkBacks 1");
        await Refused(await Zip(saved, json => json["rows"]!["checkBacks"]![0]!["format"] = 2), "newer ConsultDesk");
        await Refused(await Zip(saved, json => json["rows"]!["options"]![0]!["designText"] = "{\"format\":99,\"design\":{}}"), "newer ConsultDesk");
        await Refused(await Zip(saved, json => json["rows"]!["options"]![0]!["designText"] = "{}"), "cannot be read");
        await Refused(await Zip(saved, json => json["rows"]!["client"]!.AsArray().Clear()), "one client");
        await Refused(await Zip(saved, json => json["rows"]!["options"]![0]!["letter"] = json["rows"]!["options"]![1]!["letter"]!.GetValue<string>()), "cannot stand beside each other");
        await Refused(await Zip(saved, json => json["rows"]!["intakePhotos"]![0]!["file"] = "photos/none.jpg"), "not in the zip");
        await Refused(await Zip(saved, files: name => name.EndsWith(".jpg", StringComparison.Ordinal) ? [1, 2, 3] : null), "picture cannot be read");
        await Refused(await Zip(saved, files: name => name.EndsWith(".hours", StringComparison.Ordinal) ? [1, 2, 3] : null), "damaged at weatherFiles 1");
        await Refused(await Zip(saved, extra: archive => archive.CreateEntry("../outside.txt")), "leads out of it");
        await Refused(await Zip(saved, extra: archive => archive.CreateEntry("/etc/passwd")), "leads out of it");
        await Refused(await Zip(saved, extra: archive => archive.CreateEntry("c:\\windows")), "leads out of it");
        await Refused(await Zip(saved, extra: archive => archive.CreateEntry("photos/link").ExternalAttributes = unchecked((int)0xA1FF0000)), "a link to another file");
        await Refused(await Zip(saved, extra: archive => archive.CreateEntry(HandoverZip.RowsName)), "twice");
        await Refused(await Zip(saved, extra: archive => Bomb(archive, "photos/bomb.jpg", 12)), "grows more than");
        await Refused(await Zip(saved, extra: archive => Bomb(archive, "photos/bomb.jpg", 17)), "grows more than");
        await Refused(await Zip(saved, extra: archive =>
        {
            for (var i = 0; i <= HandoverZip.MostEntries; i++)
            {
                archive.CreateEntry(FormattableString.Invariant($"photos/{i}"));
            }
        }), "Expected at most 5000");

        Assert.Empty(await desk.Clients.Clients(desk.Stranger));
        await over.Import(desk.Stranger, await HandoverZip.Read(new MemoryStream(good)), Checks);

        async Task Refused(byte[] zip, string expected)
        {
            var refused = await Assert.ThrowsAsync<HandoverRefusedException>(async () => await over.Import(desk.Stranger, await HandoverZip.Read(new MemoryStream(zip)), Checks));
            Assert.Contains(expected, refused.Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task A_file_of_the_format_before_is_taken_with_what_a_new_row_has_where_it_says_nothing()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var over = desk.App.GetRequiredService<HandingOver>();
        var saved = await over.Export(desk.Ada, await Filled(desk));
        var old = await Zip(saved, json =>
        {
            json["format"] = 1;
            var rows = json["rows"]!;
            Without(rows["client"]!, "units", "unitChoices");
            Without(rows["options"]!, "reason");
            Without(rows["consults"]!, "begunAt");
            Without(rows["plans"]!, "tonightSha256");
        });
        var taken = await over.Import(desk.Stranger, await HandoverZip.Read(new MemoryStream(old)), Checks);
        var again = await over.Export(desk.Stranger, taken);
        Assert.Equal(saved.Counts, again.Counts);
        await using var db = desk.Contexts.OpenFor(desk.Stranger.FirmId);
        var plan = await db.Plans.SingleAsync();
        Assert.NotNull(plan.TonightText);
        Assert.Null(plan.TonightSha256);
        Assert.NotNull(await desk.Plans.Plan(desk.Stranger, plan.Id));

        // The format of today has to say them all.
        var half = await Zip(saved, json => Without(json["rows"]!["options"]!, "reason"));
        Assert.Contains("“reason”", (await Assert.ThrowsAsync<HandoverRefusedException>(async () => await over.Import(desk.Stranger, await HandoverZip.Read(new MemoryStream(half)), Checks))).Message, StringComparison.Ordinal);

        static void Without(JsonNode rows, params string[] members)
        {
            foreach (var row in rows.AsArray())
            {
                Assert.All(members, member => Assert.True(row!.AsObject().Remove(member), member));
            }
        }
    }

    /// <summary>DAMAGED_ZIPS sets how many; 2,000 without it.</summary>
    [Fact]
    public async Task Damaged_zips_are_refused_or_taken_and_never_throw_anything_else()
    {
        var count = int.TryParse(Environment.GetEnvironmentVariable("DAMAGED_ZIPS"), out var asked) ? asked : 2000;
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var over = desk.App.GetRequiredService<HandingOver>();
        var saved = await over.Export(desk.Ada, await Filled(desk));
        var good = await Zip(saved);
        var random = new Random(20261130);
        var (refused, taken) = (0, 0);
        for (var i = 0; i < count; i++)
        {
            byte[] zip;
            if (i % 2 == 0)
            {
                zip = (byte[])good.Clone();
                for (var hit = 0; hit <= random.Next(8); hit++)
                {
                    zip[random.Next(zip.Length)] = (byte)random.Next(256);
                }

                zip = random.Next(4) == 0 ? zip[..random.Next(zip.Length)] : zip;
            }
            else
            {
                // Damage inside the text, where the check sums of the zip do not catch it.
                var json = (byte[])saved.Json.Clone();
                for (var hit = 0; hit <= random.Next(4); hit++)
                {
                    json[random.Next(json.Length)] = (byte)random.Next(256);
                }

                zip = await Zip(saved with { Json = json });
            }

            try
            {
                await over.Import(desk.Stranger, await HandoverZip.Read(new MemoryStream(zip)), Checks);
                taken++;
            }
            catch (HandoverRefusedException told)
            {
                Assert.NotEmpty(told.Message);
                refused++;
            }
        }

        TestContext.Current.TestOutputHelper!.WriteLine(FormattableString.Invariant($"{count} damaged files of a client, seed 20261130: {taken} taken, {refused} refused"));
        Assert.Equal(count, refused + taken);
        Assert.True(refused > count / 4, $"{refused} of {count} were refused.");
        Assert.Equal(taken, (await desk.Clients.Clients(desk.Stranger)).Count);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task After_erasing_no_word_of_the_client_is_in_any_table_and_in_SQLite_none_in_the_file(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        // Of its own, because other tests leave their clients in the same database.
        var marker = "Quill" + Guid.NewGuid().ToString("N");
        var client = await Filled(desk, marker);
        var other = await Filled(desk, "Another client stays");
        Assert.True(await Found(desk, marker) > 20);

        var erased = await desk.Clients.EraseClient(desk.Ada, client);

        Assert.Equal(kind == StoreKind.Sqlite ? true : null, erased.FileIsClean);
        Assert.Equal(0, await Found(desk, marker));
        if (kind == StoreKind.Sqlite)
        {
            await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
            var file = new SqliteConnectionStringBuilder(db.Database.GetConnectionString()).DataSource;
            foreach (var part in new[] { file, file + "-wal" }.Where(File.Exists))
            {
                await using var stream = new FileStream(part, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
                var bytes = new MemoryStream();
                await stream.CopyToAsync(bytes);
                Assert.Equal(-1, bytes.ToArray().AsSpan().IndexOf(Encoding.UTF8.GetBytes(marker)));
            }
        }

        var receipt = (await desk.App.GetRequiredService<Erasures>().Receipt(desk.Ben, erased.ReceiptId))!;
        Assert.Equal((client, "Ada Moor"), (receipt.ClientId, receipt.By));
        Assert.Equal(ClientRows.Kinds.Select(k => k.Kind), receipt.Gone.Select(gone => gone.Kind));
        Assert.Contains(("options", 2), receipt.Gone);
        Assert.Contains(("receipt", 1), receipt.Stayed);
        await using var kept = desk.Contexts.OpenFor(desk.Ada.FirmId);
        Assert.Equal(receipt.Stayed.Single(stayed => stayed.Kind == "auditRows").Count, await kept.Audit.CountAsync() - await ActsOfOthers(kept, other));
        Assert.Null(await desk.App.GetRequiredService<Erasures>().Receipt(desk.Stranger, erased.ReceiptId));
        Assert.NotNull(await desk.Clients.Client(desk.Ada, other));
    }

    private static async Task<int> ActsOfOthers(DeskContext db, Guid other)
    {
        var ids = (await ClientRows.Load(db, other, default)).SelectMany(kind => kind.Rows).Select(row => row.Id).Append(db.FirmId).ToHashSet();
        return (await db.Audit.ToListAsync()).Count(row => ids.Contains(row.EntityId));
    }

    /// <summary>How many cells of all tables hold the marker, as text or as bytes.</summary>
    private static async Task<int> Found(TestDesk desk, string marker)
    {
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        await db.Database.OpenConnectionAsync();
        var found = 0;
        foreach (var table in db.Model.GetEntityTypes().Select(type => type.GetTableName()!).Distinct())
        {
            await using var command = db.Database.GetDbConnection().CreateCommand();
            command.CommandText = $"SELECT * FROM \"{table}\"";
            await using var reader = await command.ExecuteReaderAsync();
            while (await reader.ReadAsync())
            {
                for (var i = 0; i < reader.FieldCount; i++)
                {
                    found += reader.GetValue(i) switch
                    {
                        string text => text.Contains(marker, StringComparison.OrdinalIgnoreCase) ? 1 : 0,
                        byte[] bytes => bytes.AsSpan().IndexOf(Encoding.ASCII.GetBytes(marker)) >= 0 ? 1 : 0,
                        _ => 0,
                    };
                }
            }
        }

        return found;
    }

    private static async Task<List<string>> Hashes(HandedClient client)
    {
        List<string> hashes = [];
        foreach (var (_, bytes) in client.Files)
        {
            hashes.Add(Convert.ToHexString(System.Security.Cryptography.SHA256.HashData((await bytes(default))!)));
        }

        return [.. hashes.Order(StringComparer.Ordinal)];
    }

    /// <summary>Rows without ids and accounts; a reference is the content of what it leads to.</summary>
    private static List<string> Content(byte[] json)
    {
        var kinds = JsonNode.Parse(json)!["rows"]!.AsObject();
        var rows = kinds.SelectMany(kind => kind.Value!.AsArray().Select(row => (Kind: kind.Key, Row: row!.AsObject()))).ToDictionary(row => row.Row["id"]!.GetValue<string>());
        string Of(string id) => rows.TryGetValue(id, out var row)
            ? row.Kind + "{" + string.Join(',', row.Row
                .Where(member => member.Key is not "id" and not "file" && !member.Key.EndsWith("By", StringComparison.Ordinal) && !(row.Kind == "intakes" && member.Key == "revokedAt"))
                .Select(member => member.Key + ":" + (member.Value is JsonValue value && value.TryGetValue<string>(out var text) && Guid.TryParse(text, out _) ? Of(text) : member.Value?.ToJsonString()))) + "}"
            : "gone";
        return [.. rows.Keys.Select(Of).Order(StringComparer.Ordinal)];
    }

    private static void Bomb(ZipArchive archive, string name, int megabytes)
    {
        using var stream = archive.CreateEntry(name, CompressionLevel.SmallestSize).Open();
        var blank = new byte[1024 * 1024];
        for (var i = 0; i < megabytes; i++)
        {
            stream.Write(blank);
        }
    }

    private static async Task<byte[]> Zip(HandedClient client, Action<JsonObject>? change = null, Func<string, byte[]?>? files = null, Action<ZipArchive>? extra = null)
    {
        var json = client.Json;
        if (change is not null)
        {
            var node = JsonNode.Parse(json)!.AsObject();
            change(node);
            json = JsonSerializer.SerializeToUtf8Bytes(node);
        }

        var zip = new MemoryStream();
        using (var archive = new ZipArchive(zip, ZipArchiveMode.Create, leaveOpen: true))
        {
            await Put(archive, HandoverZip.RowsName, json);
            foreach (var (name, bytes) in client.Files)
            {
                await Put(archive, name, files?.Invoke(name) ?? (await bytes(default))!);
            }

            await Put(archive, "readme.txt", "for people"u8.ToArray());
            extra?.Invoke(archive);
        }

        return zip.ToArray();

        static async Task Put(ZipArchive archive, string name, byte[] bytes)
        {
            await using var stream = archive.CreateEntry(name, CompressionLevel.Fastest).Open();
            await stream.WriteAsync(bytes);
        }
    }

    /// <summary>A client with a row of every kind, the marker in every text a person can have written.</summary>
    private static async Task<Guid> Filled(TestDesk desk, string marker = Marker)
    {
        T Get<T>()
            where T : notnull => desk.App.GetRequiredService<T>();
        var client = await desk.Clients.AddClient(desk.Ada, new ClientInput($"Runa {marker}", "runa@client.example", "NO", $"Private {marker}"));
        var added = await desk.Vans.AddVan(desk.Ada, client, new VanInput($"Heron {marker}", "long-high", "rear-platform-bed", 2019), $"As drawn {marker}", SampleDesign.Van());
        var van = added.VanId;
        await desk.Options.Copy(desk.Ada, added.OptionId, $"Second {marker}");
        await desk.Options.Reopen(desk.Ada, added.OptionId);
        var version = (await desk.Options.Load(desk.Ada, added.OptionId))!.Version;
        await desk.Options.Save(desk.Ada, added.OptionId, version, SampleDesign.Van() with { Stop = SampleDesign.Van().Stop with { Month = 5 } }, $"Edit {marker}");
        version = (await desk.Options.Load(desk.Ada, added.OptionId))!.Version;
        await desk.Options.MarkChosen(desk.Ada, added.OptionId, version);
        await Get<WishesBook>().Save(desk.Ada, van, null, new Wishes { Looks = $"Pale {marker}" });
        var consult = await Get<ConsultBook>().Add(desk.Ada, van, new(new DateOnly(2026, 3, 4), new TimeOnly(10, 0), 60, "Europe/Oslo") { Agenda = $"Ask {marker}" });
        await Get<ConsultBook>().SaveNotes(desk.Ada, consult, (await Get<ConsultBook>().Consult(desk.Ada, consult))!.Version, $"Notes {marker}");
        await Get<DecisionBook>().Save(desk.Ada, van, DecisionTopic.CabGlass, null, new(DecisionState.Decided, $"What {marker}", $"Why {marker}", $"Who {marker}"));
        await Get<DeclinedAdviceBook>().Add(desk.Ada, van, new(null, $"Advice {marker}", $"Why {marker}", $"Who {marker}"));
        await Get<FollowUps>().Add(desk.Ada, van, new(new DateOnly(2026, 4, 1), $"Ask {marker}"));
        var plan = await desk.Plans.Publish(desk.Ada, added.OptionId, (await desk.Options.Load(desk.Ada, added.OptionId))!.Version, _ => new PlanText($$"""{"letter":"Dear {{marker}}"}""", 1, "m", $"[\"{marker}\"]"));
        var intake = await Get<Intakes>().Send(desk.Ada, van);
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        byte[] photo = [0xFF, 0xD8, 0xFF, .. Encoding.ASCII.GetBytes(marker), 1, 2, 3];
        var now = desk.Time.Now.UtcDateTime;
        now = now.AddTicks(-(now.Ticks % 10));
        (await db.Intakes.SingleAsync(i => i.Id == intake.IntakeId)).AnswersText = IntakeAnswers.Write(new Dictionary<string, string> { ["bothers"] = $"Fog {marker}" });
        db.Add(new IntakePhoto { IntakeId = intake.IntakeId, Subject = "ribs", Jpeg = photo, Width = 4, Height = 3, AddedAt = now });
        db.Add(new PlanReply { PlanId = plan.PlanId, Kind = ReplyKind.Question, Section = $"Air {marker}", Name = $"Runa {marker}", Text = $"Why? {marker}", Answer = $"So {marker}", At = now });
        var installation = db.Add(new Installation { VanId = van, What = $"Fan {marker}", DoneOn = new DateOnly(2026, 6, 1), Who = $"Ole {marker}", Note = $"Note {marker}", CreatedAt = now }).Entity;
        db.Add(new InstallationPhoto { InstallationId = installation.Id, Jpeg = photo, Width = 4, Height = 3, AddedAt = now });
        db.Add(new CheckBack { VanId = van, PlanId = plan.PlanId, Name = $"Runa {marker}", AnswersText = new CheckBackAnswers { WetMornings = 2, Words = $"Dry {marker}" }.Write(), Format = CheckBackAnswers.CurrentFormat, FromClient = true, At = now });
        db.Add(new OptionSearch { VanId = van, OptionId = added.OptionId, AskedAt = now, AskedBy = desk.Ada.UserId, Fingerprint = "f", FoundAt = now, Found = photo, InPlanAt = now, InPlan = photo });
        var hours = StoredHours.Write(WeatherFileStoreTests.Hours());
        db.Add(new WeatherFile { VanId = van, FileName = $"own {marker}.csv", Sha256 = StoredHours.Sha256(hours), Hours = StoredHours.Pack(hours), AddedAt = now });
        await db.SaveChangesAsync();
        return client;
    }
}
