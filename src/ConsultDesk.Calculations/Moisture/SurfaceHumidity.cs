using ConsultDesk.Calculations.Air;
using UnitsNet;

namespace ConsultDesk.Calculations.Moisture;

/// <summary>How damp the air is in the pores of a surface, which decides about mould long before anything condenses.</summary>
public static class SurfaceHumidity
{
    /// <summary>Relative humidity at a surface from which mould can grow, 80 % as a monthly mean (ISO 13788, recalled).</summary>
    public const double MouldShare = 0.8;

    /// <summary>
    /// Coldest surface at which the relative humidity stays at or below a limit: psat(theta) = pv / limit (ISO 13788).
    /// </summary>
    /// <param name="vapourPressure">Of the room air.</param>
    /// <param name="limit">Relative humidity at the surface, 20 to 100 %; 100 % gives the dew point.</param>
    public static Temperature ColdestSurface(Pressure vapourPressure, RelativeHumidity limit)
    {
        double share = new ValidRange("Relative humidity at the surface", 20, 100, "%").Check(limit.Percent, nameof(limit)) / 100;
        return MoistAir.DewPoint(Pressure.FromPascals(vapourPressure.Pascals / share));
    }

    /// <summary>
    /// Temperature factor fRsi = (surface - outdoor) / (room - outdoor), 0 to 1 (ISO 13788): how well a surface is
    /// insulated, whatever the weather. Room and outdoor air must differ by at least 1 K.
    /// </summary>
    public static double TemperatureFactor(Temperature surface, Temperature room, Temperature outdoor)
    {
        double difference = room.DegreesCelsius - outdoor.DegreesCelsius;
        return Math.Abs(difference) >= 1
            ? (surface.DegreesCelsius - outdoor.DegreesCelsius) / difference
            : throw new ArgumentOutOfRangeException(
                nameof(room), room.DegreesCelsius, "Room and outdoor air are expected to differ by at least 1 K.");
    }
}
