using System.Globalization;
using ConsultDesk.Web.Shell;

namespace ConsultDesk.Web.Backup;

/// <summary>Back-ups the desk makes by itself, from the settings <c>Backup:…</c>.</summary>
/// <param name="Directory">The folder they go to; null when none are made by themselves.</param>
/// <param name="Every">Time from one to the next, 1 minute to 31 days.</param>
/// <param name="Keep">How many of them are kept, 1 to 1000.</param>
/// <param name="BeforeUpdate">Whether one is made before a new release changes the tables.</param>
/// <param name="PostgresPrograms">Folder of PostgreSQL's client programs; empty to look for them as the system does.</param>
internal sealed record BackupSettings(string? Directory, TimeSpan Every, int Keep, bool BeforeUpdate, string PostgresPrograms)
{
    /// <summary>As shipped: daily, two weeks of them (our judgement).</summary>
    public static readonly BackupSettings Usual = new(null, TimeSpan.FromDays(1), 14, true, "");

    private static readonly TimeSpan Shortest = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan Longest = TimeSpan.FromDays(31);

    /// <exception cref="StartRefusedException">A setting cannot be used.</exception>
    public static BackupSettings Read(IConfiguration configuration, string contentRoot)
    {
        var backup = configuration.GetSection("Backup");
        var directory = backup["Directory"]?.Trim();
        var every = Usual.Every;
        if (backup["Every"]?.Trim() is { Length: > 0 } typed
            && (!TimeSpan.TryParse(typed, CultureInfo.InvariantCulture, out every) || every < Shortest || every > Longest))
        {
            throw new StartRefusedException($"Backup:Every is \"{typed}\"; expected a time from 00:01:00 (a minute) to 31.00:00:00 (31 days), for example 1.00:00:00 for a day.");
        }

        var keep = Usual.Keep;
        if (backup["Keep"]?.Trim() is { Length: > 0 } many && (!int.TryParse(many, NumberStyles.None, CultureInfo.InvariantCulture, out keep) || keep is < 1 or > 1000))
        {
            throw new StartRefusedException($"Backup:Keep is \"{many}\"; expected a number from 1 to 1000.");
        }

        var before = backup["BeforeUpdate"]?.Trim().ToLowerInvariant() switch
        {
            null or "" or "yes" or "true" => true,
            "no" or "false" => false,
            var other => throw new StartRefusedException($"Backup:BeforeUpdate is \"{other}\"; expected yes or no."),
        };
        return new(string.IsNullOrEmpty(directory) ? null : Path.GetFullPath(directory, contentRoot), every, keep, before, backup["PostgresPrograms"]?.Trim() ?? "");
    }
}
