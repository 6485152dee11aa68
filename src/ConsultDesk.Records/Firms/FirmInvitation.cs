namespace ConsultDesk.Records;

/// <summary>
/// A link by which somebody founds an account in the firm, or by which an account that lost its password or its second step gets back in.
/// Works once.
/// </summary>
public sealed class FirmInvitation : FirmRow, IVersioned
{
    /// <summary>SHA-256 of the token of its link; the token itself is not kept.</summary>
    public required byte[] TokenSha256 { get; set; }

    /// <summary>What the new account may do; without meaning for an account that is let back in.</summary>
    public DeskRole Role { get; set; }

    /// <summary>Whom it is for, in the owner's words; emptied when it is used.</summary>
    public required string ForWhom { get; set; }

    /// <summary>The account it lets back in; null for a new one.</summary>
    public Guid? UserId { get; set; }

    /// <summary>When it was made, UTC.</summary>
    public DateTime CreatedAt { get; set; }

    /// <summary>The owner who made it.</summary>
    public Guid CreatedBy { get; set; }

    /// <summary>When the link stops working, UTC.</summary>
    public DateTime ExpiresAt { get; set; }

    /// <summary>When it was withdrawn, UTC; null while it works.</summary>
    public DateTime? RevokedAt { get; set; }

    /// <summary>When it was used, UTC; null before.</summary>
    public DateTime? UsedAt { get; set; }

    /// <inheritdoc/>
    public Guid Version { get; set; }
}
