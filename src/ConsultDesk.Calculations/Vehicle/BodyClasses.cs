using System.Collections.Immutable;
using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>A generic class of panel van by length and roof height, with typical inside dimensions (our judgement).</summary>
/// <param name="Key">Stable key, for example <c>long-high</c>.</param>
/// <param name="Name">Name the client would use.</param>
/// <param name="InteriorLength">Inside length from the windscreen's foot to the rear doors.</param>
/// <param name="CabLength">Part of it the cab takes.</param>
/// <param name="InteriorWidth">Inside width between bare walls.</param>
/// <param name="InteriorHeight">From finished floor to roof lining.</param>
/// <param name="FloorAboveGround">Height of the finished floor.</param>
public sealed record BodyClass(
    string Key,
    string Name,
    Length InteriorLength,
    Length CabLength,
    Length InteriorWidth,
    Length InteriorHeight,
    Length FloorAboveGround);

/// <summary>The generic body classes. All dimensions are our judgement of typical vans; the real van is measured.</summary>
public static class BodyClasses
{
    private static readonly (string Key, string Name, double LengthM, double CabM, double WidthM, double FloorM)[] Lengths =
    [
        ("compact", "Compact", 3.7, 1.3, 1.55, 0.5),
        ("short", "Short", 4.2, 1.5, 1.75, 0.6),
        ("medium", "Medium", 4.7, 1.5, 1.75, 0.6),
        ("long", "Long", 5.2, 1.5, 1.78, 0.65),
        ("extra-long", "Extra long", 5.8, 1.5, 1.78, 0.65),
    ];

    private static readonly (string Key, string Name, double HeightM, double CompactHeightM)[] Heights =
    [
        ("low", "low roof", 1.4, 1.2),
        ("medium", "medium roof", 1.7, 1.35),
        ("high", "high roof", 1.95, 1.7),
    ];

    /// <summary>Every length with every roof height, the shortest first.</summary>
    public static ImmutableArray<BodyClass> All { get; } =
    [
        .. from length in Lengths
           from height in Heights
           select new BodyClass(
               $"{length.Key}-{height.Key}",
               $"{length.Name}, {height.Name}",
               Length.FromMeters(length.LengthM),
               Length.FromMeters(length.CabM),
               Length.FromMeters(length.WidthM),
               Length.FromMeters(length.Key == "compact" ? height.CompactHeightM : height.HeightM),
               Length.FromMeters(length.FloorM)),
    ];

    /// <summary>The body class with this key.</summary>
    /// <exception cref="ArgumentException">There is no such class.</exception>
    public static BodyClass Get(string key) => All.FirstOrDefault(bodyClass => bodyClass.Key == key)
        ?? throw new ArgumentException($"There is no body class '{key}'.", nameof(key));
}
