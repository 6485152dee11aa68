namespace ConsultDesk.Records;

/// <summary>The firm's price book as the table it was read from. A firm without a row uses the book the app comes with.</summary>
public sealed class FirmPriceBook : FirmRow, IVersioned
{
    /// <summary>The table: comma-separated, UTF-8.</summary>
    public required string Table { get; set; }

    /// <summary>When it last changed, UTC.</summary>
    public DateTime UpdatedAt { get; set; }

    /// <inheritdoc/>
    public Guid Version { get; set; }
}
