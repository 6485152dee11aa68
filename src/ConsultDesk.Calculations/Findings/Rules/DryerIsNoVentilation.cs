using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>A dehumidifier or absorber runs: what it takes out beside what is made, and that it brings no outdoor air.</summary>
internal static class DryerIsNoVentilation
{
    public static Finding? Judge(FindingContext context)
    {
        Dryer[] running = [.. context.Design.Dryers.Where(dryer => dryer.Running)];
        if (running.Length == 0)
        {
            return null;
        }

        WaterBalance water = context.Assessment.Water;
        MassFlow made = MassFlow.FromKilogramsPerSecond(water.Sources.Sum(source => source.Rate.KilogramsPerSecond));
        return new Finding
        {
            Code = "dryer-is-no-ventilation",
            Severity = context.Occupied ? Severity.Advice : Severity.Note,
            Title = "A dryer brings no outdoor air",
            Explanation = "It takes water out of the air and nothing else: breath, cooking gases and smells stay, and people need as much outdoor air as without it. Its water must be emptied and, where it has a plug, its power must come from somewhere.",
            Evidence =
            [
                new("Water it takes out of the night's air", water.Removed),
                new("Water made in the van meanwhile", made),
                new("Outdoor air by night", context.Assessment.Air.OutdoorAir),
            ],
            Remedy = "Keep a way in and a way out for air open by night, and use the dryer beside it, not instead of it.",
        };
    }
}
