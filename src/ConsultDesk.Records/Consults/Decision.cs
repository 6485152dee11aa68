namespace ConsultDesk.Records;

/// <summary>A point of the agenda every consult goes through, in the order it is gone through.</summary>
public enum DecisionTopic
{
    /// <summary>People and route.</summary>
    PeopleAndRoute,

    /// <summary>What is already fixed.</summary>
    AlreadyFixed,

    /// <summary>Air in and out in rain.</summary>
    AirInRain,

    /// <summary>Cooker steam.</summary>
    CookerSteam,

    /// <summary>Air at the bed.</summary>
    AirAtBed,

    /// <summary>Cab glass and covers.</summary>
    CabGlass,

    /// <summary>Heat source.</summary>
    HeatSource,

    /// <summary>Steel and walls.</summary>
    SteelAndWalls,

    /// <summary>Cupboards and bed base.</summary>
    CupboardsAndBed,

    /// <summary>Power and roof space.</summary>
    PowerAndRoof,

    /// <summary>Gas, alarms, fire, ways out.</summary>
    DangersAndAlarms,

    /// <summary>Budget and looks.</summary>
    BudgetAndLooks,
}

/// <summary>How far a point has come.</summary>
public enum DecisionState
{
    /// <summary>Not decided.</summary>
    Open,

    /// <summary>Decided.</summary>
    Decided,

    /// <summary>The client declined what was advised.</summary>
    Declined,
}

/// <summary>Where one point of a van's agenda stands. A point without a row is open.</summary>
public sealed class Decision : FirmRow, IVersioned
{
    /// <summary>The van.</summary>
    public Guid VanId { get; set; }

    /// <summary>The point; once per van.</summary>
    public DecisionTopic Topic { get; set; }

    /// <summary>How far it has come.</summary>
    public DecisionState State { get; set; }

    /// <summary>What was decided, or what was advised and declined; printed in the plan.</summary>
    public required string What { get; set; }

    /// <summary>Why; printed in the plan.</summary>
    public required string Why { get; set; }

    /// <summary>Who decided, as the client would say it.</summary>
    public required string Who { get; set; }

    /// <summary>When it last changed, UTC.</summary>
    public DateTime ChangedAt { get; set; }

    /// <inheritdoc/>
    public Guid Version { get; set; }
}

/// <summary>One piece of advice a client declined, beside what the agenda says: usually a finding's remedy.</summary>
public sealed class DeclinedAdvice : FirmRow, IVersioned
{
    /// <summary>The van.</summary>
    public Guid VanId { get; set; }

    /// <summary>Code of the finding, or null when it was advice of the consultant's own.</summary>
    public string? FindingCode { get; set; }

    /// <summary>What was advised; printed in the plan.</summary>
    public required string Advice { get; set; }

    /// <summary>Why it was declined; printed in the plan.</summary>
    public required string Why { get; set; }

    /// <summary>Who declined it.</summary>
    public required string Who { get; set; }

    /// <summary>When, UTC.</summary>
    public DateTime DeclinedAt { get; set; }

    /// <inheritdoc/>
    public Guid Version { get; set; }
}
