using System.Text;
using ConsultDesk.Records;
using ConsultDesk.Web.Backup;
using Microsoft.Extensions.Diagnostics.HealthChecks;

namespace ConsultDesk.Web.Shell;

/// <summary>What /health/live and /health/ready look at and say: one word of all, then a line for each check. Nothing of the inside but these sentences.</summary>
internal static class HealthAnswer
{
    public static void AddHealth(this IServiceCollection services) => services.AddHealthChecks()
        .AddCheck<DatabaseCheck>("database", tags: [DatabaseCheck.Ready])
        .AddCheck<KeysCheck>("keys", tags: [DatabaseCheck.Ready])
        .Add(new("disk", Room, failureStatus: null, [DatabaseCheck.Ready]));

    public static void MapHealth(this IEndpointRouteBuilder app)
    {
        app.MapHealthChecks("/health/live", new() { Predicate = _ => false, ResponseWriter = WriteAsync }).AllowAnonymous();
        app.MapHealthChecks("/health/ready", new() { Predicate = check => check.Tags.Contains(DatabaseCheck.Ready), ResponseWriter = WriteAsync }).AllowAnonymous();
    }

    private static RoomCheck Room(IServiceProvider services)
    {
        var data = services.GetRequiredService<DataSettings>();
        List<string> folders = data.Kind == StoreKind.Sqlite ? [data.Place] : [];
        return new([.. folders, .. services.GetRequiredService<BackupSettings>().Directory is { } backups ? [backups] : Array.Empty<string>()], RoomCheck.FreeAt);
    }

    private static Task WriteAsync(HttpContext context, HealthReport report)
    {
        var text = new StringBuilder().Append(report.Status).Append('\n');
        foreach (var (name, check) in report.Entries.OrderBy(entry => entry.Key, StringComparer.Ordinal))
        {
            text.Append(name).Append(": ").Append(check.Status).Append(check.Description is { } said ? ". " + said : "").Append('\n');
        }

        context.Response.ContentType = "text/plain; charset=utf-8";
        return context.Response.WriteAsync(text.ToString());
    }
}
