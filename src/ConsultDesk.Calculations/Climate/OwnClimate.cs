using System.Collections.Immutable;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Climate;

/// <summary>
/// The weather of a place entered by hand. Its monthly temperature and dew point follow from what was entered; daily
/// range, wind, clearness of the sky and wet days are the weighted means of the places of the climate table whose
/// months are most alike. docs/method/climate.md gives the rule and how far off it is.
/// </summary>
public static class OwnClimate
{
    /// <summary>Places of the table that are averaged.</summary>
    public const int Alike = 5;

    /// <summary>Range of a monthly mean temperature, degrees Celsius.</summary>
    public static readonly ValidRange MeanRange = new("Mean temperature", -50, 45, "°C");

    /// <summary>Range of a monthly mean relative humidity.</summary>
    public static readonly ValidRange HumidityRange = new("Mean relative humidity", 5, 100, "%");

    /// <summary>Range of the latitude.</summary>
    public static readonly ValidRange LatitudeRange = new("Latitude", -60, 75, "°");

    /// <summary>Range of the elevation.</summary>
    public static readonly ValidRange ElevationRange = new("Elevation", -300, 5000, "m");

    // What counts as one step of unlikeness; our judgement, and the result hardly depends on it.
    private const double LatitudeStepDeg = 10;
    private const double ElevationStepM = 500;
    private const double TemperatureStepK = 4;
    private const double HumidityStepPercent = 10;

    // Keeps a place that is alike to the last decimal from being the only one that counts by an infinite weight.
    private const double SmallestUnlikeness = 0.05;

    private static readonly ImmutableArray<Profile> Table = [.. ClimateTable.Places.Select(Profile.Of)];

    /// <summary>True when the twelve months are there and everything lies in its range.</summary>
    public static bool IsComplete(OwnPlace own) => own.Months.Length == 12
        && Enumerable.Range(1, 12).All(month => own.Months.Count(entered => IsMonth(entered, month)) == 1)
        && own.Months.All(month => MeanRange.Contains(month.Mean.DegreesCelsius) && HumidityRange.Contains(month.Humidity.Percent))
        && (own.Hours is null || HourFiles.IsComplete(own.Hours))
        && LatitudeRange.Contains(own.Latitude.Degrees)
        && ElevationRange.Contains(own.Elevation.Meters);

    /// <summary>The place with its estimated weather.</summary>
    /// <exception cref="ArgumentException">Its months are incomplete or something is out of range.</exception>
    public static Place Of(OwnPlace own, Assumptions assumptions) => Of(own, assumptions, without: null);

    /// <summary>The same as if one place were not in the table, to measure how far off the estimate is.</summary>
    internal static Place Of(OwnPlace own, Assumptions assumptions, string? without)
    {
        if (!IsComplete(own))
        {
            throw new ArgumentException(
                $"The place '{own.Name}' cannot be calculated with; expected twelve months with mean temperatures of {MeanRange.Minimum:0} to "
                + $"{MeanRange.Maximum:0} °C and relative humidities of {HumidityRange.Minimum:0} to {HumidityRange.Maximum:0} %, a latitude and an elevation in their ranges.",
                nameof(own));
        }

        Profile wanted = Profile.Of(own);
        ImmutableArray<(Profile Profile, double Weight)> alike =
        [
            .. Table.Where(profile => profile.Place?.Key != without)
                .Select(profile => (Profile: profile, Unlikeness: wanted.UnlikenessTo(profile)))
                .OrderBy(pair => pair.Unlikeness)
                .Take(Alike)
                .Select(pair => (pair.Profile, 1 / (pair.Unlikeness + SmallestUnlikeness))),
        ];
        return new Place
        {
            Key = own.Key(),
            Name = own.Name,
            Country = own.Country ?? "",
            Latitude = own.Latitude,
            Longitude = Angle.Zero,
            Elevation = own.Elevation,
            Months = [.. Enumerable.Range(0, 12).Select(month => HourFiles.With(Month(wanted, month, alike, assumptions), own.Hours))],
            ColdForHeating = own.Hours?.ColdForHeating,
            Source = own.Hours is { } file
                ? HourFiles.SourceOf(file, string.Join(", ", alike.Select(pair => pair.Profile.Place!.Name)))
                : "temperature and humidity entered by hand; daily range, wind, sun and wet days estimated from "
                    + string.Join(", ", alike.Select(pair => pair.Profile.Place!.Name)),
            Sureness = own.Hours is null ? PlaceSureness.Entered : PlaceSureness.WeatherFile,
        };
    }

    private static MonthNormals Month(
        Profile wanted, int month, ImmutableArray<(Profile Profile, double Weight)> alike, Assumptions assumptions)
    {
        double range = 0;
        double wind = 0;
        double wetShare = 0;
        double sun = 0;
        double outside = 0;
        double weights = 0;
        foreach ((Profile profile, double weight) in alike)
        {
            int its = wanted.SameSeason(month, profile);
            MonthNormals normals = profile.Place!.Months[its];
            weights += weight;
            range += weight * (normals.MeanMaximum.DegreesCelsius - normals.MeanMinimum.DegreesCelsius);
            wind += weight * normals.Wind.MetersPerSecond;
            wetShare += weight * normals.WetDays / YearCalendar.DaysInMonth[its];
            sun += weight * normals.Sun.WattsPerSquareMeter;
            outside += weight * profile.SunOutsideWPerM2[its];
        }

        double meanC = wanted.MeanC[month];
        double halfRangeK = 0.5 * assumptions["own-place-daily-range"] * range / weights;
        double wetDays = Math.Min(assumptions["own-place-wet-days"] * wetShare / weights, 1) * YearCalendar.DaysInMonth[month];
        return new MonthNormals(
            month + 1,
            Temperature.FromDegreesCelsius(meanC),
            Temperature.FromDegreesCelsius(meanC + halfRangeK),
            Temperature.FromDegreesCelsius(meanC - halfRangeK),
            Temperature.FromDegreesCelsius(DewPointC(meanC, wanted.HumidityPercent[month])),
            Speed.FromMetersPerSecond(assumptions["own-place-wind"] * wind / weights),
            Irradiance.FromWattsPerSquareMeter(assumptions["own-place-sun"] * sun / outside * wanted.SunOutsideWPerM2[month]),
            wetDays,
            WetDayCount.Estimated);
    }

    // Over water, as humidity is measured and as the climate table has it.
    private static double DewPointC(double meanC, double humidityPercent) =>
        MoistAir.DewPointOverWaterC(humidityPercent / 100 * MoistAir.SaturationPressureOverWaterPa(meanC));

    private static bool IsMonth(OwnMonth entered, int month) => entered.Id == month.ToString(System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>What places are compared by.</summary>
    private sealed record Profile(Place? Place, double LatitudeDeg, double ElevationM, double[] MeanC, double[] HumidityPercent, double[] SunOutsideWPerM2)
    {
        public static Profile Of(Place place)
        {
            double[] humidity =
            [
                .. place.Months.Select(month => 100 * MoistAir.SaturationPressureOverWaterPa(month.DewPoint.DegreesCelsius)
                    / MoistAir.SaturationPressureOverWaterPa(month.Mean.DegreesCelsius)),
            ];
            return new Profile(
                place, place.Latitude.Degrees, place.Elevation.Meters, [.. place.Months.Select(month => month.Mean.DegreesCelsius)], humidity, Outside(place.Latitude));
        }

        public static Profile Of(OwnPlace own)
        {
            OwnMonth[] months = [.. Enumerable.Range(1, 12).Select(month => own.Months.Single(entered => IsMonth(entered, month)))];
            return new Profile(
                null,
                own.Latitude.Degrees,
                own.Elevation.Meters,
                [.. months.Select(month => month.Mean.DegreesCelsius)],
                [.. months.Select(month => month.Humidity.Percent)],
                Outside(own.Latitude));
        }

        /// <summary>The month, from 0, of the other place with the same season: half a year later across the equator.</summary>
        public int SameSeason(int month, Profile other) => LatitudeDeg < 0 == other.LatitudeDeg < 0 ? month : (month + 6) % 12;

        /// <summary>Sum of the squares of the differences, each in its step.</summary>
        public double UnlikenessTo(Profile other)
        {
            double months = 0;
            for (int month = 0; month < 12; month++)
            {
                int its = SameSeason(month, other);
                months += Square((MeanC[month] - other.MeanC[its]) / TemperatureStepK)
                    + Square((HumidityPercent[month] - other.HumidityPercent[its]) / HumidityStepPercent);
            }

            return (months / 12)
                + Square((Math.Abs(LatitudeDeg) - Math.Abs(other.LatitudeDeg)) / LatitudeStepDeg)
                + Square((ElevationM - other.ElevationM) / ElevationStepM);
        }

        private static double Square(double value) => value * value;

        private static double[] Outside(Angle latitude) =>
        [
            .. Enumerable.Range(0, 12).Select(month => Enumerable.Range(YearCalendar.FirstDay[month], YearCalendar.DaysInMonth[month])
                .Average(day => SolarPosition.ExtraterrestrialWPerM2(day + 0.5, latitude.Radians))),
        ];
    }
}
