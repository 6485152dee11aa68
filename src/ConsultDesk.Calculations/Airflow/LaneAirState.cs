using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Airflow;

/// <summary>What drives the networks of a <see cref="LaneNetwork{TLane}"/> at one moment; its paths are the common ones.</summary>
internal sealed class LaneAirState<TLane>
    where TLane : struct, ILane<TLane>
{
    public LaneAirState(int zones, int paths)
    {
        TemperatureC = new TLane[zones + 1];
        HumidityRatioKgPerKg = new TLane[zones + 1];
        WindPa = new TLane[paths];
        Open = new TLane[paths];
        Speed = new TLane[paths];
        Array.Fill(TemperatureC, TLane.Of(double.NaN));
        Array.Fill(Open, TLane.Of(1));
    }

    /// <summary>Air temperature of each zone, then of outside; starts as no number.</summary>
    public TLane[] TemperatureC { get; }

    /// <summary>Humidity ratio of each zone, then of outside.</summary>
    public TLane[] HumidityRatioKgPerKg { get; }

    /// <summary>Barometric pressure.</summary>
    public TLane BarometricPressurePa { get; set; } = TLane.Of(Air.StandardAtmosphere.SeaLevelPressurePa);

    /// <summary>Wind speed at the van.</summary>
    public TLane WindSpeedMPerS { get; set; }

    /// <summary>Wind pressure on the outside end of each path.</summary>
    public TLane[] WindPa { get; }

    /// <summary>How far each path is open, 0 to 1.</summary>
    public TLane[] Open { get; }

    /// <summary>Speed of each fan, 0 to 1; 0 for all other paths.</summary>
    public TLane[] Speed { get; }
}
