using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Npgsql;
using Xunit;

namespace ConsultDesk.Web.Tests.Faults;

/// <summary>A PostgreSQL server of the test's own, which it may kill: the one that DESK_TEST_POSTGRES names serves others at the same time.</summary>
public sealed class PrivatePostgres : IAsyncDisposable
{
    private static readonly TimeSpan StartLimit = TimeSpan.FromSeconds(60);

    private readonly string _bin;
    private readonly string _folder;
    private readonly int _port;

    private PrivatePostgres(string bin, string folder, int port) => (_bin, _folder, _port) = (bin, folder, port);

    /// <summary>Connection string to its one database.</summary>
    public string Connection => string.Create(CultureInfo.InvariantCulture, $"Host=127.0.0.1;Port={_port};Username=postgres;Database=postgres;Timeout=5");

    private string Data => Path.Combine(_folder, "data");

    /// <summary>Folder of the newest server's programs on this machine; null without one.</summary>
    public static string? Programs() => !Directory.Exists("/usr/lib/postgresql")
        ? null
        : Directory.GetDirectories("/usr/lib/postgresql").Select(version => Path.Combine(version, "bin"))
            .Where(bin => File.Exists(Path.Combine(bin, "initdb"))).OrderBy(bin => bin, StringComparer.Ordinal).LastOrDefault();

    /// <summary>Makes and starts one; where PostgreSQL is not installed the test is skipped, or fails with CI=true.</summary>
    public static async Task<PrivatePostgres> Start()
    {
        if (Programs() is not { } bin)
        {
            const string Missing = "PostgreSQL is not installed (/usr/lib/postgresql).";
            Assert.False(Environment.GetEnvironmentVariable("CI") == "true", Missing);
            Assert.Skip(Missing);
            return null!;
        }

        int port;
        using (var probe = new TcpListener(IPAddress.Loopback, 0))
        {
            probe.Start();
            port = ((IPEndPoint)probe.LocalEndpoint).Port;
        }

        var folder = Directory.CreateTempSubdirectory("consultdesk-pg-").FullName;
        var server = new PrivatePostgres(bin, folder, port);
        if (Environment.UserName == "root")
        {
            await Run("chown", "postgres", folder);
        }

        await server.AsPostgres("initdb", "-D", server.Data, "-U", "postgres", "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8", "--no-sync");
        await server.StartAgain();
        return server;
    }

    /// <summary>Starts it, after a kill too. The processes the old one left must notice first, hence the tries.</summary>
    public async Task StartAgain()
    {
        var clock = Stopwatch.StartNew();
        while (true)
        {
            try
            {
                await AsPostgres(
                    "pg_ctl", "-D", Data, "-l", Path.Combine(_folder, "log"), "-w", "-t", "60",
                    "-o", string.Create(CultureInfo.InvariantCulture, $"-p {_port} -c listen_addresses=127.0.0.1 -c unix_socket_directories={_folder}"), "start");
                return;
            }
            catch (InvalidOperationException) when (clock.Elapsed < StartLimit)
            {
                await Task.Delay(200);
            }
        }
    }

    /// <summary>Kills its first process with SIGKILL; the others end by themselves when they notice.</summary>
    public void Kill()
    {
        var first = int.Parse(File.ReadLines(Path.Combine(Data, "postmaster.pid")).First(), CultureInfo.InvariantCulture);
        using var process = Process.GetProcessById(first);
        process.Kill();
        process.WaitForExit();
        NpgsqlConnection.ClearAllPools();
    }

    /// <summary>Stops it as an administrator in a hurry would: every session is thrown out, nothing is written down first.</summary>
    public async Task StopAtOnce()
    {
        await AsPostgres("pg_ctl", "-D", Data, "-m", "immediate", "-w", "stop");
        NpgsqlConnection.ClearAllPools();
    }

    /// <summary>Checks every table and index of the database with the server's own checker; throws with what it found.</summary>
    public Task CheckEverything() => AsPostgres(
        "pg_amcheck", "-h", "127.0.0.1", "-p", _port.ToString(CultureInfo.InvariantCulture), "-U", "postgres", "--install-missing", "--heapallindexed", "postgres");

    public async ValueTask DisposeAsync()
    {
        if (File.Exists(Path.Combine(Data, "postmaster.pid")))
        {
            await StopAtOnce();
        }

        Directory.Delete(_folder, recursive: true);
    }

    private Task AsPostgres(string program, params string[] arguments) => Environment.UserName == "root"
        ? Run("runuser", ["-u", "postgres", "--", Path.Combine(_bin, program), .. arguments])
        : Run(Path.Combine(_bin, program), arguments);

    private static async Task Run(string program, params string[] arguments)
    {
        // Into a file: a server that was started keeps the pipe of its starter open.
        var output = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());
        string[] shell = ["-c", "exec \"$@\" >\"$0\" 2>&1", output, program, .. arguments];
        using var process = Process.Start(new ProcessStartInfo("/bin/sh", shell) { WorkingDirectory = "/" })!;
        await process.WaitForExitAsync();
        var text = await File.ReadAllTextAsync(output);
        File.Delete(output);
        if (process.ExitCode != 0)
        {
            throw new InvalidOperationException($"{program} {string.Join(' ', arguments)} ended with {process.ExitCode}: {text}");
        }
    }
}
