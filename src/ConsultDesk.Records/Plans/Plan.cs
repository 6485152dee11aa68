namespace ConsultDesk.Records;

/// <summary>A published revision of a van's plan. Written once; holds all it needs to be shown again.</summary>
public sealed class Plan : FirmRow
{
    /// <summary>The van it is for.</summary>
    public Guid VanId { get; set; }

    /// <summary>The option it was made from.</summary>
    public Guid OptionId { get; set; }

    /// <summary>Letter of the option when published.</summary>
    public required string OptionLetter { get; set; }

    /// <summary>Name of the option when published.</summary>
    public required string OptionName { get; set; }

    /// <summary>Revision number, from 1, unique within the van.</summary>
    public int Number { get; set; }

    /// <summary>The snapshot as the reports wrote it.</summary>
    public required string SnapshotText { get; set; }

    /// <summary>Format number of the snapshot text.</summary>
    public int SnapshotFormat { get; set; }

    /// <summary>SHA-256 of the snapshot text as UTF-8, lower-case hexadecimal.</summary>
    public required string SnapshotSha256 { get; set; }

    /// <summary>Version of the calculation method of the results in the snapshot.</summary>
    public required string MethodVersion { get; set; }

    /// <summary>Settings for tonight's weather, computed when it was published; null for plans published before there were any.</summary>
    public string? TonightText { get; set; }

    /// <summary>SHA-256 of <see cref="TonightText"/> as UTF-8, lower-case hexadecimal; null without one, and for plans published before it was kept.</summary>
    public string? TonightSha256 { get; set; }

    /// <summary>When, UTC.</summary>
    public DateTime PublishedAt { get; set; }

    /// <summary>Who.</summary>
    public Guid PublishedBy { get; set; }
}

/// <summary>An unguessable link to one plan. The token itself is not kept.</summary>
public sealed class PlanLink : FirmRow, IVersioned
{
    /// <summary>The one plan it opens.</summary>
    public Guid PlanId { get; set; }

    /// <summary>SHA-256 of the token.</summary>
    public required byte[] TokenSha256 { get; set; }

    /// <summary>When it was made, UTC.</summary>
    public DateTime CreatedAt { get; set; }

    /// <summary>When it stops working, UTC.</summary>
    public DateTime ExpiresAt { get; set; }

    /// <summary>When it was taken back, UTC; null while it works.</summary>
    public DateTime? RevokedAt { get; set; }

    /// <summary>When it was last opened, UTC, to about a minute; null when never.</summary>
    public DateTime? LastUsedAt { get; set; }

    /// <inheritdoc/>
    public Guid Version { get; set; }
}
