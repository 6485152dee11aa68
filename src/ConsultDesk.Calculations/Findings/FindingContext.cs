using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings;

/// <summary>What a rule judges: a design, its assessment, and the means to try a remedy when it is applied.</summary>
/// <param name="Design">The design.</param>
/// <param name="Assessment">Its assessment, still without findings.</param>
/// <param name="Reassess">Assesses a changed design in the same night.</param>
internal sealed record FindingContext(Design Design, Assessment Assessment, Func<Design, Assessment> Reassess)
{
    /// <summary>Calculates the year of a changed design; null without the year.</summary>
    public Func<Design, YearAssessment>? ReassessYear { get; init; }

    /// <summary>Outdoor air of the year; null without the year.</summary>
    public YearWeather? Outdoor { get; init; }

    /// <summary>True when somebody sleeps in the van.</summary>
    public bool Occupied => Design.Household.Sleepers > 0;

    /// <summary>Zones people live and sleep in.</summary>
    public IEnumerable<(Zone Zone, ZoneState State)> LivedIn => Design.Zones
        .Zip(Assessment.Zones)
        .Where(pair => pair.First.Kind is ZoneKind.Living or ZoneKind.Sleeping);

    /// <summary>The year of the zones people live and sleep in.</summary>
    public IEnumerable<(Zone Zone, ZoneYear Year)> LivedInYear(YearAssessment year) => Design.Zones
        .Zip(year.Zones)
        .Where(pair => pair.First.Kind is ZoneKind.Living or ZoneKind.Sleeping);

    /// <summary>Zones people sleep in, or else those they live in.</summary>
    public IEnumerable<(Zone Zone, ZoneState State)> SleptIn => LivedIn.Any(pair => pair.Zone.Kind == ZoneKind.Sleeping)
        ? LivedIn.Where(pair => pair.Zone.Kind == ZoneKind.Sleeping)
        : LivedIn;

    /// <summary>Codes of the warnings and dangers of a changed design in its night.</summary>
    public ImmutableHashSet<string> GraveCodes(Design changed, Assessment night) =>
        [.. FindingRules.Judge(new FindingContext(changed, night, Reassess)).Where(finding => finding.Severity <= Severity.Warning).Select(finding => finding.Code)];

    /// <summary>Codes of the dangers of a changed design; they ask for a night only where one decides.</summary>
    public ImmutableHashSet<string> DangerCodes(Design changed) =>
        [.. FindingRules.Dangers(new FindingContext(changed, Assessment, Reassess)).Select(finding => finding.Code)];

    /// <summary>State of a zone.</summary>
    public ZoneState State(string zoneId) => Assessment.Zones.Single(state => state.ZoneId == zoneId);

    /// <summary>Outdoor air per sleeper; zero when nobody sleeps in the van.</summary>
    public static VolumeFlow AirPerSleeper(Design design, Assessment assessment) => design.Household.Sleepers == 0
        ? VolumeFlow.Zero
        : assessment.Air.OutdoorAir / design.Household.Sleepers;

    /// <summary>Appliances that burn something, wherever their gases go.</summary>
    public int BurningAppliances =>
        (Design.Heater.Kind.BurnsFuel() ? 1 : 0)
        + (Design.Household.CookingFuel == CookingFuel.Gas ? 1 : 0)
        + (Design.Equipment.WoodStove ? 1 : 0);
}
