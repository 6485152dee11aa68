using ConsultDesk.Records;
using ConsultDesk.Web.Shell;

namespace ConsultDesk.Web.Backup;

/// <summary>Back-ups: by themselves, on demand, and before an update.</summary>
internal static class BackupRegistration
{
    /// <summary>The argument that makes one back-up and ends: <c>--backup FILE</c>.</summary>
    public const string Argument = "backup";

    /// <exception cref="StartRefusedException">A setting cannot be used.</exception>
    public static void AddBackup(this WebApplicationBuilder builder, DataSettings data)
    {
        var settings = BackupSettings.Read(builder.Configuration, builder.Environment.ContentRootPath);
        builder.Services.AddSingleton(settings);
        builder.Services.AddSingleton(data);
        builder.Services.AddSingleton(new Backups(data.Kind, data.Connection, settings.PostgresPrograms));
        if (settings.Directory is { } directory)
        {
            builder.Services.AddSingleton(services => ActivatorUtilities.CreateInstance<BackupFolder>(services, directory));
            builder.Services.AddSingleton<ScheduledBackups>();
            builder.Services.AddHostedService(services => services.GetRequiredService<ScheduledBackups>());
            builder.Services.AddHealthChecks().AddCheck<ScheduledBackups>("backup", tags: [DatabaseCheck.Ready]);
        }
    }

    /// <summary>Makes the back-up that was asked for by <see cref="Argument"/>, whether or not a desk runs on the same records.</summary>
    /// <returns>True when one was asked for; nothing else is to be done then.</returns>
    /// <exception cref="StartRefusedException">It could not be made.</exception>
    public static async Task<bool> BackUpIfAskedAsync(this WebApplication app)
    {
        if (app.Configuration[Argument] is not { Length: > 0 } file)
        {
            return false;
        }

        try
        {
            file = Path.GetFullPath(file);
            await app.Services.GetRequiredService<Backups>().Make(file);
            Console.WriteLine($"Back-up       {file}");
            return true;
        }
        catch (BackupFailedException failed)
        {
            throw new StartRefusedException(failed.Message, failed);
        }
    }

    /// <summary>What is done before a new release changes the tables.</summary>
    /// <param name="services">The app's.</param>
    /// <param name="data">Where the records are.</param>
    /// <returns>What to call with the step the tables stand at; null when the settings say no.</returns>
    public static Func<string, Task>? BeforeUpdate(IServiceProvider services, DataSettings data)
    {
        var settings = services.GetRequiredService<BackupSettings>();
        if (!settings.BeforeUpdate)
        {
            return null;
        }

        return async step =>
        {
            // Beside a SQLite file there is a place; where a server's back-ups go, only a setting can say.
            var folder = settings.Directory ?? (data.Kind == StoreKind.Sqlite ? data.Place : null)
                ?? throw new StartRefusedException(
                    "This release has to change the tables, and a back-up comes first: set Backup:Directory to the folder it goes to, or make one yourself and start once with --Backup:BeforeUpdate=no.");
            var backups = services.GetRequiredService<Backups>();
            var file = Path.Combine(folder, $"before-update-from-{step}-{services.GetRequiredService<TimeProvider>().GetUtcNow().UtcDateTime:yyyyMMdd-HHmmss}{backups.Ending}");
            try
            {
                await backups.Make(file);
            }
            catch (BackupFailedException failed)
            {
                throw new StartRefusedException($"This release has to change the tables, and the back-up before it failed, so nothing was changed. {failed.Message}", failed);
            }

            Console.WriteLine($"Back-up       {file}");
        };
    }
}
