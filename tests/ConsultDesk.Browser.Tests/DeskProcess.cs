using System.Diagnostics;
using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text.RegularExpressions;
using Npgsql;
using Xunit;

namespace ConsultDesk.Browser.Tests;

/// <summary>Where the desk under test keeps its records.</summary>
public enum Store
{
    /// <summary>One SQLite file in the data folder.</summary>
    Sqlite,

    /// <summary>A PostgreSQL database made for the test on the server that DESK_TEST_POSTGRES names.</summary>
    Postgres,
}

/// <summary>
/// The app as a person starts it: the built program in a process of its own, on a free port, with an empty data folder.
/// Address and sign-in are read from the first screen of its log, because that is where a person finds them.
/// </summary>
public sealed partial class DeskProcess : IAsyncDisposable
{
    private const string Program = "ConsultDesk.Web.dll";

    private static readonly TimeSpan StartLimit = TimeSpan.FromSeconds(60);

    private readonly Process _process;
    private readonly List<string> _log;
    private readonly string _dataFolder;
    private readonly string? _database;
    private Func<CancellationToken, Task<DeskProcess>>? _again;
    private bool _followed;

    private DeskProcess(Process process, List<string> log, string dataFolder, string? database)
    {
        _process = process;
        _log = log;
        _dataFolder = dataFolder;
        _database = database;
    }

    /// <summary>Folder of its records.</summary>
    public string DataFolder => _dataFolder;

    /// <summary>Root of the checkout.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>Where the build puts its output; a folder per project, in it one per configuration.</summary>
    private static string BuildFolder { get; } = Path.Combine(Root, "artifacts", "bin");

    /// <summary>debug or release, the same as these tests.</summary>
    private static string Configuration { get; } = new DirectoryInfo(AppContext.BaseDirectory).Name;

    private static string SourceFolder { get; } = Path.Combine(Root, "src", "ConsultDesk.Web");

    /// <summary>Base address it listens on.</summary>
    public Uri Address { get; private set; } = null!;

    /// <summary>E-mail of the demo sign-in.</summary>
    public string Email { get; private set; } = "";

    /// <summary>Password of the demo sign-in.</summary>
    public string Password { get; private set; } = "";

    /// <summary>Token of the set-up page; empty on a desk that has a firm.</summary>
    public string SetUpToken { get; private set; } = "";

    /// <summary>Everything it has written so far.</summary>
    public string Log
    {
        get
        {
            lock (_log)
            {
                return string.Join('\n', _log);
            }
        }
    }

    /// <summary>Starts the demo desk on a store and waits until it listens.</summary>
    public static async Task<DeskProcess> StartDemo(Store store, CancellationToken cancellation)
    {
        string? database = null;
        string[] settings = ["--urls", "http://127.0.0.1:0"];
        if (store == Store.Postgres)
        {
            database = "desk_browser_" + Guid.NewGuid().ToString("N");
            settings = [.. settings, "--Data:Kind=postgres", "--Data:Connection=" + await CreateDatabase(database, cancellation)];
        }

        var program = Path.Combine(BuildFolder, "ConsultDesk.Web", Configuration, Program);
        return await Start(program, SourceFolder, "Development", database, settings, cancellation);
    }

    /// <summary>Starts a real desk that has no firm yet and soon asks an open page for its sign-in again, and waits until it listens.</summary>
    public static Task<DeskProcess> StartEmpty(CancellationToken cancellation) => Start(
        Path.Combine(BuildFolder, "ConsultDesk.Web", Configuration, Program), SourceFolder, "Development", null,
        ["--Desk:Demo=false", "--SignIn:AskedAgain=00:00:02", "--urls", "http://127.0.0.1:0"], cancellation);

    /// <summary>Publishes the built program, starts it in Production with demo data, and waits until it listens.</summary>
    public static async Task<DeskProcess> StartPublished(CancellationToken cancellation)
    {
        var folder = Path.Combine(BuildFolder, "published", Configuration);
        if (Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }

        var start = new ProcessStartInfo("dotnet") { WorkingDirectory = Root, RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (var argument in (string[])["publish", "src/ConsultDesk.Web", "-c", Configuration, "--no-build", "-o", folder, "-v", "q", "-nologo", "-nodeReuse:false"])
        {
            start.ArgumentList.Add(argument);
        }

        using (var publish = Process.Start(start)!)
        {
            var errors = publish.StandardError.ReadToEndAsync(cancellation);
            var output = await publish.StandardOutput.ReadToEndAsync(cancellation);
            await publish.WaitForExitAsync(cancellation);
            Assert.True(publish.ExitCode == 0, "dotnet publish failed:\n" + output + await errors);
        }

        return await Start(
            Path.Combine(folder, Program), folder, "Production", null,
            ["--Desk:Demo=true", "--urls", "https://127.0.0.1:0", "--Kestrel:Certificates:Default:Path=" + MakeCertificate(folder)], cancellation);
    }

    /// <summary>
    /// Another demo desk from the folder that <see cref="StartPublished"/> published to, with records of its own. It believes
    /// what a proxy says of the visitor's address.
    /// </summary>
    public static Task<DeskProcess> StartPublishedBehindProxy(CancellationToken cancellation)
    {
        var folder = Path.Combine(BuildFolder, "published", Configuration);
        return Start(
            Path.Combine(folder, Program), folder, "Production", null,
            ["--Desk:Demo=true", "--FORWARDEDHEADERS_ENABLED=true", "--urls", "https://127.0.0.1:0", "--Kestrel:Certificates:Default:Path=" + Path.Combine(folder, "desk-test.pfx")], cancellation);
    }

    /// <summary>Ends the program with SIGKILL, as a system without memory does.</summary>
    public async Task Kill()
    {
        _process.Kill();
        await _process.WaitForExitAsync();
        Assert.Equal(128 + 9, _process.ExitCode);
    }

    /// <summary>Starts the killed program again on the same records; the new one removes them in the end.</summary>
    public async Task<DeskProcess> StartAgain(CancellationToken cancellation)
    {
        var next = await _again!(cancellation);
        _followed = true;
        return next;
    }

    /// <summary>Makes a certificate for this machine, kept without a password in a file beside the program that uses it.</summary>
    private static string MakeCertificate(string folder)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest("CN=localhost", key, HashAlgorithmName.SHA256);
        var names = new SubjectAlternativeNameBuilder();
        names.AddDnsName("localhost");
        names.AddIpAddress(IPAddress.Loopback);
        request.CertificateExtensions.Add(names.Build());
        using var certificate = request.CreateSelfSigned(DateTimeOffset.UtcNow.AddDays(-1), DateTimeOffset.UtcNow.AddDays(2));
        var path = Path.Combine(folder, "desk-test.pfx");
        File.WriteAllBytes(path, certificate.Export(X509ContentType.Pkcs12));
        return path;
    }

    /// <summary>Ends the program and removes what it stored.</summary>
    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited)
        {
            _process.Kill(entireProcessTree: true);
            await _process.WaitForExitAsync();
        }

        _process.Dispose();
        if (_followed)
        {
            return;
        }

        Directory.Delete(_dataFolder, recursive: true);
        if (_database is not null)
        {
            NpgsqlConnection.ClearAllPools();
            await Execute($"drop database {_database} with (force)", CancellationToken.None);
        }
    }

    private static async Task<DeskProcess> Start(string program, string folder, string environment, string? database, string[] settings, CancellationToken cancellation, string? records = null)
    {
        Assert.True(File.Exists(program), $"The app is not built: {program}");
        var dataFolder = records ?? Directory.CreateTempSubdirectory("desk-browser-").FullName;
        var start = new ProcessStartInfo("dotnet")
        {
            WorkingDirectory = folder,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            RedirectStandardInput = true,
            Environment = { ["ASPNETCORE_ENVIRONMENT"] = environment, ["DOTNET_ENVIRONMENT"] = environment },
        };
        foreach (var argument in (string[])[program, "--Data:Directory=" + dataFolder, .. settings])
        {
            start.ArgumentList.Add(argument);
        }

        var process = new Process { StartInfo = start };
        var log = new List<string>();
        void Keep(string? line)
        {
            lock (log)
            {
                log.Add(line ?? "");
            }
        }

        process.OutputDataReceived += (_, e) => Keep(e.Data);
        process.ErrorDataReceived += (_, e) => Keep(e.Data);
        process.Start();
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        var desk = new DeskProcess(process, log, dataFolder, database)
        {
            _again = again => Start(program, folder, environment, database, settings, again, dataFolder),
        };
        try
        {
            await desk.UntilItListens(cancellation);
            return desk;
        }
        catch
        {
            await desk.DisposeAsync();
            throw;
        }
    }

    private async Task UntilItListens(CancellationToken cancellation)
    {
        var clock = Stopwatch.StartNew();
        while (true)
        {
            var text = Log;
            var address = AddressLine().Match(text);
            var signIn = SignInLine().Match(text);
            var token = SetUpLine().Match(text);
            if (address.Success && (signIn.Success || token.Success) && DataLine().IsMatch(text))
            {
                Address = new Uri(address.Groups["address"].Value);
                SetUpToken = token.Groups["token"].Value;
                Email = signIn.Groups["email"].Value;
                Password = signIn.Groups["password"].Value;
                return;
            }

            Assert.False(_process.HasExited, "The app ended while starting:\n" + text);
            Assert.True(clock.Elapsed < StartLimit, "The app did not say its address and sign-in in time:\n" + text);
            await Task.Delay(100, cancellation);
        }
    }

    private static async Task<string> CreateDatabase(string name, CancellationToken cancellation)
    {
        await Execute($"create database {name}", cancellation);
        return new NpgsqlConnectionStringBuilder(Server()) { Database = name }.ConnectionString;
    }

    private static async Task Execute(string statement, CancellationToken cancellation)
    {
        await using var connection = new NpgsqlConnection(Server());
        await connection.OpenAsync(cancellation);
        await using var command = connection.CreateCommand();
#pragma warning disable CA2100 // The only part that varies is a name made of a fixed word and a Guid's digits.
        command.CommandText = statement;
#pragma warning restore CA2100
        await command.ExecuteNonQueryAsync(cancellation);
    }

    private static string Server() => Environment.GetEnvironmentVariable("DESK_TEST_POSTGRES") is { Length: > 0 } server
        ? server
        : throw Missing.SkipOrFail("DESK_TEST_POSTGRES names no PostgreSQL server.");

    private static string FindRoot()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "ConsultDesk.sln")))
            {
                return folder.FullName;
            }
        }

        throw new InvalidOperationException("ConsultDesk.sln was not found above the tests.");
    }

    [GeneratedRegex(@"^Address +(?<address>https?://127\.0\.0\.1:[1-9]\d*)", RegexOptions.Multiline)]
    private static partial Regex AddressLine();

    [GeneratedRegex(@"^Demo sign-in +(?<email>\S+) +(?<password>\S+)", RegexOptions.Multiline)]
    private static partial Regex SignInLine();

    [GeneratedRegex(@"^Set-up token +(?<token>\S+)", RegexOptions.Multiline)]
    private static partial Regex SetUpLine();

    [GeneratedRegex(@"^Data +\S", RegexOptions.Multiline)]
    private static partial Regex DataLine();
}
