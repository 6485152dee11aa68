using ConsultDesk.Records;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;

namespace ConsultDesk.Testing;

/// <summary>
/// The records as the app registers them, with a new firm of its own and two of its people, so that tests on one
/// database do not see each other.
/// </summary>
public sealed class TestDesk : IAsyncDisposable
{
    private TestDesk(ServiceProvider services, SettableTime time) => (App, Time) = (services, time);

    public ServiceProvider App { get; }

    public SettableTime Time { get; }

    /// <summary>Owner of the firm.</summary>
    public SignedIn Ada { get; private set; } = null!;

    /// <summary>Consultant of the same firm.</summary>
    public SignedIn Ben { get; private set; } = null!;

    /// <summary>Owner of another firm.</summary>
    public SignedIn Stranger { get; private set; } = null!;

    public Firms Firms => App.GetRequiredService<Firms>();

    public ClientBook Clients => App.GetRequiredService<ClientBook>();

    public VanBook Vans => App.GetRequiredService<VanBook>();

    public VanOptions Options => App.GetRequiredService<VanOptions>();

    public Plans Plans => App.GetRequiredService<Plans>();

    public AuditTrail Audit => App.GetRequiredService<AuditTrail>();

    public FirmContexts Contexts => App.GetRequiredService<FirmContexts>();

    public static async Task<TestDesk> Open(StoreKind kind, string connection)
    {
        // Seven digits of a second: PostgreSQL keeps six, so a time must survive being shortened.
        var time = new SettableTime(new DateTimeOffset(2026, 2, 3, 4, 5, 6, TimeSpan.Zero).AddTicks(1_234_567));
        var desk = new TestDesk(Services(kind, connection, time), time);
        var firm = await desk.Firms.Found(new FirmInput("Fjord & Fell Van Advice", "#1f6f5c", "hello@fjordandfell.example", "EUR", UnitPreset.Metric));
        var other = await desk.Firms.Found(new FirmInput("Another Desk", "#333333", null, "GBP", UnitPreset.Imperial));
        desk.Ada = await desk.Join(firm, "Ada Moor", DeskRole.Owner);
        desk.Ben = await desk.Join(firm, "Ben Tarn", DeskRole.Consultant);
        desk.Stranger = await desk.Join(other, "Cleo Strand", DeskRole.Owner);
        return desk;
    }

    public static ServiceProvider Services(StoreKind kind, string connection, TimeProvider time)
    {
        var services = new ServiceCollection();
        services.AddLogging();
        services.AddSingleton(time);
        services.AddIdentityCore<DeskUser>().AddRoles<IdentityRole<Guid>>().AddEntityFrameworkStores<DeskContext>();
        services.AddRecords(kind, connection);
        return services.BuildServiceProvider(new ServiceProviderOptions { ValidateScopes = true, ValidateOnBuild = true });
    }

    /// <summary>One more account, without a password: hashing one takes longer than the tests that need none.</summary>
    public async Task<SignedIn> Join(Guid firm, string name, DeskRole role)
    {
        await using var scope = App.CreateAsyncScope();
        var users = scope.ServiceProvider.GetRequiredService<UserManager<DeskUser>>();
        var address = $"{Guid.NewGuid():N}@desk.example";
        var user = new DeskUser { FirmId = firm, DisplayName = name, Role = role, UserName = address, Email = address };
        var made = await users.CreateAsync(user);
        if (!made.Succeeded)
        {
            throw new InvalidOperationException(string.Join(" ", made.Errors.Select(e => e.Description)));
        }

        return new(firm, user.Id, name, role);
    }

    /// <summary>A client with a van whose option A is <see cref="SampleDesign.Van"/>.</summary>
    public async Task<(Guid ClientId, Guid VanId, Guid OptionId)> AddVan()
    {
        var client = await Clients.AddClient(Ada, new ClientInput("Runa Quill"));
        var van = await Vans.AddVan(Ada, client, new VanInput("Heron", "long-high", "rear-platform-bed", 2019), "As you drew it", SampleDesign.Van());
        return (client, van.VanId, van.OptionId);
    }

    public ValueTask DisposeAsync() => App.DisposeAsync();
}
