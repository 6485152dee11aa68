using System.Globalization;

namespace ConsultDesk.Web.Shell;

/// <summary>Times in words. The server does not know the reader's clock, so days are UTC days and hours are spans.</summary>
public static class When
{
    /// <summary>How long ago, or the date when that says more.</summary>
    public static string Ago(DateTime utc, DateTime nowUtc)
    {
        var span = nowUtc - utc;
        return span switch
        {
            { TotalMinutes: < 1 } => "just now",
            { TotalMinutes: < 60 } => Count((int)span.TotalMinutes, "minute") + " ago",
            { TotalHours: < 24 } => Count((int)span.TotalHours, "hour") + " ago",
            { TotalDays: < 7 } => Count((int)span.TotalDays, "day") + " ago",
            _ => Date(utc),
        };
    }

    /// <summary>The date, for example 3 Mar 2026.</summary>
    public static string Date(DateTime utc) => utc.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    /// <summary>A day as one says it: today, tomorrow, a weekday within the next six days, else the date.</summary>
    public static string Day(DateOnly day, DateOnly today) => (day.DayNumber - today.DayNumber) switch
    {
        0 => "Today",
        1 => "Tomorrow",
        -1 => "Yesterday",
        > 1 and < 7 => day.ToString("dddd d MMM", CultureInfo.InvariantCulture),
        _ => day.ToString("d MMM yyyy", CultureInfo.InvariantCulture),
    };

    /// <summary>A day and its time of day.</summary>
    public static string DayAndTime(DateTime local, DateOnly today) =>
        Day(DateOnly.FromDateTime(local), today) + local.ToString(" HH:mm", CultureInfo.InvariantCulture);

    /// <summary>When something is due, and by how much it is late.</summary>
    public static string Due(DateOnly day, DateOnly today) => (today.DayNumber - day.DayNumber) switch
    {
        > 0 and var late => $"overdue by {Count(late, "day")}",
        0 => "due today",
        -1 => "due tomorrow",
        _ => "due " + Day(day, today),
    };

    /// <summary>For the <c>datetime</c> attribute.</summary>
    public static string Machine(DateTime utc) => utc.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    /// <summary>A number with its noun.</summary>
    public static string Count(int number, string noun) => string.Create(CultureInfo.InvariantCulture, $"{number} {noun}{(number == 1 ? "" : "s")}");
}
