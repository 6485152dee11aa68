using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Climate;

/// <summary>
/// The outdoor air of a mean night of a month, from monthly means. docs/method/climate.md gives the equations and
/// how far off they are.
/// </summary>
public static class Nights
{
    /// <summary>Start of the night, hours of standard time.</summary>
    public const double BedTime = 22.5;

    /// <summary>End of the night, hours of standard time.</summary>
    public const double RisingTime = 6.5;

    // Hours since midnight.
    private const double MiddleOfTheNight = 2.5;

    /// <summary>Length of the night.</summary>
    public static readonly Duration Length = Duration.FromHours(24 - BedTime + RisingTime);

    /// <summary>Fall of temperature with height of the standard atmosphere, K/m.</summary>
    public const double LapseRateKPerM = 0.0065;

    /// <summary>Most vapour the outdoor air holds, as a share of saturation (over ice below freezing). Our measurement on 64 typical-year files.</summary>
    public const double HighestSaturation = 0.97;

    /// <summary>The mean night at the stop of a design.</summary>
    /// <exception cref="ArgumentException">The stop names no place of the climate table and none of the design.</exception>
    public static NightWeather At(Design design) =>
        At(DesignPlaces.Get(design, design.Stop.PlaceKey), design.Stop.Month, design.Stop.Altitude);

    /// <summary>The mean night of a month at a place, taken to an altitude.</summary>
    public static NightWeather At(Place place, int month, Length altitude)
    {
        MonthNormals normals = place.Month(month);
        double altitudeM = StandardAtmosphere.AltitudeRange.Check(altitude.Meters, nameof(altitude));
        double lapseK = LapseRateKPerM * (altitudeM - place.Elevation.Meters);

        double nightC = NightC(normals) - lapseK;

        double ceilingC = MoistAir.DewPointC(HighestSaturation * MoistAir.SaturationPressurePa(nightC));
        double dewPointC = Math.Min(normals.DewPoint.DegreesCelsius, ceilingC);

        return new NightWeather
        {
            Temperature = Temperature.FromDegreesCelsius(nightC),
            DewPoint = Temperature.FromDegreesCelsius(dewPointC),
            StationWind = normals.Wind,
            Pressure = StandardAtmosphere.Pressure(altitude),
            DesignTemperature = Temperature.FromDegreesCelsius(ColdestNightC(place) - lapseK),
            SkyLoss = SkyLoss(nightC, dewPointC, StandardAtmosphere.PressurePa(altitudeM), MeanCloud(place, month)),
        };
    }

    /// <summary>What a black level surface at air temperature loses to the open sky in the middle of a night.</summary>
    /// <param name="airC">Air temperature.</param>
    /// <param name="dewPointC">Dew point, or frost point below 0 °C.</param>
    /// <param name="pressurePa">Barometric pressure.</param>
    /// <param name="cloudShare">Share of the sky clouded.</param>
    internal static Irradiance SkyLoss(double airC, double dewPointC, double pressurePa, double cloudShare)
    {
        Assumptions likely = Assumptions.Likely;
        double overWaterC = MoistAir.DewPointOverWaterC(MoistAir.SaturationPressurePa(dewPointC));
        double clear = SkyTemperature.ClearSkyEmissivity(overWaterC, MiddleOfTheNight, pressurePa) + likely["sky-clear-offset"];
        double emissivity = SkyTemperature.WithCloud(Math.Min(1, clear), cloudShare, likely["sky-cloud-factor"]);
        return Irradiance.FromWattsPerSquareMeter(SkyTemperature.LossWPerM2(airC, SkyTemperature.RadiationWPerM2(emissivity, airC)));
    }

    // Wet and dry days by their share of the month; the few days of the dry spell are left in the dry ones.
    private static double MeanCloud(Place place, int month)
    {
        double wet = (double)PlaceYear.WetSpellDays(place, month) / YearCalendar.DaysInMonth[month - 1];
        return (wet * Assumptions.Likely["sky-cloud-wet"]) + ((1 - wet) * Assumptions.Likely["sky-cloud-dry"]);
    }

    /// <summary>The colder of the mean night and the design night of a stop, degrees Celsius.</summary>
    internal static double ColdestC(Design design)
    {
        Stop stop = design.Stop;
        Place place = DesignPlaces.Get(design, stop.PlaceKey);
        double lapseK = LapseRateKPerM * (stop.Altitude.Meters - place.Elevation.Meters);
        return Math.Min(NightC(place.Month(stop.Month)), ColdestNightC(place)) - lapseK;
    }

    // The mean temperature between bed time and rising time at the station.
    private static double NightC(MonthNormals normals) => normals.Mean.DegreesCelsius
        + ((normals.MeanMaximum.DegreesCelsius - normals.MeanMinimum.DegreesCelsius) * DayShape.Mean(BedTime, RisingTime));

    /// <summary>The coldest night of the whole year at the station that heaters are sized for.</summary>
    internal static double ColdestNightC(Place place) => Enumerable.Range(1, 12).Min(month => DesignC(place, month, Assumptions.Likely));

    /// <summary>
    /// The cold of a month at the station that heaters are sized for: its mean less 2.9 standard deviations of its daily
    /// means, which in the coldest month is the annual 99.6 % temperature (our fit to 64 typical-year files; the 2.9
    /// ranged from 2.0 to 5.5). Where days swing far and differ little, the mean minimum less one standard deviation is
    /// colder and counts. Where hours were measured, all months are moved by what brings the coldest to their 99.6 %.
    /// </summary>
    internal static double DesignC(Place place, int month, Assumptions assumptions)
    {
        double fromMonthsC = FromMonthsC(place, month, assumptions);
        return place.ColdForHeating is { } measured
            ? fromMonthsC + measured.DegreesCelsius - Enumerable.Range(1, 12).Min(any => FromMonthsC(place, any, assumptions))
            : fromMonthsC;
    }

    private static double FromMonthsC(Place place, int month, Assumptions assumptions)
    {
        MonthNormals normals = place.Month(month);
        double spreadK = PlaceYear.SpreadK(place, month, assumptions);
        return Math.Min(
            normals.Mean.DegreesCelsius - (assumptions["design-winter-spread"] * spreadK),
            normals.MeanMinimum.DegreesCelsius - (assumptions["design-minimum-spread"] * spreadK));
    }
}
