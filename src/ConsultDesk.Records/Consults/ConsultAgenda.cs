namespace ConsultDesk.Records;

/// <summary>One of a consult's own points.</summary>
/// <param name="Text">The point.</param>
/// <param name="IsDone">True when it was ticked.</param>
public sealed record AgendaLine(string Text, bool IsDone);

/// <summary>A consult's own points as they are stored and typed: one a line, a tick before those that are done.</summary>
public static class ConsultAgenda
{
    /// <summary>The most points of one consult (own limit).</summary>
    public const int Most = 60;

    private const string Tick = "✓ ";

    /// <summary>The points of a text; blanks around a point and empty lines do not count.</summary>
    public static IReadOnlyList<AgendaLine> Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return [.. text.ReplaceLineEndings("\n").Split('\n').Select(line => line.Trim())
            .Select(line => line.StartsWith(Tick, StringComparison.Ordinal) ? new AgendaLine(line[Tick.Length..].Trim(), IsDone: true) : new(line, IsDone: false))
            .Where(line => line.Text.Length > 0)];
    }

    /// <summary>The text of points.</summary>
    public static string Write(IEnumerable<AgendaLine> points) => string.Join('\n', points.Select(point => (point.IsDone ? Tick : "") + point.Text));

    internal static void Check(FieldChecks check, string field, string text)
    {
        var points = Read(text);
        check.That(points.Count <= Most, field, FormattableString.Invariant($"Expected at most {Most} points, got {points.Count}."));
        check.That(
            points.All(point => point.Text.Length <= TextLimits.Line), field, FormattableString.Invariant($"Expected at most {TextLimits.Line} characters in a point."));
        check.AsTyped(field, text, TextLimits.Notes);
    }
}
