using ConsultDesk.Calculations.Air;

namespace ConsultDesk.Calculations.Comfort;

/// <summary>The air round a person, and the person: the six numbers every comfort index asks for.</summary>
/// <param name="AirC">Air temperature, degrees Celsius.</param>
/// <param name="RadiantC">Mean radiant temperature, degrees Celsius.</param>
/// <param name="AirSpeedMPerS">Air speed relative to the body, m/s.</param>
/// <param name="VapourPressurePa">Vapour pressure of the air, Pa.</param>
/// <param name="Met">Metabolic rate, met of 58.15 W per m2 of skin.</param>
/// <param name="Clo">Clothing and bedding, clo of 0.155 m2 K/W.</param>
public readonly record struct ComfortState(
    double AirC, double RadiantC, double AirSpeedMPerS, double VapourPressurePa, double Met, double Clo)
{
    /// <summary>A state from relative humidity instead of vapour pressure.</summary>
    /// <param name="airC">Air temperature, degrees Celsius.</param>
    /// <param name="radiantC">Mean radiant temperature, degrees Celsius.</param>
    /// <param name="airSpeedMPerS">Air speed relative to the body, m/s.</param>
    /// <param name="humidityPercent">Relative humidity over water, 0 to 100 %.</param>
    /// <param name="met">Metabolic rate, met.</param>
    /// <param name="clo">Clothing and bedding, clo.</param>
    /// <exception cref="ArgumentOutOfRangeException">The humidity or the air temperature is out of range.</exception>
    public static ComfortState At(double airC, double radiantC, double airSpeedMPerS, double humidityPercent, double met, double clo) => new(
        airC,
        radiantC,
        airSpeedMPerS,
        MoistAir.RelativeHumidityRange.Check(humidityPercent, nameof(humidityPercent)) / 100
            * MoistAir.SaturationPressureOverWaterPa(MoistAir.TemperatureRange.Check(airC, nameof(airC))),
        met,
        clo);
}
