using ConsultDesk.Testing;
using Microsoft.AspNetCore.Identity;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>The database itself: its shape, its settings, and the walls between firms.</summary>
public sealed class StoreTests(TestStores stores) : IClassFixture<TestStores>
{
    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task The_migrations_make_exactly_the_model_of_the_app(StoreKind kind)
    {
        await using var app = TestDesk.Services(kind, await stores.Connection(kind), TimeProvider.System);
        await using var db = await app.GetRequiredService<IDbContextFactory<DeskContext>>().CreateDbContextAsync();
        Assert.False(db.Database.HasPendingModelChanges());
        // The account tables of version 3 hold passkeys; without the app's Identity options they would be missing.
        Assert.NotNull(db.Model.FindEntityType(typeof(IdentityUserPasskey<Guid>)));
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task An_empty_database_is_migrated_and_a_second_start_changes_nothing(StoreKind kind)
    {
        await using var app = TestDesk.Services(kind, await stores.Empty(kind), TimeProvider.System);
        var contexts = app.GetRequiredService<IDbContextFactory<DeskContext>>();
        await DeskStore.Migrate(contexts);
        await DeskStore.Migrate(contexts);
        await using var db = await contexts.CreateDbContextAsync();
        Assert.Empty(await db.Database.GetPendingMigrationsAsync());
        Assert.True(await app.GetRequiredService<Firms>().NoneYet());
    }

    [Fact]
    public async Task The_sqlite_file_is_in_WAL_mode_with_foreign_keys_and_a_wait_of_five_seconds()
    {
        await using var app = TestDesk.Services(StoreKind.Sqlite, await stores.Connection(StoreKind.Sqlite), TimeProvider.System);
        await using var db = await app.GetRequiredService<IDbContextFactory<DeskContext>>().CreateDbContextAsync();
        await db.Database.OpenConnectionAsync();
        Assert.Equal("wal", await Pragma("journal_mode"));
        Assert.Equal("1", await Pragma("foreign_keys"));
        Assert.Equal(5, ((SqliteConnection)db.Database.GetDbConnection()).DefaultTimeout);

        async Task<string?> Pragma(string name)
        {
            await using var command = db.Database.GetDbConnection().CreateCommand();
            command.CommandText = "PRAGMA " + name;
            return (await command.ExecuteScalarAsync())?.ToString();
        }
    }

    [Fact]
    public async Task A_sqlite_file_survives_being_closed_and_opened_again()
    {
        var connection = await stores.Empty(StoreKind.Sqlite);
        Guid option;
        SignedIn ada;
        await using (var app = TestDesk.Services(StoreKind.Sqlite, connection, TimeProvider.System))
        {
            await DeskStore.Migrate(app.GetRequiredService<IDbContextFactory<DeskContext>>());
        }

        await using (var desk = await TestDesk.Open(StoreKind.Sqlite, connection))
        {
            (_, _, option) = await desk.AddVan();
            ada = desk.Ada;
        }

        using (var pool = new SqliteConnection(connection))
        {
            SqliteConnection.ClearPool(pool);
        }

        await using var again = TestDesk.Services(StoreKind.Sqlite, connection, TimeProvider.System);
        var loaded = await again.GetRequiredService<VanOptions>().Load(ada, option);
        Assert.True(DesignJson.Same(SampleDesign.Van(), loaded!.Design));
    }

    [Fact]
    public async Task A_start_that_was_killed_while_migrating_is_named_instead_of_waited_for_for_ever()
    {
        await using var app = TestDesk.Services(StoreKind.Sqlite, await stores.Empty(StoreKind.Sqlite), TimeProvider.System);
        var contexts = app.GetRequiredService<IDbContextFactory<DeskContext>>();
        await DeskStore.Migrate(contexts);
        await using (var db = await contexts.CreateDbContextAsync())
        {
            await db.Database.ExecuteSqlAsync($"INSERT INTO \"__EFMigrationsLock\" (\"Id\", \"Timestamp\") VALUES (1, '2026-01-01 00:00:00')");
        }

        // With nothing to change nobody waits for a lock.
        await DeskStore.Migrate(contexts, TimeSpan.FromSeconds(1));
        await using (var db = await contexts.CreateDbContextAsync())
        {
            await db.Database.ExecuteSqlAsync($"DELETE FROM \"__EFMigrationsHistory\" WHERE \"MigrationId\" = (SELECT MAX(\"MigrationId\") FROM \"__EFMigrationsHistory\")");
        }

        var e = await Assert.ThrowsAsync<TimeoutException>(() => DeskStore.Migrate(contexts, TimeSpan.FromSeconds(1)));
        Assert.Contains("__EFMigrationsLock", e.Message, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task A_database_of_a_newer_release_is_left_as_it_is_and_says_so(StoreKind kind)
    {
        await using var app = TestDesk.Services(kind, await stores.Empty(kind), TimeProvider.System);
        var contexts = app.GetRequiredService<IDbContextFactory<DeskContext>>();
        await DeskStore.Migrate(contexts);
        await using var db = await contexts.CreateDbContextAsync();
        await db.Database.ExecuteSqlAsync($"INSERT INTO \"__EFMigrationsHistory\" (\"MigrationId\", \"ProductVersion\") VALUES ('29991231000000_Later', '99.0.0')");
        await db.Database.ExecuteSqlAsync($"DELETE FROM \"__EFMigrationsHistory\" WHERE \"MigrationId\" = (SELECT MIN(\"MigrationId\") FROM \"__EFMigrationsHistory\")");

        var e = await Assert.ThrowsAsync<NewerStoreException>(() => DeskStore.Migrate(contexts, beforeChange: _ => throw new InvalidOperationException("Nothing is to be changed.")));

        Assert.Contains("29991231000000_Later", e.Message, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task Tables_in_use_are_changed_only_after_the_back_up_and_new_ones_without(StoreKind kind)
    {
        await using var app = TestDesk.Services(kind, await stores.Empty(kind), TimeProvider.System);
        var contexts = app.GetRequiredService<IDbContextFactory<DeskContext>>();
        List<string> called = [];
        Task Before(string step)
        {
            called.Add(step);
            return called.Count == 1 ? throw new IOException("No room for a back-up.") : Task.CompletedTask;
        }

        await using var db = await contexts.CreateDbContextAsync();
        var first = db.Database.GetMigrations().First();
        await db.GetService<Microsoft.EntityFrameworkCore.Migrations.IMigrator>().MigrateAsync(first);
        await Assert.ThrowsAsync<IOException>(() => DeskStore.Migrate(contexts, beforeChange: Before));
        Assert.Equal([first], await db.Database.GetAppliedMigrationsAsync());

        await DeskStore.Migrate(contexts, beforeChange: Before);
        await DeskStore.Migrate(contexts, beforeChange: Before);

        Assert.Equal([first, first], called);
        Assert.Empty(await db.Database.GetPendingMigrationsAsync());
        await using var fresh = TestDesk.Services(kind, await stores.Empty(kind), TimeProvider.System);
        await DeskStore.Migrate(fresh.GetRequiredService<IDbContextFactory<DeskContext>>(), beforeChange: _ => throw new InvalidOperationException("Nothing is there to be backed up."));
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task After_the_clock_was_moved_back_edits_are_saved_and_stand_in_the_order_they_were_made(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, _, option) = await desk.AddVan();
        var version = (await desk.Options.Load(desk.Ada, option))!.Version;
        desk.Time.Now += TimeSpan.FromSeconds(1);
        version = Assert.IsType<Saved>(await desk.Options.Save(desk.Ada, option, version, Changed(), "Before")).Version;
        var link = (await desk.Plans.Publish(desk.Ada, option, version, _ => new PlanText("{}", 1, "m"), "A test of the clock, which no danger stands against.")).Link;
        Assert.NotNull(await desk.Plans.FindByToken(link.Token));

        desk.Time.Now -= TimeSpan.FromDays(400);

        var again = Assert.IsType<Saved>(await desk.Options.Save(desk.Ada, option, version, SampleDesign.Van(), "After"));
        Assert.True(DesignJson.Same(SampleDesign.Van(), (await desk.Options.Load(desk.Ada, option))!.Design));
        Assert.Equal(["After", "Before"], (await desk.Options.HistoryOf(desk.Ada, option)).Take(2).Select(step => step.Label));
        Assert.Equal(again.At, (await desk.Options.HistoryOf(desk.Ada, option))[0].SavedAt);
        Assert.Equal(2, (await desk.Plans.Publish(desk.Ada, option, again.Version, _ => new PlanText("{}", 1, "m"), "A test of the clock, which no danger stands against.")).Number);
        Assert.NotNull(await desk.Plans.FindByToken(link.Token));
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task A_context_opened_for_nobody_sees_no_row_of_any_firm(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, van, option) = await desk.AddVan();
        var loaded = await desk.Options.Load(desk.Ada, option);
        var plan = await desk.Plans.Publish(desk.Ada, option, loaded!.Version, _ => new PlanText("{}", 1, "m"));
        await desk.Options.MarkChosen(desk.Ada, option, loaded.Version);
        await using (var more = desk.Contexts.OpenFor(desk.Ada.FirmId))
        {
            var (firm, time) = (desk.Ada.FirmId, DateTime.UnixEpoch);
            more.Add(new Consult { FirmId = firm, VanId = van, StartsAt = time, Minutes = 60, TimeZone = "Etc/UTC", PrivateNotes = "", CreatedAt = time });
            more.Add(new Decision { FirmId = firm, VanId = van, What = "", Why = "", Who = "", ChangedAt = time });
            more.Add(new DeclinedAdvice { FirmId = firm, VanId = van, Advice = "A", Why = "", Who = "", DeclinedAt = time });
            more.Add(new FollowUp { FirmId = firm, VanId = van, DueOn = DateOnly.FromDateTime(time), Text = "T", CreatedAt = time });
            more.Add(new VanWishes { FirmId = firm, VanId = van, WishesText = "{}", Format = 1, UpdatedAt = time });
            more.Add(new OptionSearch { FirmId = firm, VanId = van, OptionId = option, AskedAt = time, Fingerprint = "f", FoundAt = time, Found = [1] });
            more.Add(new FirmLogo { FirmId = firm, Png = [1], Width = 1, Height = 1, UploadedAt = time });
            more.Add(new PlanReply { FirmId = firm, PlanId = plan.PlanId, Section = "", Name = "N", Text = "", At = time });
            var intake = new Intake { FirmId = firm, VanId = van, TokenSha256 = [1], CreatedAt = time, ExpiresAt = time, AnswersText = "{}" };
            more.Add(intake);
            more.Add(new IntakePhoto { FirmId = firm, IntakeId = intake.Id, Subject = "S", Jpeg = [1], AddedAt = time });
            more.Add(new WeatherFile { FirmId = firm, VanId = van, Sha256 = "s", FileName = "f", Hours = [1], AddedAt = time });
            var installation = new Installation { FirmId = firm, VanId = van, What = "W", Who = "", Note = "", CreatedAt = time };
            more.Add(installation);
            more.Add(new InstallationPhoto { FirmId = firm, InstallationId = installation.Id, Jpeg = [1], AddedAt = time });
            more.Add(new CheckBack { FirmId = firm, VanId = van, PlanId = plan.PlanId, Name = "N", AnswersText = "{}", Format = 1, At = time });
            more.Add(new AgendaTemplate { FirmId = firm, Name = "A", Points = "P" });
            more.Add(new OwnSituation { FirmId = firm, Name = "S" });
            more.Add(new PastPrices { FirmId = firm, Table = "T", From = time, Until = time });
            more.Add(new ErasureReceipt { FirmId = firm, At = time, Gone = "", Stayed = "" });
            more.Add(new FirmInvitation { FirmId = firm, TokenSha256 = [2], ForWhom = "F", CreatedAt = time, ExpiresAt = time });
            more.Add(new FirmPriceBook { FirmId = firm, Table = "T", UpdatedAt = time });
            await more.SaveChangesAsync();
        }

        await using var nobody = await desk.App.GetRequiredService<IDbContextFactory<DeskContext>>().CreateDbContextAsync();
        await using var ours = desk.Contexts.OpenFor(desk.Ada.FirmId);
        // Every mapped row that belongs to a firm, so that a table added later is covered.
        var kinds = nobody.Model.GetEntityTypes().Select(e => e.ClrType).Where(t => typeof(FirmRow).IsAssignableFrom(t)).ToList();
        Assert.Equal(28, kinds.Count);
        foreach (var type in kinds)
        {
            Assert.Equal(0, await Count(nobody, type));
            Assert.NotEqual(0, await Count(ours, type));
        }

        Assert.Equal(0, await nobody.Firms.CountAsync());
        Assert.Equal(1, await ours.Firms.CountAsync());
        Assert.Throws<ArgumentException>(() => desk.Contexts.OpenFor(Guid.Empty));
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task The_ids_of_another_firm_give_nothing_anywhere(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (client, van, option) = await desk.AddVan();
        var loaded = (await desk.Options.Load(desk.Ada, option))!;
        var plan = await desk.Plans.Publish(desk.Ada, option, loaded.Version, _ => new PlanText("{}", 1, "m"));
        loaded = loaded with { Version = await desk.Options.MarkChosen(desk.Ada, option, loaded.Version) };
        var revision = Assert.Single(await desk.Options.HistoryOf(desk.Ada, option)).RevisionId;
        var clientVersion = (await desk.Clients.Client(desk.Ada, client))!.Version;
        var vanVersion = (await desk.Vans.Van(desk.Ada, van))!.Version;
        var stranger = desk.Stranger;

        Assert.Empty(await desk.Clients.Clients(stranger));
        Assert.Null(await desk.Clients.Client(stranger, client));
        Assert.Empty(await desk.Vans.VansOf(stranger, client));
        Assert.Null(await desk.Vans.Van(stranger, van));
        Assert.Empty(await desk.Options.OptionsOf(stranger, van));
        Assert.Null(await desk.Options.Load(stranger, option));
        Assert.Empty(await desk.Options.HistoryOf(stranger, option));
        Assert.Null(await desk.Options.DesignAt(stranger, revision));
        Assert.Null(await desk.Options.ChosenOf(stranger, van));
        Assert.Empty(await desk.Plans.PlansOf(stranger, van));
        Assert.Null(await desk.Plans.Plan(stranger, plan.PlanId));
        Assert.Empty(await desk.Audit.Of(stranger, option));
        Assert.DoesNotContain(await desk.Audit.Latest(stranger, 1000), line => line.EntityId == client);
        Assert.Equal("Another Desk", (await desk.Firms.Mine(stranger)).Name);

        await Refused(() => desk.Clients.ChangeClient(stranger, client, clientVersion, new ClientInput("Mine now")));
        await Refused(() => desk.Clients.EraseClient(stranger, client));
        await Refused(() => desk.Vans.AddVan(stranger, client, new VanInput("V", "b", "l"), "A", SampleDesign.Van()));
        await Refused(() => desk.Vans.ChangeVan(stranger, van, vanVersion, new VanInput("V", "b", "l")));
        await Refused(() => desk.Options.Save(stranger, option, loaded.Version, Changed(), "Edit"));
        await Refused(() => desk.Options.Copy(stranger, option, "B"));
        await Refused(() => desk.Options.KeepAsNew(stranger, option, "B", SampleDesign.Van()));
        await Refused(() => desk.Options.Rename(stranger, option, loaded.Version, "B"));
        await Refused(() => desk.Options.GiveReason(stranger, option, loaded.Version, "B"));
        await Refused(() => desk.Options.MarkChosen(stranger, option, loaded.Version));
        await desk.Options.TakeBackChoice(stranger, van);
        await Refused(() => desk.Plans.Publish(stranger, option, loaded.Version, _ => new PlanText("{}", 1, "m")));
        await Refused(() => desk.Plans.AddLink(stranger, plan.PlanId));
        await Refused(() => desk.Plans.RevokeLink(stranger, plan.Link.LinkId));

        // And nothing of the owner's changed by all this.
        Assert.Equal(loaded.Version, (await desk.Options.Load(desk.Ada, option))!.Version);
        Assert.NotNull(await desk.Plans.FindByToken(plan.Link.Token));
        Assert.Equal(option, (await desk.Options.ChosenOf(desk.Ada, van))!.OptionId);

        static Task Refused(Func<Task> act) => Assert.ThrowsAsync<RecordNotFoundException>(act);
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task A_row_is_written_only_through_a_context_of_its_own_firm(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (client, _, _) = await desk.AddVan();

        await using (var theirs = desk.Contexts.OpenFor(desk.Stranger.FirmId))
        {
            theirs.Clients.Add(new Client { FirmId = desk.Ada.FirmId, Name = "N", SearchName = "n", CreatedAt = DateTime.UnixEpoch, UpdatedAt = DateTime.UnixEpoch });
            await Assert.ThrowsAsync<InvalidOperationException>(() => theirs.SaveChangesAsync());
        }

        await using (var ours = desk.Contexts.OpenFor(desk.Ada.FirmId))
        {
            (await ours.Clients.SingleAsync(c => c.Id == client)).FirmId = desk.Stranger.FirmId;
            await Assert.ThrowsAsync<InvalidOperationException>(() => ours.SaveChangesAsync());
        }

        await using var nobody = await desk.App.GetRequiredService<IDbContextFactory<DeskContext>>().CreateDbContextAsync();
        nobody.Clients.Add(new Client { Name = "N", SearchName = "n", CreatedAt = DateTime.UnixEpoch, UpdatedAt = DateTime.UnixEpoch });
        await Assert.ThrowsAsync<InvalidOperationException>(() => nobody.SaveChangesAsync());
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task Published_plans_history_and_audit_cannot_be_changed_or_deleted(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, _, option) = await desk.AddVan();
        var loaded = (await desk.Options.Load(desk.Ada, option))!;
        await desk.Plans.Publish(desk.Ada, option, loaded.Version, _ => new PlanText("first", 1, "m"));

        await Refused(db => db.Plans.Single().SnapshotText = "second");
        await Refused(db => db.Remove(db.Plans.Single()));
        await Refused(db => db.OptionRevisions.First().DesignText = "{}");
        await Refused(db => db.Remove(db.OptionRevisions.First()));
        await Refused(db => db.Audit.First().Action = "nothing.happened");
        await Refused(db => db.Remove(db.Audit.First()));

        async Task Refused(Action<DeskContext> change)
        {
            await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
            change(db);
            var e = await Assert.ThrowsAsync<InvalidOperationException>(() => db.SaveChangesAsync());
            Assert.Contains("written once", e.Message, StringComparison.Ordinal);
        }
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task The_store_itself_refuses_to_change_or_delete_a_row_of_the_audit(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        await desk.AddVan();
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        var before = await db.Audit.CountAsync();
        Assert.NotEqual(0, before);

        // Past the rules of the program, as somebody with the database in hand would do it.
        await Refused(() => db.Database.ExecuteSqlRawAsync("UPDATE \"Audit\" SET \"Action\" = 'nothing.happened'"));
        await Refused(() => db.Database.ExecuteSqlRawAsync("DELETE FROM \"Audit\""));
        await Refused(() => db.Audit.ExecuteDeleteAsync());
        if (kind == StoreKind.Postgres)
        {
            await Refused(() => db.Database.ExecuteSqlRawAsync("TRUNCATE \"Audit\""));
        }

        Assert.Equal(before, await db.Audit.CountAsync(a => a.Action != "nothing.happened"));

        static async Task Refused(Func<Task> act) =>
            Assert.Contains("written once", (await Assert.ThrowsAnyAsync<System.Data.Common.DbException>(act)).Message, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task Times_come_back_in_UTC_as_they_were_written_and_local_times_are_refused(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, _, option) = await desk.AddVan();
        var saved = Assert.IsType<Saved>(await desk.Options.Save(
            desk.Ada, option, (await desk.Options.Load(desk.Ada, option))!.Version, Changed(), "Edit"));
        var again = (await desk.Options.Load(desk.Ada, option))!;
        Assert.Equal(saved.At, again.UpdatedAt);
        Assert.Equal(DateTimeKind.Utc, again.UpdatedAt.Kind);
        Assert.Equal(new DateTime(2026, 2, 3, 4, 5, 6, DateTimeKind.Utc).AddMicroseconds(123_456), again.UpdatedAt);

        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        db.Clients.Add(new Client { Name = "N", SearchName = "n", CreatedAt = new DateTime(2026, 1, 1, 0, 0, 0, DateTimeKind.Local), UpdatedAt = DateTime.UnixEpoch });
        await Assert.ThrowsAnyAsync<Exception>(() => db.SaveChangesAsync());
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task Sign_in_carries_firm_name_and_role(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        await using var scope = desk.App.CreateAsyncScope();
        var users = scope.ServiceProvider.GetRequiredService<UserManager<DeskUser>>();
        var ada = (await users.FindByIdAsync(desk.Ada.UserId.ToString()))!;
        var principal = await scope.ServiceProvider.GetRequiredService<IUserClaimsPrincipalFactory<DeskUser>>().CreateAsync(ada);
        Assert.Equal(desk.Ada, SignedIn.From(principal));
        Assert.Null(SignedIn.From(new System.Security.Claims.ClaimsPrincipal(new System.Security.Claims.ClaimsIdentity())));
    }

    private static Calculations.Vehicle.Design Changed()
    {
        var van = SampleDesign.Van();
        return van with { Stop = van.Stop with { Month = 1 } };
    }

    private static Task<int> Count(DeskContext db, Type type)
    {
        var count = typeof(StoreTests).GetMethod(nameof(CountOf), System.Reflection.BindingFlags.NonPublic | System.Reflection.BindingFlags.Static)!;
        return (Task<int>)count.MakeGenericMethod(type).Invoke(null, [db])!;
    }

    private static Task<int> CountOf<T>(DeskContext db)
        where T : class => db.Set<T>().CountAsync();
}
