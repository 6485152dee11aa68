using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using Xunit;

namespace ConsultDesk.Web.Tests.Shell;

/// <summary>The program itself, started as a person would.</summary>
public sealed class StartTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("consultdesk-start-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Production_without_a_data_folder_stops_with_a_message()
    {
        var (code, text) = await RunAsync("Production", []);

        Assert.Equal(1, code);
        Assert.Contains("Data:Directory", text, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("mysql", "expected sqlite or postgres")]
    [InlineData("postgres", "Data:Connection")]
    public async Task A_store_that_cannot_be_used_is_named(string kind, string expected)
    {
        var (code, text) = await RunAsync("Production", ["--Data:Kind", kind]);

        Assert.Equal(1, code);
        Assert.Contains(expected, text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("http://0.0.0.0:0")]
    [InlineData("http://*:0")]
    [InlineData("http://[::]:0")]
    public async Task The_demo_refuses_to_listen_to_other_machines(string address)
    {
        var (code, text) = await RunAsync("Development", ["--Data:Directory", _folder, "--urls", address]);

        Assert.Equal(1, code);
        Assert.Contains("this machine only", text, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_taken_port_is_named_with_the_way_out()
    {
        using var taken = new TcpListener(IPAddress.Loopback, 0);
        taken.Start();
        var port = ((IPEndPoint)taken.LocalEndpoint).Port;

        var (code, text) = await RunAsync("Development", ["--Data:Directory", _folder, "--urls", $"http://127.0.0.1:{port}"]);

        Assert.Equal(1, code);
        Assert.Contains("--urls", text, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_database_server_that_does_not_answer_is_said_in_one_line_and_nothing_before_it()
    {
        int port;
        using (var probe = new TcpListener(IPAddress.Loopback, 0))
        {
            probe.Start();
            port = ((IPEndPoint)probe.LocalEndpoint).Port;
        }

        var (code, text) = await RunAsync("Production", ["--Data:Kind", "postgres", "--Data:Connection", $"Host=127.0.0.1;Port={port};Username=heron;Database=desk"]);

        Assert.Equal(1, code);
        Assert.StartsWith("The records (PostgreSQL, by Data:Connection) cannot be opened", text, StringComparison.Ordinal);
        Assert.Single(text.TrimEnd().Split('\n'));
    }

    [Fact]
    public async Task A_back_up_is_made_beside_a_running_desk_and_never_over_a_file()
    {
        await using var running = new DeskApp();
        using var visitor = running.Visitor();
        await visitor.GetAsync("/health/ready", TestContext.Current.CancellationToken);
        var file = Path.Combine(_folder, "now.db");

        var (code, text) = await RunAsync("Production", ["--Data:Directory", running.Folder, "--backup", file]);

        Assert.Equal($"Back-up       {file}", text.Trim());
        Assert.Equal(0, code);
        await using (var copy = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={file};Mode=ReadOnly;Pooling=False"))
        {
            await copy.OpenAsync(TestContext.Current.CancellationToken);
            await using var count = copy.CreateCommand();
            count.CommandText = "SELECT COUNT(*) FROM Clients";
            Assert.True((long)(await count.ExecuteScalarAsync(TestContext.Current.CancellationToken))! > 0);
        }

        (code, text) = await RunAsync("Production", ["--Data:Directory", running.Folder, "--backup", file]);
        Assert.Equal(1, code);
        Assert.Equal($"There is a file {file} already, and a back-up writes over none.", text.Trim());
    }

    [Fact]
    public async Task Records_that_are_damaged_are_said_in_the_last_line_with_the_way_out()
    {
        await File.WriteAllTextAsync(Path.Combine(_folder, "desk.db"), new string('?', 8192), TestContext.Current.CancellationToken);

        var (code, text) = await RunAsync("Production", ["--Data:Directory", _folder, "--urls", "http://127.0.0.1:0"]);

        Assert.Equal(1, code);
        // Before it the data layer names the command that failed.
        var last = text.TrimEnd().Split('\n')[^1];
        Assert.StartsWith($"The records ({_folder}) cannot be opened", last, StringComparison.Ordinal);
        Assert.Contains("Put a back-up in its place", last, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", text, StringComparison.Ordinal);
    }

    private static async Task<(int Code, string Text)> RunAsync(string environment, string[] arguments)
    {
        // artifacts/bin/ConsultDesk.Web.Tests/<configuration>/ lies beside artifacts/bin/ConsultDesk.Web/<configuration>/.
        var bin = new DirectoryInfo(AppContext.BaseDirectory);
        var program = Path.Combine(bin.Parent!.Parent!.FullName, "ConsultDesk.Web", bin.Name, "ConsultDesk.Web.dll");
        Assert.True(File.Exists(program), program);
        var start = new ProcessStartInfo("dotnet", [program, .. arguments]) { RedirectStandardOutput = true, RedirectStandardError = true, WorkingDirectory = Path.GetDirectoryName(program) };
        start.Environment["ASPNETCORE_ENVIRONMENT"] = environment;
        start.Environment.Remove("ASPNETCORE_URLS");
        using var process = Process.Start(start)!;
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        patience.CancelAfter(TimeSpan.FromMinutes(2));
        var output = process.StandardOutput.ReadToEndAsync(patience.Token);
        var errors = process.StandardError.ReadToEndAsync(patience.Token);
        try
        {
            await process.WaitForExitAsync(patience.Token);
        }
        catch (OperationCanceledException)
        {
            process.Kill(entireProcessTree: true);
            throw;
        }

        return (process.ExitCode, await output + await errors);
    }
}
