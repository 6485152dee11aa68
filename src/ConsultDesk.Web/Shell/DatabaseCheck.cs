using ConsultDesk.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Diagnostics.HealthChecks;

namespace ConsultDesk.Web.Shell;

/// <summary>Whether the database answers.</summary>
internal sealed class DatabaseCheck(IDbContextFactory<DeskContext> contexts) : IHealthCheck
{
    /// <summary>Tag of the checks that say whether the desk is ready.</summary>
    public const string Ready = "ready";

    public async Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default)
    {
        try
        {
            await using var db = await contexts.CreateDbContextAsync(cancellationToken);
            // A question to a table: a connection alone is answered by any file and any server.
            await db.DataProtectionKeys.AsNoTracking().Select(key => key.Id).FirstOrDefaultAsync(cancellationToken);
            return HealthCheckResult.Healthy();
        }
        catch (Exception e) when (StoreFault.Sentence(e) is not null || StoreFault.Said(e) is not null)
        {
            return HealthCheckResult.Unhealthy(StoreFault.Sentence(e) ?? "The database refuses to answer.");
        }
    }
}
