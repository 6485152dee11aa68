using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Heating;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>Heat and electric energy of each day of a year, from the heater's and the fans' hours.</summary>
internal sealed class HeaterDays
{
    private readonly HeaterClass? _heater;

    private HeaterDays(HeaterClass? heater) => _heater = heater;

    /// <summary>Heat of each day.</summary>
    public double[] HeatJ { get; } = new double[YearWeather.Days];

    /// <summary>Electric energy of each day: heat of an electric heater, the heater's own draw and its starts, fans, dryers.</summary>
    public double[] ElectricJ { get; } = new double[YearWeather.Days];

    /// <summary>Share of the hours with heat in which less than the lowest steady output was wanted.</summary>
    public double CyclingShare { get; private set; }

    /// <summary>Sums up a year.</summary>
    public static HeaterDays Of(YearSeries series, NightModel model)
    {
        Heater heater = model.Design.Heater;
        HeaterClass? heaterClass = Heaters.Nearest(heater.Kind, heater.RatedOutput);
        double lowestW = heaterClass is null ? 0 : LowestW(heater, heaterClass);
        HeaterDays days = new(heaterClass);
        int heated = 0;
        int cycling = 0;
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            double watts = series.HeaterW[hour];
            days.HeatJ[hour / 24] += 3600 * watts;
            double electricW = series.FanW[hour];
            if (watts > 0 && heaterClass is not null)
            {
                heated++;
                cycling += watts < lowestW ? 1 : 0;
                electricW += ElectricW(heaterClass, watts, lowestW, model.Assumed)
                    + (heater.Kind == HeaterKind.Electric ? watts / heaterClass.Efficiency : 0);
            }

            days.ElectricJ[hour / 24] += 3600 * electricW;
        }

        days.CyclingShare = heated == 0 ? 0 : (double)cycling / heated;
        return days;
    }

    /// <summary>Fuel for a heat output in J; null when the heater burns none.</summary>
    public Mass? Fuel(double heatJ) => _heater?.Fuel is Moisture.Fuel fuel
        ? Mass.FromKilograms(FuelUse.FuelKg(fuel, heatJ, _heater.Efficiency))
        : null;

    /// <summary>Lowest steady output: a heater outside the table turns down by the same share as the nearest one in it.</summary>
    public static double LowestW(Heater heater, HeaterClass heaterClass) => (double)heater.RatedOutput.Watts * heaterClass.TurnDownShare;

    /// <summary>
    /// Mean electric draw at a mean heat output: at or above the lowest steady output it runs all the time; below, it runs
    /// the share of the time output over lowest, in runs of the shortest length, each with a start.
    /// </summary>
    internal static double ElectricW(HeaterClass heater, double outputW, double lowestW, Assumptions assumed)
    {
        double drawW = (double)heater.ElectricDraw.Watts;
        if (outputW >= lowestW)
        {
            return drawW;
        }

        double running = outputW / lowestW;
        double startJ = ((double)heater.StartDraw.Watts - drawW) * 60 * assumed["heater-start-time"];
        double startsPerS = running / (60 * assumed["heater-shortest-run"]);
        return (running * drawW) + (startsPerS * startJ);
    }
}
