using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Climate;

/// <summary>A year of 365 days that has no leap day and joins its own beginning.</summary>
public static class YearCalendar
{
    /// <summary>Days of each month, January first.</summary>
    public static ImmutableArray<int> DaysInMonth { get; } = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

    /// <summary>Day of the year, from 0, on which each month begins.</summary>
    public static ImmutableArray<int> FirstDay { get; } = [.. Enumerable.Range(0, 12).Select(month => DaysInMonth.Take(month).Sum())];

    private static readonly ImmutableArray<int> MonthOfDay =
        [.. Enumerable.Range(0, 12).SelectMany(month => Enumerable.Repeat(month + 1, DaysInMonth[month]))];

    /// <summary>True when the year has this day; 29 February it has not.</summary>
    public static bool Contains(MonthDay day) => day.Month is >= 1 and <= 12 && day.Day >= 1 && day.Day <= DaysInMonth[day.Month - 1];

    /// <summary>Day of the year, from 0.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The year has no such day.</exception>
    public static int DayOfYear(MonthDay day) => Contains(day)
        ? FirstDay[day.Month - 1] + day.Day - 1
        : throw new ArgumentOutOfRangeException(nameof(day), day, "Expected a day of a year without a leap day.");

    /// <summary>Month, 1 to 12, of a day of the year from 0.</summary>
    public static int Month(int dayOfYear) => MonthOfDay[dayOfYear];

    /// <summary>The calendar date of a day of the year from 0.</summary>
    public static MonthDay Date(int dayOfYear) => new(Month(dayOfYear), dayOfYear - FirstDay[Month(dayOfYear) - 1] + 1);
}
