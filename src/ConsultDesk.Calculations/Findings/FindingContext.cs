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
    /// <summary>True when somebody sleeps in the van.</summary>
    public bool Occupied => Design.Household.Sleepers > 0;

    /// <summary>Zones people live and sleep in.</summary>
    public IEnumerable<(Zone Zone, ZoneState State)> LivedIn => Design.Zones
        .Zip(Assessment.Zones)
        .Where(pair => pair.First.Kind is ZoneKind.Living or ZoneKind.Sleeping);

    /// <summary>State of a zone.</summary>
    public ZoneState State(string zoneId) => Assessment.Zones.Single(state => state.ZoneId == zoneId);

    /// <summary>Outdoor air per sleeper; zero when nobody sleeps in the van.</summary>
    public static VolumeFlow AirPerSleeper(Design design, Assessment assessment) => design.Household.Sleepers == 0
        ? VolumeFlow.Zero
        : assessment.Air.OutdoorAir / design.Household.Sleepers;

    /// <summary>Appliances that burn something, wherever their gases go.</summary>
    public int BurningAppliances =>
        (Design.Heater.Kind is HeaterKind.None or HeaterKind.Electric ? 0 : 1)
        + (Design.Household.CookingFuel == CookingFuel.Gas ? 1 : 0)
        + (Design.Equipment.WoodStove ? 1 : 0);
}
