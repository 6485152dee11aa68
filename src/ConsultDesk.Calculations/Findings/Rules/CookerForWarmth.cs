using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>A gas cooker lit to warm the van people sleep in.</summary>
internal static class CookerForWarmth
{
    public static Finding? Judge(FindingContext context)
    {
        Design design = context.Design;
        if (!design.Equipment.CookerUsedForWarmth || design.Household.CookingFuel != CookingFuel.Gas || !context.Occupied)
        {
            return null;
        }

        Power input = Power.FromKilowatts(Defaults.Likely("hob-input"));
        (VolumeConcentration carbonDioxide, Ratio oxygen) = UnfluedGases.Steady(context.Assessment, input);
        return new Finding
        {
            Code = "cooker-for-warmth",
            Severity = Severity.Danger,
            Title = "The cooker warms the van people sleep in",
            Explanation = "A burner is made to be watched for minutes, not to burn cabin air for hours. How much carbon monoxide it makes cannot be "
                + "calculated; that kills without warning, and sleepers notice nothing. " + UnfluedGases.CutOffIsNoControl,
            Evidence =
            [
                new("Carbon dioxide one burner would bring about in tonight's air", carbonDioxide),
                new("Oxygen it would leave", oxygen),
                new("Heat input assumed for one burner", input),
                UnfluedGases.AtCutOff,
            ],
            Remedy = "Never light the cooker to warm the van. Fit a room-sealed heater, and carbon monoxide and smoke alarms. "
                + "A licensed gas fitter and the local code decide what may stay.",
            TriedAs = "The copy leaves the cooker to cooking.",
            Apply = changed => changed with { Equipment = changed.Equipment with { CookerUsedForWarmth = false } },
        };
    }
}
