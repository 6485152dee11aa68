using System.Collections.Immutable;

namespace ConsultDesk.Calculations.Climate;

/// <summary>A year of hourly values, some of which may be missing.</summary>
internal sealed class HourColumn
{
    private const int Hours = YearWeather.Hours;

    private readonly double[] _values = new double[Hours];

    public HourColumn() => Array.Fill(_values, double.NaN);

    /// <summary>A value, or not-a-number when it is missing.</summary>
    public double this[int hour]
    {
        get => _values[hour];
        set => _values[hour] = value;
    }

    /// <summary>How many are missing.</summary>
    public int Missing => _values.Count(double.IsNaN);

    /// <summary>The longest run of missing values, across New Year, and the hour it begins; 0 hours when none is missing.</summary>
    public (int Hours, int From) LongestGap()
    {
        (int Hours, int From) longest = (0, 0);
        int run = 0;
        for (int step = 0; step < 2 * Hours; step++)
        {
            run = double.IsNaN(_values[step % Hours]) ? run + 1 : 0;
            if (run > longest.Hours && run <= Hours)
            {
                longest = (run, (step - run + 1) % Hours);
            }
        }

        return longest;
    }

    /// <summary>The values, with straight lines over the gaps; at least one must be there.</summary>
    public ImmutableArray<double> Filled()
    {
        int last = Array.FindLastIndex(_values, value => !double.IsNaN(value));
        if (last < 0)
        {
            throw new InvalidOperationException("A column without a value cannot be filled.");
        }

        // From the last known value before the year's beginning, which is the last one of the same year.
        double[] filled = [.. _values];
        int before = last - Hours;
        for (int hour = 0; hour <= last; hour++)
        {
            if (double.IsNaN(_values[hour]))
            {
                continue;
            }

            Bridge(filled, before, hour);
            before = hour;
        }

        int first = Array.FindIndex(_values, value => !double.IsNaN(value));
        Bridge(filled, last, first + Hours);
        return [.. filled];
    }

    private void Bridge(double[] filled, int before, int after)
    {
        double from = _values[(before + Hours) % Hours];
        double to = _values[after % Hours];
        for (int hour = before + 1; hour < after; hour++)
        {
            filled[(hour + Hours) % Hours] = from + ((to - from) * (hour - before) / (after - before));
        }
    }
}
