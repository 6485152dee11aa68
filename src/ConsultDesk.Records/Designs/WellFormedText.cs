using System.Text.Json;
using System.Text.Json.Serialization;

namespace ConsultDesk.Records;

/// <summary>
/// Text as UTF-8 can hold it. The writer alone would put a replacement character in place of half a surrogate pair,
/// and the design would read back changed.
/// </summary>
internal sealed class WellFormedText : JsonConverter<string>
{
    public override string? Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => reader.GetString();

    public override void Write(Utf8JsonWriter writer, string value, JsonSerializerOptions options)
    {
        for (var i = 0; i < value.Length; i++)
        {
            if (char.IsSurrogate(value[i]))
            {
                if (i + 1 == value.Length || !char.IsSurrogatePair(value[i], value[i + 1]))
                {
                    throw new ArgumentException(FormattableString.Invariant($"the text has half a character at position {i}."));
                }

                i++;
            }
        }

        writer.WriteStringValue(value);
    }
}
