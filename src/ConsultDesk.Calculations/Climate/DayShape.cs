namespace ConsultDesk.Calculations.Climate;

/// <summary>
/// The course of the temperature over a mean day: a half cosine up from the minimum to the maximum and a half cosine
/// down to the next minimum, -0.5 to 0.5 of the day's range.
/// </summary>
internal static class DayShape
{
    /// <summary>Hour of the minimum, standard time: median of 64 typical-year files (our measurement).</summary>
    public const double HourOfMinimum = 5;

    /// <summary>Hour of the maximum, standard time: median of 64 typical-year files (our measurement).</summary>
    public const double HourOfMaximum = 14.5;

    private const double FallHours = 24 - HourOfMaximum + HourOfMinimum;
    private const double RiseHours = HourOfMaximum - HourOfMinimum;

    /// <summary>The shape at the middle of each hour of the day.</summary>
    public static double[] Hourly { get; } = [.. Enumerable.Range(0, 24).Select(hour => At(hour + 0.5))];

    /// <summary>The shape at an hour of the day, 0 to 24.</summary>
    public static double At(double hour)
    {
        if (hour >= HourOfMinimum && hour <= HourOfMaximum)
        {
            return -0.5 * Math.Cos(Math.PI * (hour - HourOfMinimum) / RiseHours);
        }

        double sinceMaximum = hour > HourOfMaximum ? hour - HourOfMaximum : hour + 24 - HourOfMaximum;
        return 0.5 * Math.Cos(Math.PI * sinceMaximum / FallHours);
    }

    /// <summary>Mean over a part of the day, across midnight.</summary>
    public static double Mean(double from, double to)
    {
        double fall = -FallHours / (2 * Math.PI) * Math.Sin(Math.PI * (from - HourOfMaximum) / FallHours);
        double rise = -RiseHours / (2 * Math.PI) * Math.Sin(Math.PI * (to - HourOfMinimum) / RiseHours);
        return (fall + rise) / (24 - from + to);
    }
}
