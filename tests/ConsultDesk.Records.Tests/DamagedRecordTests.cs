using System.Collections.Immutable;
using System.Globalization;
using System.IO.Compression;
using System.Text.Json;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Testing;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>
/// Price tables, answers of clients, stored texts and zips with parts lost, doubled or replaced, or put together from scraps: each
/// is read or refused with its reason, nothing else happens, and none takes more memory than its size explains. DAMAGED_RECORDS in
/// the environment sets how many of each (20,000); the seeds are fixed. The test of a whole client taken over is in
/// <see cref="HandingOverTests"/>.
/// </summary>
public sealed class DamagedRecordTests(TestStores stores, ITestOutputHelper output) : IClassFixture<TestStores>
{
    private const int Seed = 20_261_203;
    private const long AnywayBytes = 8_000_000;

    private static readonly int Count = int.Parse(Environment.GetEnvironmentVariable("DAMAGED_RECORDS") ?? "20000", CultureInfo.InvariantCulture);

    private static readonly string[] Cells =
    [
        ",", ",,", ";", "\t", "\n", "\r\n", "\r", "\"", "\"\"", "\",\"", " ", "\uFEFF", "\u0000", "=1+1", "@SUM(A1)", "'", "key", "kind", "name", "price", "fitting", "unit", "fittedBy",
        "key,kind,name,price,fitting,unit,fittedBy", "a,smoke-alarm,Alarm,10,0,each,you\n", "b,smoke-alarm,\"Al\n\"\"arm\",10.50,0,each,workshop\n", "0", "-1", "1e9", "1e999", "NaN", "129.50", "129,50",
        "99999999999999999999999999999999999", "0.001", "each", "you", "material", "thicknessMm", "\uD834", "𝄞", "שלום", new string('x', 400),
    ];

    private static readonly string[] Scraps =
    [
        "{", "}", "[", "]", ",", ":", "\"", "\\", "null", "true", "-", "1e999", "99999999999999999999", "NaN", "0.1", "\"format\":1", "\"format\":2", "\"answers\":", "\"answers\":null", "\u0000", "\\uD834", "\uD834", "𝄞",
        "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[", "{\"a\":", " ",
    ];

    private static readonly string[] Names =
    [
        "client.json", "CLIENT.JSON", "photos/a.jpg", "photos/b.jpg", "photos/", "photos", "weather/own.hours", "readme.txt", "../outside.txt", "photos/../../outside.txt", "photos/./a.jpg", "/etc/passwd", "C:\\windows\\a",
        "c:a", "photos\\a.jpg", "photos/a\nb.jpg", "photos/\u202Egpj.exe", "photos//a.jpg", "..", ".", "photos/..", "photos/...", new string('p', 250), "photos/" + new string('q', 180), "photos/ü.jpg", "photos/con", "~/.ssh/key",
    ];

    [Fact]
    public void A_damaged_price_table_is_read_or_refused_line_by_line()
    {
        var wounds = new Wounds(Seed);
        var whole = PriceCsv.Write(PriceBooks.Default);
        var begun = string.Join('\n', whole.Split('\n').Take(6)) + "\n";
        Each("price tables", () => wounds.Below(20) switch { 0 => wounds.Text(whole, Cells), < 14 => wounds.Text(begun, Cells), _ => wounds.Soup(Cells, 30) }, text =>
        {
            try
            {
                var book = PriceCsv.Read(text);
                // What was read is written without a formula and read again as it was.
                var written = PriceCsv.Write(book);
                Assert.DoesNotMatch("(?m)(^|,)\"?[=+@-]", written);
                Assert.Equal(written, PriceCsv.Write(PriceCsv.Read(written)));
                return true;
            }
            catch (PriceTableException refused)
            {
                Assert.NotEmpty(refused.Errors);
                Assert.All(refused.Errors, error => Assert.StartsWith("Expected", error.Expected, StringComparison.Ordinal));
                Assert.All(refused.Errors, error => Assert.InRange(error.Expected.Length, 10, 1000));
                return false;
            }
        }, text => text.Length);
    }

    [Fact]
    public void Damaged_answers_of_a_client_are_read_or_refused()
    {
        var wounds = new Wounds(Seed + 1);
        var whole = IntakeAnswers.Write(new Dictionary<string, string> { ["sleepers"] = "2", ["bothers"] = "Wet \"glass\"\nand 𝄞", ["stay-1.place"] = "Kiruna", ["order-dry"] = "1" });
        Each("stored answers", () => wounds.Text(whole, Scraps), text =>
        {
            try
            {
                var answers = IntakeAnswers.Read(text);
                Assert.Equal(answers, IntakeAnswers.Read(IntakeAnswers.Write(answers)));
                return true;
            }
            catch (IntakeTextException refused)
            {
                Assert.NotEmpty(refused.Message);
                return false;
            }
        }, text => text.Length);
    }

    // What the damaged texts once found: half of a character was no refusal but a crash, in the file of a client too.
    [Theory]
    [InlineData("{\"format\":1,\"answers\":{\"bothers\":\"\\uD834\"}}")]
    [InlineData("{\"format\":1,\"answers\":{\"both\\uD834ers\":\"wet\"}}")]
    [InlineData("{\"format\":1,\"\\uD834\":{}}")]
    [InlineData("{\"format\":1,\"answers\":{\"bothers\":\"½\"}}")]
    public void Answers_with_half_of_a_character_are_refused(string text) => Assert.Throws<IntakeTextException>(() => IntakeAnswers.Read(Halved(text)));

    [Theory]
    [InlineData("{\"words\":\"\\uD834\"}")]
    [InlineData("{\"\\uD834\":\"\"}")]
    [InlineData("{\"words\":\"½\"}")]
    [InlineData("{\"fuel\":1e999}")]
    public void A_report_with_half_of_a_character_or_an_endless_number_is_refused(string text) => Assert.ThrowsAny<JsonException>(() => CheckBackAnswers.Read(Halved(text)));

    // An attribute cannot hold half of a character either.
    private static string Halved(string text) => text.Replace('½', '\uD834');

    [Fact]
    public void Damaged_wishes_are_read_or_refused()
    {
        var wounds = new Wounds(Seed + 2);
        var whole = WishesJson.Write(new Wishes { BudgetNow = 1500, MustHaves = ["a bed across", "a desk"], WontHaves = [WontHave.FloorHole], LoudestAtBedDba = 40, Order = [Priority.Dry, Priority.Warm], Looks = "pale" });
        Each("wishes", () => wounds.Text(whole, Scraps), text =>
        {
            try
            {
                var wishes = WishesJson.Read(text);
                Assert.Equal(WishesJson.Write(wishes), WishesJson.Write(WishesJson.Read(WishesJson.Write(wishes))));
                return true;
            }
            catch (WishesTextException refused)
            {
                Assert.NotEmpty(refused.Message);
                return false;
            }
        }, text => text.Length);
    }

    [Fact]
    public void A_damaged_report_after_the_build_is_read_or_refused()
    {
        var wounds = new Wounds(Seed + 3);
        var whole = new CheckBackAnswers { WetMornings = 3, Fuel = 2.5, FuelAWeek = true, Mould = false, Where = "behind the bed", Words = "Dry 𝄞" }.Write();
        Each("reports", () => wounds.Text(whole, Scraps), text =>
        {
            try
            {
                var answers = CheckBackAnswers.Read(text);
                Assert.Equal(answers.Write(), CheckBackAnswers.Read(answers.Write()).Write());
                return true;
            }
            catch (JsonException refused)
            {
                Assert.NotEmpty(refused.Message);
                return false;
            }
        }, text => text.Length);
    }

    [Fact]
    public void Damaged_hours_are_unpacked_and_read_or_refused()
    {
        var wounds = new Wounds(Seed + 4);
        var hours = StoredHours.Write(WeatherFileStoreTests.Hours());
        var packed = StoredHours.Pack(hours);
        // Zeros pack to almost nothing: a hundred megabytes of them, of which no more than a year may be kept.
        var bomb = StoredHours.Pack(new byte[100_000_000]);
        Each("packed hours", () => wounds.Below(50) == 0 ? wounds.Bytes(bomb, most: 1) : wounds.Bytes(packed), bytes =>
        {
            try
            {
                var unpacked = StoredHours.Unpack(bytes);
                var read = StoredHours.Read(unpacked);
                Assert.True(read.IsWhole);
                return true;
            }
            catch (InvalidDataException refused)
            {
                Assert.NotEmpty(refused.Message);
                return false;
            }
        }, bytes => bytes.Length, expectsRead: false);
    }

    // Archives as nobody saves them: names that lead out, files twice, links, files that grow a thousand times, and damage in the bytes.
    [Fact]
    public void A_zip_is_read_without_a_name_that_leads_out_and_without_growing()
    {
        var wounds = new Wounds(Seed + 5);
        var rows = new byte[3000];
        for (var i = 0; i < rows.Length; i++)
        {
            rows[i] = (byte)wounds.Below(256);
        }

        var blank = new byte[3_000_000];
        Each("zips", () =>
        {
            using var zip = new MemoryStream();
            using (var archive = new ZipArchive(zip, ZipArchiveMode.Create, leaveOpen: true))
            {
                for (var entries = wounds.Below(6); entries >= 0; entries--)
                {
                    // The first name is the one that has to be there.
                    var name = wounds.Below(3) == 0 ? Names[0] : wounds.Below(2) == 0 ? wounds.One(Names) : $"photos/{wounds.Below(100)}.jpg";
                    var entry = archive.CreateEntry(name, CompressionLevel.Fastest);
                    entry.ExternalAttributes = wounds.Below(20) switch { 0 => unchecked((int)0xA1FF0000), 1 => wounds.Below(int.MaxValue), _ => 0 };
                    using var stream = entry.Open();
                    stream.Write(wounds.Below(60) == 0 ? blank : rows.AsSpan(0, wounds.Below(rows.Length)));
                }
            }

            var bytes = zip.ToArray();
            return wounds.Below(3) == 0 ? wounds.Bytes(bytes) : bytes;
        }, bytes =>
        {
            try
            {
                var task = HandoverZip.Read(new MemoryStream(bytes));
                // Memory is counted on this thread, and nothing here waits for anything.
                Assert.True(task.IsCompleted);
                var read = task.GetAwaiter().GetResult();
                Assert.True(read.Files.Values.Sum(file => (long)file.Length) + read.Rows.Length <= HandoverZip.LargestTotal);
                Assert.All(read.Files.Keys, name =>
                {
                    Assert.Matches("^(photos|weather)/", name);
                    var folder = Path.GetFullPath("/taken");
                    Assert.StartsWith(folder + "/", Path.GetFullPath(Path.Combine(folder, name)), StringComparison.Ordinal);
                });
                return true;
            }
            catch (HandoverRefusedException refused)
            {
                Assert.NotEmpty(refused.Message);
                return false;
            }
        }, bytes => bytes.Length, anyway: 40_000_000);
    }

    /// <summary>Answers as a form hands them in, through the client's own door; a save writes to the database, so a tenth of the count.</summary>
    [Fact]
    public async Task Answers_of_any_length_and_letters_are_kept_as_typed_or_refused()
    {
        var wounds = new Wounds(Seed + 6);
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var (_, van, _) = await desk.AddVan();
        var token = (await desk.App.GetRequiredService<Intakes>().Send(desk.Ada, van)).Token;
        var door = desk.App.GetRequiredService<IntakeDoor>();
        var kept = ImmutableSortedDictionary.Create<string, string>(StringComparer.Ordinal);
        string[] keys = ["sleepers", "bothers", "stay-1.place", "", "order-dry", new('k', 500), "𝄞", "a\u0000b", "clé"];
        var (saved, refused) = (0, 0);
        var count = Math.Max(1, Count / 10);
        for (var i = 0; i < count; i++)
        {
            Dictionary<string, string> changed = [];
            for (var answers = wounds.Below(4); answers >= 0; answers--)
            {
                changed[wounds.Below(4) == 0 ? wounds.One(keys) : "q" + wounds.Below(500).ToString(CultureInfo.InvariantCulture)] =
                    wounds.Below(10) == 0 ? new string('x', wounds.Below(2 * IntakeAnswers.LongestAnswer)) : wounds.Soup(Scraps, 5);
            }

            try
            {
                Assert.True(await door.Save(token, changed));
                kept = IntakeAnswers.With(kept, changed);
                saved++;
            }
            catch (InvalidInputException told)
            {
                Assert.NotEmpty(told.Message);
                refused++;
            }
        }

        var open = (await door.Open(token))!.Answers;
        Assert.Equal(kept, open);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{count} handed-in forms, seed {Seed + 6}: {saved} saved, {refused} refused"));
        Assert.InRange(saved, 1, count - 1);
    }

    private void Each<T>(string what, Func<T> make, Func<T, bool> read, Func<T, int> size, bool expectsRead = true, long anyway = AnywayBytes)
    {
        var (taken, refused) = (0, 0);
        long largest = 0;
        for (var i = 0; i < Count; i++)
        {
            var input = make();
            var before = GC.GetAllocatedBytesForCurrentThread();
            try
            {
                if (read(input))
                {
                    taken++;
                }
                else
                {
                    refused++;
                }
            }
            catch (Exception unexpected) when (unexpected is not Xunit.Sdk.IAssertionException)
            {
                Assert.Fail($"{what} {i} threw {unexpected}\n{(input is byte[] bytes ? Convert.ToBase64String(bytes)[..Math.Min(4000, bytes.Length)] : input)}");
            }

            var allocated = GC.GetAllocatedBytesForCurrentThread() - before;
            largest = Math.Max(largest, allocated);
            Assert.True(allocated < anyway + (1000L * size(input)), $"{what} {i} of {size(input)} took {allocated} bytes.");
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{Count} damaged {what}, seed {Seed}: {taken} read, {refused} refused; most memory for one {largest / 1024} KB"));
        Assert.True(refused > 0 && (!expectsRead || taken > 0), $"{taken} read, {refused} refused");
    }
}
