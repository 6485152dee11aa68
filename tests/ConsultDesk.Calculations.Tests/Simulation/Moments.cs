using System.Collections.Immutable;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using UnitsNet;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>Situations the tests make by hand, invented and round.</summary>
internal static class Moments
{
    public static Situation Cooking { get; } = Of("cooking", Activity.Cooking, 8, 85, 4, Precipitation.None, minutes: 40);

    public static Situation CookingInRain { get; } = Cooking with { Key = "cooking-in-rain", Falling = Precipitation.Rain };

    public static Situation Night { get; } = Of("night", Activity.Asleep, 5, 90, 4, Precipitation.None, minutes: 480);

    public static Situation NightInRain { get; } = Night with { Key = "night-in-rain", Falling = Precipitation.Rain };

    public static Situation FrostNight { get; } = Of("frost-night", Activity.Asleep, -12, 80, 2, Precipitation.None, minutes: 480);

    public static Situation WarmNight { get; } = Of("warm-night", Activity.Asleep, 24, 65, 2, Precipitation.None, minutes: 480);

    public static Situation SnowNight { get; } = FrostNight with { Key = "snow-night", Falling = Precipitation.Snow, SnowOnRoof = true };

    public static Situation LockedInSun { get; } = Of("locked-in-sun", Activity.LockedAndLeft, 32, 40, 2, Precipitation.None, minutes: 180) with { Sun = Irradiance.FromWattsPerSquareMeter(850) };

    public static Situation Driving { get; } = Of("driving", Activity.Driving, 8, 80, 4, Precipitation.Rain, minutes: 60);

    public static Situation[] All { get; } =
        [Cooking, CookingInRain, Night, NightInRain, FrostNight, WarmNight, SnowNight, LockedInSun, Driving];

    /// <summary>A situation for every cell of the running card.</summary>
    public static ImmutableArray<CardSituation> Card { get; } =
    [
        .. from moment in Enum.GetValues<Moment>()
           from weather in Enum.GetValues<CardWeather>()
           select new CardSituation(moment, weather, "always, in a test", Cell(moment, weather)),
    ];

    private static Situation Cell(Moment moment, CardWeather weather)
    {
        (Activity activity, double minutes, double sun) = moment switch
        {
            Moment.Cooking => (Activity.Cooking, 40.0, 0.0),
            Moment.GoingToBed => (Activity.Asleep, 480, 0),
            Moment.Morning => (Activity.Awake, 90, 50),
            Moment.DrivingOff => (Activity.Driving, 120, 100),
            Moment.LeavingItLocked => (Activity.LockedAndLeft, 240, 200),
            _ => throw new ArgumentOutOfRangeException(nameof(moment)),
        };
        (double outdoorC, double humidityPercent, double windMPerS, Precipitation falling) = weather switch
        {
            CardWeather.Rain => (7.0, 92.0, 4.0, Precipitation.Rain),
            CardWeather.Damp => (8, 90, 3, Precipitation.None),
            CardWeather.Frost => (-6, 85, 2, Precipitation.None),
            CardWeather.Heat => (30, 45, 1, Precipitation.None),
            CardWeather.Snow => (-4, 92, 2, Precipitation.Snow),
            _ => throw new ArgumentOutOfRangeException(nameof(weather)),
        };
        if (weather == CardWeather.Heat)
        {
            outdoorC = activity == Activity.Asleep ? 22 : outdoorC;
            sun = activity == Activity.Asleep ? 0 : Math.Max(sun * 4, 100);
        }

        return Of($"{moment}-{weather}", activity, outdoorC, humidityPercent, windMPerS, falling, minutes) with
        {
            Sun = Irradiance.FromWattsPerSquareMeter(sun),
            SnowOnRoof = weather == CardWeather.Snow,
        };
    }

    private static Situation Of(string key, Activity activity, double outdoorC, double humidityPercent, double windMPerS, Precipitation falling, double minutes) => new()
    {
        Key = key,
        Name = key,
        Outdoor = Temperature.FromDegreesCelsius(outdoorC),
        OutdoorHumidity = RelativeHumidity.FromPercent(humidityPercent),
        StationWind = Speed.FromMetersPerSecond(windMPerS),
        Falling = falling,
        Sun = Irradiance.Zero,
        Pressure = StandardAtmosphere.Pressure(Length.Zero),
        Lasts = Duration.FromMinutes(minutes),
        Activity = activity,
        People = activity == Activity.LockedAndLeft ? 0 : 2,
    };
}
