using System.Collections.Immutable;
using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>
/// A place somebody entered by hand: twelve months of temperature and humidity, the rest estimated. A stop names it
/// by <see cref="Key"/>.
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

    /// <summary>What <see cref="Stop.PlaceKey"/> holds for this place.</summary>
    public string Key() => KeyStart + Id;
}

/// <summary>Means of one month.</summary>
/// <param name="Id">The month, <c>1</c> to <c>12</c>.</param>
/// <param name="Mean">Mean temperature, -50 to 45 C.</param>
/// <param name="Humidity">Mean relative humidity over water, 5 to 100 %.</param>
public sealed record OwnMonth(string Id, Temperature Mean, RelativeHumidity Humidity);
