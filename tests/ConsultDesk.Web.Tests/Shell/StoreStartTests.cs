using System.Net;
using System.Net.Sockets;
using ConsultDesk.Records;
using ConsultDesk.Web.Shell;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Web.Tests.Shell;

public sealed class StoreStartTests
{
    [Fact]
    public async Task A_database_server_that_does_not_answer_refuses_the_start_in_one_line_without_the_password()
    {
        // A port that was free a moment ago: nothing listens there.
        int port;
        using (var probe = new TcpListener(IPAddress.Loopback, 0))
        {
            probe.Start();
            port = ((IPEndPoint)probe.LocalEndpoint).Port;
        }

        await using var services = new ServiceCollection()
            // The data layer keeps one model for all of this process: another shape of the account tables would become everybody's.
            .Configure<IdentityOptions>(DeskStore.Identity)
            .AddDbContextFactory<DeskContext>(options => options.UseDeskStore(
                StoreKind.Postgres, FormattableString.Invariant($"Host=127.0.0.1;Port={port};Username=heron;Password=sesame-open;Database=desk")))
            .BuildServiceProvider();

        var refused = await Assert.ThrowsAsync<StartRefusedException>(() =>
            DeskStart.PrepareStoreAsync(services.GetRequiredService<IDbContextFactory<DeskContext>>(), "PostgreSQL, by Data:Connection"));

        Assert.Contains(FormattableString.Invariant($"127.0.0.1:{port}"), refused.Message, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', refused.Message);
        Assert.DoesNotContain("sesame-open", refused.Message, StringComparison.Ordinal);
    }
}
