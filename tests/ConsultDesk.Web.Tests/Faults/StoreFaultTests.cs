using System.Data.Common;
using System.Net;
using AngleSharp.Html.Dom;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Testing;
using ConsultDesk.Web.Tests.Shell;
using ConsultDesk.Web.Workspace;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using Npgsql;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Web.Tests.Faults;

/// <summary>
/// A store that cannot work while somebody does: what the client at a plain form and the consultant in the workspace are told, that what they
/// typed stays, and that it is saved as soon as the fault is over, without a new start.
/// </summary>
/// <remarks>
/// Tested elsewhere: an upload that is broken (<c>IntakePageTests</c>, for photos; <c>PriceTests</c>, <c>WeatherFileTests</c> and <c>HandingOverTests</c> for the others),
/// a mail server that is away (<c>LetterTests</c>), a clock that was moved back (<c>StoreTests</c>), characters no font has (<c>PlanPdfTests</c>; the fonts
/// themselves are part of the program and cannot be missing), a server killed under the desk (<see cref="KillTests"/>).
/// </remarks>
public sealed class StoreFaultTests(TestStores stores) : IClassFixture<TestStores>
{
    private const string Typed = "Wet glass every morning & a smell of <earth>";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_full_disk_is_said_at_the_form_and_in_the_workspace_and_all_is_saved_once_there_is_room()
    {
        using var disk = TightDisk.Mount(megabytes: 96);
        await using var app = new DeskApp { Folder = Directory.CreateDirectory(Path.Combine(disk.Folder, "data")).FullName };
        using var client = app.Visitor();
        var (path, form) = await IntakeAsync(app, client);
        await using var edited = await EditedAsync(app);
        await EmptyTheLog(app);
        disk.Fill();

        await RefusedAsync(client, path, form, "The disk of the records is full.");
        await NotSavedAsync(edited, "The disk of the records is full.");
        using (var ready = await client.GetAsync("/health/ready", Cancel))
        {
            Assert.Equal(HttpStatusCode.ServiceUnavailable, ready.StatusCode);
            Assert.Contains("disk: Unhealthy", await ready.Content.ReadAsStringAsync(Cancel), StringComparison.Ordinal);
        }

        disk.MakeRoom();

        await TakenAsync(client, path, form);
        await SavedAsync(app, edited);
    }

    [Fact]
    public async Task Records_another_program_holds_are_said_and_saved_once_it_lets_go_and_plans_are_read_meanwhile()
    {
        await using var app = new DeskApp();
        using var client = app.Visitor();
        var (path, form) = await IntakeAsync(app, client);
        await using var edited = await EditedAsync(app);
        await using var other = new SqliteConnection($"Data Source={Path.Combine(app.Folder, "desk.db")};Pooling=False");
        await other.OpenAsync(Cancel);
        await using var hold = other.CreateCommand();
        hold.CommandText = "BEGIN IMMEDIATE";
        await hold.ExecuteNonQueryAsync(Cancel);

        await Task.WhenAll(
            RefusedAsync(client, path, form, "Another program holds the records."),
            NotSavedAsync(edited, "Another program holds the records."));
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync(path, Cancel)).StatusCode);

        hold.CommandText = "ROLLBACK";
        await hold.ExecuteNonQueryAsync(Cancel);

        await TakenAsync(client, path, form);
        await SavedAsync(app, edited);
    }

    [Fact]
    public async Task Records_that_may_only_be_read_are_still_shown_and_saved_once_they_may_be_written()
    {
        var lid = new Lid();
        await using var app = new DeskApp
        {
            More = web => web.ConfigureServices(services => services.ConfigureDbContext<DeskContext>(options => options.AddInterceptors(lid))),
        };
        using var client = app.Visitor();
        var (path, form) = await IntakeAsync(app, client);
        var who = await app.DemoConsultantAsync();
        var plan = await app.Services.GetRequiredService<DeskList>().Vans(who, cancellation: Cancel);
        var plans = app.Services.GetRequiredService<Records.Plans>();
        var published = (await Task.WhenAll(plan.Select(van => plans.PlansOf(who, van.Id, Cancel)))).SelectMany(lines => lines).First();
        var link = await plans.AddLink(who, published.Id, cancellation: Cancel);
        await using var edited = await EditedAsync(app);
        lid.Shut = true;

        await RefusedAsync(client, path, form, "The records may only be read at the moment.");
        await NotSavedAsync(edited, "The records may only be read at the moment.");
        using (var read = await client.GetAsync("/plan/" + link.Token, Cancel))
        {
            Assert.Equal(HttpStatusCode.OK, read.StatusCode);
        }

        lid.Shut = false;

        await TakenAsync(client, path, form);
        await SavedAsync(app, edited);
    }

    [Fact]
    public async Task A_server_that_may_only_be_read_or_is_thrown_out_is_said_and_saved_once_it_is_back()
    {
        var connection = await stores.Connection(StoreKind.Postgres);
        await using var desk = await stores.Desk(StoreKind.Postgres);
        var (_, _, option) = await desk.AddVan();
        var loaded = (await desk.Options.Load(desk.Ada, option, Cancel))!;
        await using var autosave = Autosaved(desk.Options, desk.Ada, loaded);
        var database = new NpgsqlConnectionStringBuilder(connection).Database!;
        await Admin(connection, $"ALTER DATABASE {database} SET default_transaction_read_only = on");
        await Admin(connection, "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()");
        autosave.Edited(Higher(loaded.Design), "Edit");
        await autosave.FlushAsync();
        // The connections that were thrown out fail first, each once.
        for (var tries = 0; tries < 20 && autosave.State is NotSaved { Reason: "The records cannot be reached." }; tries++)
        {
            await autosave.FlushAsync();
        }

        Assert.Equal("The records may only be read at the moment.", Assert.IsType<NotSaved>(autosave.State).Reason);
        await Admin(connection, $"ALTER DATABASE {database} RESET default_transaction_read_only");
        NpgsqlConnection.ClearAllPools();
        await autosave.FlushAsync();

        Assert.IsType<AllSaved>(autosave.State);
        Assert.Equal(Higher(loaded.Design).Stop, (await desk.Options.Load(desk.Ada, option, Cancel))!.Design.Stop);
    }

    [Fact]
    public async Task A_server_that_went_away_is_said_and_everything_is_saved_when_it_is_back()
    {
        await using var server = await PrivatePostgres.Start();
        await using var app = new DeskApp
        {
            More = web => web.UseSetting("Data:Kind", "postgres").UseSetting("Data:Directory", "").UseSetting("Data:Connection", server.Connection + ";Timeout=3;Include Error Detail=false"),
        };
        using var client = app.Visitor();
        var (path, form) = await IntakeAsync(app, client);
        await using var edited = await EditedAsync(app);
        await server.StopAtOnce();

        using (var answer = await client.PostAsync(path, Answers(form), Cancel))
        {
            Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.StatusCode);
            Assert.Contains("The records cannot be reached.", await answer.Content.ReadAsStringAsync(Cancel), StringComparison.Ordinal);
        }

        await NotSavedAsync(edited, "The records cannot be reached.");
        Assert.Equal(HttpStatusCode.ServiceUnavailable, (await client.GetAsync("/health/ready", Cancel)).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/health/live", Cancel)).StatusCode);

        await server.StartAgain();

        await TakenAsync(client, path, form);
        await SavedAsync(app, edited);
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/health/ready", Cancel)).StatusCode);
    }

    private static async Task<(string Path, IHtmlDocument Form)> IntakeAsync(DeskApp app, HttpClient client)
    {
        var who = await app.DemoConsultantAsync();
        var van = (await app.Services.GetRequiredService<DeskList>().Vans(who, cancellation: Cancel))[0];
        var token = (await app.Services.GetRequiredService<Intakes>().Send(who, van.Id, cancellation: Cancel)).Token;
        var path = $"/intake/{token}/build";
        return (path, await DeskApp.PageAsync(client, path));
    }

    private static FormUrlEncodedContent Answers(IHtmlDocument form) => new(new Dictionary<string, string>
    {
        ["_handler"] = DeskApp.Value(form, "_handler"),
        ["__RequestVerificationToken"] = DeskApp.Value(form, "__RequestVerificationToken"),
        ["go"] = "stay",
        ["bothers"] = Typed,
    });

    private static async Task RefusedAsync(HttpClient client, string path, IHtmlDocument form, string sentence)
    {
        using var answer = await client.PostAsync(path, Answers(form), Cancel);
        Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.StatusCode);
        var page = await DeskApp.ParseAsync(answer);
        Assert.Contains(sentence, page.QuerySelector("[role=alert]")!.TextContent, StringComparison.Ordinal);
        Assert.Equal(Typed, ((IHtmlTextAreaElement)page.QuerySelector("textarea[name=bothers]")!).Value);
        Assert.DoesNotContain("   at ", page.Body!.TextContent, StringComparison.Ordinal);
    }

    private static async Task TakenAsync(HttpClient client, string path, IHtmlDocument form)
    {
        using var answer = await client.PostAsync(path, Answers(form), Cancel);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        var page = await DeskApp.PageAsync(client, path);
        Assert.Equal(Typed, ((IHtmlTextAreaElement)page.QuerySelector("textarea[name=bothers]")!).Value);
        Assert.Null(page.QuerySelector("[role=alert]"));
    }

    private static async Task<(Autosave Autosave, LoadedOption Loaded, SignedIn Who)> OptionAsync(DeskApp app)
    {
        var who = await app.DemoConsultantAsync();
        var options = app.Services.GetRequiredService<VanOptions>();
        var van = (await app.Services.GetRequiredService<DeskList>().Vans(who, cancellation: Cancel))[0];
        var copy = await options.Copy(who, (await options.OptionsOf(who, van.Id, Cancel))[0].Id, "A fault is coming", Cancel);
        return (Autosaved(options, who, copy), copy, who);
    }

    private static async Task<Editing> EditedAsync(DeskApp app)
    {
        var (autosave, loaded, who) = await OptionAsync(app);
        return new(autosave, loaded, who);
    }

    private static Autosave Autosaved(VanOptions options, SignedIn who, LoadedOption loaded) =>
        new((design, version, label) => options.Save(who, loaded.Id, version, design, label), loaded.Version, TimeProvider.System, NullLogger.Instance);

    private static Design Higher(Design design) => design with { Stop = design.Stop with { Altitude = design.Stop.Altitude + Length.FromMeters(1) } };

    private static async Task NotSavedAsync(Editing edited, string sentence)
    {
        edited.Autosave.Edited(Higher(edited.Loaded.Design), "Edit");
        await edited.Autosave.FlushAsync();
        Assert.Equal(sentence, Assert.IsType<NotSaved>(edited.Autosave.State).Reason);
    }

    private static async Task SavedAsync(DeskApp app, Editing edited)
    {
        await edited.Autosave.FlushAsync();
        Assert.IsType<AllSaved>(edited.Autosave.State);
        var stored = await app.Services.GetRequiredService<VanOptions>().Load(edited.Who, edited.Loaded.Id, Cancel);
        Assert.True(DesignJson.Same(Higher(edited.Loaded.Design), stored!.Design));
    }

    // What was written before lies in the write-ahead log and would be written over first, full disk or not.
    private static async Task EmptyTheLog(DeskApp app)
    {
        await using var db = await app.Services.GetRequiredService<IDbContextFactory<DeskContext>>().CreateDbContextAsync(Cancel);
        await db.Database.ExecuteSqlAsync($"PRAGMA wal_checkpoint(TRUNCATE)", Cancel);
    }

    private static async Task Admin(string connection, string statement)
    {
        // Whatever the database is set to, the administrator may write.
        await using var db = new NpgsqlConnection(new NpgsqlConnectionStringBuilder(connection) { Pooling = false, Options = "-c default_transaction_read_only=off" }.ToString());
        await db.OpenAsync(Cancel);
        await using var command = db.CreateCommand();
#pragma warning disable CA2100 // The only part that varies is the name of the test's own database.
        command.CommandText = statement;
#pragma warning restore CA2100
        await command.ExecuteNonQueryAsync(Cancel);
    }

    private sealed record Editing(Autosave Autosave, LoadedOption Loaded, SignedIn Who) : IAsyncDisposable
    {
        public ValueTask DisposeAsync() => Autosave.DisposeAsync();
    }

    /// <summary>Lets SQLite read and not write (PRAGMA query_only), with the error of a file on a disk mounted for reading.</summary>
    private sealed class Lid : DbConnectionInterceptor
    {
        public bool Shut { get; set; }

        public override void ConnectionOpened(DbConnection connection, ConnectionEndEventData eventData) => Set(connection);

        public override Task ConnectionOpenedAsync(DbConnection connection, ConnectionEndEventData eventData, CancellationToken cancellationToken = default)
        {
            Set(connection);
            return Task.CompletedTask;
        }

        private void Set(DbConnection connection)
        {
            using var command = connection.CreateCommand();
            command.CommandText = Shut ? "PRAGMA query_only = 1" : "PRAGMA query_only = 0";
            command.ExecuteNonQuery();
        }
    }
}
