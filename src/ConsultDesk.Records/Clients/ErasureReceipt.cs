namespace ConsultDesk.Records;

/// <summary>That a client was erased, what went and what stayed, in numbers only: it names nobody. Written once.</summary>
public sealed class ErasureReceipt : FirmRow
{
    /// <summary>The id the client had.</summary>
    public Guid ClientId { get; set; }

    /// <summary>When, UTC.</summary>
    public DateTime At { get; set; }

    /// <summary>Who erased.</summary>
    public Guid ErasedBy { get; set; }

    /// <summary>Kinds of row and how many of each went, a line each, <c>kind=count</c>.</summary>
    public required string Gone { get; set; }

    /// <summary>Kinds of row and how many of each stayed, a line each, <c>kind=count</c>.</summary>
    public required string Stayed { get; set; }
}
