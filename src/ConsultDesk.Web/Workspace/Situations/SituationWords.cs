using System.Globalization;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Web.Workspace.Situations;

/// <summary>Weather and use in words.</summary>
public static class SituationWords
{
    /// <summary>What falls from the sky.</summary>
    public static string Of(Precipitation falling) => falling switch
    {
        Precipitation.None => "dry",
        Precipitation.Rain => "rain",
        Precipitation.DrivingRain => "driving rain",
        Precipitation.Snow => "snow falling",
        _ => throw new ArgumentOutOfRangeException(nameof(falling), falling, "Expected what falls."),
    };

    /// <summary>What the people do.</summary>
    public static string Of(Activity activity) => activity switch
    {
        Activity.Awake => "awake",
        Activity.Cooking => "cooking",
        Activity.Asleep => "asleep",
        Activity.LockedAndLeft => "locked and left",
        Activity.Driving => "driving",
        _ => throw new ArgumentOutOfRangeException(nameof(activity), activity, "Expected what the people do."),
    };

    /// <summary>The weather in a few words, for a small button.</summary>
    public static string Brief(Situation situation, DisplayUnits units) =>
        units.Format(situation.Outdoor) + (situation.SnowOnRoof ? ", snow on roof" : situation.Falling == Precipitation.None ? "" : ", " + Of(situation.Falling));

    /// <summary>Weather and use in one line.</summary>
    public static string Whole(Situation situation, DisplayUnits units)
    {
        List<string> words =
        [
            units.Format(situation.Outdoor),
            $"{units.Format(situation.OutdoorHumidity)} humidity",
            Of(situation.Falling),
            $"wind {units.Format(situation.StationWind)}",
        ];
        if (situation.SnowOnRoof)
        {
            words.Add("snow on the roof");
        }

        if (situation.Sun.WattsPerSquareMeter >= 1)
        {
            words.Add($"sun {units.Format(UnitsNet.HeatFlux.FromWattsPerSquareMeter(situation.Sun.WattsPerSquareMeter))}");
        }

        words.Add(Use(situation, units));
        if (situation.HeaterOff)
        {
            words.Add("heater off");
        }

        return string.Join(", ", words);
    }

    private static string Use(Situation situation, DisplayUnits units) => situation.People switch
    {
        0 => $"{(situation.Activity == Activity.LockedAndLeft ? Of(situation.Activity) : "nobody in it")} for {units.Format(situation.Lasts)}",
        1 => $"one person {Of(situation.Activity)} for {units.Format(situation.Lasts)}",
        var people => string.Create(CultureInfo.InvariantCulture, $"{people} people {Of(situation.Activity)} for {units.Format(situation.Lasts)}"),
    };

    /// <summary>What a screen reader hears after each new answer.</summary>
    public static string Spoken(SituationAnswer answer, DisplayUnits units) =>
        $"{answer.Situation.Name}: {units.Format(answer.State.Result.Condensed)} condensed, {units.Format(answer.State.Result.Humidity)} humidity, {units.Format(answer.State.Result.OutdoorAir)} outdoor air.";
}
