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

    /// <summary>Length of the night.</summary>
    public static readonly Duration Length = Duration.FromHours(24 - BedTime + RisingTime);

    /// <summary>Fall of temperature with height of the standard atmosphere, K/m.</summary>
    public const double LapseRateKPerM = 0.0065;

    /// <summary>Most vapour the outdoor air holds, as a share of saturation (over ice below freezing). Our measurement on 64 typical-year files.</summary>
    public const double HighestSaturation = 0.97;

    /// <summary>The mean night at a stop of the climate table.</summary>
    /// <exception cref="ArgumentException">The place is not in the climate table.</exception>
    public static NightWeather At(Stop stop)
    {
        Place place = ClimateTable.Get(stop.PlaceKey);
        return At(place, stop.Month, stop.Altitude);
    }

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
        };
    }

    /// <summary>The colder of the mean night and the design night of a stop, degrees Celsius.</summary>
    internal static double ColdestC(Stop stop)
    {
        Place place = ClimateTable.Get(stop.PlaceKey);
        double lapseK = LapseRateKPerM * (stop.Altitude.Meters - place.Elevation.Meters);
        return Math.Min(NightC(place.Month(stop.Month)), ColdestNightC(place)) - lapseK;
    }

    // The mean temperature between bed time and rising time at the station.
    private static double NightC(MonthNormals normals) => normals.Mean.DegreesCelsius
        + ((normals.MeanMaximum.DegreesCelsius - normals.MeanMinimum.DegreesCelsius) * DayShape.Mean(BedTime, RisingTime));

    /// <summary>
    /// The annual 99.6 % temperature at the station: coldest month's mean less 2.9 standard deviations of the winter's
    /// daily means, which are 0.19 K + 0.163 x (warmest less coldest month). Both numbers are our own fit to 64
    /// typical-year files (r = 0.75); the 2.9 ranged from 2.0 to 5.5.
    /// </summary>
    internal static double ColdestNightC(Place place)
    {
        double coldestC = place.Months.Min(month => month.Mean.DegreesCelsius);
        double warmestC = place.Months.Max(month => month.Mean.DegreesCelsius);
        double winterSpreadK = 0.19 + (0.163 * (warmestC - coldestC));
        return coldestC - (Defaults.Likely("design-winter-spread") * winterSpreadK);
    }
}
