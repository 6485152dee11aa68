using System.Globalization;
using System.Text;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Testing;
using ConsultDesk.Web.Intake;
using ConsultDesk.Web.Workspace;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using Npgsql;
using SkiaSharp;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Web.Tests.Faults;

/// <summary>Where a desk that is going to be killed works, handed from the test to the process it starts.</summary>
/// <param name="Kind">Which store.</param>
/// <param name="Connection">Its connection string.</param>
/// <param name="Said">File the process writes a line to for each thing a screen would call saved.</param>
/// <param name="Who">Who edits.</param>
/// <param name="Edited">The option that is edited.</param>
/// <param name="Published">The option plans are made from.</param>
/// <param name="Answering">Token of the intake that is answered.</param>
/// <param name="Uploading">Token of the intake photos go to.</param>
public sealed record DoomedWork(
    StoreKind Kind, string Connection, string Said, SignedIn Who, Guid Edited, Guid Published, string Answering, string Uploading)
{
    /// <summary>Environment variable it travels by.</summary>
    public const string Variable = "DESK_DOOMED";
}

/// <summary>
/// The process that is killed: edits through the workspace's own autosave, publishes, answers an intake and uploads photos, all at once
/// and without a pause, so that a kill finds something under way.
/// </summary>
public sealed class KilledDesk
{
    /// <summary>Photos an intake keeps before the oldest is removed.</summary>
    public const int Kept = 20;

    /// <summary>How the line of work that ended with an exception begins.</summary>
    public const string Died = "died ";

    private static readonly double Start = SampleDesign.Van().Stop.Altitude.Meters;

    private static readonly Lock Writing = new();

    /// <summary>The label of the n-th edit in the history.</summary>
    public static string Label(long edit) => string.Create(CultureInfo.InvariantCulture, $"kill {edit}");

    /// <summary>The design of the n-th edit: its altitude counts, a tenth of a metre each.</summary>
    public static Design Numbered(Design design, long edit) =>
        design with { Stop = design.Stop with { Altitude = Length.FromMeters(Start + (edit / 10.0)) } };

    /// <summary>Which edit a design is; 0 as it was made.</summary>
    public static long NumberOf(Design design) => (long)Math.Round((design.Stop.Altitude.Meters - Start) * 10);

    /// <summary>No test: <see cref="KillTests"/> starts it in a process of its own.</summary>
    [Fact(Explicit = true)]
    public async Task Works_until_it_is_killed()
    {
        var handed = Environment.GetEnvironmentVariable(DoomedWork.Variable);
        Assert.SkipWhen(string.IsNullOrEmpty(handed), "Started by KillTests only.");
        var work = System.Text.Json.JsonSerializer.Deserialize<DoomedWork>(handed!)!;
        await using var said = new FileStream(work.Said, FileMode.Append, FileAccess.Write, FileShare.ReadWrite, bufferSize: 0);
        void Say(string line)
        {
            lock (Writing)
            {
                // One write to the system for each line: what was written survives the process.
                said.Write(Encoding.ASCII.GetBytes(line + "\n"));
            }
        }

        await using var app = TestDesk.Services(work.Kind, work.Connection, TimeProvider.System);
        var loaded = (await app.GetRequiredService<VanOptions>().Load(work.Who, work.Edited, TestContext.Current.CancellationToken))!;
        var photo = Photo();
        Say("ready");
        await Task.WhenAll(
            Begin(() => Edit(app, work, loaded, Say), Say),
            Begin(() => Publish(app, work, Say), Say),
            Begin(() => Answer(app, work, Say), Say),
            Begin(() => Upload(app, work, photo, Say), Say));
    }

    private static Task Begin(Func<Task> work, Action<string> say) => Task.Run(async () =>
    {
        try
        {
            await work();
        }
        catch (Exception fault)
        {
            // Its work ends here, and the test that reads this fails.
            say(Died + fault.ToString().ReplaceLineEndings(" "));
            throw;
        }
    });

    private static async Task Edit(ServiceProvider app, DoomedWork work, LoadedOption loaded, Action<string> say)
    {
        var options = app.GetRequiredService<VanOptions>();
        await using var autosave = new Autosave(
            (design, version, label) => options.Save(work.Who, work.Edited, version, design, label), loaded.Version, TimeProvider.System, NullLogger.Instance);
        for (var edit = NumberOf(loaded.Design) + 1; ; edit++)
        {
            autosave.Edited(Numbered(loaded.Design, edit), Label(edit));
            await autosave.FlushAsync();
            while (autosave.State is NotSaved)
            {
                say("fault edit");
                await Task.Delay(100);
                await autosave.FlushAsync();
            }

            Assert.IsType<AllSaved>(autosave.State);
            say(string.Create(CultureInfo.InvariantCulture, $"edit {edit}"));
        }
    }

    private static async Task Publish(ServiceProvider app, DoomedWork work, Action<string> say)
    {
        var plans = app.GetRequiredService<Records.Plans>();
        var option = await app.GetRequiredService<VanOptions>().Load(work.Who, work.Published);
        await Again("plan", say, async () =>
        {
            var plan = await plans.Publish(
                work.Who, work.Published, option!.Version, heading => new(new string('p', 60_000) + heading.Number, 1, "m"), "Written by a test that kills the desk meanwhile.");
            say(string.Create(CultureInfo.InvariantCulture, $"plan {plan.PlanId:N} {plan.Link.Token}"));
        });
    }

    private static async Task Answer(ServiceProvider app, DoomedWork work, Action<string> say)
    {
        var door = app.GetRequiredService<IntakeDoor>();
        var answers = (await door.Open(work.Answering))!.Answers;
        var next = answers.TryGetValue("notes", out var last) ? long.Parse(last, CultureInfo.InvariantCulture) + 1 : 1;
        await Again("answer", say, async () =>
        {
            Assert.True(await door.Save(work.Answering, new Dictionary<string, string> { ["notes"] = next.ToString(CultureInfo.InvariantCulture) }));
            say(string.Create(CultureInfo.InvariantCulture, $"answer {next}"));
            next++;
        });
    }

    private static async Task Upload(ServiceProvider app, DoomedWork work, byte[] picture, Action<string> say)
    {
        var door = app.GetRequiredService<IntakeDoor>();
        await Again("photo", say, async () =>
        {
            // Through the same decoder and encoder as a client's photo.
            var photo = IntakePhotos.Read(picture).Photo!;
            var there = (await door.Open(work.Uploading))!.Photos;
            if (there.Count >= Kept)
            {
                await door.RemovePhoto(work.Uploading, there.OrderBy(p => p.AddedAt).First().Id);
            }

            var name = "photo-" + Guid.NewGuid().ToString("N");
            Assert.True(await door.AddPhoto(work.Uploading, name, photo.Jpeg, photo.Width, photo.Height));
            say("photo " + name);
        });
    }

    // A server that is gone fails what was asked of it; the one who asked tries again.
    private static async Task Again(string what, Action<string> say, Func<Task> act)
    {
        while (true)
        {
            try
            {
                await act();
            }
            catch (Exception gone) when (gone is NpgsqlException or DbUpdateException or InvalidOperationException { InnerException: NpgsqlException or DbUpdateException })
            {
                say("fault " + what);
                await Task.Delay(100);
            }
        }
    }

    private static byte[] Photo()
    {
        using var surface = SKSurface.Create(new SKImageInfo(320, 240));
        var noise = new Random(1);
        using var paint = new SKPaint();
        for (var i = 0; i < 4000; i++)
        {
            paint.Color = new SKColor((uint)noise.Next() | 0xFF000000);
            surface.Canvas.DrawRect(noise.Next(320), noise.Next(240), 6, 6, paint);
        }

        using var image = surface.Snapshot();
        using var png = image.Encode(SKEncodedImageFormat.Png, 90);
        return png.ToArray();
    }
}
