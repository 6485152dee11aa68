namespace ConsultDesk.Calculations.Simulation;

/// <summary>Weather and use a situation may be set to by hand (own limits).</summary>
public static class SituationLimits
{
    /// <summary>Outdoor temperature.</summary>
    public static readonly ValidRange Outdoor = new("Outdoor temperature", -40, 50, "°C");

    /// <summary>Outdoor relative humidity, over ice below freezing.</summary>
    public static readonly ValidRange Humidity = new("Outdoor humidity", 5, 100, "%");

    /// <summary>Wind of the station at 10 m.</summary>
    public static readonly ValidRange Wind = new("Wind", 0, 25, "m/s");

    /// <summary>Global sun on a level surface.</summary>
    public static readonly ValidRange Sun = new("Sun", 0, 1200, "W/m²");

    /// <summary>People in the van: as many as may sleep in one.</summary>
    public static readonly ValidRange People = new("People", Vehicle.DesignLimits.Sleepers.Minimum, Vehicle.DesignLimits.Sleepers.Maximum, "people");

    /// <summary>How long it lasts.</summary>
    public static readonly ValidRange Lasts = new("Length", 0.25, 24, "h");
}
