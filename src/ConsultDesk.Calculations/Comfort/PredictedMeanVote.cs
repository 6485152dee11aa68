namespace ConsultDesk.Calculations.Comfort;

/// <summary>
/// Predicted mean vote and percentage of dissatisfied of ISO 7730:2005: what a large group awake, in a steady state, would
/// say on a scale from -3 (cold) over 0 (neutral) to +3 (hot). Not made for sleepers: nights are judged by
/// <see cref="StandardEffectiveTemperature"/>.
/// </summary>
public static class PredictedMeanVote
{
    /// <summary>Air temperature, ISO 7730 clause 4.1.</summary>
    public static readonly ValidRange AirRange = new("Air temperature for a mean vote", 10, 30, "°C");

    /// <summary>Mean radiant temperature, ISO 7730 clause 4.1.</summary>
    public static readonly ValidRange RadiantRange = new("Mean radiant temperature for a mean vote", 10, 40, "°C");

    /// <summary>Air speed, ISO 7730 clause 4.1.</summary>
    public static readonly ValidRange SpeedRange = new("Air speed for a mean vote", 0, 1, "m/s");

    /// <summary>Vapour pressure, ISO 7730 clause 4.1.</summary>
    public static readonly ValidRange VapourRange = new("Vapour pressure for a mean vote", 0, 2700, "Pa");

    /// <summary>Metabolic rate, ISO 7730 clause 4.1.</summary>
    public static readonly ValidRange MetRange = new("Metabolic rate for a mean vote", 0.8, 4, "met");

    /// <summary>Clothing, ISO 7730 clause 4.1.</summary>
    public static readonly ValidRange CloRange = new("Clothing for a mean vote", 0, 2, "clo");

    private const double WPerMet = 58.15;
    private const double M2KPerWPerClo = 0.155;

    // The clothing's surface is found to this; the vote then stands to better than 0.001.
    private const double SurfaceToleranceK = 1e-6;
    private const int MostRounds = 150;

    /// <summary>
    /// PMV = (0.303 exp(-0.036 M) + 0.028) L, where L is the heat the body makes less what it loses at comfortable skin
    /// and sweat: by diffusion through the skin, sweat, breath, radiation and convection (ISO 7730:2005 equations 1 to 4).
    /// No mechanical work.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside the standard's range.</exception>
    /// <exception cref="ComfortNotFoundException">The clothing's surface temperature was not found.</exception>
    public static double Vote(ComfortState state)
    {
        double airC = AirRange.Check(state.AirC, nameof(state));
        double radiantC = RadiantRange.Check(state.RadiantC, nameof(state));
        double speed = SpeedRange.Check(state.AirSpeedMPerS, nameof(state));
        double vapourPa = VapourRange.Check(state.VapourPressurePa, nameof(state));
        double m = WPerMet * MetRange.Check(state.Met, nameof(state));
        double clothing = M2KPerWPerClo * CloRange.Check(state.Clo, nameof(state));

        double areaFactor = clothing <= 0.078 ? 1 + (1.29 * clothing) : 1.05 + (0.645 * clothing);
        double skinC = 35.7 - (0.028 * m);
        double surfaceC = SurfaceC(airC, radiantC, speed, clothing, areaFactor, skinC);
        double convection = ConvectionWPerM2K(surfaceC, airC, speed);
        double radiation = RadiantWPerM2(surfaceC, radiantC, areaFactor);
        double load = m
            - (3.05e-3 * (5733 - (6.99 * m) - vapourPa))
            - (0.42 * Math.Max(0, m - WPerMet))
            - (1.7e-5 * m * (5867 - vapourPa))
            - (0.0014 * m * (34 - airC))
            - radiation
            - (areaFactor * convection * (surfaceC - airC));
        return ((0.303 * Math.Exp(-0.036 * m)) + 0.028) * load;
    }

    /// <summary>PPD = 100 - 95 exp(-0.03353 PMV^4 - 0.2179 PMV^2), % of people too warm or too cool (ISO 7730:2005 equation 5); 5 % at the least.</summary>
    /// <param name="vote">Predicted mean vote, -3 to 3.</param>
    /// <exception cref="ArgumentOutOfRangeException">The vote lies outside the scale.</exception>
    public static double DissatisfiedPercent(double vote)
    {
        double v2 = Math.Pow(new ValidRange("Predicted mean vote", -3, 3, "").Check(vote, nameof(vote)), 2);
        return 100 - (95 * Math.Exp((-0.03353 * v2 * v2) - (0.2179 * v2)));
    }

    // The balance falls as the surface gets warmer, so a halving finds its one root.
    private static double SurfaceC(double airC, double radiantC, double speed, double clothing, double areaFactor, double skinC)
    {
        double low = Math.Min(Math.Min(airC, radiantC), skinC) - 1;
        double high = Math.Max(Math.Max(airC, radiantC), skinC) + 1;
        for (int round = 0; round < MostRounds; round++)
        {
            double middle = (low + high) / 2;
            double losses = RadiantWPerM2(middle, radiantC, areaFactor) + (areaFactor * ConvectionWPerM2K(middle, airC, speed) * (middle - airC));
            (low, high) = skinC - (clothing * losses) > middle ? (middle, high) : (low, middle);
            if (high - low < SurfaceToleranceK)
            {
                return (low + high) / 2;
            }
        }

        throw new ComfortNotFoundException("The clothing's surface temperature was not found.");
    }

    private static double RadiantWPerM2(double surfaceC, double radiantC, double areaFactor) =>
        3.96e-8 * areaFactor * (Math.Pow(surfaceC + 273, 4) - Math.Pow(radiantC + 273, 4));

    private static double ConvectionWPerM2K(double surfaceC, double airC, double speed) =>
        Math.Max(2.38 * Math.Pow(Math.Abs(surfaceC - airC), 0.25), 12.1 * Math.Sqrt(speed));
}
