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

    /// <summary>Diesel boiler that takes its air from and gives its gases to the outside; its coolant warms the air through a radiator with a fan.</summary>
    Hydronic,

    /// <summary>Wood stove whose gases leave by a flue through the roof; it takes its air from the cabin unless it has its own.</summary>
    WoodStove,
}

/// <summary>What the kinds of heater have in common.</summary>
public static class HeaterKinds
{
    /// <summary>True when it takes its air from outside and gives its gases back there.</summary>
    public static bool IsRoomSealed(this HeaterKind kind) =>
        kind is HeaterKind.RoomSealedLiquidFuel or HeaterKind.RoomSealedGas or HeaterKind.Hydronic;

    /// <summary>True when it burns diesel or petrol.</summary>
    public static bool BurnsLiquidFuel(this HeaterKind kind) => kind is HeaterKind.RoomSealedLiquidFuel or HeaterKind.Hydronic;

    /// <summary>True when it burns anything.</summary>
    public static bool BurnsFuel(this HeaterKind kind) => kind is not (HeaterKind.None or HeaterKind.Electric);

    /// <summary>True when a pipe leads its gases out of the van.</summary>
    public static bool HasExhaust(this HeaterKind kind) => kind.IsRoomSealed() || kind == HeaterKind.WoodStove;

    /// <summary>True when a wood stove stands in the van, as its heater or besides it: its flue takes cabin air.</summary>
    public static bool HasOpenFlue(Design design)
    {
        ArgumentNullException.ThrowIfNull(design);
        return design.Heater.Kind == HeaterKind.WoodStove || design.Equipment.WoodStove;
    }
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

    /// <summary>Hot drinks made in the van a day, all people together, 0 to 30.</summary>
    public int HotDrinksPerDay { get; init; }

    /// <summary>Dishes are washed in the van, once a day.</summary>
    public bool WashesUpInside { get; init; }

    /// <summary>Potted plants in the van, 0 to 20.</summary>
    public int Plants { get; init; }

    /// <summary>Wet firewood lies in the van to dry.</summary>
    public bool WetFirewoodInside { get; init; }

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
