using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Water or frost on the glass.</summary>
internal static class GlassCondensing
{
    public static Finding? Judge(FindingContext context)
    {
        if (ColdSurfaces.Wettest(context.Assessment, SurfaceKind.Glass) is not SurfaceState wettest)
        {
            return null;
        }

        bool cold = context.LivedIn.Select(pair => pair.State.Temperature.DegreesCelsius).DefaultIfEmpty(double.MaxValue).Min() < FindingLimits.Of("cold-room");
        return new Finding
        {
            Code = "glass-condensing",
            Severity = ColdSurfaces.GramsPerM2(wettest) >= ColdSurfaces.RunOffGPerM2 ? Severity.Warning : Severity.Advice,
            Title = wettest.Frost ? "Frost grows on the glass" : "The glass is wet in the morning",
            Explanation = "The glass is colder than the dew point of the air before it. What runs off it wets the frames, the seals and what lies below.",
            Evidence = [.. ColdSurfaces.Evidence(context.Assessment, wettest)],
            Remedy = cold
                ? "First warmth: the room is so cold that air alone cannot dry it. A room-sealed heater with the air the sleepers need, covers outside the glass, and wiping what is left."
                : "First more outdoor air, then covers outside the glass, which keep it warm; wipe what is left.",
            TriedAs = cold ? "The copy takes the first way of warmth, air and covers that keeps it dry." : "The copy takes the first that keeps it dry, or both.",
            Apply = design => MoreAir.First(context with { Design = design }, Grams, enough: 1, cold ? ColdWays : Ways),
        };
    }

    private static double Grams(Design design, Assessment assessment) => ColdSurfaces.Grams(assessment, SurfaceKind.Glass);

    // In a cold room only warmth lets air carry water, and covers outside cost no heat, air does.
    private static IEnumerable<Func<Design, Design>> ColdWays =>
    [
        AirDamp.Warmer,
        design => AirDamp.Warmer(GlassCovers.AllOutside(design)),
        .. MoreAir.All.Select(way => (Func<Design, Design>)(design => AirDamp.Warmer(way(design)))),
        .. MoreAir.All.Select(way => (Func<Design, Design>)(design => AirDamp.Warmer(GlassCovers.AllOutside(way(design))))),
        GlassCovers.AllOutside,
        .. MoreAir.All,
    ];

    private static IEnumerable<Func<Design, Design>> Ways =>
    [
        .. MoreAir.All,
        GlassCovers.AllOutside,
        .. MoreAir.All.Select(way => (Func<Design, Design>)(design => GlassCovers.AllOutside(way(design)))),
    ];
}
