using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Reports.Figures;

/// <summary>The situations as a table: the weather, what it does to the van as it stands, and what the card says.</summary>
public static class SituationsTable
{
    // From these the card speaks of frost and heat.
    private const double FrostC = 0;
    private const double HeatC = 24;

    /// <summary>A row for each situation.</summary>
    public static DataTable Of(Design design, Assessment assessment, DisplayUnits units)
    {
        var card = assessment.Card;
        return new DataTable
        {
            Caption = "Situations, with the openings as they stand now",
            Heads =
            [
                "Situation", "Outdoor air", "Inside", "Humidity inside", "Carbon dioxide", "Water condensed", "Heater",
                .. card is null ? Array.Empty<string>() : ["The running card says"],
            ],
            NumberColumns = [1, 2, 3, 4, 5, 6],
            Wordy = true,
            Rows =
            [
                .. assessment.Situations.Select(result => ImmutableArray.Create<string>(
                [
                    $"{result.Situation.Name}\n{Weather(result.Situation)}{Shut(result)}",
                    units.Format(result.OutdoorAir),
                    units.Format(result.Room),
                    units.Format(result.Humidity),
                    units.Format(result.CarbonDioxide),
                    units.Format(result.Condensed),
                    units.Format(result.Heater),
                    .. card is null ? Array.Empty<string>() : [Advice(result.Situation, card)],
                ])),
            ],
        };

        string Shut(SituationResult result)
        {
            var shut = result.ShutHere
                .Select(id => design.Openings.FirstOrDefault(opening => opening.Id == id))
                .OfType<Opening>()
                .Select(opening => CardWords.ShortName(opening.Name, design))
                .ToList();
            return shut.Count == 0 ? "" : $"\nHas to be shut: {string.Join("; ", shut)}";
        }

        string Weather(Situation situation)
        {
            var falling = situation switch
            {
                { SnowOnRoof: true } => ", snow on the roof",
                { Falling: Precipitation.Rain } => ", rain",
                { Falling: Precipitation.DrivingRain } => ", driving rain",
                { Falling: Precipitation.Snow } => ", snow",
                _ => "",
            };
            return $"{units.Format(situation.Outdoor)}, {units.Format(situation.OutdoorHumidity)} humidity{falling}, for {units.Format(situation.Lasts)}";
        }

        string Advice(Situation situation, RunningCard from) =>
            from.Cells.FirstOrDefault(cell => cell.Moment == MomentOf(situation.Activity) && cell.Weather == WeatherOf(situation)) is { } cell
                ? string.Join('\n', CardWords.Of(cell, design))
                : DataTable.Nothing;
    }

    private static Moment MomentOf(Activity activity) => activity switch
    {
        Activity.Awake => Moment.Morning,
        Activity.Cooking => Moment.Cooking,
        Activity.Asleep => Moment.GoingToBed,
        Activity.LockedAndLeft => Moment.LeavingItLocked,
        Activity.Driving => Moment.DrivingOff,
        _ => throw new ArgumentOutOfRangeException(nameof(activity), activity, "Expected what the people do."),
    };

    private static CardWeather WeatherOf(Situation situation) => situation switch
    {
        { SnowOnRoof: true } or { Falling: Precipitation.Snow } => CardWeather.Snow,
        { Falling: Precipitation.Rain or Precipitation.DrivingRain } => CardWeather.Rain,
        { Outdoor.DegreesCelsius: < FrostC } => CardWeather.Frost,
        { Outdoor.DegreesCelsius: >= HeatC } => CardWeather.Heat,
        _ => CardWeather.Damp,
    };
}
