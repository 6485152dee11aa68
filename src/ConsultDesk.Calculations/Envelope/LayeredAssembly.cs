using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Envelope;

/// <summary>The layers of a wall, roof or floor, from room air to outside skin.</summary>
public sealed record LayeredAssembly
{
    /// <summary>Name the client would use.</summary>
    public required string Name { get; init; }

    /// <summary>Layers from room air to outside skin, at least one.</summary>
    public required ImmutableArray<Layer> Layers { get; init; }

    /// <summary>How room air gets past the lining to the skin.</summary>
    public LiningGaps Gaps { get; init; } = LiningGaps.ClipsAndSeams;
}

/// <summary>How room air gets past a lining to the skin behind it.</summary>
public enum LiningGaps
{
    /// <summary>Sealed edges and screw holes; a little still leaks.</summary>
    Sealed,

    /// <summary>Clips and seams as usually fitted.</summary>
    ClipsAndSeams,

    /// <summary>A planned air gap, open at the top and the bottom.</summary>
    PlannedAirGap,
}

/// <summary>One layer of an assembly.</summary>
public abstract record Layer
{
    /// <summary>Unique within the assembly.</summary>
    public required string Id { get; init; }

    /// <summary>How far it has come.</summary>
    public PartState State { get; init; } = PartState.Proposed;
}

/// <summary>A layer of solid material from the materials table.</summary>
public sealed record SolidLayer : Layer
{
    /// <summary>Key of the material, for example <c>plywood-500</c>.</summary>
    public required string Material { get; init; }

    /// <summary>Thickness, 0.05 to 300 mm.</summary>
    public required Length Thickness { get; init; }
}

/// <summary>A layer of still or moving air.</summary>
public sealed record AirLayer : Layer
{
    /// <summary>Thickness, 1 to 300 mm.</summary>
    public required Length Thickness { get; init; }

    /// <summary>How much outside air passes through it.</summary>
    public required AirLayerVentilation Ventilation { get; init; }
}

/// <summary>How much outside air passes through an air layer (ISO 6946 classes).</summary>
public enum AirLayerVentilation
{
    /// <summary>At most 500 mm2 of openings per metre.</summary>
    Unventilated,

    /// <summary>500 to 1500 mm2 of openings per metre.</summary>
    SlightlyVentilated,

    /// <summary>More than 1500 mm2 of openings per metre: the layer and all outside it count for nothing.</summary>
    WellVentilated,
}

/// <summary>A sheet that resists vapour but not heat, such as a vapour control layer.</summary>
public sealed record MembraneLayer : Layer
{
    /// <summary>Name the client would use.</summary>
    public required string Name { get; init; }

    /// <summary>Vapour-equivalent air layer thickness sd, 0.001 to 10,000 m.</summary>
    public required Length VapourEquivalentThickness { get; init; }
}
