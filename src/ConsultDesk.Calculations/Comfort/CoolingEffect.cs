using ConsultDesk.Calculations.Air;

namespace ConsultDesk.Calculations.Comfort;

/// <summary>What moving air is worth, and how warm a state feels, both by <see cref="StandardEffectiveTemperature"/>.</summary>
public static class CoolingEffect
{
    /// <summary>Relative humidity of the standard room, %.</summary>
    public const double StandardHumidityPercent = 50;

    private const double ToleranceK = 1e-4;
    private const double LowestFeltC = -20;
    private const double HighestFeltC = 90;
    private const int MostRounds = 100;

    /// <summary>
    /// Cooling effect of elevated air speed of ASHRAE 55, K: by how much air and radiant temperature could fall, in still
    /// air with the same relative humidity, for the same standard effective temperature. 0 at and below still air.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside the range of the method.</exception>
    /// <exception cref="ComfortNotFoundException">There is none: the air is so warm that moving it heats.</exception>
    public static double OfK(ComfortState state)
    {
        double setC = StandardEffectiveTemperature.OfC(state, activityStirs: false);
        if (state.AirSpeedMPerS <= StandardEffectiveTemperature.StillMPerS)
        {
            return 0;
        }

        double humidity = state.VapourPressurePa / MoistAir.SaturationPressureOverWaterPa(state.AirC);
        double effectK = -Root(StandardEffectiveTemperature.TemperatureRange.Minimum - Math.Min(state.AirC, state.RadiantC), 0, setC, shiftK => state with
        {
            AirC = state.AirC + shiftK,
            RadiantC = state.RadiantC + shiftK,
            AirSpeedMPerS = StandardEffectiveTemperature.StillMPerS,
            VapourPressurePa = humidity * MoistAir.SaturationPressureOverWaterPa(state.AirC + shiftK),
        });
        return effectK;
    }

    /// <summary>
    /// How warm a state feels, degrees Celsius: the air and radiant temperature of still air at 50 % relative humidity with
    /// the same standard effective temperature for the same person. A use of SET of our own: it puts humidity, radiation and
    /// air speed on the scale of a room thermometer. The scale itself runs from -20 to 90 degrees, so that every state the
    /// method covers has its place on it.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside the range of the method.</exception>
    /// <exception cref="ComfortNotFoundException">The state has no place on the scale.</exception>
    public static double FeltC(ComfortState state) => Root(
        LowestFeltC, HighestFeltC, StandardEffectiveTemperature.OfC(state, activityStirs: false), airC => StillAt(airC, state.Met, state.Clo));

    /// <summary>Still air at 50 % relative humidity, walls the same.</summary>
    internal static ComfortState StillAt(double airC, double met, double clo) => new(
        airC,
        airC,
        StandardEffectiveTemperature.StillMPerS,
        StandardHumidityPercent / 100 * MoistAir.SaturationPressureOverWaterPa(airC),
        met,
        clo);

    private static double Root(double low, double high, double setC, Func<double, ComfortState> at)
    {
        if (SetC(high) < setC)
        {
            throw new ComfortNotFoundException("No still air within the range of the method feels like this one.");
        }

        for (int round = 0; round < MostRounds; round++)
        {
            double middle = (low + high) / 2;
            (low, high) = SetC(middle) < setC ? (middle, high) : (low, middle);
            if (high - low < ToleranceK)
            {
                return (low + high) / 2;
            }
        }

        throw new ComfortNotFoundException("The state was not found.");

        double SetC(double shifted) => StandardEffectiveTemperature.Unchecked(at(shifted), activityStirs: false);
    }
}
