using System.Collections.Immutable;
using UnitsNet;

namespace ConsultDesk.Calculations.Climate;

/// <summary>A place with the mean weather of its twelve months.</summary>
public sealed record Place
{
    /// <summary>Stable key, kebab-case, for example <c>seattle</c>.</summary>
    public required string Key { get; init; }

    /// <summary>Name of the place, with the station in brackets where that differs.</summary>
    public required string Name { get; init; }

    /// <summary>Country, ISO 3166-1 alpha-2.</summary>
    public required string Country { get; init; }

    /// <summary>Latitude, north positive.</summary>
    public required Angle Latitude { get; init; }

    /// <summary>Longitude, east positive.</summary>
    public required Angle Longitude { get; init; }

    /// <summary>Elevation of the station.</summary>
    public required Length Elevation { get; init; }

    /// <summary>January to December.</summary>
    public required ImmutableArray<MonthNormals> Months { get; init; }

    /// <summary>Where the numbers come from.</summary>
    public required string Source { get; init; }

    /// <summary>How sure they are.</summary>
    public required PlaceSureness Sureness { get; init; }

    /// <summary>Temperature that 99.6 % of the year's hours exceed, where hours were measured; estimated from the months when null.</summary>
    public Temperature? ColdForHeating { get; init; }

    /// <summary>Normals of a month, 1 to 12.</summary>
    public MonthNormals Month(int month) => Months[(int)Vehicle.DesignLimits.Month.Check(month, nameof(month)) - 1];
}

/// <summary>Mean weather of one month at the station.</summary>
/// <param name="Month">Month, 1 to 12.</param>
/// <param name="Mean">Mean temperature.</param>
/// <param name="MeanMaximum">Mean of the daily maxima.</param>
/// <param name="MeanMinimum">Mean of the daily minima.</param>
/// <param name="DewPoint">Mean dew point.</param>
/// <param name="Wind">Mean wind speed at 10 m.</param>
/// <param name="Sun">Mean over day and night of the global sun on a level surface.</param>
/// <param name="WetDays">Days of the month with rain or snow.</param>
/// <param name="WetDayCount">How those were counted.</param>
public sealed record MonthNormals(
    int Month,
    Temperature Mean,
    Temperature MeanMaximum,
    Temperature MeanMinimum,
    Temperature DewPoint,
    Speed Wind,
    Irradiance Sun,
    double WetDays,
    WetDayCount WetDayCount);

/// <summary>What made a day count as wet.</summary>
public enum WetDayCount
{
    /// <summary>Any rain or snow seen in an hour of the typical year, a trace too: more days than a met service counts.</summary>
    Trace,

    /// <summary>At least 1 mm in the typical year.</summary>
    OneMillimetre,

    /// <summary>At least 0.25 mm, a met service's mean recalled from memory and not looked up.</summary>
    Recalled,

    /// <summary>Our estimate from how cloudy the month is; docs/method/climate.md gives the equation.</summary>
    Estimated,
}

/// <summary>How sure the months of a place are.</summary>
public enum PlaceSureness
{
    /// <summary>Read from the typical-year file of the named station; a typical year is no 30-year mean.</summary>
    TypicalYear,

    /// <summary>The same, with the temperatures of a met service's official normals.</summary>
    OfficialTemperatures,

    /// <summary>From the hours of a weather file that was brought in.</summary>
    WeatherFile,

    /// <summary>Typed by hand, the rest estimated.</summary>
    Entered,
}
