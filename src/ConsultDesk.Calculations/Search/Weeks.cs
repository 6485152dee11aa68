using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>
/// Some days of the year, run as the year is: the coldest, the dampest mild and the warmest, with the ten days before each. About an eighth of a year's work.
/// Safe to use from several threads.
/// </summary>
internal sealed class Weeks
{
    /// <summary>Days of each spell that are written down. Our judgement.</summary>
    public const int Days = 6;

    private const double WarmC = 24;

    private readonly YearWeather _weather;
    private readonly double _glassAndMetalM2;
    private readonly ImmutableArray<int> _from;

    public Weeks(YearWeather weather, double glassAndMetalM2)
    {
        _weather = weather;
        _glassAndMetalM2 = glassAndMetalM2;
        double[] meanC = new double[YearWeather.Days];
        double[] damp = new double[YearWeather.Days];
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            meanC[hour / 24] += weather.TemperatureC[hour] / 24;
            damp[hour / 24] += weather.TemperatureC[hour] is > 0 and < 15 ? weather.HumidityShare[hour] : 0;
        }

        _from = [First(meanC.Select(value => -value)), First(damp), First(meanC)];
    }

    /// <summary>First days of the spells.</summary>
    public ImmutableArray<int> From => _from;

    /// <summary>Numbers of the spells, five for each; null when one does not balance.</summary>
    public double[]? Of(Design now, CancellationToken cancellation)
    {
        try
        {
            VanModel van = new(now, Assumptions.Likely);
            List<double> numbers = [];
            foreach (int from in _from)
            {
                YearSeries series = YearRun.Of(van, _weather, options: null, from, Days, progress: null, cancellation);
                Add(numbers, van, series, from);
            }

            return [.. numbers];
        }
        catch (CalculationFailedException)
        {
            return null;
        }
    }

    private void Add(List<double> numbers, VanModel van, YearSeries series, int fromDay)
    {
        double wet = 0;
        double heatKwh = 0;
        double cold = 0;
        double warm = 0;
        double damp = 0;
        NightModel night = van.Night;
        double nightC = night.Design.Heater.NightSetPoint.DegreesCelsius - 1;
        double dayC = night.Design.Heater.DaySetPoint.DegreesCelsius - 1;
        int bed = night.FirstOf(ZoneKind.Sleeping) * YearSeries.Hours;
        int living = night.FirstOf(ZoneKind.Living) * YearSeries.Hours;
        for (int ran = 0; ran < 24 * Days; ran++)
        {
            int hour = ((24 * fromDay) + ran) % YearSeries.Hours;
            for (int k = 0; k < van.FirstLining; k++)
            {
                wet += series.SurfaceFilmKgPerM2[(k * YearSeries.Hours) + hour] >= YearReport.FilmKgPerM2 ? night.Surfaces[k].AreaM2 : 0;
            }

            heatKwh += series.HeaterW[hour] / 1000;
            double bedC = series.ZoneC[bed + hour];
            cold += series.Asleep[hour] ? (bedC < nightC ? 1 : 0) : series.Occupied[hour] && series.ZoneC[living + hour] < dayC ? 1 : 0;
            warm += series.Asleep[hour] ? Math.Max(0, bedC - WarmC) : 0;
            for (int j = 0; j < van.SkinCount; j++)
            {
                damp += series.SkinHumidityShare[(j * YearSeries.Hours) + hour] / van.SkinCount;
            }
        }

        numbers.AddRange([_glassAndMetalM2 > 0 ? wet / _glassAndMetalM2 : 0, heatKwh, cold, warm, damp]);
    }

    // First day of the spell with the highest sum, the year taken round.
    private static int First(IEnumerable<double> ofDay)
    {
        double[] days = [.. ofDay];
        return Enumerable.Range(0, days.Length).MaxBy(day => Enumerable.Range(day, Days).Sum(at => days[at % days.Length]));
    }
}
