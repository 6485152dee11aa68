using System.Data.Common;
using System.Diagnostics;
using System.Globalization;
using ConsultDesk.Testing;
using Microsoft.Data.Sqlite;
using Npgsql;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>The way back, rehearsed as docs/operating.md tells it.</summary>
public sealed class BackupTests(TestStores stores) : IClassFixture<TestStores>, IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("consultdesk-backup-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task A_back_up_made_while_edits_go_on_is_restored_elsewhere_with_every_row_of_every_table(StoreKind kind)
    {
        var connection = await stores.Connection(kind);
        await using var desk = await stores.Desk(kind);
        var (_, van, option) = await desk.AddVan();
        var loaded = (await desk.Options.Load(desk.Ada, option))!;
        await desk.Plans.Publish(desk.Ada, option, loaded.Version, _ => new PlanText("{\"grüße\":\"🚐\"}", 1, "m"), "A test of the back-up, which no danger stands against.");
        var backups = new Backups(kind, connection);

        // While somebody edits: whole, although not of any one moment the test could name.
        using var enough = new CancellationTokenSource();
        var editing = Task.Run(async () =>
        {
            var (edits, version) = (0, loaded.Version);
            while (!enough.IsCancellationRequested)
            {
                var design = SampleDesign.Van() with { Stop = SampleDesign.Van().Stop with { Altitude = Length.FromMeters(++edits) } };
                version = Assert.IsType<Saved>(await desk.Options.Save(desk.Ada, option, version, design, "Edit")).Version;
            }

            return edits;
        });
        var during = Path.Combine(_folder, "during" + backups.Ending);
        await backups.Make(during, TestContext.Current.CancellationToken);
        await enough.CancelAsync();
        Assert.True(await editing > 0);

        var after = Path.Combine(_folder, "after" + backups.Ending);
        await backups.Make(after, TestContext.Current.CancellationToken);
        if (!OperatingSystem.IsWindows())
        {
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(after));
        }

        Assert.Equal([during, after], Directory.GetFiles(_folder).OrderDescending());

        var original = await Rows(kind, connection);
        Assert.True(original.Count > 30, "Where are the tables?");
        var restored = await Rows(kind, await Restored(kind, after));
        Assert.Equal(original.Keys, restored.Keys);
        Assert.All(original, table => Assert.Equal(table.Value, restored[table.Key]));
        Assert.NotEmpty(original["OptionRevisions"]);

        await using var again = TestDesk.Services(kind, await Restored(kind, during), TimeProvider.System);
        var options = (VanOptions)again.GetService(typeof(VanOptions))!;
        Assert.Equal(option, Assert.Single(await options.OptionsOf(desk.Ada, van, TestContext.Current.CancellationToken)).Id);
        Assert.NotNull(await options.Load(desk.Ada, option, TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task A_back_up_writes_over_nothing_and_one_that_fails_leaves_nothing_behind()
    {
        var taken = Path.Combine(_folder, "mine.db");
        await File.WriteAllTextAsync(taken, "mine", TestContext.Current.CancellationToken);
        var backups = new Backups(StoreKind.Sqlite, await stores.Connection(StoreKind.Sqlite));

        var e = await Assert.ThrowsAsync<BackupFailedException>(() => backups.Make(taken, TestContext.Current.CancellationToken));

        Assert.Contains(taken, e.Message, StringComparison.Ordinal);
        Assert.Equal("mine", await File.ReadAllTextAsync(taken, TestContext.Current.CancellationToken));
        var none = new Backups(StoreKind.Sqlite, "Data Source=" + Path.Combine(_folder, "none.db"));
        await Assert.ThrowsAsync<BackupFailedException>(() => none.Make(Path.Combine(_folder, "of-none.db"), TestContext.Current.CancellationToken));
        var nobody = new Backups(StoreKind.Postgres, "Host=127.0.0.1;Port=1;Username=heron;Password=sesame-open;Database=desk");
        var away = await Assert.ThrowsAsync<BackupFailedException>(() => nobody.Make(Path.Combine(_folder, "of-nobody.dump"), TestContext.Current.CancellationToken));
        Assert.DoesNotContain("sesame-open", away.Message, StringComparison.Ordinal);
        var without = new Backups(StoreKind.Postgres, "Host=127.0.0.1;Port=1;Username=heron;Database=desk", Path.Combine(_folder, "no-such-folder"));
        Assert.Contains("Backup:PostgresPrograms", (await Assert.ThrowsAsync<BackupFailedException>(
            () => without.Make(Path.Combine(_folder, "without.dump"), TestContext.Current.CancellationToken))).Message, StringComparison.Ordinal);
        Assert.Equal([taken], Directory.GetFiles(_folder));
    }

    // As the page for whoever runs the desk says: a copy of the file, or pg_restore into an empty database.
    private async Task<string> Restored(StoreKind kind, string backup)
    {
        if (kind == StoreKind.Sqlite)
        {
            var folder = Directory.CreateDirectory(Path.Combine(_folder, Path.GetRandomFileName())).FullName;
            File.Copy(backup, Path.Combine(folder, "desk.db"));
            return "Data Source=" + Path.Combine(folder, "desk.db");
        }

        var connection = await stores.Empty(StoreKind.Postgres);
        var server = new NpgsqlConnectionStringBuilder(connection);
        using var restore = Process.Start(new ProcessStartInfo("pg_restore", [
            "--no-owner", "--exit-on-error", "--host", server.Host!, "--port", server.Port.ToString(CultureInfo.InvariantCulture), "--username", server.Username!, "--dbname", server.Database!, backup])
        {
            RedirectStandardError = true,
            Environment = { ["PGPASSWORD"] = server.Password },
        })!;
        var errors = await restore.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        await restore.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.True(restore.ExitCode == 0, errors);
        return connection;
    }

    private static async Task<SortedDictionary<string, List<string>>> Rows(StoreKind kind, string connection)
    {
        await using DbConnection db = kind == StoreKind.Sqlite ? new SqliteConnection(connection + ";Pooling=False") : new NpgsqlConnection(connection);
        await db.OpenAsync(TestContext.Current.CancellationToken);
        var tables = await Read(db, kind == StoreKind.Sqlite
            ? "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'"
            : "SELECT tablename FROM pg_tables WHERE schemaname = 'public'");
        var all = new SortedDictionary<string, List<string>>(StringComparer.Ordinal);
        foreach (var table in tables)
        {
            all.Add(table, [.. (await Read(db, $"SELECT * FROM \"{table}\"")).Order(StringComparer.Ordinal)]);
        }

        return all;
    }

    private static async Task<List<string>> Read(DbConnection db, string question)
    {
        await using var command = db.CreateCommand();
#pragma warning disable CA2100 // The names in it come from the database's own list of tables.
        command.CommandText = question;
#pragma warning restore CA2100
        await using var reader = await command.ExecuteReaderAsync(TestContext.Current.CancellationToken);
        List<string> rows = [];
        while (await reader.ReadAsync(TestContext.Current.CancellationToken))
        {
            var row = new object[reader.FieldCount];
            reader.GetValues(row);
            rows.Add(string.Join('|', row.Select(value => value is byte[] bytes ? Convert.ToHexString(bytes) : Convert.ToString(value, CultureInfo.InvariantCulture))));
        }

        return rows;
    }
}
