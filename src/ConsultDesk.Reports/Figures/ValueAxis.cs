using System.Globalization;

namespace ConsultDesk.Reports.Figures;

/// <summary>An upright axis from nothing to a largest value, with round ticks in the reader's unit.</summary>
internal sealed class ValueAxis
{
    private const int MostTicks = 5;

    private readonly double _step;
    private readonly double _top;
    private readonly double _bottom;

    /// <summary>An axis that holds a largest value between two heights of the drawing.</summary>
    public ValueAxis(double largest, double top, double bottom)
    {
        (_top, _bottom) = (top, bottom);
        var least = Math.Max(largest, 1e-9) / MostTicks;
        var power = Math.Pow(10, Math.Floor(Math.Log10(least)));
        _step = power * new double[] { 1, 2, 5, 10 }.First(round => round * power >= least * (1 - 1e-9));
        Largest = _step * Math.Ceiling((largest / _step) - 1e-9);
        Largest = Math.Max(Largest, _step);
    }

    /// <summary>Value at the top.</summary>
    public double Largest { get; }

    public double Y(double value) => _bottom - (value / Largest * (_bottom - _top));

    public IEnumerable<(string Text, double Y)> Ticks()
    {
        for (var tick = 0; tick * _step <= Largest * (1 + 1e-9); tick++)
        {
            yield return ((tick * _step).ToString("0.##", CultureInfo.InvariantCulture), Y(tick * _step));
        }
    }
}
