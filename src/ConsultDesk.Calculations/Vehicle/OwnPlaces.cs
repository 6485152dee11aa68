using System.Collections.Immutable;
using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>
/// A place somebody entered by hand: twelve months of temperature and humidity, the rest estimated; or one whose hours
/// came in a weather file. A stop names it by <see cref="Key"/>.
/// </summary>
public sealed record OwnPlace
{
    /// <summary>What the key of an own place begins with; no key of the climate table does.</summary>
    public const string KeyStart = "own:";

    /// <summary>Unique within the design.</summary>
    public required string Id { get; init; }

    /// <summary>Name the client would use.</summary>
    public required string Name { get; init; }

    /// <summary>Country, ISO 3166-1 alpha-2, or null.</summary>
    public string? Country { get; init; }

    /// <summary>Latitude, north positive, -60 to 75 degrees.</summary>
    public required Angle Latitude { get; init; }

    /// <summary>Elevation the months were measured at, -300 to 5000 m.</summary>
    public required Length Elevation { get; init; }

    /// <summary>January to December.</summary>
    public required ImmutableArray<OwnMonth> Months { get; init; }

    /// <summary>The weather file the months were taken from; null when they were typed.</summary>
    public HourFile? Hours { get; init; }

    /// <summary>What <see cref="Stop.PlaceKey"/> holds for this place.</summary>
    public string Key() => KeyStart + Id;
}

/// <summary>Means of one month.</summary>
/// <param name="Id">The month, <c>1</c> to <c>12</c>.</param>
/// <param name="Mean">Mean temperature, -50 to 45 C.</param>
/// <param name="Humidity">Mean relative humidity over water, 5 to 100 %.</param>
public sealed record OwnMonth(string Id, Temperature Mean, RelativeHumidity Humidity);

/// <summary>
/// The weather file of an own place. The hours themselves are kept beside the design, under <see cref="Sha256"/>; what
/// stands here is enough to do without them.
/// </summary>
public sealed record HourFile
{
    /// <summary>SHA-256 of the hours as they are kept, lower-case hexadecimal.</summary>
    public required string Sha256 { get; init; }

    /// <summary>Name of the file.</summary>
    public required string FileName { get; init; }

    /// <summary>What the file says of its origin, or empty.</summary>
    public required string Origin { get; init; }

    /// <summary>Longitude, east positive, as far as the file gives it.</summary>
    public Angle? Longitude { get; init; }

    /// <summary>Coldest hour.</summary>
    public required Temperature Coldest { get; init; }

    /// <summary>Temperature that 99.6 % of the hours exceed: what heaters are sized for.</summary>
    public required Temperature ColdForHeating { get; init; }

    /// <summary>January to December.</summary>
    public required ImmutableArray<HourFileMonth> Months { get; init; }
}

/// <summary>What a file's hours say of one month, besides its mean temperature and humidity.</summary>
/// <param name="Id">The month, <c>1</c> to <c>12</c>.</param>
/// <param name="MeanMaximum">Mean of the warmest hours of the days.</param>
/// <param name="MeanMinimum">Mean of the coldest hours of the days.</param>
/// <param name="DewPoint">Mean dew point over water.</param>
/// <param name="WindMPerS">Mean wind at 10 m, m/s; null when the file has none.</param>
/// <param name="SunWPerM2">Mean global sun on a level surface over day and night, W/m2; null when the file has none.</param>
/// <param name="WetDays">Days with rain or snow; null when the file does not tell them.</param>
public sealed record HourFileMonth(
    string Id, Temperature MeanMaximum, Temperature MeanMinimum, Temperature DewPoint, double? WindMPerS, double? SunWPerM2, double? WetDays);
