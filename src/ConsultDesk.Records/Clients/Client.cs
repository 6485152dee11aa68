namespace ConsultDesk.Records;

/// <summary>Who is advised.</summary>
public sealed class Client : FirmRow, IVersioned
{
    /// <summary>Name.</summary>
    public required string Name { get; set; }

    /// <summary>The name as <see cref="SearchText.Of"/> folds it: stores compare letters differently.</summary>
    public required string SearchName { get; set; }

    /// <summary>E-mail address, or null.</summary>
    public string? Email { get; set; }

    /// <summary>Private notes, or null.</summary>
    public string? Notes { get; set; }

    /// <summary>Country of residence as ISO 3166-1 alpha-2, or null.</summary>
    public string? Country { get; set; }

    /// <summary>Units the client thinks in: plans are written in them; null for the firm's.</summary>
    public UnitPreset? Units { get; set; }

    /// <summary>What differs from <see cref="Units"/>, as in <see cref="Firm.UnitChoices"/>; empty without them.</summary>
    public string UnitChoices { get; set; } = "";

    /// <summary>When the client was added, UTC.</summary>
    public DateTime CreatedAt { get; set; }

    /// <summary>When the client's own data last changed, UTC.</summary>
    public DateTime UpdatedAt { get; set; }

    /// <inheritdoc/>
    public Guid Version { get; set; }
}
