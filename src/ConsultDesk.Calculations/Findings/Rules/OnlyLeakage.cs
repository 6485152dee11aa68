using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>A shut van: all its air comes through leaks nobody made.</summary>
internal static class OnlyLeakage
{
    public static Finding? Judge(FindingContext context)
    {
        if (!context.Occupied || context.Design.Openings.Any(opening => opening.Position != Position.Shut))
        {
            return null;
        }

        return new Finding
        {
            Code = "only-leakage",
            Severity = Severity.Advice,
            Title = "The shut van lives on its leaks",
            Explanation = "Nothing is open, so all fresh air comes through seals and seams. How much that is nobody knows without a measurement, and it changes with the wind.",
            Evidence =
            [
                new("Air through leaks", context.Assessment.Air.LeakageIn),
                new("Leakage area assumed or measured", context.Design.Leakage.EffectiveArea),
            ],
            Remedy = "Plan openings that may stay open asleep, one low and one high.",
            TriedAs = "The copy opens or adds the first that brings the night's air.",
            Apply = design => MoreAir.First(
                context with { Design = design },
                (changed, assessment) => changed.Openings.All(opening => opening.Position == Position.Shut)
                    ? double.MaxValue
                    : Defaults.Likely("night-air-per-sleeper") - FindingContext.AirPerSleeper(changed, assessment).CubicMetersPerHour,
                enough: 0,
                MoreAir.All),
        };
    }
}
