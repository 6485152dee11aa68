using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Records;

/// <summary>Stored wishes cannot be read. The text is left as it is.</summary>
public sealed class WishesTextException(string expected, Exception? inner = null)
    : Exception($"The stored wishes cannot be read: {expected}", inner);

/// <summary>The text form of <see cref="Wishes"/>: <c>{"format":1,"wishes":{...}}</c>. Every member is always written.</summary>
public static class WishesJson
{
    /// <summary>Format number written today.</summary>
    public const int CurrentFormat = 1;

    private static readonly JsonSerializerOptions Form = new(JsonSerializerOptions.Strict)
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters = { new WellFormedText(), new FiniteNumber(), new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false) },
        TypeInfoResolver = new DefaultJsonTypeInfoResolver { Modifiers = { RequireAll } },
    };

    /// <summary>The stored text of wishes.</summary>
    public static string Write(Wishes wishes)
    {
        ArgumentNullException.ThrowIfNull(wishes);
        return new JsonObject { ["format"] = CurrentFormat, ["wishes"] = JsonSerializer.SerializeToNode(wishes, Form) }.ToJsonString(Form);
    }

    /// <summary>Reads a stored text.</summary>
    /// <exception cref="WishesTextException">Written by a newer release, or not wishes: a member is missing, unknown, doubled or of the wrong kind.</exception>
    public static Wishes Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        try
        {
            var envelope = JsonNode.Parse(text, nodeOptions: null, new JsonDocumentOptions { AllowDuplicateProperties = false }) as JsonObject;
            if (envelope?["format"] is not JsonValue number || !number.TryGetValue(out int format) || format < 1)
            {
                throw new WishesTextException("expected the member 'format', a whole number of 1 or more.");
            }

            if (format > CurrentFormat)
            {
                throw new WishesTextException(FormattableString.Invariant($"format {format} is newer than format {CurrentFormat}, the newest this release knows; update ConsultDesk to open them."));
            }

            if (envelope.Count != 2 || envelope["wishes"] is not JsonObject members)
            {
                throw new WishesTextException("expected the members 'format' and 'wishes' and no other.");
            }

            foreach (var (name, value) in members)
            {
                if (value is JsonArray list && list.Contains(null))
                {
                    throw new WishesTextException($"expected no null in '{name}'.");
                }
            }

            return members.Deserialize<Wishes>(Form) ?? throw new WishesTextException("expected an object.");
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException or ArgumentException)
        {
            throw new WishesTextException(e.Message, e);
        }
    }

    private static void RequireAll(JsonTypeInfo type)
    {
        if (type.Kind == JsonTypeInfoKind.Object)
        {
            foreach (var member in type.Properties)
            {
                member.IsRequired = true;
            }
        }
    }
}
