namespace ConsultDesk.Calculations.Vehicle;

/// <summary>How far a part has come. Cost counts what is still to buy; nothing moves a fitted part.</summary>
public enum PartState
{
    /// <summary>Built in: it costs nothing more and stays where it is.</summary>
    Fitted,

    /// <summary>Bought or promised, not built in yet: it costs nothing more and may still go elsewhere.</summary>
    Owned,

    /// <summary>To be bought now.</summary>
    Proposed,

    /// <summary>To be bought later. It is drawn, and left out of every calculated number (<see cref="LaterParts"/>).</summary>
    Later,
}

/// <summary>How far the conversion has come; presets start their parts by it.</summary>
public enum BuildStage
{
    /// <summary>Nobody has said.</summary>
    Unknown,

    /// <summary>Bare load space: everything is still to be decided.</summary>
    EmptyShell,

    /// <summary>Some parts are in, walls or roof still open.</summary>
    PartlyBuilt,

    /// <summary>Lived in: changes mean opening something again.</summary>
    LivedIn,
}
