using System.Reflection;
using ConsultDesk.Records;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using Xunit;

namespace ConsultDesk.Testing;

/// <summary>
/// The databases of one test class: a SQLite file and a PostgreSQL database, each made when first asked for and
/// removed with the class. Use as <c>IClassFixture&lt;TestStores&gt;</c> with theories over <see cref="Both"/>.
/// </summary>
/// <remarks>
/// The environment variable DESK_TEST_POSTGRES names the server (tests/run.sh starts one and sets it). Without it
/// a test on PostgreSQL is a visible skip; with CI=true it fails.
/// </remarks>
public sealed class TestStores : IAsyncLifetime
{
    private static readonly string? Server = Environment.GetEnvironmentVariable("DESK_TEST_POSTGRES");

    private readonly Dictionary<StoreKind, string> _connections = [];
    private readonly List<string> _databases = [];
    private readonly SemaphoreSlim _making = new(1);
    private readonly string _folder = Path.Combine(Path.GetTempPath(), "desk-test-" + Guid.NewGuid().ToString("N"));

    /// <summary>Both stores, for a theory.</summary>
    public static TheoryData<StoreKind> Both => [StoreKind.Sqlite, StoreKind.Postgres];

    public ValueTask InitializeAsync() => ValueTask.CompletedTask;

    /// <summary>A connection string to this class's migrated database.</summary>
    public async Task<string> Connection(StoreKind kind)
    {
        await _making.WaitAsync(TestContext.Current.CancellationToken);
        try
        {
            if (!_connections.TryGetValue(kind, out var connection))
            {
                connection = kind == StoreKind.Sqlite ? await MakeSqlite() : await MakePostgres();
                _connections.Add(kind, connection);
            }

            return connection;
        }
        finally
        {
            _making.Release();
        }
    }

    /// <summary>A connection string to a database of this class's own that has no tables yet.</summary>
    public async Task<string> Empty(StoreKind kind)
    {
        if (kind == StoreKind.Sqlite)
        {
            return "Data Source=" + Path.Combine(Directory.CreateDirectory(_folder).FullName, Guid.NewGuid().ToString("N") + ".db");
        }

        var name = "desk_" + Guid.NewGuid().ToString("N");
        await Execute($"CREATE DATABASE {name}");
        _databases.Add(name);
        return Database(name);
    }

    /// <summary>The app's own registrations on this class's database, with a clock the test moves.</summary>
    public async Task<TestDesk> Desk(StoreKind kind) => await TestDesk.Open(kind, await Connection(kind));

    public async ValueTask DisposeAsync()
    {
        SqliteConnection.ClearAllPools();
        if (Directory.Exists(_folder))
        {
            Directory.Delete(_folder, recursive: true);
        }

        foreach (var name in _databases)
        {
            await using (var connection = new NpgsqlConnection(Database(name)))
            {
                NpgsqlConnection.ClearPool(connection);
            }

            await Execute($"DROP DATABASE {name} WITH (FORCE)");
        }

        _making.Dispose();
    }

    private async Task<string> MakeSqlite()
    {
        var connection = await Empty(StoreKind.Sqlite);
        await Migrate(StoreKind.Sqlite, connection);
        return connection;
    }

    private async Task<string> MakePostgres()
    {
        // One template per build of the migrations, shared by all test processes of a run.
        var template = "desk_template_" + Assembly.Load("ConsultDesk.Migrations.Postgres").ManifestModule.ModuleVersionId.ToString("N");
        var name = "desk_" + Guid.NewGuid().ToString("N");
        await using var server = new NpgsqlConnection(ServerOrSkip());
        await server.OpenAsync();
        // The lock goes with the connection. A template that failed half-way is dropped, not used.
        await Execute(server, "SELECT pg_advisory_lock(715071)");
        if (await Scalar(server, $"SELECT count(*) FROM pg_database WHERE datname = '{template}'") == 0)
        {
            await Execute(server, $"DROP DATABASE IF EXISTS {template}_new WITH (FORCE)");
            await Execute(server, $"CREATE DATABASE {template}_new");
            await Migrate(StoreKind.Postgres, Database(template + "_new"));
            await using (var used = new NpgsqlConnection(Database(template + "_new")))
            {
                NpgsqlConnection.ClearPool(used);
            }

            await Execute(server, $"ALTER DATABASE {template}_new RENAME TO {template}");
        }

        await Execute(server, $"CREATE DATABASE {name} TEMPLATE {template}");
        await Execute(server, "SELECT pg_advisory_unlock(715071)");
        _databases.Add(name);
        return Database(name);
    }

    private static async Task Migrate(StoreKind kind, string connection)
    {
        await using var services = TestDesk.Services(kind, connection, TimeProvider.System);
        await DeskStore.Migrate(services.GetRequiredService<IDbContextFactory<DeskContext>>());
    }

    private static string ServerOrSkip()
    {
        if (string.IsNullOrEmpty(Server))
        {
            const string Missing = "DESK_TEST_POSTGRES is not set: no PostgreSQL to test on. tests/run.sh starts one.";
            if (Environment.GetEnvironmentVariable("CI") == "true")
            {
                Assert.Fail(Missing);
            }

            Assert.Skip(Missing);
        }

        return Server;
    }

    private static string Database(string name) =>
        new NpgsqlConnectionStringBuilder(ServerOrSkip()) { Database = name, MaxPoolSize = 20 }.ToString();

    private static async Task Execute(string sql)
    {
        await using var server = new NpgsqlConnection(ServerOrSkip());
        await server.OpenAsync();
        await Execute(server, sql);
    }

    private static async Task Execute(NpgsqlConnection server, string sql)
    {
        await using var command = new NpgsqlCommand(sql, server);
        await command.ExecuteNonQueryAsync();
    }

    private static async Task<long> Scalar(NpgsqlConnection server, string sql)
    {
        await using var command = new NpgsqlCommand(sql, server);
        return (long)(await command.ExecuteScalarAsync())!;
    }
}
