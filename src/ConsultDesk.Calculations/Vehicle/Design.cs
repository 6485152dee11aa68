using System.Collections.Immutable;
using ConsultDesk.Calculations.Envelope;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>
/// One complete candidate design of a van: everything the calculation needs to know, and nothing it computes.
/// Immutable; a change is a copy. Never compare two designs with <c>==</c>: lists compare by reference.
/// </summary>
/// <remarks>
/// Coordinates: x runs from the windscreen to the rear doors, y from the left wall to the right wall
/// (looking forward), z upwards from the finished floor. The ids of list members are unique within their list.
/// </remarks>
public sealed record Design
{
    /// <summary>Inside dimensions and furniture.</summary>
    public required Body Body { get; init; }

    /// <summary>The volumes of air, at least one.</summary>
    public required ImmutableArray<Zone> Zones { get; init; }

    /// <summary>Ways for air from zone to zone.</summary>
    public required ImmutableArray<Passage> Passages { get; init; }

    /// <summary>Ways for air to outside that somebody made or can open; leakage apart. May be empty: a shut van is valid.</summary>
    public required ImmutableArray<Opening> Openings { get; init; }

    /// <summary>Glass that does not open.</summary>
    public required ImmutableArray<Glazing> Glazings { get; init; }

    /// <summary>Metal inside that no lining or insulation covers.</summary>
    public required ImmutableArray<MetalPatch> BareMetal { get; init; }

    /// <summary>The side walls and doors, layers from room air to outside skin.</summary>
    public required LayeredAssembly Walls { get; init; }

    /// <summary>The roof, layers from room air to outside skin.</summary>
    public required LayeredAssembly Roof { get; init; }

    /// <summary>The floor, layers from room air to outside skin.</summary>
    public required LayeredAssembly Floor { get; init; }

    /// <summary>Cracks nobody made.</summary>
    public required Leakage Leakage { get; init; }

    /// <summary>What heats the van.</summary>
    public required Heater Heater { get; init; }

    /// <summary>Who lives in it and what they do.</summary>
    public required Household Household { get; init; }

    /// <summary>Where and when it stands.</summary>
    public required Stop Stop { get; init; }

    /// <summary>Stays through the year, covering every day once; empty when the van spends the whole year at <see cref="Stop"/>.</summary>
    public ImmutableArray<ItineraryStop> Itinerary { get; init; } = [];

    /// <summary>Fans that move air within the van.</summary>
    public ImmutableArray<CirculationFan> CirculationFans { get; init; } = [];

    /// <summary>How air gets to the underside of the mattress; <see cref="Beds.With"/> sets the platform's gaps with it.</summary>
    public BedBase BedBase { get; init; } = BedBase.Slatted;

    /// <summary>What stands between the cab and the room behind it; <see cref="CabDividers.With"/> sets the gap with it.</summary>
    public CabDivider CabDivider { get; init; } = CabDivider.Open;

    /// <summary>Alarms, gas, battery, water and exhaust.</summary>
    public Equipment Equipment { get; init; } = new();

    /// <summary>What takes water out of the air by itself.</summary>
    public ImmutableArray<Dryer> Dryers { get; init; } = [];

    /// <summary>How far the bed base has come.</summary>
    public PartState BedBaseState { get; init; } = PartState.Proposed;

    /// <summary>How far the cab divider has come.</summary>
    public PartState CabDividerState { get; init; } = PartState.Proposed;

    /// <summary>How far the conversion has come.</summary>
    public BuildStage BuildStage { get; init; }

    /// <summary>Country whose codes are cited, ISO 3166-1 alpha-2; null for the country of <see cref="Stop"/>.</summary>
    public string? Country { get; init; }

    /// <summary>Places entered by hand, which <see cref="Stop"/> and <see cref="Itinerary"/> may name.</summary>
    public ImmutableArray<OwnPlace> OwnPlaces { get; init; } = [];

    /// <summary>Origins of the inputs that are not assumed, sorted by path.</summary>
    public ImmutableArray<InputOrigin> Origins { get; init; } = [];
}
