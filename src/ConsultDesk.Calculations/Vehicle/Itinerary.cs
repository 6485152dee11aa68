using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>A day of a year of 365 days.</summary>
/// <param name="Month">Month, 1 to 12.</param>
/// <param name="Day">Day of the month, from 1.</param>
public sealed record MonthDay(int Month, int Day);

/// <summary>
/// One stay of the itinerary. The stays of a design cover the year once, in any order; a stay that ends before it
/// begins runs over New Year.
/// </summary>
public sealed record ItineraryStop
{
    /// <summary>Unique within the itinerary.</summary>
    public required string Id { get; init; }

    /// <summary>Key of a place in the climate table.</summary>
    public required string PlaceKey { get; init; }

    /// <summary>Altitude of the stay, -300 to 5000 m.</summary>
    public required Length Altitude { get; init; }

    /// <summary>How it stands to the wind.</summary>
    public required Shelter Shelter { get; init; }

    /// <summary>First day.</summary>
    public required MonthDay From { get; init; }

    /// <summary>Last day, included.</summary>
    public required MonthDay To { get; init; }
}
