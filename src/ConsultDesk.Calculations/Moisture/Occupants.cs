using UnitsNet;

namespace ConsultDesk.Calculations.Moisture;

/// <summary>Heat, vapour and carbon dioxide given off by people.</summary>
public static class Occupants
{
    /// <summary>Room temperatures of the table of a person at rest, 20 to 26 degrees Celsius; it is not continued beyond.</summary>
    public static readonly ValidRange RestingRange = new("Room temperature", 20, 26, "°C");

    /// <summary>Metabolic rates accepted, 0.7 (asleep) to 4 met.</summary>
    public static readonly ValidRange MetabolicRange = new("Metabolic rate", 0.7, 4, "met");

    /// <summary>Heat of evaporation at skin temperature, J/kg, that turns latent heat into vapour.</summary>
    public const double EvaporationHeatAtSkin = 2_450_000;

    private static readonly double[] RestingLatentW = [25, 35, 40, 50];

    /// <summary>
    /// Latent heat of one adult seated at rest (115 W in all), by room temperature, linear between the rows
    /// 20, 22, 24 and 26 degrees Celsius (Jones, Air Conditioning Engineering, 5th ed., Table 7.16).
    /// </summary>
    public static Power RestingLatentHeat(Temperature room)
    {
        double rows = (RestingRange.Check(room.DegreesCelsius, nameof(room)) - RestingRange.Minimum) / 2;
        int row = Math.Min((int)rows, RestingLatentW.Length - 2);
        return Power.FromWatts(RestingLatentW[row] + ((rows - row) * (RestingLatentW[row + 1] - RestingLatentW[row])));
    }

    /// <summary>Vapour of a latent heat, at 2.45 MJ/kg.</summary>
    public static MassFlow Vapour(Power latent) => MassFlow.FromKilogramsPerSecond((double)latent.Watts / EvaporationHeatAtSkin);

    /// <summary>
    /// Carbon dioxide of one person: V = 0.00276 AD M RQ / (0.23 RQ + 0.77) L/s with AD in m2, M in met
    /// (ASTM D6245 and ASHRAE 62.1, recalled).
    /// </summary>
    /// <param name="metabolicRate">Within <see cref="MetabolicRange"/>; 0.7 asleep.</param>
    /// <param name="bodySurface">Skin area, 0.5 to 3 m2; 1.8 for an average adult.</param>
    /// <param name="respiratoryQuotient">Carbon dioxide out over oxygen in, 0.7 to 1.2; 0.83 on a mixed diet.</param>
    public static VolumeFlow CarbonDioxide(double metabolicRate, Area bodySurface, double respiratoryQuotient = 0.83)
    {
        double met = MetabolicRange.Check(metabolicRate, nameof(metabolicRate));
        double area = new ValidRange("Body surface", 0.5, 3, "m2").Check(bodySurface.SquareMeters, nameof(bodySurface));
        double quotient = new ValidRange("Respiratory quotient", 0.7, 1.2, "").Check(respiratoryQuotient, nameof(respiratoryQuotient));
        return VolumeFlow.FromLitersPerSecond(0.00276 * area * met * quotient / ((0.23 * quotient) + 0.77));
    }
}
