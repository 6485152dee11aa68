namespace ConsultDesk.Testing;

/// <summary>A clock that stands still until a test moves it.</summary>
public sealed class SettableTime(DateTimeOffset now) : TimeProvider
{
    public DateTimeOffset Now { get; set; } = now;

    public override DateTimeOffset GetUtcNow() => Now;
}
