using System.Collections.Immutable;
using UnitsNet;

namespace ConsultDesk.Calculations.Climate;

/// <summary>
/// The hours of a year at a station as a weather file gives them: 365 days of 24 hours of standard time, hour 0 from
/// midnight to one o'clock on 1 January. Temperature and dew point have no gaps; what the file does not record is empty.
/// </summary>
public sealed record HourlyWeather
{
    /// <summary>Air temperature, degrees Celsius, 8760 values.</summary>
    public required ImmutableArray<double> TemperatureC { get; init; }

    /// <summary>Dew point over water, degrees Celsius, at most the temperature, 8760 values.</summary>
    public required ImmutableArray<double> DewPointC { get; init; }

    /// <summary>Wind at 10 m, m/s, 8760 values or none.</summary>
    public ImmutableArray<double> WindMPerS { get; init; } = [];

    /// <summary>Global sun on a level surface, mean over the hour, W/m2, 8760 values or none.</summary>
    public ImmutableArray<double> SunWPerM2 { get; init; } = [];

    /// <summary>Long-wave radiation of the sky on a level surface, W/m2, 8760 values or none.</summary>
    public ImmutableArray<double> SkyWPerM2 { get; init; } = [];

    /// <summary>Rain or snow fell in the hour, 8760 values or none.</summary>
    public ImmutableArray<bool> Wet { get; init; } = [];

    /// <summary>True when the lists have the length of a year or are left out where they may be.</summary>
    public bool IsWhole => TemperatureC.Length == YearWeather.Hours && DewPointC.Length == YearWeather.Hours
        && WindMPerS.Length is 0 or YearWeather.Hours && SunWPerM2.Length is 0 or YearWeather.Hours
        && SkyWPerM2.Length is 0 or YearWeather.Hours && Wet.Length is 0 or YearWeather.Hours;
}

/// <summary>Where the hours of a file were recorded, as far as it says.</summary>
public sealed record WeatherStation
{
    /// <summary>Name of the place, or empty.</summary>
    public string Name { get; init; } = "";

    /// <summary>Latitude, north positive.</summary>
    public Angle? Latitude { get; init; }

    /// <summary>Longitude, east positive.</summary>
    public Angle? Longitude { get; init; }

    /// <summary>Elevation above the sea.</summary>
    public Length? Elevation { get; init; }

    /// <summary>What the file says of its origin, or empty.</summary>
    public string Origin { get; init; } = "";
}

/// <summary>A place in a weather file that could not be read.</summary>
/// <param name="Line">Line of the text, from 1; 0 for the text as a whole.</param>
/// <param name="Column">Column of the line, from 1; null for the whole line.</param>
/// <param name="Message">What is there and what was expected, with line and column in words.</param>
public sealed record WeatherFileError(int Line, int? Column, string Message);

/// <summary>A weather file as far as it was read.</summary>
/// <param name="Hours">The hours; null when there are errors.</param>
/// <param name="Station">Where they were recorded.</param>
/// <param name="Errors">What is wrong, at most <see cref="WeatherFileReader.MostErrors"/>.</param>
/// <param name="Notes">What was left out, filled or cut, in sentences a person can read.</param>
public sealed record WeatherReading(
    HourlyWeather? Hours, WeatherStation Station, ImmutableArray<WeatherFileError> Errors, ImmutableArray<string> Notes);
