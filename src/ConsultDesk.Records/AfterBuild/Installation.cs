namespace ConsultDesk.Records;

/// <summary>Something of the plan that was built into the van, with who did it and when.</summary>
public sealed class Installation : FirmRow, IVersioned
{
    /// <summary>The van.</summary>
    public Guid VanId { get; set; }

    /// <summary>What was built in, in words.</summary>
    public required string What { get; set; }

    /// <summary>The day it was done.</summary>
    public DateOnly DoneOn { get; set; }

    /// <summary>Who did it; empty when not told.</summary>
    public required string Who { get; set; }

    /// <summary>What else is worth keeping; may be empty.</summary>
    public required string Note { get; set; }

    /// <summary>When it was entered, UTC.</summary>
    public DateTime CreatedAt { get; set; }

    /// <inheritdoc/>
    public Guid Version { get; set; }
}

/// <summary>A photo of something built in, encoded anew: nothing else that lay in the file is kept.</summary>
public sealed class InstallationPhoto : FirmRow
{
    /// <summary>What it shows.</summary>
    public Guid InstallationId { get; set; }

    /// <summary>The picture, JPEG.</summary>
    public required byte[] Jpeg { get; set; }

    /// <summary>Width, pixels.</summary>
    public int Width { get; set; }

    /// <summary>Height, pixels.</summary>
    public int Height { get; set; }

    /// <summary>When it was added, UTC.</summary>
    public DateTime AddedAt { get; set; }
}
