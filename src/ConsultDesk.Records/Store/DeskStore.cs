using Microsoft.AspNetCore.Identity;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using Microsoft.Extensions.Logging;

namespace ConsultDesk.Records;

/// <summary>Where the records are kept.</summary>
public enum StoreKind
{
    /// <summary>One file, for a consultant on one machine.</summary>
    Sqlite,

    /// <summary>A PostgreSQL database, for a firm with several consultants.</summary>
    Postgres,
}

/// <summary>The only place that names a database provider or the Identity schema.</summary>
public static class DeskStore
{
    /// <summary>How long a start usually waits for another start that is migrating the same database.</summary>
    public static readonly TimeSpan MigrationPatience = TimeSpan.FromMinutes(2);

    /// <summary>Points a context at a store.</summary>
    /// <param name="builder">The context's options.</param>
    /// <param name="kind">Which store.</param>
    /// <param name="connection">Connection string; for SQLite at least <c>Data Source=file</c>.</param>
    public static DbContextOptionsBuilder UseDeskStore(this DbContextOptionsBuilder builder, StoreKind kind, string connection) => (kind switch
    {
        StoreKind.Sqlite => builder.UseSqlite(
            // EF creates the file in WAL mode. Five seconds instead of thirty: a stuck writer shows quickly.
            new SqliteConnectionStringBuilder(connection) { ForeignKeys = true, DefaultTimeout = 5 }.ToString(),
            sqlite => sqlite.MigrationsAssembly("ConsultDesk.Migrations.Sqlite")),
        StoreKind.Postgres => builder.UseNpgsql(
            connection,
            postgres => postgres.MigrationsAssembly("ConsultDesk.Migrations.Postgres")),
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Expected Sqlite or Postgres."),
        // A store that does not answer is thrown to the caller, who says it in a line; the log need not say it before in twenty.
    }).ConfigureWarnings(warnings => warnings.Log((RelationalEventId.ConnectionError, LogLevel.Debug)));

    /// <summary>
    /// The shape of the account tables: version 3, with passkeys. The model depends on it, so the app and the
    /// design-time factories must both use this method.
    /// </summary>
    public static void Identity(IdentityOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        options.Stores.SchemaVersion = IdentitySchemaVersions.Version3;
        options.User.RequireUniqueEmail = true;
    }

    /// <summary>Creates the database or brings it up to date. Call before listening.</summary>
    /// <param name="contexts">Makes the context.</param>
    /// <param name="patience">How long to wait for the migration lock; null for <see cref="MigrationPatience"/>.</param>
    /// <param name="beforeChange">Called before the tables of a database that was in use are changed, with the step it stands at: the moment for a back-up.</param>
    /// <param name="cancellation">Stops waiting.</param>
    /// <exception cref="TimeoutException">Another start holds the migration lock, or died holding it.</exception>
    /// <exception cref="NewerStoreException">A newer release used it; nothing was changed.</exception>
    public static async Task Migrate(
        IDbContextFactory<DeskContext> contexts, TimeSpan? patience = null, Func<string, Task>? beforeChange = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(contexts);
        var wait = patience ?? MigrationPatience;
        using var deadline = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        deadline.CancelAfter(wait);
        await using var db = await contexts.CreateDbContextAsync(cancellation);
        try
        {
            if (db.Database.IsNpgsql())
            {
                // Its migrator reads this table before it looks whether there is one, and logs the refusal as an error.
                await db.GetService<IHistoryRepository>().CreateIfNotExistsAsync(deadline.Token);
            }

            var known = db.Database.GetMigrations().ToList();
            var applied = (await db.Database.GetAppliedMigrationsAsync(deadline.Token)).ToList();
            // Their names begin with the time they were made at.
            if (applied.Except(known).Order(StringComparer.Ordinal).LastOrDefault() is { } newer)
            {
                throw new NewerStoreException(newer);
            }

            if (applied.Count == known.Count)
            {
                // Nothing to do, and then nothing is written: records that may only be read can still be shown.
                return;
            }

            if (applied.Count > 0 && beforeChange is not null)
            {
                // It takes as long as the records are large, so the deadline is for the waiting after it.
                deadline.CancelAfter(Timeout.InfiniteTimeSpan);
                await beforeChange(applied[^1]);
                deadline.CancelAfter(wait);
            }

            await db.Database.MigrateAsync(deadline.Token);
        }
        catch (OperationCanceledException e) when (!cancellation.IsCancellationRequested)
        {
            throw new TimeoutException(
                $"The database was not brought up to date within {wait:g}. Another start may still be migrating it. " +
                "If none is running, one was killed: on SQLite delete the row in the table __EFMigrationsLock and start again.",
                e);
        }
    }
}
