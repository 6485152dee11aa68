namespace ConsultDesk.Records;

/// <summary>The firm's logo, encoded again from what was uploaded.</summary>
public sealed class FirmLogo : FirmRow, IVersioned
{
    /// <summary>The picture, PNG.</summary>
    public required byte[] Png { get; set; }

    /// <summary>Width, pixels.</summary>
    public int Width { get; set; }

    /// <summary>Height, pixels.</summary>
    public int Height { get; set; }

    /// <summary>When it was uploaded, UTC.</summary>
    public DateTime UploadedAt { get; set; }

    /// <inheritdoc/>
    public Guid Version { get; set; }
}
