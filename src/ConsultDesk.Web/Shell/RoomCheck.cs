using Microsoft.Extensions.Diagnostics.HealthChecks;

namespace ConsultDesk.Web.Shell;

/// <summary>Whether there is room on the disks the desk itself writes to: of the SQLite file and of the back-ups. A database server's disk it cannot see.</summary>
/// <param name="folders">Where it writes.</param>
/// <param name="free">Bytes free where a folder lies.</param>
internal sealed class RoomCheck(IReadOnlyList<string> folders, Func<string, long> free) : IHealthCheck
{
    /// <summary>With less the desk is not ready: a save may fail at any moment (our judgement).</summary>
    public const long Least = 100L * 1024 * 1024;

    /// <summary>With less somebody should make room soon (our judgement).</summary>
    public const long Comfortable = 1024L * 1024 * 1024;

    /// <summary>Bytes free for this account on the disk of a folder.</summary>
    public static long FreeAt(string folder) => new DriveInfo(folder).AvailableFreeSpace;

    public Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default)
    {
        var room = folders.Where(Directory.Exists).Select(free).DefaultIfEmpty(long.MaxValue).Min();
        return Task.FromResult(room < Least ? HealthCheckResult.Unhealthy("The disk is full or nearly so.")
            : room < Comfortable ? HealthCheckResult.Degraded("Less than a gigabyte is free on a disk the desk writes to.")
            : HealthCheckResult.Healthy());
    }
}
