using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Envelope;

/// <summary>How freely air passes the edges of a closed cover (classes of EN 13125).</summary>
public enum CoverPermeability
{
    /// <summary>Class 1: wide open edges.</summary>
    VeryHigh,

    /// <summary>Class 2: loose edges.</summary>
    High,

    /// <summary>Class 3.</summary>
    Average,

    /// <summary>Class 4.</summary>
    Low,

    /// <summary>Class 5: sealed all round.</summary>
    Tight,
}

/// <summary>Glass and acrylic windows with and without a cover.</summary>
public static class Glass
{
    /// <summary>Thicknesses of one sheet accepted, 1 to 20 mm.</summary>
    public static readonly ValidRange SheetRange = new("Thickness of one pane", 1, 20, "mm");

    /// <summary>Gaps between two sheets accepted, 3 to 50 mm; ignored for a single pane.</summary>
    public static readonly ValidRange GapRange = new("Gap between the panes", 3, 50, "mm");

    /// <summary>Resistances of the cover itself accepted, 0 to 2 m2 K/W.</summary>
    public static readonly ValidRange CoverRange = new("Thermal resistance of the cover", 0, 2, "m2 K/W");

    /// <summary>Conductivity of soda-lime glass, W/(m K) (EN ISO 10456, recalled; CIBSE Guide A has 1.05).</summary>
    public const double GlassConductivity = 1.00;

    /// <summary>Conductivity of acrylic (PMMA), W/(m K) (EN ISO 10456, recalled).</summary>
    public const double AcrylicConductivity = 0.18;

    /// <summary>
    /// Resistance from surface to surface: the sheets by conduction, the gap as an unventilated air layer (ISO 6946).
    /// </summary>
    public static ThermalResistance PaneResistance(GlassKind kind, Length sheet, Length gap) =>
        ThermalResistance.FromSquareMeterKelvinsPerWatt(PaneResistanceM2KPerW(
            kind,
            SheetRange.Check(sheet.Millimeters, nameof(sheet)) / 1000,
            kind == GlassKind.SinglePane ? 0 : GapRange.Check(gap.Millimeters, nameof(gap)) / 1000));

    /// <summary>
    /// Resistance a closed cover adds, its air layer of 15 to 300 mm included, from the resistance of the cover itself:
    /// 0.08; 0.25 R + 0.09; 0.55 R + 0.11; 0.80 R + 0.14; 0.95 R + 0.17 m2 K/W from very permeable to tight
    /// (EN 13125 and EN ISO 10077-1; formulas recalled, checked against a maker's declaration).
    /// </summary>
    public static ThermalResistance CoverResistance(ThermalResistance cover, CoverPermeability permeability)
    {
        double r = CoverRange.Check(cover.SquareMeterKelvinsPerWatt, nameof(cover));
        return ThermalResistance.FromSquareMeterKelvinsPerWatt(permeability switch
        {
            CoverPermeability.VeryHigh => 0.08,
            CoverPermeability.High => (0.25 * r) + 0.09,
            CoverPermeability.Average => (0.55 * r) + 0.11,
            CoverPermeability.Low => (0.80 * r) + 0.14,
            CoverPermeability.Tight => (0.95 * r) + 0.17,
            _ => throw new ArgumentOutOfRangeException(nameof(permeability), permeability, "Expected a class of EN 13125."),
        });
    }

    /// <summary>
    /// The path through glass and cover. A cover inside lies between room air and glass and makes the glass colder;
    /// outside it lies between glass and weather and makes it warmer.
    /// </summary>
    /// <param name="pane">Resistance of the glass, see <see cref="PaneResistance"/>.</param>
    /// <param name="cover">What hangs before it.</param>
    /// <param name="coverResistance">What the cover adds with its air layer, 0 to 2 m2 K/W; ignored without a cover.</param>
    /// <param name="outside">Outside surface resistance, see <see cref="SurfaceFilms"/>.</param>
    /// <param name="flow">Horizontal for windows in walls, upwards for glass in the roof.</param>
    public static SurfacePath Path(
        ThermalResistance pane,
        Cover cover,
        ThermalResistance coverResistance,
        ThermalResistance outside,
        HeatFlow flow = HeatFlow.Horizontal) =>
        Path(
            pane.SquareMeterKelvinsPerWatt,
            cover,
            cover == Cover.None ? 0 : CoverRange.Check(coverResistance.SquareMeterKelvinsPerWatt, nameof(coverResistance)),
            outside.SquareMeterKelvinsPerWatt,
            flow);

    /// <summary>Resistance from surface to surface, m2 K/W, from thickness of one sheet and gap in m.</summary>
    internal static double PaneResistanceM2KPerW(GlassKind kind, double sheetM, double gapM) => kind switch
    {
        GlassKind.SinglePane => sheetM / GlassConductivity,
        GlassKind.DoublePane =>
            (2 * sheetM / GlassConductivity) + AirLayers.UnventilatedM2KPerW(gapM, HeatFlow.Horizontal),
        GlassKind.AcrylicDouble =>
            (2 * sheetM / AcrylicConductivity) + AirLayers.UnventilatedM2KPerW(gapM, HeatFlow.Horizontal),
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Expected single pane, double pane or acrylic double."),
    };

    /// <summary>The path in m2 K/W.</summary>
    internal static SurfacePath Path(
        double paneM2KPerW, Cover cover, double coverM2KPerW, double outsideM2KPerW, HeatFlow flow = HeatFlow.Horizontal)
    {
        double inside = SurfaceFilms.InsideM2KPerW(flow);
        return cover switch
        {
            Cover.None => new SurfacePath(inside, paneM2KPerW + outsideM2KPerW),
            Cover.InsideLoose or Cover.InsideTight => new SurfacePath(inside + coverM2KPerW, paneM2KPerW + outsideM2KPerW),
            Cover.Outside or Cover.OutsideLoose => new SurfacePath(inside, paneM2KPerW + coverM2KPerW + outsideM2KPerW),
            _ => throw new ArgumentOutOfRangeException(nameof(cover), cover, "Expected a kind of cover."),
        };
    }
}
