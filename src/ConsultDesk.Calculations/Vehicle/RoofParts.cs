using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>What lies on the roof beside vents.</summary>
public enum RoofPartKind
{
    /// <summary>Solar panel.</summary>
    SolarPanel,

    /// <summary>Roof rack or platform.</summary>
    Rack,

    /// <summary>Cross bar.</summary>
    RoofBar,

    /// <summary>Awning along an edge.</summary>
    Awning,

    /// <summary>Box, aerial, light or anything else.</summary>
    Other,
}

/// <summary>Something on the roof that no lid may meet: a box seen from above, in van coordinates of its centre.</summary>
public sealed record RoofPart
{
    /// <summary>Unique within the body.</summary>
    public required string Id { get; init; }

    /// <summary>What it is.</summary>
    public required RoofPartKind Kind { get; init; }

    /// <summary>Name the client would use.</summary>
    public required string Name { get; init; }

    /// <summary>Centre, from the windscreen.</summary>
    public required Length X { get; init; }

    /// <summary>Centre, from the left wall.</summary>
    public required Length Y { get; init; }

    /// <summary>Size along the van, 0.02 to 9 m.</summary>
    public required Length Length { get; init; }

    /// <summary>Size across the van, 0.02 to 2.5 m.</summary>
    public required Length Width { get; init; }

    /// <summary>How far it has come.</summary>
    public PartState State { get; init; } = PartState.Proposed;

    /// <summary>Key of its item in the price book, or null.</summary>
    public string? PriceKey { get; init; }
}
