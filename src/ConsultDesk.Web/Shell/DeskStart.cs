using System.Net;
using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Records;
using ConsultDesk.Web.Account;
using ConsultDesk.Web.Backup;
using ConsultDesk.Web.Demo;
using Microsoft.AspNetCore.Connections;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Web.Shell;

/// <summary>What happens once, around the moment the server starts to listen.</summary>
internal static partial class DeskStart
{
    /// <summary>True when the setting <c>Desk:Demo</c> asks for invented data and a printed sign-in.</summary>
    public static bool IsDemo(this IConfiguration configuration) => configuration.GetValue<bool>("Desk:Demo");

    /// <summary>The demo's password is printed, so nobody else's machine may reach it. Asked for each address before it is bound.</summary>
    /// <exception cref="StartRefusedException">The address is not a loopback one.</exception>
    public static void RefuseUnlessLoopback(ListenOptions listen)
    {
        if (listen.IPEndPoint is { } address && !IPAddress.IsLoopback(address.Address))
        {
            throw new StartRefusedException(
                $"The demo prints its sign-in, so it listens on this machine only; {address} was asked for. Use --urls http://localhost:5071, or set Desk:Demo=false for a real desk.");
        }
    }

    /// <summary>Brings the database up to date, listens, says where, and comes back when the desk is stopped.</summary>
    /// <exception cref="StartRefusedException">The database does not answer or is a newer release's, the port is taken or the address is refused.</exception>
    public static async Task RunDeskAsync(this WebApplication app, DataSettings data)
    {
        await PrepareStoreAsync(app.Services.GetRequiredService<IDbContextFactory<DeskContext>>(), data.Place, BackupRegistration.BeforeUpdate(app.Services, data));
        await app.Services.GetRequiredService<SearchBook>().ProgramBegins();
        var demo = app.Configuration.IsDemo();
        if (demo)
        {
            await using var scope = app.Services.CreateAsyncScope();
            var consults = ActivatorUtilities.CreateInstance<DemoConsults>(scope.ServiceProvider);
            await ActivatorUtilities.CreateInstance<DemoDesk>(scope.ServiceProvider, consults).FillIfEmptyAsync();
        }

        LaneWidth.MeasureBeforeFirstBatch(
            app.Services.GetRequiredService<TimeProvider>(),
            choice => LogLanes(app.Logger, choice.Width, string.Join(", ", choice.Measured.Select(time => FormattableString.Invariant($"{time.Width}: {time.Nanoseconds:F0} ns")))));
        var first = !demo && await app.Services.GetRequiredService<Firms>().NoneYet();
        var token = first ? app.Services.GetRequiredService<SetUpDoor>().Open() : null;
        try
        {
            await app.StartAsync();
        }
        catch (IOException e) when (e.InnerException is AddressInUseException)
        {
            throw new StartRefusedException($"{e.Message.TrimEnd('.')}. Choose another port, for example --urls http://localhost:5072", e);
        }

        // Written, not logged: these lines are for the person who started it, whatever the log is set to.
        foreach (var address in app.Services.GetService<IServer>()?.Features.Get<IServerAddressesFeature>()?.Addresses ?? [])
        {
            Console.WriteLine($"Address       {address}");
        }

        if (demo)
        {
            Console.WriteLine($"Demo sign-in  {DemoDesk.Email}  {DemoDesk.Password}");
        }

        Console.WriteLine($"Data          {data.Place}");
        if (token is not null)
        {
            Console.WriteLine($"Set-up token  {token}  for the page /set-up; it works until a firm is founded or the desk is started again");
        }

        await app.WaitForShutdownAsync();
    }

    [LoggerMessage(LogLevel.Information, "Years are calculated {Width} side by side, by a measurement just now ({Measured} for one van's share).")]
    private static partial void LogLanes(ILogger log, int width, string measured);

    /// <summary>Brings the database up to date.</summary>
    /// <param name="contexts">Makes its context.</param>
    /// <param name="place">Where it is, for people.</param>
    /// <param name="beforeChange">Called before tables in use are changed.</param>
    /// <exception cref="StartRefusedException">It does not answer, refuses the sign-in, is a newer release's, or somebody else is migrating it.</exception>
    internal static async Task PrepareStoreAsync(IDbContextFactory<DeskContext> contexts, string place, Func<string, Task>? beforeChange = null)
    {
        try
        {
            await DeskStore.Migrate(contexts, beforeChange: beforeChange);
        }
        catch (NewerStoreException e)
        {
            throw new StartRefusedException(
                $"The records ({place}) are not opened: {e.Message.TrimEnd('.')}. Nothing was changed. Start that release, or this one on a back-up that was made before the update.", e);
        }
        catch (Exception e) when (e is TimeoutException || StoreFault.Said(e) is not null)
        {
            var remedy = StoreFault.Of(e) switch
            {
                StoreFaultKind.Full => "Make room on its disk",
                StoreFaultKind.ReadOnly => "See that this account may write its folder and every file in it",
                StoreFaultKind.Locked => "See which other program has it open",
                StoreFaultKind.Damaged => "Put a back-up in its place; keep the damaged one, something of it may be saved",
                _ => "See that the database runs and lets this account in",
            };
            throw new StartRefusedException(
                $"The records ({place}) cannot be opened: {(StoreFault.Said(e) ?? e).Message.ReplaceLineEndings(" ").TrimEnd('.')}. {remedy}, then start again.", e);
        }
    }
}
