namespace ConsultDesk.Records;

/// <summary>A price book as it stood until it was replaced. Written once.</summary>
public sealed class PastPrices : FirmRow
{
    /// <summary>The table: comma-separated, UTF-8.</summary>
    public required string Table { get; set; }

    /// <summary>From when it held, UTC.</summary>
    public DateTime From { get; set; }

    /// <summary>Until when it held, UTC.</summary>
    public DateTime Until { get; set; }

    /// <summary>Who replaced it.</summary>
    public Guid ReplacedBy { get; set; }
}
