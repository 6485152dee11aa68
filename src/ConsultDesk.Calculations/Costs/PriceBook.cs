using System.Collections.Immutable;

namespace ConsultDesk.Calculations.Costs;

/// <summary>What an item of the price book is.</summary>
public enum PriceKind
{
    /// <summary>Roof vent without a fan.</summary>
    RoofVent,

    /// <summary>Roof vent with a fan.</summary>
    RoofFan,

    /// <summary>Sliding window.</summary>
    SlidingWindow,

    /// <summary>Top-hinged window.</summary>
    HingedWindow,

    /// <summary>Vent in the floor, or a fixed vent low in a wall.</summary>
    FloorVent,

    /// <summary>Grille for a cab window wound down a little.</summary>
    CabWindowVent,

    /// <summary>Deflector that lets a cab window stay open in rain.</summary>
    CabWindowDeflector,

    /// <summary>Fan that moves air within the van.</summary>
    CirculationFan,

    /// <summary>Heater.</summary>
    Heater,

    /// <summary>Material of a layer, by area.</summary>
    Material,

    /// <summary>Cover of a pane, by area.</summary>
    Cover,

    /// <summary>What divides the cab from the room behind it.</summary>
    CabDivider,

    /// <summary>What lies under the mattress.</summary>
    BedBase,

    /// <summary>Dehumidifier or absorber.</summary>
    Dryer,

    /// <summary>Carbon monoxide alarm.</summary>
    CarbonMonoxideAlarm,

    /// <summary>Smoke alarm.</summary>
    SmokeAlarm,

    /// <summary>Gas alarm.</summary>
    LowGasAlarm,

    /// <summary>Fire extinguisher.</summary>
    Extinguisher,

    /// <summary>Solar panel, rack, awning and so on.</summary>
    RoofPart,

    /// <summary>Liquid fuel of a heater, by the litre. Never a part of the van: running costs are reckoned with it.</summary>
    LiquidFuel,

    /// <summary>Gas in bottles, by the kilogram.</summary>
    BottledGas,

    /// <summary>Electricity at a hook-up, by the kilowatt-hour.</summary>
    Electricity,

    /// <summary>Firewood, by the kilogram.</summary>
    Firewood,
}

/// <summary>What a price is for.</summary>
public enum PriceUnit
{
    /// <summary>One piece.</summary>
    Each,

    /// <summary>One square metre.</summary>
    SquareMetre,

    /// <summary>One litre.</summary>
    Litre,

    /// <summary>One kilogram.</summary>
    Kilogram,

    /// <summary>One kilowatt-hour.</summary>
    KilowattHour,
}

/// <summary>Who fits a part.</summary>
public enum FittedBy
{
    /// <summary>Somebody handy with tools.</summary>
    You,

    /// <summary>A licensed trade, by local codes.</summary>
    LicensedTrade,
}

/// <summary>One item of the price book: a generic part with its price. No brands.</summary>
public sealed record PriceItem
{
    /// <summary>Stable key, kebab-case, unique within the book.</summary>
    public required string Key { get; init; }

    /// <summary>What it is.</summary>
    public required PriceKind Kind { get; init; }

    /// <summary>Name the client reads, for example <c>roof fan, 350 mm, rain hood</c>.</summary>
    public required string Name { get; init; }

    /// <summary>Price of the part in the firm's currency, 0 or more.</summary>
    public required decimal Price { get; init; }

    /// <summary>Price of having it fitted, 0 or more; 0 when the client fits it.</summary>
    public required decimal Fitting { get; init; }

    /// <summary>What the price is for.</summary>
    public required PriceUnit Unit { get; init; }

    /// <summary>Who fits it.</summary>
    public required FittedBy FittedBy { get; init; }

    /// <summary>The technical facts of the item by name, for example <c>lengthMm</c>; which there are depends on the kind.</summary>
    public required ImmutableSortedDictionary<string, string> Facts { get; init; }
}

/// <summary>The firm's prices.</summary>
/// <param name="Items">The items, in the order of the table.</param>
public sealed record PriceBook(ImmutableArray<PriceItem> Items);
