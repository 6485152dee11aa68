namespace ConsultDesk.Records;

/// <summary>What the client wants of a van, as one text. A van without a row has no wishes recorded.</summary>
public sealed class VanWishes : FirmRow, IVersioned
{
    /// <summary>The van.</summary>
    public Guid VanId { get; set; }

    /// <summary>The wishes as JSON.</summary>
    public required string WishesText { get; set; }

    /// <summary>Format number of the text.</summary>
    public int Format { get; set; }

    /// <summary>When they last changed, UTC.</summary>
    public DateTime UpdatedAt { get; set; }

    /// <inheritdoc/>
    public Guid Version { get; set; }
}
