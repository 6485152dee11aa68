using System.Collections.Immutable;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Vehicle;
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

    // Two that ask at once work out the same array.
    private double[]? _humidityShare;

    /// <summary>Air temperature, degrees Celsius.</summary>
    public double[] TemperatureC { get; } = new double[Hours];

    /// <summary>Vapour pressure, Pa; at most that of saturation, over ice below freezing.</summary>
    public double[] VapourPressurePa { get; } = new double[Hours];

    /// <summary>Wind speed of the station at 10 m, m/s.</summary>
    public double[] StationWindMPerS { get; } = new double[Hours];

    /// <summary>Global sun on a level surface, W/m2.</summary>
    public double[] SunWPerM2 { get; } = new double[Hours];

    /// <summary>
    /// What a black level surface at air temperature loses to the open sky, W/m2, 0 under a sky as warm as the air: from the horizontal
    /// infrared of a weather file by <see cref="SkyTemperature.LossWPerM2"/>. How much of the sky is hidden where the van stands is not in it.
    /// </summary>
    public double[] SkyLossWPerM2 { get; } = new double[Hours];

    /// <summary>What falls from the sky.</summary>
    public Precipitation[] Falling { get; } = new Precipitation[Hours];

    /// <summary>Snow lies on a cold roof: it has snowed within a day and has not thawed since.</summary>
    public bool[] SnowOnRoof { get; } = new bool[Hours];

    /// <summary>Barometric pressure at the stay's altitude, Pa.</summary>
    public double[] PressurePa { get; } = new double[Hours];

    /// <summary>Shelter from the wind.</summary>
    public Shelter[] Shelter { get; } = new Shelter[Hours];

    /// <summary>The stays in the order of their first days, at least one.</summary>
    public required ImmutableArray<StayWeather> Stays { get; init; }

    /// <summary>Relative humidity over ice below freezing, share 0 to 1: worked out when first asked for, because many questions are asked of it.</summary>
    internal double[] HumidityShare => _humidityShare ??= Humidities();

    /// <summary>What its hours rest on.</summary>
    public WeatherBasis Basis { get; init; } = WeatherBasis.Made;

    /// <summary>Coldest night the heater is sized for, over all stays.</summary>
    public Temperature DesignTemperature => Temperature.FromDegreesCelsius(Stays.Min(stay => stay.DesignTemperature.DegreesCelsius));

    /// <summary>The hours of a design's itinerary, or of a whole year at its stop when it has none.</summary>
    /// <param name="design">A design without errors in its stop and itinerary.</param>
    /// <param name="assumptions">What is assumed about spells and spreads; the likely values when left out.</param>
    /// <param name="hours">Hours of the weather files that places of the design name; where they are missing the months are used.</param>
    /// <exception cref="ArgumentException">A place is neither in the climate table nor the design's own, or the stays do not cover the year once.</exception>
    public static YearWeather Of(Design design, Assumptions? assumptions = null, WeatherHours? hours = null) =>
        Of(design, assumptions ?? Assumptions.Likely, hours ?? WeatherHours.None, warmerK: 0);

    /// <summary>The same of a year that is as much warmer in every hour, temperature and dew point alike, whether its hours are measured or made from months.</summary>
    internal static YearWeather Of(Design design, Assumptions assumptions, WeatherHours hours, double warmerK)
    {
        ImmutableArray<ItineraryStop> stays = Itineraries.Stays(design);
        int[] stayOfDay = Itineraries.StayOfDay(stays);
        Dictionary<string, PlaceYear> years = [];
        foreach (string key in stays.Select(stay => stay.PlaceKey).Distinct())
        {
            Place place = DesignPlaces.Get(design, key, assumptions);
            years.Add(key, DesignPlaces.HourFileOf(design, key) is { } file && hours.Find(file) is { } measured
                ? new PlaceYear(place, measured, assumptions)
                : new PlaceYear(place, assumptions));
        }

        YearWeather weather = new()
        {
            Stays = [.. stays.Select(stay => StayWeather.Of(design, stay, assumptions))],
            Basis = WeatherBasis.Of(design, [.. years.Keys], hours),
        };
        for (int day = 0; day < Days; day++)
        {
            ItineraryStop stay = stays[stayOfDay[day]];
            weather.Fill(24 * day, years[stay.PlaceKey], stay, assumptions, warmerK);
        }

        weather.LetSnowLie(assumptions);
        return weather;
    }

    private double[] Humidities()
    {
        double[] shares = new double[Hours];
        for (int hour = 0; hour < Hours; hour++)
        {
            shares[hour] = VapourPressurePa[hour] / MoistAir.SaturationPressurePa(TemperatureC[hour]);
        }

        return shares;
    }

    private void LetSnowLie(Assumptions assumptions)
    {
        int liesHours = (int)Math.Round(assumptions["snow-lies"]);
        double thawC = assumptions["snow-temperature"];
        int left = 0;
        // Twice through the year, so that December's snow lies in January.
        for (int step = 0; step < 2 * Hours; step++)
        {
            int hour = step % Hours;
            left = Falling[hour] == Precipitation.Snow ? liesHours
                : TemperatureC[hour] < thawC ? Math.Max(left - 1, 0)
                : 0;
            SnowOnRoof[hour] = left > 0;
        }
    }

    private void Fill(int midnight, PlaceYear year, ItineraryStop stay, Assumptions assumptions, double warmerK)
    {
        Place place = year.Place;
        double altitudeM = StandardAtmosphere.AltitudeRange.Check(stay.Altitude.Meters, nameof(stay));
        double lapseK = Nights.LapseRateKPerM * (altitudeM - place.Elevation.Meters);
        double pressurePa = StandardAtmosphere.PressurePa(altitudeM);
        // The same share of water in the air at another pressure.
        double snowBelowC = assumptions["snow-temperature"];
        double drivenFromMPerS = assumptions["driving-rain-wind"];
        double cloudFactor = assumptions["sky-cloud-factor"];
        double warmerSky = assumptions["sky-clear-offset"];
        double vapourShare = pressurePa / StandardAtmosphere.PressurePa(place.Elevation.Meters);
        for (int hour = midnight; hour < midnight + 24; hour++)
        {
            double temperatureC = year.TemperatureC[hour] - lapseK + warmerK;
            double ceilingPa = year.HighestSaturation * MoistAir.SaturationPressurePa(temperatureC);
            TemperatureC[hour] = temperatureC;
            VapourPressurePa[hour] = Math.Min(vapourShare * MoistAir.SaturationPressureOverWaterPa(year.DewPointC[hour] + warmerK), ceilingPa);
            double clear = SkyTemperature.ClearSkyEmissivity(MoistAir.DewPointOverWaterC(VapourPressurePa[hour]), (hour % 24) + 0.5, pressurePa) + warmerSky;
            // At another altitude the air is another, not the sky's likeness to it.
            double emissivity = year.SkyWPerM2 is { } sky
                ? sky[hour] / SkyTemperature.BlackBodyWPerM2(year.TemperatureC[hour])
                : SkyTemperature.WithCloud(Math.Min(1, clear), year.CloudShare[hour], cloudFactor);
            SkyLossWPerM2[hour] = SkyTemperature.LossWPerM2(temperatureC, SkyTemperature.RadiationWPerM2(emissivity, temperatureC));
            StationWindMPerS[hour] = year.WindMPerS[hour];
            SunWPerM2[hour] = year.SunWPerM2[hour];
            PressurePa[hour] = pressurePa;
            Shelter[hour] = stay.Shelter;
            Falling[hour] = !year.Wet[hour] ? Precipitation.None
                : temperatureC < snowBelowC ? Precipitation.Snow
                : year.WindMPerS[hour] >= drivenFromMPerS ? Precipitation.DrivingRain
                : Precipitation.Rain;
        }
    }
}

/// <summary>One stay with the cold its heater must meet.</summary>
/// <param name="Stay">The stay.</param>
/// <param name="DesignTemperature">Coldest night the heater is sized for in this stay.</param>
public sealed record StayWeather(ItineraryStop Stay, Temperature DesignTemperature)
{
    internal static StayWeather Of(Design design, ItineraryStop stay, Assumptions assumptions)
    {
        Place place = DesignPlaces.Get(design, stay.PlaceKey, assumptions);
        double lapseK = Nights.LapseRateKPerM * (stay.Altitude.Meters - place.Elevation.Meters);
        double coldestC = Itineraries.Months(stay).Min(month => Nights.DesignC(place, month, assumptions));
        return new StayWeather(stay, Temperature.FromDegreesCelsius(coldestC - lapseK));
    }

    /// <summary>The coldest hour of a stay, a cold snap included, degrees Celsius.</summary>
    internal static double ColdestHourC(Design design, ItineraryStop stay, Assumptions assumptions)
    {
        Place place = DesignPlaces.Get(design, stay.PlaceKey, assumptions);
        double lapseK = Nights.LapseRateKPerM * (stay.Altitude.Meters - place.Elevation.Meters);
        if (DesignPlaces.HourFileOf(design, stay.PlaceKey) is { } file)
        {
            // Of the whole year: which days it falls on stands in the file only.
            return file.Coldest.DegreesCelsius - lapseK;
        }

        double[] yearC = new PlaceYear(place, assumptions).TemperatureC;
        return Itineraries.Days(stay).Min(day => yearC.AsSpan(24 * day, 24).ToArray().Min()) - lapseK;
    }
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

/// <summary>What the hours of a year rest on.</summary>
/// <param name="FromMonths">Some hours are made from monthly means.</param>
/// <param name="MissingHours">Names of places whose weather file is not here, so that their months were used.</param>
public sealed record WeatherBasis(bool FromMonths, ImmutableArray<string> MissingHours)
{
    /// <summary>All hours are made from monthly means.</summary>
    public static WeatherBasis Made { get; } = new(true, []);

    internal static WeatherBasis Of(Design design, ImmutableArray<string> placeKeys, WeatherHours hours)
    {
        HourFile?[] files = [.. placeKeys.Select(key => DesignPlaces.HourFileOf(design, key))];
        return new WeatherBasis(
            files.Any(file => file is null || hours.Find(file) is null),
            [.. design.OwnPlaces.Where(place => placeKeys.Contains(place.Key()) && place.Hours is { } file && hours.Find(file) is null).Select(place => place.Name)]);
    }
}
