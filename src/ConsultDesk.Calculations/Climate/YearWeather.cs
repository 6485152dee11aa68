using UnitsNet;

namespace ConsultDesk.Calculations.Climate;

/// <summary>
/// The outdoor air of a year, hour by hour: 365 days of 24 hours of standard time, hour 0 from midnight to one o'clock
/// on 1 January. Each value is that of the hour's middle; the arrays are flat so that a year is read fast.
/// </summary>
public sealed class YearWeather
{
    /// <summary>Hours in the year.</summary>
    public const int Hours = 8760;

    /// <summary>Days in the year.</summary>
    public const int Days = 365;

    /// <summary>Air temperature, degrees Celsius.</summary>
    public double[] TemperatureC { get; } = new double[Hours];

    /// <summary>Vapour pressure, Pa; at most that of saturation, over ice below freezing.</summary>
    public double[] VapourPressurePa { get; } = new double[Hours];

    /// <summary>Wind speed of the station at 10 m, m/s.</summary>
    public double[] StationWindMPerS { get; } = new double[Hours];

    /// <summary>Global sun on a level surface, W/m2.</summary>
    public double[] SunWPerM2 { get; } = new double[Hours];

    /// <summary>What falls from the sky.</summary>
    public Precipitation[] Falling { get; } = new Precipitation[Hours];

    /// <summary>Barometric pressure at the stay's altitude, Pa.</summary>
    public double[] PressurePa { get; } = new double[Hours];

    /// <summary>Shelter from the wind.</summary>
    public Vehicle.Shelter[] Shelter { get; } = new Vehicle.Shelter[Hours];

    /// <summary>Coldest night the heater is sized for, over all stays.</summary>
    public required Temperature DesignTemperature { get; init; }
}

/// <summary>What falls from the sky in an hour.</summary>
public enum Precipitation
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>Rain that falls straight.</summary>
    Rain,

    /// <summary>Rain driven by wind.</summary>
    DrivingRain,

    /// <summary>Snow.</summary>
    Snow,
}
