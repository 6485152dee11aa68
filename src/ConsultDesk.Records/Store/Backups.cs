using System.Diagnostics;
using Microsoft.Data.Sqlite;
using Npgsql;

namespace ConsultDesk.Records;

/// <summary>A back-up could not be made. The message says why, for whoever runs the desk.</summary>
public sealed class BackupFailedException(string message, Exception? inner = null) : Exception(message, inner);

/// <summary>Copies the whole store into one file while the desk works.</summary>
/// <param name="kind">Which store.</param>
/// <param name="connection">Its connection string.</param>
/// <param name="postgresPrograms">Folder of <c>pg_dump</c> and <c>pg_restore</c>; empty to look for them as the system does.</param>
public sealed class Backups(StoreKind kind, string connection, string postgresPrograms = "")
{
    private const string Unfinished = ".part";

    /// <summary>Ending of a back-up's name: a SQLite file, or PostgreSQL's own archive.</summary>
    public string Ending => kind == StoreKind.Sqlite ? ".db" : ".dump";

    /// <summary>
    /// Makes one back-up. It is written beside its place and moved there when it is whole and was read back, so that a file of
    /// this name is always one that can be restored. Only its owner may read it.
    /// </summary>
    /// <param name="file">Where it goes; must not exist yet.</param>
    /// <param name="cancellation">Gives it up.</param>
    /// <exception cref="BackupFailedException">The file exists, no room is left, or the store or its program refuses.</exception>
    public async Task Make(string file, CancellationToken cancellation = default)
    {
        file = Path.GetFullPath(file);
        var unfinished = file + Unfinished;
        if (File.Exists(file))
        {
            throw new BackupFailedException($"There is a file {file} already, and a back-up writes over none.");
        }

        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(file)!);
            File.Delete(unfinished);
            var creation = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
            if (!OperatingSystem.IsWindows())
            {
                creation.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
            }

            await using (new FileStream(unfinished, creation))
            {
                // Empty, and nobody else's to read from the first byte on.
            }

            await (kind == StoreKind.Sqlite ? CopySqlite(unfinished, cancellation) : DumpPostgres(unfinished, cancellation));
            await using (var written = new FileStream(unfinished, FileMode.Open, FileAccess.ReadWrite))
            {
                written.Flush(flushToDisk: true);
            }

            File.Move(unfinished, file);
        }
        catch (Exception e) when (e is SqliteException or IOException or UnauthorizedAccessException or NotSupportedException)
        {
            throw new BackupFailedException($"No back-up was made at {file}: {e.Message.ReplaceLineEndings(" ")}", e);
        }
        finally
        {
            // Nothing half is left; after the move there is none.
            if (File.Exists(unfinished))
            {
                File.Delete(unfinished);
            }
        }
    }

    private async Task CopySqlite(string file, CancellationToken cancellation)
    {
        await using (var db = new SqliteConnection(new SqliteConnectionStringBuilder(connection) { Mode = SqliteOpenMode.ReadOnly, Pooling = false }.ToString()))
        {
            await db.OpenAsync(cancellation);
            await using var copy = db.CreateCommand();
            copy.CommandText = "VACUUM INTO $file";
            copy.CommandTimeout = 0;
            copy.Parameters.AddWithValue("$file", file);
            await copy.ExecuteNonQueryAsync(cancellation);
        }

        await using var made = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = file, Mode = SqliteOpenMode.ReadOnly, Pooling = false }.ToString());
        await made.OpenAsync(cancellation);
        await using var check = made.CreateCommand();
        check.CommandText = "PRAGMA integrity_check";
        if (await check.ExecuteScalarAsync(cancellation) is not "ok")
        {
            throw new BackupFailedException($"The copy {file} did not pass SQLite's integrity check; the records themselves may be damaged.");
        }
    }

    private async Task DumpPostgres(string file, CancellationToken cancellation)
    {
        var server = new NpgsqlConnectionStringBuilder(connection);
        await Run("pg_dump", ["--format=custom", "--no-password", "--file=" + file, "--dbname=" + (server.Database ?? server.Username)], server, cancellation);
        // Reads its table of contents and every entry's data.
        await Run("pg_restore", ["--file=/dev/null", file], server, cancellation);
    }

    private async Task Run(string program, string[] arguments, NpgsqlConnectionStringBuilder server, CancellationToken cancellation)
    {
        var start = new ProcessStartInfo(postgresPrograms.Length == 0 ? program : Path.Combine(postgresPrograms, program), arguments)
        {
            RedirectStandardError = true,
            RedirectStandardOutput = true,
            RedirectStandardInput = true,
        };
        // In its environment, where other accounts cannot read it, not in its arguments, where they can.
        (start.Environment["PGHOST"], start.Environment["PGUSER"], start.Environment["PGPASSWORD"]) = (server.Host, server.Username, server.Password);
        start.Environment["PGPORT"] = server.Port.ToString(System.Globalization.CultureInfo.InvariantCulture);
        using var process = new Process { StartInfo = start };
        try
        {
            process.Start();
        }
        catch (System.ComponentModel.Win32Exception e)
        {
            throw new BackupFailedException($"{start.FileName} cannot be started: {e.Message}. Install PostgreSQL's client programs, or name their folder in Backup:PostgresPrograms.", e);
        }

        process.StandardInput.Close();
        var errors = process.StandardError.ReadToEndAsync(cancellation);
        _ = process.StandardOutput.ReadToEndAsync(cancellation);
        try
        {
            await process.WaitForExitAsync(cancellation);
        }
        catch (OperationCanceledException)
        {
            process.Kill();
            throw;
        }

        if (process.ExitCode != 0)
        {
            throw new BackupFailedException($"{program} ended with {process.ExitCode}: {(await errors).Trim().ReplaceLineEndings(" ")}");
        }
    }
}
