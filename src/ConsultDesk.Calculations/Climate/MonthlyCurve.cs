using ConsultDesk.Calculations.Simulation;

namespace ConsultDesk.Calculations.Climate;

/// <summary>
/// A smooth course through the year whose mean over each month is given: straight lines between values at mid-month
/// that are chosen so that the hours of every month have the wanted mean (after Killworth 1996, Journal of Physical
/// Oceanography 26, recalled).
/// </summary>
internal static class MonthlyCurve
{
    private const int Months = 12;

    // For each hour the two neighbouring mid-months and the share of the later one.
    private static readonly int[] Earlier = new int[YearWeather.Hours];
    private static readonly double[] ShareOfLater = new double[YearWeather.Hours];
    private static readonly double[] MeanOfAnchors = new double[Months * Months];

    static MonthlyCurve()
    {
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            int month = YearCalendar.Month(hour / 24) - 1;
            int earlier = hour + 0.5 >= Middle(month) ? month : (month + Months - 1) % Months;
            int later = (earlier + 1) % Months;
            double gap = (Middle(later) - Middle(earlier) + YearWeather.Hours) % YearWeather.Hours;
            double share = ((hour + 0.5 - Middle(earlier) + YearWeather.Hours) % YearWeather.Hours) / gap;
            Earlier[hour] = earlier;
            ShareOfLater[hour] = share;
            double weight = 1.0 / (24 * YearCalendar.DaysInMonth[month]);
            MeanOfAnchors[(month * Months) + earlier] += weight * (1 - share);
            MeanOfAnchors[(month * Months) + later] += weight * share;
        }
    }

    /// <summary>Adds the course with these monthly means to the hours of a year.</summary>
    public static void Add(ReadOnlySpan<double> monthlyMeans, double[] hours)
    {
        Span<double> matrix = stackalloc double[Months * Months];
        MeanOfAnchors.CopyTo(matrix);
        Span<double> anchors = stackalloc double[Months];
        monthlyMeans.CopyTo(anchors);
        LinearSystem.Solve(matrix, anchors, Months);
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            double earlier = anchors[Earlier[hour]];
            double later = anchors[Earlier[hour] == Months - 1 ? 0 : Earlier[hour] + 1];
            hours[hour] += earlier + (ShareOfLater[hour] * (later - earlier));
        }
    }

    /// <summary>Means of the hours of each month.</summary>
    public static void Means(double[] hours, Span<double> monthlyMeans)
    {
        for (int month = 0; month < Months; month++)
        {
            int first = 24 * YearCalendar.FirstDay[month];
            int count = 24 * YearCalendar.DaysInMonth[month];
            double sum = 0;
            for (int hour = first; hour < first + count; hour++)
            {
                sum += hours[hour];
            }

            monthlyMeans[month] = sum / count;
        }
    }

    private static double Middle(int month) => 24 * (YearCalendar.FirstDay[month] + (YearCalendar.DaysInMonth[month] / 2.0));
}
