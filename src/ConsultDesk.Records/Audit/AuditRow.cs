namespace ConsultDesk.Records;

/// <summary>One act, written in the same transaction as the change. Never changed or deleted; holds ids, no personal data.</summary>
public sealed class AuditRow : FirmRow
{
    /// <summary>When, in UTC.</summary>
    public DateTime At { get; set; }

    /// <summary>The account that acted; null for the server itself.</summary>
    public Guid? UserId { get; set; }

    /// <summary>What was done: kind and verb, for example <c>option.saved</c>.</summary>
    public required string Action { get; set; }

    /// <summary>Kind of row: firm, client, van, option, plan or link.</summary>
    public required string EntityKind { get; set; }

    /// <summary>Its id.</summary>
    public Guid EntityId { get; set; }
}
