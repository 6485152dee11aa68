using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Heating;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>The night the heater is sized for.</summary>
internal static class DesignNight
{
    /// <summary>
    /// The same wind and pressure at the design temperature, with the dew point kept below saturation, under the sky of a month's
    /// dry spell: the coldest nights are clear.
    /// </summary>
    public static NightWeather Of(NightWeather weather)
    {
        double ceilingC = MoistAir.DewPointC(
            Nights.HighestSaturation * MoistAir.SaturationPressurePa(weather.DesignTemperature.DegreesCelsius));
        double dewPointC = Math.Min(weather.DewPoint.DegreesCelsius, ceilingC);
        return weather with
        {
            Temperature = weather.DesignTemperature,
            DewPoint = Temperature.FromDegreesCelsius(dewPointC),
            SkyLoss = Nights.SkyLoss(weather.DesignTemperature.DegreesCelsius, dewPointC, weather.Pressure.Pascals, Assumptions.Likely["sky-cloud-clear"]),
        };
    }
}

/// <summary>The most a heater gives.</summary>
internal static class HeaterLimit
{
    /// <summary>More than any van could lose: the output needed is asked with this limit.</summary>
    public const double UnlimitedW = 1e6;

    /// <summary>Rated output of the design's heater at its altitude, 0 without a heater.</summary>
    public static double OfW(Design design) => OfW(design, design.Stop.Altitude.Meters);

    /// <summary>Rated output of the design's heater at an altitude in metres, 0 without a heater.</summary>
    public static double OfW(Design design, double altitudeM)
    {
        double ratedW = (double)design.Heater.RatedOutput.Watts;
        return design.Heater.Kind switch
        {
            HeaterKind.None => 0,
            HeaterKind.RoomSealedLiquidFuel or HeaterKind.Electric or HeaterKind.Hydronic or HeaterKind.WoodStove => ratedW,
            HeaterKind.RoomSealedGas or HeaterKind.UnfluedGas =>
                ratedW * FuelUse.GasInputShare(Length.FromMeters(altitudeM)).DecimalFractions,
            _ => throw new ArgumentOutOfRangeException(nameof(design), design.Heater.Kind, "Expected a kind of heater."),
        };
    }
}
