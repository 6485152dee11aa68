using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>Generic kinds of heater.</summary>
public enum HeaterKind
{
    /// <summary>No heater.</summary>
    None,

    /// <summary>Diesel or petrol air heater that takes its air from and gives its gases to the outside.</summary>
    RoomSealedLiquidFuel,

    /// <summary>Gas heater that takes its air from and gives its gases to the outside.</summary>
    RoomSealedGas,

    /// <summary>Gas heater that burns the cabin's air and leaves its water and gases in the cabin.</summary>
    UnfluedGas,

    /// <summary>Electric resistance.</summary>
    Electric,
}

/// <summary>What heats the van.</summary>
public sealed record Heater
{
    /// <summary>Which kind it is.</summary>
    public required HeaterKind Kind { get; init; }

    /// <summary>Rated heat output, 0.3 to 15 kW; ignored when there is no heater.</summary>
    public required Power RatedOutput { get; init; }

    /// <summary>Temperature the sleepers keep by night, 0 to 30 C.</summary>
    public required Temperature NightSetPoint { get; init; }

    /// <summary>Id of the zone that gets the heat and has the thermostat.</summary>
    public required string ZoneId { get; init; }

    /// <summary>Temperature kept while people are awake in the van, 0 to 30 C.</summary>
    public Temperature DaySetPoint { get; init; } = Temperature.FromDegreesCelsius(19);

    /// <summary>True when it also heats the empty van, to the night temperature.</summary>
    public bool RunsWhenAway { get; init; }

    /// <summary>How far it has come.</summary>
    public PartState State { get; init; } = PartState.Proposed;

    /// <summary>Key of its item in the price book, or null when it is priced by kind and size.</summary>
    public string? PriceKey { get; init; }
}

/// <summary>What food is cooked with.</summary>
public enum CookingFuel
{
    /// <summary>Nobody cooks in the van.</summary>
    None,

    /// <summary>Electric.</summary>
    Electric,

    /// <summary>Gas, whose flame adds water and carbon dioxide.</summary>
    Gas,
}

/// <summary>How much steam cooking makes; grams in the defaults table.</summary>
public enum CookingHabit
{
    /// <summary>Lids on, short meals.</summary>
    Light,

    /// <summary>One cooked meal a day.</summary>
    Everyday,

    /// <summary>Pasta, stews, kettle all day.</summary>
    Heavy,
}

/// <summary>Who sleeps in the van and what they do.</summary>
public sealed record Household
{
    /// <summary>People who sleep in the van, 0 to 6.</summary>
    public required int Sleepers { get; init; }

    /// <summary>What food is cooked with.</summary>
    public required CookingFuel CookingFuel { get; init; }

    /// <summary>How much steam cooking makes.</summary>
    public required CookingHabit CookingHabit { get; init; }

    /// <summary>When people are in the van.</summary>
    public Presence Presence { get; init; } = Presence.EveningsAndNights;

    /// <summary>Dogs, or animals that breathe about as much, 0 to 6.</summary>
    public int Animals { get; init; }

    /// <summary>Showers taken in the van a day, 0 to 10.</summary>
    public int ShowersPerDay { get; init; }

    /// <summary>Wet clothes and gear dry in the van.</summary>
    public bool DriesClothes { get; init; }

    /// <summary>Somebody wipes the film off the inside of the glass at nine after every night slept in the van, and puts the cloth outside.</summary>
    public bool WipesGlass { get; init; }
}

/// <summary>When people are in the van.</summary>
public enum Presence
{
    /// <summary>To sleep only, 22:00 to 07:00.</summary>
    Nights,

    /// <summary>17:00 to 08:30.</summary>
    EveningsAndNights,

    /// <summary>All day but for an hour at noon.</summary>
    AllDay,
}

/// <summary>How the parked van stands to the wind.</summary>
public enum Shelter
{
    /// <summary>Among buildings or trees.</summary>
    Sheltered,

    /// <summary>Ordinary camp site.</summary>
    Ordinary,

    /// <summary>Open coast, pass or plain.</summary>
    Exposed,
}

/// <summary>Where and when the van stands.</summary>
public sealed record Stop
{
    /// <summary>Key of a place in the climate table.</summary>
    public required string PlaceKey { get; init; }

    /// <summary>Month, 1 to 12.</summary>
    public required int Month { get; init; }

    /// <summary>Altitude of the stop, -300 to 5000 m.</summary>
    public required Length Altitude { get; init; }

    /// <summary>How it stands to the wind.</summary>
    public required Shelter Shelter { get; init; }
}
