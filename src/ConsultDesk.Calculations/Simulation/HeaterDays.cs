using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Heating;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>Heat and electric energy of each day of a year, from the heater's and the fans' hours.</summary>
internal sealed class HeaterDays
{
    private readonly HeaterClass? _heater;
    private readonly bool _electric;
    private readonly double _lowestW;
    private readonly ElectricDraw _draw;
    private int _heated;
    private int _cycling;

    /// <summary>Days without heat or current.</summary>
    public HeaterDays(NightModel model)
    {
        Heater heater = model.Design.Heater;
        _heater = Heaters.Nearest(heater.Kind, heater.RatedOutput);
        _electric = heater.Kind == HeaterKind.Electric;
        if (_heater is not null)
        {
            _lowestW = LowestW(heater, _heater);
            _draw = ElectricDraw.Of(_heater, _lowestW, model.Assumed);
        }
    }

    /// <summary>Heat of each day.</summary>
    public double[] HeatJ { get; } = new double[YearWeather.Days];

    /// <summary>Electric energy of each day: heat of an electric heater, the heater's own draw and its starts, fans, dryers.</summary>
    public double[] ElectricJ { get; } = new double[YearWeather.Days];

    /// <summary>Share of the hours with heat in which less than the lowest steady output was wanted.</summary>
    public double CyclingShare => _heated == 0 ? 0 : (double)_cycling / _heated;

    /// <summary>Sums up a year.</summary>
    public static HeaterDays Of(YearSeries series, NightModel model)
    {
        HeaterDays days = new(model);
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            days.Add(hour, series.HeaterW[hour], series.FanW[hour]);
        }

        return days;
    }

    /// <summary>Adds an hour of the year.</summary>
    /// <param name="hour">Which one.</param>
    /// <param name="heaterW">Heat of the heater.</param>
    /// <param name="fanW">Electric draw of fans and dryers.</param>
    public void Add(int hour, double heaterW, double fanW)
    {
        int day = hour / 24;
        HeatJ[day] += 3600 * heaterW;
        double electricW = fanW;
        if (heaterW > 0 && _heater is not null)
        {
            _heated++;
            _cycling += heaterW < _lowestW ? 1 : 0;
            electricW += _draw.MeanW(heaterW) + (_electric ? heaterW / _heater.Efficiency : 0);
        }

        ElectricJ[day] += 3600 * electricW;
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
    internal static double ElectricW(HeaterClass heater, double outputW, double lowestW, Assumptions assumed) => ElectricDraw.Of(heater, lowestW, assumed).MeanW(outputW);

    private readonly record struct ElectricDraw(double LowestW, double DrawW, double StartJ, double ShortestRunS)
    {
        public static ElectricDraw Of(HeaterClass heater, double lowestW, Assumptions assumed)
        {
            double drawW = (double)heater.ElectricDraw.Watts;
            return new ElectricDraw(lowestW, drawW, ((double)heater.StartDraw.Watts - drawW) * 60 * assumed["heater-start-time"], 60 * assumed["heater-shortest-run"]);
        }

        public double MeanW(double outputW)
        {
            if (outputW >= LowestW)
            {
                return DrawW;
            }

            double running = outputW / LowestW;
            double startsPerS = running / ShortestRunS;
            return (running * DrawW) + (startsPerS * StartJ);
        }
    }
}
