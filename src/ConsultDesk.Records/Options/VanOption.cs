namespace ConsultDesk.Records;

/// <summary>One complete candidate design of a van.</summary>
public sealed class VanOption : FirmRow, IVersioned
{
    /// <summary>The van it is for.</summary>
    public Guid VanId { get; set; }

    /// <summary>A, B, ... Z, AA: unique within the van and never changed.</summary>
    public required string Letter { get; set; }

    /// <summary>Name.</summary>
    public required string Name { get; set; }

    /// <summary>The design as <see cref="DesignJson"/> wrote it.</summary>
    public required string DesignText { get; set; }

    /// <summary>Format number of the design text.</summary>
    public int DesignFormat { get; set; }

    /// <summary>Version of the calculation method of the release that saved this design or judged it for a choice; null when saved before it was noted.</summary>
    public string? MethodVersion { get; set; }

    /// <summary>When it was closed for changes because others were copied from it, UTC; null while it is open. Only option A, the client's own idea, is ever closed.</summary>
    public DateTime? KeptAt { get; set; }

    /// <summary>Why there is this option: what it tries, or why it was left; empty until somebody says.</summary>
    public string Reason { get; set; } = "";

    /// <summary>The option it was copied from, or null.</summary>
    public Guid? CopiedFrom { get; set; }

    /// <summary>When it was added, UTC.</summary>
    public DateTime CreatedAt { get; set; }

    /// <summary>When it last changed, UTC.</summary>
    public DateTime UpdatedAt { get; set; }

    /// <summary>Who changed it last.</summary>
    public Guid UpdatedBy { get; set; }

    /// <inheritdoc/>
    public Guid Version { get; set; }
}

/// <summary>A design as it stood after one save. Written once.</summary>
public sealed class OptionRevision : FirmRow
{
    /// <summary>Whose history it is.</summary>
    public Guid OptionId { get; set; }

    /// <summary>The design as <see cref="DesignJson"/> wrote it.</summary>
    public required string DesignText { get; set; }

    /// <summary>Format number of the design text.</summary>
    public int DesignFormat { get; set; }

    /// <summary>What was done, in the words of the edit.</summary>
    public required string Label { get; set; }

    /// <summary>When, UTC.</summary>
    public DateTime SavedAt { get; set; }

    /// <summary>Who.</summary>
    public Guid SavedBy { get; set; }
}
