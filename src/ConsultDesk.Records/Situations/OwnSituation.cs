using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;

namespace ConsultDesk.Records;

/// <summary>Weather and use a firm judges designs by, beside those taken from an itinerary.</summary>
public sealed class OwnSituation : FirmRow, IVersioned
{
    /// <summary>Name, unique within the firm.</summary>
    public required string Name { get; set; }

    /// <summary>Outdoor temperature, °C.</summary>
    public double OutdoorC { get; set; }

    /// <summary>Outdoor relative humidity, per cent, over ice below freezing.</summary>
    public double HumidityPercent { get; set; }

    /// <summary>Wind of a weather station at 10 m, m/s.</summary>
    public double WindMPerS { get; set; }

    /// <summary>What falls from the sky.</summary>
    public Precipitation Falling { get; set; }

    /// <summary>Global sun on a level surface, W/m².</summary>
    public double SunWPerM2 { get; set; }

    /// <summary>People in the van; null for those who sleep in the van that is judged.</summary>
    public int? People { get; set; }

    /// <summary>What they do.</summary>
    public Activity Activity { get; set; }

    /// <summary>How long it lasts, hours.</summary>
    public double Hours { get; set; }

    /// <summary>Snow lies on the roof.</summary>
    public bool SnowOnRoof { get; set; }

    /// <summary>The heater is off, whatever the van would do.</summary>
    public bool HeaterOff { get; set; }

    /// <inheritdoc/>
    public Guid Version { get; set; }
}
