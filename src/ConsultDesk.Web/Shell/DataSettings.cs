using ConsultDesk.Records;

namespace ConsultDesk.Web.Shell;

/// <summary>Where the records are kept, read from the settings <c>Data:Kind</c>, <c>Data:Directory</c> and <c>Data:Connection</c>.</summary>
/// <param name="Kind">Which store.</param>
/// <param name="Connection">Connection string of the store.</param>
/// <param name="Place">The same for people: a folder, or a server without its password.</param>
internal sealed record DataSettings(StoreKind Kind, string Connection, string Place)
{
    /// <summary>Name of the SQLite file in the data folder.</summary>
    public const string FileName = "desk.db";

    /// <exception cref="StartRefusedException">Something is missing or cannot be used.</exception>
    public static DataSettings Read(IConfiguration configuration, IHostEnvironment environment)
    {
        var kind = configuration["Data:Kind"] ?? "sqlite";
        var connection = configuration["Data:Connection"];
        if (string.Equals(kind, "postgres", StringComparison.OrdinalIgnoreCase))
        {
            return string.IsNullOrWhiteSpace(connection)
                ? throw new StartRefusedException("Data:Kind is postgres, so Data:Connection must hold its connection string, for example \"Host=localhost;Database=consultdesk;Username=consultdesk\".")
                : new(StoreKind.Postgres, connection, "PostgreSQL, by Data:Connection");
        }

        if (!string.Equals(kind, "sqlite", StringComparison.OrdinalIgnoreCase))
        {
            throw new StartRefusedException($"Data:Kind is \"{kind}\"; expected sqlite or postgres.");
        }

        if (!string.IsNullOrWhiteSpace(connection))
        {
            throw new StartRefusedException("Data:Connection is for Data:Kind postgres. For sqlite set Data:Directory to the folder the records are kept in.");
        }

        var setting = configuration["Data:Directory"];
        if (string.IsNullOrWhiteSpace(setting))
        {
            throw new StartRefusedException(
                $"No data folder is set ({environment.EnvironmentName}). Set Data:Directory (or the environment variable Data__Directory) to a folder that is backed up, for example /var/lib/consultdesk.");
        }

        var directory = Path.GetFullPath(setting, environment.ContentRootPath);
        try
        {
            Directory.CreateDirectory(directory);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new StartRefusedException($"The data folder {directory} cannot be made: {e.Message}", e);
        }

        return new(StoreKind.Sqlite, $"Data Source={Path.Combine(directory, FileName)}", directory);
    }
}
