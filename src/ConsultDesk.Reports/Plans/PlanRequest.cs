using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Reports.Plans;

/// <summary>What a plan is made from.</summary>
public sealed record PlanRequest
{
    /// <summary>Who advises.</summary>
    public required FirmBrand Firm { get; init; }

    /// <summary>Who is advised.</summary>
    public required string ClientName { get; init; }

    /// <summary>The van's name.</summary>
    public required string VanName { get; init; }

    /// <summary>Letter and name of the option, for example <c>B, second vent at the bed</c>.</summary>
    public required string OptionName { get; init; }

    /// <summary>Revision, from 1.</summary>
    public required int Revision { get; init; }

    /// <summary>When it is published, UTC.</summary>
    public required DateTime PublishedAt { get; init; }

    /// <summary>The design that is published.</summary>
    public required Design Design { get; init; }

    /// <summary>The design as it is stored.</summary>
    public required string DesignText { get; init; }

    /// <summary>What was calculated for it.</summary>
    public required Assessment Assessment { get; init; }

    /// <summary>Units the reader gets.</summary>
    public required DisplayUnits Units { get; init; }

    /// <summary>Why it is published although a danger stands, in the consultant's words; null when none does.</summary>
    public string? DangerReason { get; init; }

    /// <summary>Another option to set beside it, or null.</summary>
    public ComparedOption? Other { get; init; }
}

/// <summary>An option set beside the one that is published.</summary>
/// <param name="Name">Letter and name.</param>
/// <param name="Design">Its design.</param>
/// <param name="Assessment">What was calculated for it.</param>
/// <param name="Differences">What differs in the design, a line each, in words; may be empty.</param>
public sealed record ComparedOption(string Name, Design Design, Assessment Assessment, ImmutableArray<string> Differences);
