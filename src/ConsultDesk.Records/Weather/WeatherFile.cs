namespace ConsultDesk.Records;

/// <summary>The hours of a weather file that places of a van's designs name by their hash. Never changed; another file is another row.</summary>
public sealed class WeatherFile : FirmRow
{
    /// <summary>The van whose places it belongs to.</summary>
    public Guid VanId { get; set; }

    /// <summary>SHA-256 of the hours before they were compressed, lower-case hexadecimal.</summary>
    public required string Sha256 { get; set; }

    /// <summary>Name of the file that was brought in.</summary>
    public required string FileName { get; set; }

    /// <summary>The hours, compressed (<see cref="StoredHours"/>).</summary>
    public required byte[] Hours { get; set; }

    /// <summary>When it was brought in, UTC.</summary>
    public DateTime AddedAt { get; set; }
}
