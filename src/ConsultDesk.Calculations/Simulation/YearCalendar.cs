namespace ConsultDesk.Calculations.Simulation;

/// <summary>Days, months and nights of the year of 365 days.</summary>
internal static class YearCalendar
{
    private const int Hours = Climate.YearWeather.Hours;

    private static readonly int[] Lengths = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

    /// <summary>First day of each month, and 365 after December.</summary>
    public static int[] FirstDays { get; } = [0, .. Lengths.Select((_, month) => Lengths.Take(month + 1).Sum())];

    /// <summary>Days of a month, 0 for January.</summary>
    public static int DaysOf(int month) => Lengths[month];

    /// <summary>Month of a day, 0 for January.</summary>
    public static int MonthOf(int day)
    {
        int month = 0;
        while (day >= FirstDays[month + 1])
        {
            month++;
        }

        return month;
    }

    /// <summary>The day whose night an hour belongs to: nights run from noon to noon, the last from 31 December into 1 January.</summary>
    public static int NightOf(int hour) => (hour + 12) % Hours / 24;
}
