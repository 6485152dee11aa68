using System.Collections.Immutable;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Reports.Figures;

/// <summary>The running card as a table: moments down, weather across.</summary>
public static class RunningCardTable
{
    private const string Never = DataTable.Nothing;

    /// <summary>The card itself; weather and moments that do not occur on the itinerary are left out.</summary>
    public static DataTable Of(Design design, RunningCard card)
    {
        var weathers = Enum.GetValues<CardWeather>().Where(weather => card.Cells.Any(cell => cell.Weather == weather)).ToArray();
        var moments = Enum.GetValues<Moment>().Where(moment => card.Cells.Any(cell => cell.Moment == moment)).ToArray();
        return new DataTable
        {
            Caption = "Running card: how to set the van, by moment and weather",
            Heads = ["When", .. weathers.Select(CardWords.Of)],
            Wordy = true,
            Rows =
            [
                .. moments.Select(moment => ImmutableArray.Create<string>(
                    [Head(moment), .. weathers.Select(weather => Cell(moment, weather))])),
            ],
        };

        // A caution that goes for the whole row is said once, at its head.
        string Common(Moment moment)
        {
            var cautions = card.Cells.Where(cell => cell.Moment == moment).Select(cell => cell.Caution).ToArray();
            return cautions.Length > 1 && cautions.Distinct().Count() == 1 ? cautions[0] : "";
        }

        string Head(Moment moment) => Common(moment) is { Length: > 0 } caution ? $"{CardWords.Of(moment)}\n{caution}" : CardWords.Of(moment);

        string Cell(Moment moment, CardWeather weather) =>
            card.Cells.FirstOrDefault(cell => cell.Moment == moment && cell.Weather == weather) is { } found
                ? string.Join('\n', CardWords.Of(Common(moment).Length > 0 ? found with { Caution = "" } : found, design))
                : Never;
    }

    /// <summary>What each cell is for and what it gains over everything shut and everything open.</summary>
    public static DataTable Gains(RunningCard card, DisplayUnits units) => new()
    {
        Caption = "What the running card gains over everything shut and everything open; lower is better",
        Heads = ["Cell of the card", "Aim", "Measured by", "With the card", "All shut", "All open"],
        NumberColumns = [3, 4, 5],
        Rows =
        [
            .. card.Cells.OrderBy(cell => cell.Moment).ThenBy(cell => cell.Weather).Select(cell => ImmutableArray.Create(
                $"{CardWords.Of(cell.Moment)}, {ScoreFigure.Lower(CardWords.Of(cell.Weather))}",
                cell.Aim,
                cell.Measure,
                units.Format(cell.WithCard),
                units.Format(cell.AllShut),
                units.Format(cell.AllOpen))),
        ],
    };
}
