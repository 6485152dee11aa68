using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>Generic kinds of what takes water out of the air by itself.</summary>
public enum DryerKind
{
    /// <summary>Compressor dehumidifier: weak below about 10 C.</summary>
    Compressor,

    /// <summary>Desiccant wheel dehumidifier: works in the cold and warms the air.</summary>
    Desiccant,

    /// <summary>Tub or bag of salt that takes up water and must be emptied or dried.</summary>
    AbsorberTub,
}

/// <summary>A dehumidifier or absorber in one zone. It brings no outdoor air and lowers no carbon dioxide.</summary>
public sealed record Dryer
{
    /// <summary>Unique within the design.</summary>
    public required string Id { get; init; }

    /// <summary>Name the client would use.</summary>
    public required string Name { get; init; }

    /// <summary>Which kind it is.</summary>
    public required DryerKind Kind { get; init; }

    /// <summary>Id of the zone it stands in.</summary>
    public required string ZoneId { get; init; }

    /// <summary>Water it removes a day at 20 C and 60 % RH, 0.01 to 30 kg.</summary>
    public required Mass RemovedPerDay { get; init; }

    /// <summary>Electric draw while it runs, 0 to 1000 W; 0 for an absorber.</summary>
    public required Power ElectricDraw { get; init; }

    /// <summary>True when it runs (an absorber: when it stands there) all the time somebody is in the van.</summary>
    public required bool Running { get; init; }

    /// <summary>How far it has come.</summary>
    public PartState State { get; init; } = PartState.Proposed;

    /// <summary>Key of its item in the price book, or null when it is priced by kind and size.</summary>
    public string? PriceKey { get; init; }
}
