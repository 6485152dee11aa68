using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>A flame that burns cabin air brings it past what people may breathe at work for a quarter of an hour.</summary>
internal static class FlameGasesHigh
{
    public static Finding? Judge(FindingContext context)
    {
        if (context.Assessment.Year?.Combustion is not CombustionYear gases || !Passes(gases))
        {
            return null;
        }

        bool heater = context.Design.Heater.Kind == HeaterKind.UnfluedGas;
        return new Finding
        {
            Code = "flame-gases-high",
            Severity = Severity.Warning,
            Title = heater ? "The unflued flame fouls the air people breathe" : "Cooking on gas fouls the air people breathe",
            Explanation = "The flame takes oxygen from the cabin and leaves its gases there. How much carbon monoxide it makes cannot be calculated; that kills without warning, "
                + "and a flame short of oxygen makes more of it.",
            Evidence =
            [
                new("Most carbon dioxide in any ten minutes of the year, in the worst zone", gases.HighestCarbonDioxide),
                new("Least oxygen in the same way", gases.LowestOxygen),
                new("Carbon dioxide allowed at work for fifteen minutes (EH40)", VolumeConcentration.FromPartsPerMillion(FindingLimits.Of("carbon-dioxide-short"))),
                new("Carbon dioxide allowed over eight hours of work (OSHA)", VolumeConcentration.FromPartsPerMillion(FindingLimits.Of("carbon-dioxide-shift"))),
                new("Oxygen below which air counts as deficient (OSHA)", Ratio.FromPercent(FindingLimits.Of("oxygen-deficient"))),
            ],
            Remedy = "Open the roof vent and a window before the flame is lit and leave them open until well after it is out, in rain and frost too. Fit a carbon monoxide alarm. "
                + "Fixed openings and the burner are for a licensed gas fitter, to the local code.",
            TriedAs = "The copy takes the best of these in the year: the lid open with a low vent, the fan with them, the windows too; a room-sealed heater for an unflued one.",
            Apply = design => YearTrial.First(
                context with { Design = design }, (_, tried) => tried.Combustion?.HighestCarbonDioxide.PartsPerMillion ?? 0,
                enough: FindingLimits.Of("carbon-dioxide-shift"), Ways(design)),
        };
    }

    private static bool Passes(CombustionYear gases) =>
        gases.HighestCarbonDioxide.PartsPerMillion > FindingLimits.Of("carbon-dioxide-short")
        || gases.LowestOxygen.Percent < FindingLimits.Of("oxygen-deficient");

    private static IEnumerable<Func<Design, Design>> Ways(Design design) =>
    [
        .. design.Heater.Kind == HeaterKind.UnfluedGas ? new Func<Design, Design>[] { RoomSealedHeater.Fitted } : [],
        changed => MoreAir.AddLowVent(MoreAir.Lids(changed)),
        changed => MoreAir.AddLowVent(MoreAir.RunFan(MoreAir.Lids(changed))),
        changed => MoreAir.AddLowVent(MoreAir.RunFan(MoreAir.Windows(MoreAir.Lids(changed), Position.Half))),
    ];
}
