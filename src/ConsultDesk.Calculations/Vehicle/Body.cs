using System.Collections.Immutable;
using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>Inside dimensions of the van, and the furniture that is drawn.</summary>
public sealed record Body
{
    /// <summary>Key of the generic body class the dimensions were taken from, for example <c>long-high</c>.</summary>
    public required string BodyClass { get; init; }

    /// <summary>Inside length from the windscreen's foot to the rear doors, 2 to 9 m.</summary>
    public required Length InteriorLength { get; init; }

    /// <summary>Inside width between bare walls, 1.2 to 2.5 m.</summary>
    public required Length InteriorWidth { get; init; }

    /// <summary>Inside height from finished floor to roof lining, 1 to 2.6 m.</summary>
    public required Length InteriorHeight { get; init; }

    /// <summary>Height of the finished floor above the ground, 0.2 to 1.2 m.</summary>
    public required Length FloorAboveGround { get; init; }

    /// <summary>Bed, cooker, galley and so on, as boxes for the drawing and for the layout.</summary>
    public required ImmutableArray<Furniture> Furniture { get; init; }

    /// <summary>Ribs, airbags, wiring and tanks that no opening may cut, as far as they are known.</summary>
    public ImmutableArray<HiddenPart> HiddenParts { get; init; } = [];

    /// <summary>What lies on the roof beside vents.</summary>
    public ImmutableArray<RoofPart> RoofParts { get; init; } = [];
}

/// <summary>What a piece of furniture is.</summary>
public enum FurnitureKind
{
    /// <summary>Sleeping platform.</summary>
    Bed,

    /// <summary>Where food is cooked.</summary>
    Cooker,

    /// <summary>Cupboards and worktop.</summary>
    Cupboard,

    /// <summary>Seats and table.</summary>
    Lounge,

    /// <summary>Driver's or passenger's seat.</summary>
    CabSeat,
}

/// <summary>One box of furniture in van coordinates: its low corner and its size.</summary>
public sealed record Furniture
{
    /// <summary>Unique within the body.</summary>
    public required string Id { get; init; }

    /// <summary>What it is.</summary>
    public required FurnitureKind Kind { get; init; }

    /// <summary>Low x corner, from the windscreen.</summary>
    public required Length X { get; init; }

    /// <summary>Low y corner, from the left wall.</summary>
    public required Length Y { get; init; }

    /// <summary>Bottom, from the floor.</summary>
    public required Length Z { get; init; }

    /// <summary>Size along the van.</summary>
    public required Length Length { get; init; }

    /// <summary>Size across the van.</summary>
    public required Length Width { get; init; }

    /// <summary>Size upwards.</summary>
    public required Length Height { get; init; }
}

/// <summary>Which part of the van a volume of air is.</summary>
public enum ZoneKind
{
    /// <summary>The driver's cab.</summary>
    Cab,

    /// <summary>Where people sit and cook.</summary>
    Living,

    /// <summary>Where people sleep.</summary>
    Sleeping,

    /// <summary>The space below a platform bed.</summary>
    UnderBed,

    /// <summary>A cupboard on the outside wall.</summary>
    Cupboard,
}

/// <summary>A cupboard's place within the zone it was carved out of.</summary>
public sealed record CupboardPlace
{
    /// <summary>Id of the zone around it.</summary>
    public required string HostZoneId { get; init; }

    /// <summary>The side wall it stands against: left or right.</summary>
    public required Face Wall { get; init; }

    /// <summary>Depth from the wall, 0.1 to 1 m.</summary>
    public required Length Depth { get; init; }

    /// <summary>How room air gets into it.</summary>
    public required CupboardAir Air { get; init; }
}

/// <summary>How room air gets into a cupboard.</summary>
public enum CupboardAir
{
    /// <summary>Through the cracks of its doors.</summary>
    Closed,

    /// <summary>Through gaps left open at the top and at the bottom.</summary>
    OpenTopAndBottom,
}

/// <summary>
/// A well-mixed volume of air: a box over the whole width of the van, or a cupboard against one side wall.
/// </summary>
public sealed record Zone
{
    /// <summary>Unique within the design.</summary>
    public required string Id { get; init; }

    /// <summary>Which part of the van it is.</summary>
    public required ZoneKind Kind { get; init; }

    /// <summary>Name the client would use.</summary>
    public required string Name { get; init; }

    /// <summary>Front end, from the windscreen.</summary>
    public required Length From { get; init; }

    /// <summary>Rear end, from the windscreen.</summary>
    public required Length To { get; init; }

    /// <summary>Lower end, from the floor.</summary>
    public required Length Bottom { get; init; }

    /// <summary>Upper end, from the floor.</summary>
    public required Length Top { get; init; }

    /// <summary>Air volume (furniture and cupboards taken off), 0.02 to 40 m3.</summary>
    public required Volume AirVolume { get; init; }

    /// <summary>Where a cupboard stands; null for every other kind of zone.</summary>
    public CupboardPlace? Cupboard { get; init; }
}

/// <summary>A way for air between two zones: a gap the network solves, and mixing that needs no pressure.</summary>
public sealed record Passage
{
    /// <summary>Unique within the design.</summary>
    public required string Id { get; init; }

    /// <summary>Name the client would use.</summary>
    public required string Name { get; init; }

    /// <summary>Id of one zone.</summary>
    public required string ZoneA { get; init; }

    /// <summary>Id of the other zone.</summary>
    public required string ZoneB { get; init; }

    /// <summary>Free area of the gap, more than 0 to 5 m2.</summary>
    public required Area FreeArea { get; init; }

    /// <summary>Lower edge of the gap, from the floor.</summary>
    public required Length Bottom { get; init; }

    /// <summary>Upper edge of the gap, from the floor.</summary>
    public required Length Top { get; init; }

    /// <summary>Air exchanged both ways without a pressure difference, 0 to 1000 m3/h.</summary>
    public required VolumeFlow Mixing { get; init; }
}
