using System.Collections.Immutable;
using System.Text.Json;

namespace ConsultDesk.Reports.Plans;

/// <summary>
/// Tonight's settings of a published plan in the reader's units and words: what three taps look up. Written when the plan is
/// published and never again.
/// </summary>
public sealed record TonightSheet
{
    /// <summary>Format this version writes.</summary>
    public const int CurrentFormat = 1;

    /// <summary>In <see cref="Cells"/>: weather that has no row at that temperature.</summary>
    public const int NoSuchNight = -1;

    /// <summary>In <see cref="Cells"/>: a night that did not settle when the plan was published.</summary>
    public const int NotCalculated = -2;

    private static readonly JsonSerializerOptions Options = new(JsonSerializerOptions.Strict) { PropertyNamingPolicy = JsonNamingPolicy.CamelCase };

    /// <summary>Format of the stored text.</summary>
    public required int Format { get; init; }

    /// <summary>Temperatures outdoors with their unit, the coldest first.</summary>
    public required ImmutableArray<string> Temperatures { get; init; }

    /// <summary>What falls from the sky.</summary>
    public required ImmutableArray<string> Weathers { get; init; }

    /// <summary>Who sleeps here and what was cooked.</summary>
    public required ImmutableArray<string> People { get; init; }

    /// <summary>The different answers.</summary>
    public required ImmutableArray<TonightAnswer> Answers { get; init; }

    /// <summary>
    /// Index of the answer of each night, <see cref="NoSuchNight"/> or <see cref="NotCalculated"/>: weather by weather, in it people by
    /// people, in it from the coldest on.
    /// </summary>
    public required ImmutableArray<int> Cells { get; init; }

    /// <summary>Dangers of the van that no setting takes away.</summary>
    public required ImmutableArray<string> Dangers { get; init; }

    /// <summary>Index of a night in <see cref="Cells"/>.</summary>
    public int CellOf(int weather, int people, int temperature) => (((weather * People.Length) + people) * Temperatures.Length) + temperature;

    /// <summary>The sheet as text.</summary>
    public string Write() => JsonSerializer.Serialize(this, Options);

    /// <summary>Reads a stored sheet.</summary>
    /// <exception cref="JsonException">The text is no sheet, lacks or adds a member, or its nights do not fit its answers.</exception>
    /// <exception cref="NotSupportedException">The text has a newer format.</exception>
    public static TonightSheet Read(string text)
    {
        var format = PlanSnapshotJson.FormatOf(text, "tonight's settings");
        if (format > CurrentFormat)
        {
            throw new NotSupportedException($"Tonight's settings have format {format}; this version reads up to format {CurrentFormat}.");
        }

        var sheet = JsonSerializer.Deserialize<TonightSheet>(text, Options) ?? throw new JsonException("The text is not tonight's settings: it is null.");
        return sheet.Weathers.IsDefaultOrEmpty || sheet.People.IsDefaultOrEmpty || sheet.Temperatures.IsDefaultOrEmpty || sheet.Answers.IsDefault || sheet.Dangers.IsDefault || sheet.Cells.IsDefault
            ? throw new JsonException("The text is not tonight's settings: a list is missing.")
            : HasGap(sheet.Weathers) || HasGap(sheet.People) || HasGap(sheet.Temperatures) || HasGap(sheet.Dangers)
                || sheet.Answers.Any(answer => answer is null || HasGap(answer.Do) || HasGap(answer.Stands) || HasGap(answer.Watch))
            ? throw new JsonException("The text is not tonight's settings: a list has a gap.")
            : sheet.Cells.Length != sheet.Weathers.Length * sheet.People.Length * sheet.Temperatures.Length
                ? throw new JsonException($"The text is not tonight's settings: it has {sheet.Cells.Length} nights. Expected one for each weather, people and temperature.")
                : sheet.Cells.Any(cell => cell < NotCalculated || cell >= sheet.Answers.Length)
                    ? throw new JsonException("The text is not tonight's settings: a night names an answer that is not there.")
                    : sheet;

        // A list the text leaves null, or null inside it: neither is what its type says.
        static bool HasGap(ImmutableArray<string> lines) => lines.IsDefault || lines.Any(line => line is null);
    }
}

/// <summary>What to do in a night.</summary>
/// <param name="Aim">What it is for.</param>
/// <param name="Do">At most three instructions; one that all stays as it is when nothing has to be set.</param>
/// <param name="Stands">How every opening then stands.</param>
/// <param name="Heater">What the heater does.</param>
/// <param name="Watch">What to watch.</param>
public sealed record TonightAnswer(string Aim, ImmutableArray<string> Do, ImmutableArray<string> Stands, string Heater, ImmutableArray<string> Watch);
