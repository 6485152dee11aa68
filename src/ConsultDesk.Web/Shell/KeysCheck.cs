using System.Security.Cryptography;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.Extensions.Diagnostics.HealthChecks;

namespace ConsultDesk.Web.Shell;

/// <summary>Whether the keys that protect sign-in cookies can be used; without them nobody gets in.</summary>
internal sealed class KeysCheck(IDataProtectionProvider keys) : IHealthCheck
{
    private static readonly byte[] Sample = "ready"u8.ToArray();

    public Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default)
    {
        try
        {
            var protector = keys.CreateProtector(nameof(KeysCheck));
            return Task.FromResult(protector.Unprotect(protector.Protect(Sample)).AsSpan().SequenceEqual(Sample)
                ? HealthCheckResult.Healthy()
                : HealthCheckResult.Unhealthy("The keys do not give back what they protected."));
        }
        catch (CryptographicException e)
        {
            return Task.FromResult(HealthCheckResult.Unhealthy("The keys cannot be used.", e));
        }
    }
}
