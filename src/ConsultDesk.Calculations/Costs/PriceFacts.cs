using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Costs;

/// <summary>One technical fact an item may state: its column in the price table and what it may hold.</summary>
/// <param name="Name">Name of the fact and of its column, for example <c>lengthMm</c>.</param>
/// <param name="Expected">What was expected, for a message.</param>
/// <param name="Holds">True for a text that is a value of this fact.</param>
/// <param name="Needed">Kinds of item that must state it.</param>
/// <param name="Optional">Kinds of item that may state it.</param>
public sealed record PriceFact(
    string Name, string Expected, Func<string, bool> Holds, ImmutableArray<PriceKind> Needed, ImmutableArray<PriceKind> Optional)
{
    /// <summary>True when an item of this kind may state it.</summary>
    public bool Fits(PriceKind kind) => Needed.Contains(kind) || Optional.Contains(kind);
}

/// <summary>The technical facts of the price table, and how they are read.</summary>
public static class PriceFacts
{
    /// <summary>Material of a vapour control membrane, which is no solid of the materials table.</summary>
    public const string Membrane = "membrane";

    private static readonly ImmutableArray<PriceKind> Roof = [PriceKind.RoofVent, PriceKind.RoofFan];

    private static readonly ImmutableArray<PriceKind> Windows = [PriceKind.SlidingWindow, PriceKind.HingedWindow];

    private static readonly ImmutableArray<PriceKind> Holes = [.. Roof, .. Windows, PriceKind.FloorVent, PriceKind.CabWindowVent];

    private static readonly ImmutableArray<PriceKind> Openings = [.. Holes, PriceKind.CabWindowDeflector];

    /// <summary>Every fact, in the order of the columns.</summary>
    public static ImmutableArray<PriceFact> All { get; } =
    [
        Number("lengthMm", 20, 9000, Holes, PriceKind.RoofPart),
        Number("widthMm", 20, 2500, Holes, PriceKind.RoofPart),
        Number("freeShare", 0.01, 1, Holes),
        Number("freeAirFlowM3PerH", 5, 3600, [PriceKind.RoofFan, PriceKind.CirculationFan]),
        Number("shutOffPa", 5, 200, [PriceKind.RoofFan]),
        Number("soundDba", 20, 90, [], PriceKind.RoofFan, PriceKind.CirculationFan),
        Number("electricW", 0, 3000, [PriceKind.CirculationFan], PriceKind.RoofFan, PriceKind.Heater, PriceKind.Dryer),
        Number("heatW", 300, 15_000, [PriceKind.Heater]),
        Choice("heaterKind", [PriceKind.Heater], HeaterKind.None),
        Choice<GlassKind>("glass", Windows, [], PriceKind.RoofVent),
        new(
            "material", $"a key of the materials table or {Membrane}", text => text == Membrane || Materials.Find(text) is not null,
            [PriceKind.Material], []),
        Number("thicknessMm", 0.05, 300, [], PriceKind.Material),
        Number("vapourSdM", 0.001, 10_000, [], PriceKind.Material),
        Choice("cover", [PriceKind.Cover], Cover.None),
        Choice("divider", [PriceKind.CabDivider], CabDivider.Open),
        Choice<BedBase>("bedBase", [PriceKind.BedBase], []),
        Choice<DryerKind>("dryerKind", [PriceKind.Dryer], []),
        Number("removedKgPerDay", 0.01, 30, [PriceKind.Dryer]),
        Choice<RoofPartKind>("roofPart", [PriceKind.RoofPart], []),
        YesNo("usableInRain"),
        YesNo("usableInDrivingRain"),
        YesNo("openAsleep"),
        YesNo("openLocked"),
        YesNo("rainSensor"),
        YesNo("seenThrough"),
        YesNo("screened"),
        YesNo("fixed"),
    ];

    private static readonly ImmutableDictionary<string, PriceFact> ByName = All.ToImmutableDictionary(fact => fact.Name);

    /// <summary>The fact with this name, or null.</summary>
    public static PriceFact? Find(string name) => ByName.GetValueOrDefault(name);

    /// <summary>A number an item states, or null when it does not.</summary>
    public static double? NumberOf(PriceItem item, string name) =>
        item.Facts.TryGetValue(name, out string? text) ? double.Parse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture) : null;

    /// <summary>A choice an item states, or null when it does not.</summary>
    public static T? ChoiceOf<T>(PriceItem item, string name)
        where T : struct, Enum =>
        item.Facts.TryGetValue(name, out string? text) ? Choices.Parse<T>(text) : null;

    /// <summary>True when an item says yes to a fact; what it does not state is no.</summary>
    public static bool Says(PriceItem item, string name) => item.Facts.TryGetValue(name, out string? text) && text == "yes";

    /// <summary>A plain number as the table writes it: digits, and a point before decimals.</summary>
    internal static bool IsNumber(string text, out decimal number) =>
        decimal.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out number) && text.Length <= 20 && text.Any(char.IsAsciiDigit);

    private static PriceFact Number(string name, double low, double high, ImmutableArray<PriceKind> needed, params ImmutableArray<PriceKind> optional) => new(
        name,
        string.Create(CultureInfo.InvariantCulture, $"a number from {low} to {high} with a point before decimals"),
        text => IsNumber(text, out decimal number) && (double)number >= low && (double)number <= high,
        needed,
        optional);

    private static PriceFact Choice<T>(string name, ImmutableArray<PriceKind> needed, T without)
        where T : struct, Enum => Choice<T>(name, needed, [without], []);

    private static PriceFact Choice<T>(string name, ImmutableArray<PriceKind> needed, ImmutableArray<T> without, params ImmutableArray<PriceKind> optional)
        where T : struct, Enum
    {
        ImmutableArray<string> names = [.. Enum.GetValues<T>().Except(without).Select(Choices.Name)];
        return new PriceFact(name, "one of " + string.Join(", ", names), names.Contains, needed, optional);
    }

    private static PriceFact YesNo(string name) => new(name, "yes, no or nothing", text => text is "yes" or "no", [], Openings);
}
