using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>How the bed's base lets air to the underside of the mattress.</summary>
public enum BedBase
{
    /// <summary>A closed board.</summary>
    Solid,

    /// <summary>Slats with gaps.</summary>
    Slatted,

    /// <summary>A spacer or coil mat that keeps air under the mattress, on slats or board.</summary>
    VentilatedUnderlay,
}

/// <summary>A fan that moves air between two zones. It brings no outdoor air.</summary>
public sealed record CirculationFan
{
    /// <summary>Unique within the design.</summary>
    public required string Id { get; init; }

    /// <summary>Name the client would use.</summary>
    public required string Name { get; init; }

    /// <summary>Id of one zone.</summary>
    public required string ZoneA { get; init; }

    /// <summary>Id of the other zone.</summary>
    public required string ZoneB { get; init; }

    /// <summary>Air it exchanges both ways, 5 to 500 m3/h.</summary>
    public required VolumeFlow Flow { get; init; }

    /// <summary>Electric draw, 0 to 60 W.</summary>
    public required Power ElectricDraw { get; init; }

    /// <summary>True when it runs all the time somebody is in the van.</summary>
    public required bool Running { get; init; }

    /// <summary>How far it has come.</summary>
    public PartState State { get; init; } = PartState.Proposed;

    /// <summary>Key of its item in the price book, or null when it is priced by kind and size.</summary>
    public string? PriceKey { get; init; }
}

/// <summary>Steel of the body behind the lining.</summary>
public enum SteelCondition
{
    /// <summary>Nobody has looked.</summary>
    Unknown,

    /// <summary>Bare or factory primer, no rust.</summary>
    Bare,

    /// <summary>Light rust.</summary>
    LightRust,

    /// <summary>Rust that was removed and treated.</summary>
    RustTreated,

    /// <summary>Coated over sound steel.</summary>
    Coated,

    /// <summary>Coated over rust that was not treated.</summary>
    CoatedOverRust,
}

/// <summary>Which kind the house battery is.</summary>
public enum BatteryKind
{
    /// <summary>No house battery.</summary>
    None,

    /// <summary>Lead: flooded, gel or glass mat.</summary>
    Lead,

    /// <summary>Lithium iron phosphate without heating.</summary>
    Lithium,

    /// <summary>Lithium iron phosphate that warms itself before charging.</summary>
    HeatedLithium,
}

/// <summary>A point on the outside of the body, in van coordinates.</summary>
/// <param name="Face">The face it lies on; the floor for what ends under the van.</param>
/// <param name="X">From the windscreen; ignored on nose and tail.</param>
/// <param name="Y">From the left wall; ignored on the side walls.</param>
/// <param name="Z">From the finished floor, negative down to the ground; ignored on roof and floor.</param>
public sealed record BodyPoint(Face Face, Length X, Length Y, Length Z);

/// <summary>
/// What stands in the van besides air, heat and people, and matters for danger: alarms, gas, battery, water, exhaust.
/// Everything starts as the most careful assumption: not there, not known.
/// </summary>
public sealed record Equipment
{
    /// <summary>How far a carbon monoxide alarm has come; null when there is none.</summary>
    public PartState? CarbonMonoxideAlarm { get; init; }

    /// <summary>How far a smoke alarm has come; null when there is none.</summary>
    public PartState? SmokeAlarm { get; init; }

    /// <summary>How far a gas alarm near the floor has come; null when there is none.</summary>
    public PartState? LowGasAlarm { get; init; }

    /// <summary>How far a fire extinguisher in reach of the bed or the door has come; null when there is none.</summary>
    public PartState? Extinguisher { get; init; }

    /// <summary>Ways out of the bed a person can use, 1 to 10.</summary>
    public int WaysOutOfBed { get; init; } = 1;

    /// <summary>Gas bottles are carried.</summary>
    public bool GasBottles { get; init; }

    /// <summary>The gas bottles' locker is open to the living space, or drains into it.</summary>
    public bool GasLockerOpensInside { get; init; }

    /// <summary>Where the gas bottles' locker stands; null when not known or there is none.</summary>
    public BodyPoint? GasLocker { get; init; }

    /// <summary>A wood stove is fitted.</summary>
    public bool WoodStove { get; init; }

    /// <summary>The cooker is used to warm the van.</summary>
    public bool CookerUsedForWarmth { get; init; }

    /// <summary>Where the heater's exhaust ends; null when not known or there is none.</summary>
    public BodyPoint? HeaterExhaust { get; init; }

    /// <summary>Altitude the heater's maker allows without an altitude setting, 0 to 6000 m; null when not known.</summary>
    public Length? HeaterRatedAltitude { get; init; }

    /// <summary>The house battery.</summary>
    public BatteryKind Battery { get; init; }

    /// <summary>Id of the zone the battery stands in; null for outside.</summary>
    public string? BatteryZoneId { get; init; }

    /// <summary>Usable battery energy, 0 to 30 kWh; ignored without a battery.</summary>
    public Energy BatteryUsable { get; init; } = Energy.FromKilowattHours(0);

    /// <summary>Water tank or pipes are carried.</summary>
    public bool WaterCarried { get; init; }

    /// <summary>Id of the zone the coldest water tank or pipe lies in; null for outside.</summary>
    public string? WaterZoneId { get; init; }

    /// <summary>Steel behind the lining.</summary>
    public SteelCondition Steel { get; init; }

    /// <summary>A roof fan or lid stands below snow when it snows: nobody clears the roof.</summary>
    public bool RoofNotCleared { get; init; }

    /// <summary>Animals or people are left in the locked van while away.</summary>
    public bool LeftInLockedVan { get; init; }
}

/// <summary>What lies behind the skin where nobody may cut.</summary>
public enum HiddenPartKind
{
    /// <summary>Rib or roof bow.</summary>
    Rib,

    /// <summary>Airbag or its wiring.</summary>
    Airbag,

    /// <summary>Wiring loom.</summary>
    Wiring,

    /// <summary>Fuel or water tank, its filler or pipes.</summary>
    Tank,

    /// <summary>Track of the sliding door.</summary>
    DoorTrack,
}

/// <summary>Something behind the skin that an opening must not cut: a box on a face, in van coordinates of its centre.</summary>
public sealed record HiddenPart
{
    /// <summary>Unique within the body.</summary>
    public required string Id { get; init; }

    /// <summary>What it is.</summary>
    public required HiddenPartKind Kind { get; init; }

    /// <summary>Name the client would use.</summary>
    public required string Name { get; init; }

    /// <summary>The face it lies behind.</summary>
    public required Face Face { get; init; }

    /// <summary>Centre, from the windscreen.</summary>
    public required Length X { get; init; }

    /// <summary>Centre, from the left wall; ignored on the side walls.</summary>
    public required Length Y { get; init; }

    /// <summary>Centre, from the floor; ignored on roof and floor.</summary>
    public required Length Z { get; init; }

    /// <summary>Size along the van (across it on nose and tail), 0.005 to 9 m.</summary>
    public required Length Length { get; init; }

    /// <summary>Size across the van on roof and floor, upwards on walls, 0.005 to 9 m.</summary>
    public required Length Width { get; init; }
}
