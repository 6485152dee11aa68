namespace ConsultDesk.Records;

/// <summary>How a search stands.</summary>
public enum SearchState
{
    /// <summary>It is at work.</summary>
    Running,

    /// <summary>It did all it was to do.</summary>
    Finished,

    /// <summary>Somebody stopped it.</summary>
    Stopped,

    /// <summary>It broke off.</summary>
    Failed,

    /// <summary>The program was ended while it was at work.</summary>
    ProgramEnded,
}

/// <summary>
/// The last search of an option's designs: one row each. It can be worked out again, so it is not handed over; it goes with
/// the client.
/// </summary>
public sealed class OptionSearch : FirmRow
{
    /// <summary>The van.</summary>
    public Guid VanId { get; set; }

    /// <summary>The option: it has one row at most.</summary>
    public Guid OptionId { get; set; }

    /// <summary>How it stands.</summary>
    public SearchState State { get; set; }

    /// <summary>When it was asked for, UTC.</summary>
    public DateTime AskedAt { get; set; }

    /// <summary>Who asked.</summary>
    public Guid AskedBy { get; set; }

    /// <summary>Tells inputs, prices and wishes of one search from those of another, SHA-256 in hexadecimal.</summary>
    public required string Fingerprint { get; set; }

    /// <summary>When what is kept was found, UTC.</summary>
    public DateTime FoundAt { get; set; }

    /// <summary>What was found, as <see cref="KeptSearchJson"/> packed it.</summary>
    public required byte[] Found { get; set; }

    /// <summary>When what stands in the van's plan was found, UTC; null when nothing stands there.</summary>
    public DateTime? InPlanAt { get; set; }

    /// <summary>What stands in the van's plan, packed: a later search does not change it. Null when nothing does.</summary>
    public byte[]? InPlan { get; set; }
}
