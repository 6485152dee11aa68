using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>A weather file as it was kept.</summary>
/// <param name="Sha256">The hash that a place of a design names it by.</param>
/// <param name="Hours">The hours, rounded as they are stored.</param>
public sealed record KeptHours(string Sha256, HourlyWeather Hours);

/// <summary>The weather files of vans. A file stays while the van does: an older revision of an option may still name it.</summary>
public sealed class WeatherFiles(FirmContexts contexts, TimeProvider time)
{
    /// <summary>Most files of one van.</summary>
    public const int MostOfVan = 20;

    /// <summary>Keeps the hours of a file for a van; the same hours are kept once.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such van.</exception>
    /// <exception cref="InvalidInputException">The name is too long, or the van has too many files.</exception>
    public async Task<KeptHours> Keep(SignedIn who, Guid vanId, string fileName, HourlyWeather hours, CancellationToken cancellation = default)
    {
        var check = new FieldChecks();
        var name = check.Text(nameof(WeatherFile.FileName), fileName, TextLimits.Name);
        check.ThrowIfAny();
        var bytes = StoredHours.Write(hours);
        var kept = new KeptHours(StoredHours.Sha256(bytes), StoredHours.Read(bytes));

        await using var db = contexts.OpenFor(who.FirmId);
        if (!await db.Vans.AnyAsync(van => van.Id == vanId, cancellation))
        {
            throw new RecordNotFoundException("van", vanId);
        }

        if (await db.WeatherFiles.AnyAsync(file => file.VanId == vanId && file.Sha256 == kept.Sha256, cancellation))
        {
            return kept;
        }

        check.That(
            await db.WeatherFiles.CountAsync(file => file.VanId == vanId, cancellation) < MostOfVan,
            nameof(WeatherFile.FileName),
            FormattableString.Invariant($"Expected no more than {MostOfVan} weather files for one van."));
        check.ThrowIfAny();
        var row = new WeatherFile { VanId = vanId, Sha256 = kept.Sha256, FileName = name, Hours = StoredHours.Pack(bytes), AddedAt = time.UtcNow() };
        db.WeatherFiles.Add(row);
        db.Note(who, "weather.added", "van", vanId, row.AddedAt);
        try
        {
            await db.SaveChangesAsync(cancellation);
        }
        catch (DbUpdateException e) when (StoreFault.Of(e) is null)
        {
            // Two people may bring the same file at once: then it is there, and that is all that was wanted.
            await using var again = contexts.OpenFor(who.FirmId);
            if (!await again.WeatherFiles.AnyAsync(file => file.VanId == vanId && file.Sha256 == kept.Sha256, cancellation))
            {
                throw;
            }
        }

        return kept;
    }

    /// <summary>The hours of a van's files by their hash. A file that is damaged is left out, and its place is then calculated from its months.</summary>
    public async Task<WeatherHours> Hours(SignedIn who, Guid vanId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var files = await db.WeatherFiles.AsNoTracking().Where(file => file.VanId == vanId)
            .Select(file => new { file.Sha256, file.Hours }).ToListAsync(cancellation);
        var hours = ImmutableDictionary.CreateBuilder<string, HourlyWeather>();
        foreach (var file in files)
        {
            try
            {
                var bytes = StoredHours.Unpack(file.Hours);
                if (StoredHours.Sha256(bytes) == file.Sha256)
                {
                    hours[file.Sha256] = StoredHours.Read(bytes);
                }
            }
            catch (InvalidDataException)
            {
                // Left out: who calculates says that the hours are missing.
            }
        }

        return new WeatherHours(hours.ToImmutable());
    }
}
