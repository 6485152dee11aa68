using System.Text.Json;
using System.Text.Json.Serialization;

namespace ConsultDesk.Records;

/// <summary>The unit fuel is told in.</summary>
public enum ReportedFuelUnit
{
    /// <summary>Litres.</summary>
    Litres,

    /// <summary>Kilograms.</summary>
    Kilograms,

    /// <summary>US gallons.</summary>
    Gallons,

    /// <summary>Pounds.</summary>
    Pounds,

    /// <summary>Kilowatt-hours.</summary>
    KilowattHours,
}

/// <summary>Whether it was warm enough.</summary>
public enum ReportedWarmth
{
    /// <summary>Always.</summary>
    Always,

    /// <summary>Mostly.</summary>
    Mostly,

    /// <summary>Often not.</summary>
    OftenNot,
}

/// <summary>How often the glass fogs up while cooking.</summary>
public enum ReportedFog
{
    /// <summary>Never.</summary>
    Never,

    /// <summary>Sometimes.</summary>
    Sometimes,

    /// <summary>Every time.</summary>
    EveryTime,
}

/// <summary>What is reported after a winter; null or empty where nothing was said.</summary>
public sealed record CheckBackAnswers
{
    /// <summary>Format number written today.</summary>
    public const int CurrentFormat = 1;

    /// <summary>Most fuel a day or week that is believed (own limit: a typing mistake is caught).</summary>
    public const double MostFuel = 1000;

    private static readonly JsonSerializerOptions Options = new(JsonSerializerOptions.Strict)
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        Converters = { new FiniteNumber(), new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false) },
    };

    /// <summary>Of the last ten cold mornings, those with wet windows, 0 to 10.</summary>
    public int? WetMornings { get; init; }

    /// <summary>Fuel used, more than 0 to <see cref="MostFuel"/>.</summary>
    public double? Fuel { get; init; }

    /// <summary>Its unit.</summary>
    public ReportedFuelUnit FuelUnit { get; init; }

    /// <summary>True when it is told for a week, false for a day.</summary>
    public bool FuelAWeek { get; init; }

    /// <summary>Whether it was warm enough.</summary>
    public ReportedWarmth? Warmth { get; init; }

    /// <summary>Mould was seen; null when nothing was said.</summary>
    public bool? Mould { get; init; }

    /// <summary>Rust was seen; null when nothing was said.</summary>
    public bool? Rust { get; init; }

    /// <summary>Where mould or rust was seen.</summary>
    public string Where { get; init; } = "";

    /// <summary>How often it fogs up while cooking.</summary>
    public ReportedFog? Fog { get; init; }

    /// <summary>In their own words.</summary>
    public string Words { get; init; } = "";

    /// <summary>True when nothing at all was said.</summary>
    [JsonIgnore]
    public bool IsEmpty => this with { FuelUnit = default, FuelAWeek = false } == new CheckBackAnswers();

    /// <summary>The stored text.</summary>
    public string Write() => JsonSerializer.Serialize(this, Options);

    /// <summary>Reads a stored text.</summary>
    /// <exception cref="JsonException">It is none, or lacks or adds a member, or holds half of a character of two halves.</exception>
    public static CheckBackAnswers Read(string text)
    {
        try
        {
            return JsonSerializer.Deserialize<CheckBackAnswers>(text, Options) ?? throw new JsonException("The text is no report: it is null.");
        }
        catch (Exception halved) when (halved is ArgumentException or InvalidOperationException)
        {
            throw new JsonException("The text is no report: it holds half of a character.", halved);
        }
    }
}
