using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Hours of the year in which the heater cannot hold its temperature.</summary>
internal static class HeaterShortInCold
{
    public static Finding? Judge(FindingContext context)
    {
        if (context.Assessment.Year is not YearAssessment year || !context.Occupied || context.Design.Heater.Kind == HeaterKind.None
            || year.Heat.HoursShort < FindingLimits.Of("short-hours"))
        {
            return null;
        }

        double loadW = year.HeaterFit is HeaterFit fit
            ? Math.Max((double)fit.LoadAsleep.Watts, (double)fit.LoadAwake.Watts)
            : (double)context.Assessment.Heat.DesignLoad.Watts;
        return new Finding
        {
            Code = "heater-short-in-cold",
            Severity = Severity.Warning,
            Title = "The heater falls short in the cold spells of the year",
            Explanation = "It gives all it has and the room stays colder than asked for. Shutting the ventilation would trade the cold for wet glass and stale air.",
            Evidence =
            [
                new("Time short of heat in the year", Duration.FromHours(year.Heat.HoursShort)),
                new("Coldest hour in bed", year.Heat.ColdestBed),
                new("Output needed in the cold of the stays", Power.FromWatts(loadW)),
                new("Output of the heater", context.Design.Heater.RatedOutput),
            ],
            Remedy = (RoomSealedHeater.IsMissing(context.Design) ? "Fit a room-sealed heater that gives what is needed" : "Take the next larger heater of its kind")
                + ", insulate more, cover the glass outside, or be elsewhere in those weeks.",
            TriedAs = "The copy takes the smallest heater that is enough in the year.",
            Apply = HeaterTooSmall.Larger(context.Design, loadW) is null ? null : design => YearTrial.First(
                context with { Design = design }, (_, tried) => tried.Heat.HoursShort, FindingLimits.Of("short-hours") - 1,
                [changed => HeaterTooSmall.Larger(changed, loadW) ?? changed, changed => HeaterTooSmall.Larger(changed, 1.5 * loadW) ?? changed]),
        };
    }
}
