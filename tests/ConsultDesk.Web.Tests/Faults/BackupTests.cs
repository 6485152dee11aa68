using ConsultDesk.Records;
using ConsultDesk.Testing;
using ConsultDesk.Web.Backup;
using ConsultDesk.Web.Shell;
using ConsultDesk.Web.Tests.Workspace;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Diagnostics.HealthChecks;
using Microsoft.Extensions.Logging.Abstractions;
using Xunit;

namespace ConsultDesk.Web.Tests.Faults;

/// <summary>Back-ups the desk makes by itself; that they can be restored is tested beside <see cref="Backups"/>.</summary>
public sealed class BackupTests(TestStores stores) : IClassFixture<TestStores>, IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("consultdesk-backups-").FullName;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private IEnumerable<string> Files => Directory.GetFiles(_folder).Select(file => Path.GetFileName(file)).Order(StringComparer.Ordinal);

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task The_oldest_go_others_files_stay_and_a_clock_that_was_moved_back_costs_no_new_one()
    {
        var time = new SettableTime(new(2031, 2, 3, 4, 5, 6, TimeSpan.Zero));
        var folder = new BackupFolder(_folder, new Backups(StoreKind.Sqlite, await stores.Connection(StoreKind.Sqlite)), time);
        string[] others = ["desk-20200101-000000.dump", "desk-holiday.db", "desk-20200101-000000.db.old"];
        foreach (var other in others)
        {
            await File.WriteAllTextAsync(Path.Combine(_folder, other), "", Cancel);
        }

        foreach (var _ in Enumerable.Range(0, 4))
        {
            await folder.MakeAsync(keep: 3, Cancel);
            time.Now += TimeSpan.FromDays(1);
        }

        Assert.Equal(["desk-20310204-040506.db", "desk-20310205-040506.db", "desk-20310206-040506.db"], Files.Except(others));
        Assert.Equal(new DateTime(2031, 2, 6, 4, 5, 6, DateTimeKind.Utc), folder.Newest());

        time.Now -= TimeSpan.FromDays(400);
        var made = await folder.MakeAsync(keep: 3, Cancel);
        var second = await folder.MakeAsync(keep: 3, Cancel);

        Assert.NotEqual(made, second);
        Assert.True(File.Exists(second));
        Assert.Equal(3, Files.Except(others).Count());
        Assert.All(others, other => Assert.Contains(other, Files));
    }

    [Fact]
    public async Task They_are_made_when_they_are_due_and_a_failure_is_told_and_tried_again()
    {
        var time = new ManualTime();
        var settings = BackupSettings.Usual with { Directory = _folder, Every = TimeSpan.FromHours(6) };
        var place = Path.Combine(_folder, "there");
        var folder = new BackupFolder(place, new Backups(StoreKind.Sqlite, await stores.Connection(StoreKind.Sqlite)), time);
        using var scheduled = new ScheduledBackups(settings, folder, time, NullLogger<ScheduledBackups>.Instance);
        // A file where the folder should be.
        await File.WriteAllTextAsync(place, "", Cancel);
        await scheduled.StartAsync(Cancel);
        await Until(async () => (await scheduled.CheckHealthAsync(new(), Cancel)).Status == HealthStatus.Degraded);

        File.Delete(place);
        await Until(() => { time.Advance(ScheduledBackups.RetryAfter.TotalMilliseconds); return Task.FromResult(Directory.Exists(place) && folder.Newest() is not null); });
        await Until(async () => (await scheduled.CheckHealthAsync(new(), Cancel)).Status == HealthStatus.Healthy);
        var first = folder.Newest();
        await Until(() => { time.Advance(settings.Every.TotalMilliseconds); return Task.FromResult(folder.Newest() > first); });
        await scheduled.StopAsync(Cancel);
    }

    [Theory]
    [InlineData("Every", "yesterday", "Backup:Every")]
    [InlineData("Every", "00:00:30", "Backup:Every")]
    [InlineData("Keep", "0", "Backup:Keep")]
    [InlineData("BeforeUpdate", "perhaps", "Backup:BeforeUpdate")]
    public void Settings_that_cannot_be_used_stop_the_start(string setting, string value, string named)
    {
        var configuration = new ConfigurationBuilder().AddInMemoryCollection([new("Backup:" + setting, value)]).Build();

        var refused = Assert.Throws<StartRefusedException>(() => BackupSettings.Read(configuration, "/"));

        Assert.Contains(named, refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Before_an_update_the_old_tables_are_kept_in_a_file_or_nothing_is_changed()
    {
        var connection = await stores.Empty(StoreKind.Sqlite);
        await using var app = TestDesk.Services(StoreKind.Sqlite, connection, TimeProvider.System);
        var contexts = app.GetRequiredService<IDbContextFactory<DeskContext>>();
        string first;
        await using (var db = await contexts.CreateDbContextAsync(Cancel))
        {
            first = db.Database.GetMigrations().First();
            await db.GetService<IMigrator>().MigrateAsync(first, Cancel);
        }

        var place = Path.Combine(_folder, "data");
        await using var around = new ServiceCollection()
            .AddSingleton(BackupSettings.Usual).AddSingleton(TimeProvider.System).AddSingleton(new Backups(StoreKind.Sqlite, connection)).BuildServiceProvider();
        // A file where the folder should be.
        await File.WriteAllTextAsync(place, "", Cancel);
        var before = BackupRegistration.BeforeUpdate(around, new(StoreKind.Sqlite, connection, place))!;

        var refused = await Assert.ThrowsAsync<StartRefusedException>(() => DeskStart.PrepareStoreAsync(contexts, place, before));
        Assert.Contains("nothing was changed", refused.Message, StringComparison.Ordinal);
        Assert.Equal([first], await Applied(connection));

        File.Delete(place);
        await DeskStart.PrepareStoreAsync(contexts, place, before);

        Assert.NotEqual([first], await Applied(connection));
        Assert.Equal([first], await Applied("Data Source=" + Assert.Single(Directory.GetFiles(place))));
        // Where a server's back-ups go, only a setting can say.
        var server = BackupRegistration.BeforeUpdate(around, new(StoreKind.Postgres, "", "PostgreSQL, by Data:Connection"))!;
        Assert.Contains("Backup:BeforeUpdate=no", (await Assert.ThrowsAsync<StartRefusedException>(() => server(first))).Message, StringComparison.Ordinal);
    }

    private static async Task<List<string>> Applied(string connection)
    {
        await using var db = new SqliteConnection(connection + ";Pooling=False");
        await db.OpenAsync(Cancel);
        await using var read = db.CreateCommand();
        read.CommandText = "SELECT MigrationId FROM __EFMigrationsHistory ORDER BY 1";
        await using var reader = await read.ExecuteReaderAsync(Cancel);
        List<string> all = [];
        while (await reader.ReadAsync(Cancel))
        {
            all.Add(reader.GetString(0));
        }

        return all;
    }

    private static async Task Until(Func<Task<bool>> sofar)
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(Cancel);
        patience.CancelAfter(TimeSpan.FromMinutes(1));
        while (!await sofar())
        {
            await Task.Delay(20, patience.Token);
        }
    }
}
