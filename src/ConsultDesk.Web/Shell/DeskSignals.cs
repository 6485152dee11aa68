using System.Diagnostics;
using System.Diagnostics.Metrics;
using OpenTelemetry.Exporter;
using OpenTelemetry.Metrics;
using OpenTelemetry.Resources;
using OpenTelemetry.Trace;

namespace ConsultDesk.Web.Shell;

/// <summary>
/// What the desk can tell a monitoring system: how many edits were saved, how long saving, calculating and PDFs take and how many
/// calculations wait. Numbers and kinds only: no name, no id, no path, because the path of a plan is the secret that opens it.
/// Nothing is sent anywhere unless <c>Telemetry:Endpoint</c> is set.
/// </summary>
public static class DeskSignals
{
    /// <summary>Name of the meter and of the activity source.</summary>
    public const string Name = "ConsultDesk";

    /// <summary>Spans <c>save</c>, <c>calculate</c> and <c>pdf</c>.</summary>
    public static readonly ActivitySource Spans = new(Name);

    private static readonly Meter Meter = new(Name);

    private static readonly Histogram<double> Saves = Meter.CreateHistogram<double>(
        "consultdesk.save.duration", "s", "Time a save of a design took; tag outcome: saved, overtaken, closed, failed.");

    private static readonly Counter<long> Edits = Meter.CreateCounter<long>("consultdesk.edits", "{edit}", "Edits of a design that were saved.");

    private static readonly Histogram<double> Calculations = Meter.CreateHistogram<double>(
        "consultdesk.calculate.duration", "s", "Time a calculation took once begun; tag urgency: at-once, soon, in-the-end.");

    private static readonly Histogram<double> Waits = Meter.CreateHistogram<double>(
        "consultdesk.queue.wait", "s", "Time a calculation waited for its turn; tag urgency.");

    private static readonly UpDownCounter<long> Waiting = Meter.CreateUpDownCounter<long>(
        "consultdesk.queue.length", "{job}", "Calculations that wait for their turn; tag urgency.");

    private static readonly Histogram<double> Pdfs = Meter.CreateHistogram<double>("consultdesk.pdf.duration", "s", "Time a PDF took once begun.");

    /// <summary>A save of a design ended.</summary>
    /// <param name="began">Time stamp of its begin.</param>
    /// <param name="outcome">How.</param>
    internal static void Saved(long began, string outcome)
    {
        Saves.Record(Stopwatch.GetElapsedTime(began).TotalSeconds, new KeyValuePair<string, object?>("outcome", outcome));
        if (outcome == "saved")
        {
            Edits.Add(1);
        }
    }

    /// <summary>A calculation was put in the queue.</summary>
    internal static void Queued(string urgency) => Waiting.Add(1, Tag(urgency));

    /// <summary>A calculation left the queue, begun or taken back.</summary>
    internal static void Left(string urgency, long queued)
    {
        Waiting.Add(-1, Tag(urgency));
        Waits.Record(Stopwatch.GetElapsedTime(queued).TotalSeconds, Tag(urgency));
    }

    /// <summary>A calculation ended.</summary>
    internal static void Calculated(string urgency, long began) => Calculations.Record(Stopwatch.GetElapsedTime(began).TotalSeconds, Tag(urgency));

    /// <summary>A PDF was made.</summary>
    internal static void Printed(long began) => Pdfs.Record(Stopwatch.GetElapsedTime(began).TotalSeconds);

    /// <summary>Sends all of it, and the framework's own numbers, by OTLP when <c>Telemetry:Endpoint</c> names a receiver.</summary>
    /// <exception cref="StartRefusedException">A setting cannot be used.</exception>
    internal static void AddTelemetry(this WebApplicationBuilder builder)
    {
        var telemetry = builder.Configuration.GetSection("Telemetry");
        if (telemetry["Endpoint"]?.Trim() is not { Length: > 0 } typed)
        {
            return;
        }

        if (!Uri.TryCreate(typed, UriKind.Absolute, out var endpoint) || endpoint.Scheme is not ("http" or "https"))
        {
            throw new StartRefusedException($"Telemetry:Endpoint is \"{typed}\"; expected the address of a receiver, for example http://localhost:4317.");
        }

        var protocol = telemetry["Protocol"]?.Trim().ToLowerInvariant() switch
        {
            null or "" or "grpc" => OtlpExportProtocol.Grpc,
            "http" => OtlpExportProtocol.HttpProtobuf,
            var other => throw new StartRefusedException($"Telemetry:Protocol is \"{other}\"; expected grpc or http."),
        };
        // Over http each kind of signal has a path of its own (OTLP specification, OTLP/HTTP request).
        void Send(OtlpExporterOptions options, string path) =>
            (options.Protocol, options.Endpoint) = (protocol, protocol == OtlpExportProtocol.Grpc ? endpoint : new Uri(endpoint.AbsoluteUri.TrimEnd('/') + path));

        builder.Services.AddOpenTelemetry()
            .ConfigureResource(resource => resource.AddService(Name))
            .WithMetrics(metrics => metrics
                .AddMeter(Name, "System.Runtime", "Microsoft.AspNetCore.Server.Kestrel", "Microsoft.AspNetCore.Components.Server.Circuits", "Npgsql")
                .AddOtlpExporter(options => Send(options, "/v1/metrics")))
            // Not the framework's spans of requests: they carry paths.
            .WithTracing(traces => traces.AddSource(Name).AddOtlpExporter(options => Send(options, "/v1/traces")));
    }

    private static KeyValuePair<string, object?> Tag(string urgency) => new("urgency", urgency);
}
