using System.Collections.Immutable;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace ConsultDesk.Records;

/// <summary>The stored answers of an intake cannot be read.</summary>
public sealed class IntakeTextException(string expected, Exception? inner = null) : Exception($"The stored answers of an intake cannot be read: {expected}", inner);

/// <summary>
/// The text form of the answers: <c>{"format":1,"answers":{"sleepers":"2"}}</c>, each exactly as it was typed under the key of its
/// question. What a question means, and whether an answer fits it, the questionnaire knows; the records keep the words.
/// </summary>
public static class IntakeAnswers
{
    /// <summary>Format number written today.</summary>
    public const int CurrentFormat = 1;

    /// <summary>Most answers of one intake.</summary>
    public const int MostAnswers = 400;

    /// <summary>Longest answer, UTF-16 characters.</summary>
    public const int LongestAnswer = 4000;

    /// <summary>Most characters of all answers together.</summary>
    public const int LongestTogether = 100_000;

    /// <summary>No answers yet.</summary>
    public static ImmutableSortedDictionary<string, string> None { get; } = ImmutableSortedDictionary.Create<string, string>(StringComparer.Ordinal);

    private static readonly JsonSerializerOptions Form = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The stored text.</summary>
    public static string Write(IReadOnlyDictionary<string, string> answers)
    {
        ArgumentNullException.ThrowIfNull(answers);
        var sorted = new JsonObject();
        foreach (var (key, value) in answers.OrderBy(answer => answer.Key, StringComparer.Ordinal))
        {
            sorted.Add(key, value);
        }

        return new JsonObject { ["format"] = CurrentFormat, ["answers"] = sorted }.ToJsonString(Form);
    }

    /// <summary>Reads a stored text.</summary>
    /// <exception cref="IntakeTextException">It is none, or of a newer release.</exception>
    public static ImmutableSortedDictionary<string, string> Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        try
        {
            var documents = new JsonDocumentOptions { AllowDuplicateProperties = false };
            if (JsonNode.Parse(text, nodeOptions: null, documents) is not JsonObject { Count: 2 } envelope
                || envelope["format"] is not JsonValue number || !number.TryGetValue(out int format) || format < 1
                || envelope["answers"] is not JsonObject answers)
            {
                throw new IntakeTextException("expected an object with 'format' and 'answers'.");
            }

            if (format > CurrentFormat)
            {
                throw new IntakeTextException(FormattableString.Invariant($"format {format} is newer than format {CurrentFormat}; update ConsultDesk to open it."));
            }

            return answers.ToImmutableSortedDictionary(
                answer => answer.Key,
                answer => answer.Value is JsonValue value && value.TryGetValue(out string? words) ? words : throw new IntakeTextException($"expected a text under '{answer.Key}'."),
                StringComparer.Ordinal);
        }
        // Half of a character of two halves is an invalid operation to the reader.
        catch (Exception e) when (e is JsonException or ArgumentException or InvalidOperationException)
        {
            throw new IntakeTextException(e.Message, e);
        }
    }

    /// <summary>Answers with some of them changed; an empty one is taken back. What was not asked this time stays.</summary>
    public static ImmutableSortedDictionary<string, string> With(ImmutableSortedDictionary<string, string> answers, IReadOnlyDictionary<string, string> changed)
    {
        ArgumentNullException.ThrowIfNull(answers);
        ArgumentNullException.ThrowIfNull(changed);
        return answers.RemoveRange(changed.Where(answer => answer.Value.Length == 0).Select(answer => answer.Key))
            .SetItems(changed.Where(answer => answer.Value.Length > 0));
    }
}
