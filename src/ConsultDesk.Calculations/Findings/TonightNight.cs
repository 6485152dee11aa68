using UnitsNet;

namespace ConsultDesk.Calculations.Findings;

/// <summary>What falls from the sky tonight, as one sees it on looking out.</summary>
public enum TonightWeather
{
    /// <summary>Nothing falls.</summary>
    Dry,

    /// <summary>Rain.</summary>
    Rain,

    /// <summary>Snow falls or lies on the roof: nothing in the roof can be opened.</summary>
    Snow,
}

/// <summary>What was cooked in the van just before going to bed.</summary>
public enum TonightMeal
{
    /// <summary>Nothing.</summary>
    Nothing,

    /// <summary>A short meal, lids on: what light cooking makes in a day.</summary>
    Light,

    /// <summary>A long one, pasta or a stew: what heavy cooking makes in a day.</summary>
    Heavy,
}

/// <summary>A night as three taps tell it.</summary>
/// <param name="Outdoor">Temperature outdoors.</param>
/// <param name="Weather">What falls.</param>
/// <param name="Sleepers">People who sleep in the van, 0 when it stands locked, up to its household.</param>
/// <param name="Meal">What was cooked; nothing when nobody sleeps there.</param>
public sealed record TonightNight(Temperature Outdoor, TonightWeather Weather, int Sleepers, TonightMeal Meal);

/// <summary>How one opening stands.</summary>
/// <param name="OpeningId">The opening.</param>
/// <param name="Position">How far open.</param>
/// <param name="FanSpeed">Speed of its fan as a share of full speed; null without a fan or when it is off.</param>
public sealed record TonightOpening(string OpeningId, Vehicle.Position Position, double? FanSpeed);

/// <summary>The settings of a night.</summary>
/// <param name="Night">The night they were searched for.</param>
/// <param name="Cell">Aim, instructions and what they come to, as in a cell of the running card.</param>
/// <param name="Openings">Every opening as it then stands, in the design's order.</param>
/// <param name="HeaterAtLimit">The heater gives all it can and the room may stay below its setting.</param>
public sealed record TonightSetting(
    TonightNight Night, CardCell Cell, System.Collections.Immutable.ImmutableArray<TonightOpening> Openings, bool HeaterAtLimit)
{
    /// <summary>True when the heater runs.</summary>
    public bool Heated => Cell.Outcome!.Heater > Power.FromWatts(1);
}
