using System.Runtime.InteropServices;
using ConsultDesk.Calculations.Lanes;

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
    internal AirState(AirNetwork network)
    {
        Network = network;
        Lanes = network.Lanes.CreateState();
        for (int path = 0; path < network.PathCount; path++)
        {
            Speed[path] = network.IsFan(path) ? double.NaN : 0;
        }
    }

    /// <summary>The same for the solver, which takes one network or several.</summary>
    internal LaneAirState<ScalarLane> Lanes { get; }

    internal Span<double> TemperatureC => MemoryMarshal.Cast<ScalarLane, double>(Lanes.TemperatureC.AsSpan());

    internal Span<double> HumidityRatioKgPerKg => MemoryMarshal.Cast<ScalarLane, double>(Lanes.HumidityRatioKgPerKg.AsSpan());

    internal Span<double> WindPa => MemoryMarshal.Cast<ScalarLane, double>(Lanes.WindPa.AsSpan());

    internal Span<double> Open => MemoryMarshal.Cast<ScalarLane, double>(Lanes.Open.AsSpan());

    internal Span<double> Speed => MemoryMarshal.Cast<ScalarLane, double>(Lanes.Speed.AsSpan());

    internal AirNetwork Network { get; }

    /// <summary>Air temperature of each zone, -60 to 80 °C. Must be set.</summary>
    public Span<double> ZoneTemperatureC => TemperatureC[..Network.ZoneCount];

    /// <summary>Humidity ratio of each zone, 0 to 0.2 kg of water per kg of dry air; starts at 0.</summary>
    public Span<double> ZoneHumidityRatioKgPerKg => HumidityRatioKgPerKg[..Network.ZoneCount];

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
    public double BarometricPressurePa
    {
        get => Lanes.BarometricPressurePa.Value;
        set => Lanes.BarometricPressurePa = new ScalarLane(value);
    }

    /// <summary>Wind speed at the van, 0 to 100 m/s; starts at 0. Drives only the gusts' two-way exchange.</summary>
    public double WindSpeedMPerS
    {
        get => Lanes.WindSpeedMPerS.Value;
        set => Lanes.WindSpeedMPerS = new ScalarLane(value);
    }

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
