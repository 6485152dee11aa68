using ConsultDesk.Calculations.Air;

namespace ConsultDesk.Calculations.Airflow;

/// <summary>
/// What drives a network at one moment. Made by <see cref="AirNetwork.CreateState"/>, set again before each solve.
/// Plain SI numbers with the unit in the name, because a year's run sets them thousands of times.
/// </summary>
/// <remarks>
/// Temperatures and fan speeds start unset (not a number) and solving refuses them, so that none is forgotten.
/// Not safe for use by two threads at once.
/// </remarks>
public sealed class AirState
{
    internal readonly double[] TemperatureC;
    internal readonly double[] HumidityRatioKgPerKg;
    internal readonly double[] WindPa;
    internal readonly double[] Open;
    internal readonly double[] Speed;

    internal AirState(AirNetwork network)
    {
        Network = network;
        TemperatureC = new double[network.ZoneCount + 1];
        HumidityRatioKgPerKg = new double[network.ZoneCount + 1];
        WindPa = new double[network.PathCount];
        Open = new double[network.PathCount];
        Speed = new double[network.PathCount];
        Array.Fill(TemperatureC, double.NaN);
        Array.Fill(Open, 1);
        for (int path = 0; path < network.PathCount; path++)
        {
            Speed[path] = network.IsFan(path) ? double.NaN : 0;
        }
    }

    internal AirNetwork Network { get; }

    /// <summary>Air temperature of each zone, -60 to 80 °C. Must be set.</summary>
    public Span<double> ZoneTemperatureC => TemperatureC.AsSpan(0, Network.ZoneCount);

    /// <summary>Humidity ratio of each zone, 0 to 0.2 kg of water per kg of dry air; starts at 0.</summary>
    public Span<double> ZoneHumidityRatioKgPerKg => HumidityRatioKgPerKg.AsSpan(0, Network.ZoneCount);

    /// <summary>Outdoor air temperature, -60 to 80 °C. Must be set.</summary>
    public double OutdoorTemperatureC
    {
        get => TemperatureC[^1];
        set => TemperatureC[^1] = value;
    }

    /// <summary>Outdoor humidity ratio, 0 to 0.2 kg of water per kg of dry air; starts at 0.</summary>
    public double OutdoorHumidityRatioKgPerKg
    {
        get => HumidityRatioKgPerKg[^1];
        set => HumidityRatioKgPerKg[^1] = value;
    }

    /// <summary>Barometric pressure, 50,000 to 110,000 Pa; starts at the standard 101,325 Pa.</summary>
    public double BarometricPressurePa { get; set; } = StandardAtmosphere.SeaLevelPressurePa;

    /// <summary>Wind speed at the van, 0 to 100 m/s; starts at 0. Drives only the gusts' two-way exchange.</summary>
    public double WindSpeedMPerS { get; set; }

    /// <summary>
    /// Wind pressure on the outside end of each path, by path index, Pa; starts at 0, without meaning for paths
    /// between zones. <see cref="WindPressure"/> gives it.
    /// </summary>
    public Span<double> PathWindPressurePa => WindPa;

    /// <summary>
    /// How far each path is open, by path index, 0 (shut) to 1 (as added, the start). Multiplies the free area,
    /// the capacity of a fan at any pressure, or the mixing flow.
    /// </summary>
    public Span<double> PathOpenShare => Open;

    /// <summary>Speed of each fan by path index, 0 (stopped) to 1 (full). Must be set for fans, 0 for all other paths.</summary>
    public Span<double> FanSpeed => Speed;
}
