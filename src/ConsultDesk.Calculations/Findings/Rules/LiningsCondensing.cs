using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Water on lined walls, ceiling or floor, or air so damp that it sheds its water by itself.</summary>
internal static class LiningsCondensing
{
    // Less than this on the whole lining is not seen.
    private const double LeastG = 1;

    public static Finding? Judge(FindingContext context)
    {
        if (Grams(context.Design, context.Assessment) < LeastG)
        {
            return null;
        }

        AssemblyState wettest = context.Assessment.Assemblies.MaxBy(assembly => assembly.CondensedPerNight.Grams)!;
        (Zone dampest, ZoneState air) = context.Design.Zones.Zip(context.Assessment.Zones).MaxBy(pair => pair.Second.RelativeHumidity.Percent);
        return new Finding
        {
            Code = "linings-condensing",
            Severity = Severity.Warning,
            Title = "The lining itself gets wet",
            Explanation = "Room air is so damp that it wets insulated surfaces or falls out as mist. Cupboards, bedding and the back of the lining then stay wet, and mould grows.",
            Evidence =
            [
                new("Water on linings and as mist over the night", Mass.FromGrams(Grams(context.Design, context.Assessment))),
                new($"Of it on the wettest: {wettest.Part}", wettest.CondensedPerNight),
                new($"Relative humidity in the dampest air, {dampest.Name}", air.RelativeHumidity),
                new("Air temperature there", air.Temperature),
            ],
            Remedy = "Let in more outdoor air before anything else, then warm the cold zones: open the way to them. Dry the lining before it is closed up.",
            TriedAs = "The copy takes the first of these that is enough, air before warmth.",
            Apply = design => MoreAir.First(context with { Design = design }, Grams, LeastG / 2, AirDamp.AirThenWarmth),
        };
    }

    private static double Grams(Design design, Assessment assessment) =>
        (assessment.Water.OnLinings + assessment.Water.Mist).GramsPerSecond * assessment.Night.Seconds;
}
