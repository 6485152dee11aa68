using System.Diagnostics;
using System.Globalization;
using ConsultDesk.Records;
using ConsultDesk.Testing;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Web.Tests.Faults;

/// <summary>
/// SIGKILL at random moments of edits, publishing and uploads: what was called saved is there afterwards, and nothing is half there.
/// On SQLite the desk is killed, on PostgreSQL its server. <c>tests/long.sh kills</c> does it 200 times each.
/// A kill takes the program away, not the power: what the disk had not written by then is the system's to keep.
/// </summary>
public sealed class KillTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);

    private static int Kills(int usual) =>
        int.TryParse(Environment.GetEnvironmentVariable("DESK_KILLS"), NumberStyles.None, CultureInfo.InvariantCulture, out var kills) ? kills : usual;

    private static Random Chance()
    {
        var seed = int.TryParse(Environment.GetEnvironmentVariable("DESK_KILL_SEED"), NumberStyles.None, CultureInfo.InvariantCulture, out var given)
            ? given
            : Random.Shared.Next();
        TestContext.Current.TestOutputHelper!.WriteLine(string.Create(CultureInfo.InvariantCulture, $"DESK_KILL_SEED={seed}"));
        return new Random(seed);
    }

    [Fact]
    public async Task What_the_desk_called_saved_is_there_after_it_was_killed_again_and_again()
    {
        var chance = Chance();
        var folder = Directory.CreateTempSubdirectory("consultdesk-kills-").FullName;
        try
        {
            var work = await Prepare(StoreKind.Sqlite, "Data Source=" + Path.Combine(folder, "desk.db"), Path.Combine(folder, "said"));
            var tally = new Tally();
            var kills = Kills(2);
            for (var kill = 0; kill < kills; kill++)
            {
                using (var desk = Begin(work))
                {
                    await UntilSaid(work, "", desk, chance.Next(120));
                    await Task.Delay(chance.Next(30), TestContext.Current.CancellationToken);
                    Assert.Equal(128 + 9, desk.Kill());
                }

                await Passes(work.Connection);
                await AllIsThere(work, tally);
                File.Delete(work.Said);
            }

            tally.Say(kills, "kills of the desk on SQLite");
        }
        finally
        {
            SqliteConnection.ClearAllPools();
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public async Task What_the_desk_called_saved_is_there_after_its_database_server_was_killed_and_it_goes_on_by_itself()
    {
        var chance = Chance();
        await using var server = await PrivatePostgres.Start();
        var said = Path.GetTempFileName();
        try
        {
            var work = await Prepare(StoreKind.Postgres, server.Connection, said);
            var tally = new Tally();
            var kills = Kills(1);
            using var desk = Begin(work);
            await UntilSaid(work, "ready", desk);
            var looked = 0;
            for (var kill = 0; kill < kills; kill++)
            {
                await UntilSaid(work, "", desk, Lines(work).Length + chance.Next(120));
                await Task.Delay(chance.Next(30), TestContext.Current.CancellationToken);
                if (chance.Next(4) == 0)
                {
                    await server.StopAtOnce();
                }
                else
                {
                    server.Kill();
                }

                // Whatever was said until here was said of the server that is gone.
                var before = Lines(work).Length;
                await server.StartAgain();
                await UntilSaid(work, "edit", desk, before);
                await UntilSaid(work, "plan", desk, before);
                await UntilSaid(work, "photo", desk, before);
                // The desk goes on while it is looked at: looking at all of it each time would give it ever longer to go on.
                var upTo = Lines(work).Length;
                await AllIsThere(work, tally, looked);
                looked = upTo;
            }

            desk.Kill();
            await AllIsThere(work, tally);
            await server.CheckEverything();
            tally.Say(kills, "kills of the server under the desk, which was not started again");
        }
        finally
        {
            File.Delete(said);
            Npgsql.NpgsqlConnection.ClearAllPools();
        }
    }

    private static async Task<DoomedWork> Prepare(StoreKind kind, string connection, string said)
    {
        await using (var empty = TestDesk.Services(kind, connection, TimeProvider.System))
        {
            await DeskStore.Migrate(empty.GetRequiredService<IDbContextFactory<DeskContext>>());
        }

        await using var desk = await TestDesk.Open(kind, connection);
        var (_, van, option) = await desk.AddVan();
        var published = await desk.Options.Copy(desk.Ada, option, "As published");
        await using var now = TestDesk.Services(kind, connection, TimeProvider.System);
        var intakes = now.GetRequiredService<Intakes>();
        var answering = await intakes.Send(desk.Ada, van);
        var uploading = await intakes.Send(desk.Ada, van);
        var edited = await desk.Options.Copy(desk.Ada, published.Id, "As edited");
        return new(kind, connection, said, desk.Ada, edited.Id, published.Id, answering.Token, uploading.Token);
    }

    private static Doomed Begin(DoomedWork work)
    {
        var program = Path.Combine(AppContext.BaseDirectory, typeof(KillTests).Assembly.GetName().Name!);
        var start = new ProcessStartInfo(
            program, ["-noLogo", "-noColor", "-explicit", "only", "-method", $"{typeof(KilledDesk).FullName}.{nameof(KilledDesk.Works_until_it_is_killed)}"])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment[DoomedWork.Variable] = System.Text.Json.JsonSerializer.Serialize(work);
        var process = Process.Start(start)!;
        process.BeginErrorReadLine();
        process.BeginOutputReadLine();
        return new(process);
    }

    private static async Task UntilSaid(DoomedWork work, string what, Doomed desk, int after = 0)
    {
        var clock = Stopwatch.StartNew();
        while (!File.Exists(work.Said) || !Lines(work).Skip(after).Any(line => line.StartsWith(what, StringComparison.Ordinal)))
        {
            // A moment counted in what was saved, not in seconds: a slow machine would be killed before it had begun.
            Assert.False(desk.HasExited, $"The desk ended by itself before it said \"{what}\".");
            Assert.True(clock.Elapsed < Patience, $"The desk did not say \"{what}\" within {Patience:g}.");
            await Task.Delay(20, TestContext.Current.CancellationToken);
        }
    }

    private static string[] Lines(DoomedWork work)
    {
        using var stream = new FileStream(work.Said, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        using var reader = new StreamReader(stream);
        var text = reader.ReadToEnd();
        // A line that was cut by the kill was not said to the end.
        var lines = text[..(text.LastIndexOf('\n') + 1)].Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.DoesNotContain(lines, line => line.StartsWith(KilledDesk.Died, StringComparison.Ordinal));
        return lines;
    }

    private static async Task Passes(string connection)
    {
        await using var db = new SqliteConnection(connection + ";Pooling=False");
        await db.OpenAsync(TestContext.Current.CancellationToken);
        await using var check = db.CreateCommand();
        check.CommandText = "PRAGMA integrity_check";
        Assert.Equal("ok", await check.ExecuteScalarAsync(TestContext.Current.CancellationToken));
        check.CommandText = "SELECT COUNT(*) FROM pragma_foreign_key_check";
        Assert.Equal(0L, await check.ExecuteScalarAsync(TestContext.Current.CancellationToken));
    }

    /// <summary>Looks for what was said to be saved, without the first lines, which were looked for before.</summary>
    private static async Task AllIsThere(DoomedWork work, Tally tally, int after = 0)
    {
        var cancellation = TestContext.Current.CancellationToken;
        var said = Lines(work).Skip(after).Select(line => line.Split(' ')).ToLookup(words => words[0], words => words[1..]);
        await using var app = TestDesk.Services(work.Kind, work.Connection, TimeProvider.System);
        await using var db = app.GetRequiredService<FirmContexts>().OpenFor(work.Who.FirmId);

        // Edits: every one that was called saved stands in the history, and the option is one of its steps, whole.
        var edits = said["edit"].Select(words => long.Parse(words[0], CultureInfo.InvariantCulture)).ToList();
        var option = (await app.GetRequiredService<VanOptions>().Load(work.Who, work.Edited, cancellation))!;
        var stands = KilledDesk.NumberOf(option.Design);
        Assert.True(edits.Count == 0 || stands >= edits[^1], string.Create(CultureInfo.InvariantCulture, $"Edit {edits.LastOrDefault()} was called saved; the option stands at {stands}."));
        var steps = (await db.OptionRevisions.AsNoTracking().Where(r => r.OptionId == work.Edited).Select(r => r.Label).ToListAsync(cancellation)).ToHashSet();
        Assert.All(edits, edit => Assert.Contains(KilledDesk.Label(edit), steps));
        if (stands > 0)
        {
            Assert.Equal(option.Design.Stop, KilledDesk.Numbered(option.Design, stands).Stop);
            var label = KilledDesk.Label(stands);
            var step = await db.OptionRevisions.AsNoTracking().SingleAsync(r => r.OptionId == work.Edited && r.Label == label, cancellation);
            Assert.True(DesignJson.Same(option.Design, DesignJson.Read(step.DesignText)));
            if (work.Kind == StoreKind.Sqlite)
            {
                // Where only the server was killed the desk is at it again by now, and ahead of what was read above.
                Assert.DoesNotContain(KilledDesk.Label(stands + 1), steps);
            }
        }

        // Plans: each is whole or not there at all, with its link and its line in the history of the firm.
        var plans = app.GetRequiredService<Records.Plans>();
        foreach (var words in said["plan"])
        {
            var plan = await plans.FindByToken(words[1], cancellation);
            Assert.NotNull(plan);
            Assert.Equal(words[0], plan.PlanId.ToString("N"));
        }

        // Counted side by side: asked for each plan in turn, thousands of them take longer than the server gives a question.
        var all = await db.Plans.AsNoTracking().Where(p => p.OptionId == work.Published).OrderBy(p => p.Number).Select(p => new { p.Id, p.Number }).ToListAsync(cancellation);
        var links = (await db.PlanLinks.AsNoTracking().Select(l => l.PlanId).ToListAsync(cancellation)).CountBy(id => id).ToDictionary();
        var noted = (await db.Audit.AsNoTracking().Where(a => a.Action == "plan.published").Select(a => a.EntityId).ToListAsync(cancellation)).CountBy(id => id).ToDictionary();
        Assert.Equal(Enumerable.Range(1, all.Count), all.Select(p => p.Number));
        Assert.All(all, plan => Assert.Equal((1, 1), (links.GetValueOrDefault(plan.Id), noted.GetValueOrDefault(plan.Id))));

        // The client's side: the last answer that was called saved or a later one; every photo that was not removed for a later one.
        var door = app.GetRequiredService<IntakeDoor>();
        var answered = (await door.Open(work.Answering, cancellation))!.Answers.TryGetValue("notes", out var notes) ? long.Parse(notes, CultureInfo.InvariantCulture) : 0;
        var last = said["answer"].Select(words => long.Parse(words[0], CultureInfo.InvariantCulture)).LastOrDefault();
        Assert.True(answered >= last, string.Create(CultureInfo.InvariantCulture, $"Answer {last} was called saved; {answered} is there."));
        var photos = (await door.Open(work.Uploading, cancellation))!.Photos;
        var there = photos.Select(photo => photo.Subject).ToHashSet();
        // The oldest goes when there are as many as are kept, and each kill may have left one that was stored and not said. Where only the
        // server was killed the desk goes on meanwhile, so what is recent is asked for after the photos were read.
        var recent = Lines(work).Where(line => line.StartsWith("photo ", StringComparison.Ordinal)).Select(line => line.Split(' ')[1]).TakeLast(KilledDesk.Kept / 2);
        Assert.All(said["photo"].Select(words => words[0]).Intersect(recent), photo => Assert.Contains(photo, there));
        Assert.All(photos, photo => Assert.True(photo.Width > 0));

        tally.Edits = Math.Max(tally.Edits, stands);
        tally.Plans = Math.Max(tally.Plans, all.Count);
        tally.Answers = Math.Max(tally.Answers, answered);
        tally.Photos += said["photo"].Count();
    }

    /// <summary>The process that is killed; it works without an end, so a test that fails must not leave it behind.</summary>
    private sealed class Doomed(Process process) : IDisposable
    {
        public bool HasExited => process.HasExited;

        /// <summary>Ends it with SIGKILL and gives its exit code.</summary>
        public int Kill()
        {
            process.Kill();
            process.WaitForExit();
            return process.ExitCode;
        }

        public void Dispose()
        {
            if (!process.HasExited)
            {
                Kill();
            }

            process.Dispose();
        }
    }

    private sealed class Tally
    {
        public long Edits { get; set; }

        public long Plans { get; set; }

        public long Answers { get; set; }

        public long Photos { get; set; }

        public void Say(int kills, string of) => TestContext.Current.TestOutputHelper!.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{kills} {of}: {Edits} edits, {Plans} plans and {Answers} answers stand; every one called saved was there, and so was every photo."));
    }
}
