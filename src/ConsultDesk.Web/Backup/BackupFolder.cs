using System.Globalization;
using System.Text.RegularExpressions;
using ConsultDesk.Records;

namespace ConsultDesk.Web.Backup;

/// <summary>The folder back-ups go to by themselves: one name for each moment, the oldest removed. It touches no file of another name.</summary>
/// <param name="folder">The folder.</param>
/// <param name="backups">Makes them.</param>
/// <param name="time">The clock of their names.</param>
internal sealed partial class BackupFolder(string folder, Backups backups, TimeProvider time)
{
    /// <summary>When the newest of them was made, UTC by its name; null without one.</summary>
    public DateTime? Newest() => All().Select(file => (DateTime?)TimeOf(file)).LastOrDefault();

    /// <summary>Makes one more, then removes the oldest until <paramref name="keep"/> are left, never the one just made.</summary>
    /// <returns>Its path.</returns>
    /// <exception cref="BackupFailedException">It could not be made; none was removed then.</exception>
    public async Task<string> MakeAsync(int keep, CancellationToken cancellation)
    {
        // After the clock was moved back a name of this second may be taken, and the newest file bear the older name.
        var at = time.GetUtcNow().UtcDateTime;
        string made;
        while (File.Exists(made = Path.Combine(folder, string.Create(CultureInfo.InvariantCulture, $"desk-{at:yyyyMMdd-HHmmss}{backups.Ending}"))))
        {
            at = at.AddSeconds(1);
        }

        await backups.Make(made, cancellation);
        foreach (var old in All().Where(file => file != made).Reverse().Skip(keep - 1).ToList())
        {
            File.Delete(old);
        }

        return made;
    }

    private IEnumerable<string> All() => Directory.Exists(folder)
        ? Directory.EnumerateFiles(folder).Where(file => Name().IsMatch(Path.GetFileName(file)) && Path.GetExtension(file) == backups.Ending).Order(StringComparer.Ordinal)
        : [];

    private static DateTime TimeOf(string file) =>
        DateTime.ParseExact(Name().Match(Path.GetFileName(file)).Groups[1].Value, "yyyyMMdd-HHmmss", CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal);

    [GeneratedRegex(@"^desk-([0-9]{8}-(?:[01][0-9]|2[0-3])[0-5][0-9][0-5][0-9])\.(?:db|dump)$")]
    private static partial Regex Name();
}
