namespace ConsultDesk.Records;

internal static class Clock
{
    /// <summary>Now in UTC, to the microsecond that PostgreSQL keeps, so that a time reads back as it was written.</summary>
    public static DateTime UtcNow(this TimeProvider time)
    {
        var now = time.GetUtcNow().UtcDateTime;
        return now.AddTicks(-(now.Ticks % TimeSpan.TicksPerMicrosecond));
    }
}
