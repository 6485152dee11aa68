using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>A named set of weather and use that is judged on its own. Filled from the itinerary's own quantiles.</summary>
public sealed record Situation
{
    /// <summary>Stable key, for example <c>cooking-in-rain</c>.</summary>
    public required string Key { get; init; }

    /// <summary>Name a person recognises.</summary>
    public required string Name { get; init; }

    /// <summary>Outdoor temperature.</summary>
    public required Temperature Outdoor { get; init; }

    /// <summary>Outdoor relative humidity, over ice below freezing.</summary>
    public required RelativeHumidity OutdoorHumidity { get; init; }

    /// <summary>Wind of the station at 10 m.</summary>
    public required Speed StationWind { get; init; }

    /// <summary>What falls from the sky.</summary>
    public required Precipitation Falling { get; init; }

    /// <summary>Global sun on a level surface.</summary>
    public required Irradiance Sun { get; init; }

    /// <summary>What a black level surface at air temperature loses to the open sky.</summary>
    public Irradiance SkyLoss { get; init; } = Irradiance.Zero;

    /// <summary>Barometric pressure.</summary>
    public required Pressure Pressure { get; init; }

    /// <summary>How long it lasts.</summary>
    public required Duration Lasts { get; init; }

    /// <summary>What the people do.</summary>
    public required Activity Activity { get; init; }

    /// <summary>Snow lies on the roof: nothing in the roof can be opened.</summary>
    public bool SnowOnRoof { get; init; }

    /// <summary>People in the van; 0 when it is locked and left.</summary>
    public int People { get; init; }

    /// <summary>True when the heater is left off whatever the design says; false for as the design has it.</summary>
    public bool HeaterOff { get; init; }

    /// <summary>Shelter from the wind where this weather was found most.</summary>
    public Shelter Shelter { get; init; } = Shelter.Ordinary;

    /// <summary>What the people do after it, where that tells the time of day and with it the habits; null otherwise.</summary>
    internal Activity? Next { get; init; }

    /// <summary>Hours of the year this was taken from: those of its time of day and its weather.</summary>
    public int HoursAYear { get; init; }
}

/// <summary>What the people in the van do.</summary>
public enum Activity
{
    /// <summary>Awake, sitting.</summary>
    Awake,

    /// <summary>Cooking.</summary>
    Cooking,

    /// <summary>Asleep.</summary>
    Asleep,

    /// <summary>Away, the van locked.</summary>
    LockedAndLeft,

    /// <summary>Driving.</summary>
    Driving,
}

/// <summary>What a situation does with the openings as they stand, as far as their facts allow.</summary>
public sealed record SituationResult
{
    /// <summary>The situation.</summary>
    public required Situation Situation { get; init; }

    /// <summary>Outdoor air.</summary>
    public required VolumeFlow OutdoorAir { get; init; }

    /// <summary>Warmest of the living and the bed zone at the end.</summary>
    public required Temperature Room { get; init; }

    /// <summary>Relative humidity of the dampest lived-in zone at the end.</summary>
    public required RelativeHumidity Humidity { get; init; }

    /// <summary>Carbon dioxide of the worst lived-in zone at the end, by volume.</summary>
    public required VolumeConcentration CarbonDioxide { get; init; }

    /// <summary>Water condensed on glass and metal while it lasts.</summary>
    public required Mass Condensed { get; init; }

    /// <summary>Glass and metal of the van.</summary>
    public Area GlassAndMetal { get; init; }

    /// <summary>
    /// Glass and metal that is wet at the end: a surface counts in full from 5 g/m2 on, the film of a wet morning, and
    /// below it in proportion.
    /// </summary>
    public Area WetGlassAndMetal { get; init; }

    /// <summary>Heater output at the end.</summary>
    public required Power Heater { get; init; }

    /// <summary>Age of the air at the bed.</summary>
    public required Duration BedAge { get; init; }

    /// <summary>Ids of openings that had to be shut because their facts forbid them here.</summary>
    public required ImmutableArray<string> ShutHere { get; init; }
}
