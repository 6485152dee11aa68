using ConsultDesk.Calculations.Simulation;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings;

/// <summary>What condenses on glass or metal.</summary>
internal static class ColdSurfaces
{
    /// <summary>Film from which water runs off plain glass, g/m2: 50 to 150, our judgement, no source found.</summary>
    public static double RunOffGPerM2 { get; } = FindingLimits.Of("glass-film");

    // Less than this is a breath on the pane.
    private const double LeastG = 1;

    /// <summary>Grams condensed on all surfaces of a kind.</summary>
    public static double Grams(Assessment assessment, SurfaceKind kind) =>
        assessment.Surfaces.Where(surface => surface.Kind == kind).Sum(surface => surface.CondensedPerNight.Grams);

    /// <summary>The wettest surface of a kind by grams per area, or null when all together stay dry.</summary>
    public static SurfaceState? Wettest(Assessment assessment, SurfaceKind kind) => Grams(assessment, kind) < LeastG
        ? null
        : assessment.Surfaces.Where(surface => surface.Kind == kind).MaxBy(GramsPerM2);

    /// <summary>Film after the night, g/m2.</summary>
    public static double GramsPerM2(SurfaceState surface) => surface.CondensedPerNight.Grams / surface.Area.SquareMeters;

    /// <summary>The numbers that prove it.</summary>
    public static IEnumerable<Evidence> Evidence(Assessment assessment, SurfaceState wettest) =>
    [
        new("Water condensed over the night", Mass.FromGrams(Grams(assessment, wettest.Kind))),
        new($"Surface temperature, {wettest.Name}", wettest.Temperature),
        new("Dew point of the air before it", wettest.DewPoint),
    ];
}
