using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>What a deleted row leaves in the file of a database until it is overwritten.</summary>
internal static class Remains
{
    // SQLITE_BUSY and SQLITE_LOCKED (sqlite.org, Result and Error Codes).
    private const int Busy = 5;
    private const int Locked = 6;

    /// <summary>
    /// Writes a SQLite file anew without its freed pages (VACUUM) and empties its write-ahead log. PostgreSQL leaves dead rows to its own
    /// vacuum and its log to the server's settings, so there it does nothing.
    /// </summary>
    /// <returns>True when nothing remains in the file; null where there is no file of ours.</returns>
    public static async Task<bool?> Overwrite(DeskContext db, CancellationToken cancellation)
    {
        if (!db.Database.IsSqlite())
        {
            return null;
        }

        try
        {
            await db.Database.ExecuteSqlRawAsync("VACUUM", cancellation);
            // A reader that is at it keeps the log from being emptied; then the first column says 1.
            var connection = db.Database.GetDbConnection();
            await db.Database.OpenConnectionAsync(cancellation);
            await using var checkpoint = connection.CreateCommand();
            checkpoint.CommandText = "PRAGMA wal_checkpoint(TRUNCATE)";
            return Convert.ToInt32(await checkpoint.ExecuteScalarAsync(cancellation), System.Globalization.CultureInfo.InvariantCulture) == 0;
        }
        catch (SqliteException held) when (held.SqliteErrorCode is Busy or Locked)
        {
            // The client is erased all the same; what others hold is overwritten by the next erasure.
            return false;
        }
    }
}
