namespace ConsultDesk.Records;

/// <summary>Something to come back to on a day.</summary>
public sealed class FollowUp : FirmRow, IVersioned
{
    /// <summary>The van it is about.</summary>
    public Guid VanId { get; set; }

    /// <summary>The day it is due.</summary>
    public DateOnly DueOn { get; set; }

    /// <summary>What to do.</summary>
    public required string Text { get; set; }

    /// <summary>When it was done, UTC; null while it is open.</summary>
    public DateTime? DoneAt { get; set; }

    /// <summary>When it was added, UTC.</summary>
    public DateTime CreatedAt { get; set; }

    /// <inheritdoc/>
    public Guid Version { get; set; }
}
