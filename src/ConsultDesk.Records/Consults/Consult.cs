namespace ConsultDesk.Records;

/// <summary>One dated call with a client about a van.</summary>
public sealed class Consult : FirmRow, IVersioned
{
    /// <summary>The van it is about.</summary>
    public Guid VanId { get; set; }

    /// <summary>When it begins, UTC.</summary>
    public DateTime StartsAt { get; set; }

    /// <summary>How long it is planned for, minutes.</summary>
    public int Minutes { get; set; }

    /// <summary>Time zone the client reads the time in, IANA name.</summary>
    public required string TimeZone { get; set; }

    /// <summary>The consultant's private notes; never leave the desk.</summary>
    public required string PrivateNotes { get; set; }

    /// <summary>Points of its own agenda, one a line; they stand before those the findings ask for.</summary>
    public string Agenda { get; set; } = "";

    /// <summary>When the call began, UTC; null before: the timer beside the agenda counts from here.</summary>
    public DateTime? BegunAt { get; set; }

    /// <summary>When it was marked as held, UTC; null before.</summary>
    public DateTime? HeldAt { get; set; }

    /// <summary>When it was added, UTC.</summary>
    public DateTime CreatedAt { get; set; }

    /// <inheritdoc/>
    public Guid Version { get; set; }
}
