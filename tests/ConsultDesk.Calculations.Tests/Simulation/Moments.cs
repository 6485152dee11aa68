using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
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
    };
}
