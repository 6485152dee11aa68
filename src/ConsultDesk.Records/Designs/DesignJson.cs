using System.Buffers;
using System.Security.Cryptography;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Records;

/// <summary>
/// The text form of a <see cref="Design"/>: <c>{"format":4,"design":{...}}</c>. The only place that knows it.
/// Numbers are in one SI unit that stands in the member's name (temperatures in degrees Celsius), enums and
/// <c>kind</c> are kebab-case, every member is always written, and the same design always gives the same bytes.
/// </summary>
/// <remarks>
/// A change of any stored member name needs a new <see cref="CurrentFormat"/> and a step in <see cref="DesignUpgrades"/>;
/// a test compares the names with an approved list.
/// </remarks>
public static class DesignJson
{
    /// <summary>Format number written today.</summary>
    public const int CurrentFormat = 4;

    private static readonly JsonSerializerOptions Form = CreateForm();

    /// <summary>The stored text of a design.</summary>
    /// <exception cref="ArgumentException">The design holds a number that is not finite, an unset list or an unknown enum value.</exception>
    public static string Write(Design design) => Encoding.UTF8.GetString(Bytes(design));

    /// <summary>The stored text as UTF-8: what equality, differences and cache keys are taken from.</summary>
    /// <exception cref="ArgumentException">The design holds a number that is not finite, an unset list or an unknown enum value.</exception>
    public static byte[] Bytes(Design design)
    {
        ArgumentNullException.ThrowIfNull(design);
        var buffer = new ArrayBufferWriter<byte>(8192);
        using (var writer = new Utf8JsonWriter(buffer, new JsonWriterOptions { Encoder = Form.Encoder }))
        {
            writer.WriteStartObject();
            writer.WriteNumber("format", CurrentFormat);
            writer.WritePropertyName("design");
            try
            {
                JsonSerializer.Serialize(writer, design, Form);
            }
            catch (Exception e) when (e is ArgumentException or JsonException or InvalidOperationException or NullReferenceException)
            {
                throw new ArgumentException($"The design cannot be stored: {e.Message}", nameof(design), e);
            }

            writer.WriteEndObject();
        }

        return buffer.WrittenSpan.ToArray();
    }

    /// <summary>Reads a stored text of this or an older format.</summary>
    /// <exception cref="NewerDesignFormatException">Written by a newer release.</exception>
    /// <exception cref="DesignTextException">Not a design: a member is missing, unknown, doubled or of the wrong kind.</exception>
    public static Design Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        try
        {
            var design = Open(text, out var format);
            foreach (var step in DesignUpgrades.Steps.Skip(format - 1))
            {
                step(design);
            }

            RefuseNullElements(design, "$.design");
            return design.Deserialize<Design>(Form)
                ?? throw new DesignTextException("$.design", "expected an object.");
        }
        catch (JsonException e)
        {
            throw new DesignTextException(e.Path is null or "$" ? "$" : e.Path, e.Message, e);
        }
        catch (Exception e) when (e is NotSupportedException or InvalidOperationException or ArgumentException)
        {
            // What the reader throws for a layer without its kind, and for half a character, escaped or not.
            throw new DesignTextException("$", e.Message, e);
        }
    }

    /// <summary>SHA-256 of <see cref="Bytes"/> in lower-case hexadecimal: the key of a design in caches.</summary>
    public static string Hash(Design design) => Convert.ToHexStringLower(SHA256.HashData(Bytes(design)));

    /// <summary>True when both designs have the same stored bytes.</summary>
    public static bool Same(Design a, Design b) => ReferenceEquals(a, b) || Bytes(a).AsSpan().SequenceEqual(Bytes(b));

    /// <summary>
    /// Every member in which two designs differ, in the order of the stored text. List members are matched by id.
    /// </summary>
    public static IReadOnlyList<DesignDifference> Differences(Design before, Design after)
    {
        var found = new List<DesignDifference>();
        DesignDifference.Collect(
            JsonSerializer.SerializeToNode(before, Form), JsonSerializer.SerializeToNode(after, Form), "", found);
        return found;
    }

    /// <summary>The path of every stored member, lists as <c>[]</c>, layers by kind; each once, sorted.</summary>
    internal static IReadOnlyList<string> StoredMembers()
    {
        var paths = new SortedSet<string>(StringComparer.Ordinal);
        Walk(typeof(Design), "design");
        return [.. paths];

        void Walk(Type type, string path)
        {
            var info = Form.GetTypeInfo(type);
            if (info.Kind == JsonTypeInfoKind.Enumerable)
            {
                Walk(info.ElementType!, path + "[]");
                return;
            }

            foreach (var derived in info.PolymorphismOptions?.DerivedTypes ?? [])
            {
                Walk(derived.DerivedType, $"{path}<{derived.TypeDiscriminator}>");
            }

            if (info.PolymorphismOptions is not null)
            {
                return;
            }

            if (info.Kind != JsonTypeInfoKind.Object)
            {
                var bare = Nullable.GetUnderlyingType(type) ?? type;
                paths.Add(bare.IsEnum
                    ? $"{path}: {string.Join('|', Enum.GetNames(bare).Select(JsonNamingPolicy.KebabCaseLower.ConvertName))}"
                    : $"{path}: {(bare == typeof(string) ? "text" : bare == typeof(bool) ? "yes/no" : "number")}");
                return;
            }

            foreach (var member in info.Properties)
            {
                Walk(member.PropertyType, $"{path}.{member.Name}");
            }
        }
    }

    private static JsonObject Open(string text, out int format)
    {
        var documents = new JsonDocumentOptions { AllowDuplicateProperties = false };
        if (JsonNode.Parse(text, nodeOptions: null, documents) is not JsonObject envelope)
        {
            throw new DesignTextException("$", "expected an object with the members 'format' and 'design'.");
        }

        if (envelope["format"] is not JsonValue number || !number.TryGetValue(out format) || format < 1)
        {
            throw new DesignTextException("$.format", "expected the member 'format', a whole number of 1 or more.");
        }

        if (format > CurrentFormat)
        {
            throw new NewerDesignFormatException(format);
        }

        foreach (var (name, _) in envelope)
        {
            if (name is not ("format" or "design"))
            {
                throw new DesignTextException("$." + name, $"the member '{name}' is unknown.");
            }
        }

        return envelope["design"] as JsonObject
            ?? throw new DesignTextException("$.design", "expected the member 'design', an object.");
    }

    /// <summary>The serializer checks members for null, but not the elements of a list.</summary>
    private static void RefuseNullElements(JsonNode node, string path)
    {
        if (node is JsonObject members)
        {
            foreach (var (name, value) in members)
            {
                if (value is not null)
                {
                    RefuseNullElements(value, $"{path}.{name}");
                }
            }
        }
        else if (node is JsonArray elements)
        {
            for (var i = 0; i < elements.Count; i++)
            {
                var place = FormattableString.Invariant($"{path}[{i}]");
                RefuseNullElements(elements[i] ?? throw new DesignTextException(place, "expected a list member, not null."), place);
            }
        }
    }

    private static JsonSerializerOptions CreateForm()
    {
        var form = new JsonSerializerOptions(JsonSerializerOptions.Strict)
        {
            PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
            AllowOutOfOrderMetadataProperties = true,
            // Names in any script stay readable in the database; the text is never pasted into a page.
            Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
            Converters = { new WellFormedText(), new FiniteNumber(), new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false) },
            TypeInfoResolver = new DefaultJsonTypeInfoResolver { Modifiers = { Store } },
        };
        foreach (var converter in StoredQuantity.Converters)
        {
            form.Converters.Add(converter);
        }

        return form;
    }

    private static void Store(JsonTypeInfo type)
    {
        if (type.Type == typeof(Layer))
        {
            type.PolymorphismOptions = new JsonPolymorphismOptions
            {
                TypeDiscriminatorPropertyName = "kind",
                UnknownDerivedTypeHandling = JsonUnknownDerivedTypeHandling.FailSerialization,
                DerivedTypes =
                {
                    new JsonDerivedType(typeof(SolidLayer), "solid"),
                    new JsonDerivedType(typeof(AirLayer), "air"),
                    new JsonDerivedType(typeof(MembraneLayer), "membrane"),
                },
            };
        }

        if (type.Kind != JsonTypeInfoKind.Object)
        {
            return;
        }

        // What has no setter is computed from the rest.
        foreach (var computed in type.Properties.Where(m => m.Set is null).ToList())
        {
            type.Properties.Remove(computed);
        }

        foreach (var member in type.Properties)
        {
            // A value left out must never turn into a zero or a null that nobody chose.
            member.IsRequired = true;
            member.Name += StoredQuantity.Suffix(member.PropertyType);
        }

        // By name, 'id' first: moving a member in the source must not change the bytes of a stored design.
        var order = 0;
        foreach (var member in type.Properties.OrderBy(m => m.Name != "id").ThenBy(m => m.Name, StringComparer.Ordinal).ToList())
        {
            member.Order = order++;
        }
    }
}
