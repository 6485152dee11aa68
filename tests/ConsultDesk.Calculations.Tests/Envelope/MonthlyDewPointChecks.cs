using System.Collections.Immutable;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Tests.Validation;
using static ConsultDesk.Calculations.Envelope.MonthlyDewPoint;
using static ConsultDesk.Calculations.Tests.Validation.Tolerance;

namespace ConsultDesk.Calculations.Tests.Envelope;

/// <summary>Condensation inside assemblies, month by month. The standard's own examples could not be read and are not here.</summary>
public static class MonthlyDewPointChecks
{
    private const string PeriodClimate = "condensing period of DIN 4108-3: 20 °C 50 % and -5 °C 80 %, as tabled at wissenwiki.de (1168 and 321 Pa)";
    private const string OnePlane = "gc = delta0 ((pi - psat)/sdi - (psat - pe)/sde) of ISO 13788 (recalled), by hand; the standard's own example is not available";
    private const string Carried = "monthly scheme of ISO 13788 (recalled), by hand with its psat; the standard's own example is not available";
    private const double Days90S = 90 * 86_400;

    private static readonly MonthAir Condensing = new(20, 1168.48, -5, 320.94, Days90S);

    // Monthly outdoor air, and vapour inside by 810 Pa more at 0 °C, none at 20 °C: January first.
    private static readonly double[] OutdoorC = [-1, 0, 4, 9, 14, 17, 19, 18, 15, 10, 5, 1];
    private static readonly double[] OutdoorShare = [0.85, 0.84, 0.78, 0.72, 0.68, 0.70, 0.72, 0.74, 0.78, 0.83, 0.88, 0.88];
    private static readonly int[] MonthDays = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

    public static CheckGroup Group { get; } = new("Walls by month",
    [
        new("Saturation pressure of ISO 13788, half", "20 °C", 1168, "Pa", Absolute(0.6), () => 0.5 * SaturationPressurePa(20), PeriodClimate, Sureness.Read),
        new("Saturation pressure of ISO 13788, four fifths", "-5 °C", 321, "Pa", Absolute(0.6), () => 0.8 * SaturationPressurePa(-5), PeriodClimate, Sureness.Read),
        new("Condensed in 90 days", "plywood 5 mm, wool 50 mm, steel skin; 20 °C 50 % and -5 °C 80 %", 2889.2, "g/m2", Relative(1e-4),
            () => CondensedG(Steel, 1), OnePlane, Sureness.Derived),
        new("Condensed in 90 days", "the same behind a vapour control layer of sd 50 m", 22.93, "g/m2", Relative(5e-4),
            () => CondensedG([new("membrane", 0, 50), .. Steel], 2), OnePlane, Sureness.Derived),
        new("Condensed in 90 days", "board, insulation 100 mm in ten slices, plywood 18 mm", 5354.1, "g/m2", Relative(1e-4),
            () => CondensedG(Open, 10), OnePlane, Sureness.Derived),
        new("Dried in 90 days", "the same wet, 1200 Pa both sides, 1700 Pa at the wet plane", 4505.1, "g/m2", Relative(1e-3), Dried, OnePlane, Sureness.Derived),
        new("Vapour pressure behind the control layer", "board, sd 10 m, insulation, board of sd 0.09 m", 336.6, "Pa", Relative(1e-3),
            () => new Section(Dry, 0.13, 0.04).VapourPa(Condensing, new double[Dry.Length - 1])[2], "linear over sd, by hand", Sureness.Derived),
        Month("October", 9, 0.0),
        Month("November", 10, 37.49),
        Month("December", 11, 133.17),
        Month("January", 0, 232.29),
        Month("February", 1, 316.56),
        Month("March", 2, 315.36),
        Month("April", 3, 177.29),
        Month("May", 4, 0.0),
    ]);

    /// <summary>Plywood 5 mm, mineral wool 50 mm and steel 1 mm, the wool in five slices.</summary>
    private static ImmutableArray<Slice> Steel =>
    [
        new("plywood", 0.005 / 0.13, 0.35),
        .. Enumerable.Repeat(new Slice("wool", 0.25, 0.01), 5),
        new("steel", 0.001 / 50, 1e6),
    ];

    private static ImmutableArray<Slice> Open =>
    [
        new("board", 0.0125 / 0.25, 0.10),
        .. Enumerable.Repeat(new Slice("insulation", 0.25, 0.01), 10),
        new("plywood", 0.018 / 0.13, 1.26),
    ];

    private static ImmutableArray<Slice> Dry =>
    [
        new("board", 0.0125 / 0.25, 0.10),
        new("membrane", 0, 10),
        .. Enumerable.Repeat(new Slice("insulation", 0.25, 0.01), 10),
        new("plywood", 0.018 / 0.13, 0.09),
    ];

    private static double CondensedG(ImmutableArray<Slice> slices, int slicesInFront) =>
        new Section(slices, 0.13, 0.04).Rates(Condensing, new double[slices.Length - 1]) is double[] rates
        && rates.Count(rate => rate > 0) == 1
            ? 1000 * Days90S * rates[slices.Length - 2]
            : throw new InvalidOperationException($"Expected one wet plane, that before the outermost of {slicesInFront} layers and more.");

    private static double Dried()
    {
        // A temperature at which the standard's formula gives 1700 Pa, the same on both sides.
        double logarithm = Math.Log(1700 / 610.5);
        double evenC = 237.3 * logarithm / (17.269 - logarithm);
        double[] held = new double[Open.Length - 1];
        held[^1] = 10;
        return -1000 * Days90S * new Section(Open, 0.13, 0.04).Rates(new MonthAir(evenC, 1200, evenC, 1200, Days90S), held)[^1];
    }

    private static Check Month(string name, int month, double expected) => new(
        "Water at the end of the month", $"{name}; board, sd 2 m, insulation 100 mm, plywood 18 mm; 20 °C inside, 810 Pa more at 0 °C",
        expected, "g/m2", expected == 0 ? Absolute(0.005) : Relative(5e-4),
        () => 1000 * MonthlyDewPoint.Year(
            [new("board", 0.0125 / 0.25, 0.10), new("membrane", 0, 2), .. Enumerable.Repeat(new Slice("insulation", 0.25, 0.01), 10), new("plywood", 0.018 / 0.13, 1.26)],
            0.13, 0.04, Months).ByMonth[month].Kilograms,
        Carried, Sureness.Derived);

    private static ImmutableArray<MonthAir> Months =>
    [
        .. Enumerable.Range(0, 12).Select(month =>
        {
            double outdoorPa = OutdoorShare[month] * SaturationPressurePa(OutdoorC[month]);
            double excessPa = Math.Clamp(810 * (20 - OutdoorC[month]) / 20, 0, 810);
            return new MonthAir(20, outdoorPa + excessPa, OutdoorC[month], outdoorPa, 86_400 * MonthDays[month]);
        }),
    ];
}
