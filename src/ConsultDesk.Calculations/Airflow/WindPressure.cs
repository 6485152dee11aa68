using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Airflow;

/// <summary>Pressure of the wind on the faces of the body.</summary>
public static class WindPressure
{
    /// <summary>Pressure coefficient of a wall the wind blows square onto (Swami and Chandra 1988).</summary>
    public const double NormalWallCoefficient = 0.6;

    /// <summary>Pressure coefficient of the roof. Our judgement: codes give -0.9 at the windward edge falling to -0.3.</summary>
    public const double RoofCoefficient = -0.4;

    /// <summary>Pressure coefficient under the floor. Our judgement: no published value for a van was found.</summary>
    public const double FloorCoefficient = 0;

    /// <summary>
    /// Mean pressure coefficient of a wall by wind direction (Swami and Chandra 1988, ASHRAE Transactions 94(1)), in
    /// its form for a square plan: Cp/0.6 = ln(1.248 - 0.703 sin(a/2) - 1.175 sin2 a + 0.769 cos(a/2) + 0.717 cos2(a/2)).
    /// </summary>
    /// <param name="fromNormal">Angle between the wall's outward normal and where the wind comes from; any, either sign.</param>
    /// <returns>From -0.7 to 0.6.</returns>
    /// <remarks>
    /// Fitted to low-rise buildings on the ground. A van is longer than wide and stands on wheels, and no measured
    /// coefficients of a parked one were found: the square form is a stand-in. The equation's terms for the side ratio
    /// are left out because sources print the sign of one of them differently. Recalled from memory; its values were
    /// seen to agree with a public listing.
    /// </remarks>
    public static double WallCoefficient(Angle fromNormal)
    {
        // Folded to 0..180 degrees: the wall does not know left from right.
        double a = Math.Acos(Math.Clamp(Math.Cos(fromNormal.Radians), -1, 1));
        double sine = Math.Sin(a);
        double halfCosine = Math.Cos(a / 2);
        return NormalWallCoefficient * Math.Log(
            1.248 - (0.703 * Math.Sin(a / 2)) - (1.175 * sine * sine) + (0.769 * halfCosine) + (0.717 * halfCosine * halfCosine));
    }

    /// <summary>Pressure coefficient of a face of the body.</summary>
    /// <param name="face">The face.</param>
    /// <param name="windFromNose">Where the wind comes from: 0 onto the nose, 90 degrees onto the right wall, any value.</param>
    public static double Coefficient(Face face, Angle windFromNose) => face switch
    {
        Face.Roof => RoofCoefficient,
        Face.Floor => FloorCoefficient,
        Face.Nose => WallCoefficient(windFromNose),
        Face.Right => WallCoefficient(windFromNose - Angle.FromDegrees(90)),
        Face.Tail => WallCoefficient(windFromNose - Angle.FromDegrees(180)),
        Face.Left => WallCoefficient(windFromNose + Angle.FromDegrees(90)),
        _ => throw new ArgumentOutOfRangeException(nameof(face), face, "Expected a face of the body."),
    };

    /// <summary>Wind speed at the van over that of the weather station at 10 m. Our judgement, no source.</summary>
    public static double ShelterFactor(Shelter shelter) => shelter switch
    {
        Shelter.Sheltered => 0.2,
        Shelter.Ordinary => 0.4,
        Shelter.Exposed => 0.6,
        _ => throw new ArgumentOutOfRangeException(nameof(shelter), shelter, "Expected sheltered, ordinary or exposed."),
    };

    /// <summary>Dynamic pressure of the wind, rho U2 / 2.</summary>
    /// <param name="airDensity">Density of the outdoor air.</param>
    /// <param name="windSpeed">Wind speed at the van.</param>
    public static Pressure DynamicPressure(Density airDensity, Speed windSpeed) =>
        Pressure.FromPascals(airDensity.KilogramsPerCubicMeter * windSpeed.MetersPerSecond * windSpeed.MetersPerSecond / 2);
}
