namespace ConsultDesk.Records;

/// <summary>What the people in the van report after living with it, to be set against what a plan foretold.</summary>
public sealed class CheckBack : FirmRow, IVersioned
{
    /// <summary>The van.</summary>
    public Guid VanId { get; set; }

    /// <summary>The plan whose numbers it is set against.</summary>
    public Guid PlanId { get; set; }

    /// <summary>Who reports.</summary>
    public required string Name { get; set; }

    /// <summary>True when the client wrote it through the plan's link, false when the consultant took it down.</summary>
    public bool FromClient { get; set; }

    /// <summary>What is reported, as JSON.</summary>
    public required string AnswersText { get; set; }

    /// <summary>Format number of <see cref="AnswersText"/>.</summary>
    public int Format { get; set; }

    /// <summary>When, UTC.</summary>
    public DateTime At { get; set; }

    /// <summary>When a consultant read it, UTC; null while it waits.</summary>
    public DateTime? SeenAt { get; set; }

    /// <inheritdoc/>
    public Guid Version { get; set; }
}
