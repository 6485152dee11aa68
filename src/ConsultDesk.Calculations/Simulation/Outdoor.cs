using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>Outdoor air of one hour, at its middle.</summary>
/// <param name="TemperatureC">Temperature.</param>
/// <param name="VapourPressurePa">Vapour pressure.</param>
/// <param name="StationWindMPerS">Wind of the station at 10 m.</param>
/// <param name="SunWPerM2">Global sun on a level surface.</param>
/// <param name="Falling">What falls from the sky.</param>
/// <param name="PressurePa">Barometric pressure.</param>
/// <param name="Shelter">Shelter from the wind.</param>
/// <param name="SnowOnRoof">Snow lies on the roof: nothing in it lets air through.</param>
/// <param name="SkyLossWPerM2">What a black level surface at air temperature loses to the open sky.</param>
internal readonly record struct Outdoor(
    double TemperatureC,
    double VapourPressurePa,
    double StationWindMPerS,
    double SunWPerM2,
    Precipitation Falling,
    double PressurePa,
    Shelter Shelter,
    bool SnowOnRoof = false,
    double SkyLossWPerM2 = 0)
{
    /// <summary>An hour of a year; hours before 0 and from 8760 on belong to the years beside it, which are the same.</summary>
    public static Outdoor Of(YearWeather weather, int hour)
    {
        int h = ((hour % YearWeather.Hours) + YearWeather.Hours) % YearWeather.Hours;
        return new Outdoor(
            weather.TemperatureC[h],
            weather.VapourPressurePa[h],
            weather.StationWindMPerS[h],
            weather.SunWPerM2[h],
            weather.Falling[h],
            weather.PressurePa[h],
            weather.Shelter[h],
            weather.SnowOnRoof[h],
            weather.SkyLossWPerM2[h]);
    }

    /// <summary>The hours of a night's weather, all the same: without sun and rain.</summary>
    public static Outdoor Of(NightWeather weather, Shelter shelter) => new(
        weather.Temperature.DegreesCelsius,
        Air.MoistAir.SaturationPressurePa(weather.DewPoint.DegreesCelsius),
        weather.StationWind.MetersPerSecond,
        0,
        Precipitation.None,
        weather.Pressure.Pascals,
        shelter,
        SkyLossWPerM2: weather.SkyLoss.WattsPerSquareMeter);
}
