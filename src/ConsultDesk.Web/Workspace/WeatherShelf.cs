using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;

namespace ConsultDesk.Web.Workspace;

/// <summary>The weather files of the van that is open, and the way to keep one more.</summary>
/// <param name="hours">The hours that are there.</param>
/// <param name="keep">Keeps the hours of a file under its name.</param>
public sealed class WeatherShelf(WeatherHours hours, Func<string, HourlyWeather, Task<KeptHours>> keep)
{
    /// <summary>The hours that are there. Another value after a file was kept, so that a calculation goes on with its own.</summary>
    public WeatherHours Hours { get; private set; } = hours;

    /// <summary>Keeps the hours of a file.</summary>
    /// <exception cref="InvalidInputException">The name is too long, or the van has too many files.</exception>
    /// <exception cref="RecordNotFoundException">The van is gone.</exception>
    public async Task<KeptHours> KeepAsync(string fileName, HourlyWeather read)
    {
        var kept = await keep(fileName, read);
        Hours = Hours.With(kept.Sha256, kept.Hours);
        return kept;
    }

    /// <summary>What tells results apart that rest on the same design but not on the same files.</summary>
    public string KeyOf(Design design) => string.Concat(Hours.Missing(design).Select(name => "|" + name));
}
