using System.Collections.Immutable;

namespace ConsultDesk.Calculations.Comfort;

/// <summary>Which class of <see cref="MouldSensitivity"/> each material is in: the embedded <c>mould-classes.csv</c>, each row with its source.</summary>
public static class MouldClasses
{
    /// <summary>Key of the cloth under a mattress.</summary>
    public const string MattressCover = "mattress-cover";

    /// <summary>Every row in the order of the file: key of a material, class, source.</summary>
    public static ImmutableArray<(string Key, MouldSensitivity Class, string Source)> All { get; } =
    [
        .. EmbeddedTable.Rows("Comfort.mould-classes.csv", columns: 3).Select(row => (row[0], Named(row[1]), row[2])),
    ];

    private static readonly ImmutableDictionary<string, MouldSensitivity> ByKey = All.ToImmutableDictionary(row => row.Key, row => row.Class);

    /// <summary>The class of a material.</summary>
    /// <exception cref="ArgumentException">The material has no row.</exception>
    public static MouldSensitivity Of(string material) => ByKey.TryGetValue(material, out MouldSensitivity found)
        ? found
        : throw new ArgumentException($"The material '{material}' has no class in mould-classes.csv.", nameof(material));

    private static MouldSensitivity Named(string word) => word switch
    {
        "very-sensitive" => MouldSensitivity.VerySensitive,
        "sensitive" => MouldSensitivity.Sensitive,
        "medium-resistant" => MouldSensitivity.MediumResistant,
        "resistant" => MouldSensitivity.Resistant,
        _ => throw new InvalidOperationException($"Unknown class '{word}' in mould-classes.csv."),
    };
}
