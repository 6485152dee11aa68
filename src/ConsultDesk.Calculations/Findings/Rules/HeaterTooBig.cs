using ConsultDesk.Calculations.Heating;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>A heater whose lowest setting is more than even the coldest night needs.</summary>
internal static class HeaterTooBig
{
    public static Finding? Judge(FindingContext context)
    {
        Heater heater = context.Design.Heater;
        double loadW = (double)context.Assessment.Heat.DesignLoad.Watts;
        if (Heaters.Nearest(heater.Kind, heater.RatedOutput) is not HeaterClass heaterClass || loadW <= 0 || LowestW(heater, heaterClass) <= loadW)
        {
            return null;
        }

        Design? smaller = Smaller(context.Design, loadW);
        return new Finding
        {
            Code = "heater-too-big",
            Severity = Severity.Advice,
            Title = "The heater is much too big",
            Explanation = "Its lowest setting gives more than the coldest night needs, so it starts and stops all night. That is loud, takes current at every start, and soots a burner.",
            Evidence =
            [
                new("Lowest steady output", Power.FromWatts(LowestW(heater, heaterClass))),
                new("Output needed in the coldest night", context.Assessment.Heat.DesignLoad),
                new("Rated output", heater.RatedOutput),
            ],
            Remedy = "Take a smaller heater with a low lowest setting. More ventilation by night costs little with the heat left over.",
            Apply = smaller is null ? null : design => Smaller(design, loadW) ?? design,
        };
    }

    // A heater outside the table turns down by the same share as the nearest one in it.
    private static double LowestW(Heater heater, HeaterClass heaterClass) => (double)heater.RatedOutput.Watts * heaterClass.TurnDownShare;

    /// <summary>The smallest of the same kind that carries the load and turns down further than the present one; null when there is none.</summary>
    internal static Design? Smaller(Design design, double loadW)
    {
        double presentW = Heaters.Nearest(design.Heater.Kind, design.Heater.RatedOutput) is HeaterClass present
            ? LowestW(design.Heater, present)
            : 0;
        return Heaters.All
            .Where(heater => heater.Kind == design.Heater.Kind && (double)heater.LowestOutput.Watts < presentW)
            .OrderBy(heater => heater.RatedOutput.Watts)
            .Select(heater => design with { Heater = design.Heater with { RatedOutput = heater.RatedOutput } })
            .FirstOrDefault(changed => HeaterLimit.OfW(changed) >= loadW);
    }
}
