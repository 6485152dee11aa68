using System.Collections.Concurrent;
using System.Diagnostics;
using System.Diagnostics.Metrics;
using System.Net;
using System.Text;
using ConsultDesk.Records;
using ConsultDesk.Web.Plans;
using ConsultDesk.Web.Shell;
using ConsultDesk.Web.Tests.Shell;
using ConsultDesk.Web.Tests.Workspace;
using ConsultDesk.Web.Workspace;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Diagnostics.HealthChecks;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using OpenTelemetry.Metrics;
using OpenTelemetry.Trace;
using Xunit;

namespace ConsultDesk.Web.Tests.Faults;

/// <summary>What the desk tells whoever watches over it.</summary>
public sealed class SignalTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Edits_calculations_their_queue_and_PDFs_are_measured_and_traced_under_the_documented_names()
    {
        var measured = new ConcurrentDictionary<string, int>();
        var spans = new ConcurrentDictionary<string, int>();
        using var meters = new MeterListener { InstrumentPublished = (instrument, listener) => { if (instrument.Meter.Name == DeskSignals.Name) { listener.EnableMeasurementEvents(instrument); } } };
        meters.SetMeasurementEventCallback<double>((instrument, _, _, _) => measured.AddOrUpdate(instrument.Name, 1, (_, n) => n + 1));
        meters.SetMeasurementEventCallback<long>((instrument, _, _, _) => measured.AddOrUpdate(instrument.Name, 1, (_, n) => n + 1));
        meters.Start();
        using var traces = new ActivityListener
        {
            ShouldListenTo = source => source.Name == DeskSignals.Name,
            Sample = (ref ActivityCreationOptions<ActivityContext> _) => ActivitySamplingResult.AllData,
            ActivityStopped = span => spans.AddOrUpdate(span.OperationName, 1, (_, n) => n + 1),
        };
        ActivitySource.AddActivityListener(traces);

        await using (var autosave = new Autosave((_, _, _) => Task.FromResult<SaveResult>(new Saved(Guid.NewGuid(), DateTime.UtcNow)), Guid.NewGuid(), TimeProvider.System, NullLogger.Instance))
        {
            autosave.Edited(Samples.Design(2), "sleepers");
            await autosave.FlushAsync();
        }

        Assert.Equal(7, await new ComputeQueue(1).RunAsync(this, Urgency.Soon, _ => 7, Cancel));
        using var press = new PressQueue(1, 1);
        Assert.Equal(7, await press.RunAsync(() => 7, Cancel));

        string[] names = ["consultdesk.calculate.duration", "consultdesk.edits", "consultdesk.pdf.duration", "consultdesk.queue.length", "consultdesk.queue.wait", "consultdesk.save.duration"];
        Assert.Equal(names, measured.Keys.Order(StringComparer.Ordinal));
        Assert.Equal(["calculate", "pdf", "save"], spans.Keys.Order(StringComparer.Ordinal));
        var page = await File.ReadAllTextAsync(Architecture.Repository.At("docs", "operating.md"), Cancel);
        Assert.All(names, name => Assert.Contains($"`{name}`", page, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_receiver_gets_them_when_one_is_named_and_never_the_path_that_opens_a_plan()
    {
        var received = new ConcurrentQueue<(string Path, string Body)>();
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        await using var receiver = builder.Build();
        receiver.Run(async context =>
        {
            using var body = new MemoryStream();
            await context.Request.Body.CopyToAsync(body);
            received.Enqueue((context.Request.Path, Encoding.Latin1.GetString(body.ToArray())));
        });
        await receiver.StartAsync(Cancel);
        string token;
        await using (var app = new DeskApp { More = web => web.UseSetting("Telemetry:Endpoint", receiver.Urls.First()).UseSetting("Telemetry:Protocol", "http") })
        {
            var who = await app.DemoConsultantAsync();
            var van = (await app.Services.GetRequiredService<DeskList>().Vans(who, cancellation: Cancel))[0];
            token = (await app.Services.GetRequiredService<Intakes>().Send(who, van.Id, cancellation: Cancel)).Token;
            using var client = app.Visitor();
            Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/intake/" + token, Cancel)).StatusCode);
            await app.Services.GetRequiredService<ComputeQueue>().RunAsync(this, Urgency.Soon, _ => 7, Cancel);
            Assert.True(app.Services.GetRequiredService<MeterProvider>().ForceFlush(60_000));
            Assert.True(app.Services.GetRequiredService<TracerProvider>().ForceFlush(60_000));
        }

        await receiver.StopAsync(Cancel);

        Assert.Contains(received, message => message.Path == "/v1/metrics" && message.Body.Contains("consultdesk.calculate.duration", StringComparison.Ordinal));
        Assert.Contains(received, message => message.Path == "/v1/traces" && message.Body.Contains("calculate", StringComparison.Ordinal));
        Assert.DoesNotContain(received, message => message.Body.Contains(token, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(RoomCheck.Comfortable, HealthStatus.Healthy)]
    [InlineData(RoomCheck.Comfortable - 1, HealthStatus.Degraded)]
    [InlineData(RoomCheck.Least, HealthStatus.Degraded)]
    [InlineData(RoomCheck.Least - 1, HealthStatus.Unhealthy)]
    public async Task Room_is_judged_by_the_fullest_disk_the_desk_writes_to(long free, HealthStatus expected)
    {
        var check = new RoomCheck(["/", Path.GetTempPath()], folder => folder == "/" ? long.MaxValue : free);

        Assert.Equal(expected, (await check.CheckHealthAsync(new(), Cancel)).Status);
    }

    [Fact]
    public async Task Ready_looks_at_database_keys_and_disk_and_live_at_nothing()
    {
        await using var app = new DeskApp();
        using var visitor = app.Visitor();

        var ready = (await visitor.GetStringAsync("/health/ready", Cancel)).Split('\n', StringSplitOptions.RemoveEmptyEntries);

        // How full this machine's disk is, is its own business.
        Assert.Equal(["database: Healthy", "keys: Healthy"], ready[1..].Where(line => !line.StartsWith("disk: ", StringComparison.Ordinal)));
        Assert.Equal(4, ready.Length);
        Assert.Equal("Healthy\n", await visitor.GetStringAsync("/health/live", Cancel));
    }
}
