using ConsultDesk.Calculations.Envelope;
using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>Walls, roof and floor to start from: what many self-built vans have (common practice, no source).</summary>
public static class PresetAssemblies
{
    /// <summary>Plywood lining, wool behind it, bare steel skin: open to vapour.</summary>
    public static LayeredAssembly Walls { get; } = new()
    {
        Name = "Plywood, wool, steel skin",
        Layers =
        [
            Solid("lining", "plywood-500", 6),
            Solid("insulation", "sheeps-wool", 40),
            Solid("skin", "mild-steel", 1),
        ],
    };

    /// <summary>Plywood ceiling, wool, bare steel skin.</summary>
    public static LayeredAssembly Roof { get; } = Walls with { Name = "Plywood ceiling, wool, steel skin" };

    /// <summary>Vinyl glued in one sheet on plywood over extruded foam on the steel floor: no clips, no seams.</summary>
    public static LayeredAssembly Floor { get; } = new()
    {
        Name = "Vinyl, plywood, extruded foam, steel floor",
        Gaps = LiningGaps.Sealed,
        Layers =
        [
            Solid("covering", "vinyl-floor", 2),
            Solid("board", "plywood-700", 12),
            Solid("insulation", "xps", 25),
            Solid("skin", "mild-steel", 1),
        ],
    };

    private static SolidLayer Solid(string id, string material, double thicknessMm) =>
        new() { Id = id, Material = material, Thickness = Length.FromMillimeters(thicknessMm) };
}
