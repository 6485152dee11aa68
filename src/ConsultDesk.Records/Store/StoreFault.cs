using System.Data.Common;
using System.Net.Sockets;
using Microsoft.Data.Sqlite;
using Npgsql;

namespace ConsultDesk.Records;

/// <summary>What keeps the store from being read or written. None of these is the fault of what was typed.</summary>
public enum StoreFaultKind
{
    /// <summary>No room is left.</summary>
    Full,

    /// <summary>It may be read and not written.</summary>
    ReadOnly,

    /// <summary>Another program holds it longer than the desk waits.</summary>
    Locked,

    /// <summary>It does not answer: the server is stopped, the line is cut, the file is gone.</summary>
    Away,

    /// <summary>What is stored is damaged.</summary>
    Damaged,
}

/// <summary>Tells a store that cannot work from everything else that can go wrong with a save.</summary>
public static class StoreFault
{
    // Result codes of SQLite: sqlite.org/rescode.html.
    private const int SqlitePermission = 3;
    private const int SqliteBusy = 5;
    private const int SqliteLocked = 6;
    private const int SqliteReadOnly = 8;
    private const int SqliteInputOutput = 10;
    private const int SqliteCorrupt = 11;
    private const int SqliteFull = 13;
    private const int SqliteCannotOpen = 14;
    private const int SqliteNoDatabase = 26;

    /// <summary>The fault an exception tells of, looked for through what it was wrapped in; null when it is something else.</summary>
    public static StoreFaultKind? Of(Exception? exception)
    {
        for (var e = exception; e is not null; e = e.InnerException)
        {
            var kind = e switch
            {
                SqliteException sqlite => OfSqlite(sqlite.SqliteErrorCode),
                PostgresException refused => OfPostgres(refused.SqlState),
                // Its own exceptions without a state come from the line: broken, refused, or too slow.
                NpgsqlException { InnerException: SocketException or IOException or TimeoutException } => StoreFaultKind.Away,
                NpgsqlException { IsTransient: true } => StoreFaultKind.Away,
                _ => (StoreFaultKind?)null,
            };
            if (kind is not null)
            {
                return kind;
            }
        }

        return null;
    }

    /// <summary>The fault in a sentence for whoever is at the desk; null when it is something else.</summary>
    public static string? Sentence(Exception? exception) => Of(exception) switch
    {
        StoreFaultKind.Full => "The disk of the records is full.",
        StoreFaultKind.ReadOnly => "The records may only be read at the moment.",
        StoreFaultKind.Locked => "Another program holds the records.",
        StoreFaultKind.Away => "The records cannot be reached.",
        StoreFaultKind.Damaged => "The records are damaged: stop editing and tell whoever runs this desk.",
        _ => null,
    };

    /// <summary>What the database itself said, for whoever runs the desk; null when an exception tells of none.</summary>
    public static DbException? Said(Exception? exception) =>
        exception is null ? null : exception as DbException ?? Said(exception.InnerException);

    private static StoreFaultKind? OfSqlite(int code) => code switch
    {
        SqliteFull => StoreFaultKind.Full,
        SqliteReadOnly or SqlitePermission => StoreFaultKind.ReadOnly,
        SqliteBusy or SqliteLocked => StoreFaultKind.Locked,
        SqliteInputOutput or SqliteCannotOpen => StoreFaultKind.Away,
        SqliteCorrupt or SqliteNoDatabase => StoreFaultKind.Damaged,
        _ => null,
    };

    // Classes and codes of PostgreSQL: its manual, Appendix A.
    private static StoreFaultKind? OfPostgres(string state) => state switch
    {
        PostgresErrorCodes.DiskFull => StoreFaultKind.Full,
        PostgresErrorCodes.ReadOnlySqlTransaction => StoreFaultKind.ReadOnly,
        PostgresErrorCodes.LockNotAvailable or PostgresErrorCodes.QueryCanceled => StoreFaultKind.Locked,
        PostgresErrorCodes.AdminShutdown or PostgresErrorCodes.CrashShutdown or PostgresErrorCodes.CannotConnectNow or PostgresErrorCodes.TooManyConnections => StoreFaultKind.Away,
        PostgresErrorCodes.DataCorrupted or PostgresErrorCodes.IndexCorrupted => StoreFaultKind.Damaged,
        _ when state.StartsWith("08", StringComparison.Ordinal) => StoreFaultKind.Away,
        _ => null,
    };
}
