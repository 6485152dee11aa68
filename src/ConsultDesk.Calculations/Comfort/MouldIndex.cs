namespace ConsultDesk.Calculations.Comfort;

/// <summary>How readily a material feeds mould: the classes of Ojanen et al. 2010.</summary>
public enum MouldSensitivity
{
    /// <summary>Untreated pine sapwood.</summary>
    VerySensitive,

    /// <summary>Planed wood, glued boards, paper facings.</summary>
    Sensitive,

    /// <summary>Mineral and polyester wool, cement.</summary>
    MediumResistant,

    /// <summary>Glass, metal, plastic with a skin.</summary>
    Resistant,
}

/// <summary>Where a surface stands: its mould index and how long it has been unfit for growth.</summary>
/// <param name="Index">Mould index, 0 (clean) to 6 (all of it covered).</param>
/// <param name="DryHours">Hours since growth was last possible.</param>
public readonly record struct MouldState(double Index, double DryHours);

/// <summary>
/// The VTT mould growth model. The index runs from 0 (none) over 1 (some, seen under a microscope) and 3 (some, seen by
/// eye) to 6 (all covered). A. Hukka and H. Viitanen, A mathematical model of mould growth on wooden material, Wood Science
/// and Technology 33 (1999); H. Viitanen and T. Ojanen, Improved model to predict mold growth in building materials,
/// Buildings X (2007); T. Ojanen et al., Mold growth modeling of building structures using sensitivity classes of
/// materials, Buildings XI (2010).
/// </summary>
/// <remarks>
/// Fitted to wood and boards in the laboratory at steady and swinging humidity. Sawn surface and wood species count as in
/// the class table (both terms 0). It says how likely mould is to start on a clean surface, not what it does to health.
/// </remarks>
public static class MouldIndex
{
    /// <summary>Index of a growth seen under a microscope only.</summary>
    public const double Microscopic = 1;

    /// <summary>Index of a growth seen by eye.</summary>
    public const double Visible = 3;

    /// <summary>Temperature at which mould can grow; above 0 °C.</summary>
    public static readonly ValidRange TemperatureRange = new("Temperature of a surface for mould growth", 0, 50, "°C");

    /// <summary>Relative humidity at the surface.</summary>
    public static readonly ValidRange HumidityRange = new("Relative humidity at a surface for mould growth", 0, 100, "%");

    /// <summary>Mould index.</summary>
    public static readonly ValidRange IndexRange = new("Mould index", 0, 6, "");

    /// <summary>Decline of a material over that of pine.</summary>
    public static readonly ValidRange DeclineRange = new("Decline of mould over that on pine", 0, 1, "");

    // Above this the critical humidity no longer falls with temperature (1999).
    private const double FlatFromC = 20;

    // How the growth slows towards its maximum (1999).
    private const double Slowing = 2.3;

    private const double FastDeclineHours = 6;
    private const double RestUntilHours = 24;
    private const double FastDeclinePerHour = 0.00133;
    private const double SlowDeclinePerHour = 0.000667;

    private readonly record struct ClassRow(double EarlyRate, double LateRate, double A, double B, double C, double LeastHumidityPercent);

    /// <summary>
    /// Relative humidity from which mould can grow, %: -0.00267 T^3 + 0.160 T^2 - 3.13 T + 100 up to 20 °C and the least of
    /// the material's class above it; never below that least (Hukka and Viitanen 1999, Ojanen et al. 2010).
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">The temperature is out of range.</exception>
    public static double CriticalHumidityPercent(double celsius, MouldSensitivity material) =>
        Critical(TemperatureRange.Check(celsius, nameof(celsius)), Row(material).LeastHumidityPercent);

    /// <summary>Relative humidity below which nothing grows on a material at any temperature, %.</summary>
    internal static double LeastHumidityPercent(MouldSensitivity material) => Row(material).LeastHumidityPercent;

    /// <summary>
    /// Time until the first growth on pine, weeks: exp(-0.68 ln T - 13.9 ln RH + 66.02) (Hukka and Viitanen 1999).
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of range, or 0.</exception>
    public static double ResponseWeeks(double celsius, double humidityPercent)
    {
        TemperatureRange.Check(celsius, nameof(celsius));
        HumidityRange.Check(humidityPercent, nameof(humidityPercent));
        return celsius > 0 && humidityPercent > 0
            ? Response(celsius, humidityPercent)
            : throw new ArgumentOutOfRangeException(nameof(celsius), celsius, "There is no growth at 0 °C or in dry air, and so no time to it.");
    }

    /// <summary>
    /// Largest index the state can bring about: A + B x - C x^2 with x = (RHcrit - RH)/(RHcrit - 100); 0 below the critical
    /// humidity (Ojanen et al. 2010).
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of range.</exception>
    public static double Largest(double celsius, double humidityPercent, MouldSensitivity material)
    {
        TemperatureRange.Check(celsius, nameof(celsius));
        HumidityRange.Check(humidityPercent, nameof(humidityPercent));
        ClassRow row = Row(material);
        double critical = Critical(celsius, row.LeastHumidityPercent);
        return humidityPercent < critical ? 0 : LargestOf(row, critical, humidityPercent);
    }

    /// <summary>
    /// The state after some time at one climate. While growth is possible, dM/dt = k1 (1 - exp(2.3 (M - Mmax)))/(7 tm) a
    /// day, solved exactly; otherwise the decline of Hukka and Viitanen 1999: 0.00133 an hour for 6 hours, nothing until 24,
    /// 0.000667 an hour from then, times the material's factor.
    /// </summary>
    /// <param name="state">Where it stands.</param>
    /// <param name="celsius">Temperature of the surface; at and below 0 °C nothing grows.</param>
    /// <param name="humidityPercent">Relative humidity at the surface.</param>
    /// <param name="material">Class of the material.</param>
    /// <param name="decline">Decline over that on pine: 1, 0.5, 0.25 or 0.1 by the classes of Ojanen et al. 2010.</param>
    /// <param name="hours">How long, 0 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of range.</exception>
    public static MouldState After(
        MouldState state, double celsius, double humidityPercent, MouldSensitivity material, double decline, double hours)
    {
        new ValidRange("Temperature of a surface", -60, TemperatureRange.Maximum, "°C").Check(celsius, nameof(celsius));
        HumidityRange.Check(humidityPercent, nameof(humidityPercent));
        IndexRange.Check(state.Index, nameof(state));
        DeclineRange.Check(decline, nameof(decline));
        new ValidRange("Time", 0, 1e6, "h").Check(hours, nameof(hours));
        return Next(state, celsius, humidityPercent, material, decline, hours);
    }

    // The same for values known to be in range.
    private static MouldState Next(
        MouldState state, double celsius, double humidityPercent, MouldSensitivity material, double decline, double hours) => Grows(celsius, humidityPercent, material)
        ? Grown(state, celsius, humidityPercent, material, hours)
        : Dried(state, decline, hours);

    /// <summary>True where mould can grow, for values known to be in range.</summary>
    internal static bool Grows(double celsius, double humidityPercent, MouldSensitivity material) =>
        celsius > 0 && humidityPercent >= Critical(celsius, Row(material).LeastHumidityPercent);

    /// <summary>The largest index a state in which mould <see cref="Grows"/> can bring about.</summary>
    internal static double LargestGrowing(double celsius, double humidityPercent, MouldSensitivity material)
    {
        ClassRow row = Row(material);
        return LargestOf(row, Critical(celsius, row.LeastHumidityPercent), humidityPercent);
    }

    /// <summary>What hours at one climate in which mould <see cref="Grows"/> add to its growth: their share of seven times the time until the first growth on pine.</summary>
    internal static double GrowthOf(double celsius, double humidityPercent, double hours) => hours / 24 / (7 * Response(celsius, humidityPercent));

    /// <summary>The index after so much of <see cref="GrowthOf"/> with one largest index throughout; hours with the same largest add up.</summary>
    internal static double Grown(double index, MouldSensitivity material, double largest, double growth) =>
        index >= largest ? index : Grown(index, Row(material), largest, growth);

    // The state after hours in which mould grows.
    private static MouldState Grown(MouldState state, double celsius, double humidityPercent, MouldSensitivity material, double hours)
    {
        double largest = LargestGrowing(celsius, humidityPercent, material);
        return new MouldState(state.Index >= largest ? state.Index : Grown(state.Index, Row(material), largest, GrowthOf(celsius, humidityPercent, hours)), 0);
    }

    /// <summary>The state after hours in which nothing grows, as many as there are at once.</summary>
    internal static MouldState Dried(MouldState state, double decline, double hours) =>
        new(Math.Max(0, state.Index - (decline * (Declined(state.DryHours + hours) - Declined(state.DryHours)))), state.DryHours + hours);

    // dM/dt = k (1 - exp(a (M - Mmax))): with u = exp(a (Mmax - M)), u - 1 falls as exp(-a k t).
    private static double Grown(double index, in ClassRow row, double largest, double growth)
    {
        if (index < Microscopic)
        {
            double end = Approach(index, largest, row.EarlyRate * growth);
            if (end <= Microscopic)
            {
                return end;
            }

            growth -= Math.Log(ExcessOf(index, largest) / ExcessOf(Microscopic, largest)) / (Slowing * row.EarlyRate);
            index = Microscopic;
        }

        return Approach(index, largest, row.LateRate * growth);
    }

    private static double Approach(double index, double largest, double rateTimesGrowth) =>
        largest - (Math.Log(1 + (ExcessOf(index, largest) * Math.Exp(-Slowing * rateTimesGrowth))) / Slowing);

    private static double ExcessOf(double index, double largest) => Math.Exp(Slowing * (largest - index)) - 1;

    // Index lost since it got dry, on pine.
    private static double Declined(double dryHours) =>
        (FastDeclinePerHour * Math.Min(dryHours, FastDeclineHours)) + (SlowDeclinePerHour * Math.Max(0, dryHours - RestUntilHours));

    private static double Critical(double celsius, double leastPercent) => celsius > FlatFromC
        ? leastPercent
        : Math.Max(leastPercent, (((((-0.00267 * celsius) + 0.160) * celsius) - 3.13) * celsius) + 100);

    private static double Response(double celsius, double humidityPercent) =>
        Math.Exp((-0.68 * Math.Log(celsius)) - (13.9 * Math.Log(humidityPercent)) + 66.02);

    private static double LargestOf(in ClassRow row, double critical, double humidityPercent)
    {
        // At 0 °C growth needs saturation, and saturation is all there is.
        double x = critical >= 100 ? 1 : (critical - humidityPercent) / (critical - 100);
        return row.A + (row.B * x) - (row.C * x * x);
    }

    private static ClassRow Row(MouldSensitivity material) => material switch
    {
        MouldSensitivity.VerySensitive => new(1, 2, 1, 7, 2, 80),
        MouldSensitivity.Sensitive => new(0.578, 0.386, 0.3, 6, 1, 80),
        MouldSensitivity.MediumResistant => new(0.072, 0.097, 0, 5, 1.5, 85),
        MouldSensitivity.Resistant => new(0.033, 0.014, 0, 3, 1, 85),
        _ => throw new ArgumentOutOfRangeException(nameof(material), material, "Expected a class of mould sensitivity."),
    };
}
