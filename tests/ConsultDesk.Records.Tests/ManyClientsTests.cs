using System.Diagnostics;
using System.Globalization;
using ConsultDesk.Testing;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>
/// A firm with many clients, five options each: the lists and the search give the right ones. How long they take is printed and judged by nobody
/// here, because the machine of a build has other work; <c>tests/long.sh clients</c> makes ten thousand clients.
/// </summary>
public sealed class ManyClientsTests(TestStores stores) : IClassFixture<TestStores>
{
    private const int OptionsEach = 5;
    private const int Batch = 250;
    private const int Page = 100;

    // A plan for every so many clients, as long as a real one is.
    private const int PlanEach = 10;

    private static readonly string[] First = ["Tansy", "Orla", "Bram", "Ingrid", "Zoë", "Wren", "Łucja", "Idris"];
    private static readonly string[] Last = ["Marlowe", "Fenwick", "Ørsted", "Quill", "Straße", "Tolliver", "Æble", "Moss"];

    private static int Many => int.TryParse(Environment.GetEnvironmentVariable("DESK_MANY_CLIENTS"), NumberStyles.None, CultureInfo.InvariantCulture, out var many) ? many : 100;

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task A_firm_with_many_clients_finds_the_right_ones(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var many = Many;
        await Fill(desk, many);
        var list = (DeskList)desk.App.GetService(typeof(DeskList))!;
        var client = (await desk.Clients.Clients(desk.Ada, Name(many / 2)))[0];

        Assert.Equal(many, (await desk.Clients.Clients(desk.Ada)).Count);
        Assert.Equal(Name(many / 2), client.Name);
        Assert.Equal(OptionsEach, Assert.Single(await list.Vans(desk.Ada, client.Name, cancellation: TestContext.Current.CancellationToken)).Options);

        await Timed(kind, many, "clients, the first page", () => Rows(desk.Clients.Clients(desk.Ada, null, Page)));
        await Timed(kind, many, "clients, a search that finds one", () => Rows(desk.Clients.Clients(desk.Ada, Name(many / 3), Page)));
        await Timed(kind, many, "clients, a search that finds an eighth", () => Rows(desk.Clients.Clients(desk.Ada, "zoe", Page)));
        await Timed(kind, many, "vans, the first page", () => Rows(list.Vans(desk.Ada, null, Page)));
        await Timed(kind, many, "vans, a search that finds one", () => Rows(list.Vans(desk.Ada, Name(many / 3), Page)));
        await Timed(kind, many, "vans, a search that finds an eighth", () => Rows(list.Vans(desk.Ada, "zoe", Page)));
        await Timed(kind, many, "vans, a search that finds every one", () => Rows(list.Vans(desk.Ada, "heron", Page)));
        await Timed(kind, many, "options touched last", () => list.LastTouched(desk.Ada, 10));
        await Timed(kind, many, "plans published last", () => list.Plans(desk.Ada, 10));
        await Timed(kind, many, "plans, a search that finds one", () => list.Plans(desk.Ada, 10, Name(PlanEach)));
        await Timed(kind, many, "plans that wait", () => Rows(list.Waiting(desk.Ada, 12)));
    }

    private static async Task<IReadOnlyList<T>> Rows<T>(Task<Listed<T>> asked) => await asked;

    private static string Name(int client) =>
        string.Create(CultureInfo.InvariantCulture, $"{First[client % First.Length]} {Last[client / First.Length % Last.Length]} {client:00000}");

    private static async Task Fill(TestDesk desk, int many)
    {
        var text = DesignJson.Write(SampleDesign.Van());
        var start = new DateTime(2026, 1, 1, 0, 0, 0, DateTimeKind.Utc);
        for (var from = 0; from < many; from += Batch)
        {
            await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
            db.ChangeTracker.AutoDetectChangesEnabled = false;
            for (var number = from; number < Math.Min(many, from + Batch); number++)
            {
                var at = start.AddMinutes(number);
                var client = db.Clients.Add(new Client { Name = Name(number), SearchName = SearchText.Of(Name(number)), CreatedAt = at, UpdatedAt = at }).Entity;
                var van = db.Vans.Add(new Van { ClientId = client.Id, Name = "Heron", BodyClass = "long-high", Layout = "rear-platform-bed", CreatedAt = at }).Entity;
                VanOption? option = null;
                for (var letter = 0; letter < OptionsEach; letter++)
                {
                    option = db.Options.Add(new VanOption
                    {
                        VanId = van.Id,
                        Letter = ((char)('A' + letter)).ToString(),
                        Name = "As drawn",
                        DesignText = text,
                        DesignFormat = DesignJson.CurrentFormat,
                        CreatedAt = at,
                        UpdatedAt = at,
                        UpdatedBy = desk.Ada.UserId,
                    }).Entity;
                }

                if (number % PlanEach == 0)
                {
                    var plan = db.Plans.Add(PlanOf(option!, at, desk.Ada)).Entity;
                    db.PlanLinks.Add(LinkOf(plan, number));
                }
            }

            await db.SaveChangesAsync();
        }
    }

    private static readonly string Snapshot = new('x', 100_000);

    private static Plan PlanOf(VanOption option, DateTime at, SignedIn who) => new()
    {
        VanId = option.VanId,
        OptionId = option.Id,
        OptionLetter = option.Letter,
        OptionName = option.Name,
        Number = 1,
        SnapshotText = Snapshot,
        SnapshotSha256 = "",
        MethodVersion = "1",
        PublishedAt = at,
        PublishedBy = who.UserId,
    };

    // Every other one was opened.
    private static PlanLink LinkOf(Plan plan, int number) => new()
    {
        PlanId = plan.Id,
        TokenSha256 = System.Security.Cryptography.SHA256.HashData(BitConverter.GetBytes(number)),
        CreatedAt = plan.PublishedAt,
        ExpiresAt = plan.PublishedAt.AddYears(1),
        LastUsedAt = number % (2 * PlanEach) == 0 ? plan.PublishedAt : null,
    };

    private static async Task Timed<T>(StoreKind kind, int many, string what, Func<Task<IReadOnlyList<T>>> ask)
    {
        const int Times = 20;
        var found = (await ask()).Count;
        var took = new double[Times];
        for (var i = 0; i < Times; i++)
        {
            var began = Stopwatch.GetTimestamp();
            Assert.Equal(found, (await ask()).Count);
            took[i] = Stopwatch.GetElapsedTime(began).TotalMilliseconds;
        }

        Array.Sort(took);
        TestContext.Current.TestOutputHelper!.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{kind}, {many} clients, {many * OptionsEach} options: {what}: {found} found, p50 {took[Times / 2]:0.0} ms, p95 {took[(Times * 95 / 100) - 1]:0.0} ms (asked for: under 100)"));
    }
}
