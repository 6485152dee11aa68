using ConsultDesk.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Diagnostics.HealthChecks;

namespace ConsultDesk.Web.Shell;

/// <summary>Ready means that the database answers.</summary>
internal sealed class DatabaseCheck(IDbContextFactory<DeskContext> contexts) : IHealthCheck
{
    public const string Ready = "ready";

    public async Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default)
    {
        await using var db = await contexts.CreateDbContextAsync(cancellationToken);
        return await db.Database.CanConnectAsync(cancellationToken)
            ? HealthCheckResult.Healthy()
            : HealthCheckResult.Unhealthy("The database does not answer.");
    }
}
