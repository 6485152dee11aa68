using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Moisture;

/// <summary>
/// Water a dehumidifier or absorber takes out of air: rated output times a share by temperature (straight lines through
/// the rows of <c>dryer-curves.csv</c>) times (RH - RH0) / (60 % - RH0), nothing at RH0 and below. The table stands for
/// generic kinds; its values are mostly our judgement, and each row says so.
/// </summary>
public static class DryerCurve
{
    /// <summary>Relative humidity outputs are rated at, share.</summary>
    public const double RatedHumidity = 0.6;

    private static readonly ImmutableDictionary<DryerKind, (double C, double Share)[]> Curves = EmbeddedTable
        .Rows("Moisture.dryer-curves.csv", columns: 4)
        .GroupBy(row => Enum.Parse<DryerKind>(row[0]))
        .ToImmutableDictionary(
            rows => rows.Key,
            rows => rows.Select(row => (double.Parse(row[1], CultureInfo.InvariantCulture), double.Parse(row[2], CultureInfo.InvariantCulture))).ToArray());

    /// <summary>Water removed in air of this state.</summary>
    /// <param name="kind">Kind of dryer.</param>
    /// <param name="rated">Water a day at 20 C and 60 %.</param>
    /// <param name="temperature">Temperature of the air.</param>
    /// <param name="humidity">Relative humidity, over ice below freezing.</param>
    /// <param name="assumptions">What is assumed.</param>
    public static MassFlow Removed(DryerKind kind, Mass rated, Temperature temperature, RelativeHumidity humidity, Assumptions assumptions)
    {
        double lowest = LowestHumidity(kind, assumptions);
        return MassFlow.FromKilogramsPerSecond(RatedKgPerS(rated, assumptions) * Share(kind, temperature.DegreesCelsius)
            * Math.Max(0, ((humidity.Percent / 100) - lowest) / (RatedHumidity - lowest)));
    }

    /// <summary>Rated output with what such a machine really gives of it.</summary>
    internal static double RatedKgPerS(Mass rated, Assumptions assumptions) => rated.Kilograms / 86400 * assumptions["dryer-output"];

    /// <summary>Relative humidity at and below which nothing is removed, share.</summary>
    internal static double LowestHumidity(DryerKind kind, Assumptions assumptions) => assumptions["dryer-lowest-humidity-" + kind switch
    {
        DryerKind.Compressor => "compressor",
        DryerKind.Desiccant => "desiccant",
        DryerKind.AbsorberTub => "absorber",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Expected compressor, desiccant or absorber tub."),
    }] / 100;

    /// <summary>Output at a temperature over that at 20 degrees and the same relative humidity; level beyond the ends of the table.</summary>
    internal static double Share(DryerKind kind, double temperatureC)
    {
        (double C, double Share)[] curve = Curves[kind];
        if (temperatureC <= curve[0].C)
        {
            return curve[0].Share;
        }

        for (int row = 1; row < curve.Length; row++)
        {
            if (temperatureC <= curve[row].C)
            {
                (double fromC, double from) = curve[row - 1];
                return from + ((temperatureC - fromC) / (curve[row].C - fromC) * (curve[row].Share - from));
            }
        }

        return curve[^1].Share;
    }
}
