using System.Globalization;
using ConsultDesk.Calculations.Simulation;

namespace ConsultDesk.Reports.Plans;

/// <summary>A mould index in words.</summary>
public static class MouldWords
{
    /// <summary>The surface: "Behind the lining: walls, bed".</summary>
    public static string Where(MouldSurface surface) => surface.Place switch
    {
        MouldPlace.BehindLining => $"Behind the lining: {surface.Name}",
        MouldPlace.Cupboard => $"In the storage: {surface.Name}",
        MouldPlace.LiningFace => $"On the lining: {surface.Name}",
        MouldPlace.Mattress => surface.Name,
        _ => throw new ArgumentOutOfRangeException(nameof(surface), surface.Place, "Expected a place of mould."),
    };

    /// <summary>The index with one decimal.</summary>
    public static string Index(double index) => index.ToString("F1", CultureInfo.InvariantCulture);

    /// <summary>Index and surface: "1.4 (Mattress underside)".</summary>
    public static string Of(MouldSurface surface) => $"{Index(surface.Index)} ({Where(surface)})";
}
