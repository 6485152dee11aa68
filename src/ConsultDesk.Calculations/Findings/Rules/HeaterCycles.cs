using ConsultDesk.Calculations.Simulation;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>A heater that starts and stops for much of the year.</summary>
internal static class HeaterCycles
{
    public static Finding? Judge(FindingContext context)
    {
        if (context.Assessment.Year is not YearAssessment year || year.Heat.CyclingShare.Percent < FindingLimits.Of("cycling-share")
            || year.HeaterFit is not HeaterFit fit || (double)fit.LowestOutput.Watts <= 0)
        {
            return null;
        }

        double loadW = Math.Max((double)fit.LoadAsleep.Watts, (double)fit.LoadAwake.Watts);
        return new Finding
        {
            Code = "heater-cycles",
            Severity = Severity.Advice,
            Title = "The heater starts and stops much of its time",
            Explanation = "Less heat is wanted than its lowest setting gives. Each start is loud, takes current and soots a burner.",
            Evidence =
            [
                new("Share of its running time below its lowest output", year.Heat.CyclingShare),
                new("Lowest steady output", fit.LowestOutput),
                new("Output needed in the cold of the stays", Power.FromWatts(loadW)),
            ],
            Remedy = "Take a smaller heater or one with a lower lowest setting, air more while it runs, and let it run hot for a while now and then as its maker says.",
            Apply = HeaterTooBig.Smaller(context.Design, loadW) is null ? null : design => YearTrial.First(
                context with { Design = design }, (_, tried) => tried.Heat.CyclingShare.Percent, FindingLimits.Of("cycling-share"),
                [changed => HeaterTooBig.Smaller(changed, loadW) ?? changed]),
        };
    }
}
