namespace ConsultDesk.Records;

/// <summary>Points a firm goes through in a kind of consult, kept to be put into the agenda of the next.</summary>
public sealed class AgendaTemplate : FirmRow, IVersioned
{
    /// <summary>Name, unique within the firm.</summary>
    public required string Name { get; set; }

    /// <summary>The points, one a line.</summary>
    public required string Points { get; set; }

    /// <inheritdoc/>
    public Guid Version { get; set; }
}
