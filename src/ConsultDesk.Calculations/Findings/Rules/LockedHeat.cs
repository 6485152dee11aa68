using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Heat in the locked van, with its fan running and with its fan failed.</summary>
internal static class LockedHeat
{
    public static Finding? Judge(FindingContext context)
    {
        bool left = context.Design.Equipment.LeftInLockedVan;
        Extremes? extremes = context.Assessment.Year?.Extremes;
        bool hot = extremes is not null && extremes.HottestLockedFanFailed.DegreesCelsius > FindingLimits.Of("locked-heat");
        if (!left && !hot)
        {
            return null;
        }

        return new Finding
        {
            Code = "locked-heat",
            Severity = Severity.Warning,
            Title = left ? "People or animals are left in the locked van" : "The locked van gets hot in the sun",
            Explanation = "A fan stops with its fuse, its battery or its rain sensor, and within minutes the van is hotter than anybody stands. "
                + "People and animals are never left relying on a fan, on a shaded place or on an hour's forecast.",
            Evidence = Numbers(context, extremes),
            Remedy = "Never leave people or animals in the locked van when the sun can reach it or the day is warm. Shade the glass outside, "
                + "and keep medicine, gas cartridges and batteries out of the heat.",
        };
    }

    private static ImmutableArray<Evidence> Numbers(FindingContext context, Extremes? extremes) => extremes is null
        ? [new("Temperature from which it is told (our judgement)", Limit), new("Outdoor temperature of this night", context.Assessment.Weather.Temperature)]
        :
        [
            new("Hottest hour locked, the fan failed", extremes.HottestLockedFanFailed),
            new("Hottest hour locked, the fan running as far as it may", extremes.HottestLocked),
            new("Temperature from which it is told (our judgement)", Limit),
        ];

    private static Temperature Limit => Temperature.FromDegreesCelsius(FindingLimits.Of("locked-heat"));
}
