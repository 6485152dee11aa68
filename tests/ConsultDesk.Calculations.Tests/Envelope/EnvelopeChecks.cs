using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Tests.Validation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using static ConsultDesk.Calculations.Tests.Validation.Tolerance;

namespace ConsultDesk.Calculations.Tests.Envelope;

/// <summary>U-values, air layers, glass and metal.</summary>
public static class EnvelopeChecks
{
    private const string AirLayerTable = "EN ISO 6946 table of unventilated air layers, quoted at 100gon.de/?p=233";
    private const string Afia = "AFIA air-space R-value table (afia.com.au)";
    private const string Scottish = "Scottish Executive, Building (Scotland) Act 2003 guidance, Annex 6.B.2 timber framed wall";
    private const string ScottishContinued = "Inputs of the Scottish guidance Annex 6.B.2; limits and mean worked out by hand";
    private const string Shutter = "Declared values to EN 13125:2012 / EN ISO 10077-1 in a maker's data sheet (doczz.fr/doc/996163)";
    private const string PaneArithmetic = "q = dT / (1/U + dR); T = Ti - q (Rsi + dR) behind an inside cover, Ti - q Rsi otherwise; by hand";

    // Brick, cavity, plywood, insulation or timber, plasterboard; from outside to inside in the source, here from inside.
    private static readonly double[] InsulationSection = [0.100, 3.333, 0.146, 0.090, 0.132];
    private static readonly double[] TimberSection = [0.100, 1.077, 0.146, 0.090, 0.132];

    public static CheckGroup Group { get; } = new("Envelope",
    [
        .. Layers(5, 0.11, 0.11, 0.11),
        .. Layers(7, 0.13, 0.13, 0.13),
        .. Layers(10, 0.15, 0.15, 0.15),
        .. Layers(15, 0.16, 0.17, 0.17),
        .. Layers(25, 0.16, 0.18, 0.19),
        .. Layers(50, 0.16, 0.18, 0.21),
        .. Layers(100, 0.16, 0.18, 0.22),
        .. Layers(300, 0.16, 0.18, 0.23),
        Foil(0.03, 0.03, 0.4879),
        Foil(0.03, 0.9, 0.4681),
        Foil(0.05, 0.9, 0.4437),
        Foil(0.1, 0.9, 0.3930),
        Foil(0.2, 0.9, 0.3208),
        Foil(0.9, 0.9, 0.1471),

        new("Outside surface resistance", "4 m/s, 10 °C", 0.04, "m2 K/W", Absolute(0.001),
            () => SurfaceFilms.Outside(Speed.FromMetersPerSecond(4), Temperature.FromDegreesCelsius(10)).SquareMeterKelvinsPerWatt,
            "ISO 6946 conventional value 0.04 (read in Scottish guidance Annex 6.B.2), 4 m/s recalled", Sureness.Read),

        new("Section resistance", "insulation section", 3.971, "m2 K/W", Absolute(0.001),
            () => UpperOf((1, InsulationSection)), Scottish, Sureness.Read),
        new("Section resistance", "timber section", 1.715, "m2 K/W", Absolute(0.001),
            () => UpperOf((1, TimberSection)), Scottish, Sureness.Read),
        new("Upper limit", "9.5 % timber", 3.5299, "m2 K/W", Absolute(0.002), () => TimberWall().Upper, ScottishContinued, Sureness.Derived),
        new("Lower limit", "9.5 % timber", 3.4178, "m2 K/W", Absolute(0.002), () => TimberWall().Lower, ScottishContinued, Sureness.Derived),
        new("U-value, combined method", "9.5 % timber", 0.288, "W/(m2 K)", Absolute(0.001),
            () => 2 / (TimberWall().Upper + TimberWall().Lower), ScottishContinued, Sureness.Derived),
        new("U-value", "plywood 5 mm, mineral wool 50 mm, steel 1 mm", 0.656051,
            "W/(m2 K)", Relative(1e-5), () => MetalSkinnedWall().UValue.WattsPerSquareMeterKelvin,
            "1 / (Rsi + sum d/lambda + Rse) with 0.13, 0.038 and 50 W/(m K), by hand", Sureness.Derived),
        new("Temperature between wool and steel", "plywood 5 mm, mineral wool 50 mm, steel 1 mm, 20 and -5 °C",
            -4.34362, "°C", Absolute(1e-4),
            () => MetalSkinnedWall().Temperatures(Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(-5))[2].DegreesCelsius,
            "Te + (Ti - Te) Router / Rtotal, by hand", Sureness.Derived),

        Shut(0.07, CoverPermeability.High, 0.11),
        Shut(0.07, CoverPermeability.Average, 0.15),
        Shut(0.07, CoverPermeability.Low, 0.20),
        Shut(0.07, CoverPermeability.Tight, 0.24),
        Shut(0.09, CoverPermeability.High, 0.11),
        Shut(0.09, CoverPermeability.Average, 0.16),
        Shut(0.09, CoverPermeability.Low, 0.21),
        Shut(0.09, CoverPermeability.Tight, 0.26),

        Behind(5.7, Cover.None, 0, 4.66),
        Behind(5.7, Cover.InsideLoose, 0.15, 2.51),
        Behind(5.7, Cover.InsideTight, 0.26, 1.88),
        Behind(5.7, Cover.Outside, 0.15, 10.81),
        Behind(5.7, Cover.Outside, 0.26, 12.63),
        Behind(2.9, Cover.None, 0, 11.21),
        Behind(2.9, Cover.InsideLoose, 0.15, 7.81),
        Behind(2.9, Cover.InsideTight, 0.26, 6.39),
        Behind(2.9, Cover.Outside, 0.15, 13.27),
        Behind(2.9, Cover.Outside, 0.26, 14.13),
        PaneU(GlassKind.SinglePane, 4, 0, 5.75, 0.01, "1 / (0.13 + 0.004 + 0.04), by hand", Sureness.Derived),
        PaneU(GlassKind.DoublePane, 4, 12, 2.9, 0.1, "EN ISO 10077-1 table for 4-12-4 glass with air, recalled", Sureness.Memory),
        PaneU(GlassKind.AcrylicDouble, 3, 15, 2.68, 0.01,
            "1 / (0.13 + 0.003/0.18 + 0.17 + 0.003/0.18 + 0.04), by hand", Sureness.Derived),
        new("Surface of single glass", "4 mm, 20 and -5 °C", 1.32183908, "°C", Absolute(1e-3),
            () => Glass.Path(
                    Glass.PaneResistance(GlassKind.SinglePane, Length.FromMillimeters(4), Length.Zero),
                    Cover.None, ThermalResistance.Zero, SurfaceFilms.Outside())
                .SurfaceTemperature(Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(-5)).DegreesCelsius,
            "20 - 25 x 0.13 / 0.174, by hand", Sureness.Derived),
        new("Surface of bare steel", "1 mm, 20 and -5 °C", 0.88460, "°C", Absolute(1e-4),
            () => BareMetal.Path(Length.FromMillimeters(1), SurfaceFilms.Outside())
                .SurfaceTemperature(Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(-5)).DegreesCelsius,
            "20 - 25 x 0.13 / 0.17002, by hand", Sureness.Derived),
    ]);

    private static double UpperOf(params (double Share, double[] Layers)[] sections) =>
        ThermalTransmittance.Limits(0.13, 0.04, sections).Upper;

    private static (double Upper, double Lower) TimberWall() =>
        ThermalTransmittance.Limits(0.13, 0.04, [(0.905, InsulationSection), (0.095, TimberSection)]);

    private static AssemblyResistance MetalSkinnedWall() => ThermalTransmittance.Of(
        Assemblies.Of(Assemblies.Solid("plywood-500", 5), Assemblies.Solid("mineral-wool", 50), Assemblies.Solid("mild-steel", 1)),
        HeatFlow.Horizontal);

    private static Check[] Layers(double millimetres, double up, double horizontal, double down) =>
    [
        Layer(millimetres, HeatFlow.Upwards, up),
        Layer(millimetres, HeatFlow.Horizontal, horizontal),
        Layer(millimetres, HeatFlow.Downwards, down),
    ];

    private static Check Layer(double millimetres, HeatFlow flow, double expected) => new(
        "Unventilated air layer", $"{millimetres} mm, {flow}", expected, "m2 K/W", Absolute(0.005),
        () => AirLayers.Unventilated(Length.FromMillimeters(millimetres), flow).SquareMeterKelvinsPerWatt,
        AirLayerTable, Sureness.Read);

    private static Check Foil(double a, double b, double expected) => new(
        "Air layer by emissivity", $"13 mm, Horizontal, 23 °C, emissivities {a} and {b}", expected, "m2 K/W", Relative(0.05),
        () => AirLayers.Unventilated(
            Length.FromMillimeters(13), HeatFlow.Horizontal, a, b, Temperature.FromDegreesCelsius(23)).SquareMeterKelvinsPerWatt,
        Afia, Sureness.Read);

    private static Check Shut(double shutter, CoverPermeability permeability, double expected) => new(
        "Resistance added by a closed cover", $"cover {shutter} m2 K/W, permeability {permeability}", expected, "m2 K/W", Absolute(0.006),
        () => Glass.CoverResistance(ThermalResistance.FromSquareMeterKelvinsPerWatt(shutter), permeability).SquareMeterKelvinsPerWatt,
        Shutter, Sureness.Read);

    private static Check Behind(double u, Cover cover, double added, double expected) => new(
        "Inner glass surface", $"U {u}, cover {cover} {added} m2 K/W, 18 and 0 °C", expected, "°C", Absolute(0.05),
        () => Glass.Path(
                ThermalResistance.FromSquareMeterKelvinsPerWatt((1 / u) - 0.17), cover,
                ThermalResistance.FromSquareMeterKelvinsPerWatt(added), SurfaceFilms.Outside())
            .SurfaceTemperature(Temperature.FromDegreesCelsius(18), Temperature.FromDegreesCelsius(0)).DegreesCelsius,
        PaneArithmetic, Sureness.Derived);

    private static Check PaneU(GlassKind kind, double sheet, double gap, double expected, double tolerance, string source, Sureness origin) => new(
        "U-value of a window", $"{kind}, panes {sheet} mm, gap {gap} mm", expected, "W/(m2 K)", Absolute(tolerance),
        () => Glass.Path(
                Glass.PaneResistance(kind, Length.FromMillimeters(sheet), Length.FromMillimeters(gap)),
                Cover.None, ThermalResistance.Zero, SurfaceFilms.Outside())
            .UValue().WattsPerSquareMeterKelvin,
        source, origin);
}
