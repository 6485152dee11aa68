using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.EntityFrameworkCore.Metadata;

namespace ConsultDesk.Records;

/// <summary>
/// The rows of a client as text: <c>{"format":2,"savedAt":…,"rows":{"client":[{…}],"vans":[…],…}}</c>. Each row holds every column of its table but the firm,
/// the version and secrets of links, under the column's name in camel case; a photo or a weather file names its file in the zip.
/// </summary>
internal static class ClientJson
{
    /// <summary>Format number: 2 since the units of a client, the reason of an option, the beginning of a call and the hash of tonight's settings.</summary>
    public const int Format = 2;

    // Columns that files of the format before have not: they keep what a new row has.
    private static readonly HashSet<string> SinceTwo =
    [
        $"{nameof(Client)}.{nameof(Client.Units)}", $"{nameof(Client)}.{nameof(Client.UnitChoices)}", $"{nameof(VanOption)}.{nameof(VanOption.Reason)}",
        $"{nameof(Consult)}.{nameof(Consult.BegunAt)}", $"{nameof(Plan)}.{nameof(Plan.TonightSha256)}",
    ];

    private const string FileMember = "file";

    // Read by people too: letters beyond ASCII as they are. It is a file, never part of a page.
    private static readonly JsonSerializerOptions Form = new() { WriteIndented = true, Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    // Secrets, and what every desk makes for itself.
    private static readonly HashSet<string> Left = [nameof(FirmRow.FirmId), nameof(IVersioned.Version), nameof(PlanLink.TokenSha256), nameof(Client.SearchName)];

    /// <summary>True for a column that is carried over as it is.</summary>
    public static bool IsCarried(IProperty property) => !Left.Contains(property.Name) && property.ClrType != typeof(byte[]);

    /// <summary>True for the account that did something: it means nothing on another desk.</summary>
    public static bool IsAccount(IProperty property) => property.ClrType == typeof(Guid) && property.Name.EndsWith("By", StringComparison.Ordinal);

    /// <summary>Name of a row's file in the zip; null when it has none.</summary>
    public static string? FileOf(string kind, FirmRow row, int number) => row switch
    {
        IntakePhoto or InstallationPhoto => string.Create(CultureInfo.InvariantCulture, $"photos/{kind}-{number:0000}.jpg"),
        WeatherFile => string.Create(CultureInfo.InvariantCulture, $"weather/{kind}-{number:0000}.hours"),
        _ => null,
    };

    /// <summary>Name of a column as a member.</summary>
    public static string Member(IProperty property) => JsonNamingPolicy.CamelCase.ConvertName(property.Name);

    /// <summary>The text of rows. Links are no part of it: who is handed the file must not be able to open plans.</summary>
    public static byte[] Write(IModel model, IReadOnlyList<KindRows> all, DateTime savedAt)
    {
        var kinds = new JsonObject();
        foreach (var (kind, type, rows) in all.Where(kind => ClientRows.IsHandedOver(kind.Type)))
        {
            var properties = Carried(model, type);
            var list = new JsonArray();
            for (var i = 0; i < rows.Count; i++)
            {
                var row = new JsonObject();
                foreach (var property in properties)
                {
                    row[Member(property)] = Value(property.PropertyInfo!.GetValue(rows[i]));
                }

                if (FileOf(kind, rows[i], i + 1) is { } file)
                {
                    row[FileMember] = file;
                }

                list.Add(row);
            }

            kinds[kind] = list;
        }

        var document = new JsonObject { ["format"] = Format, ["savedAt"] = Value(savedAt), ["rows"] = kinds };
        return JsonSerializer.SerializeToUtf8Bytes(document, Form);
    }

    /// <summary>The rows of a text, with the ids and references they were saved with, and the name of the file of each that has one.</summary>
    /// <exception cref="HandoverRefusedException">It is no such text, is damaged, or of a newer release.</exception>
    public static IReadOnlyList<(string Kind, Type Type, List<(FirmRow Row, string? File)> Rows)> Read(IModel model, byte[] text)
    {
        try
        {
            using var document = JsonDocument.Parse(text, new JsonDocumentOptions { MaxDepth = 8 });
            var root = Object(document.RootElement, "client.json");
            if (!root.TryGetValue("format", out var number) || number.ValueKind != JsonValueKind.Number || !number.TryGetInt32(out var format) || format < 1)
            {
                throw Wrong("client.json", "Expected a format number.");
            }

            if (format > Format)
            {
                throw new HandoverRefusedException(FormattableString.Invariant($"The file was saved by a newer ConsultDesk: its format is {format}, this desk reads up to {Format}. Bring this desk up to date first."));
            }

            if (!root.TryGetValue("rows", out var rows))
            {
                throw Wrong("client.json", "Expected rows.");
            }

            var kinds = Object(rows, "rows");
            List<(string, Type, List<(FirmRow, string?)>)> all = [];
            foreach (var (kind, type) in ClientRows.Kinds.Where(kind => ClientRows.IsHandedOver(kind.Type)))
            {
                if (!kinds.Remove(kind, out var list) || list.ValueKind != JsonValueKind.Array)
                {
                    throw Wrong(kind, "Expected a list.");
                }

                var properties = Carried(model, type);
                all.Add((kind, type, [.. list.EnumerateArray().Select((row, i) => Row(type, properties, row, format, FormattableString.Invariant($"{kind} {i + 1}")))]));
            }

            return kinds.Count == 0 ? all : throw Wrong(kinds.Keys.First(), "This desk knows no such kind of row.");
        }
        catch (Exception damaged) when (damaged is JsonException or InvalidOperationException)
        {
            throw new HandoverRefusedException("client.json is damaged: it is no text this desk can read. Save the client again on the other desk.", damaged);
        }
    }

    private static List<IProperty> Carried(IModel model, Type type) =>
        [.. model.FindEntityType(type)!.GetProperties().Where(IsCarried).OrderBy(property => property.Name != nameof(FirmRow.Id)).ThenBy(property => property.Name, StringComparer.Ordinal)];

    private static JsonNode? Value(object? value) => value switch
    {
        null => null,
        Guid id => id.ToString(),
        string text => text,
        bool yes => yes,
        int number => number,
        double number => number,
        DateTime time => time.ToString("O", CultureInfo.InvariantCulture),
        DateOnly day => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        Enum choice => choice.ToString(),
        _ => throw new InvalidOperationException($"A column of type {value.GetType().Name} has no form in client.json yet."),
    };

    private static Dictionary<string, JsonElement> Object(JsonElement element, string where)
    {
        if (element.ValueKind != JsonValueKind.Object)
        {
            throw Wrong(where, "Expected an object.");
        }

        Dictionary<string, JsonElement> members = new(StringComparer.Ordinal);
        foreach (var member in element.EnumerateObject())
        {
            if (!members.TryAdd(member.Name, member.Value))
            {
                throw Wrong(where, $"Expected “{Short(member.Name)}” once.");
            }
        }

        return members;
    }

    private static (FirmRow, string?) Row(Type type, List<IProperty> properties, JsonElement element, int format, string where)
    {
        var members = Object(element, where);
        // Not through a constructor: what is required is checked member by member.
        var row = (FirmRow)Activator.CreateInstance(type)!;
        foreach (var property in properties)
        {
            var name = Member(property);
            if (!members.Remove(name, out var value))
            {
                if (format < 2 && SinceTwo.Contains($"{type.Name}.{property.Name}"))
                {
                    continue;
                }

                throw Wrong(where, $"Expected “{name}”.");
            }

            property.PropertyInfo!.SetValue(row, Read(property, value, $"{where}, {name}"));
        }

        string? file = null;
        if (members.Remove(FileMember, out var named))
        {
            file = named.ValueKind == JsonValueKind.String ? named.GetString() : throw Wrong(where, "Expected the name of a file.");
        }

        return members.Count == 0 ? (row, file) : throw Wrong(where, $"This desk knows no “{Short(members.Keys.First())}”.");
    }

    private static object? Read(IProperty property, JsonElement value, string where)
    {
        if (value.ValueKind == JsonValueKind.Null)
        {
            return property.IsNullable ? null : throw Wrong(where, "Expected a value.");
        }

        var type = Nullable.GetUnderlyingType(property.ClrType) ?? property.ClrType;
        string Text() => value.ValueKind == JsonValueKind.String ? value.GetString()! : throw Wrong(where, "Expected a text.");
        if (type == typeof(string))
        {
            var text = Text();
            return text.Length > (property.GetMaxLength() ?? int.MaxValue)
                ? throw Wrong(where, FormattableString.Invariant($"Expected at most {property.GetMaxLength()} characters."))
                : text.Contains('\0', StringComparison.Ordinal) ? throw Wrong(where, "Expected text without control characters.") : text;
        }

        if (type == typeof(Guid))
        {
            return Guid.TryParseExact(Text(), "D", out var id) && id != Guid.Empty ? id : throw Wrong(where, "Expected an id.");
        }

        if (type == typeof(DateTime))
        {
            return DateTime.TryParseExact(Text(), "O", CultureInfo.InvariantCulture, DateTimeStyles.RoundtripKind, out var time) && time.Kind == DateTimeKind.Utc && time.Year is >= 1900 and <= 2200
                ? time
                : throw Wrong(where, "Expected a time in UTC.");
        }

        if (type == typeof(DateOnly))
        {
            return DateOnly.TryParseExact(Text(), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) ? day : throw Wrong(where, "Expected a day.");
        }

        if (type.IsEnum)
        {
            return Enum.GetNames(type).Contains(Text(), StringComparer.Ordinal) ? Enum.Parse(type, Text()) : throw Wrong(where, "Expected one of the values this desk knows.");
        }

        return type == typeof(int) && value.ValueKind == JsonValueKind.Number && value.TryGetInt32(out var whole) ? whole
            : type == typeof(double) && value.ValueKind == JsonValueKind.Number && value.TryGetDouble(out var number) && double.IsFinite(number) ? number
            : type == typeof(bool) && value.ValueKind is JsonValueKind.True or JsonValueKind.False ? value.GetBoolean()
            : throw Wrong(where, "Expected a value of another kind.");
    }

    private static string Short(string name) => name.Length > 40 ? name[..40] + "…" : name;

    private static HandoverRefusedException Wrong(string where, string expected) => new($"client.json is damaged at {Short(where)}: {expected}");
}
