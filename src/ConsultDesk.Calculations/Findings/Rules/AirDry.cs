using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Air dry enough to be felt.</summary>
internal static class AirDry
{
    // Below this many people feel dry eyes and throats (common practice, no source).
    private const double LowestPercent = 30;

    public static Finding? Judge(FindingContext context)
    {
        if (!context.Occupied || context.LivedIn.OrderBy(pair => pair.State.RelativeHumidity.Percent).FirstOrDefault() is not { Zone: not null } driest
            || driest.State.RelativeHumidity.Percent >= LowestPercent)
        {
            return null;
        }

        return new Finding
        {
            Code = "air-dry",
            Severity = Severity.Note,
            Title = "The air inside will feel dry",
            Explanation = "Cold outdoor air holds little water, and warming it makes it dry. For the van that is good; people may notice it in eyes and throat.",
            Evidence =
            [
                new($"Relative humidity, {driest.Zone.Name}", driest.State.RelativeHumidity),
                new("Felt as dry below", RelativeHumidity.FromPercent(LowestPercent)),
            ],
            Remedy = "Nothing needs doing. If it bothers the sleepers, air a little less, but no less than they need.",
        };
    }
}
