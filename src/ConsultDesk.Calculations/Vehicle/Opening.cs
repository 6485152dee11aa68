using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>A face of the body.</summary>
public enum Face
{
    /// <summary>Roof.</summary>
    Roof,

    /// <summary>Floor.</summary>
    Floor,

    /// <summary>Left wall, looking forward.</summary>
    Left,

    /// <summary>Right wall, looking forward.</summary>
    Right,

    /// <summary>Front end with the windscreen.</summary>
    Nose,

    /// <summary>Rear doors.</summary>
    Tail,
}

/// <summary>What kind of opening it is.</summary>
public enum OpeningKind
{
    /// <summary>Lid in the roof, with or without a fan.</summary>
    RoofVent,

    /// <summary>Sliding window.</summary>
    SlidingWindow,

    /// <summary>Top-hinged window.</summary>
    HingedWindow,

    /// <summary>Cab side window wound down.</summary>
    CabWindow,

    /// <summary>Vent in the floor.</summary>
    FloorVent,

    /// <summary>Grille pushed into the gap of a cab window that is wound down a little.</summary>
    CabWindowVent,

    /// <summary>The van's own fresh-air intake before the windscreen.</summary>
    FreshAirFlap,

    /// <summary>The van's own flap at the rear that lets pressure out when a door is shut.</summary>
    PressureReliefFlap,
}

/// <summary>How far an opening stands open. <see cref="Openness"/> gives the share of its full free area.</summary>
public enum Position
{
    /// <summary>Shut: only its seal leaks, which the body's leakage covers.</summary>
    Shut,

    /// <summary>A finger's width: one tenth.</summary>
    Ajar,

    /// <summary>Half.</summary>
    Half,

    /// <summary>As far as it goes.</summary>
    Full,
}

/// <summary>Share of the full free area for each <see cref="Position"/>.</summary>
public static class Openness
{
    /// <summary>Share of the full free area, 0 to 1 (our judgement: shut 0, ajar 0.1, half 0.5, full 1).</summary>
    public static double Share(this Position position) => position switch
    {
        Position.Shut => 0,
        Position.Ajar => 0.1,
        Position.Half => 0.5,
        Position.Full => 1,
        _ => throw new ArgumentOutOfRangeException(nameof(position), position, "Expected shut, ajar, half or full."),
    };
}

/// <summary>What glass a pane is made of.</summary>
public enum GlassKind
{
    /// <summary>One pane of tempered or laminated glass.</summary>
    SinglePane,

    /// <summary>Two panes of glass with sealed air.</summary>
    DoublePane,

    /// <summary>Two panes of acrylic with sealed air.</summary>
    AcrylicDouble,
}

/// <summary>What hangs before the glass at night.</summary>
public enum Cover
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>Inside, with loose edges: room air reaches the glass.</summary>
    InsideLoose,

    /// <summary>Inside, sealed at the edges.</summary>
    InsideTight,

    /// <summary>Outside, fastened round its edges.</summary>
    Outside,

    /// <summary>Outside, with loose edges: wind gets behind it.</summary>
    OutsideLoose,
}

/// <summary>A fan sits in the opening and moves air through it.</summary>
public sealed record Fan
{
    /// <summary>Flow at full speed with no resistance, 0.005 to 1 m3/s.</summary>
    public required VolumeFlow FreeAirFlow { get; init; }

    /// <summary>Pressure at full speed with no flow, 5 to 200 Pa.</summary>
    public required Pressure ShutOffPressure { get; init; }

    /// <summary>Speed as a share of full speed: 0 (off), or 0.05 to 1.</summary>
    public required double Speed { get; init; }

    /// <summary>Direction the fan pushes.</summary>
    public required FanDirection Direction { get; init; }

    /// <summary>Sound at full speed, dB(A) at 1 m, 20 to 90; null when not known.</summary>
    public double? SoundDba { get; init; }
}

/// <summary>Direction a fan pushes air.</summary>
public enum FanDirection
{
    /// <summary>Inside to outside.</summary>
    Exhaust,

    /// <summary>Outside to inside.</summary>
    Intake,
}

/// <summary>What an opening may be used for. Facts of the product or the people, never computed.</summary>
public sealed record OpeningFacts
{
    /// <summary>Stays open in rain (hooded, or below a deflector). A lid that a rain sensor shuts is not.</summary>
    public bool UsableInRain { get; init; }

    /// <summary>Stays open in driving rain or snow.</summary>
    public bool UsableInDrivingRain { get; init; }

    /// <summary>May stay open while people sleep.</summary>
    public bool OpenAsleep { get; init; }

    /// <summary>May stay open when the van is locked and empty.</summary>
    public bool OpenLocked { get; init; }

    /// <summary>A rain sensor shuts it, so it cannot be counted on in rain.</summary>
    public bool RainSensor { get; init; }

    /// <summary>People can be seen through it when it is open or bare.</summary>
    public bool SeenThrough { get; init; }

    /// <summary>Has an insect screen in the air's way.</summary>
    public bool Screened { get; init; }

    /// <summary>Cannot be shut: a fixed vent of a gas installation must never be.</summary>
    public bool Fixed { get; init; }
}

/// <summary>An opening to outside: a box on one face, in van coordinates of its centre.</summary>
public sealed record Opening
{
    /// <summary>Unique within the design.</summary>
    public required string Id { get; init; }

    /// <summary>Name the client would use.</summary>
    public required string Name { get; init; }

    /// <summary>What kind it is.</summary>
    public required OpeningKind Kind { get; init; }

    /// <summary>The face it is cut into.</summary>
    public required Face Face { get; init; }

    /// <summary>Id of the zone it opens into.</summary>
    public required string ZoneId { get; init; }

    /// <summary>Centre, from the windscreen.</summary>
    public required Length X { get; init; }

    /// <summary>Centre, from the left wall; ignored on the side walls.</summary>
    public required Length Y { get; init; }

    /// <summary>Centre, from the floor; ignored on roof and floor.</summary>
    public required Length Z { get; init; }

    /// <summary>Size along the van (across it on nose and tail), 0.02 to 2 m.</summary>
    public required Length Length { get; init; }

    /// <summary>Size across the van on roof and floor, upwards on walls, 0.02 to 1.5 m.</summary>
    public required Length Width { get; init; }

    /// <summary>Share of the frame that is free when fully open, more than 0 to 1.</summary>
    public required double FreeShare { get; init; }

    /// <summary>How far it stands open now.</summary>
    public required Position Position { get; init; }

    /// <summary>What it may be used for.</summary>
    public required OpeningFacts Facts { get; init; }

    /// <summary>The fan in it, or null.</summary>
    public Fan? Fan { get; init; }

    /// <summary>The pane that closes it, or null when it has no glass (a vent lid).</summary>
    public Pane? Pane { get; init; }

    /// <summary>Lining or furniture covers it: no air passes whatever its position.</summary>
    public bool Covered { get; init; }

    /// <summary>How far it has come, its fan with it.</summary>
    public PartState State { get; init; } = PartState.Proposed;

    /// <summary>Key of its item in the price book, or null when it is priced by kind and size.</summary>
    public string? PriceKey { get; init; }
}

/// <summary>Glass and what hangs before it.</summary>
/// <param name="Glass">Kind of glass.</param>
/// <param name="Cover">What hangs before it at night.</param>
public sealed record Pane(GlassKind Glass, Cover Cover)
{
    /// <summary>How far the cover has come; ignored without one.</summary>
    public PartState CoverState { get; init; } = PartState.Proposed;
}

/// <summary>Fixed glass.</summary>
public sealed record Glazing
{
    /// <summary>Unique within the design.</summary>
    public required string Id { get; init; }

    /// <summary>Name the client would use.</summary>
    public required string Name { get; init; }

    /// <summary>Id of the zone it looks into.</summary>
    public required string ZoneId { get; init; }

    /// <summary>The face it sits in.</summary>
    public required Face Face { get; init; }

    /// <summary>Glass area, 0.02 to 4 m2.</summary>
    public required Area Area { get; init; }

    /// <summary>Kind of glass and cover.</summary>
    public required Pane Pane { get; init; }
}

/// <summary>Metal of the body that the room air touches: uncovered ribs, door frames, bare panels.</summary>
public sealed record MetalPatch
{
    /// <summary>Unique within the design.</summary>
    public required string Id { get; init; }

    /// <summary>Name the client would use.</summary>
    public required string Name { get; init; }

    /// <summary>Id of the zone it is in.</summary>
    public required string ZoneId { get; init; }

    /// <summary>Area, 0.01 to 30 m2.</summary>
    public required Area Area { get; init; }
}

/// <summary>Air tightness of the body with every opening shut.</summary>
public sealed record Leakage
{
    /// <summary>Effective leakage area at 4 Pa with a discharge coefficient of 1, 5 to 1000 cm2.</summary>
    public required Area EffectiveArea { get; init; }

    /// <summary>Flow exponent of the cracks, 0.5 to 1.</summary>
    public required double Exponent { get; init; }
}
