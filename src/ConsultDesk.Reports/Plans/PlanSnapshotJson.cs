using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace ConsultDesk.Reports.Plans;

/// <summary>
/// A plan as text. The same snapshot always gives the same bytes, what is unknown or missing is refused, and a text of
/// a newer format is refused rather than half understood.
/// </summary>
public static class PlanSnapshotJson
{
    /// <summary>
    /// Format this version writes. Format 2 added cells to figures, opacities to legends, wordy tables, tables shown with
    /// their figure and the box of dangers; format 3 the logo, the headline, pairs and things to do; format 4 paper, address
    /// and terms of the firm, sheets and hours of work. A text of an older format has none of them and is read as it is.
    /// </summary>
    public const int Format = 4;

    private static readonly JsonSerializerOptions Options = new(JsonSerializerOptions.Strict)
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        AllowOutOfOrderMetadataProperties = true,

        // The text is stored and parsed, never put into a page as it is.
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters =
        {
            new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false),
            new CoordinateConverter(),
        },
    };

    /// <summary>Writes a snapshot.</summary>
    /// <exception cref="ArgumentException">The snapshot says it has another format than this version writes.</exception>
    public static string Write(PlanSnapshot snapshot) => snapshot.Format == Format
        ? JsonSerializer.Serialize(snapshot, Options)
        : throw new ArgumentException($"The snapshot has format {snapshot.Format}; this version writes format {Format}.", nameof(snapshot));

    /// <summary>Reads a snapshot.</summary>
    /// <exception cref="JsonException">The text is no plan, or lacks or adds a member.</exception>
    /// <exception cref="NotSupportedException">The text has a newer format.</exception>
    public static PlanSnapshot Read(string text)
    {
        var format = FormatOf(text, "a plan");
        if (format > Format)
        {
            throw new NotSupportedException($"The plan has format {format}; this version reads up to format {Format}.");
        }

        if (format < 1)
        {
            throw new JsonException($"The plan has format {format}; the first format is 1.");
        }

        var plan = JsonSerializer.Deserialize<PlanSnapshot>(text, Options) ?? throw new JsonException("The text is not a plan: it is null.");
        return plan.Sections.IsDefault || plan.Sections.Any(section => section is null || section.Blocks.IsDefault || section.Blocks.Any(block => block is null))
            ? throw new JsonException("The text is not a plan: a section or a block of it is missing.")
            : plan;
    }

    /// <summary>Format number of a stored text.</summary>
    /// <param name="text">The text.</param>
    /// <param name="what">What it should be, for the message.</param>
    /// <exception cref="JsonException">It is no object with a format number, or holds half of a character of two halves, which no file can.</exception>
    internal static int FormatOf(string text, string what)
    {
        try
        {
            using var document = JsonDocument.Parse(text);
            return document.RootElement is { ValueKind: JsonValueKind.Object } root
                && root.TryGetProperty("format", out var member)
                && member.ValueKind == JsonValueKind.Number
                && member.TryGetInt32(out var format)
                ? format
                : throw new JsonException($"The text is not {what}: it has no format number.");
        }
        catch (Exception halved) when (halved is ArgumentException or InvalidOperationException)
        {
            throw new JsonException($"The text is not {what}: it holds half of a character.", halved);
        }
    }

    /// <summary>Coordinates of figures to a hundredth of a unit: finer than any screen or printer, and half the text.</summary>
    private sealed class CoordinateConverter : JsonConverter<double>
    {
        public override double Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            reader.GetDouble() is var number && double.IsFinite(number) ? number : throw new JsonException("The text is not a plan: a coordinate is no number.");

        // Adding zero turns a rounded -0 into 0.
        public override void Write(Utf8JsonWriter writer, double value, JsonSerializerOptions options) =>
            writer.WriteNumberValue(Math.Round(value, 2) + 0.0);
    }
}
