namespace ConsultDesk.Records;

/// <summary>A client's vehicle. What is calculated with stands in its options.</summary>
public sealed class Van : FirmRow, IVersioned
{
    /// <summary>Whose van it is.</summary>
    public Guid ClientId { get; set; }

    /// <summary>What the client calls it.</summary>
    public required string Name { get; set; }

    /// <summary>Key of the generic body class its dimensions started from.</summary>
    public required string BodyClass { get; set; }

    /// <summary>Key of the layout it started from.</summary>
    public required string Layout { get; set; }

    /// <summary>Year of manufacture, or null when not known.</summary>
    public int? Year { get; set; }

    /// <summary>When the van was added, UTC.</summary>
    public DateTime CreatedAt { get; set; }

    /// <inheritdoc/>
    public Guid Version { get; set; }
}
