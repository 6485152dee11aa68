using ConsultDesk.Records;
using Microsoft.Extensions.Diagnostics.HealthChecks;

namespace ConsultDesk.Web.Backup;

/// <summary>Makes a back-up now and then while the desk runs. One that fails is logged, shown by the health of the desk, and tried again.</summary>
internal sealed partial class ScheduledBackups(BackupSettings settings, BackupFolder folder, TimeProvider time, ILogger<ScheduledBackups> log)
    : BackgroundService, IHealthCheck
{
    /// <summary>After a failure it is tried again sooner than the next one is due.</summary>
    public static readonly TimeSpan RetryAfter = TimeSpan.FromMinutes(15);

    private volatile bool _failed;

    public Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default) =>
        Task.FromResult(_failed ? HealthCheckResult.Degraded("The last back-up failed; the log says why.") : HealthCheckResult.Healthy());

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        // A desk that is started anew every day must not wait a whole day each time. A time to come is a clock that was moved back.
        var age = folder.Newest() is { } newest ? time.GetUtcNow().UtcDateTime - newest : settings.Every;
        var wait = age < TimeSpan.Zero || age >= settings.Every ? TimeSpan.Zero : settings.Every - age;
        while (true)
        {
            await Task.Delay(wait, time, stoppingToken);
            try
            {
                LogMade(log, await folder.MakeAsync(settings.Keep, stoppingToken));
                _failed = false;
                wait = settings.Every;
            }
            catch (Exception failed) when (failed is BackupFailedException or IOException or UnauthorizedAccessException)
            {
                LogFailed(log, failed.Message);
                _failed = true;
                wait = settings.Every < RetryAfter ? settings.Every : RetryAfter;
            }
        }
    }

    [LoggerMessage(LogLevel.Information, "Back-up made: {File}")]
    private static partial void LogMade(ILogger log, string file);

    [LoggerMessage(LogLevel.Error, "{Why} It is tried again.")]
    private static partial void LogFailed(ILogger log, string why);
}
