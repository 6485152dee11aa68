namespace ConsultDesk.Records;

/// <summary>What a client says to a plan.</summary>
public enum ReplyKind
{
    /// <summary>A remark about a part of it.</summary>
    Comment,

    /// <summary>A question that waits for an answer.</summary>
    Question,

    /// <summary>The plan is accepted.</summary>
    Accepted,
}

/// <summary>What a client wrote to a published plan, and the consultant's answer. The plan itself never changes.</summary>
public sealed class PlanReply : FirmRow, IVersioned
{
    /// <summary>The plan it is about.</summary>
    public Guid PlanId { get; set; }

    /// <summary>What it is.</summary>
    public ReplyKind Kind { get; set; }

    /// <summary>Heading of the part it is about; empty for the whole plan.</summary>
    public required string Section { get; set; }

    /// <summary>Who wrote it, as they signed.</summary>
    public required string Name { get; set; }

    /// <summary>What they wrote; empty for an acceptance without words.</summary>
    public required string Text { get; set; }

    /// <summary>When, UTC.</summary>
    public DateTime At { get; set; }

    /// <summary>The consultant's answer, which the client reads at the same place; null before.</summary>
    public string? Answer { get; set; }

    /// <summary>When a consultant read or answered it, UTC; null while it waits.</summary>
    public DateTime? SeenAt { get; set; }

    /// <inheritdoc/>
    public Guid Version { get; set; }
}
